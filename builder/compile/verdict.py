"""What an acceptance says of a reading: its limits, the room that is left, and one sentence."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from builder.compile.arithmetic import above, alike, at_least, at_most, below
from builder.compile.margin import margin_share, share_text
from builder.compile.showing import AS_GIVEN, number_text, one_of, plain_text, with_unit, words
from builder.quantity import BLANKS, from_si, parse_number, reads_two_ways, to_si, units

COMPARED = {">=": at_least, ">": above, "<=": at_most, "<": below, "==": alike, "!=": lambda a, b: not alike(a, b)}
MUST_BE = {">=": "at least ", ">": "more than ", "<=": "at most ", "<": "less than ", "==": "", "!=": "anything but "}
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
        return "nothing to spare"
    # A difference has no offset: 3 °C of room are 3 °C, not −270.
    text = with_unit(plain_text(abs(room) / unit.factor, 3, "down" if room > 0 else "up"), unit.symbol)
    return f"{text} to spare" if room > 0 else f"{text} short" if op in (">=", ">") else f"{text} over"


def sentence(limits: list[dict[str, Any]], met: bool) -> str:
    """What an acceptance says, in one sentence: the limit that fails, or else the first."""
    shown = next((limit for limit in limits if limit["met"] is met and limit["found"] is not None), None)
    if shown is None:
        return "What this step asks for is met." if met else "What this step asks for is not met."
    told = f"{shown['what']} is {shown['found']}; it must be {MUST_BE[shown['op']]}{shown['text']}"
    if not shown["margin_text"]:
        return f"{told}."
    share = share_text(shown["margin_ratio"])
    return f"{told}: {shown['margin_text']} ({share})." if share else f"{told}: {shown['margin_text']}."


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
        return {"reason": f"{called}: choose {one_of(step['one_of'])}."}
    if step.get("text"):
        if 0 < len(typed) <= _LONGEST_TEXT:
            return {"word": typed, "text": typed}
        return {"reason": f"{called}: write something, in {_LONGEST_TEXT} letters at most."}
    low, high = step["plausible"]
    span = f"{plain_text(low, AS_GIVEN, 'nearest')} and {with_unit(plain_text(high, AS_GIVEN, 'nearest'), step['unit'])}"
    if reads_two_ways(typed):
        return {"reason": f"{called}: {typed} can be read two ways. Type it without the comma, or with a point."}
    try:
        number = parse_number(typed)
    except ValueError:
        return {"reason": f"{called}: type a number between {span}, with a point or comma for decimals."}
    if not low <= number <= high:
        return {"reason": f"{called}: {with_unit(typed, step['unit'])} can't be right; it lies between {span}. Measure again."}
    return {"si": to_si(number, units()[step["unit"]]), "text": typed}
