"""Length, side pressure and better end of a route."""

from math import pi

import pytest

from builder.formulas.bundle import bend_share
from builder.formulas.mathematics import CannotTell
from builder.formulas.route import bend_radius_under_pull, route_length, route_tension, sidewall_pressure


def straight(length: float, slope: float = 0.0) -> dict:
    """A straight as the job lists it."""
    return {"shape": "straight", "length": length, "slope": slope, "turn": None, "radius": None}


def level_bend(turn: float, radius: float) -> dict:
    """A level bend as the job lists it."""
    return {"shape": "bend_level", "turn": turn, "radius": radius, "length": None, "slope": None}


def test_feeding_next_to_the_bend_is_the_better_end():
    """Lowest pull comes from feeding next to the worst bend (CommScope conduit manual p 40)."""
    result = route_tension([straight(100), level_bend(pi / 2, 1), straight(2)], 50, 0.5, 1, 0, "single", None)
    assert "end" == result["better_feed"]
    assert result["tension_from_end"] < result["tension_from_start"]


def test_feeding_from_the_high_end_is_the_better_end():
    """Lowest pull comes from the high end of a slope (CommScope conduit manual p 40)."""
    assert "end" == route_tension([straight(60, 0.4), straight(10)], 50, 0.5, 1, 0, "single", None)["better_feed"]


def test_side_pressure_is_taken_at_every_bend_of_the_better_direction():
    """A tight early bend can press harder than the last one, and the largest is named with its station."""
    route = [straight(100), level_bend(pi / 4, 0.5), straight(5), level_bend(pi / 4, 20)]
    result = route_tension(route, 50, 0.4, 1, 0, "single", None)
    leaving = "from_start" if result["better_feed"] == "start" else "from_end"
    by_bend = [result["stations"][index][leaving] / route[index]["radius"] for index in (1, 3)]
    assert max(by_bend) == pytest.approx(result["largest_bend_pressure"])
    assert (2, 4)[by_bend.index(max(by_bend))] == result["worst_bend"]


def test_side_pressure_uses_the_inside_of_the_bend():
    """The radius to the middle line less half the bore is what the cable bears on (statics)."""
    def largest(bore):
        return route_tension([level_bend(pi / 2, 1)], 1, 0.3, 1, 1000, "single", bore)["largest_bend_pressure"]

    assert 1 / 0.9 == pytest.approx(largest(0.2) / largest(None))


def test_bend_tighter_than_its_conduit_has_no_answer():
    """A bend whose inside radius vanishes gives no number."""
    with pytest.raises(CannotTell, match="tighter than its conduit"):
        route_tension([level_bend(pi / 2, 0.05)], 1, 0.3, 1, 1000, "single", 0.15)


def test_worst_cable_of_a_bundle_carries_its_share():
    """Route, side pressure and least radius all use one share of the pull."""
    share = bend_share("cradled", 1.2)
    route = route_tension([level_bend(pi / 2, 2)], 1, 0.3, 1.2, 1000, "cradled", None)
    assert route["tension"] * share / 2 == pytest.approx(route["largest_bend_pressure"])
    assert sidewall_pressure(route["tension"], 2, "cradled", 1.2) == pytest.approx(route["largest_bend_pressure"])
    assert 2 == pytest.approx(bend_radius_under_pull(route["tension"], route["largest_bend_pressure"], "cradled", 1.2))


@pytest.mark.parametrize(
    ("segment", "sentence"),
    [
        ({**straight(10), "length": None}, "no length"),
        ({**straight(10), "slope": None}, "no slope"),
        ({**level_bend(1, 1), "turn": None}, "no turn"),
        ({**level_bend(1, 1), "radius": None}, "no radius"),
    ],
)
def test_route_with_a_gap_in_it_has_no_answer(segment, sentence):
    """What a segment does not give is not guessed: no slope is not a level slope."""
    with pytest.raises(CannotTell, match=sentence):
        route_tension([straight(5), segment], 50, 0.5, 1, 0, "single", None)


def test_empty_route_has_no_answer():
    """A route without segments has neither length nor pull."""
    with pytest.raises(CannotTell, match="no segment"):
        route_length([])
    with pytest.raises(CannotTell, match="no segment"):
        route_tension([], 50, 0.5, 1, 0, "single", None)


def test_arcs_of_a_circle_are_its_circumference():
    """Four quarter bends of one radius are a full circle."""
    assert 2 * pi * 3 == pytest.approx(route_length([level_bend(pi / 2, 3)] * 4))
