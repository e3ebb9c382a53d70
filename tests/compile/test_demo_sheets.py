"""Every sheet of the demo job, with readings made up at random, said in both languages."""

import json
import math
from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random
from typing import Any

import pytest

from builder.compile.evaluate import Environment, plausible
from builder.compile.pull_readings import pull_reading
from tests.checklists.spoiled import NO_NUMBERS, TIMES, number_of, typed
from tests.checklists.worked_sheets import sheet_called, worked
from tests.compile.answers import differences
from tests.compile.page import write_page
from tests.compile.test_both_sides import SEED
from tests.compile.test_vectors import NEARNESS, SAID_ON_PHONE, said_here

ROUNDS = 4


@pytest.fixture(scope="module")
def demo_job(demo_folder: Path) -> dict:
    return json.loads((demo_folder / "job.json").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def demo_page(
    browser: Any, demo_job: dict, serve_folder: Callable[[Path], Any], tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Any]:
    """A page with the app's modules and those made for the demo, which runs none of them by itself."""
    folder = tmp_path_factory.mktemp("apart")
    write_page(folder, demo_job)
    page = browser.new_page()
    page.goto(serve_folder(folder).url)
    yield page
    page.close()


def made_up_readings(task: dict, random: Random) -> dict:
    """Believable readings for some steps of a task; the last few may be left open."""
    readings = {}
    for step in task["steps"]:
        if step["kind"] != "read" or random.random() < 0.2:
            continue
        if step["one_of"]:
            text = random.choice(step["one_of"])
        elif step["text"]:
            text = "as found"
        else:
            low, high = step["plausible"]
            text = f"{random.choice((low, high, random.uniform(low, high), low + (high - low) * random.random() ** 4)):.3f}"
        answer = plausible(task, step["name"], text)
        if "reason" not in answer:
            readings[step["name"]] = answer | {"unit": step["unit"]}
    return readings | (made_up_pull(task["pull_day"], random) if "pull_day" in task else {})


def made_up_pull(pull_day: dict, random: Random) -> dict:
    """What might be read at the first few stations of a pull: rising, now and then absurd, out of order or counted by people."""
    measured = {}
    for station in range(random.randint(0, 6)):
        text, ucum = f"{0.05 * 1.9**station * random.uniform(0.7, 1.3):.3f}", "kN"
        if random.random() < 0.05:
            text = random.choice(("9999", "much", "90"))
        elif random.random() < 0.1:
            text, ucum = f"{0.05 * 1.9**station * random.uniform(157, 292):.1f}", "[lbf_av]"
        elif random.random() < 0.1 and pull_day["people"]:
            text, ucum = str(random.randint(1, 9)), "1"
        known = station - 1 if station and random.random() < 0.95 else None if station == 0 else station + 1
        measured[f"station-{station}"] = pull_reading(pull_day, f"station-{station}", {"text": text, "unit": ucum, "known": known})
    if random.random() < 0.3:
        measured["length-in"] = pull_reading(pull_day, "length-in", {"text": f"{random.uniform(1, 60):.1f}", "unit": "m", "known": None})
    return measured


@pytest.mark.parametrize("run", ["R1", "R3", "R4"])
def test_pull_says_the_same_in_the_browser(demo_job: dict, demo_page: Any, run: str) -> None:
    """A hundred pulls of each sort, from quiet to absurd, are called alike on phone and desk, and every call is among them."""
    random = Random(f"{SEED} {run}")
    sheet = sheet_called(demo_job, f"cable-pulling/pull/{run}")
    good = worked(demo_job, sheet)
    day = demo_job["tasks"][sheet["task"]]["pull_day"]
    asked = [{"sheet": sheet, "readings": good | made_up_pull(day, random)} for _ in range(100)]
    there = demo_page.evaluate("""async ({ job, asked }) => {
      const { Environment } = await import("/app/environment.mjs");
      return asked.map(({ sheet, readings }) => new Environment(job, sheet, readings).working("call"));
    }""", {"job": demo_job, "asked": asked})
    here = [Environment(demo_job, one["sheet"], one["readings"]).working("call") for one in asked]
    assert [] == [line for ours, theirs in zip(here, there, strict=True) for line in differences(ours, theirs, NEARNESS)][:10]
    assert {"cannot_tell", "go_on", "stop", "cant_tell"} <= {one["outputs"]["call"]["word"] if one["outputs"] else "cannot_tell" for one in here}


def test_every_demo_sheet_says_the_same_in_the_browser(demo_job: dict, demo_page: Any) -> None:
    """Workings, acceptances, conditions, origins and sentences of the built demo agree to the letter."""
    random = Random(SEED)
    asked = [
        {"sheet": sheet, "readings": made_up_readings(demo_job["tasks"][sheet["task"]], random)}
        for sheet in demo_job["sheets"] for _ in range(ROUNDS)
    ]
    there = demo_page.evaluate(f"async ({{job, asked}}) => {{ const said = {SAID_ON_PHONE}; const answers = [];"
                               "for (const one of asked) answers.push(await said({ job, ...one })); return answers; }",
                               {"job": demo_job, "asked": asked})
    found = []
    for one, said in zip(asked, there, strict=True):
        found += [f"seed {SEED}, {one['sheet']['id']}: {line}" for line in differences(said_here(demo_job, **one), said, NEARNESS)]
    assert [] == found[:10]


def test_demo_readings_reach_every_verdict(demo_job: dict) -> None:
    """Among the made-up readings are some within, some outside and some that can't be told."""
    random = Random(SEED)
    verdicts = set()
    for sheet in demo_job["sheets"]:
        said = said_here(demo_job, sheet, made_up_readings(demo_job["tasks"][sheet["task"]], random))
        verdicts |= {step["verdict"] for step in said["steps"].values()}
    assert {None, "within", "outside", "cant-tell"} == verdicts


SPOILT = (None, math.nan, math.inf, -math.inf)


def test_spoilt_readings_are_refused_alike_in_the_browser(demo_job: dict, demo_page: Any) -> None:
    """Whatever is no number is believed on no phone; ten times, a tenth, nothing and less are taken or refused in the same words."""
    asked = []
    for task, sheet in {sheet["task"]: sheet for sheet in demo_job["sheets"]}.items():
        for name, reading in worked(demo_job, sheet).items():
            if "si" in reading:
                good = number_of(demo_job, sheet, name, reading)
                asked += [[task, name, text] for text in (*NO_NUMBERS, *(typed(good * times) for times in TIMES))]
    there = demo_page.evaluate("""async ({ job, asked }) => {
      const { plausible } = await import("/app/environment.mjs");
      return asked.map(([task, step, text]) => plausible(job.tasks[task], step, text));
    }""", {"job": demo_job, "asked": asked})
    assert [plausible(demo_job["tasks"][task], step, text) for task, step, text in asked] == there
    assert [] == [one for one, answer in zip(asked, there, strict=True) if one[2] in NO_NUMBERS and "reason" not in answer]


def test_job_values_that_are_no_numbers_are_told_alike_in_the_browser(demo_job: dict, demo_page: Any) -> None:
    """A number of the job that is missing, endless or none leads to the same verdicts and sentences in both languages."""
    random = Random(SEED)
    asked, fields = [], [(kind, name, field) for kind, items in demo_job["items"].items() for name, item in items.items()
                         for field, value in item["values"].items() if isinstance(value, float)]
    for kind, name, field in random.sample(fields, 40):
        sheet = random.choice([sheet for sheet in demo_job["sheets"] if (sheet["kind"], sheet["item"]) == (kind, name)] or demo_job["sheets"])
        asked += [{"at": [kind, name, field], "value": value, "sheet": sheet, "readings": worked(demo_job, sheet)} for value in SPOILT]
    there = demo_page.evaluate(f"async ({{job, asked}}) => {{ const said = {SAID_ON_PHONE}; const answers = [];"
                               "for (const { at: [kind, name, field], value, sheet, readings } of asked) {"
                               "  const values = job.items[kind][name].values, was = values[field];"
                               "  values[field] = value; answers.push(await said({ job, sheet, readings })); values[field] = was;"
                               "} return answers; }", {"job": demo_job, "asked": asked})
    found = []
    for one, said in zip(asked, there, strict=True):
        kind, name, field = one["at"]
        values = demo_job["items"][kind][name]["values"]
        was, values[field] = values[field], one["value"]
        here = said_here(demo_job, one["sheet"], one["readings"])
        values[field] = was
        found += [f"seed {SEED}, {one['at']} {one['value']}: {line}" for line in differences(here, said, NEARNESS)]
    assert [] == found[:10]
