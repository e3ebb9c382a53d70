"""The libraries, worked on the demo job: good readings pass, bad ones do not, and nobody is stuck."""

from typing import Any

import pytest

from builder.check.everything import checked_job
from builder.compile.evaluate import Environment
from builder.places import DEMO_JOB
from tests.checklists.worked_sheets import READINGS, entered, sheet_called, worked


@pytest.fixture(scope="module")
def job() -> dict[str, Any]:
    """The demo job, checked and bound."""
    return checked_job(DEMO_JOB)


def test_each_library_has_steps_and_holds(job: dict) -> None:
    """No library of the demo is a stub: eight steps that are no holds, and a hold, at least."""
    thin = []
    for library in {task["library"] for task in job["tasks"].values()}:
        kinds = [step["kind"] for task in job["tasks"].values() if task["library"] == library for step in task["steps"]]
        if kinds.count("hold") < 1 or len(kinds) - kinds.count("hold") < 8:
            thin.append(library)
    assert [] == thin


def test_each_task_is_worked_for_some_item(job: dict) -> None:
    """The demo has an item for every task, so that none goes unseen."""
    assert set(job["tasks"]) == {sheet["task"] for sheet in job["sheets"]}


def test_with_good_readings_every_step_is_within(job: dict) -> None:
    """A crew that reads what is right is never told that it can't be told, nor that it is outside."""
    stuck = []
    for sheet in job["sheets"]:
        environment = Environment(job, sheet, worked(job, sheet))
        for step in job["tasks"][sheet["task"]]["steps"]:
            state = environment.step(step["name"])
            if state["applies"] is None or state["verdict"] not in (None, "within"):
                stuck.append(f"{sheet['id']} {step['name']}: {state['applies_reason'] or state['reason']}")
    assert [] == stuck


def _accepting(job: dict) -> list[tuple[dict, dict]]:
    return [
        (sheet, step) for sheet in job["sheets"] for step in job["tasks"][sheet["task"]]["steps"]
        if step.get("accept") and step["name"] in worked(job, sheet)
    ]


def test_a_bad_reading_is_outside(job: dict) -> None:
    """No acceptance is idle: for each, something that a crew could read is outside."""
    idle = []
    for sheet, step in _accepting(job):
        row = READINGS[sheet["task"]][step["name"]]
        bad = {step["name"]: row["bad"], **row.get("when_bad", {})}
        said = {name: entered(job, sheet, name, text) for name, text in bad.items()}
        verdict = Environment(job, sheet, worked(job, sheet) | said).step(step["name"])["verdict"]
        if verdict != "outside":
            idle.append(f"{sheet['id']} {step['name']}: {verdict}")
    assert [] == idle


def test_without_its_reading_no_step_is_within(job: dict) -> None:
    """An acceptance whose reading is missing can't be told."""
    passed = []
    for sheet, step in _accepting(job):
        readings = worked(job, sheet)
        del readings[step["name"]]
        verdict = Environment(job, sheet, readings).step(step["name"])["verdict"]
        # Some acceptances judge by other readings alone; the one that is missing still has to be entered.
        if verdict == "within" and step["name"].replace("-", "_") in step["accept"]:
            passed.append(f"{sheet['id']} {step['name']}")
    assert [] == passed


def test_the_armoured_run_is_pulled_from_its_far_end(job: dict) -> None:
    """From the start the pull is more than the bend allows; from the end it is within."""
    sheet = sheet_called(job, "cable-pulling/before-the-pull/R3")
    verdicts = {
        end: Environment(job, sheet, worked(job, sheet) | {"feed-end": entered(job, sheet, "feed-end", end)})
        .step("rope-break")["verdict"] for end in ("start", "end")
    }
    assert {"start": "outside", "end": "within"} == verdicts


def test_the_link_drains_for_longer_than_its_label_says(job: dict) -> None:
    """Capacitance and drain resistor ask for more than the label's 300 s: 22 kohm · 9.4 mF · ln(620/50)."""
    sheet = sheet_called(job, "lock-out/prove-dead/drive-panel")
    wait = Environment(job, sheet, worked(job, sheet)).working("wait")["outputs"]
    assert "computed" == wait["ruled_by"]["word"]
    assert 520.66 == pytest.approx(wait["waiting_time"]["si"], abs=0.01)


def test_cells_that_stay_live_are_never_called_dead(job: dict) -> None:
    """The battery strings have the sheet for live cells and not the one for proving dead."""
    sheets = {sheet["task"] for sheet in job["sheets"] if sheet["item"] == "battery-strings"}
    assert "lock-out/cells-stay-live" in sheets
    assert "lock-out/prove-dead" not in sheets


@pytest.mark.parametrize(
    ("sheet", "hold", "needed"),
    [
        ("cable-pulling/pull/R1", "go", ("lock-out/prove-dead/kiln-feeder", "safe-to-work")),
        ("cable-pulling/conduit/R1", "route-ready", ("trenching/bury-and-prove/T1", "ready-for-cable")),
        ("termination/before-making-off/J7", "clear-to-start", ("lock-out/cells-stay-live/battery-strings", "safe-to-work")),
        ("termination/make-off/J2", "go", ("lock-out/prove-dead/standby-set", "safe-to-work")),
        ("termination/check-the-joint/J2", "clear-to-look", ("lock-out/prove-dead/drive-switch", "safe-to-work")),
        ("testing/prove-protection/kiln-board", "tests-in", ("termination/check-the-joint/J10", "joint-proved")),
        ("energisation/switch-on/kiln-board", "clear-to-switch-on", ("lock-out/give-back/standby-set", "locks-given-back")),
        ("lock-out/give-back/kiln-feeder", "may-come-off", ("termination/check-the-joint/J1", None)),
        ("lock-out/give-back/kiln-feeder", "may-come-off", ("testing/dead-tests/kiln-board", None)),
    ],
)
def test_a_hold_waits_across_libraries(sheet: str, hold: str, needed: tuple[str, str | None], job: dict) -> None:
    """What must come first is bound as a need of the sheet that it holds back."""
    needs = [(need["sheet"], need["hold"]) for need in sheet_called(job, sheet)["needs"][hold]]
    assert needed in needs
