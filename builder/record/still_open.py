"""What is still open on a job, counted: the one line that tells an office whether it is over."""

from collections.abc import Sequence
from typing import Any

from builder.record.boards import Boards
from builder.record.sheet_state import SheetState

OVER = ("closed", "rests")


def still_open(states: Sequence[SheetState], boards: Boards, look: dict[str, Sequence[Any]]) -> list[str]:
    """
    What is open, in words, most of the work first; nothing when the job is over.

    look   lists of what needs a look: conflicts, snags, missing photos, differences
    """
    sheets = [state for state in states if state.state not in OVER]
    holds = [
        name for state in sheets for name, hold in state.holds.items()
        if state.steps[name].state != "not-applying" and not hold.in_force
    ]
    points = boards.points()
    counted = (
        (len(sheets), "sheet", "sheets"), (len(holds), "hold", "holds"),
        (len(look["conflicts"]), "step where answers differ", "steps where answers differ"),
        (len(look["snags"]), "snag", "snags"), (len(look["missing"]), "missing photo", "missing photos"),
        (len(look["differences"]), "reading that does not agree", "readings that do not agree"),
        (sum(len(point.on) for point in points), "lock", "locks"),
        (sum(point.unknown for point in points), "point with a lock that has not come", "points with a lock that has not come"),
        (len(boards.zone()), "person signed on", "people signed on"),
    )
    return [f"{count} {one if count == 1 else more}" for count, one, more in counted if count]
