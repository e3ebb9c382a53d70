"""Units: every factor and dimension against an independent list, and what a person may type."""

import math

import pint
import pytest

from builder.quantity import (
    NUMBER,
    UnknownUnit,
    dimensions,
    from_si,
    parse_number,
    parse_quantity,
    parse_range,
    to_si,
    unit,
    units,
)

PINT = pint.UnitRegistry()
# Our symbols as pint writes them, where the two differ.
IN_PINT = {
    "1": "", "%": "percent", "m2": "m**2", "mm2": "mm**2", "m3": "m**3", "ft2": "ft**2", "yd3": "yd**3", "kg/m3": "kg/m**3", "t/m3": "t/m**3", "N/mm2": "N/mm**2",
    "N.m": "N*m", "kcmil": "kilocircular_mil", "lbf/kcmil": "lbf/kilocircular_mil", "lbf.in": "lbf*inch", "lbf.ft": "lbf*ft",
    "Mohm": "megaohm", "kohm": "kiloohm", "Gohm": "gigaohm", "mohm": "milliohm", "uohm": "microohm", "ohm/km": "ohm/km",
    "mohm/m": "milliohm/m", "K": "delta_degC", "Ah": "A*h", "l": "liter", "in": "inch",
    "cal/cm2": "cal/cm**2", "J/cm2": "J/cm**2", "A/mm2": "A/mm**2", "ohm.mm2/m": "ohm*mm**2/m", "%/m": "percent/m",
}
BASES = {"[length]": 0, "[mass]": 1, "[time]": 2, "[current]": 3, "[temperature]": 4}


@pytest.mark.parametrize("symbol", units())
def test_unit_is_worth_what_an_independent_list_says(symbol: str) -> None:
    """Factor and offset agree with pint to the last few digits."""
    named = IN_PINT.get(symbol, symbol)
    for number in (0.0, 1.0, 37.5):
        expected = PINT.Quantity(number, named).to_base_units().magnitude
        assert math.isclose(expected, to_si(number, unit(symbol)), rel_tol=1e-14, abs_tol=1e-14)


@pytest.mark.parametrize("symbol", units())
def test_unit_has_the_dimension_that_an_independent_list_says(symbol: str) -> None:
    """Exponents of the base units agree with pint."""
    named = "delta_degC" if symbol == "degC" else IN_PINT.get(symbol, symbol)
    found = [0] * 5
    for base, exponent in PINT.Quantity(1, named).dimensionality.items():
        found[BASES[base]] = exponent
    assert found == list(unit(symbol).dimension.exponents)


def test_dimensions_have_names_of_their_own() -> None:
    """No two names stand for one dimension; kinds keep angles, temperatures and heat on an area apart."""
    assert len(dimensions()) == len(set(dimensions().values()))
    assert unit("rad").dimension != NUMBER
    assert unit("degC").dimension != unit("K").dimension
    assert unit("J/cm2").dimension != unit("N/m").dimension
    assert {"rad", "deg"} == {symbol for symbol, one in units().items() if one.dimension == dimensions()["angle"]}


@pytest.mark.parametrize(("left", "sign", "right", "name"), [
    ("N", 1, "m", "torque or energy"), ("V", -1, "A", "resistance"), ("V", 1, "A", "power"), ("N", -1, "m", "force per length"),
    ("N", -1, "m2", "pressure"), ("A", 1, "s", "charge"), ("ohm", 1, "F", "time"), ("deg", -1, "1", "angle"), ("deg", -1, "rad", "number"),
    ("1", 1, "deg", "angle"), ("1", -1, "deg", "number"), ("m", 1, "rad", "length"), ("N", 1, "s", "m·kg·s⁻¹"),
])
def test_dimensions_multiply_and_divide(left: str, sign: int, right: str, name: str) -> None:
    """Products and quotients have the dimension that the trade expects."""
    assert name == str(unit(left).dimension.times(unit(right).dimension, sign))


@pytest.mark.parametrize("symbol", units())
def test_number_goes_to_si_and_back(symbol: str) -> None:
    """A round trip changes nothing that can be seen."""
    for number in (0.0, 1.0, -40.0, 123.456):
        assert math.isclose(number, from_si(to_si(number, unit(symbol)), unit(symbol)), rel_tol=1e-12, abs_tol=1e-11)


@pytest.mark.parametrize(("text", "si", "symbol"), [
    ("46 m", 46.0, "m"), ("46m", 46.0, "m"), (" 46,5 m ", 46.5, "m"), ("-40 degC", 233.14999999999998, "degC"), ("5", 5.0, "1"),
    ("5 %", 0.05, "%"), ("+2.5 mm2", 2.5e-6, "mm2"), ("120 lbf.in", 13.5581794833140, "N.m"), ("500 kcmil", 253.353739548749e-6, "m2"),
])
def test_quantity_is_read_as_a_person_writes_it(text: str, si: float, symbol: str) -> None:
    """A number with a point or comma, and a unit with or without a blank before it."""
    found = parse_quantity(text)
    assert math.isclose(si, found.si, rel_tol=1e-12)
    assert unit(symbol).dimension == found.unit.dimension
    assert text.strip() == found.text


@pytest.mark.parametrize("text", ["", "m", "four m", "1e3 m", "1.000,5 m", "NaN m", "inf m", "1 2 m", "--1 m", "٤٢ m", "m 4"])
def test_quantity_that_is_none_is_refused(text: str) -> None:
    """No exponent, no thousands, no words, no foreign digits: a wrong reading of a number is worse than none."""
    with pytest.raises(ValueError, match=r"is not a (number|unit)"):
        parse_quantity(text)


@pytest.mark.parametrize(("typed", "nearest"), [("Kn", "kN"), ("mtr", "m"), ("ohms", "ohm"), ("kOhm", "kohm"), ("degc", "degC"),
                                                ("N.mm", "N.m"), ("MM", "mm"), ("kg/m²", "kg/m"), ("furlong", None),
                                                ("Nm", "N.m"), ("mm²", "mm2"), ("sqmm", "mm2"), ("metre", "m"), ("°C", "degC"),
                                                ("Ω", "ohm"), ("µF", "uF"), ("N·m", "N.m")])
def test_unknown_unit_offers_the_nearest(typed: str, nearest: str | None) -> None:
    """A slip of the keyboard gets a suggestion; a strange unit gets none."""
    with pytest.raises(UnknownUnit) as unknown:
        unit(typed)
    assert (typed, nearest) == (unknown.value.symbol, unknown.value.nearest)


@pytest.mark.parametrize(("text", "said"), [
    ("1 000 V", "write `1000` without a blank between the figures"),
    ("3e1 m", "write the number out, without an exponent"),
    ("230/400 V", "give one number"),
])
def test_number_written_as_elsewhere_is_told_how_it_is_written_here(text: str, said: str) -> None:
    """A blank for thousands, an exponent and two voltages in one are no units."""
    with pytest.raises(ValueError, match=f"is not a number with a unit here: {said}$"):
        parse_quantity(text)


def test_range_is_read_and_must_rise() -> None:
    """`1 to 2000` is two numbers."""
    assert (1.0, 2000.0) == parse_range("1 to 2000")
    assert (-40.0, 2.5) == parse_range("-40 to 2,5")
    for text in ("1", "1 - 2", "2 to 1", "1 to 1", "1 to x", "1 to 2 to 3"):
        with pytest.raises(ValueError, match=r"range|number"):
            parse_range(text)


def test_number_too_long_to_hold_is_refused() -> None:
    """Four hundred digits are no reading."""
    with pytest.raises(ValueError, match="too long"):
        parse_number("9" * 400)
