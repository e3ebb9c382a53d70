"""Two live sides and a switch between them, against vectors and the current that would flow."""

import cmath
from math import radians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.formulas.closing import closing_difference, voltage_across_switch
from builder.formulas.mathematics import CannotTell
from builder.formulas.parallel import circulating_current


@given(st.floats(1, 2e4), st.floats(1, 2e4), st.floats(0, 180))
def test_voltage_across_the_switch_is_that_of_two_vectors(bus, incoming, degrees):
    """Subtracting one turning arrow from the other leaves the same length."""
    arrow = abs(cmath.rect(bus, 0) - cmath.rect(incoming, radians(degrees)))
    found = voltage_across_switch(bus, incoming, radians(degrees))
    assert arrow == pytest.approx(found["difference"], rel=1e-6, abs=1e-6 * max(bus, incoming))
    assert found["ratio"] == pytest.approx(found["difference"] / bus)


def test_fifteen_degrees_alone_are_a_quarter_of_the_voltage():
    """Equal heights out of step by 15 degrees already leave 26 % across the switch: an angle is no small matter."""
    assert 0.261 == pytest.approx(voltage_across_switch(400, 400, radians(15))["ratio"], abs=5e-4)


@given(st.floats(0.1, 1e4), st.floats(0, 1), st.floats(0, 1), st.floats(1e-4, 1))
def test_difference_allowed_drives_just_the_current_allowed(current, first, second, cable):
    """Read backwards through the loop the difference gives the current again."""
    difference = closing_difference(current, None, first, second, cable)["difference"]
    assert current == pytest.approx(circulating_current(difference, first, second, cable))


@pytest.mark.parametrize("missing", range(4))
def test_without_the_maker_every_resistance_is_needed(missing):
    """One unknown resistance is no resistance of nought."""
    known = [20.0, 0.04, 0.04, 0.02]
    known[missing] = None
    with pytest.raises(CannotTell, match="Neither the maker's"):
        closing_difference(known[0], None, *known[1:])
    assert {"difference": 0.5, "ruled_by": "maker"} == closing_difference(known[0], 0.5, *known[1:])
