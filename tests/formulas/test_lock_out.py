"""Waiting for stored charge, against the circuit solved step by step."""

from math import exp, log

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from builder.formulas.lock_out import discharge_waiting_time, residual_voltage
from builder.formulas.mathematics import CannotTell


@pytest.mark.parametrize(("farads", "ohms", "start"), [(4.7e-3, 22e3, 800), (100e-6, 1e6, 1000), (1e-3, 470, 75)])
def test_waiting_time_agrees_with_the_circuit_solved_numerically(farads, ohms, start):
    """The moment at which the integrated voltage reaches 50 V is the computed wait."""
    def drained(seconds):
        path = solve_ivp(lambda t, volts: -volts / (ohms * farads), (0, seconds), [start], rtol=1e-9, atol=1e-9)
        return path.y[0][-1] - 50

    moment = brentq(drained, 1e-6, 20 * ohms * farads, xtol=1e-6)
    assert moment == pytest.approx(discharge_waiting_time(farads, ohms, start, 50, None)["waiting_time"], rel=1e-5)


# One maker's label: 760 s from 825 V to 50 V.
def test_five_minutes_flat_is_unsafe_for_the_drive_on_the_label():
    """With one exponential through the label's two points, five minutes leave 273 V and ten leave 90 V."""
    time_constant = 760 / log(825 / 50)
    for volts, seconds in ((273, 300), (90, 600)):
        assert volts == pytest.approx(825 * exp(-seconds / time_constant), rel=0.005)
        assert seconds == pytest.approx(discharge_waiting_time(time_constant / 1e4, 1e4, 825, volts, None)["waiting_time"], rel=0.005)
    result = discharge_waiting_time(time_constant / 1e4, 1e4, 825, 50, 300)
    assert "computed" == result["ruled_by"]
    assert 760 == pytest.approx(result["waiting_time"])


@given(st.floats(1e-6, 1e-2), st.floats(10, 1e6), st.floats(1, 1500), st.floats(0, 7200))
def test_wait_is_never_shorter_than_label_or_sum(farads, ohms, start, label):
    """The longer of both rules and is named."""
    result = discharge_waiting_time(farads, ohms, start, 50, label)
    computed = discharge_waiting_time(farads, ohms, start, 50, None)["waiting_time"]
    assert max(label, computed) == result["waiting_time"]
    assert result["waiting_time"] == {"label": label, "computed": computed}[result["ruled_by"]]


@pytest.mark.parametrize("gap", [0, 1, 2])
def test_label_stands_alone_where_the_sum_can_not_be_done(gap):
    """With capacitance, resistor or voltage unknown the maker's label rules, and without it there is no answer."""
    inputs = [1e-3, 1e4, 800]
    inputs[gap] = None
    assert {"waiting_time": 600, "ruled_by": "label"} == discharge_waiting_time(*inputs, 50, 600)
    with pytest.raises(CannotTell, match="Neither"):
        discharge_waiting_time(*inputs, 50, None)


@given(st.lists(st.tuples(st.floats(0, 400), st.floats(0, 1000)), min_size=1, max_size=8))
def test_one_pair_over_either_limit_is_not_drained(readings):
    """Drained means every pair below both limits, and the pair named is the one furthest over."""
    found = residual_voltage([{"ac": ac, "dc": dc} for ac, dc in readings], 50, 120)
    assert ("drained" if all(ac <= 50 and dc <= 120 for ac, dc in readings) else "still_charged") == found["verdict"]
    worst = readings[int(found["worst_pair"]) - 1]
    assert max(max(ac / 50, dc / 120) for ac, dc in readings) == pytest.approx(max(worst[0] / 50, worst[1] / 120))
    assert [max(ac for ac, _ in readings), max(dc for _, dc in readings)] == [found["highest_ac"], found["highest_dc"]]


def test_no_reading_at_all_is_not_drained():
    """An empty list of pairs is no proof of anything."""
    with pytest.raises(CannotTell, match="No pair"):
        residual_voltage([], 50, 120)
