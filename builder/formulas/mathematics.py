"""
The only arithmetic a formula may call, and its way of giving no answer.

Every name here exists on both sides: Python runs it from `math`, the phone from its own
mathematics. A formula that needs something else needs it on both sides first.
"""

from math import (
    acos,
    asin,
    asinh,
    atan,
    ceil,
    cos,
    cosh,
    exp,
    floor,
    log,
    pi,
    sin,
    sinh,
    sqrt,
    tan,
)

__all__ = [
    "CannotTell",
    "acos",
    "asin",
    "asinh",
    "atan",
    "cannot_tell",
    "ceil",
    "cos",
    "cosh",
    "exp",
    "floor",
    "log",
    "pi",
    "sin",
    "sinh",
    "sqrt",
    "tan",
]


class CannotTell(Exception):
    """A formula has no answer for these inputs; the text says why, to the crew."""


def cannot_tell(reason):
    """Stop without a number. The reason is a whole sentence for the person at the trench."""
    raise CannotTell(reason)
