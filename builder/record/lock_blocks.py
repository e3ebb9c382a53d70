"""
What the lock boards put in the way of a hold that asks for locks on, or off.

`assets/app/lock-blocks.mjs` says the same, word for word.
"""

from collections.abc import Iterator, Sequence

from builder.record.boards import Boards, Lock, board_of
from builder.record.heads import called, phone_names
from builder.record.payload import Fields
from builder.record.sheet_state import Block
from builder.words import say


def lock_blocks(asked: dict, boards: Boards, hold: tuple[str, str], heads: Sequence[Fields] | None) -> list[Block]:
    """
    What stands in the way.

    asked   {want: on or off, points, stay: points that must stay locked}, as the sheet has it
    hold    sheet and name of the hold
    heads   the releases that stand; None where it is not released
    """
    blocks = list(_keeps_on(asked, boards) if asked["want"] == "on" else _keeps_off(asked, boards))
    if heads is not None and not blocks:
        blocks += _since_released(asked, boards, hold, heads)
    return blocks


def with_boxes(points: Sequence[str], boards: Boards) -> list[str]:
    """Points, each followed by the box that holds its key."""
    boxed = [name for point in points for name in (point, boards.job["points"][point]["box"]) if name]
    return list(dict.fromkeys(boxed))


def _keeps_on(asked: dict, boards: Boards) -> Iterator[Block]:
    for point in with_boxes(asked["points"], boards):
        yield from _not_locked(point, boards, say("lock_block.none", point=point))


def _keeps_off(asked: dict, boards: Boards) -> Iterator[Block]:
    for name in with_boxes(asked["points"], boards):
        point = boards.point(name)
        for lock in point.on:
            yield _block(name, say("lock_block.is_on", point=name, **_called(lock)))
        if point.unknown:
            yield _block(name, say("lock_block.unknown", point=name))
    if missing := boards.missing():
        names = phone_names(list(boards.told.by_id.values()))
        phones = ", ".join(called(dev, names) for dev in missing)
        yield _block(asked["points"][0], say("lock_block.missing", phones=phones))
    for point in asked.get("stay", []):
        yield from _not_locked(point, boards, say("lock_block.stay", point=point))


def _not_locked(name: str, boards: Boards, none: str) -> Iterator[Block]:
    """A point counts as locked by one lock that surely stands."""
    on = boards.point(name).on
    if any(lock.sure for lock in on):
        return
    if not on:
        yield _block(name, none)
    for lock in on:
        yield _block(name, say("lock_block.doubtful", point=name, **_called(lock)))


def _since_released(asked: dict, boards: Boards, hold: tuple[str, str], heads: Sequence[Fields]) -> Iterator[Block]:
    """What was looked at when it was released, and was not so all the time since."""
    for name in with_boxes(asked["points"], boards):
        if asked["want"] == "on" and not boards.stood_since(name, heads):
            yield Block("lock", *hold, say("lock_block.not_since", point=name))
        if asked["want"] == "off" and any(not boards.told.covered([lock.entry], heads) for lock in boards.point(name).locks):
            yield Block("lock", *hold, say("lock_block.since", point=name))


def _called(lock: Lock) -> dict[str, str]:
    return {"number": lock.entry["value"], "who": lock.entry["who"]}


def _block(point: str, told: str) -> Block:
    return Block("lock", board_of(point), None, told)
