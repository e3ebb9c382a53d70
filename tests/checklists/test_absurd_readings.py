"""What no good crew would read, and an eager or tired one might enter: none of it is within."""

from typing import Any

import pytest

from builder.check.everything import checked_job
from builder.compile.evaluate import Environment, plausible
from builder.places import DEMO_JOB
from tests.checklists.worked_sheets import sheet_called, worked

LINK = "lock-out/prove-dead/drive-panel"
CELLS = "lock-out/cells-stay-live/battery-strings"


@pytest.fixture(scope="module")
def job() -> dict[str, Any]:
    """The demo job, checked and bound."""
    return checked_job(DEMO_JOB)


def _verdict(job: dict, identity: str, step: str, instead: dict[str, str]) -> str:
    sheet = sheet_called(job, identity)
    return Environment(job, sheet, worked(job, sheet, instead)).step(step)["verdict"]


@pytest.mark.parametrize(
    ("sheet", "step", "instead"),
    [
        (LINK, "tester-again", {"tester-first": "400", "tester-again": "51"}),
        (LINK, "tester-rating", {"tester-rating": "600"}),
        (LINK, "time-off", {"time-printed": "on-the-label", "label-time-seen": "15", "time-off": "10"}),
        (LINK, "time-off", {"time-printed": "nowhere", "time-off": "8"}),
        (CELLS, "section-voltage", {"section-voltage": "30"}),
        (CELLS, "section-wanted", {"section-wanted": "1200"}),
        (CELLS, "string-voltage", {"string-voltage": "51"}),
        (CELLS, "tester-again", {"tester-first": "400", "tester-again": "51"}),
        ("lock-out/give-back/kiln-feeder", "people-out", {"people-noted": "3", "people-out": "4"}),
        ("lock-out/lock-off/kiln-feeder", "sources-locked", {"sources-found": "3", "sources-locked": "4"}),
    ],
)
def test_an_absurd_reading_is_outside(sheet: str, step: str, instead: dict[str, str], job: dict) -> None:
    """Too high is as wrong as too low, and readings of one sheet agree with each other."""
    assert "outside" == _verdict(job, sheet, step, instead)


@pytest.mark.parametrize(
    ("task", "step", "text"),
    [
        ("lock-out/prove-dead", "label-time-seen", "300"),
        ("lock-out/prove-dead", "time-off", "0"),
        ("lock-out/cells-stay-live", "section-voltage", "0"),
    ],
)
def test_a_reading_that_no_instrument_shows_is_refused(task: str, step: str, text: str, job: dict) -> None:
    """Nothing at all, and seconds entered for minutes, are asked again."""
    assert "reason" in plausible(job["tasks"][task], step, text)


def test_without_a_label_the_working_alone_says_how_long_to_wait(job: dict) -> None:
    """A link that nobody has labelled is no dead end: 9 minutes are more than 22 kohm, 9.4 mF and 620 V ask for."""
    assert "within" == _verdict(job, LINK, "time-off", {"time-printed": "nowhere", "time-off": "9"})


def test_a_tester_is_proved_before_it_measures(job: dict) -> None:
    """On live cells too: 0 V from a dead meter is no reading."""
    steps = [step["name"] for step in job["tasks"]["lock-out/cells-stay-live"]["steps"]]
    assert steps.index("tester-first") < steps.index("section-voltage") < steps.index("far-end") < steps.index("tester-again")


@pytest.mark.parametrize(
    ("task", "steps"),
    [
        ("lock-out/lock-off", ("hasp-and-locks", "see-open", "try-it")),
        ("lock-out/prove-dead", ("operator-earths", "tester", "tester-first", "phase-to-phase", "tester-again", "earth-and-short")),
        ("lock-out/cells-stay-live", ("tester-first", "far-end", "tester-again", "cover")),
        ("lock-out/give-back", ("people-out", "earths-off", "locks-came-off", "locks-left", "covers-on")),
    ],
)
def test_what_keeps_people_alive_cant_be_set_aside(task: str, steps: tuple[str, ...], job: dict) -> None:
    """Locks, proofs, earths, covers and counts of people are done or the work stands."""
    must = {step["name"]: step["must"] for step in job["tasks"][task]["steps"]}
    assert set() == {step for step in steps if not must[step]}
