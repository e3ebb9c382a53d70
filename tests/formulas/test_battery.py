"""A battery by its label."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.formulas.battery import battery_energy, battery_run_time, current_at_power, discharge_rate
from builder.formulas.mathematics import CannotTell

WATT_HOUR = 3600.0


def test_practice_figures_of_a_big_string_agree_with_one_another():
    """312 cells of 3.2 V are 998.4 V, 140 A of it are 139.8 kW, and 250 kWh last 1.8 h at that (practice)."""
    assert 998.4 == pytest.approx(battery_energy(312, 3.2, 250 * WATT_HOUR, 1)["voltage"])
    assert 139.8e3 == pytest.approx(140 * 998.4, rel=5e-4)
    assert 140 == pytest.approx(current_at_power(139776, 998.4))
    assert 1.8 == pytest.approx(battery_run_time(250e3 * WATT_HOUR, 1, 139776, 1) / 3600, rel=0.01)


# C-rate by its definition: a cell of 5 Ah at 2 C gives 10 A, for half an hour.
def test_two_c_empties_a_cell_in_half_an_hour():
    """Energy at the power of 2 C lasts half an hour, whatever the cell."""
    energy = battery_energy(1, 3.7, 5 * WATT_HOUR, 1)["energy"]
    assert 1800 == pytest.approx(battery_run_time(energy, 1, 10 * 3.7, 1))


@given(st.integers(1, 400), st.floats(1, 4), st.floats(1, 500), st.integers(1, 10))
def test_cells_rearranged_hold_the_same_energy(cells, volts, hours, strings):
    """Cells put in parallel instead of in series change voltage and not energy."""
    series = battery_energy(cells * strings, volts, hours * WATT_HOUR, 1)
    parallel = battery_energy(cells, volts, hours * WATT_HOUR, strings)
    assert series["energy"] == pytest.approx(parallel["energy"])
    assert series["voltage"] == pytest.approx(parallel["voltage"] * strings)


@given(st.floats(1e3, 1e6), st.floats(100, 1500), st.floats(0.5, 1))
def test_emptier_battery_draws_more_current(power, volts, sagged):
    """At constant power a lower voltage never means less current."""
    assert current_at_power(power, volts * sagged) >= current_at_power(power, volts)


@given(st.floats(1e6, 1e10), st.floats(0.1, 1), st.floats(1e3, 1e6), st.floats(0.5, 1))
def test_time_taken_at_that_power_is_what_was_let_out(energy, usable, power, efficiency):
    """Load times time, over the losses, is the energy that the maker lets out."""
    assert energy * usable == pytest.approx(battery_run_time(energy, usable, power, efficiency) * power / efficiency)


def test_half_a_cell_has_no_answer():
    """Cells and strings come whole."""
    with pytest.raises(CannotTell, match="whole numbers"):
        battery_energy(12.5, 2, 100, 1)


@given(st.floats(0.1, 1e4), st.floats(0.1, 1e4), st.floats(0.5, 20))
def test_rate_of_one_empties_it_in_the_rated_time(current, hours, rated):
    """Rate times time is the rated time, whatever is drawn."""
    found = discharge_rate(current, hours * WATT_HOUR, rated * 3600)
    assert rated * 3600 == pytest.approx(found["rate"] * found["time"])
    assert 1 == pytest.approx(discharge_rate(hours / rated, hours * WATT_HOUR, rated * 3600)["rate"])
