"""Mistakes that are in print or on site, each held against the sheet that must not make it."""

import re
from math import radians

import pytest

from builder.check.everything import checked_job
from builder.compile.evaluate import Environment
from builder.load.problems import BadInput
from builder.places import DEMO_JOB
from tests.checklists.worked_sheets import entered, sheet_called, steps_of, verdict, worked

LINK = "lock-out/prove-dead/drive-panel"
FIVE_CABLES = "cable-pulling/before-the-pull/R4"


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
    job["items"]["run"]["R1"]["values"] |= {"number": 3, "arrangement": "cradled", "bore": float(bore) / 1000}
    said = verdict(job, "cable-pulling/conduit/R1", "lay", bore_measured=bore, lay="loose")
    assert ("within" if within else "outside") == said


def test_thread_alone_gives_no_torque(job):
    """Without the maker's figure the wrench can't be set: the table's rows decide nothing."""
    job["items"]["joint"]["J1"]["values"]["maker_torque"] = None
    assert "cant-tell" == verdict(job, "termination/bolt-up/J1", "wrench-set")


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
