"""Trench and heap against areas of their outlines."""

from math import pi, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.formulas.mathematics import CannotTell
from builder.formulas.trenching import spoil_heap, trench_depth, trench_digging


def enclosed(corners: list[tuple[float, float]]) -> float:
    """Area of an outline by its corners (surveyor's formula)."""
    after = corners[1:] + corners[:1]
    return abs(sum(x * v - u * y for (x, y), (u, v) in zip(corners, after, strict=True))) / 2


@given(st.floats(0.1, 5), st.floats(0.2, 3), st.floats(0, 3))
def test_bank_volume_is_the_area_of_the_outline_times_length(depth, bottom, batter):
    """The outline of a trench with battered sides, measured by its corners."""
    out = batter * depth
    outline = [(0, -depth), (bottom, -depth), (bottom + out, 0), (-out, 0)]
    result = trench_digging(20, depth, bottom, batter, 0.25)
    assert 20 * enclosed(outline) == pytest.approx(result["bank_volume"])
    assert bottom + 2 * out == pytest.approx(result["top_width"])
    assert 1.25 * 20 * enclosed(outline) == pytest.approx(result["loose_volume"])


@given(st.floats(0.1, 100), st.floats(1, 100), st.floats(0.2, 1.0))
def test_heap_holds_what_was_dug_at_its_angle_of_rest(volume, length, repose):
    """The heap's outline has the area asked for and sides no steeper than the soil rests."""
    heap = spoil_heap(volume, length, repose)
    half = heap["base_width"] / 2
    assert volume / length == pytest.approx(enclosed([(-half, 0), (half, 0), (0, heap["height"])]))
    assert tan(repose) == pytest.approx(heap["height"] / half)


# 29 CFR 1926.652(b)(1): one and a half horizontal to one vertical is 34 degrees from the horizontal.
def test_batter_is_horizontal_to_vertical():
    """A batter of 1.5 widens by three metres for a metre of depth, and makes 34 degrees."""
    assert 3 == trench_digging(1, 1, 1, 1.5, 0)["top_width"] - 1
    assert tan(34 * pi / 180) == pytest.approx(1 / 1.5, rel=0.02)


def test_half_a_layer_has_no_answer():
    """Layers of conduit come whole."""
    with pytest.raises(CannotTell, match="whole number"):
        trench_depth(0.6, 0.11, 1.5, 0.05, 0.075)
