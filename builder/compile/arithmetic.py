"""Arithmetic that expressions and formulas share, and the ways of having no answer."""

import math

from builder.formulas.mathematics import CannotTell

NO_ANSWER = "These numbers have no answer in this formula."
# Two numbers this close are one: no instrument tells them apart, and a limit of 12.5 mm that came
# out of a sum is met by a reading of 12.5 mm.
ALIKE = 1e-9
# What Python raises where a number has no answer: division by zero, overflow, a root of less than nothing.
NO_NUMBER = (ArithmeticError, ValueError, LookupError)


class Missing(CannotTell):
    """A value is not there: the job file or a table gives none."""


class NotEntered(Missing):
    """A reading is not entered yet."""


def alike(a: object, b: object) -> bool:
    """Equal; for numbers, as near as makes no difference."""
    if isinstance(a, bool | str) or isinstance(b, bool | str):
        return type(a) is type(b) and a == b
    if not (math.isfinite(a) and math.isfinite(b)):
        raise CannotTell(NO_ANSWER)
    return abs(a - b) <= ALIKE * max(abs(a), abs(b))


def at_least(a: float, b: float) -> bool:
    """a ≥ b."""
    return alike(a, b) or a > b


def at_most(a: float, b: float) -> bool:
    """a ≤ b."""
    return alike(a, b) or a < b


def above(a: float, b: float) -> bool:
    """a > b, and not by noise alone."""
    return not alike(a, b) and a > b


def below(a: float, b: float) -> bool:
    """a < b, and not by noise alone."""
    return not alike(a, b) and a < b
