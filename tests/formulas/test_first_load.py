"""A warm joint at first load, against the heat of a resistance."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.formulas.first_load import allowed_temperature, rise_at_full_load


@given(st.floats(0.5, 50), st.floats(1, 1000), st.floats(1, 1000))
def test_square_of_the_current_is_the_heat_of_a_resistance(rise, load, full):
    """With the exponent 2 the rise goes as the watts do; overload takes nothing off."""
    watts = max((full / load) ** 2, 1)
    assert rise * watts == pytest.approx(rise_at_full_load(rise, load, full, 2))


@given(st.floats(0, 50), st.floats(1, 1000), st.floats(1, 1000), st.floats(1, 2.5), st.floats(0, 0.5))
def test_higher_exponent_is_the_cautious_end_both_ways(rise, load, full, exponent, more):
    """It expects no less rise at full load, and allows no more temperature at part load."""
    assert rise_at_full_load(rise, load, full, exponent + more) >= rise_at_full_load(rise, load, full, exponent) * (1 - 1e-12)
    assert allowed_temperature(rise, load, full, exponent + more, 293) <= allowed_temperature(rise, load, full, exponent, 293) + 1e-9


@given(st.floats(1, 100), st.floats(1, 1000), st.floats(1, 1000), st.floats(1, 2.5))
def test_part_at_its_limit_comes_to_its_rated_rise(rated, load, full, exponent):
    """What is allowed at part load grows to the rated rise at full load and no further."""
    allowed = allowed_temperature(rated, min(load, full), full, exponent, 0)
    assert rated == pytest.approx(rise_at_full_load(allowed, min(load, full), full, exponent))
