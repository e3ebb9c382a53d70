"""Slips that are in print: the right figure comes out here, and the printed slip does not."""

from math import pi, sqrt, tan

import pytest

from builder.formulas.bundle import pulled_mass
from builder.formulas.trenching import spoil_heap
from builder.quantity import parse_quantity


def test_short_form_with_ten_reads_two_per_cent_high():
    """Weight is mass times 9.80665: the round ten of some guides is 2 % more, and gravity twice is nowhere near."""
    weight = pulled_mass([{"mass": 1.24, "number": 3}])["weight_per_length"]
    assert 3 * 1.24 * 9.80665 == pytest.approx(weight)
    assert 0.02 == pytest.approx(3 * 1.24 * 10 / weight - 1, abs=5e-4)


# A terminal maker prints 120 lbf·in as 13.8 N·m.
def test_terminal_torque_in_inch_pounds_is_the_master():
    """120 lbf·in are 13.56 N·m, and not the 13.8 of one print."""
    newton_metres = parse_quantity("120 lbf.in").si
    assert 13.56 == pytest.approx(newton_metres, abs=5e-3)
    assert 13.8 != pytest.approx(newton_metres, rel=0.01)


# Nunnally, example 2-3, by its own printed form (from memory): base = √(4 V / (L · tan r)), height = base · tan r / 2.
@pytest.mark.parametrize("rounded", [0.75, 0.754])
def test_heaps_by_a_rounded_constant_come_within_a_per_cent(rounded):
    """With tan 37° cut to two or three figures, base and height of the printed heap differ by less than a hundredth."""
    heap = spoil_heap(95.625, 9.14, 37 * pi / 180)
    base = sqrt(4 * 95.625 / (9.14 * rounded))
    assert base == pytest.approx(heap["base_width"], rel=0.01)
    assert base * rounded / 2 == pytest.approx(heap["height"], rel=0.01)
    assert tan(37 * pi / 180) != pytest.approx(rounded, rel=1e-5)
