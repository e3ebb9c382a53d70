"""Steps of a trench wall and what stands at its edge, against the line of the batter."""

from math import ceil

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from builder.formulas.mathematics import CannotTell
from builder.formulas.trench_benches import bench_plan, pad_setback
from builder.formulas.trenching import trench_digging


def edges(plan: dict, first_rise: float, depth: float) -> list[tuple[float, float]]:
    """Upper edge of each upright part, from the foot of the wall: (how far out, how high)."""
    found, out, height = [(0.0, min(first_rise, depth))], 0.0, first_rise
    for step in range(1, int(plan["steps"])):
        out += plan["first_tread"] if step == 1 else plan["next_tread"]
        height += plan["rise"]
        found.append((out, height))
    return found


@given(st.floats(0.3, 6), st.floats(0.3, 3), st.floats(0.3, 2), st.floats(0.4, 1.3), st.floats(0.4, 1.6))
def test_every_edge_above_the_first_keeps_behind_the_batter(depth, width, batter, first, after):
    """Steps are cut back at least as far as a plain batter of that soil, and end at the ground."""
    plan = bench_plan(depth, width, batter, first, after)
    found = edges(plan, first, depth)
    assert depth == pytest.approx(found[-1][1])
    assert all(out >= batter * height * (1 - 1e-9) for out, height in found[1:])
    assert plan["top_width"] == pytest.approx(width + 2 * found[-1][0])


@given(st.floats(0.3, 6), st.floats(0.3, 3), st.floats(0.3, 2), st.floats(0.4, 1.3), st.floats(0.4, 1.6))
def test_steps_need_as_much_ground_as_the_batter(depth, width, batter, first, after):
    """A stepped trench is as wide at the top as a battered one, and no step is higher than allowed."""
    assume(depth > first)
    plan = bench_plan(depth, width, batter, first, after)
    assert trench_digging(1, depth, width, batter, 0)["top_width"] == pytest.approx(plan["top_width"])
    assert plan["rise"] <= after * (1 + 1e-6)
    assert ceil((depth - first) / after - 1e-6) + 1 >= plan["steps"] - 1e-9


@pytest.mark.parametrize("steps", [(None, 1.2), (1.2, None), (None, None)])
def test_soil_that_takes_no_steps_gets_no_plan(steps):
    """Loose soil is battered or supported, whatever the depth."""
    with pytest.raises(CannotTell, match="may not be cut in steps"):
        bench_plan(2, 1, 1.5, *steps)


@given(st.floats(0.1, 10), st.floats(0, 3), st.floats(0, 4), st.floats(0, 2))
def test_deeper_trench_never_lets_a_pad_nearer(depth, share, least, more):
    """Distance grows with depth and share and never falls below the least."""
    distance = pad_setback(depth, share, least)
    assert distance >= least
    assert pad_setback(depth + more, share, least) >= distance
    assert pad_setback(depth, share + more, least) >= distance
