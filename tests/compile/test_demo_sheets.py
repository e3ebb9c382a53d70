"""Every sheet of the demo job, with readings made up at random, said in both languages."""

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random
from typing import Any

import pytest

from builder.compile.evaluate import plausible
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
    return readings


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
