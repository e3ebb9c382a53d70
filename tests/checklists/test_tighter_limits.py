"""A tighter limit never turns outside into within: every table value of the demo, moved to its safe side."""

from copy import deepcopy
from typing import Any

import pytest

from builder.check.everything import checked_job
from builder.compile.evaluate import Environment
from builder.places import DEMO_JOB
from tests.checklists.worked_sheets import READINGS, entered, worked


@pytest.fixture(scope="module")
def job() -> dict[str, Any]:
    """The demo job, checked and bound."""
    return checked_job(DEMO_JOB)


@pytest.fixture(scope="module")
def outside(job: dict, full: bool) -> list[tuple[dict, dict, str]]:
    """Each acceptance with readings that put it outside; for every item when the long counts are asked for."""
    found, seen = [], set()
    for sheet in job["sheets"]:
        good = worked(job, sheet)
        for step in job["tasks"][sheet["task"]]["steps"]:
            row = READINGS[sheet["task"]].get(step["name"], {}) if step.get("accept") and step["name"] in good else {}
            if "bad" in row and (full or (sheet["task"], step["name"]) not in seen):
                seen.add((sheet["task"], step["name"]))
                bad = {step["name"]: row["bad"], **row.get("when_bad", {})}
                readings = good | {name: entered(job, sheet, name, text) for name, text in bad.items()}
                if Environment(job, sheet, readings).step(step["name"])["verdict"] == "outside":
                    found.append((sheet, readings, step["name"]))
    return found


def figures(job: dict):
    """Every figure that names its safe side: its table, where it stands and which side that is."""
    for name, table in job["tables"].items():
        for called, entry in table.get("values", {}).items():
            if entry.get("safer") and isinstance(entry["value"], float | int):
                yield name, entry, "value", entry["safer"], called
        for row in table.get("rows", []):
            for column, about in table["columns"].items():
                if about.get("safer") and isinstance(row.get(column), float | int):
                    yield name, row, column, about["safer"], column


@pytest.mark.parametrize("by", [0.1, 0.5])
def test_figure_moved_to_its_safe_side_passes_nothing_that_was_outside(by, job, outside):
    """A tenth or a half to the side that a firm may move it freely, no acceptance that was outside is within."""
    tighter = deepcopy(job)
    asked, wrong = 0, []
    for name, entry, column, safer, called in figures(tighter):
        table = f"table.{name.replace('-', '_')}"
        was = entry[column]
        entry[column] = was + (by if safer == "higher" else -by) * abs(was)
        for sheet, readings, step in outside:
            task = tighter["tasks"][sheet["task"]]
            if table not in repr(task["workings"]) + next(one["accept"] for one in task["steps"] if one["name"] == step):
                continue
            asked += 1
            if Environment(tighter, sheet, readings).step(step)["verdict"] == "within":
                wrong.append(f"{name} {called} {safer}: {sheet['id']} {step}")
        entry[column] = was
    print(f"{asked} acceptances under a tighter figure, {len(wrong)} turned")
    assert asked > 500
    assert [] == sorted(set(wrong))
