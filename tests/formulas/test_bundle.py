"""How cables lie in a conduit: forces and places worked out from circles alone."""

from math import asin, cos, hypot, pi, sin, sqrt

import numpy
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from builder.formulas.bundle import (
    bend_share,
    conduit_clearance,
    conduit_fill,
    jam_ratio,
    occupancy_factor,
    pulled_mass,
)
from builder.formulas.mathematics import CannotTell


def places(arrangement: str, diameter: float, bore: float) -> list[tuple[float, float]]:
    """Middles of the cables, from the middle of the bore, by geometry alone."""
    ring = (bore - diameter) / 2
    if arrangement == "single":
        return [(0, -ring)]
    if arrangement == "triangular":
        beside = diameter / 2
        low = -sqrt(ring**2 - beside**2)
        return [(-beside, low), (beside, low), (0, low + diameter * sqrt(3) / 2)]
    step = 2 * asin(diameter / (2 * ring))
    cradle = [(ring * sin(side * step), -ring * cos(side * step)) for side in (-1, 0, 1)]
    if arrangement == "cradled":
        return cradle
    return [*cradle, (0, 2 * cradle[0][1] + ring)]


def wall_forces(arrangement: str, diameter: float, bore: float) -> list[float]:
    """Force of the wall on each cable of unit weight: equilibrium with contacts that only push, least total friction."""
    middles = places(arrangement, diameter, bore)
    ring, count = (bore - diameter) / 2, len(middles)
    columns, walls = [], []
    for index, (x, y) in enumerate(middles):
        if hypot(x, y) == pytest.approx(ring):
            push = [0.0] * (2 * count)
            push[2 * index], push[2 * index + 1] = -x / ring, -y / ring
            walls.append(len(columns))
            columns.append(push)
        for other in range(index):
            dx, dy = x - middles[other][0], y - middles[other][1]
            if hypot(dx, dy) == pytest.approx(diameter):
                push = [0.0] * (2 * count)
                push[2 * index], push[2 * index + 1] = dx / diameter, dy / diameter
                push[2 * other], push[2 * other + 1] = -dx / diameter, -dy / diameter
                columns.append(push)
    matrix = numpy.array(columns).T
    weight = numpy.array([0.0, 1.0] * count)
    solved = linprog([1.0 if index in walls else 0.0 for index in range(len(columns))], A_eq=matrix, b_eq=weight)
    assert solved.success
    return [solved.x[index] for index in walls]


CASES = [("triangular", 2.5), ("triangular", 3.2), ("cradled", 2.8), ("cradled", 4.0), ("diamond", 2.6), ("diamond", 3.2), ("diamond", 3.7)]


@pytest.mark.parametrize(("arrangement", "ratio"), CASES)
def test_occupancy_factor_is_all_the_wall_force_over_the_weight(arrangement, ratio):
    """The factor is the sum of wall forces in equilibrium over the weight of the bundle (vector statics)."""
    forces = wall_forces(arrangement, 1, ratio)
    count = len(places(arrangement, 1, ratio))
    assert sum(forces) / count == pytest.approx(occupancy_factor(arrangement, 1, ratio, None), rel=1e-6)


@pytest.mark.parametrize(("arrangement", "ratio"), CASES)
def test_bend_share_is_the_largest_wall_force_over_the_weight(arrangement, ratio):
    """In a bend tension presses as weight does: the worst cable bears its wall force (vector statics)."""
    forces = wall_forces(arrangement, 1, ratio)
    count = len(places(arrangement, 1, ratio))
    assert max(forces) / count == pytest.approx(bend_share(arrangement, occupancy_factor(arrangement, 1, ratio, None)), rel=1e-6)


@pytest.mark.parametrize(("arrangement", "ratio"), [("single", 3), *CASES])
def test_clearance_is_what_the_circles_leave(arrangement, ratio):
    """From the top of the highest cable to the crown of the bore (geometry)."""
    highest = max(y + 0.5 for _, y in places(arrangement, 1, ratio))
    assert ratio / 2 - highest == pytest.approx(conduit_clearance(arrangement, 1, ratio))


def test_cradled_clearance_is_not_the_remembered_form():
    """A form with half the spread gives 71 mm for 32 mm cables in 104 mm; the circles give 58 (trap)."""
    assert 57.8 == pytest.approx(conduit_clearance("cradled", 32, 104), abs=0.05)


def test_diamond_that_falls_apart_has_no_answer():
    """Past a bore of 3.83 diameters the side cables leave the lowest one (derived from statics)."""
    assert occupancy_factor("diamond", 1, 3.82, None) == pytest.approx(1.25, abs=0.01)
    with pytest.raises(CannotTell, match="count them as mixed"):
        occupancy_factor("diamond", 1, 3.84, None)


@pytest.mark.parametrize(("arrangement", "ratio"), [("single", 1.0), ("triangular", 2.15), ("cradled", 2.15), ("diamond", 2.41)])
def test_cables_that_do_not_fit_have_no_answer(arrangement, ratio):
    """Packing of circles: three need 2.155 diameters, four 2.414 (geometry)."""
    with pytest.raises(CannotTell):
        occupancy_factor(arrangement, 1, ratio, None)
    with pytest.raises(CannotTell):
        conduit_clearance(arrangement, 1, ratio)


def test_mixed_bundle_without_a_factor_has_no_answer():
    """No factor for cables in no set order is made up."""
    with pytest.raises(CannotTell, match="No factor"):
        occupancy_factor("mixed", 38, 150, None)


@given(st.floats(2.5, 20), st.floats(1.01, 1.5))
def test_wider_bore_never_wedges_harder(ratio, times):
    """Room takes the wedge out of a bundle."""
    for arrangement in ("triangular", "cradled"):
        assert occupancy_factor(arrangement, 1, ratio * times, None) <= occupancy_factor(arrangement, 1, ratio, None)


@given(st.floats(2.2, 20))
def test_three_loose_cables_counted_as_cradled_press_no_less_than_tied(ratio):
    """Cradled is the larger of the two for any bore from 2.4 diameters (published: use cradled, the larger)."""
    if ratio >= 2.4:
        assert occupancy_factor("cradled", 1, ratio, None) >= occupancy_factor("triangular", 1, ratio, None)


@given(st.floats(1.0, 3.0))
def test_mixed_bundle_is_never_pressed_less_than_in_any_order(occupancy):
    """All wall force on one cable is at least what any arrangement gives its worst one."""
    assert all(bend_share(order, occupancy) <= bend_share("mixed", occupancy) for order in ("single", "cradled", "triangular", "diamond"))


def test_jam_band_sources_disagree_and_either_ratio_warns():
    """2.8 to 3.2 by one source, with 1.05 for bends by another: 2.75 is in the band only with bends."""
    result = jam_ratio(1, 2.75, 1.05)
    assert (False, True) == (2.8 <= result["ratio"] <= 3.2, 2.8 <= result["ratio_with_bends"] <= 3.2)


def test_weight_takes_gravity_once():
    """Weight over mass is standard gravity, neither missing nor squared nor ten (trap)."""
    result = pulled_mass([{"mass": 2.0, "number": 4.0}, {"mass": 0.7, "number": 1.0}])
    assert 9.80665 == result["weight_per_length"] / result["mass_per_length"]


@pytest.mark.parametrize("number", [2.5, 0.5])
def test_parts_of_cables_have_no_answer(number):
    """Two and a half cables are a slip of the pen."""
    with pytest.raises(CannotTell, match="whole number"):
        pulled_mass([{"mass": 1.0, "number": number}])
    with pytest.raises(CannotTell, match="whole number"):
        conduit_fill([{"diameter": 10, "number": number}], 100)


def test_more_cable_than_bore_has_no_answer():
    """A fill above the whole bore is a wrong diameter and not a fill."""
    with pytest.raises(CannotTell, match="more area than the bore"):
        conduit_fill([{"diameter": 60, "number": 3}], 100)
    with pytest.raises(CannotTell, match="as thick as the bore"):
        conduit_fill([{"diameter": 100, "number": 1}], 100)


def test_fill_is_area_over_area():
    """Areas of circles, counted one by one (geometry)."""
    cables = [{"diameter": 38, "number": 4}, {"diameter": 22, "number": 1}]
    areas = [pi / 4 * cable["diameter"] ** 2 for cable in cables for _ in range(cable["number"])]
    assert sum(areas) / (pi / 4 * 150**2) == pytest.approx(conduit_fill(cables, 150))
