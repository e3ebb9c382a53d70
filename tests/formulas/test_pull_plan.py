"""First sums before a pull, against the sum along the route."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.formulas.pull_plan import belt_tension, grip_points, longest_straight, quick_tension
from builder.formulas.route import route_tension


def straight(length: float) -> dict:
    return {"shape": "straight", "length": length, "slope": 0.0, "turn": None, "radius": None}


def bend(turn: float, radius: float) -> dict:
    return {"shape": "bend_level", "length": None, "slope": None, "turn": turn, "radius": radius}


def along(segments: list[dict], weight: float, friction: float, occupancy: float, feed: float) -> dict:
    return route_tension(segments, weight, friction, occupancy, feed, "single", None)


@given(st.floats(100, 1e4), st.floats(0, 99), st.floats(1, 200), st.floats(0.05, 1), st.floats(1, 1.6))
def test_longest_straight_pulls_just_what_is_allowed(allowed, feed, weight, friction, occupancy):
    """The sum along that straight comes to the limit again."""
    length = longest_straight(allowed, feed, weight, friction, occupancy)
    assert allowed == pytest.approx(along([straight(length)], weight, friction, occupancy, feed)["tension_from_start"])


@given(st.floats(20, 100), st.floats(1, 100), st.floats(0.05, 0.7), st.floats(0.1, 3.1), st.floats(0.2, 2))
def test_simple_bend_is_never_more_than_the_full_one(times, weight, friction, turn, radius):
    """Leaving the weight out never adds pull, and takes off under a hundredth where the pull is twenty weights of a radius."""
    pull = times * weight * radius
    full = along([bend(turn, radius)], weight, friction, 1, pull)["tension_from_start"]
    simple = belt_tension(pull, friction, 1, turn)
    assert simple <= full * (1 + 1e-12)
    assert full <= simple * 1.01


@given(st.lists(st.floats(1, 60), min_size=1, max_size=5), st.floats(1, 60), st.floats(0.05, 0.6), st.floats(0.1, 1.6), st.floats(0, 200))
def test_quick_sum_is_never_less_than_the_simple_one_bend_by_bend(lengths, weight, friction, turn, feed):
    """Moving every bend to the far end only adds."""
    pull = feed
    for length in lengths:
        pull = belt_tension(pull + length * weight * friction, friction, 1, turn)
    quick = quick_tension(sum(lengths), turn * len(lengths), weight, friction, 1, feed)
    assert quick >= pull * (1 - 1e-9)


@given(st.floats(1, 1e5), st.integers(1, 20), st.floats(0.01, 1), st.floats(10, 1e5))
def test_grips_that_hold_hold_the_worst_share(tension, cables, share, limit):
    """No grip is called good by its even share alone."""
    found = grip_points(tension, cables, share, limit)
    assert found["worst_load"] >= found["equal_load"]
    assert found["worst_load"] == pytest.approx(max(tension / cables, share * tension))
    if found["verdict"] == "holds":
        assert found["worst_load"] <= limit * (1 + 1e-8)
        assert found["least_grips"] <= cables + 1e-9
    assert found["least_grips"] * limit >= tension * (1 - 1e-8)
