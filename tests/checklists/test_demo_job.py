"""The libraries, worked on the demo job: good readings pass, bad ones do not, and nobody is stuck."""

from pathlib import Path
from typing import Any

import pytest
import yaml

from builder.check.everything import checked_job
from builder.compile.evaluate import Environment, plausible
from builder.places import DEMO_JOB

READINGS = yaml.safe_load((Path(__file__).parent / "readings.yaml").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def job() -> dict[str, Any]:
    """The demo job, checked and bound."""
    return checked_job(DEMO_JOB)


def _entered(job: dict, sheet: dict, step: str, text: str | dict[str, str]) -> dict[str, Any]:
    text = text if isinstance(text, str) else text[sheet["item"]]
    task = job["tasks"][sheet["task"]]
    believed = plausible(task, step, text)
    assert "reason" not in believed, f"{sheet['id']} {step}: {believed}"
    return {"text": text, **believed}


def _worked(job: dict, sheet: dict) -> dict[str, dict[str, Any]]:
    """The good readings of one sheet, those that apply."""
    readings: dict[str, dict[str, Any]] = {}
    for step in job["tasks"][sheet["task"]]["steps"]:
        if step["kind"] == "read" and Environment(job, sheet, readings).step(step["name"])["applies"]:
            readings[step["name"]] = _entered(job, sheet, step["name"], READINGS[sheet["task"]][step["name"]]["good"])
    return readings


def _sheet(job: dict, identity: str) -> dict:
    return next(sheet for sheet in job["sheets"] if sheet["id"] == identity)


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
        environment = Environment(job, sheet, _worked(job, sheet))
        for step in job["tasks"][sheet["task"]]["steps"]:
            state = environment.step(step["name"])
            if state["applies"] is None or state["verdict"] not in (None, "within"):
                stuck.append(f"{sheet['id']} {step['name']}: {state['applies_reason'] or state['reason']}")
    assert [] == stuck


def _accepting(job: dict) -> list[tuple[dict, dict]]:
    return [
        (sheet, step) for sheet in job["sheets"] for step in job["tasks"][sheet["task"]]["steps"]
        if step.get("accept") and step["name"] in _worked(job, sheet)
    ]


def test_a_bad_reading_is_outside(job: dict) -> None:
    """No acceptance is idle: for each, something that a crew could read is outside."""
    idle = []
    for sheet, step in _accepting(job):
        row = READINGS[sheet["task"]][step["name"]]
        bad = {step["name"]: row["bad"], **row.get("when_bad", {})}
        entered = {name: _entered(job, sheet, name, text) for name, text in bad.items()}
        verdict = Environment(job, sheet, _worked(job, sheet) | entered).step(step["name"])["verdict"]
        if verdict != "outside":
            idle.append(f"{sheet['id']} {step['name']}: {verdict}")
    assert [] == idle


def test_without_its_reading_no_step_is_within(job: dict) -> None:
    """An acceptance whose reading is missing can't be told."""
    passed = []
    for sheet, step in _accepting(job):
        readings = _worked(job, sheet)
        del readings[step["name"]]
        verdict = Environment(job, sheet, readings).step(step["name"])["verdict"]
        # Some acceptances judge by other readings alone; the one that is missing still has to be entered.
        if verdict == "within" and step["name"].replace("-", "_") in step["accept"]:
            passed.append(f"{sheet['id']} {step['name']}")
    assert [] == passed


def test_the_armoured_run_is_pulled_from_its_far_end(job: dict) -> None:
    """From the start the pull is more than the bend allows; from the end it is within."""
    sheet = _sheet(job, "cable-pulling/before-the-pull/R3")
    verdicts = {
        end: Environment(job, sheet, _worked(job, sheet) | {"feed-end": _entered(job, sheet, "feed-end", end)})
        .step("rope-break")["verdict"] for end in ("start", "end")
    }
    assert {"start": "outside", "end": "within"} == verdicts


def test_the_link_drains_for_longer_than_its_label_says(job: dict) -> None:
    """Capacitance and drain resistor ask for more than the label's 300 s: 22 kohm · 9.4 mF · ln(620/50)."""
    sheet = _sheet(job, "lock-out/prove-dead/drive-panel")
    wait = Environment(job, sheet, _worked(job, sheet)).working("wait")["outputs"]
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
        ("termination/check-the-joint/J2", "clear-to-look", ("lock-out/prove-dead/drive-panel", "safe-to-work")),
        ("energisation/test-before-switch-on/kiln-board", "tests-in", ("termination/check-the-joint/J10", "joint-proved")),
        ("energisation/switch-on/kiln-board", "clear-to-switch-on", ("lock-out/give-back/standby-set", "locks-given-back")),
        ("lock-out/give-back/kiln-feeder", "locks-given-back", ("termination/check-the-joint/J1", None)),
        ("lock-out/give-back/kiln-feeder", "locks-given-back", ("energisation/test-before-switch-on/kiln-board", None)),
    ],
)
def test_a_hold_waits_across_libraries(sheet: str, hold: str, needed: tuple[str, str | None], job: dict) -> None:
    """What must come first is bound as a need of the sheet that it holds back."""
    needs = [(need["sheet"], need["hold"]) for need in _sheet(job, sheet)["needs"][hold]]
    assert needed in needs
