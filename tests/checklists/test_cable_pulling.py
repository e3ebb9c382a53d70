"""Claims about pulling a cable that the good crew of the demo does not meet."""

import pytest

from builder.compile.evaluate import Environment
from tests.checklists.worked_sheets import applied, sheet_called, steps_of, verdict, worked

CABLE = "cable-pulling/prove-the-pull/R1"
FIVE_CABLES = "cable-pulling/before-the-pull/R4"
PULL = "cable-pulling/pull"


@pytest.mark.parametrize(("reading", "said"), [("1400", "within"), ("700", "outside")])
def test_screened_cable_that_reads_less_as_it_is_held_is_outside(reading: str, said: str, job: dict) -> None:
    """From 900 after half a minute it rises or it is on its way to a fault."""
    job["cables"]["AL300"]["values"]["construction"] = "screened"
    assert said == verdict(job, CABLE, "screen-one-minute", {"screen-one-minute": reading})


def test_each_conduit_of_the_demo_holds_a_whole_circuit(job: dict) -> None:
    """Three phases with their neutral and an earth are five cores, whichever line of the job they stand in."""
    for run in ("R1", "R2"):
        lies = [(cable["number"], cable["area"]) for cable in job["items"]["run"][run]["values"]["cables"]]
        assert [(4, pytest.approx(300e-6)), (1, pytest.approx(95e-6))] == lies
        found = [verdict(job, f"cable-pulling/prove-the-pull/{run}", "core-to-core", {"core-to-core": count}) for count in ("5", "4")]
        assert ["within", "outside"] == found


def test_a_thinner_core_is_not_held_to_the_resistance_of_a_thicker(job: dict) -> None:
    """Out and back is measured on two of the thick ones; where there is but one of them, nobody is asked."""
    assert "two of the thickest" in steps_of(job, "cable-pulling/prove-the-pull")["loop-resistance"]["say"]
    # 72 m there through the phase and back through the earth: 21 mohm where two phases have 14.
    assert "outside" == verdict(job, CABLE, "loop-resistance", {"loop-resistance": "21"})
    job["items"]["run"]["R1"]["values"]["number"] = 1
    assert [False] == applied(job, CABLE, {}, "loop-resistance")


def test_another_sort_in_the_pull_that_bears_less_stops_it(job: dict) -> None:
    """The sums are for the first sort; where all are alike nobody is asked."""
    before = "cable-pulling/before-the-pull"
    assert ["within", "outside"] == [verdict(job, f"{before}/R1", "others-bear-it", {"others-bear-it": said}) for said in ("each-bears-it", "one-bears-less")]
    assert [[True], [False], [False]] == [applied(job, f"{before}/{run}", {}, "others-bear-it") for run in ("R1", "R3", "R4")]


def test_single_cores_of_a_battery_are_cleated_for_its_short(job: dict) -> None:
    """Plus and minus throw each other apart as phases do: the distance is read off the drawing and held; a multicore cable is asked for neither."""
    pull = "cable-pulling/pull"
    asked = ("cleat-together", "cleat-poles", "cleats-apart", "cleat")
    found = {run: applied(job, f"{pull}/{run}", {}, *asked) for run in ("R1", "R4", "R5")}
    assert {"R1": [True, False, True, False], "R4": [False, True, True, False], "R5": [False, False, False, True]} == found
    assert "outside" == verdict(job, f"{pull}/R4", "cleats-apart", {"cleats-apart": "700"})


def test_room_over_the_cables_is_asked_where_it_can_be_worked_out(job: dict) -> None:
    """Cables in no set order are judged by the fill; no sheet shows a working that can't be told."""
    assert [[False], [True]] == [applied(job, f"cable-pulling/conduit/{run}", {}, "room-above") for run in ("R1", "R3")]
    job["items"]["run"]["R3"]["values"]["bore"] = 0.06
    assert "outside" == verdict(job, "cable-pulling/conduit/R3", "room-above", {"bore-measured": "60", "room-above": "30"})


def test_nobody_looks_for_pits_along_a_tray(job: dict) -> None:
    """Its air is that of the hall; on rollers in the ground and in a conduit the pits are counted."""
    assert [[True], [True], [False]] == [applied(job, f"{PULL}/{run}", {}, "pits-manned") for run in ("R1", "R4", "R5")]


def test_a_tray_bears_what_is_laid_on_it(job: dict) -> None:
    """The fan cable weighs 1.8 kg/m; a bed of rollers on the ground has no span."""
    found = [verdict(job, "cable-pulling/open-route/R5", "tray-may", {"tray-may": left}) for left in ("1.8", "1.7")]
    assert ["within", "outside"] == found
    assert [False] == applied(job, "cable-pulling/open-route/R4", {}, "tray-may")


def test_the_sheave_at_the_mouth_holds_more_than_the_rope(job: dict) -> None:
    """At 3 kN a square corner puts 4.24 kN on it, twice that is asked; a rope that runs straight has none."""
    before = "cable-pulling/before-the-pull/R1"
    assert ["within", "outside"] == [verdict(job, before, "sheave-rating", {"sheave-rating": rating}) for rating in ("8.5", "8.4")]
    assert [False, False] == applied(job, before, {"rope-leads": "straight-to-the-winch"}, "sheave-turn", "sheave-rating")


def test_bends_between_pull_points_are_added_up_where_the_code_counts_them(job: dict) -> None:
    """Four quarter bends and no more in the United States; elsewhere the pull itself decides."""
    conduit = "cable-pulling/conduit/R3"
    assert [False] == applied(job, conduit, {}, "turns-between")
    job["job"]["practice"] = "us"
    assert ["within", "outside"] == [verdict(job, conduit, "turns-between", {"turns-between": turns}) for turns in ("360", "361")]


def test_nobody_takes_hold_of_a_cable_that_was_tested(job: dict) -> None:
    """Each test discharges before the leads move, and a meter says that it is empty before the ends are capped."""
    steps = {step["name"]: step for step in job["tasks"]["cable-pulling/prove-the-pull"]["steps"]}
    tests = ("insulation-between", "insulation-to-earth", "sheath", "screen-half-minute")
    assert [] == [name for name in tests if "discharge it" not in steps[name]["say"].lower()]
    names = list(steps)
    assert max(names.index(name) for name in tests) < names.index("discharge") < names.index("charge-left") < names.index("cap-again")
    assert "outside" == verdict(job, CABLE, "charge-left", {"charge-left": "6"})


def test_sheath_is_tested_where_there_is_a_screen_and_nowhere_else(job: dict) -> None:
    """Nobody reads of a sheath on a cable without screen or armour: it has nothing to be tested against."""
    assert "outside" == verdict(job, "cable-pulling/prove-the-pull/R3", "sheath", {"sheath": "1"})
    sheet = sheet_called(job, CABLE)
    assert not Environment(job, sheet, worked(job, sheet)).step("sheath")["applies"]
    job["cables"]["AL300"]["values"]["construction"] = "screened"
    assert "outside" == verdict(job, CABLE, "sheath", {"sheath": "1"})
    screened = sheet_called(job, CABLE)
    assert not Environment(job, screened, worked(job, screened, {"sheath-asked": "not-asked-for"})).step("sheath")["applies"]


def test_a_drum_from_the_frost_stands_a_day_in_the_warm(job: dict) -> None:
    """Sun on the jacket hides a core from a night at -12; a mild night asks for no warm place at all."""
    sheet = sheet_called(job, "cable-pulling/before-the-pull/R2")
    frost = {"cable-temperature": "16", "coldest-night": "-12"}
    assert "within" == verdict(job, sheet["id"], "hours-warm", frost)
    assert "outside" == verdict(job, sheet["id"], "hours-warm", frost | {"hours-warm": "6"})
    assert "outside" == verdict(job, sheet["id"], "warm-air", frost | {"warm-air": "10"})
    mild = Environment(job, sheet, worked(job, sheet, {"cable-temperature": "8", "coldest-night": "5"}))
    assert not mild.step("hours-warm")["applies"] and "within" == mild.step("cable-temperature")["verdict"]


def test_one_core_alone_has_no_other_to_be_tested_against(job: dict) -> None:
    """Nobody is asked for the insulation between cores, or for out and back, where there is one core."""
    environment = Environment(job, sheet_called(job, CABLE), worked(job, sheet_called(job, CABLE)))
    assert [True, True] == [environment.step(name)["applies"] for name in ("insulation-between", "loop-resistance")]
    job["items"]["run"]["R1"]["values"] |= {"cores_in_all": 1, "number": 1}
    alone = Environment(job, sheet_called(job, CABLE), worked(job, sheet_called(job, CABLE)))
    assert [False, False, True] == [alone.step(name)["applies"] for name in ("insulation-between", "loop-resistance", "insulation-to-earth")]


def test_a_drum_tested_this_week_is_not_tested_again(job: dict) -> None:
    """Untouched since, the value on arrival still speaks; a drum that was moved is tested like a new one."""
    sheet = sheet_called(job, "cable-pulling/before-the-pull/R3")
    asked = {when: Environment(job, sheet, worked(job, sheet, {"drum-tested": when})).step("drum-insulation")["applies"]
             for when in ("within-a-week", "longer-ago", "not-yet")}
    assert {"within-a-week": False, "longer-ago": True, "not-yet": True} == asked


def test_straight_rollers_have_no_corner_and_a_bend_on_the_drawing_has_one(job: dict) -> None:
    """Without corners nobody is asked for a roller's rating, and nobody can say that there are none where the job has two."""
    sheet = sheet_called(job, "cable-pulling/open-route/R5")
    assert "outside" == verdict(job, sheet["id"], "corners", {"corners": "1"})
    run = job["items"]["run"]["R5"]["values"]
    run["route"] = [segment for segment in run["route"] if segment["shape"] == "straight"]
    straight = Environment(job, sheet, worked(job, sheet, {"corners": "0"}))
    assert "within" == straight.step("corners")["verdict"]
    assert [] == [name for name in ("corner-radius", "corner-turn", "roller-rating", "anchor", "sling-rating") if straight.step(name)["applies"]]


@pytest.mark.parametrize(
    ("run", "step", "instead"),
    [
        # The drum was turned round: 3.3 kN where the grip and the bends bear 3 kN.
        ("R3", "rope-tag", {"feeds_from": "start"}),
        ("R3", "rope-tag", {"head_tag": "0.2"}),
        ("R3", "rope-tag", {"rope_tag": "10"}),
        ("R3", "cut-out-now", {"head_tag": "1", "cut_out_now": "1.5"}),
        # Six people at 200 N, and a jacket that bears 1 kN under its hitches.
        ("R4", "hands-now", {"hands_now": "6"}),
        ("R5", "rope-tag", {"jacket_bears": "0.4"}),
        ("R1", "pits-quiet", {"pits_manned": "2", "pits_quiet": "1"}),
    ],
)
def test_what_hangs_on_the_rope_is_judged_before_anybody_says_go(run, step, instead, job):
    """Rope, head, end, winch, people and air as they are now; nothing of it waits until the cable is in."""
    assert "within" == verdict(job, f"{PULL}/{run}", step)
    assert "outside" == verdict(job, f"{PULL}/{run}", step, **instead)
    names = list(steps_of(job, PULL))
    assert names.index(step) < names.index("go")


def test_more_people_is_not_always_better(job):
    """Too few can't start it; too many pull it apart or trip over each other."""
    found = {count: verdict(job, FIVE_CABLES, "people-on-rope", people_on_rope=count) for count in ("1", "5", "6", "20")}
    assert {"1": "outside", "5": "within", "6": "outside", "20": "outside"} == found
    assert "outside" == verdict(job, "cable-pulling/before-the-pull/R5", "people-on-rope", people_on_rope="9")


@pytest.mark.parametrize("radius", [0.3, 0.45])
def test_bend_in_the_ground_counts_as_laid(radius, job):
    """Whatever lies open, a buried bend that is too tight lets no pull begin, and it limits the pull."""
    route = job["items"]["run"]["R1"]["values"]["route"]
    tightest = next(segment for segment in route if segment["shape"] == "bend_level")
    tightest["radius"] = radius
    for task, step in (("before-the-pull", "tightest-bend"), ("pull", "tightest-now")):
        assert "outside" == verdict(job, f"cable-pulling/{task}/R1", step, **{step.replace("-", "_"): "5000"})
    tightest["radius"] = 0.7
    sheet = sheet_called(job, f"{PULL}/R1")
    allowed = Environment(job, sheet, worked(job, sheet, {"tightest-now": "5000"})).working("allowed")
    assert ["0.6485 m"] == [one["text"] for one in allowed["inputs"] if one["name"] == "smallest_radius"]


@pytest.mark.parametrize(
    ("run", "instead", "hold"),
    [
        ("R1", {"highest-pull": "60"}, "hurt-cable"), ("R1", {"scores": "1"}, "hurt-cable"), ("R4", {"most-on-rope": "6"}, "hurt-cable"),
        ("R1", {"tail-at-end": "3.4"}, "short-tail"),
    ],
)
def test_what_is_over_and_went_wrong_has_an_honest_way_on(run, instead, hold, job):
    """Nobody can pull it again: it is entered as it was, and somebody of standing signs before the cable is in."""
    sheet = sheet_called(job, f"{PULL}/{run}")
    assert not Environment(job, sheet, worked(job, sheet)).step(hold)["applies"]
    assert Environment(job, sheet, worked(job, sheet, instead)).step(hold)["applies"]
    step, names = steps_of(job, PULL)[hold], list(steps_of(job, PULL))
    assert ("licensed-worker", True) == (step["released_by"], step["signed"])
    assert names.index(hold) < names.index("cable-in")
    without = {name: reading for name, reading in worked(job, sheet).items() if name not in instead}
    assert Environment(job, sheet, without).step(hold)["applies"] is None


def test_hands_go_to_the_head_when_the_rope_is_slack(job):
    """Tape, knife and cap wait for the rope: a cable also springs back, and the tail with it."""
    names = list(steps_of(job, PULL))
    assert all(names.index("let-it-down") < names.index(name) for name in ("scores", "cut-the-head-off", "tail-at-start", "tail-at-end", "set-radius"))


@pytest.mark.parametrize(("arrangement", "verdicts"), [("cradled", ("within", "within")), ("triangular", ("within", "outside")), ("mixed", ("within", "outside"))])
def test_three_that_were_planned_as_a_bundle_go_in_as_one(arrangement, verdicts, job):
    """Loose cables wedge harder than the pull of a bundle was worked out for."""
    job["items"]["run"]["R1"]["values"] |= {"number": 3, "arrangement": arrangement}
    assert verdicts == tuple(verdict(job, "cable-pulling/conduit/R1", "lay", lay=lay) for lay in ("tied-in-a-triangle", "loose"))
