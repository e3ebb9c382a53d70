"""What an acceptance says of a reading: its limits, the room that is left, and one sentence."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from builder.compile.arithmetic import above, alike, at_least, at_most, below
from builder.compile.margin import margin_share, share_text
from builder.compile.showing import AS_GIVEN, number_text, one_of, plain_text, with_unit, words
from builder.quantity import BLANKS, from_si, parse_number, reads_two_ways, to_si, units
from builder.words import say

COMPARED = {">=": at_least, ">": above, "<=": at_most, "<": below, "==": alike, "!=": lambda a, b: not alike(a, b)}
_MUST_BE = {">=": "at_least", ">": "more_than", "<=": "at_most", "<": "less_than", "==": "exactly", "!=": "other_than"}
# A least value is shown no lower than it is, a greatest no higher.
_SIDE = {">=": "up", ">": "up", "<=": "down", "<": "down", "==": "nearest", "!=": "nearest"}
# Figures of a limit that no working sets, and of what is held against a limit.
FIGURES = 4
_LONGEST_TEXT = 200


class Held(NamedTuple):
    """What is held against a limit: a reading, or what a working comes to."""

    what: str  # in words
    value: float | str | None
    text: str | None
    workings: list[str]  # those that have a part in it or in its limit


def limit_of(op: str, value: Any, figures: int | None, symbol: str | None, held: Held) -> dict[str, Any]:
    """
    One limit as the sheet shows it.

    figures  those of the working that sets it
    symbol   of the unit that it is shown in
    held     what is held against it
    """
    limit: dict[str, Any] = {"op": op, "si": None, "text": str(value), "unit": None, "margin_text": None, "margin_ratio": None, "margin_share": None,
             "met": None, "what": held.what, "found": held.text, "workings": held.workings}
    if isinstance(value, str | bool):
        return limit | {"met": held.text is not None and COMPARED[op](held.value, value)}
    unit = units()[symbol]
    number = from_si(value, unit)
    text = plain_text(number, FIGURES, _SIDE[op]) if figures is None else number_text(number, figures, _SIDE[op])
    limit |= {"si": value, "text": with_unit(text, symbol), "unit": symbol}
    if isinstance(held.value, float | int):
        limit["met"] = COMPARED[op](held.value, value)
        if op not in ("==", "!="):
            room = held.value - value if op in (">=", ">") else value - held.value
            limit["margin_text"] = _margin_text(op, room, held.value, value, unit)
            # A share of a temperature on a scale means nothing.
            limit["margin_ratio"] = room / abs(value) if value != 0 and unit.offset == 0 else None
            limit["margin_share"] = margin_share(op, limit["margin_ratio"])
    return limit


def _margin_text(op: str, room: float, reading: float, limit: float, unit: Any) -> str:
    if alike(reading, limit):
        return say("verdict.nothing_to_spare")
    # A difference has no offset: 3 °C of room are 3 °C, not −270.
    text = with_unit(plain_text(abs(room) / unit.factor, 3, "down" if room > 0 else "up"), unit.symbol)
    return say("verdict.to_spare" if room > 0 else "verdict.short" if op in (">=", ">") else "verdict.over", room=text)


def sentence(limits: list[dict[str, Any]], met: bool) -> str:
    """What an acceptance says, in one sentence: the limit that fails, or else the first."""
    shown = next((limit for limit in limits if limit["met"] is met and limit["found"] is not None), None)
    if shown is None:
        return say("verdict.met" if met else "verdict.not_met")
    share = share_text(shown["margin_ratio"])
    place = "verdict.told" if not shown["margin_text"] else "verdict.told_share" if share else "verdict.told_room"
    return say(place, what=shown["what"], found=shown["found"], wanted=_must_be(shown), room=shown["margin_text"], share=share)


def _must_be(limit: Mapping[str, Any]) -> str:
    """`at least 5.2 kN`."""
    return say(f"verdict.{_MUST_BE[limit['op']]}", limit=limit["text"])


def reading_text(step: Mapping[str, Any], reading: Mapping[str, Any]) -> str:
    """A reading as it was typed, with its unit."""
    return with_unit(reading["text"], step["unit"]) if "si" in reading else reading["text"]


def plausible(task: Mapping[str, Any], step_name: str, text: str) -> dict[str, Any]:
    """A typed reading: {si, text} or {word, text} where it can be believed, else {reason}."""
    step = next(step for step in task["steps"] if step["name"] == step_name)
    called, typed = words(step_name), text.strip(BLANKS)
    if step.get("one_of"):
        if typed in step["one_of"]:
            return {"word": typed, "text": typed}
        return {"reason": say("reading.choose", called=called, words=one_of(step["one_of"]))}
    if step.get("text"):
        if 0 < len(typed) <= _LONGEST_TEXT:
            return {"word": typed, "text": typed}
        return {"reason": say("reading.write", called=called, most=_LONGEST_TEXT)}
    low, high = step["plausible"]
    least, most = (plain_text(end, AS_GIVEN, "nearest") for end in (low, high))
    span = say("amount.between", low=least, high=with_unit(most, step["unit"]))
    if reads_two_ways(typed):
        return {"reason": say("reading.two_ways", called=called, typed=typed)}
    try:
        number = parse_number(typed)
    except ValueError:
        return {"reason": say("reading.number", called=called, span=span)}
    if not low <= number <= high:
        return {"reason": say("reading.absurd", called=called, typed=with_unit(typed, step["unit"]), span=span)}
    return {"si": to_si(number, units()[step["unit"]]), "text": typed}
