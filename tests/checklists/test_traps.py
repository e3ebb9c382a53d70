"""Mistakes that are in print or on site, each held against the sheet that must not make it."""

import re
from math import radians

import pytest

from builder.check.everything import checked_job
from builder.compile.evaluate import Environment
from builder.load.problems import BadInput
from builder.places import DEMO_JOB
from tests.checklists.worked_sheets import entered, sheet_called, worked

LINK = "lock-out/prove-dead/drive-panel"
CELLS = "lock-out/cells-stay-live/battery-strings"
FIVE_CABLES = "cable-pulling/before-the-pull/R4"
PULL = "cable-pulling/pull"


def verdict(job: dict, sheet: str, step: str, **instead: str) -> str | None:
    """What a step says with a good crew's readings, some others `instead`."""
    readings = worked(job, sheet_called(job, sheet), {name.replace("_", "-"): text for name, text in instead.items()})
    return Environment(job, sheet_called(job, sheet), readings).step(step)["verdict"]


def steps_of(job: dict, task: str) -> dict[str, dict]:
    return {step["name"]: step for step in job["tasks"][task]["steps"]}


def test_five_minutes_flat_are_not_enough(job):
    """Five minutes after opening, the link that needs nearly nine is outside, and so is its own label's time."""
    assert "outside" == verdict(job, LINK, "time-off", time_off="5")
    assert "outside" == verdict(job, LINK, "time-off", label_time_seen="12.7", time_off="10")
    assert "within" == verdict(job, LINK, "time-off", label_time_seen="12.7", time_off="12.7")


def test_wait_is_no_pass_by_itself(job):
    """However long it has been off, 80 V on the link are outside, and a link that nobody measured can't be told."""
    assert "outside" == verdict(job, LINK, "link-voltage", time_off="1440", link_voltage="80")
    sheet = sheet_called(job, LINK)
    readings = worked(job, sheet, {"time-off": "1440"})
    del readings["link-voltage"]
    assert "cant-tell" == Environment(job, sheet, readings).step("link-voltage")["verdict"]
    names = list(steps_of(job, "lock-out/prove-dead"))
    assert names.index("time-off") < names.index("link-voltage") < names.index("safe-to-work")


def test_battery_string_asks_for_the_sites_study_and_not_for_a_table(job):
    """Printed categories for batteries stop at 600 V: whatever stays live is worked only under the site's own study."""
    step = steps_of(job, "lock-out/cells-stay-live")["energy-study"]
    assert (True, None) == (step["must"], step["when"])
    names = list(steps_of(job, "lock-out/cells-stay-live"))
    assert names.index("energy-study") < names.index("open-links")
    assert job["items"]["isolation"]["battery-strings"]["values"]["voltage"] > 600


def test_battery_that_can_be_made_dead_is_refused(tmp_path):
    """A job that calls a battery's cells dead once its switch is open is refused."""
    for path in DEMO_JOB.parent.glob("*.yaml"):
        text = path.read_text(encoding="utf-8").replace("can_be_made_dead: false", "can_be_made_dead: true")
        (tmp_path / path.name).write_text(text, encoding="utf-8")
    with pytest.raises(BadInput) as bad:
        checked_job(tmp_path / DEMO_JOB.name)
    assert ["a battery's cells can't be made dead"] == [problem.text for problem in bad.value.problems]


def test_nothing_is_tested_dead_before_the_lock_and_charge_may_drain_on_either_side_of_it(job):
    """Published orders lock before draining or after: the lock waits for no drain, the minutes count from opening, the test waits for both."""
    for sheet in job["sheets"]:
        if sheet["task"] == "lock-out/prove-dead":
            first = job["tasks"][sheet["task"]]["steps"][0]
            assert "hold" == first["kind"]
            assert {"sheet": f"lock-out/lock-off/{sheet['item']}", "hold": "locks-on"} in sheet["needs"][first["name"]]
        if sheet["task"] == "lock-out/lock-off":
            assert not any(need["sheet"].startswith("lock-out/prove-dead/") for need in sheet["needs"].get("locks-on", []))
    assert "off" in steps_of(job, "lock-out/prove-dead")["time-off"]["say"]


def test_hard_pull_on_hitches_is_outside_however_many_there_are(job):
    """One hitch may end up with all of the load, so more of them never make a hard pull good: a grip or an eye does."""
    assert "within" == verdict(job, FIVE_CABLES, "hitch-count", head="hitches", hitch_count="20")
    for cable in job["items"]["run"]["R4"]["values"]["cables"]:
        cable["mass"] *= 20
    assert "outside" == verdict(job, FIVE_CABLES, "hitch-count", head="hitches", hitch_count="20")


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


def test_side_pressure_is_the_lowest_published_until_the_drum_says_more(job):
    """Without the maker's figure the working takes 300 lbf/ft, and says that it is the table's."""
    sheet = sheet_called(job, "cable-pulling/before-the-pull/R1")
    job["cables"]["AL300"]["values"]["maker_sidewall_limit"] = None
    taken = next(one for one in Environment(job, sheet, worked(job, sheet)).working("allowed")["inputs"] if one["name"] == "sidewall_limit")
    assert ("4.37 kN/m", "table") == (taken["text"], taken["from"])


@pytest.mark.parametrize(("slope", "braking"), [(0, "not_needed"), (-5, "not_needed"), (-45, "needed")])
def test_somebody_is_on_the_brake_and_the_working_says_where_the_cable_runs_by_itself(slope, braking, job):
    """On the level too the drum goes on when the rope stops; on a steep way down the cable takes it along."""
    for segment in job["items"]["run"]["R1"]["values"]["route"]:
        if segment["shape"] == "straight":
            segment["slope"] = radians(slope)
    sheet = sheet_called(job, "cable-pulling/before-the-pull/R1")
    readings = worked(job, sheet) | {"feed-end": entered(job, sheet, "feed-end", "start")}
    environment = Environment(job, sheet, readings)
    assert environment.step("brake-person")["applies"]
    assert braking == environment.working("pull")["outputs"]["braking_from_start"]["word"]


@pytest.mark.parametrize(("bore", "within"), [("78", True), ("81.5", False), ("84", False), ("90", False), ("95.3", False), ("102", True)])
def test_loose_cables_near_a_ratio_of_three_are_outside_by_either_ratio(bore, within, job):
    """2.735 is in the band only with the bend's 1.05, 3.198 only without it: both warn."""
    job["items"]["run"]["R1"]["values"]["bore"] = float(bore) / 1000
    said = verdict(job, "cable-pulling/conduit/R1", "lay", bore_measured=bore, lay="loose")
    assert ("within" if within else "outside") == said


@pytest.mark.parametrize(("arrangement", "verdicts"), [("cradled", ("within", "within")), ("triangular", ("within", "outside")), ("mixed", ("within", "outside"))])
def test_three_that_were_planned_as_a_bundle_go_in_as_one(arrangement, verdicts, job):
    """Loose cables wedge harder than the pull of a bundle was worked out for."""
    job["items"]["run"]["R1"]["values"]["arrangement"] = arrangement
    assert verdicts == tuple(verdict(job, "cable-pulling/conduit/R1", "lay", lay=lay) for lay in ("tied-in-a-triangle", "loose"))


def test_thread_alone_gives_no_torque(job):
    """Without the maker's figure the wrench can't be set: the table's rows decide nothing."""
    job["items"]["joint"]["J1"]["values"]["maker_torque"] = None
    assert "cant-tell" == verdict(job, "termination/make-off/J1", "wrench-set")


def test_no_step_makes_a_general_rule_of_tightening_again(job):
    """Makers contradict each other on backing off and torquing again, so it is nobody's rule here but theirs."""
    rule = re.compile(r"re-?torque|re-?tighten|tighten (it |them )?again|back (it |the \w+ )?off|slacken", re.IGNORECASE)
    said = [step["say"] for task in job["tasks"].values() if task["library"] == "termination" for step in task["steps"]]
    assert [] == [text for text in said if rule.search(text) and "maker" not in text]


def test_colours_are_asked_for_and_never_proved_by(job):
    """Cable and gear are each asked for their scheme, and every pole is tested dead whatever it wears."""
    steps = steps_of(job, "termination/before-making-off")
    assert [True, True] == [steps[name]["must"] for name in ("cable-scheme", "gear-scheme")]
    assert ["colours"] == [caution["name"] for caution in steps["cable-scheme"]["cautions"]]
    proofs = [step for step in job["tasks"]["lock-out/prove-dead"]["steps"] if step.get("accept") and step["unit"] == "V"]
    assert [] == [step["name"] for step in proofs if "colour" in step["say"].lower()]


@pytest.mark.parametrize(
    ("cable", "gear", "labelled"),
    [("brown-black-grey", "brown-black-grey", False), ("red-white-blue", "brown-black-grey", True),
     ("red-white-blue", "red-white-blue", True), ("other", "other", True)],
)
def test_two_schemes_that_meet_are_named_on_a_label(cable, gear, labelled, job):
    """Where cable and gear differ, or both are not the practice's own, a label says what is what."""
    sheet = sheet_called(job, "termination/before-making-off/J1")
    environment = Environment(job, sheet, worked(job, sheet, {"cable-scheme": cable, "gear-scheme": gear}))
    assert labelled == environment.step("schemes-meet")["applies"]


@pytest.mark.parametrize(
    ("lug", "said"), [("stranded", "within"), ("stranded-and-flexible", "within"), ("flexible", "outside"), ("solid", "outside"), ("not-said", "outside")],
)
def test_lug_is_made_for_these_strands(lug, said, job):
    """Fine strands pull out of a lug for coarse ones; a lug that says nothing is nobody's."""
    assert said == verdict(job, "termination/make-off/J1", "lug-class", lug_class=lug)


@pytest.mark.parametrize(
    ("given", "gap", "said"),
    [({"gap-printed": "a-gap", "air-gap-wanted": "20"}, "19", "outside"), ({"gap-printed": "a-gap", "air-gap-wanted": "20"}, "20", "within"),
     ({"gap-printed": "an-impulse-voltage", "impulse": "6"}, "5.4", "outside"), ({"gap-printed": "an-impulse-voltage", "impulse": "6"}, "5.5", "within"),
     ({"gap-printed": "an-impulse-voltage", "impulse": "60"}, "90", "cant-tell")],
)
def test_air_gap_is_held_against_what_the_gear_says(given, gap, said, job):
    """The maker's gap, else the print for the impulse on its plate; beyond the print nobody can tell."""
    instead = {name.replace("-", "_"): text for name, text in given.items()}
    assert said == verdict(job, "termination/check-the-joint/J1", "air-gap", **instead, air_gap=gap)


def test_joint_without_a_proof_is_outside(job):
    """A meter, or the camera at first load: where nobody knows which, the joint is not proved."""
    sheet = sheet_called(job, "termination/check-the-joint/J1")
    assert "outside" == verdict(job, sheet["id"], "joint-proof", joint_proof="nobody-knows")
    by_camera = Environment(job, sheet, worked(job, sheet, {"joint-proof": "line-and-infrared"}))
    assert [False, True] == [by_camera.step(name)["applies"] for name in ("highest-joint", "infrared-listed")]


def applied(job: dict, sheet: str, instead: dict[str, str], *steps: str) -> list[bool]:
    """Which of these steps a sheet asks, with some readings `instead`."""
    environment = Environment(job, sheet_called(job, sheet), worked(job, sheet_called(job, sheet), instead))
    return [environment.step(step)["applies"] for step in steps]


def test_single_phase_is_not_asked_for_a_pair(job):
    """Where one phase comes in nobody enters 0 for a pair that isn't there; it is tested to earth all the same."""
    steps = ("phase-to-phase", "phase-to-earth")
    assert [False, True] == applied(job, LINK, {"phases-in": "1"}, *steps)
    assert [True, True] == applied(job, LINK, {"phases-in": "2"}, *steps)


def test_ohms_are_not_metered_through_what_hangs_on(job):
    """A winding reads like a forgotten earth, so the last meter is for bare cable and bars."""
    point = "lock-out/give-back/kiln-feeder"
    assert [False] == applied(job, point, {"hangs-on": "something-more"}, "last-meter")
    assert [True] == applied(job, point, {"hangs-on": "bare-cable-or-bars", "earths-noted": "0", "earths-off": "0"}, "last-meter")


def test_lug_that_its_maker_fitted_is_bolted_and_not_pressed(job):
    """Nobody is asked for die and crimps of a lug that came on the cable; tail, bolts and torque stay."""
    made = {"lug-comes": "fitted-by-its-maker"}
    asked = applied(job, "termination/make-off/J1", made, "fitted-lug", "crimps-made", "strip", "tail-radius", "wrench-set", "bolts-clicked")
    assert [True, False, False, True, True, True] == asked


def test_links_close_after_the_cables_are_tested(job):
    """Cables are tested with the links open: closing waits for those tests, and giving back waits for the closing."""
    closing = sheet_called(job, "termination/close-the-links/J7")["needs"]["links-may-close"]
    assert {"sheet": "testing/dead-tests/battery-link", "hold": "dead-tests-in"} in closing
    giving = sheet_called(job, "lock-out/give-back/battery-strings")["needs"]["may-come-off"]
    assert {"sheet": "termination/close-the-links/J7", "hold": None} in giving


def test_gas_between_the_two_printed_ceilings_is_outside(job):
    """Fifteen per cent would pass the excavation rule and not the confined-space rule: a pit may count as confined."""
    assert "outside" == verdict(job, "trenching/open-trench/T1", "flammable", flammable="15")


def test_people_needed_is_a_guideline_and_says_so(job):
    """The force of one person is shown as a guideline and not as a limit."""
    assert "guideline and not a limit" in job["formulas"]["pulling_team"]["holds_when"]
    equal = next(part for part in job["formulas"]["hitch_points"]["gives"] if part["name"] == "equal_load")
    assert equal["about"].startswith("lower bound")


def test_insulation_rule_is_named_as_one_of_several(job):
    """Doubling is called a rule of thumb, beside the maker's own curve."""
    assert "rule of thumb" in job["formulas"]["insulation_minimum"]["holds_when"]
    assert "maker's curve" in job["formulas"]["insulation_minimum"]["holds_when"]


CELL_JOINT, STRING_LINKS = "termination/make-off/J7", "termination/close-the-links/J7"


def test_nobody_bares_a_live_pole_before_clothing_is_read_and_signed_for(job):
    """Names, heat, suit and gloves, then a signed gate under lock; a dead terminal is asked for none of it."""
    names, steps = list(steps_of(job, "termination/make-off")), steps_of(job, "termination/make-off")
    asked = ("cell-hands", "metal-off", "cell-tools", "study-energy", "suit-rating", "glove-rating")
    gate = "pole-may-be-bared"
    assert all(names.index(name) < names.index(gate) < names.index("tail-to-rack") < names.index("first-pole-on") for name in asked)
    assert ("licensed-worker", True, "on") == (steps[gate]["released_by"], steps[gate]["signed"], sheet_called(job, CELL_JOINT)["locks"][gate]["want"])
    assert {True} == set(applied(job, CELL_JOINT, {}, *asked, gate))
    assert {False} == set(applied(job, "termination/make-off/J1", {}, *asked, gate))
    assert ["outside"] * 3 == [
        verdict(job, CELL_JOINT, step, **instead)
        for step, instead in (("suit-rating", {"suit_rating": "17"}), ("study-energy", {"study_energy": "41"}), ("glove-rating", {"glove_rating": "768"}))
    ]


def test_a_meter_on_live_cells_has_a_way_round_and_is_proved_on_both_sides(job):
    """Lug against pole is read with one pole on, a link's gap with one link open, and the tester before and after each."""
    names = list(steps_of(job, "termination/make-off"))
    order = ["first-pole-on", "tester-before", "lug-to-pole", "tester-after", "last-pole-on"]
    assert order == sorted(order, key=names.index)
    names = list(steps_of(job, "termination/close-the-links"))
    order = ["tester-first", "sections-marked", "close-links", "link-gap", "tester-again", "last-link", "string-back"]
    assert order == sorted(order, key=names.index)
    assert "outside" == verdict(job, STRING_LINKS, "link-gap", gap_wanted="1500", link_gap="60")


@pytest.mark.parametrize(("measured", "said"), [("776", "within"), ("752", "outside"), ("800", "outside")])
def test_a_closed_string_is_held_against_its_own_sections(measured, said, job):
    """A section of sixteen left out, or one too many, is less than the span between empty and full."""
    assert said == verdict(job, STRING_LINKS, "string-back", sections_sum="776", string_back=measured)


def test_covers_stay_on_the_cells_when_the_joint_is_looked_over(job):
    """Bolts and faces are looked at on dead terminals; on cells the watcher saw them before each cover went on."""
    steps = ("marks", "highest-joint", "clean-out", "dead-again")
    assert [False] * 4 == applied(job, "termination/check-the-joint/J7", {}, *steps)
    assert [True] * 4 == applied(job, "termination/check-the-joint/J1", {}, *steps)


def test_a_loose_gland_and_faces_that_are_all_bad_are_outside(job):
    """Half an ohm is a main earth, not one gland; alike and above what the maker allows is no proof."""
    assert "outside" == verdict(job, "termination/make-off/J5", "armour-path", armour_path="0.3")
    assert "outside" == verdict(job, "termination/check-the-joint/J1", "highest-joint", lowest_joint="9000", highest_joint="9000")


def test_people_are_counted_against_the_locks_that_hang(job):
    """Thirty people and one lock are not locked out, and a point more than the job file knows is put right first."""
    point = "lock-out/lock-off/kiln-feeder"
    assert ("outside", "within") == tuple(verdict(job, point, "own-locks", people_behind="30", own_locks=hung) for hung in ("1", "30"))
    assert "outside" == verdict(job, point, "points-locked", points_locked="2")


def test_what_sees_the_supply_go_is_off_before_it_goes(job):
    """Reclosing, changeover and set first, then the switch; a set's battery only after its start was tried."""
    names = list(steps_of(job, "lock-out/lock-off"))
    order = ["sets-first", "inverter-stop", "remote-off", "engine-off", "switch-off", "try-it", "start-battery"]
    assert order == sorted(order, key=names.index)
    assert [True] == applied(job, "lock-out/lock-off/kiln-feeder", {}, "sets-first")


@pytest.mark.parametrize(("point", "beside", "said"), [
    ("kiln-feeder", "alone", "outside"), ("drive-panel", "alone", "outside"), ("drive-switch", "alone", "within"), ("drive-switch", "beside-a-live-one", "outside"),
])
def test_no_earth_is_a_count_only_where_nothing_can_come_back(point, beside, said, job):
    """A back-feed, a charge or a live line beside it: none on is outside."""
    assert said == verdict(job, f"lock-out/prove-dead/{point}", "earths-on", runs_beside=beside, earths_on="0")
    if beside == "alone":
        assert said == verdict(job, f"lock-out/give-back/{point}", "earths-off", earths_noted="0", earths_off="0")


def test_who_may_not_test_a_point_counts_no_tests_of_it(job):
    """On the operator's point the permit is looked at, on cells the covers; only the crew's own point is tested again."""
    counts = ("tested-again", "permit-seen", "cells-seen")
    found = {point: applied(job, f"lock-out/keep-it-locked/{point}", {}, *counts) for point in ("kiln-feeder", "hv-switch", "battery-strings")}
    assert {"kiln-feeder": [True, False, False], "hv-switch": [False, True, False], "battery-strings": [False, False, True]} == found


def test_the_watch_is_counted_behind_the_work(job):
    """No count of changes and starts before every joint, link and test behind the point is closed."""
    needs = sheet_called(job, "lock-out/keep-it-locked/battery-strings")["needs"]["watch-ends"]
    assert {"termination/check-the-joint/J7", "termination/close-the-links/J7", "testing/dead-tests/battery-link"} <= {need["sheet"] for need in needs}
    names = list(steps_of(job, "lock-out/keep-it-locked"))
    order = ["watch-begins", "watch-paper", "watch-ends", "changes", "starts", "locks-kept"]
    assert order == sorted(order, key=names.index)


def test_hands_go_among_cells_dressed_and_signed_for(job):
    """Suit, gloves and the other strings before the gate; covers before the clamp, and the clamp proved on both sides."""
    names = list(steps_of(job, "lock-out/cells-stay-live"))
    order = ["suit-rating", "strings-on-bars", "hands-may-go-in", "tester-first", "poles-to-earth", "cover", "clamp-first", "string-current", "clamp-again",
             "links-may-open", "open-links", "link-across", "tester-again"]
    assert order == sorted(order, key=names.index)
    assert "outside" == verdict(job, CELLS, "clamp-first", clamp_first="0")
    assert "outside" == verdict(job, CELLS, "earth-watch", earth_watch="earthed-by-design")
    assert "outside" == verdict(job, CELLS, "poles-to-earth", earth_watch="has-no-monitor", poles_to_earth="380")


@pytest.mark.parametrize(("string", "section", "said"), [("872", "436", "within"), ("672", "336", "within"), ("775", "775", "outside"), ("775", "300", "outside")])
def test_a_section_is_held_against_the_string_as_it_stands(string, section, said, job):
    """A full string has full sections; the whole string is no section."""
    assert said == verdict(job, CELLS, "section-voltage", string_voltage=string, section_voltage=section)
    assert "outside" == verdict(job, CELLS, "section-wanted", section_wanted="768")


def test_live_metal_inside_is_asked_with_the_covers_off(job):
    """Bare on the fed side shuts it again, whatever was seen from outside."""
    names = list(steps_of(job, "lock-out/prove-dead"))
    assert names.index("suit-rating") < names.index("open-covers") < names.index("live-inside") < names.index("phase-to-phase")
    assert "outside" == verdict(job, "lock-out/prove-dead/kiln-feeder", "live-inside", live_inside="live-and-bare")
    assert [True] == applied(job, "lock-out/prove-dead/kiln-feeder", {"live-beside": "nothing"}, "marked-off")


def test_the_operator_signs_for_no_test_that_the_crew_makes(job):
    """On a low-voltage point of the operator's the crew tests after the permit, and nobody has signed that it is dead."""
    holds = ("operator-hands-over", "operator-lets-test")
    assert [True, False] == applied(job, "lock-out/prove-dead/hv-switch", {}, *holds)
    job["items"]["isolation"]["kiln-feeder"]["values"]["operated_by"] = "operator"
    assert [False, True] == applied(job, "lock-out/prove-dead/kiln-feeder", {"permit-number": "x"}, *holds)


@pytest.mark.parametrize(("volts", "wanted", "said"), [
    ("400", "0.2", "outside"), ("400", "0.3", "within"), ("11000", "0.1", "outside"), ("11000", "0.7", "within"), ("110000", "0.1", "outside"), ("110000", "3", "within"),
])
def test_a_slip_of_the_thumb_puts_no_barrier_within_reach(volts, wanted, said, job):
    """0.1 for 1: whatever was typed for the site's own figure, there is a floor under it."""
    assert said == verdict(job, "lock-out/prove-dead/kiln-feeder", "distance-wanted", beside_voltage=volts, distance_wanted=wanted)
