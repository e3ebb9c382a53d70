"""Where a sheet stands, from entries: the same cases at the desk and on the phone."""

import copy
from collections.abc import Callable
from dataclasses import asdict
from types import SimpleNamespace
from typing import Any

import pytest

from builder.record.answers import Answers
from builder.record.merge import order
from builder.record.progress import Progress
from tests.record.conftest import vectors

VECTORS = vectors("progress.json")
USUAL = {
    "v": 1, "at": "2026-03-04T10:00:00+10:00", "who": "Ana", "job": "yard", "build": "0123456789ab", "seen": {},
    "sheet": None, "step": None, "value": "", "unit": None, "shown": None, "about": [],
}
APPLIES = {"applies": True, "applies_reason": "", "verdict": None, "reason": ""}


def case_of(vector: dict[str, Any]) -> dict[str, Any]:
    """A vector written out: its job, its entries in order, and what the acceptances say."""
    job = copy.deepcopy(VECTORS["job"])
    for sheet in job["sheets"]:
        sheet["needs"] |= vector.get("needs", {}).get(sheet["id"], {})
    for task, asked in vector.get("asks", {}).items():
        for step in job["tasks"][task]["steps"]:
            step |= asked.get(step["name"], {})
    said: list[dict] = []
    for entry in [*(one for name in vector.get("with", []) for one in VECTORS[name]), *vector["entries"]]:
        before = [one for one in said if one["dev"] == entry["dev"]]
        said.append(USUAL | {"seq": len(before), "prev": before[-1]["id"] if before else None} | entry)
    answers = {
        sheet: {step: {text: APPLIES | one for text, one in told.items()} for step, told in steps.items()}
        for sheet, steps in vector.get("answers", VECTORS["answers"]).items()
    }
    return {"job": job, "entries": sorted(said, key=order), "answers": answers, "unbelieved": vector.get("unbelieved", [])}


def at_the_desk(case: dict[str, Any]) -> dict[str, Any]:
    """Every sheet of a case, as the page gives it."""
    def environment_for(sheet: dict, readings: dict) -> Any:
        def step(name: str) -> dict:
            text = readings.get(name, {}).get("text", "")
            return case["answers"].get(sheet["id"], {}).get(name, {}).get(text, APPLIES)

        believed = {name: one for name, one in readings.items() if name not in case["unbelieved"]}
        return SimpleNamespace(readings=believed, step=step)

    where = Progress(Answers(case["job"], case["entries"]), environment_for)
    states = {}
    for state in where.sheets():
        states[state.sheet] = asdict(state)
        del states[state.sheet]["environment"]
        states[state.sheet]["snags"] = [[snag.entry["id"], snag.closed and snag.closed["id"]] for snag in state.snags]
        for hold in states[state.sheet]["holds"].values():
            hold["blocks"] = list(hold["blocks"])
    return states


def brief(value: Any, like: Any) -> Any:
    """What came out, cut down to what a vector speaks of; entries by their ids."""
    if isinstance(value, dict) and "id" in value and not isinstance(like, dict):
        return value["id"]
    if isinstance(like, dict):
        return {key: brief(value[key], like[key]) for key in like}
    if isinstance(value, list):
        return [brief(one, like[number] if number < len(like) else None) for number, one in enumerate(value)]
    return value


@pytest.mark.parametrize("vector", VECTORS["cases"], ids=lambda vector: vector["title"])
def test_desk_says_where_sheets_stand(vector: dict[str, Any]) -> None:
    """States, verdicts, blocks and their sentences, at the desk."""
    assert vector["expect"] == brief(at_the_desk(case_of(vector)), vector["expect"])


@pytest.mark.parametrize("vector", VECTORS["cases"], ids=lambda vector: vector["title"])
def test_phone_says_the_same(vector: dict[str, Any], in_page: Callable) -> None:
    """Everything the desk says of every sheet, the phone says too, whole."""
    case = case_of(vector)
    assert at_the_desk(case) == in_page("stands", case)
