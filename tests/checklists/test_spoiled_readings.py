"""Every acceptance of the demo job, with every reading spoiled in every way: none reads "within" by a fault.

`-rP` prints how many cases there were.
"""

from typing import Any

import pytest

from builder.check.everything import checked_job
from builder.compile.evaluate import Environment, plausible
from builder.compile.showing import words
from builder.places import DEMO_JOB
from tests.checklists.spoiled import NO_NUMBERS, TIMES, acceptances, along, believed, number_of, typed
from tests.checklists.worked_sheets import worked


@pytest.fixture(scope="module")
def job() -> dict[str, Any]:
    """The demo job, checked and bound."""
    return checked_job(DEMO_JOB)


@pytest.fixture(scope="module")
def sheets(job: dict) -> list[tuple[dict, dict, list[dict]]]:
    """Each sheet with its good readings and its acceptances."""
    good = [(sheet, worked(job, sheet)) for sheet in job["sheets"]]
    return [(sheet, readings, acceptances(job, sheet, readings)) for sheet, readings in good]


def verdict(job: dict, sheet: dict, readings: dict, step: str) -> str | None:
    return Environment(job, sheet, readings).step(step)["verdict"]


def test_what_is_no_number_is_never_believed(job, sheets):
    """Text, exponents, infinities, thousands with commas and nothing at all are asked again at every number."""
    numbers = {(sheet["task"], name) for sheet, readings, _ in sheets for name, reading in readings.items() if "si" in reading}
    taken = [(task, name, text) for task, name in sorted(numbers) for text in NO_NUMBERS if "reason" not in plausible(job["tasks"][task], name, text)]
    print(f"{len(numbers) * len(NO_NUMBERS)} texts that are no numbers, {len(taken)} believed")
    assert [] == taken
    assert numbers


def test_without_a_reading_nothing_is_within_that_it_could_turn(job, sheets):
    """A reading that is missing leaves its own acceptance untold, and another within only where no value could change that."""
    asked, wrong = 0, []
    for sheet, readings, judged in sheets:
        for name in readings:
            without = {other: reading for other, reading in readings.items() if other != name}
            for step in judged:
                asked += 1
                if verdict(job, sheet, without, step["name"]) != "within":
                    continue
                turned = [found["text"] for found in along(job, sheet, name) if verdict(job, sheet, without | {name: found}, step["name"]) != "within"]
                if (step["name"] == name and name.replace("-", "_") in step["accept"]) or turned:
                    wrong.append(f"{sheet['id']}: {step['name']} without {name}, and not with {turned}")
    print(f"{asked} acceptances with a reading missing, {len(wrong)} within that could be otherwise")
    assert [] == wrong
    assert asked > 500


def beyond(limit: float, op: str) -> list[float]:
    """Values on the wrong side of a limit: by a hair, tenfold, a thousandfold, nothing, and less than nothing."""
    if op in ("<=", "<"):
        return [limit + max(abs(limit), 1e-3) * 1e-6, limit * 10 + 1, limit * 1000 + 1, *((limit,) if op == "<" else ())]
    if op in (">=", ">"):
        return [limit - max(abs(limit), 1e-3) * 1e-6, limit / 10 if limit > 0 else limit * 10 - 1, 0.0 if limit > 0 else limit - 1, -abs(limit) - 1,
                *((limit,) if op == ">" else ())]
    return [limit + 1, limit - 1, limit * 10 + 1] if op == "==" else [limit]


def test_nothing_beyond_a_limit_is_within(job, sheets):
    """Past its limit by a millionth, ten times or a thousand times, a reading is refused or outside."""
    asked, wrong = 0, []
    for sheet, readings, judged in sheets:
        for step in judged:
            for limit in Environment(job, sheet, readings).step(step["name"])["limits"]:
                # A limit on a working is that of another number.
                if limit["si"] is None or step["name"] not in readings or limit["what"] != words(step["name"]):
                    continue
                at = number_of(job, sheet, step["name"], {"si": limit["si"]})
                for number in beyond(at, limit["op"]):
                    found = believed(job, sheet, step["name"], typed(number))
                    asked += 1
                    if found and verdict(job, sheet, readings | {step["name"]: found}, step["name"]) == "within":
                        wrong.append(f"{sheet['id']}: {step['name']} {limit['op']} {at} and is {typed(number)}")
    print(f"{asked} readings beyond a limit, {len(wrong)} within")
    assert [] == wrong
    assert asked > 500


def test_ten_times_too_much_is_within_only_on_the_safe_side(job, sheets):
    """A reading tenfold, a tenth, nothing or negative is refused, outside, or further on the side that its limit calls safe."""
    counts, wrong = {"refused": 0, "not within": 0, "safer": 0}, []
    for sheet, readings, judged in sheets:
        for step in judged:
            name = step["name"]
            if "si" not in readings.get(name, {}) or name.replace("-", "_") not in step["accept"]:
                continue
            good = number_of(job, sheet, name, readings[name])
            ops = {limit["op"] for limit in Environment(job, sheet, readings).step(name)["limits"]}
            for times in TIMES if good else ():
                found = believed(job, sheet, name, typed(good * times))
                if found is None:
                    counts["refused"] += 1
                elif verdict(job, sheet, readings | {name: found}, name) != "within":
                    counts["not within"] += 1
                elif ops and ops <= ({">=", ">"} if times > 1 else {"<=", "<"}):
                    counts["safer"] += 1
                elif not _spare(job, sheet, readings, name, good, good * times):
                    wrong.append(f"{sheet['id']}: {name} {typed(good)} and {typed(good * times)}")
                else:
                    counts["safer"] += 1
    print(f"readings times {TIMES}: {counts}, {len(wrong)} within by a fault")
    assert [] == wrong
    assert all(counts.values())


def _spare(job: dict, sheet: dict, readings: dict, name: str, good: float, far: float) -> bool:
    """Whether all that lies between the good reading and the far one is within as well: there was that much room."""
    between = (believed(job, sheet, name, typed(good + part * (far - good))) for part in (0.1, 0.3, 0.6, 0.9, 0.99))
    return all(found and verdict(job, sheet, readings | {name: found}, name) == "within" for found in between)
