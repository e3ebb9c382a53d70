"""What is known of a sheet: its steps, its holds, and what stands in the way."""

from dataclasses import dataclass
from typing import Any

from builder.record.answers import Snag
from builder.record.payload import Fields


@dataclass(frozen=True)
class Block:
    """
    What stands in the way: kind is step, verdict, conflict, photo, signature, snag, stop, hold, need or lock.

    say     a sentence
    sheet   or the board of a point, `locks/POINT`
    """

    kind: str
    sheet: str
    step: str | None
    say: str


@dataclass(frozen=True)
class StepState:
    """
    A step: open, answered, aside, conflict, not-applying, waiting or shut, and what its acceptance says.

    lacks_photo   answered, but not finished without one
    """

    state: str
    verdict: str | None
    reason: str
    answer: Fields | None
    heads: list[Fields]
    earlier: list[Fields]
    lacks_photo: bool = False


@dataclass(frozen=True)
class HoldState:
    """A hold: released or not, in force or not, and what blocks it."""

    released: bool = False
    in_force: bool = False
    blocks: tuple[Block, ...] = ()


@dataclass(frozen=True)
class SheetState:
    """
    A sheet: not-started, in-hand, held, worked, closed, or rests: started again, and wanted by nothing open.

    next        first step not finished
    left        what closing still waits for; empty when worked
    uncounted   kept, but no answer here
    pulled      what stands measured on a pull: step → {text, unit, known, differ}
    stops       of a pull, called and not lifted
    """

    sheet: str
    state: str
    round: int
    next: str | None
    steps: dict[str, StepState]
    holds: dict[str, HoldState]
    snags: list[Snag]
    photos: list[Fields]
    signatures: list[Fields]
    left: list[Block]
    uncounted: list[Fields]
    environment: Any
    pulled: dict[str, dict[str, Any]]
    stops: list[Fields]
