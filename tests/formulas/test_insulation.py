"""Insulation whose reading climbs: charging currents put into the ratios."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.formulas.insulation import absorption_ratio, polarisation_index
from builder.formulas.mathematics import CannotTell


@given(st.floats(0.1, 10), st.floats(0.05, 20))
def test_index_follows_leak_and_absorption(leak, absorbed):
    """A steady leak with an absorption current that falls as one over time (Curie and von Schweidler): more leak, lower index."""
    def reading(minutes: float, leaking: float) -> float:
        return 1e9 / (leaking + absorbed / minutes)

    dry = polarisation_index(reading(1, leak), reading(10, leak), 1e13)
    wet = polarisation_index(reading(1, 3 * leak), reading(10, 3 * leak), 1e13)
    assert (leak + absorbed) / (leak + absorbed / 10) == pytest.approx(dry)
    assert 1 <= wet <= dry <= 10
    assert absorption_ratio(reading(0.5, leak), reading(1, leak), 1e13) <= 2


@pytest.mark.parametrize("ratio", [polarisation_index, absorption_ratio])
def test_ratio_of_very_high_readings_has_no_answer(ratio):
    """Above 5000 Mohm nothing is read from a ratio (IEEE 43)."""
    first, second = (5001e6, 9000e6) if ratio is polarisation_index else (4000e6, 5001e6)
    with pytest.raises(CannotTell, match="says nothing"):
        ratio(first, second, 5000e6)
    assert ratio(100e6, 200e6, 5000e6) == 2


def test_falling_reading_is_below_one():
    """Insulation that breaks down under test shows less after ten minutes than after one."""
    assert polarisation_index(300e6, 240e6, 5000e6) < 1
