"""The call while a cable is pulled, against a pull whose friction is known and that is integrated step by step by scipy."""

from math import cos, exp, radians, sin, sqrt

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from builder.compile.caller import call
from builder.compile.catalogue import signature_data
from builder.formulas.bundle import bend_share
from builder.formulas.mathematics import CannotTell
from builder.formulas.pull_call import pull_call
from tests.formulas.test_route import level_bend, straight

ROUTE = [straight(30), level_bend(radians(60), 1.5), straight(46), level_bend(radians(90), 1.2), straight(8, radians(20)), straight(12)]
PLANNED, WEIGHT, OCCUPANCY, FEED, BORE = 0.3, 40.0, 1.2, 60.0, 0.1
ALLOWED, SIDEWALL, MARGIN = 6000.0, 4000.0, 0.2
NOTHING = {"station": None, "tension": None, "people": None, "length": None, "known": None}


def at(station: int, tension: float | None = None, **more) -> dict:
    """What was read at a station."""
    return {**NOTHING, "station": station, "tension": tension, **more}


def called(readings: list[dict], *, allowed: float = ALLOWED, sidewall: float = SIDEWALL, margin: float = MARGIN, segments=ROUTE, feed_end="start") -> dict:
    """The call for a pull on the route, planned with the usual friction."""
    return pull_call(segments, [NOTHING, *readings], WEIGHT, PLANNED, OCCUPANCY, FEED, feed_end, "cradled", BORE, sidewall, allowed,
                     "rope", margin, 200.0, 0.05)


def travelled(segments: list[dict], friction: float, feed: float) -> list[list[float]]:
    """
    Pull at the head along each segment in turn, by equilibrium of a short piece and nothing else.

    On a straight weight and friction work along the way; in a level bend the wall bears weight and tension together.
    """
    grip, pulls, pull = friction * OCCUPANCY, [], feed
    for segment in segments:
        if segment["shape"] == "straight":
            rate, way = WEIGHT * (sin(segment["slope"]) + grip * cos(segment["slope"])), segment["length"]
            path = solve_ivp(lambda s, p, rate=rate: [rate if p[0] > 0 or rate > 0 else 0.0], (0, way), [pull], rtol=1e-9, atol=1e-9, max_step=way / 20)
        else:
            radius, way = segment["radius"], segment["turn"] * segment["radius"]
            path = solve_ivp(lambda s, p, radius=radius: [grip * sqrt((p[0] / radius) ** 2 + WEIGHT**2)], (0, way), [pull], rtol=1e-9, atol=1e-9, max_step=way / 20)
        pulls.append([max(one, 0.0) for one in path.y[0]])
        pull = pulls[-1][-1]
    return pulls


def limits(segments: list[dict], allowed: float, sidewall: float) -> list[float]:
    """Most pull on each segment: what is allowed, and in a bend what presses the worst cable as hard as it may be pressed."""
    share = bend_share("cradled", OCCUPANCY)
    return [allowed if one["shape"] == "straight" else min(allowed, sidewall * (one["radius"] - BORE / 2) / share) for one in segments]


@settings(max_examples=40)
@given(st.floats(0.05, 1.2), st.floats(0, 300), st.integers(1, 6))
def test_friction_met_and_forecast_are_those_of_the_pull(friction, feed, reached):
    """From readings at the mouth and at any station the friction of the simulated pull comes back, and its end is foretold."""
    ends = [segment[-1] for segment in travelled(ROUTE, friction, feed)]
    found = called([at(0, feed), at(reached, ends[reached - 1], known=0)], allowed=1e7, sidewall=1e5)
    assert friction == pytest.approx(found["met"], rel=1e-5)
    if friction >= PLANNED:
        assert ends[-1] == pytest.approx(found["tension_at_end"], rel=1e-4)
    else:
        assert found["tension_at_end"] >= ends[-1] * (1 - 1e-6)


@settings(max_examples=150)
@given(
    st.floats(0.05, 1.4), st.floats(0, 300), st.floats(500, 20000), st.floats(800, 20000), st.floats(0.1, 0.5),
    st.sets(st.integers(1, 6)), st.sampled_from(["start", "end"]),
)
def test_stop_is_called_before_the_pull_passes_a_limit(friction, feed, allowed, sidewall, margin, read, feed_end):
    """Whatever the true friction and wherever it is read: between the first reading and the stop no limit is passed anywhere."""
    segments = ROUTE if feed_end == "start" else list(reversed([{**one, "slope": None if one["slope"] is None else -one["slope"]} for one in ROUTE]))
    pulls, most = travelled(segments, friction, feed), limits(segments, allowed, sidewall)
    readings = [at(0, feed)]
    for station in sorted(read):
        readings.append(at(station, pulls[station - 1][-1], known=readings[-1]["station"]))
        found = called(readings, allowed=allowed, sidewall=sidewall, margin=margin, feed_end=feed_end)
        if found["call"] == "stop":
            return
        assert "cant_tell" != found["call"]
        if station < len(segments):
            assert max(pulls[station]) <= most[station] * (1 + 1e-9), found


@settings(max_examples=150)
@given(st.floats(0.05, 1.4), st.floats(500, 20000), st.lists(st.floats(-0.03, 0.03), min_size=6, max_size=6))
def test_stop_comes_in_time_on_a_gauge_that_is_three_per_cent_out(friction, allowed, errors):
    """The margin takes up what the gauge is out: read at every station, no limit is passed before the stop."""
    pulls, most = travelled(ROUTE, friction, FEED), limits(ROUTE, allowed, SIDEWALL)
    readings = [at(0, FEED)]
    for station, error in enumerate(errors, 1):
        readings.append(at(station, pulls[station - 1][-1] * (1 + error), known=station - 1))
        if called(readings, allowed=allowed)["call"] in ("stop", "cant_tell"):
            return
        if station < len(ROUTE):
            assert max(pulls[station]) <= most[station]


@given(st.floats(0.05, 0.29), st.integers(1, 6))
def test_quiet_pull_under_the_plan_goes_on(friction, reached):
    """Smoother than planned and far from every limit, the call is to go on, and the plan's friction is still reckoned with."""
    found = called([at(0, FEED), at(reached, travelled(ROUTE, friction, FEED)[reached - 1][-1], known=0)], allowed=1e6, sidewall=1e5)
    assert ("go_on", "planned", PLANNED) == (found["call"], found["friction_from"], found["reckoned_with"])


@given(st.integers(0, 6), st.floats(ALLOWED * (1 - MARGIN), 1e6))
def test_pull_over_the_line_is_a_stop_at_once(station, tension):
    """At any station, whatever was read before and however it contradicts: at the line it is a stop."""
    assert "stop" == called([at(0, 50.0), at(station, tension, known=6)])["call"]


def test_bend_ahead_rules_before_the_rope():
    """The pull into a tight bend is stopped at the station before it, and side pressure is named."""
    found = called([at(0, FEED), at(1, 900.0, known=0)], sidewall=600.0)
    assert ("stop", "next_too_much", 2, "sidewall") == tuple(found[one] for one in ("call", "because", "where", "ruled_by"))


def test_rougher_last_stretch_is_reckoned_with():
    """A pull that grows on the last stretch by more than the gauge's error raises the forecast above that of the whole way."""
    smooth = travelled(ROUTE, 0.1, FEED)
    rough = travelled([ROUTE[2]], 0.5, smooth[1][-1])[0][-1]
    found = called([at(0, FEED), at(2, smooth[1][-1], known=0), at(3, rough, known=2)])
    assert "stretch" == found["friction_from"]
    assert found["reckoned_with"] > found["met"]


@pytest.mark.parametrize(("readings", "because", "where"), [
    ([at(0, 60.0), at(2, 900.0, known=0), at(1, 500.0, known=2)], "out_of_order", 1),
    ([at(1, 500.0), at(1, 520.0)], "out_of_order", 1),
    ([at(1, 900.0), at(2, 700.0, known=1)], "falls", 2),
    ([at(1, 40.0)], "below_any", 1),
    ([at(1, 500.0), {**NOTHING, "length": 20.0, "known": 1}], "length_falls", 1),
    ([at(1, 500.0), {**NOTHING, "length": 60.0, "known": 1}], "passed_unread", 2),
])
def test_readings_that_contradict_each_other_give_no_call(readings, because, where):
    """Out of order, falling, less than a cable without friction takes, too little cable in, a station passed unread."""
    found = called(readings)
    assert ("cant_tell", because, where) == (found["call"], found["because"], found["where"])


def test_pull_that_no_friction_explains_is_a_stop():
    """A head that hangs on something stops the pull long before any limit."""
    found = called([at(0, FEED), at(1, 4000.0, known=0)])
    assert ("stop", "held", 1) == (found["call"], found["because"], found["where"])


@given(st.integers(1, 6), st.integers(1, 60))
def test_people_on_the_rope_never_say_go_on(station, people):
    """An estimate can call a stop; it never lets anybody go on."""
    assert called([at(station, people=float(people))])["call"] in ("not_measured", "stop")


def test_before_the_first_reading_nothing_is_known():
    """The plan is shown, nothing is met, and the call is that nothing is measured."""
    found = called([])
    assert ("not_measured", 0, 0, PLANNED) == (found["call"], found["reached"], found["met"], found["reckoned_with"])
    assert FEED == found["pull_now"]


@given(st.integers(1, 6), st.floats(100, 5000), st.floats(0.5, 1), st.floats(0, 0.3))
def test_tighter_limit_or_margin_never_eases_the_call(station, tension, tighter, wider):
    """What is a stop or a slow stays at least that when a limit tightens or the margin grows."""
    order = ["go_on", "ease_it", "stop"]
    here = called([at(0, FEED), at(station, tension, known=0)])
    assume(here["call"] in order)
    for other in (called([at(0, FEED), at(station, tension, known=0)], allowed=ALLOWED * tighter),
                  called([at(0, FEED), at(station, tension, known=0)], sidewall=SIDEWALL * tighter),
                  called([at(0, FEED), at(station, tension, known=0)], margin=MARGIN + wider)):
        assert order.index(other["call"]) >= order.index(here["call"])


@pytest.mark.parametrize(("readings", "sentence"), [
    ([at(1.5, 100.0)], "whole number"), ([at(7, 100.0)], "fewer stations"), ([at(1)], "neither pull nor people"),
])
def test_reading_of_no_real_station_has_no_answer(readings, sentence):
    """Half a station, one beyond the route, and one at which nothing was read are refused with a reason."""
    with pytest.raises(CannotTell, match=sentence):
        called(readings)


@pytest.mark.parametrize("tension", [float("nan"), float("inf"), -5.0, 2e6, "900"])
def test_absurd_reading_has_no_answer(tension):
    """What no gauge shows is refused before anything is reckoned."""
    given_ = {
        "segments": ROUTE, "readings": [at(1, tension)], "weight_per_length": WEIGHT, "friction": PLANNED, "occupancy": OCCUPANCY,
        "feed_tension": FEED, "feed_end": "start", "arrangement": "cradled", "bore": BORE, "sidewall_limit": SIDEWALL,
        "allowed_tension": ALLOWED, "allowed_by": "rope", "margin": MARGIN, "force_per_person": 200.0, "reading_error": 0.05,
    }
    with pytest.raises(CannotTell, match="row 1: tension"):
        call(pull_call, signature_data()["pull_call"], given_)


def test_level_bend_grows_by_the_belt_rule_where_weight_is_nothing_to_it():
    """The integration that all this is held against agrees with e to the power of friction times turn."""
    [bend] = travelled([level_bend(radians(90), 1.0)], 0.3, 50000.0)
    assert 50000 * exp(0.3 * OCCUPANCY * radians(90)) == pytest.approx(bend[-1], rel=1e-4)
