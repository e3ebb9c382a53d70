"""Rope: what it may take, how strong it must be, what a hitch holds."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.formulas.rope import hitch_points, rope_break_needed, rope_working_load


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
    assert result["equal_load"] <= share * (1 + 1e-12)


@given(st.floats(1, 1e6), st.floats(1, 20))
def test_rope_that_is_strong_enough_may_take_the_pull(tension, factor):
    """The least breaking load, put to work with the same factor, takes just this pull."""
    assert tension == pytest.approx(rope_working_load(rope_break_needed(tension, factor), factor))


# EC&M: rope of at least four times the puller's rating where it stays inside the conduit, more where it is exposed.
def test_higher_factor_never_asks_for_less_rope():
    """Exposed rope is asked for more than rope inside the conduit."""
    assert rope_break_needed(6500, 4) < rope_break_needed(6500, 5)
