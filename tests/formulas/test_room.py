"""Room round gear, against pictures drawn in numbers."""

from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.formulas.mathematics import CannotTell
from builder.formulas.placing import sling_leg_load
from builder.formulas.room import door_aisle, hook_height, take_out_gap


@given(st.floats(0, 10), st.floats(0, 3), st.floats(0, 3))
def test_way_past_open_doors_is_never_wider_than_what_is_left(clear, door, opposite):
    """Way and doors never take more than the aisle, and shut doors leave all of it."""
    way = door_aisle(clear, door, opposite)
    assert 0 <= way <= clear
    assert way == 0 or way + door + opposite == pytest.approx(clear)
    assert clear == door_aisle(clear, 0, 0)


@given(st.floats(0.1, 5), st.floats(0, 5), st.floats(0, 2), st.floats(0, 2))
def test_bigger_gear_never_comes_out_of_a_smaller_gap(depth, machine, play, more):
    """The gap holds gear, machine and play one behind the other."""
    gap = take_out_gap(depth, machine, play)
    assert gap >= max(depth, machine)
    assert take_out_gap(depth + more, machine, play) >= gap


@given(st.floats(0.5, 10), st.floats(0, 0.99), st.floats(0, 5), st.floats(0.1, 3))
def test_leg_reaches_from_the_hook_to_the_point(length, part, over, tall):
    """Measured back from the hook the leg has its own length."""
    spacing = 2 * length * part
    rise = hook_height(over, tall, length, spacing, 0.3) - over - tall - 0.3
    assert length == pytest.approx(hypot(rise, spacing / 2))


def test_sixty_degrees_is_a_triangle_of_like_sides():
    """Legs as long as their points are apart stand at 60 degrees, where a leg takes 1.155 of its share (Ashley Sling)."""
    height = hook_height(0, 0, 2, 2, 0)
    assert 1.155 == pytest.approx(2 / height, abs=5e-4)
    assert 1.155 == pytest.approx(sling_leg_load(1, 1, 60 * 3.141592653589793 / 180)["factor"], abs=5e-4)


@pytest.mark.parametrize("length", [0.5, 1.0])
def test_legs_too_short_for_the_load_say_so(length):
    """Legs that only just meet in the middle lift nothing."""
    with pytest.raises(CannotTell, match="too short"):
        hook_height(0, 1, length, 2, 0)
