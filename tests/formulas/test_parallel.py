"""Legs in parallel, against Kirchhoff's laws."""

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.formulas.mathematics import CannotTell
from builder.formulas.parallel import circulating_current, leg_currents, leg_spread


def legs_of(*ohms: float) -> list[dict]:
    return [{"resistance": value} for value in ohms]


@pytest.mark.parametrize("ohms", [(4e-3, 2e-3), (1e-3, 1.02e-3, 0.97e-3), (5e-3, 1e-3, 2e-3, 8e-3)])
def test_shares_solve_the_network(ohms):
    """The currents are those of the network's equations: all add up, and every leg drops alike (Kirchhoff)."""
    count = len(ohms)
    equations, right = numpy.zeros((count, count)), numpy.zeros(count)
    equations[0], right[0] = 1, 900
    for row in range(1, count):
        equations[row, 0], equations[row, row] = ohms[0], -ohms[row]
    wanted = numpy.linalg.solve(equations, right)
    found = leg_currents(legs_of(*ohms), 900)
    assert list(wanted) == pytest.approx([share["current"] for share in found["shares"]])
    assert max(wanted) == pytest.approx(found["largest"])
    assert max(wanted) / (900 / count) - 1 == pytest.approx(found["uneven"], abs=1e-12)


# currentdivider.com, example 10: 800 mA over 8.6 and 32 ohm.
def test_both_legs_of_the_printed_divider_come_out():
    """Both printed shares come out to their figures."""
    shares = leg_currents(legs_of(8.6, 32), 0.8)["shares"]
    assert (0.630, 0.1695) == pytest.approx([share["current"] for share in shares], rel=1e-3)


@given(st.lists(st.floats(1e-4, 1), min_size=2, max_size=8), st.floats(0.1, 5000))
def test_leg_that_carries_most_is_the_easiest_way(ohms, current):
    """The hardest-worked leg has the least resistance, and never less than an even share."""
    found = leg_currents(legs_of(*ohms), current)
    assert min(ohms) == pytest.approx(ohms[int(found["hardest"]) - 1], rel=1e-12)
    assert found["largest"] >= current / len(ohms) * (1 - 1e-9)
    assert current == pytest.approx(sum(share["current"] for share in found["shares"]))


def test_one_per_cent_in_length_is_one_per_cent_in_current_and_no_more():
    """Two legs of which one is 2 % longer share with 1 % above the even share (first order, hand)."""
    assert 0.01 == pytest.approx(leg_currents(legs_of(1.0, 1.02), 100)["uneven"], abs=2e-4)
    assert 0.02 == pytest.approx(leg_spread([{"length": 50.0}, {"length": 51.0}])["spread"])


def test_single_leg_shares_with_nobody():
    """Parallel legs are two at least."""
    for asked in (lambda: leg_spread([{"length": 50.0}]), lambda: leg_currents(legs_of(1.0), 100)):
        with pytest.raises(CannotTell, match="two at least"):
            asked()


# Two strings of twenty 12 V blocks, 3.16 mohm a block when full (forum, from 3800 A short circuit each).
def test_few_volts_between_strings_are_many_amperes():
    """Two volts between two such strings drive more than ten amperes, and the higher loop drives less."""
    string = 20 * 3.16e-3
    assert 2 / (2 * string + 0.01) == pytest.approx(circulating_current(2, string, string, 0.01))
    assert circulating_current(2, string, string, 0.05) < circulating_current(2, string, string, 0.01)


def test_loop_without_resistance_has_no_answer():
    """Unknown resistance is not none: the maker is asked."""
    with pytest.raises(CannotTell, match="ask the maker"):
        circulating_current(1, 0, 0, 0)
