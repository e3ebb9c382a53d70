"""Expressions that can't be read because they are written as in other places: what to write instead."""

import re

from builder.compile.refusal import Refusal
from builder.quantity import unit_meant

_QUOTED = re.compile(r"\"[^\"]*\"|'[^']*'")
_SIGNS = {"=>": ">=", "=<": "<=", "≥": ">=", "≤": "<=", "≠": "!=", "<>": "!=", "&&": "and", "||": "or"}
_SIGN = re.compile("|".join(re.escape(sign) for sign in _SIGNS))
_HYPHENS = re.compile(r"(?<![\w.-])[A-Za-z][A-Za-z0-9]*(?:-[A-Za-z0-9]+)+(?![\w.-])")
_MEASURE = re.compile(r"(?<![\w.\"'])(\d+(?:[.,]\d+)?)\s*([^\W\d_][^\s()<>=,]*|[%°][^\s()<>=,]*)")
_EQUAL = re.compile(r"(?<![=<>!:])=(?!=)")
_INSIDE_CALL = re.compile(r"\w\s*\([^()]*$")
_WORDS = ("and", "or", "if", "else", "in", "not", "is")


def mistyped(text: str) -> Refusal | None:
    """The first habit from elsewhere that makes a text unreadable, with what is written here instead."""
    # What stands in quotes is a word and no sign; its place is kept.
    bare = _QUOTED.sub(lambda quoted: "\"" * len(quoted[0]), text)
    if found := _SIGN.search(bare):
        return _refusal(bare, found, f"`{found[0]}` is not part of an expression here", f"write `{_SIGNS[found[0]]}`")
    if found := _HYPHENS.search(bare):
        name = found[0].replace("-", "_")
        return _refusal(bare, found, f"`{found[0]}` is read as a subtraction", f"in an expression a name is written `{name}`")
    for found in _MEASURE.finditer(bare):
        if found[2] not in _WORDS and (symbol := unit_meant(found[2])):
            return _refusal(bare, found, "a number with its unit stands in quotes here", f"write `quantity(\"{found[1]} {symbol}\")`")
    for found in _EQUAL.finditer(bare):
        if not _INSIDE_CALL.search(bare[: found.start()]):
            return _refusal(bare, found, "`=` is not part of an expression here", "write `==`")
    return None


def hyphened(segment: str) -> str | None:
    """`length_in_hand` for `length-in-hand`; None where a text is no name with hyphens."""
    return segment.replace("-", "_") if _HYPHENS.fullmatch(segment) else None


def _refusal(text: str, found: re.Match, said: str, advice: str) -> Refusal:
    before = text[: found.start()]
    return Refusal(before.count("\n") + 1, found.start() - before.rfind("\n"), "EXPR-01", said, advice, len(found[0]))
