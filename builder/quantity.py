"""Quantities: a number with a unit, as a person writes it and as SI."""

import difflib
import math
import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import NamedTuple

import yaml

from builder.places import SHARED

# Blanks that a keyboard or a copied text brings along; both languages strip exactly these.
BLANKS = " \t\r\n\u00a0\u202f"
_NUMBER = re.compile(r"[+-]?[0-9]+([.,][0-9]+)?")
# A comma before three digits is a thousand to half the world and a decimal to the other half.
_TWO_WAYS = re.compile(r"[+-]?[1-9][0-9]{0,2},[0-9]{3}")
_QUANTITY = re.compile(r"([+-]?[0-9]+(?:[.,][0-9]+)?)[ \t\u00a0\u202f]*(\S.*)?")
_BASES = ("m", "kg", "s", "A", "K")
_RAISED = str.maketrans("0123456789-./", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻·ᐟ")


class Dimension(NamedTuple):
    """Exponents of the SI base units, and a kind where equal exponents still must not be mixed."""

    m: Fraction = Fraction(0)
    kg: Fraction = Fraction(0)
    s: Fraction = Fraction(0)
    A: Fraction = Fraction(0)
    K: Fraction = Fraction(0)
    kind: str = ""

    def __str__(self) -> str:
        """The name of the dimension, or its base units where it has no name."""
        if named := _names().get(self):
            return named
        parts = []
        for base, exponent in zip(_BASES, self, strict=False):
            if exponent == 1:
                parts.append(base)
            elif exponent:
                parts.append(base + str(exponent).translate(_RAISED))
        return "·".join(parts)

    @property
    def exponents(self) -> tuple[Fraction, ...]:
        """The five exponents without the kind."""
        return self[:5]

    def times(self, other: "Dimension", sign: int = 1) -> "Dimension":
        """The dimension of a product, or with sign −1 of a quotient."""
        exponents = [a + sign * b for a, b in zip(self.exponents, other.exponents, strict=True)]
        # Half an angle is an angle; an angle over an angle, or a radius times one, is not.
        kind = self.kind if other == NUMBER else other.kind if self == NUMBER and sign == 1 else ""
        return Dimension(*exponents, kind)

    def to_the(self, power: Fraction) -> "Dimension":
        """The dimension of a power."""
        return Dimension(*(exponent * power for exponent in self.exponents), self.kind if power == 1 else "")


NUMBER = Dimension()


@dataclass(frozen=True)
class Unit:
    """One unit: a number in it, times factor, plus offset, is the number in SI."""

    symbol: str
    ucum: str
    dimension: Dimension
    factor: float
    offset: float
    shown: str


@dataclass(frozen=True)
class Quantity:
    """A number in SI, the unit it was written in, and the text as written."""

    si: float
    unit: Unit
    text: str


class UnknownUnit(ValueError):
    """A unit that is not in the list; carries the nearest one that is, if any is near."""

    def __init__(self, symbol: str, nearest: str | None):
        self.symbol = symbol
        self.nearest = nearest
        hint = f"; did you mean `{nearest}`?" if nearest else ""
        super().__init__(f"`{symbol}` is not a unit known here{hint}")


@cache
def _document() -> dict:
    # The same loader, in C where it is there: every command passes here.
    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    return yaml.load((SHARED / "units.yaml").read_text(encoding="utf-8"), Loader=loader)


@cache
def dimensions() -> dict[str, Dimension]:
    """Every named dimension by its name."""
    apart = {"angle", "temperature", "temperature difference", "energy per area"}
    return {
        name: Dimension(*(Fraction(exponents.get(base, 0)) for base in _BASES), name if name in apart else "")
        for name, exponents in _document()["dimensions"].items()
    }


@cache
def _names() -> dict[Dimension, str]:
    return {dimension: name for name, dimension in dimensions().items()}


@cache
def units() -> dict[str, Unit]:
    """Every unit by its symbol."""
    return {
        symbol: Unit(
            symbol=symbol,
            ucum=given["ucum"],
            dimension=dimensions()[given["dimension"]],
            factor=float(given["factor"]),
            offset=float(given.get("offset", 0)),
            shown=given.get("shown", symbol),
        )
        for symbol, given in _document()["units"].items()
    }


def units_data() -> dict[str, dict]:
    """Every unit as the phone carries it."""
    return {
        one.symbol: {"ucum": one.ucum, "factor": one.factor, "offset": one.offset, "shown": one.shown,
                     "dimension": str(one.dimension), "customary": customary(one.symbol)}
        for one in units().values()
    }


def customary(symbol: str) -> str | None:
    """The unit that a crew which works in feet and pounds uses instead; None where it uses the same."""
    return _document()["customary"].get(symbol)


def unit(symbol: str) -> Unit:
    """The unit of a symbol; UnknownUnit, with the nearest one, where there is none."""
    if found := units().get(symbol):
        return found
    near = unit_meant(symbol)
    near = near or next(iter(difflib.get_close_matches(symbol, units(), n=1, cutoff=0.6)), None)
    raise UnknownUnit(symbol, near)


def unit_meant(written: str) -> str | None:
    """The symbol of a unit written as elsewhere, `mm²` or `Nm`, or in other letters; None where it is none of ours."""
    if written in units():
        return written
    if known := _document()["also"].get(written):
        return known
    plain = written.replace("²", "2").replace("³", "3").replace("·", ".").replace("µ", "u").replace("μ", "u")
    for from_, to in (("Ω", "ohm"), ("Ω", "ohm"), ("°C", "degC")):
        plain = plain.replace(from_, to)
    if plain in units():
        return plain
    # Letters in another case may be another unit (mV, MV): only where there is one.
    near = [known for known in units() if known.lower() == plain.lower()]
    return near[0] if near else None


def parse_number(text: str) -> float:
    """
    The number that a person typed: digits, with a point or a comma before the decimals.

    No exponent and no thousands; `1,000` can be read two ways and is refused. Raises ValueError.
    """
    stripped = text.strip(BLANKS)
    if reads_two_ways(stripped):
        raise ValueError(f"`{stripped}` can be read two ways: write it without the comma, or with a point")
    if not _NUMBER.fullmatch(stripped):
        raise ValueError(f"`{stripped}` is not a number as typed on site: digits, with a point or comma for decimals")
    number = float(stripped.replace(",", "."))
    if not math.isfinite(number):
        raise ValueError("the number is too long")
    return number


def reads_two_ways(text: str) -> bool:
    """Whether a typed number means one thing to half the world and a thousand times that to the other."""
    return bool(_TWO_WAYS.fullmatch(text.strip(BLANKS)))


def parse_quantity(text: str) -> Quantity:
    """`46 m` as a Quantity; a bare number has the unit `1`. Raises ValueError or UnknownUnit."""
    stripped = text.strip(BLANKS)
    parts = _QUANTITY.fullmatch(stripped)
    if not parts:
        raise ValueError(f"`{stripped}` is not a number with a unit")
    if slip := _as_elsewhere(parts[1], parts[2] or ""):
        raise ValueError(f"`{stripped}` is not a number with a unit here: {slip}")
    found = unit(parts[2] or "1")
    return Quantity(to_si(parse_number(parts[1]), found), found, stripped)


def _as_elsewhere(number: str, rest: str) -> str:
    """Why a number goes on where its unit should begin, if it does."""
    if re.match(r"[0-9]{3}([ \u00a0\u202f.,]|$)", rest):
        return f"write `{number}{rest[:3]}` without a blank between the figures"
    if re.match(r"[eE][-+]?[0-9]", rest):
        return "write the number out, without an exponent"
    if re.match(r"[/–-] ?[0-9]", rest):
        return "give one number"
    return ""


def parse_range(text: str) -> tuple[float, float]:
    """`1 to 2000` as its two numbers, the lower first. Raises ValueError."""
    parts = text.split(" to ")
    if len(parts) != 2:
        raise ValueError(f"`{text}` is not a range such as `1 to 2000`")
    low, high = parse_number(parts[0]), parse_number(parts[1])
    if low >= high:
        raise ValueError(f"the range `{text}` must rise")
    return low, high


def to_si(number: float, of: Unit) -> float:
    """A number in a unit, as SI."""
    return number * of.factor + of.offset


def from_si(si: float, to: Unit) -> float:
    """An SI number, in a unit."""
    return (si - to.offset) / to.factor
