"""Tails, lugs and plates, against arcs walked step by step."""

from math import acos, cos, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.formulas.gland import lug_gap, single_core_entry, tail_height


def walked(radius: float, offset: float) -> float:
    """Height of two arcs of one radius, one way and back, walked in small steps until the offset is reached."""
    turn = acos(max(1 - min(offset, 2 * radius) / (2 * radius), -1))
    steps = 2000
    return 2 * sum(radius * cos(turn * (step + 0.5) / steps) * turn / steps for step in range(steps))


@pytest.mark.parametrize(("radius", "diameter", "offset"), [(0.2, 0.04, 0.1), (0.3, 0.05, 0.4), (0.1, 0.02, 0.9), (0.25, 0.03, 0.01)])
def test_tail_is_as_high_as_two_arcs_walked(radius, diameter, offset):
    """The closed form and the walk agree, and sideways they come to the offset."""
    middle = radius + diameter / 2
    height = tail_height(radius, diameter, offset, 0, 0)
    assert walked(middle, offset) == pytest.approx(height, rel=1e-5)
    turn = acos(max(1 - min(offset, 2 * middle) / (2 * middle), -1))
    assert min(offset, 2 * middle) == pytest.approx(2 * middle * (1 - cos(turn)))
    assert height == pytest.approx(2 * middle * sin(turn))


@given(st.floats(0.01, 2), st.floats(0.005, 0.1), st.floats(0, 2), st.floats(0, 0.5), st.floats(0, 0.5), st.floats(0, 1))
def test_stiffer_tail_never_needs_less_height(radius, diameter, offset, gland, lug, more):
    """A wider bend, a longer straight or a thicker tail never asks for less."""
    height = tail_height(radius, diameter, offset, gland, lug)
    assert height >= gland + lug
    assert tail_height(radius + more, diameter, offset, gland, lug) >= height * (1 - 1e-9)
    assert tail_height(radius, diameter, offset, gland + more, lug) >= height
    assert height <= gland + lug + 2 * (radius + diameter / 2) * (1 + 1e-9)


@given(st.floats(0.01, 1), st.floats(0.01, 1), st.floats(0, 0.05))
def test_lug_that_sits_loose_never_leaves_more_air(pitch, width, play):
    """Air is what two half lugs leave of the pitch."""
    gap = lug_gap(pitch, width, play)
    assert 0 <= gap <= lug_gap(pitch, width, 0)
    assert gap == 0 or gap + width + 2 * play == pytest.approx(pitch)


@pytest.mark.parametrize("entry", ["together", "apart_slotted", "apart_in_other_metal"])
@pytest.mark.parametrize("system", ["ac", "dc"])
def test_only_steel_between_cores_of_alternating_current_counts(system, entry):
    """Every way but single cores through steel suits, at any current."""
    assert "suits" == single_core_entry(system, entry, 5000, 0)
    assert "steel_between" == single_core_entry("ac", "apart_in_steel", 5000, 0)
    assert "suits" == single_core_entry("dc", "apart_in_steel", 5000, 0)


def test_steel_counts_from_the_current_on():
    """At the current itself the steel counts."""
    assert ["suits", "steel_between"] == [single_core_entry("ac", "apart_in_steel", amperes, 200) for amperes in (199, 200)]


def test_reverse_curve_of_the_print_comes_out():
    """Two arcs joined on a slope: radius over length and offset as a quarter of (a² + b²) / b (mathematics forum)."""
    for a, b in ((0.4, 0.1), (0.5, 0.3), (0.7, 0.05)):
        radius = (a**2 + b**2) / (4 * b)
        assert a == pytest.approx(tail_height(radius - 0.01, 0.02, b, 0, 0))
