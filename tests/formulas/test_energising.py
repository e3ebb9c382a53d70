"""Insulation, currents and voltage drop."""

import cmath
from math import acos, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.formulas.energising import (
    conductor_resistance,
    continuity_expected,
    insulation_minimum,
    voltage_drop_dc,
    voltage_drop_three_phase,
)


# K = 10^(0.0301 t - 1.2041), correction of windings to 40 degrees, as quoted in trade forums.
@pytest.mark.parametrize("degrees", [10, 25, 40, 55, 70])
def test_insulation_rule_is_the_tenfold_form_of_doubling(degrees):
    """The printed power of ten and doubling for 10 degrees are one rule."""
    factor = 10 ** (0.0301 * degrees - 1.2041)
    assert 1 / factor == pytest.approx(insulation_minimum(1, 313.15, degrees + 273.15, 10), rel=0.002)


# DATSAN's table for oil transformers, factors to 20 degrees.
@pytest.mark.parametrize(("degrees", "factor"), [(0, 0.25), (10, 0.5), (20, 1.0), (30, 1.98), (40, 3.95), (50, 7.85), (60, 15.85)])
def test_oil_table_follows_the_rule_at_whole_tens(degrees, factor):
    """The printed oil factors are within 2 % of doubling for 10 degrees."""
    assert factor == pytest.approx(insulation_minimum(1, degrees + 273.15, 293.15, 10), rel=0.02)


@given(st.floats(250, 380), st.floats(5, 20))
def test_hotter_insulation_may_read_less(kelvins, doubling):
    """One doubling further up halves the least resistance."""
    here = insulation_minimum(1e6, 293.15, kelvins, doubling)
    assert here / 2 == pytest.approx(insulation_minimum(1e6, 293.15, kelvins + doubling, doubling))


@given(st.floats(1, 800), st.floats(1, 400), st.floats(1e-5, 1e-3), st.floats(0, 1e-4), st.floats(0.5, 1))
def test_three_phase_drop_is_what_complex_numbers_give(current, length, resistance, reactance, power_factor):
    """The drop is the part of the impedance voltage along the sending voltage, times √3 (phasors)."""
    load = cmath.rect(current, -acos(power_factor))
    along = (load * complex(resistance, reactance) * length).real
    assert sqrt(3) * along == pytest.approx(voltage_drop_three_phase(current, length, resistance, reactance, power_factor, 400)["drop"], rel=1e-6)


def test_direct_current_drop_goes_out_and_back():
    """Both conductors drop (Ohm's law)."""
    assert {"drop": 2 * 100 * 50 * 1e-4, "drop_ratio": 2 * 100 * 50 * 1e-4 / 48} == pytest.approx(voltage_drop_dc(100, 50, 1e-4, 48))


# Resistance-temperature coefficients at 20 degrees: 0.00393 copper, 0.00403 aluminium.
@pytest.mark.parametrize("coefficient", [0.00393, 0.00403])
def test_one_zero_temperature_serves_both_metals(coefficient):
    """The standard's -230 degrees is within half a per cent of either metal's own coefficient at 90 degrees."""
    assert 1 + coefficient * 70 == pytest.approx(conductor_resistance(1, 293.15, 363.15, 43.15), rel=0.005)


# IEC 60228: no more than 0.0754 ohm/km for stranded copper of 240 mm2 at 20 degrees.
def test_good_cable_of_known_length_reads_in_its_band():
    """Sixty metres of 240 mm2 out and back at 35 degrees read what the standard's factor says."""
    now = conductor_resistance(0.0754e-3, 293.15, 308.15, 43.15)
    found = continuity_expected(now, now, 60, 0.1)
    assert 2 * 60 * 0.0754e-3 / 0.943 == pytest.approx(found["expected"], rel=1e-3)
    assert found["lowest"] < found["expected"] < found["highest"]


@given(st.floats(1e-5, 1e-2), st.floats(0, 1e-2), st.floats(1, 1000), st.floats(0.01, 0.4), st.floats(0.01, 0.1))
def test_narrower_band_lies_inside_the_wider(outgoing, returning, length, spread, more):
    """A smaller spread never lets through what a larger one holds up."""
    narrow, wide = (continuity_expected(outgoing, returning, length, band) for band in (spread, spread + more))
    assert wide["lowest"] <= narrow["lowest"] <= narrow["highest"] <= wide["highest"]
