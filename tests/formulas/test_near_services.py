"""Digging near services: the zone, the gap and the tape."""

from math import cos, hypot, pi, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.formulas.mathematics import CannotTell
from builder.formulas.near_services import digging_way, hand_digging_zone, marker_tape_depth, service_gap


def apart(x: float, first: tuple[float, float], second: tuple[float, float]) -> float:
    """Least distance between points of two circles (top and diameter of each), found by walking round both."""
    def points(shift: float, top: float, across: float) -> list[tuple[float, float]]:
        middle, radius = -top - across / 2, across / 2
        return [(shift + radius * cos(step * pi / 180), middle + radius * sin(step * pi / 180)) for step in range(0, 360, 2)]

    return min(hypot(a - c, b - d) for a, b in points(0, *first) for c, d in points(x, *second))


@pytest.mark.parametrize(
    ("offset", "service", "conduit"),
    [(0.8, (0.5, 0.2), (0.7, 0.11)), (0.0, (0.3, 0.1), (0.9, 0.16)), (1.5, (1.0, 0.6), (1.0, 0.05)), (0.4, (0.2, 0.1), (0.6, 0.1))],
)
def test_gap_is_the_least_distance_between_the_two(offset, service, conduit):
    """Walking round both circles finds no shorter way than the gap."""
    result = service_gap(offset, service[0], service[1], conduit[0], conduit[1], 0)
    assert apart(offset, service, conduit) == pytest.approx(result["gap"], rel=2e-3)
    assert result["gap"] >= max(result["level_gap"], result["upright_gap"]) - 1e-12


@given(st.floats(0, 3), st.floats(0, 3), st.floats(0.01, 1), st.floats(0, 3), st.floats(0.01, 0.5), st.floats(0, 1))
def test_doubt_about_the_service_never_widens_a_gap(offset, depth, across, conduit_depth, conduit, doubt):
    """Every gap is less by the doubt, and never less than none."""
    sure = service_gap(offset, depth, across, conduit_depth, conduit, 0)
    unsure = service_gap(offset, depth, across, conduit_depth, conduit, doubt)
    assert all(0 <= unsure[name] <= sure[name] for name in sure)
    assert unsure["gap"] == pytest.approx(max(sure["gap"] - doubt, 0), abs=1e-9)


@given(st.floats(0, 2), st.floats(0, 1), st.floats(0, 1))
def test_zone_holds_the_service_wherever_it_may_lie(width, tolerance, error):
    """A service as far out as its mark may be still has the whole tolerance on its outside."""
    zone = hand_digging_zone(width, tolerance, error)
    assert zone["each_side"] - (error + width / 2) == pytest.approx(tolerance)
    assert zone["zone"] == pytest.approx(2 * zone["each_side"])


# Network operator's sheet and the ribbon rule of the United States code, in millimetres: cover, tape above, tape below ground.
@pytest.mark.parametrize(("cover", "above", "depth"), [(450, 200, 250), (600, 250, 350), (457.2, 304.8, 152.4)])
def test_tape_lies_between_the_service_and_the_next_digger(cover, above, depth):
    """Tape and service are as far apart as the print wants."""
    assert depth == pytest.approx(marker_tape_depth(cover, above, 150))


def test_cover_too_thin_for_a_tape_says_so():
    """A cover of 300 mm with a tape 305 mm above is no tape at all."""
    for cover in (0.3, 0.4):
        with pytest.raises(CannotTell, match="no room for a tape"):
            marker_tape_depth(cover, 0.305, 0.15)


@given(st.floats(0, 5), st.floats(0, 1), st.floats(0, 1), st.floats(0, 2), st.floats(0, 1))
def test_nearer_or_less_sure_is_never_dug_more_boldly(gap, error, hand, watch, more):
    """Coming nearer, or knowing less, only ever takes the machine away."""
    order = {"machine": 0, "machine_watched": 1, "hand_or_vacuum": 2}
    here = order[digging_way(gap, error, hand, hand + watch)["way"]]
    assert order[digging_way(max(gap - more, 0), error, hand, hand + watch)["way"]] >= here
    assert order[digging_way(gap, error + more, hand, hand + watch)["way"]] >= here


def test_ground_that_may_hold_the_service_is_dug_by_hand():
    """Where the doubt reaches the bucket no zone of nought frees the machine."""
    assert "hand_or_vacuum" == digging_way(0.2, 0.3, 0, 0)["way"]
    with pytest.raises(CannotTell, match="at least as far"):
        digging_way(1, 0, 0.6, 0.3)
