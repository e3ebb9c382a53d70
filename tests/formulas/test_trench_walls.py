"""Walls by the depth that counts, and ways out within reach of everybody."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.formulas.trench_walls import wall_support, ways_out

ORDER = ["looked_at", "supported", "designed"]


# Oregon safety consultant: a heap of two feet on the lip makes a trench of four feet count as six.
def test_heap_on_the_lip_lifts_a_shallow_trench_over_the_limit():
    """The same trench is looked at while the heap keeps its distance and supported when it does not."""
    assert "looked_at" == wall_support(1.2, 0.6, 0.7, 0.61, 1.5, None)["walls"]
    assert "supported" == wall_support(1.2, 0.6, 0.3, 0.61, 1.5, None)["walls"]


@given(st.floats(0.1, 8), st.floats(0, 4), st.floats(0, 3), st.floats(0.3, 2), st.floats(0.5, 3))
def test_deeper_higher_or_nearer_never_asks_for_less(depth, heap, distance, setback, support_from):
    """No change for the worse takes a support away, and neither does a tighter rule."""
    here = ORDER.index(wall_support(depth, heap, distance, setback, support_from, 6)["walls"])
    for worse in (
        wall_support(depth + 0.5, heap, distance, setback, support_from, 6),
        wall_support(depth, heap + 0.5, distance, setback, support_from, 6),
        wall_support(depth, heap, distance / 2, setback, support_from, 6),
        wall_support(depth, heap, distance, setback + 0.5, support_from, 6),
        wall_support(depth, heap, distance, setback, support_from * 0.9, 6),
        wall_support(depth, heap, distance, setback, support_from, 5),
    ):
        assert ORDER.index(worse["walls"]) >= here


@pytest.mark.parametrize("parts", [(0.7, 0.8), (1.1, 0.4), (0.1 + 0.2, 1.2)])
def test_sum_that_is_the_limit_is_supported(parts):
    """Depth and heap that together are the limit count as reaching it, whatever the last digit does."""
    depth, heap = parts
    assert "supported" == wall_support(depth, heap, 0, 0.6, 1.5, None)["walls"]


@given(st.floats(0.1, 500), st.floats(1, 30))
def test_nobody_is_further_from_a_way_out_than_allowed(length, travel):
    """Wherever somebody stands, the nearest of the evenly set ladders is within reach; one fewer would leave a gap."""
    result = ways_out(length, travel)
    ladders = [result["spacing"] * (number + 0.5) for number in range(int(result["count"]))]
    places = [length * part / 200 for part in range(201)]
    assert max(min(abs(place - ladder) for ladder in ladders) for place in places) <= travel * (1 + 1e-9)
    assert (result["count"] - 1) * 2 * travel < length
