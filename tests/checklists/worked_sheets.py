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
