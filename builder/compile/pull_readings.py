"""What is measured while a cable is pulled: which readings can be believed, and the rows that a formula is given."""

import re
from collections.abc import Mapping
from typing import Any

from builder.compile.believed import believable
from builder.compile.showing import words
from builder.formulas.mathematics import CannotTell
from builder.quantity import customary, unit
from builder.words import say

# The name under which expressions know the rows.
MEASURED = "measured"
LENGTH_IN = "length-in"
_STATION = re.compile(r"station-(0|[1-9][0-9]{0,3})")
_ROW = {"station": None, "tension": None, "people": None, "length": None, "known": None}


def pull_conditions(task: Mapping[str, Any]) -> list[str]:
    """The conditions of a pull day: when people on the rope are counted, when a working is shown. Of a task of job.json."""
    if "pull_day" not in task:
        return []
    people, shows = task["pull_day"]["people"], task["pull_day"]["shows"]
    return [*([people["when"]] if people and people["when"] else []), *shows.values()]


def station_of(step: str | None) -> int | None:
    """The station that a measured step speaks of: 3 for `station-3`, the mouth being 0."""
    found = _STATION.fullmatch(step or "")
    return int(found[1]) if found else None


def is_measured(step: str | None) -> bool:
    """Whether this is the name of something measured on the pull and of no step of a sheet."""
    return step == LENGTH_IN or station_of(step) is not None


def pull_reading(pull_day: Mapping[str, Any], step: str, given: Mapping[str, Any]) -> dict[str, Any]:
    """
    One measured value as typed, ready for an environment.

    given: {text, unit as UCUM, known: highest station read before it, differ: whether two answers stand}
    Gives {text, quantity: tension|people|length, si, known}, or {text, refused: sentence}.
    """
    called, text = words(step), given["text"]
    if given.get("differ"):
        return {"text": text, "refused": say("reading.differ", called=called)}
    for quantity in ("length",) if step == LENGTH_IN else ("tension", "people"):
        asked = pull_day[quantity]
        if asked is None or given["unit"] not in {unit(symbol).ucum for symbol in (asked["unit"], customary(asked["unit"])) if symbol}:
            continue
        as_step = {"name": step, "unit": asked["unit"], "plausible": asked["plausible"], "one_of": [], "text": False}
        read = believable({"steps": [as_step]}, as_step, text, given["unit"])
        if "reason" in read:
            return {"text": text, "refused": read["reason"]}
        return {"text": read["text"], "quantity": quantity, "si": read["si"], "known": given.get("known")}
    return {"text": text, "refused": say("reading.no_unit", called=called, unit=given["unit"])}


def pull_rows(readings: Mapping[str, Mapping[str, Any]]) -> list[dict[str, Any]]:
    """Rows by station, the length last; a first row that says nothing, since before the first reading there is a pull too."""
    rows: list[dict[str, Any]] = [dict(_ROW)]
    measured = [(station_of(step), step) for step in readings if is_measured(step)]
    for station, step in sorted(measured, key=lambda one: (one[0] is None, one[0])):
        reading = readings[step]
        if "refused" in reading:
            raise CannotTell(reading["refused"])
        rows.append({**_ROW, "station": station, reading["quantity"]: reading["si"], "known": reading["known"]})
    return rows
