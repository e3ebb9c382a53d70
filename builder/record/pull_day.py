"""
A pull while it runs, from entries: what stands of what was measured, and the stops that nobody has lifted.

`assets/app/pull-day.mjs` says the same, word for word.
"""

from collections import defaultdict
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from builder.compile.pull_readings import LENGTH_IN, is_measured, station_of
from builder.record.payload import Fields

if TYPE_CHECKING:
    from builder.record.answers import Answers


def measured_in(told: "Answers", entries: Iterable[Fields]) -> dict[str, dict[str, Any]]:
    """
    What was measured and stands: step → {text, unit, known, differ}.

    known    highest station that the phone already held when this was read first; a length, when it was last read
    differ   two phones read it and neither knew of the other
    """
    said: dict[str, list[Fields]] = defaultdict(list)
    for entry in entries:
        if is_measured(entry["step"]):
            said[entry["step"]].append(entry)
    standing = {step: told.answer(given) for step, given in sorted(said.items())}
    found = {}
    for step, now in standing.items():
        if now.state == "open":
            continue
        head = now.answer or now.heads[-1]
        readings = [head] if step == LENGTH_IN else [entry for entry in said[step] if entry["kind"] == "measured"]
        known = [
            station_of(other) for other in standing
            if other not in (step, LENGTH_IN) and standing[other].state != "open" and _was_before(told, said[other], readings)
        ]
        found[step] = {
            "text": head["value"], "unit": head["unit"], "known": max(known, default=None), "differ": now.state == "conflict",
        }
    return found


def _was_before(told: "Answers", said: list[Fields], readings: list[Fields]) -> bool:
    """Whether one reading that was not taken back stood before every one of these was made."""
    taken_back = {entry["about"][0] for entry in said if entry["kind"] == "withdraw"}
    return any(
        all(told.past(one, reading) for reading in readings)
        for one in said if one["kind"] == "measured" and one["id"] not in taken_back
    )


def stops_in(told: "Answers", entries: Iterable[Fields]) -> list[Fields]:
    """Stops that were called and not taken back, and that no word to go on has seen."""
    said = list(entries)
    taken_back = {entry["about"][0] for entry in said if entry["kind"] == "withdraw"}
    lifted = [entry for entry in said if entry["kind"] == "go" and entry["id"] not in taken_back]
    return [
        entry for entry in said
        if entry["kind"] == "stop" and entry["id"] not in taken_back and not any(told.past(entry, go) for go in lifted)
    ]
