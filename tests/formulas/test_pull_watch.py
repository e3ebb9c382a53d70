"""The pull while it runs, against the pull along the whole route."""

from math import pi

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from builder.compile.caller import call
from builder.compile.catalogue import signature_data
from builder.formulas.mathematics import CannotTell
from builder.formulas.pull_watch import friction_met, pull_forecast, stop_call
from builder.formulas.route import route_tension
from tests.formulas.test_route import level_bend, straight

ROUTE = [straight(30), level_bend(pi / 3, 1.5), straight(46), level_bend(pi / 2, 2), straight(8, 0.5), straight(12, -0.3)]


def any_segment() -> st.SearchStrategy:
    """A straight on any slope, or a bend of any shape."""
    def bend(shape, turn, radius):
        return {"shape": shape, "turn": turn, "radius": radius, "length": None, "slope": None}

    shapes = st.sampled_from(["bend_level", "sag_rising", "crest_rising", "sag_falling", "crest_falling"])
    return st.builds(straight, st.floats(0.5, 200), st.floats(-1.5, 1.5)) | st.builds(bend, shapes, st.floats(0.02, pi / 2), st.floats(0.1, 10))


def pulls(segments: list[dict], friction: float, feed: float, feed_end: str) -> list[float]:
    """Pull at every station in the order in which the head passes them, by the formula for the whole route."""
    stations = route_tension(segments, 40, friction, 1.2, feed, "cradled", None)["stations"]
    if feed_end == "start":
        return [station["from_start"] for station in stations]
    return [station["from_end"] for station in reversed(stations)]


@settings(max_examples=60)
@given(st.lists(any_segment(), min_size=1, max_size=6), st.floats(0.02, 1.2), st.floats(0, 0.3), st.floats(0, 2000), st.sampled_from(["start", "end"]))
def test_more_friction_never_lowers_a_pull(segments, friction, more, feed, feed_end):
    """At every station of any route, fed from either end, a rougher way pulls as hard or harder."""
    assume(max(pulls(segments, friction + more, feed, feed_end)) < 1e12)
    for smooth, rough in zip(pulls(segments, friction, feed, feed_end), pulls(segments, friction + more, feed, feed_end), strict=True):
        assert rough >= smooth * (1 - 1e-9) - 1e-9


@pytest.mark.parametrize("feed_end", ["start", "end"])
@pytest.mark.parametrize("friction", [0.05, 0.2, 0.35, 0.6, 1.1])
def test_friction_comes_back_from_every_station(friction, feed_end):
    """The pull that a friction makes at a station, read backwards, is that friction."""
    for passed, tension in enumerate(pulls(ROUTE, friction, 50, feed_end), 1):
        assert friction == pytest.approx(friction_met(ROUTE, 40, 1.2, 50, feed_end, passed, tension), rel=1e-6)


@pytest.mark.parametrize("feed_end", ["start", "end"])
def test_forecast_is_the_rest_of_the_route(feed_end):
    """From any station on, friction met and pull measured lead to the pull that the whole route has at its end."""
    whole = pulls(ROUTE, 0.4, 50, feed_end)
    for passed, tension in enumerate(whole, 1):
        forecast = pull_forecast(ROUTE, 40, 0.4, 1.2, feed_end, passed, tension)
        assert whole[-1] == pytest.approx(forecast["tension_at_end"])
        assert max(whole[passed - 1:]) == pytest.approx(forecast["highest_tension"])


@given(st.floats(0.05, 1.2), st.floats(1.0, 1.5), st.integers(1, 6))
def test_pull_above_plan_never_forecasts_less(friction, harder, passed):
    """A harder reading at a station means more friction met and more pull to come."""
    planned = pulls(ROUTE, friction, 50, "start")
    assume(harder * planned[passed - 1] < pulls(ROUTE, 1.5, 50, "start")[passed - 1])
    met = friction_met(ROUTE, 40, 1.2, 50, "start", passed, harder * planned[passed - 1])
    assert met >= friction * (1 - 1e-9)
    forecast = pull_forecast(ROUTE, 40, met, 1.2, "start", passed, harder * planned[passed - 1])
    assert forecast["tension_at_end"] >= planned[-1] * (1 - 1e-9)


def test_pull_that_no_friction_explains_calls_for_a_stop():
    """A cable that is held somewhere gives no friction to plan with: the reason says to stop."""
    with pytest.raises(CannotTell, match="stop, and find what holds"):
        friction_met(ROUTE, 40, 1.2, 50, "start", 2, 50000)


def test_pull_below_no_friction_doubts_the_gauge():
    """A gauge that shows less than a frictionless cable takes is not believed."""
    with pytest.raises(CannotTell, match="check the gauge"):
        friction_met([straight(50, 0.8)], 40, 1, 50, "start", 1, 100)


@pytest.mark.parametrize(("passed", "sentence"), [(1.5, "whole number"), (7, "fewer stations")])
def test_station_that_is_not_there_has_no_answer(passed, sentence):
    """Neither half a station nor one beyond the route is passed."""
    with pytest.raises(CannotTell, match=sentence):
        friction_met(ROUTE, 40, 1.2, 50, "start", passed, 500)
    with pytest.raises(CannotTell, match=sentence):
        pull_forecast(ROUTE, 40, 0.3, 1.2, "start", passed, 500)


def test_pull_without_a_reading_has_no_call():
    """No gauge, no call: nothing is taken for granted."""
    with pytest.raises(CannotTell, match="Measured tension is not given"):
        call(stop_call, signature_data()["stop_call"], {"forecast_tension": 1.0, "allowed_tension": 10.0, "margin": 0.2})


@given(st.floats(0, 2e4), st.floats(0, 2e4), st.floats(100, 2e4), st.floats(0.01, 0.5), st.floats(0.5, 1))
def test_stop_comes_before_the_limit_and_stays_when_it_tightens(measured, forecast, allowed, margin, tighter):
    """The call is a stop before the allowed pull is reached, and no smaller limit or wider margin turns it back."""
    order = ["go_on", "ease_it", "stop"]
    here = stop_call(measured, forecast, allowed, margin)
    assert here["stop_at"] < allowed
    assert ("stop" == here["call"]) == (measured >= here["stop_at"] * (1 - 1e-9))
    for change in (stop_call(measured, forecast, allowed * tighter, margin), stop_call(measured, forecast, allowed, margin + 0.1)):
        assert order.index(change["call"]) >= order.index(here["call"])
