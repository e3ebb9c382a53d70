"""Distances between the rows of a table, and testers by their marking."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.formulas.approach import approach_distance, instrument_suits
from builder.formulas.mathematics import CannotTell


@given(st.floats(0, 1), st.floats(0, 1), st.floats(0.1, 30), st.floats(0.5, 20), st.floats(0, 2), st.floats(0, 2))
def test_distance_never_leaves_its_two_rows(part, further, low, step, near, far):
    """Between two rows the distance lies between theirs, and a higher voltage never allows less where the table rises."""
    near, far = sorted((near, far))
    part, further = sorted((part, further))
    here, there = (approach_distance(min(low + step * at, low + step), low, near, low + step, far) for at in (part, further))
    assert near - 1e-9 <= here <= there + 1e-9 <= far + 2e-9


@pytest.mark.parametrize(("voltage", "sentence"), [(5e3, "does not lie between"), (16e3, "does not lie between")])
def test_voltage_outside_its_rows_has_no_answer(voltage, sentence):
    """A line is never drawn beyond the table."""
    with pytest.raises(CannotTell, match=sentence):
        approach_distance(voltage, 10e3, 1.15, 15e3, 1.16)
    with pytest.raises(CannotTell, match="wrong order"):
        approach_distance(10e3, 15e3, 1.16, 10e3, 1.15)


@given(st.floats(10, 1500), st.integers(2, 4), st.floats(10, 1500), st.integers(2, 4))
def test_instrument_suits_only_where_both_of_its_figures_do(rated, marked, circuit, place):
    """Neither a high category nor a high voltage makes up for the other."""
    assert (rated >= circuit and marked >= place) == (instrument_suits(rated, marked, circuit, place) == "suits")
