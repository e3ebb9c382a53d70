"""Each bend by itself, against the route's own sums."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.formulas.mathematics import CannotTell
from builder.formulas.route import bend_radius_under_pull, route_tension
from builder.formulas.route_bends import bends_wide_enough

PULL = {"weight_per_length": 60.0, "friction": 0.4, "occupancy": 1.0, "feed_tension": 50.0}


def segments(radii: list[float]) -> list[dict]:
    """Straights of ten metres, each followed by a quarter turn."""
    route = []
    for radius in radii:
        route.append({"shape": "straight", "length": 10.0, "slope": 0.0, "turn": None, "radius": None})
        route.append({"shape": "bend_level", "length": None, "slope": None, "turn": 1.5708, "radius": radius})
    return route


def asked(route: list[dict], feed_end: str = "start", least: float = 0.3, limit: float = 4370.0, bore: float | None = 0.1) -> dict:
    return bends_wide_enough(route, PULL["weight_per_length"], PULL["friction"], PULL["occupancy"], PULL["feed_tension"], feed_end,
                             "single", bore, least, limit)


@given(st.lists(st.floats(0.2, 3), min_size=1, max_size=4), st.floats(0.05, 1))
def test_each_bend_is_held_against_its_own_pull(radii, least):
    """What a bend needs is the cable's radius or the pull there over the limit, and never the pull of another bend."""
    route = segments(radii)
    found = asked(route, least=least)
    stations = route_tension(route, *PULL.values(), "single", 0.1)["stations"]
    for row in found["bends"]:
        own = bend_radius_under_pull(stations[int(row["station"]) - 1]["from_start"], 4370.0, "single", 1.0)
        assert row["needed"] == pytest.approx(max(least, own))
        assert row["inside"] == pytest.approx(route[int(row["station"]) - 1]["radius"] - 0.05)
    tight = [row for row in found["bends"] if row["needed"] > row["inside"] * (1 + 1e-9)]
    assert len(tight) == found["tight_bends"]
    assert ("too_tight" if tight else "wide_enough") == found["verdict"]


def test_narrow_bend_is_found_though_it_is_not_the_one_pulled_hardest():
    """The smallest bend lies where the cable comes in with little pull, and is too tight all the same."""
    found = asked(segments([0.25, 2.0, 2.0]))
    assert ("too_tight", 1, 2) == (found["verdict"], found["tight_bends"], found["worst_bend"])


def test_wide_bend_is_too_tight_where_the_pull_is():
    """A bend wider than the cable asks for fails where the whole pull goes round it."""
    found = asked(segments([0.6, 0.6, 0.6, 0.6]))
    assert "too_tight" == found["verdict"]
    assert 8 == found["worst_bend"]
    assert found["bends"][0]["needed"] < found["bends"][0]["inside"]


def test_fed_from_the_other_end_another_bend_is_the_worst():
    """Turning the pull round moves the pull, and with it the bend that is too tight."""
    assert [8, 2] == [asked(segments([0.6, 0.6, 0.6, 0.6]), feed_end=end)["worst_bend"] for end in ("start", "end")]


@given(st.floats(0.3, 2), st.floats(1000, 2e4), st.floats(0, 5000))
def test_lower_limit_never_widens_a_bend(radius, limit, less):
    """A stricter pressure or a stiffer cable never turns too tight into wide enough."""
    route = segments([radius, radius])
    share = asked(route, limit=limit)["worst_share"]
    assert asked(route, limit=max(limit - less, 500.0))["worst_share"] >= share * (1 - 1e-12)
    assert asked(route, limit=limit, least=0.3 + less / 5000)["worst_share"] >= share * (1 - 1e-12)


@pytest.mark.parametrize("route", [[], segments([0.05])])
def test_no_route_and_bends_inside_their_conduit_have_no_answer(route):
    """Nothing is wide enough where there is nothing, or where the conduit is wider than its bend."""
    with pytest.raises(CannotTell):
        asked(route)
