"""Faults, against heat balances and circuits."""

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from builder.formulas.fault import (
    dc_fault_current,
    earth_conductor_size,
    loop_impedance_limit,
    transformer_fault_current,
)

# IEC 60364-5-54 annex A, from memory: volume heat capacity in J per K and mm3, beta in degrees, resistivity in ohm mm at 20.
METALS = {"copper": (0.00345, 234.5, 17.241e-6), "aluminium": (0.0025, 228.0, 28.264e-6)}


@pytest.mark.parametrize(("metal", "start", "end", "density"), [("copper", 70, 160, 115), ("copper", 90, 250, 143), ("aluminium", 90, 250, 94),
                                                                ("copper", 30, 250, 176)])
def test_conductor_of_the_size_found_ends_at_its_limit(metal, start, end, density):
    """Heated by the fault, all heat kept, the conductor reaches its printed end temperature (heat balance, integrated)."""
    capacity, beta, resistivity = METALS[metal]
    area = earth_conductor_size(10000, 0.4, density * 1e6, 1) * 1e6

    def warming(_, kelvins):
        return (10000 / area) ** 2 * resistivity * (beta + kelvins) / (beta + 20) / capacity

    reached = solve_ivp(warming, (0, 0.4), [start], rtol=1e-9, atol=1e-9).y[0][-1]
    assert end == pytest.approx(reached, abs=4)


@given(st.floats(100, 1e5), st.floats(0.02, 5), st.floats(20, 200))
def test_longer_or_stronger_fault_never_wants_less_earth(current, seconds, density):
    """Four times the time is twice the size; more current is more size."""
    here = earth_conductor_size(current, seconds / 4, density * 1e6, 1)
    assert 2 * here == pytest.approx(earth_conductor_size(current, seconds, density * 1e6, 1))
    assert here <= earth_conductor_size(current * 1.1, seconds / 4, density * 1e6, 1)


@given(st.floats(100, 400), st.floats(0.8, 1), st.floats(1, 400), st.floats(3, 25), st.floats(0.5, 1))
def test_fault_at_the_limit_trips_at_once(volts, lowest, rated, multiple, site):
    """Even at the lowest voltage the loop at its limit lets the tripping current through, and the cold reading is no higher."""
    found = loop_impedance_limit(volts, lowest, rated, multiple, site)
    assert volts * lowest / found["limit"] >= rated * multiple * (1 - 1e-9)
    assert found["reading_limit"] <= found["limit"]


# Copper at 20 and at 70 degrees: factor 0.833, so a cold reading has to leave a fifth.
def test_cold_reading_leaves_room_for_a_warm_conductor():
    """A loop that reads 0.8 of the limit while cold stays within it at 70 degrees (IEC 60228 factor)."""
    found = loop_impedance_limit(230, 0.95, 32, 5, 0.8)
    assert found["reading_limit"] / 0.833 <= found["limit"]


@pytest.mark.parametrize(("rating", "volts", "impedance"), [(1e6, 400, 0.06), (500e3, 410, 0.04), (2.5e6, 690, 0.06)])
def test_fault_current_is_that_of_the_short_circuited_star(rating, volts, impedance):
    """Phase voltage over the transformer's own impedance per phase gives the same current (circuit)."""
    per_phase = impedance * volts**2 / rating
    assert volts / sqrt(3) / per_phase == pytest.approx(transformer_fault_current(rating, volts, impedance))


@given(st.floats(1e4, 1e7), st.floats(100, 1000), st.floats(0.02, 0.2))
def test_softer_transformer_never_feeds_more(rating, volts, impedance):
    """More impedance is less fault current, so the lowest impedance is the safe guess for what must break it."""
    assert transformer_fault_current(rating, volts, impedance * 1.1) < transformer_fault_current(rating, volts, impedance)


def test_root_of_three_is_not_rounded():
    """1000 kVA at 480 V is 1202.81 A, where the print with 1.732 has 1203."""
    assert 1202.81 == pytest.approx(transformer_fault_current(1e6, 480, 1), abs=0.01)


@given(st.floats(10, 1500), st.floats(0.001, 2), st.integers(1, 20), st.floats(0, 2), st.floats(0, 1))
def test_longer_cable_or_tired_cells_never_make_a_fault_easier_to_clear(voltage, string, strings, cable, more):
    """Every ohm and every string lost takes current from the fuse."""
    fault = dc_fault_current(voltage, string, strings, cable, None)["current"]
    assert dc_fault_current(voltage, string, strings, cable + more, None)["current"] <= fault
    assert dc_fault_current(voltage, string + more, strings, cable, None)["current"] <= fault
    assert dc_fault_current(voltage, string, strings + 1, cable, None)["current"] >= fault
    assert voltage == pytest.approx(fault * (string / strings + cable))


def test_fault_whose_fuse_is_not_known_is_not_called_cleared():
    """Without the maker's curve the current is a number and no verdict."""
    assert ["not_known", "clears", "does_not_clear"] == [dc_fault_current(800, 0.3, 1, 0.02, trip)["verdict"] for trip in (None, 2500, 2501)]
