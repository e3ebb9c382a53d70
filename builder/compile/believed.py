"""A reading as it was given, in the step's own unit or in the customary one. The same as assets/app/believed.mjs."""

from typing import Any

from builder.compile.verdict import plausible
from builder.formulas.number_text import plain_text
from builder.quantity import Unit, customary, from_si, parse_number, to_si, unit


def believable(task: dict, step: dict, text: str, ucum: str | None) -> dict[str, Any]:
    """A reading as typed: {si, text} or {word, text} where it can be believed, else {reason}."""
    asked = unit(step["unit"]).ucum if step["unit"] else None
    if ucum == asked:
        return plausible(task, step["name"], text)
    other = unit(customary(step["unit"])) if step["unit"] and customary(step["unit"]) else None
    if other is None or ucum != other.ucum:
        return {"reason": f"It is given in `{ucum or 'no unit'}`, and the step asks for `{asked or 'no unit'}`."}
    return _converted(task, step, text, other)


def _converted(task: dict, step: dict, text: str, other: Unit) -> dict[str, Any]:
    """A reading that was typed in the customary unit, held against the range in the step's own."""
    try:
        number = parse_number(text)
    except ValueError:
        return plausible(task, step["name"], text)
    si = to_si(number, other)
    own = from_si(si, unit(step["unit"]))
    read = plausible(task, step["name"], _typed(own, 12))
    return read if "reason" in read else {"si": si, "text": _typed(own, 5)}


def _typed(number: float, figures: int) -> str:
    """A number as somebody would have typed it."""
    return plain_text(number, figures, "nearest").replace("−", "-")
