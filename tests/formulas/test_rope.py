"""Rope: what it may take, how strong it must be, what a hitch holds."""

from math import cos, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.formulas.mathematics import CannotTell
from builder.formulas.rope import anchor_legs, hitch_points, jacket_limit, rope_break_needed, rope_working_load


# Milliken: half-hitches are for easy pulls only, the load ends on the last one and cables have broken there.
def test_hitches_are_judged_by_the_worst_and_not_by_an_equal_share():
    """Adding hitches lowers the equal share and not the worst, so it never turns a grip into hitches."""
    few, many = (hitch_points(2000, share, 3, 1, 1500) for share in (500, 50))
    assert (2000, "grip") == (few["worst_load"], few["attachment"]) == (many["worst_load"], many["attachment"])
    assert many["equal_load"] < few["equal_load"] < few["worst_load"]


@given(st.floats(1, 1e5), st.floats(1, 1000), st.integers(1, 10), st.floats(0.01, 1))
def test_worst_hitch_never_holds_less_than_an_equal_share(tension, share, least, uneven):
    """An equal share is a lower bound, whatever unevenness is put in."""
    result = hitch_points(tension, share, least, uneven, 1500)
    assert result["equal_load"] <= result["worst_load"]
    assert result["count"] >= least
    assert result["equal_load"] <= share * (1 + 2e-9)


@given(st.floats(1, 1e6), st.floats(1, 20))
def test_rope_that_is_strong_enough_may_take_the_pull(tension, factor):
    """The least breaking load, put to work with the same factor, takes just this pull."""
    assert tension == pytest.approx(rope_working_load(rope_break_needed(tension, factor), factor))


# EC&M: rope of at least four times the puller's rating where it stays inside the conduit, more where it is exposed.
def test_higher_factor_never_asks_for_less_rope():
    """Exposed rope is asked for more than rope inside the conduit."""
    assert rope_break_needed(6500, 4) < rope_break_needed(6500, 5)


@given(st.floats(1, 1e5), st.floats(0.5, 80), st.floats(0.5, 80))
def test_both_slings_hold_the_sheave_and_pull_it_to_no_side(force, first, second):
    """Along the force both pulls add to it, across it they cancel (statics)."""
    legs = anchor_legs(force, radians(first), radians(second))
    assert force == pytest.approx(legs["first_leg"] * cos(radians(first)) + legs["second_leg"] * cos(radians(second)))
    assert legs["first_leg"] * sin(radians(first)) == pytest.approx(legs["second_leg"] * sin(radians(second)))


def test_two_slings_in_one_line_are_one():
    """Without a spread nothing says how they share."""
    with pytest.raises(CannotTell, match="count it as one sling"):
        anchor_legs(1000, 0, 0)


@given(st.floats(0.005, 0.2), st.floats(0.01, 0.49), st.floats(1e5, 2e7))
def test_jacket_bears_what_its_ring_of_compound_does(diameter, part, stress):
    """Pull over the area of the ring is the stress (geometry)."""
    thickness = diameter * part
    ring = 3.141592653589793 / 4 * (diameter**2 - (diameter - 2 * thickness) ** 2)
    assert stress == pytest.approx(jacket_limit(diameter, thickness, stress) / ring)
