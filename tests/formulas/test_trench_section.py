"""Width, backfill and strip of ground against outlines, positions and balances of soil."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.formulas.mathematics import CannotTell
from builder.formulas.trench_section import backfill_volumes, conduit_stack, fill_needed, trench_width, working_strip
from builder.formulas.trenching import trench_depth, trench_digging
from tests.formulas.test_trenching import enclosed


@given(st.integers(1, 12), st.floats(0.02, 0.3), st.floats(0, 0.3), st.floats(0, 0.5))
def test_conduits_set_out_one_by_one_just_fit(count, diameter, gap, side):
    """Laid from the left wall with their gaps, the last conduit leaves its side room to the right wall."""
    left = side
    for _ in range(count):
        right = left + diameter
        left = right + gap
    assert right + side == pytest.approx(trench_width(diameter, count, gap, side))


def test_half_a_conduit_has_no_answer():
    """Conduits come whole."""
    with pytest.raises(CannotTell, match="whole number"):
        trench_width(0.1, 2.5, 0.05, 0.1)
    with pytest.raises(CannotTell, match="whole number"):
        backfill_volumes(10, 1, 0.5, 0, 0.8, 0.1, [{"diameter": 0.1, "number": 1.5}])


@given(st.floats(0.3, 3), st.floats(0.3, 2), st.floats(0, 2), st.floats(0, 0.15), st.integers(1, 4))
def test_what_was_dug_goes_back_or_is_conduit(depth, bottom, batter, surround, number):
    """Surround, fill and conduits together are the trench, and the surround is the outline up to its height."""
    cover = depth - 0.15
    conduits = [{"diameter": 0.05, "number": number}]
    result = backfill_volumes(20, depth, bottom, batter, cover, min(surround, cover), conduits)
    bank = trench_digging(20, depth, bottom, batter, 0)["bank_volume"]
    conduit = 20 * number * pi * 0.025**2
    assert conduit == pytest.approx(result["conduit_volume"])
    assert bank - conduit == pytest.approx(result["filled_volume"])
    top = result["surround_height"]
    out = batter * top
    assert 20 * enclosed([(0, 0), (bottom, 0), (bottom + out, top), (-out, top)]) - conduit == pytest.approx(result["surround_volume"])


def test_surround_reaches_as_far_over_the_stack_as_it_should():
    """Bed, stack and surround make the height of the stone-free zone (hand)."""
    depth = trench_depth(0.7, 0.11, 2, 0.05, 0.075)
    result = backfill_volumes(58, depth, 0.6, 0.5, 0.7, 0.075, [{"diameter": 0.11, "number": 4}])
    assert 0.075 + 2 * 0.11 + 0.05 + 0.075 == pytest.approx(result["surround_height"])


# The print of the 36 in pipe takes a cubic yard for nine cubic feet; it has twenty-seven.
def test_printed_cubic_yards_of_the_pipe_trench_are_three_times_too_many():
    """7870 printed cubic yards are 2631, less the bedding of the print (question-and-answer page)."""
    yard = 0.9144**3
    foot = 0.3048
    result = backfill_volumes(185 * foot, 17 * foot, 6 * foot, 1, 14 * foot, 0, [{"diameter": 3 * foot, "number": 1}])
    assert (7870.32 + 21.6) / 3 == pytest.approx(result["filled_volume"] / yard, rel=1e-4)


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        ({"cover": 1.2}, "more than the depth"),
        ({"surround": 0.9}, "reaches above the ground"),
        ({"conduits": [{"diameter": 0.5, "number": 4}]}, "more room than the trench"),
        ({"conduits": []}, "No conduit"),
    ],
)
def test_section_that_cannot_be_has_no_volumes(changed, sentence):
    """Cover below the bottom, a surround in the air or conduits that do not fit give a reason."""
    section = {"length": 10, "depth": 1, "bottom_width": 0.5, "batter": 0, "cover": 0.8, "surround": 0.1,
               "conduits": [{"diameter": 0.1, "number": 1}], **changed}
    with pytest.raises(CannotTell, match=sentence):
        backfill_volumes(*section.values())


@given(st.floats(0.1, 1000), st.floats(0, 0.3), st.floats(0, 0.8))
def test_soil_dug_for_a_fill_tamps_back_to_it(volume, shrinkage, swell):
    """The ground dug, less what tamping takes, is the fill; the heap is that ground swollen."""
    needed = fill_needed(volume, shrinkage, swell)
    assert volume == pytest.approx(needed["bank_volume"] * (1 - shrinkage))
    assert needed["loose_volume"] / (1 + swell) == pytest.approx(needed["bank_volume"])
    assert needed["bank_volume"] >= volume


@given(st.floats(0.1, 10), st.floats(0, 5), st.floats(0, 10), st.floats(0, 5))
def test_more_set_back_never_takes_less_ground(width, setback, heap, passage):
    """A wider set-back moves everything beyond it outwards."""
    assert working_strip(width, setback, heap, passage) + 1 == pytest.approx(working_strip(width, setback + 1, heap, passage))


@given(st.integers(1, 6), st.integers(1, 6), st.floats(0.02, 0.3), st.floats(0, 0.2), st.floats(0, 0.2))
def test_stack_is_as_wide_and_high_as_its_trench_says(across, layers, diameter, gap, surround):
    """Width and height are those of the trench formulas with the surround as room and bedding."""
    stack = conduit_stack(diameter, across, layers, gap, surround, 1)
    assert trench_width(diameter, across, gap, surround) == pytest.approx(stack["width"])
    assert trench_depth(surround, diameter, layers, gap, surround) == pytest.approx(stack["height"])


@given(st.integers(1, 5), st.integers(1, 5), st.floats(0.02, 0.3), st.floats(0.01, 0.2), st.floats(0, 0.2), st.floats(1, 100))
def test_surround_and_conduits_fill_the_stack(across, layers, diameter, gap, surround, length):
    """What is poured, and what the conduits take, is the whole block."""
    stack = conduit_stack(diameter, across, layers, gap, surround, length)
    conduits = across * layers * pi / 4 * diameter**2 * length
    assert stack["width"] * stack["height"] * length == pytest.approx(stack["surround_volume"] + conduits)
    assert stack["surround_volume"] > 0
