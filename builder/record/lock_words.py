"""The lock board as the desk shows it: what hangs where, what counts for nothing, and who is in the zone."""

from collections.abc import Mapping
from typing import Any

from builder.record.boards import SITE, Against, Boards, Lock, Point, board_of
from builder.record.heads import called
from builder.record.payload import Fields
from builder.record.standing import name_key


def locks_shown(boards: Boards, names: Mapping[str, str]) -> dict[str, Any]:
    """Points with locks still on first, then the people in the zone; `names` are the phones'."""
    points = sorted(boards.points(), key=lambda point: not (point.on or point.unknown))
    on = [lock for point in points for lock in point.on]
    zone = boards.zone()
    owners = {name_key(lock.entry["who"]) for lock in on}
    inside = {name_key(entry["who"]) for entry in zone}
    return {
        "points": [_point(point, boards, names) for point in points],
        "count": len(on),
        "zone": [{"words": _said(entry, names), "bare": name_key(entry["who"]) not in owners} for entry in zone],
        "outside": sorted({lock.entry["who"] for lock in on if name_key(lock.entry["who"]) not in inside}),
        "twice": [", ".join(f"{lock.entry['value']} of {lock.entry['who']} on {_point_of(lock)}" for lock in locks) for locks in boards.doubles()],
        "missing": [called(dev, names) for dev in boards.missing()],
    }


def is_board(sheet: str, job: dict) -> bool:
    """Whether something was said to a board of this job, and not to a sheet."""
    return sheet == SITE or any(sheet == board_of(point) for point in job.get("points", {}))


def _point(point: Point, boards: Boards, names: Mapping[str, str]) -> dict[str, Any]:
    of = boards.job["points"][point.name]
    item = boards.job["items"][of["kind"]][point.name]
    off = [lock for lock in point.locks if lock.state == "off"]
    return {
        "id": board_of(point.name), "name": point.name, "title": item["title"], "where": item["values"]["where"], "box": of["box"],
        "state": "held" if point.on or point.unknown else "worked", "unknown": point.unknown, "off": len(off),
        "locks": [{"words": _said(lock.entry, names), "sure": lock.sure} for lock in point.on],
        "against": [_attempt(one, names) for lock in point.locks for one in lock.against + lock.looked if one.why] + [_attempt(one, names) for one in point.strays],
        "without": [_without(lock, names) for lock in off if not any(one.why is None and _is_own(lock, one) for one in lock.against)],
    }


def _attempt(one: Against, names: Mapping[str, str]) -> str:
    return f"{one.entry['kind']} by {_said(one.entry, names)}: {one.why}"


def _without(lock: Lock, names: Mapping[str, str]) -> str:
    off = next(one.entry for one in lock.against if one.why is None)
    return f"Lock {lock.entry['value']} was taken off without {lock.entry['who']}, by {_said(off, names)}"


def _is_own(lock: Lock, one: Against) -> bool:
    return name_key(one.entry["who"]) == name_key(lock.entry["who"])


def _said(entry: Fields, names: Mapping[str, str]) -> str:
    number = f"lock {entry['value']}, " if entry["kind"] == "lock-on" else ""
    return f"{entry['who']} ({number}{entry['at']}, {called(entry['dev'], names)})"


def _point_of(lock: Lock) -> str:
    return lock.entry["sheet"].removeprefix(board_of(""))
