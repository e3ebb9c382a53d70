"""Pull through bends and slopes against the equilibrium of a cable, integrated step by step by scipy."""

from math import cos, exp, pi, radians, sin, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from builder.formulas.mathematics import CannotTell
from builder.formulas.route import route_tension

# Angle of travel at the start and at the end of a bend of one radian, rising positive.
ENDS = {"sag_rising": (0, 1), "sag_falling": (-1, 0), "crest_rising": (1, 0), "crest_falling": (0, -1)}


def bend(shape: str, turn: float, radius: float) -> dict:
    """A bend as the job lists it."""
    return {"shape": shape, "turn": turn, "radius": radius, "length": None, "slope": None}


def straight(length: float, slope: float) -> dict:
    """A straight as the job lists it."""
    return {"shape": "straight", "length": length, "slope": slope, "turn": None, "radius": None}


def pulled(segments: list, weight: float, friction: float, feed: float, occupancy: float = 1.0) -> dict:
    """The route's pull for one cable on rollers."""
    return route_tension(segments, weight, friction, occupancy, feed, "single", None)


def integrated(shape: str, feed: float, weight: float, radius: float, friction: float, turn: float) -> float:
    """
    Pull leaving a bend in a vertical plane, from forces on a short piece and nothing else.

    Across the cable: the wall gives what tension times curvature and weight leave over, on
    whichever side. Along it: weight and friction. No pull below none.
    """
    start, end = (side * turn for side in ENDS[shape])
    curvature = (1 if end > start else -1) / radius

    def grows(s, pull):
        tension = max(pull[0], 0.0)
        angle = start + curvature * s
        wall = abs(tension * curvature - weight * cos(angle))
        rate = weight * sin(angle) + friction * wall
        return [rate if tension > 0 or rate > 0 else 0.0]

    arc = radius * turn
    path = solve_ivp(grows, (0, arc), [feed], rtol=1e-8, atol=1e-8, max_step=arc / 700)
    return max(path.y[0][-1], 0.0)


CASES = [
    (feed, 60, 1.5, 0.35, turn) for feed in (0, 20, 60, 90, 120, 3000) for turn in (30, 90)
] + [(200, 100, 3.0, 0.2, 60), (5, 80, 2.0, 0.9, 90), (260, 90, 3.0, 0.15, 90)]


@pytest.mark.parametrize("shape", ENDS)
@pytest.mark.parametrize(("feed", "weight", "radius", "friction", "turn"), CASES)
def test_vertical_bend_agrees_with_integration(shape, feed, weight, radius, friction, turn):
    """Lying, riding, changing wall or sliding by itself, the bend gives what the integration gives."""
    expected = integrated(shape, feed, weight, radius, friction, radians(turn))
    actual = pulled([bend(shape, radians(turn), radius)], weight, friction, feed)["tension_from_start"]
    assert expected == pytest.approx(actual, rel=2e-5, abs=2e-3 * weight * radius)


@pytest.mark.parametrize("feed", [0, 10, 500, 4000])
def test_level_bend_agrees_with_integration(feed):
    """Weight on the floor and pull on the inner wall add as a right angle, and the belt is integrated."""
    weight, radius, friction, turn = 60, 1.5, 0.35, pi / 2
    path = solve_ivp(
        lambda angle, pull: [friction * sqrt(pull[0] ** 2 + (weight * radius) ** 2)],
        (0, turn), [feed], rtol=1e-10, atol=1e-10,
    )
    assert path.y[0][-1] == pytest.approx(pulled([bend("bend_level", turn, radius)], weight, friction, feed)["tension"])


def test_level_bend_takes_the_full_form_and_not_the_belt_alone():
    """A bend at the drum without any feed gives 52 N where the belt form gives none (trap of the short form)."""
    weight, radius, friction, turn = 60, 1.5, 0.35, pi / 2
    assert 52.0106 == pytest.approx(pulled([bend("bend_level", turn, radius)], weight, friction, 0)["tension"], rel=1e-5)


# Printed ratios of full to belt form for 90 degrees: under 0.9 % at 5, 0.23 % at 10, 0.06 % at 20 weights of a radius.
@pytest.mark.parametrize(("weights", "excess"), [(5, 0.009), (10, 0.0023), (20, 0.0006)])
@pytest.mark.parametrize("friction", [0.2, 0.45, 0.7])
def test_full_form_comes_near_the_belt_form_when_pull_is_high(weights, excess, friction):
    """The weight in a bend matters less the higher the pull is."""
    full = pulled([bend("bend_level", pi / 2, 1)], 1, friction, weights)["tension"]
    assert 0 < full / (weights * exp(friction * pi / 2)) - 1 < excess


def test_closed_form_of_one_wall_is_not_used_where_the_cable_lies():
    """At 20 N into a sag of 60 N/m the cable lies first: 138.8 N, and not the 100.5 N of the closed form."""
    actual = pulled([bend("sag_rising", pi / 2, 1.5)], 60, 0.35, 20)["tension_from_start"]
    assert 138.8 == pytest.approx(actual, abs=0.05)
    assert 100.5 != pytest.approx(actual, rel=0.1)


def test_bend_up_or_down_past_a_quarter_turn_is_refused():
    """Past vertical the wall model no longer holds, so there is no number."""
    with pytest.raises(CannotTell, match="90 degrees at most"):
        pulled([bend("sag_rising", radians(100), 1)], 60, 0.35, 100)


@pytest.mark.parametrize("slope", [-60, -20, -5, 0, 15, 90])
def test_slope_agrees_with_the_balance_of_forces(slope):
    """Along a slope weight pulls one way and friction the other, and the pull is never below none."""
    weight, friction, length, feed = 50, 0.3, 40, 300
    raw = feed + length * weight * (sin(radians(slope)) + friction * cos(radians(slope)))
    assert max(raw, 0) == pytest.approx(pulled([straight(length, radians(slope))], weight, friction, feed)["tension_from_start"])


@pytest.mark.parametrize("shape", ["sag_falling", "crest_falling"])
def test_bend_in_which_the_cable_runs_by_itself_calls_for_the_brake(shape):
    """A steep fall with little friction runs away inside the bend, and the route says so."""
    result = pulled([bend(shape, pi / 2, 2)], 60, 0.05, 0)
    assert "needed" == result["braking_from_start"]


def test_gentle_fall_needs_no_brake():
    """Where friction holds the cable, no brake is called for (slope below the angle of friction)."""
    assert "not_needed" == pulled([straight(50, radians(-10))], 60, 0.3, 0)["braking_from_start"]


shapes = st.sampled_from(["bend_level", *ENDS])
level_routes = st.lists(
    st.one_of(
        st.builds(straight, st.floats(0.1, 200), st.just(0.0)),
        st.builds(bend, st.just("bend_level"), st.floats(0.01, pi), st.floats(0.2, 10)),
    ),
    min_size=1, max_size=6,
)
routes = st.lists(
    st.one_of(
        st.builds(straight, st.floats(0.1, 200), st.floats(-pi / 2, pi / 2)),
        st.builds(bend, shapes, st.floats(0.01, pi / 2), st.floats(0.2, 10)),
    ),
    min_size=1, max_size=6,
)
weights, frictions, feeds = st.floats(1, 500), st.floats(0.02, 1.0), st.floats(0, 3000)


@settings(deadline=None, max_examples=60)
@given(level_routes, weights, frictions, feeds)
def test_pull_never_falls_along_a_level_route(route, weight, friction, feed):
    """On the level every metre and every bend adds."""
    pulls = [feed, *(row["from_start"] for row in pulled(route, weight, friction, feed)["stations"])]
    assert pulls == sorted(pulls)


@settings(deadline=None, max_examples=60)
@given(routes, weights, frictions, feeds, st.floats(1.0, 2.0))
def test_more_friction_or_feed_never_lowers_the_pull(route, weight, friction, feed, times):
    """More friction, a tighter bundle or a harder brake at the drum can only raise the pull."""
    least = pulled(route, weight, friction, feed)["tension_from_start"]
    slack = 1e-9 * (1 + least)
    assert least <= pulled(route, weight, friction * times, feed)["tension_from_start"] + slack
    assert least <= pulled(route, weight, friction, feed, occupancy=times)["tension_from_start"] + slack
    assert least <= pulled(route, weight, friction, feed * times)["tension_from_start"] + slack


@settings(deadline=None, max_examples=60)
@given(routes, weights, frictions, feeds)
def test_other_direction_is_the_mirrored_route(route, weight, friction, feed):
    """Fed from the end a rise is a fall and the listed order turns round."""
    turned = {"sag_rising": "sag_falling", "sag_falling": "sag_rising", "crest_rising": "crest_falling", "crest_falling": "crest_rising"}
    mirrored = [
        {**segment, "shape": turned.get(segment["shape"], segment["shape"]), "slope": None if segment["slope"] is None else -segment["slope"]}
        for segment in reversed(route)
    ]
    there, back = pulled(route, weight, friction, feed), pulled(mirrored, weight, friction, feed)
    assert (there["tension_from_end"], there["braking_from_end"]) == (back["tension_from_start"], back["braking_from_start"])


@settings(deadline=None, max_examples=60)
@given(routes, weights, frictions, feeds)
def test_pull_is_never_negative_and_the_better_end_is_named(route, weight, friction, feed):
    """No station is below none, and the named end is the one with the lower pull."""
    result = pulled(route, weight, friction, feed)
    assert all(row["from_start"] >= 0 and row["from_end"] >= 0 for row in result["stations"])
    assert min(result["tension_from_start"], result["tension_from_end"]) == result["tension"]
    assert result["tension"] == result["tension_from_start" if result["better_feed"] == "start" else "tension_from_end"]


@settings(deadline=None, max_examples=40)
@given(st.floats(0, 400), st.floats(0.05, 0.9), st.floats(0.1, pi / 2), st.floats(0.1, 0.9))
def test_level_bend_cut_in_two_is_the_whole(feed, friction, turn, part):
    """A level bend listed as two gives the pull of the whole bend."""
    whole = pulled([bend("bend_level", turn, 2)], 50, friction, feed)["tension"]
    cut = pulled([bend("bend_level", turn * part, 2), bend("bend_level", turn * (1 - part), 2)], 50, friction, feed)["tension"]
    assert whole == pytest.approx(cut, rel=1e-9, abs=1e-9)
