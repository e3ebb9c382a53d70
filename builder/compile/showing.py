"""Values as a person reads them: amounts with units, names as words, formula lines with numbers in them."""

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from builder.compile.signature import SYMBOL
from builder.formulas import number_text as writing
from builder.quantity import from_si, units
from builder.words import say

# Figures of a number that is shown as it was given.
AS_GIVEN = 6
# The same values come back on sheet after sheet of a job.
number_text = lru_cache(maxsize=50_000)(writing.number_text)
plain_text = lru_cache(maxsize=50_000)(writing.plain_text)
_SYMBOL = re.compile(SYMBOL)
_RAISED = re.compile(r"\s*(\*\*|\^|²|³)")


@lru_cache(maxsize=10_000)
def words(name: str) -> str:
    """`length-in-hand` or `length_in_hand` as `Length in hand`."""
    text = name.replace("_", " ").replace("-", " ")
    return text[:1].upper() + text[1:]


def one_of(names: list[str]) -> str:
    """`single, cradled or triangular`."""
    shown = [word_text(name) for name in names]
    return shown[0] if len(shown) == 1 else say("amount.either", others=", ".join(shown[:-1]), last=shown[-1])


def word_text(value: str | bool) -> str:
    """A word of a job, a table or a formula as text."""
    if isinstance(value, bool):
        return say("amount.is_so" if value else "amount.is_not")
    return value.replace("_", " ").replace("-", " ")


def with_unit(text: str, symbol: str) -> str:
    """A number's text with its unit."""
    shown = units()[symbol].shown
    return f"{text}{shown}" if shown == "°" else f"{text} {shown}".rstrip()


def amount(si: float, symbol: str, figures: int = AS_GIVEN, side: str = "nearest") -> str:
    """A number in SI as text with its unit, without zeros that only fill the figures."""
    return with_unit(plain_text(from_si(si, units()[symbol]), figures, side), symbol)


def output_amount(si: float, part: Mapping[str, Any]) -> str:
    """An output as its formula says that it is shown, with its unit."""
    return with_unit(number_text(from_si(si, units()[part["unit"]]), part["figures"], part["side"]), part["unit"])


def range_text(part: Mapping[str, Any]) -> str:
    """`0 to 5000 m`."""
    low, high = (plain_text(part[end], AS_GIVEN, "nearest") for end in ("low", "high"))
    return say("amount.range", low=low, high=with_unit(high, part["unit"]))


# The rule that a formula's own line stands for, where an output says by what the result was ruled.
_BY_ITS_LINE = ("computed", "barrel", "table")


def filled_lines(signature: Mapping[str, Any], texts: Mapping[str, str], ruled_by: str | None = None) -> list[str]:
    """
    The formula's lines with numbers in place of symbols, left of the equals sign excepted.

    texts     symbol → amount; a line that names something without an amount is left out
    ruled_by  what set the result; a line that did not is left out
    """
    filled = []
    rules = next((part["one_of"] for part in signature.get("gives", []) if part["name"] == "ruled_by"), [])
    by_line = next((rule for rule in _BY_ITS_LINE if rule in rules), ruled_by)
    for line in signature["lines"]:
        left, equals, right = line.partition(" = ")
        if by_line != ruled_by and left == signature["gives"][0].get("symbol"):
            continue
        if not equals or any(symbol not in texts for symbol in signature["symbols"] if symbol in _named_in(right)):
            continue
        filled.append(left + equals + _SYMBOL.sub(lambda match, line=right: _put(match, line, texts), right))
    return filled


@lru_cache(maxsize=1_000)
def _named_in(line: str) -> frozenset[str]:
    return frozenset(_SYMBOL.findall(line))


def _put(match: re.Match, line: str, texts: Mapping[str, str]) -> str:
    text = texts.get(match[0])
    if text is None:
        return match[0]
    alone = not text.startswith("−") and not (" " in text and _RAISED.match(line, match.end()))
    return text if alone else f"({text})"
