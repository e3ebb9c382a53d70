"""Slings, ground and gaps, against statics and geometry."""

from math import cos, hypot, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.compile.caller import call
from builder.compile.catalogue import signature_data
from builder.formulas.mathematics import CannotTell
from builder.formulas.placing import ground_pressure, passage_width, sling_leg_load, turning_gap
from builder.formulas.pulling import roller_load


@given(st.floats(10, 1e5), st.floats(30, 89.9))
def test_two_legs_hold_the_load_up(mass, degrees):
    """Upright parts of both legs add to the load, level parts cancel (statics)."""
    leg = sling_leg_load(mass, 2, radians(degrees))["leg_load"]
    assert mass == pytest.approx(2 * leg * sin(radians(degrees)))
    left, right = -leg * cos(radians(degrees)), leg * cos(radians(degrees))
    assert 0 == pytest.approx(left + right)


@given(st.floats(10, 1e5), st.integers(1, 4), st.floats(30, 85), st.floats(0, 5))
def test_flatter_sling_is_never_lighter_loaded(mass, legs, degrees, steeper):
    """A steeper leg never carries more, and one leg more never makes the others carry more."""
    here = sling_leg_load(mass, legs, radians(degrees))["leg_load"]
    assert here >= sling_leg_load(mass, legs, radians(degrees + steeper))["leg_load"] * (1 - 1e-12)
    assert here >= sling_leg_load(mass, legs + 1, radians(degrees))["leg_load"]


# US Netting: never below 30 degrees from the horizontal. At 15 degrees a pair has a quarter of its rating left.
@pytest.mark.parametrize("degrees", [0, 15, 29.9])
def test_sling_below_thirty_degrees_is_refused(degrees):
    """There is no number for a flat sling, only the range."""
    with pytest.raises(CannotTell, match="holds from 30 to 90°"):
        call(sling_leg_load, signature_data()["sling_leg_load"], {"mass": 1000.0, "legs": 2.0, "angle": radians(degrees)})


def test_sling_and_roller_count_angles_from_different_lines():
    """A rope over a roller that turns it by 90 degrees loads it like a load hung from two legs at 45 degrees, and at no other angle alike."""
    def hung(degrees_between):
        return 1 / sling_leg_load(1, 2, radians(90 - degrees_between / 2))["leg_load"]

    assert roller_load(1, radians(90))["force"] == pytest.approx(hung(90))
    assert roller_load(1, radians(60))["force"] == pytest.approx(hung(180 - 60))
    assert roller_load(1, radians(60))["force"] != pytest.approx(hung(60), rel=0.1)


@given(st.floats(100, 1e5), st.floats(0.1, 1), st.floats(0.3, 3), st.floats(0.3, 3))
def test_pressure_on_the_pad_carries_its_share(mass, share, length, width):
    """Pressure times pad is the share of the weight, and half the pad is twice the pressure."""
    pressure = ground_pressure(mass, share, length, width)
    assert mass * share * 9.80665 == pytest.approx(pressure * length * width)
    assert 2 * pressure == pytest.approx(ground_pressure(mass, share, length, width / 2))


@pytest.mark.parametrize(("radius", "reach", "width"), [(2.2, 1.6, 1.2), (1.6, 1.0, 0.8), (2.5, 3.0, 1.0)])
def test_truck_turned_degree_by_degree_stays_inside_the_gap(radius, reach, width):
    """Turned on the spot, no corner of load or truck sweeps further than the gap allows (geometry)."""
    corners = [(reach, width / 2), (reach, -width / 2)]
    far = max(x * cos(radians(turn)) - y * sin(radians(turn)) for turn in range(0, 91) for x, y in corners)
    gap = turning_gap(radius, reach, width, 0.1)
    assert radius + far <= gap - 0.2 + 1e-9
    assert radius + hypot(*corners[0]) == pytest.approx(gap - 0.2)


@given(st.floats(0.5, 5), st.floats(0, 5), st.floats(0, 1))
def test_passage_lets_the_wider_of_machine_and_load_through(machine, load, room):
    """Neither is ever wider than the gap less its room."""
    gap = passage_width(machine, load, room)
    assert gap - 2 * room >= max(machine, load) - 1e-12
    assert passage_width(machine, load, room + 0.1) >= gap
