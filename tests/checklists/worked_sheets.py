"""Sheets of the demo job as a good crew fills them in."""

from pathlib import Path
from typing import Any

import yaml

from builder.compile.evaluate import Environment, plausible

READINGS = yaml.safe_load((Path(__file__).parent / "readings.yaml").read_text(encoding="utf-8"))


def entered(job: dict, sheet: dict, step: str, text: str | dict[str, str]) -> dict[str, Any]:
    """A reading as the phone keeps it; it must be one that the phone believes."""
    text = text if isinstance(text, str) else text[sheet["item"]]
    believed = plausible(job["tasks"][sheet["task"]], step, text)
    assert "reason" not in believed, f"{sheet['id']} {step}: {believed}"
    return {"text": text, **believed}


def worked(job: dict, sheet: dict, instead: dict[str, str] | None = None) -> dict[str, dict[str, Any]]:
    """The good readings of one sheet, those that apply, with some others `instead`."""
    readings: dict[str, dict[str, Any]] = {}
    for step in job["tasks"][sheet["task"]]["steps"]:
        name = step["name"]
        if step["kind"] == "read" and Environment(job, sheet, readings).step(name)["applies"]:
            text = (instead or {}).get(name) or READINGS[sheet["task"]][name]["good"]
            readings[name] = entered(job, sheet, name, text)
    return readings


def sheet_called(job: dict, identity: str) -> dict:
    """The sheet with this id."""
    return next(sheet for sheet in job["sheets"] if sheet["id"] == identity)


def verdict(job: dict, sheet: str, step: str, instead: dict[str, str] | None = None, **named: str) -> str | None:
    """What a step says with a good crew's readings, some others `instead`; a reading may be named as expressions name it."""
    readings = (instead or {}) | {name.replace("_", "-"): text for name, text in named.items()}
    return Environment(job, sheet_called(job, sheet), worked(job, sheet_called(job, sheet), readings)).step(step)["verdict"]


def applied(job: dict, sheet: str, instead: dict[str, str], *steps: str) -> list[bool]:
    """Which of these steps a sheet asks, with some readings `instead`."""
    environment = Environment(job, sheet_called(job, sheet), worked(job, sheet_called(job, sheet), instead))
    return [environment.step(step)["applies"] for step in steps]


def steps_of(job: dict, task: str) -> dict[str, dict]:
    """The steps of a task by their names."""
    return {step["name"]: step for step in job["tasks"][task]["steps"]}
