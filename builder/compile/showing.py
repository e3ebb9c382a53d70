"""Values as a person reads them: amounts with units, names as words, formula lines with numbers in them."""

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from builder.compile.signature import SYMBOL
from builder.formulas.number_text import number_text, plain_text
from builder.quantity import from_si, units

# Figures of a number that is shown as it was given.
AS_GIVEN = 6
_SYMBOL = re.compile(SYMBOL)
_RAISED = re.compile(r"\s*(\*\*|\^|²|³)")


@lru_cache(maxsize=10_000)
def words(name: str) -> str:
    """`length-in-hand` or `length_in_hand` as `Length in hand`."""
    text = name.replace("_", " ").replace("-", " ")
    return text[:1].upper() + text[1:]


def one_of(names: list[str]) -> str:
    """`single, cradled or triangular`."""
    shown = [name.replace("_", " ").replace("-", " ") for name in names]
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} or {shown[-1]}"


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
    return f"{low} to {with_unit(high, part['unit'])}"


def filled_lines(signature: Mapping[str, Any], texts: Mapping[str, str]) -> list[str]:
    """
    The formula's lines with numbers in place of symbols, left of the equals sign excepted.

    texts: symbol → amount. A line that names something without an amount is left out.
    """
    filled = []
    for line in signature["lines"]:
        left, equals, right = line.partition(" = ")
        if not equals or any(symbol not in texts for symbol in signature["symbols"] if _stands_in(symbol, right)):
            continue
        filled.append(left + equals + _SYMBOL.sub(lambda match, line=right: _put(match, line, texts), right))
    return filled


def _stands_in(symbol: str, line: str) -> bool:
    return any(match[0] == symbol for match in _SYMBOL.finditer(line))


def _put(match: re.Match, line: str, texts: Mapping[str, str]) -> str:
    text = texts.get(match[0])
    if text is None:
        return match[0]
    alone = not text.startswith("−") and not (" " in text and _RAISED.match(line, match.end()))
    return text if alone else f"({text})"
