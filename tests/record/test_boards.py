"""What the lock boards say, and what they put in the way: the same cases at the desk and on the phone."""

from collections.abc import Callable
from dataclasses import asdict
from types import SimpleNamespace
from typing import Any

import pytest

from builder.record.answers import Answers
from builder.record.merge import order
from builder.record.progress import Progress
from tests.record.conftest import vectors
from tests.record.test_progress import APPLIES, USUAL

VECTORS = vectors("boards.json")


def entries_of(vector: dict[str, Any]) -> list[dict]:
    """A vector's entries written out, in order."""
    said: list[dict] = []
    for entry in vector["entries"]:
        before = [one for one in said if one["dev"] == entry["dev"]]
        said.append(USUAL | {"seq": len(before), "prev": before[-1]["id"] if before else None} | entry)
    return sorted(said, key=order)


def at_the_desk(job: dict, entries: list[dict]) -> dict[str, Any]:
    """Boards and holds, as the page gives them."""
    def environment_for(_: dict, readings: dict) -> Any:
        return SimpleNamespace(readings=readings, step=lambda name: APPLIES)

    where = Progress(Answers(job, entries), environment_for)
    boards = where.boards()
    states = where.sheets()
    return {
        "points": [asdict(point) for point in boards.points()],
        "missing": boards.missing(),
        "doubles": [[lock.entry["id"] for lock in locks] for locks in boards.doubles()],
        "zone": [entry["id"] for entry in boards.zone()],
        "states": {state.sheet: state.state for state in states},
        "steps": {state.sheet: {name: step.state for name, step in state.steps.items()} for state in states},
        "blocks": {
            state.sheet: {name: [[one.kind, one.sheet, one.step, one.say] for one in hold.blocks] for name, hold in state.holds.items()}
            for state in states
        },
    }


def _said_of_locks(points: list[dict]) -> list[dict]:
    return [one for point in points for lock in point["locks"] for one in lock["against"] + lock["looked"]]


def _brief(found: dict[str, Any]) -> dict[str, Any]:
    """What vectors speak of."""
    points = found["points"]
    return found | {
        "locks": {point["name"]: [[lock["entry"]["id"], lock["state"], lock["sure"]] for lock in point["locks"]] for point in points},
        "why": {one["entry"]["id"]: one["why"] for one in _said_of_locks(points) if one["why"]},
        "looked": {lock["entry"]["id"]: [one["entry"]["id"] for one in lock["looked"] if one["why"] is None] for point in points for lock in point["locks"]},
        "strays": {point["name"]: [one["why"] for one in point["strays"]] for point in points if point["strays"]},
        "unknown": [point["name"] for point in points if point["unknown"]],
    }


def _like(found: Any, wanted: Any) -> Any:
    return {key: _like(found[key], wanted[key]) for key in wanted} if isinstance(wanted, dict) else found


@pytest.mark.parametrize("vector", VECTORS["cases"], ids=lambda vector: vector["title"])
def test_desk_reads_the_boards(vector: dict[str, Any]) -> None:
    """Which locks are on, what does not count and why, who is in the zone, and what stands in the way of a hold."""
    found = _brief(at_the_desk(VECTORS["job"], entries_of(vector)))
    expected = ({"why": {}, "unknown": []} if "locks" in vector["expect"] else {}) | vector["expect"]
    assert expected == {key: found[key] if key == "why" else _like(found[key], expected[key]) for key in expected}


@pytest.mark.parametrize("vector", VECTORS["cases"], ids=lambda vector: vector["title"])
def test_phone_reads_the_boards_alike(vector: dict[str, Any], in_page: Callable) -> None:
    """Everything that the desk reads off the boards, the phone reads too, whole."""
    entries = entries_of(vector)
    assert at_the_desk(VECTORS["job"], entries) == in_page("boards", {"job": VECTORS["job"], "entries": entries})
