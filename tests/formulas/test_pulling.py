"""Limits, people and rollers of a pull."""

from math import cos, hypot, pi, radians, sin

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from builder.formulas.bundle import bend_share, conduit_fill, occupancy_factor, pulled_mass
from builder.formulas.mathematics import CannotTell
from builder.formulas.pulling import (
    allowed_tension,
    cable_length_needed,
    minimum_bending_radius,
    pulling_team,
    roller_load,
)
from builder.formulas.rope import hitch_points, rope_working_load
from builder.formulas.route import route_tension
from builder.places import ROOT
from builder.quantity import parse_quantity

POUND = 4.4482216152605


def policy(name: str) -> float:
    """A pulling figure of the shipped tables, in SI."""
    table = yaml.safe_load((ROOT / "checklists" / "tables" / "pulling-policy.yaml").read_text(encoding="utf-8"))
    return parse_quantity(str(table["values"][name]["value"])).si


def allowed(**changed):
    """Three 240 mm2 aluminium cables in a bend, with what the test changes."""
    given = {
        "area": 240e-6, "conductors": 3, "cables": 3, "sharing": 1, "stress": 30e6, "stress_family": "square_millimetre",
        "maker_limit": None, "attachment_limit": None, "attachment_family": "maker", "sidewall_limit": None,
        "smallest_radius": None, "arrangement": "cradled", "occupancy": 1.2, "rope_limit": None, **changed,
    }
    return allowed_tension(*given.values())


@pytest.mark.parametrize(
    ("changed", "tension", "ruled_by"),
    [
        ({}, 21600, "conductor"),
        ({"attachment_limit": 4450.0}, 4450, "attachment"),
        ({"sidewall_limit": 4370.0, "smallest_radius": 1.0}, 4370 / bend_share("cradled", 1.2), "sidewall"),
        ({"rope_limit": 2000.0, "attachment_limit": 4450.0}, 2000, "rope"),
        ({"maker_limit": 5000.0, "stress": None}, 15000, "maker"),
        ({"maker_limit": 9000.0}, 27000, "maker"),
    ],
)
def test_allowed_tension_names_what_rules(changed, tension, ruled_by):
    """The least limit rules and is named; the maker's stands before the table's even when it is higher."""
    result = allowed(**changed)
    assert ruled_by == result["ruled_by"]
    assert tension == pytest.approx(result["tension"])


def test_two_families_of_limits_are_never_mixed():
    """A stress per square millimetre with an attachment per circular mil has no answer (families differ by 29 and 43 %)."""
    with pytest.raises(CannotTell, match="two families"):
        allowed(attachment_limit=4450.0, attachment_family="circular_mil")


def test_bend_without_a_limit_on_side_pressure_has_no_answer():
    """A route with a bend is never judged without the drum's limit or the lowest published one."""
    with pytest.raises(CannotTell, match="no limit on side pressure"):
        allowed(smallest_radius=1.0)


def test_conductor_without_any_limit_has_no_answer():
    """No published figure and no maker's figure is no pass."""
    with pytest.raises(CannotTell, match="maker's pulling limit is required"):
        allowed(stress=None)


# Southwire tables 1 and 2: four count 0.8 each. Nexans Germany: three singles not laid up count as two.
def test_more_cables_do_not_share_fully():
    """Four of 500 kcmil carry 3.2 times one, and three loose singles carry twice one."""
    one = 500000 * 0.008 * POUND
    four = allowed(area=500000 * 5.067074790974977e-10, conductors=4, cables=4, sharing=0.8, stress=8 * 8778677.637013126)
    assert 3.2 * one == pytest.approx(four["tension"])
    assert 2 * 240 * 30 == pytest.approx(allowed(sharing=2 / 3)["tension"])


@given(st.floats(1, 1e5), st.floats(1, 1e5), st.floats(0.01, 1))
def test_allowed_tension_is_within_every_limit_given(attachment, rope, sharing):
    """Whatever rules, no other limit is passed."""
    tension = allowed(attachment_limit=attachment, rope_limit=rope, sharing=sharing)["tension"]
    assert tension <= min(attachment, rope, 240 * 30 * 3 * sharing) * (1 + 1e-12)


# HSE push and pull guideline: 150 N to start and 70 N to keep moving for a woman, 200 and 100 for a man.
@pytest.mark.parametrize(("start", "sustained", "people"), [(200, 100, (5, 10)), (150, 70, (7, 15))])
def test_team_of_a_kilonewton(start, sustained, people):
    """People who can start and who can keep up 1 kN by the guideline."""
    result = pulling_team(1000, start, sustained, 20)
    assert people == (result["people_to_start"], result["people_steady"])


@given(st.floats(0, 1e5), st.integers(1, 20))
def test_team_named_is_strong_enough_and_has_room(tension, most):
    """By hand or in heaves the team found can pull and find footing; else the winch is named."""
    result = pulling_team(tension, 200, 100, most)
    force = {"hand": 100, "heaves": 200, "winch": 100}[result["way"]]
    assert result["people"] * force >= tension * (1 - 2e-9)
    assert (result["people"] <= most) == (result["way"] != "winch")


@pytest.mark.parametrize("degrees", [0, 1, 30, 60, 90, 135, 179, 180])
def test_roller_load_is_the_sum_of_two_pulls(degrees):
    """Force and its direction are those of two pulls added as arrows (vector statics)."""
    turn = radians(degrees)
    arrow = (cos(turn) - 1, sin(turn))
    result = roller_load(1000, turn)
    assert 1000 * hypot(*arrow) == pytest.approx(result["force"], abs=1e-9)
    between = result["direction"]
    assert arrow[0] * cos(turn) + arrow[1] * sin(turn) == pytest.approx(hypot(*arrow) * cos(between), abs=1e-9)
    assert -arrow[0] == pytest.approx(hypot(*arrow) * cos(between), abs=1e-9)


def test_radius_is_the_larger_of_setting_and_pressure():
    """A radius allowed for setting is not enough where side pressure asks for more (Okonite: training radii do not cover pulling)."""
    assert {"radius": 0.24, "ruled_by": "table"} == minimum_bending_radius(0.04, 6, None, 0.2)
    assert {"radius": 0.5, "ruled_by": "pressure"} == minimum_bending_radius(0.04, 6, None, 0.5)
    assert {"radius": 0.5, "ruled_by": "pressure"} == minimum_bending_radius(0.04, 6, 0.3, 0.5)


def test_radius_without_maker_or_table_has_no_answer():
    """An unknown cable has no radius, even where the pressure has one."""
    with pytest.raises(CannotTell, match="maker's bending radius is required"):
        minimum_bending_radius(0.04, None, None, 0.5)


def test_slack_is_counted_on_the_route():
    """Cable needed is route with slack and both tails (hand)."""
    assert 46 * 1.03 + 5.5 == pytest.approx(cable_length_needed(46, 2.5, 3, 0.03))


def pull_of_the_practice(conductor_mass: float) -> float:
    """Pull of four 500 mm2 singles of this mass and a 150 mm2 earth through thirty straight metres of greased 150 mm conduit."""
    weight = pulled_mass([{"mass": conductor_mass, "number": 4}, {"mass": 0.6, "number": 1}])["weight_per_length"]
    occupancy = occupancy_factor("mixed", 0.038, 0.15, policy("mixed_factor"))
    route = [{"shape": "straight", "length": 30, "slope": 0, "turn": None, "radius": None}]
    return route_tension(route, weight, 0.35, occupancy, policy("feed_tension"), "mixed", 0.15)["tension"]


# Mass of a flexible single: its metal (8890 or 2703 kg/m3) and 0.45 kg/m of insulation.
ALUMINIUM, COPPER = 2703 * 500e-6 + 0.45, 8890 * 500e-6 + 0.45


def test_small_crew_can_pull_what_small_crews_pull():
    """Four flexible aluminium singles and their earth go in by hand, with about six on the rope and six hitches (practice)."""
    pull = pull_of_the_practice(ALUMINIUM)
    team = pulling_team(pull, policy("person_start"), policy("person_sustained"), policy("most_people"))
    head = hitch_points(pull, *(policy(name) for name in ("load_per_hitch", "least_hitches", "uneven_share", "hitch_limit")))
    assert team["way"] in ("hand", "heaves")
    assert team["people"] <= 6
    assert "hitches" == head["attachment"]
    assert 5 <= head["count"] <= 7
    assert head["equal_load"] <= 200 < head["worst_load"] <= policy("hitch_limit")
    # Far below what any conductor rule allows four 500 mm2 conductors, so the limit here is people and rope.
    assert pull < 0.1 * allowed(area=500e-6, conductors=4, cables=4, sharing=2 / 3)["tension"]
    assert pull <= rope_working_load(10000, policy("rope_factor"))


def test_conduit_of_that_pull_is_filled_well_under_any_limit():
    """Four cables of 38 mm and one of 22 mm take less than a third of a 150 mm bore, where the tightest rule allows 35 % (practice)."""
    fill = conduit_fill([{"diameter": 0.038, "number": 4}, {"diameter": 0.022, "number": 1}], 0.15)
    assert 0.278 == pytest.approx(fill, abs=1e-3)


def test_copper_of_that_area_is_clearly_harder():
    """The same pull in copper takes twice the force and more, a bigger team, and a grip instead of hitches (practice)."""
    aluminium, copper = pull_of_the_practice(ALUMINIUM), pull_of_the_practice(COPPER)
    assert copper > 2 * aluminium
    assert "grip" == hitch_points(copper, *(policy(name) for name in ("load_per_hitch", "least_hitches", "uneven_share", "hitch_limit")))["attachment"]
    people = [pulling_team(pull, policy("person_start"), policy("person_sustained"), policy("most_people"))["people_to_start"]
              for pull in (aluminium, copper)]
    assert people[1] >= 2 * people[0]


@given(st.floats(0.2, 20), st.floats(1, 3))
def test_heavier_cable_never_lowers_the_pull(mass, times):
    """A heavier cable through the same conduit is never easier."""
    assert pull_of_the_practice(mass) <= pull_of_the_practice(mass * times)


def test_straight_angle_of_pi_doubles_the_pull():
    """A rope turned back on itself loads its roller with twice the pull (limit)."""
    assert 2 == roller_load(1, pi)["force"]
