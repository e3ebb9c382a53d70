"""Claims about switching on that the good crew of the demo does not meet."""

import pytest

from builder.compile.evaluate import Environment
from tests.checklists.worked_sheets import applied, sheet_called, verdict, worked

LIVE = "energisation/switch-on/pump-drive"
BATTERY = "energisation/switch-on/battery-link"
TWO_LIVE = {"far-side": "402", "apart-wanted": "100"}
PROVE = "energisation/prove-live/battery-link"
LOAD = "energisation/first-load/kiln-board"


@pytest.mark.parametrize(
    ("across", "said"),
    # 402 and 404 V between two phases are 232.1 and 233.3 V to neutral, and a meter over one pole sees those. Fifteen
    # degrees apart: √(232.1² + 233.3² - 2 · 232.1 · 233.3 · cos 15°) = 60.8 V.
    [("12", "within"), ("60", "within"), ("61", "outside"), ("105", "outside"), ("230", "outside")],
)
def test_two_live_sides_meet_only_in_step(across: str, said: str, job: dict) -> None:
    """What a meter shows across one open pole says how far two supplies are apart."""
    assert said == verdict(job, LIVE, "across-phases", TWO_LIVE | {"across-phases": across})


@pytest.mark.parametrize(("across", "said"), [("60", "within"), ("62", "outside")])
def test_a_single_phase_stands_to_its_neutral_already(across: str, said: str, job: dict) -> None:
    """230 V to neutral, fifteen degrees apart: 2 · 230 · sin 7.5° = 60 V, nothing taken off."""
    job["items"]["supply"]["pump-drive"]["values"]["system"] = "ac1"
    instead = TWO_LIVE | {"bus-voltage": "230", "incoming-voltage": "231", "across-phases": across}
    assert said == verdict(job, LIVE, "across-phases", instead)


def test_the_switching_order_tightens_the_usual_setting_and_never_loosens_it(job: dict) -> None:
    """50 V of a 60 V working: with 30 V in the order they are too far apart, with 100 V the working still counts."""
    assert "outside" == verdict(job, LIVE, "across-phases", TWO_LIVE | {"apart-wanted": "30", "across-phases": "50"})
    assert "outside" == verdict(job, LIVE, "across-phases", TWO_LIVE | {"across-phases": "90"})


def test_what_swings_is_closed_by_nobody(job: dict) -> None:
    """Two machines that aren't locked stand at 12 V one moment and at 460 V a few seconds on."""
    assert "outside" == verdict(job, LIVE, "across-moves", TWO_LIVE | {"across-moves": "swings"})


@pytest.mark.parametrize(("volts", "live"), [("0", False), ("5", False), ("6", True), ("38", True), ("402", True)])
def test_a_number_says_whether_the_far_side_is_dead(volts: str, live: bool, job: dict) -> None:
    """Above 5 V somebody has to have planned it, and the two sides are held against each other."""
    sheet = sheet_called(job, LIVE)
    environment = Environment(job, sheet, worked(job, sheet, TWO_LIVE | {"far-side": volts}))
    assert {live} == {environment.step(name)["applies"] for name in ("live-by-plan", "across-phases", "sides-may-meet")}


@pytest.mark.parametrize(
    ("link", "string", "said"),
    [("776", "778", "within"), ("772", "778", "outside"), ("0", "778", "outside"), ("-776", "778", "outside"), ("0", "0", "outside")],
)
def test_a_battery_closes_on_a_link_at_its_own_voltage(link: str, string: str, said: str, job: dict) -> None:
    """Empty, too low, turned round, or read by a dead meter: the switch stays open."""
    assert said == verdict(job, BATTERY, "string-now", {"link-now": link, "string-now": string})


@pytest.mark.parametrize(("link", "said"), [("774.1", "within"), ("773.9", "outside")])
def test_amps_at_closing_become_volts_across_the_switch(link: str, said: str, job: dict) -> None:
    """200 A through 12 and 8 milliohm stand at 4 V."""
    assert said == verdict(job, BATTERY, "string-now", {"closing-figure": "amps", "link-now": link})


def test_no_sum_of_amps_closes_a_battery_on_an_empty_link(job: dict) -> None:
    """5000 A and 500 milliohm would allow 2500 V: a twentieth of the supply, 38.4 V, is the most in any case."""
    much = {"closing-figure": "amps", "closing-current": "5000", "string-resistance": "500"}
    assert ["within", "outside"] == [verdict(job, BATTERY, "string-now", much | {"link-now": link}) for link in ("740", "739")]


def test_strings_that_meet_have_nothing_to_pre_charge(job: dict) -> None:
    """Pre-charge is asked for where capacitors wait, and their reading at every switch."""
    sheet = sheet_called(job, BATTERY)
    applies = {meets: tuple(Environment(job, sheet, worked(job, sheet, {"meets": meets})).step(name)["applies"] for name in ("pre-charge", "string-now"))
               for meets in ("capacitors", "another-string")}
    assert {"capacitors": (True, True), "another-string": (False, True)} == applies


@pytest.mark.parametrize(
    ("practice", "least", "most", "shown", "said"),
    # iec 360 to 440 V, us 380 to 420 V, au-nz 376 V and nothing above.
    [("iec", "376", "424", "370", "outside"), ("iec", "340", "470", "358", "outside"), ("us", "360", "440", "424", "outside"),
     ("au-nz", "360", "440", "374", "outside"), ("au-nz", "376", "424", "420", "within"), ("au-nz", "376", "424", "426", "outside")],
)
def test_the_network_s_band_and_the_practice_s_own_both_count(practice: str, least: str, most: str, shown: str, said: str, job: dict) -> None:
    """The narrower of two bands decides, and where the print has none the network's alone."""
    job["job"]["practice"] = practice
    read = {"voltage-least": least, "voltage-most": most, "source-side": shown}
    assert said == verdict(job, LIVE, "source-side", read)


def test_a_transformer_on_a_wrong_tap_is_outside_its_own_figure(job: dict) -> None:
    """438 V are inside ten per cent of 400 and far from the 405 V that plate, tap and 11.15 kV make; at 11.7 kV they are right."""
    board, shown = "energisation/switch-on/kiln-board", {"voltage-most": "440", "source-side": "438"}
    assert ["outside", "within"] == [verdict(job, board, "source-side", shown | {"high-now": volts}) for volts in ("11150", "11700")]
    assert "outside" == verdict(job, board, "source-side", {"tap-high": "11550", "plate-low": "400", "source-side": "410"})


@pytest.mark.parametrize(("heat", "suit", "said"), [("18", "18", "within"), ("18", "17", "outside"), ("1.3", "1", "outside")])
def test_the_suit_bears_what_the_study_names(heat: str, suit: str, said: str, job: dict) -> None:
    """On a.c. as beside cells: rated for the heat or not worn there."""
    assert said == verdict(job, LIVE, "suit-rating", {"arc-energy": heat, "suit-rating": suit})


def test_no_suit_is_asked_for_where_the_study_finds_no_burn_and_none_helps_above_forty(job: dict) -> None:
    """Up to 1.2 cal/cm2 nobody reads a rating; above 40 the measuring is outside in any suit."""
    sheet = sheet_called(job, LIVE)
    assert not Environment(job, sheet, worked(job, sheet, {"arc-energy": "1.2"})).step("suit-rating")["applies"]
    assert ["within", "outside"] == [verdict(job, LIVE, "arc-energy", {"arc-energy": heat, "suit-rating": "100"}) for heat in ("40", "41")]


def test_between_the_last_reading_and_the_switch_stands_one_hold(job: dict) -> None:
    """A battery's link is read, one licensed worker looks, and it closes: no signature to wait for, no step to walk."""
    steps = job["tasks"]["energisation/switch-on"]["steps"]
    names = [step["name"] for step in steps]
    at = names.index("string-now")
    assert ["string-now", "switch-may-close", "close-main"] == names[at:at + 3]
    assert not steps[at + 1].get("signed")
    assert names.index("walked-again") < at and names.index("sides-may-meet") < names.index("walked-again")


def test_the_place_of_the_first_probes_is_not_chosen_where_it_is_known(job: dict) -> None:
    """On a transformer's terminals a tester for boards is outside, whatever anybody would have picked."""
    board = sheet_called(job, "energisation/switch-on/kiln-board")
    assert not Environment(job, board, worked(job, board)).step("test-place")["applies"]
    assert "outside" == verdict(job, board["id"], "tester-category", {"tester-category": "3"})
    assert "within" == verdict(job, BATTERY, "tester-category", {"tester-category": "3"})


@pytest.mark.parametrize(
    ("stand", "plus", "minus", "said"),
    [
        ("apart", "391", "384", "within"), ("apart", "0", "0", "outside"), ("apart", "40", "45", "outside"), ("apart", "770", "2", "outside"),
        ("middle-earthed", "391", "384", "within"),
        ("one-pole-earthed", "775", "1", "within"), ("one-pole-earthed", "391", "384", "outside"), ("one-pole-earthed", "0", "0", "outside"),
    ],
)
def test_poles_stand_to_earth_as_they_were_made_to(stand: str, plus: str, minus: str, said: str, job: dict) -> None:
    """Even where they are apart, nothing on the one that is earthed, and a meter that shows nothing anywhere is no reading."""
    read = {"poles-stand": stand, "plus-to-earth": plus, "minus-to-earth": minus}
    assert said == verdict(job, PROVE, "minus-to-earth", read)


@pytest.mark.parametrize(("drawn", "reading", "said"), [("hot", "0.04", "within"), ("hot", "0.041", "outside"), ("cold-reading", "0.05", "within"), ("cold-reading", "0.051", "outside")])
def test_a_loop_drawn_for_hot_conductors_is_less_on_the_tester(drawn: str, reading: str, said: str, job: dict) -> None:
    """0.05 ohm on the drawing are 0.04 ohm on cold conductors."""
    assert said == verdict(job, "energisation/prove-live/kiln-board", "loop-measured", {"loop-drawn-for": drawn, "loop-measured": reading})


@pytest.mark.parametrize(
    ("practice", "known", "asked"),
    [("us", "not-on-it", {"loop-known", "fault-path"}), ("us", "on-the-drawing", {"loop-known", "loop-wanted", "loop-measured", "far-ends-within"}),
     ("iec", None, {"loop-wanted", "loop-measured", "far-ends-within"}), ("au-nz", None, {"loop-wanted", "loop-measured", "far-ends-within"})],
)
def test_a_practice_that_draws_no_loop_shows_how_a_fault_is_cleared(practice: str, known: str | None, asked: set[str], job: dict) -> None:
    """An American drawing seldom has a loop: there the paper of the ground-fault test is copied, and nowhere else instead of a loop."""
    job["job"]["practice"] = practice
    sheet = sheet_called(job, "energisation/prove-live/kiln-board")
    environment = Environment(job, sheet, worked(job, sheet, {"loop-known": known} if known else {}))
    every = ("loop-known", "fault-path", "loop-wanted", "loop-measured", "far-ends-within")
    assert asked == {name for name in every if environment.step(name)["applies"]}


def test_no_way_closes_before_loop_and_the_other_source_are_right(job: dict) -> None:
    """What is measured at the board stands in front of the hold that lets the ways close, for each source."""
    names = [step["name"] for step in job["tasks"]["energisation/prove-live"]["steps"]]
    before = ("lowest-voltage", "rotation", "loop-measured", "source-may-change", "other-voltage", "other-rotation", "other-clears", "gives-back")
    assert all(names.index(name) < names.index("feeders-may-close") < names.index("feeders-closed") for name in before)


def test_plant_that_ran_before_turns_as_it_did(job: dict) -> None:
    """Anticlockwise is right where it was so before, and the generator follows."""
    board, old = "energisation/prove-live/kiln-board", {"rotation-wanted": "anticlockwise", "rotation": "anticlockwise"}
    assert ["within", "outside"] == [verdict(job, board, "rotation", old | {"rotation": turns}) for turns in ("anticlockwise", "clockwise")]
    assert ["within", "outside"] == [verdict(job, board, "other-rotation", old | {"other-rotation": turns}) for turns in ("anticlockwise", "clockwise")]


def test_a_supply_without_an_earthed_star_point_is_held_against_no_star(job: dict) -> None:
    """What its phases show to earth is written down, and judged by nobody's third root."""
    sheet = sheet_called(job, "energisation/prove-live/kiln-board")
    environment = Environment(job, sheet, worked(job, sheet, {"star-point": "not-that-way"}))
    assert (False, True) == tuple(environment.step(name)["applies"] for name in ("highest-to-neutral", "other-way-earthed"))


def test_residual_devices_that_all_wait_have_no_quick_one_to_time(job: dict) -> None:
    """Two with a delay and none without: nobody is asked for the slowest of none."""
    sheet = sheet_called(job, "energisation/prove-live/kiln-board")
    environment = Environment(job, sheet, worked(job, sheet, {"residual-instant": "0"}))
    assert (False, False, True) == tuple(environment.step(name)["applies"] for name in ("residual-wanted", "residual-slowest", "residual-delayed"))


def test_whatever_is_answered_every_step_knows_whether_it_applies(job: dict) -> None:
    """A choice made otherwise, and a count of none, leave no step that waits for a reading which nobody is asked for."""
    stuck, asked = [], 0
    for sheet in (one for one in job["sheets"] if one["task"].startswith("energisation/")):
        for step in job["tasks"][sheet["task"]]["steps"]:
            none = ["0"] if step.get("unit") == "1" and step["plausible"][0] == 0 else []
            for text in step.get("one_of") or none:
                asked += 1
                environment = Environment(job, sheet, worked(job, sheet, {step["name"]: text}))
                stuck += [f"{sheet['id']} {step['name']} {text}: {one['name']}" for one in job["tasks"][sheet["task"]]["steps"]
                          if environment.step(one["name"])["applies"] is None]
    assert [] == stuck
    assert asked > 50


@pytest.mark.parametrize(("rating", "said"), [("120", "within"), ("60", "outside")])
def test_inverter_carries_no_more_than_its_plate(rating: str, said: str, job: dict) -> None:
    """150 A at 400 V are 104 kVA."""
    job["items"]["supply"]["pump-drive"]["values"]["feeds"] = "inverter"
    assert said == verdict(job, "energisation/first-load/pump-drive", "inverter-rating", {"inverter-rating": rating})


@pytest.mark.parametrize(
    ("step", "reading", "said"),
    [("lets-go", "2", "within"), ("lets-go", "2.1", "outside"), ("waits", "60", "within"), ("waits", "59", "outside")],
)
def test_inverter_lets_go_of_a_network_that_went(step: str, reading: str, said: str, job: dict) -> None:
    """As soon as its network asks for it, and it waits as long before it comes back."""
    job["items"]["supply"]["pump-drive"]["values"]["feeds"] = "inverter"
    assert said == verdict(job, "energisation/first-load/pump-drive", step, {step: reading})


@pytest.mark.parametrize(("most", "said"), [("224", "outside"), ("226", "within"), ("305", "within"), ("306", "outside"), ("500", "outside")])
def test_the_legs_of_a_phase_carry_together_what_the_phase_carries(most: str, said: str, job: dict) -> None:
    """Of 500 A on two legs each takes 225 A at least, and at most 500 · 1.1 / (2 · 0.9) = 305.6 A."""
    assert said == verdict(job, LOAD, "leg-most", {"leg-most": most})


@pytest.mark.parametrize(
    ("hottest", "through", "rated", "said"),
    [
        # 22 °C of air and 65 K for tinned faces: 22 + 65 · (60/160)² = 31.1 °C on a way, whatever the main carries.
        ("31", "60", "160", "within"), ("32", "60", "160", "outside"), ("45", "60", "160", "outside"),
        # Bars of 4000 A with 250 A are allowed a quarter of a kelvin, and no camera tells less than three.
        ("25", "250", "4000", "within"), ("26", "250", "4000", "outside"),
        # A lug that at full load carries 600 · 250 / 500 = 300 A.
        ("41", "250", "300", "within"), ("41", "250", "299", "outside"),
    ],
)
def test_a_joint_is_judged_by_its_own_current(hottest: str, through: str, rated: str, said: str, job: dict) -> None:
    """What runs through the hottest joint and what that joint is rated for say how warm it may be."""
    assert said == verdict(job, LOAD, "joint-rated", {"hottest-joint": hottest, "through-joint": through, "joint-rated": rated})


@pytest.mark.parametrize(("load", "like", "said"), [("240", "40", "within"), ("240", "39.9", "outside"), ("500", "39", "within"), ("500", "38.8", "outside")])
def test_two_joints_differ_by_what_a_camera_can_tell(load: str, like: str, said: str, job: dict) -> None:
    """3 K at 600 A are 0.48 K at 240 A and 2.08 K at 500 A; a kelvin as seen is no difference at any load."""
    assert said == verdict(job, LOAD, "like-joint", {"highest-current": load, "leg-most": "120", "like-joint": like})


def test_gear_is_guarded_and_earthed_before_it_comes_alive(job: dict) -> None:
    """A supply waits for the gear that it names: frame, gate and signs. One that names none waits for none."""
    waits = {name: {need["sheet"] for need in sheet_called(job, f"energisation/switch-on/{name}")["needs"]["clear-to-switch-on"]
                    if need["sheet"].startswith("placing/")} for name in job["items"]["supply"]}
    assert {"placing/guard-it/pad-transformer", "placing/guard-it/kiln-board"} == waits["kiln-board"]
    assert ({"placing/guard-it/battery-unit"}, set()) == (waits["battery-link"], waits["pump-drive"])


def test_nothing_turns_before_the_machines_are_clear(job: dict) -> None:
    """Guards, people and radios, then the first bump; each stop is pressed on a running machine before load goes on."""
    names = [step["name"] for step in job["tasks"]["energisation/first-load"]["steps"]]
    order = ["machines-clear", "bump", "stops-running", "load-steps"]
    assert order == sorted(order, key=names.index)
    assert {"kiln-board": [True] * 3, "pump-drive": [True] * 3, "battery-link": [False] * 3} == {
        supply: applied(job, f"energisation/first-load/{supply}", {}, *order[:3]) for supply in job["items"]["supply"]
    }


@pytest.mark.parametrize(("step", "owed", "none"), [("joints-seen", "joints-left", "0"), ("trips-made", "trips-owed", "0")])
def test_what_another_sheet_left_over_is_counted_off(step: str, owed: str, none: str, job: dict) -> None:
    """A joint left to the camera and a breaker that a lock held are read back, and asked of nobody where none was left."""
    sheet = {"joints-seen": LOAD, "trips-made": "energisation/prove-live/kiln-board"}[step]
    assert ["outside", "within"] == [verdict(job, sheet, step, {owed: "2", step: seen}) for seen in ("1", "2")]
    assert [False] == applied(job, sheet, {owed: none}, step)


def test_a_battery_that_pre_charges_itself_is_asked_for_its_setting(job: dict) -> None:
    """No probe fits into the seconds that its controls take: the volts at which they close are held against the same limit."""
    own, steps = {"pre-charged-by": "by-its-own-controls"}, ("pre-charge", "link-now", "string-now", "closes-at", "pre-charge-done")
    assert [False, False, False, True, True] == applied(job, BATTERY, own, *steps)
    assert [True, True, True, False, False] == applied(job, BATTERY, {}, *steps)
    assert [False, True, True, False, False] == applied(job, BATTERY, {"meets": "another-string"}, *steps)
    assert ["within", "outside"] == [verdict(job, BATTERY, "closes-at", own | {"closes-at": volts}) for volts in ("5", "5.1")]


def test_a_source_without_earth_has_no_loop_and_no_neutral_to_hold(job: dict) -> None:
    """There the insulation monitor is tried instead; a rod of its own may stand at a hundred ohm."""
    board, steps = "energisation/prove-live/kiln-board", ("insulation-alarm", "neutral-to-earth", "loop-measured", "far-ends-within")
    assert [True, False, False, False] == applied(job, board, {"earthing-system": "it"}, *steps)
    assert [False, True, True, True] == applied(job, board, {}, *steps)
    assert "within" == verdict(job, board, "loop-measured", {"earthing-system": "tt", "loop-wanted": "100", "loop-measured": "60"})


def test_an_american_residual_device_is_pressed_and_not_timed(job: dict) -> None:
    """Its standard gives it seconds at its rated current; no tester's milliseconds are asked for."""
    board, steps = "energisation/prove-live/kiln-board", ("residual-pressed", "residual-tried", "residual-wanted", "residual-slowest")
    assert [False, True, True, True] == applied(job, board, {}, *steps)
    job["job"]["practice"] = "us"
    assert [True, False, False, False] == applied(job, board, {}, *steps)


@pytest.mark.parametrize(("most", "least", "said"), [("165", "140", "within"), ("165", "130", "outside"), ("165", "0", "outside")])
def test_strings_side_by_side_share_the_load(most: str, least: str, said: str, job: dict) -> None:
    """A string whose fuse is gone shows here; a fifth apart is charge and age."""
    assert said == verdict(job, "energisation/first-load/battery-link", "string-least", {"string-most": most, "string-least": least})


def test_two_strings_carry_together_what_the_pole_carries(job: dict) -> None:
    """Of 320 A on two strings one takes 144 A at least, and 220 A at most."""
    load = "energisation/first-load/battery-link"
    assert ["outside", "within", "within", "outside"] == [verdict(job, load, "string-most", {"string-most": amps}) for amps in ("143", "145", "219", "221")]


def test_a_neutral_is_clamped_where_there_is_one(job: dict) -> None:
    """No breaker watches it; a board without a neutral is asked for none."""
    assert ["within", "outside"] == [verdict(job, LOAD, "neutral-most", {"neutral-rated": "300", "neutral-most": amps}) for amps in ("300", "310")]
    assert [False] == applied(job, LOAD, {"neutral-rated": "0"}, "neutral-most")


def test_the_other_source_has_its_neutral_on_earth_too(job: dict) -> None:
    """A set whose neutral floats runs everything and clears no fault."""
    board = "energisation/prove-live/kiln-board"
    assert ["within", "outside"] == [verdict(job, board, "other-neutral", {"other-neutral": volts}) for volts in ("0.5", "60")]
    assert [[False], [False]] == [applied(job, board, other, "other-neutral") for other in ({"standby": "none"}, {"neutral-here": "no-neutral"})]


def test_drive_and_inverter_are_set_before_they_are_tried(job: dict) -> None:
    """Out of its box a drive is set for another motor, and an inverter for another network."""
    names = [step["name"] for step in job["tasks"]["energisation/first-load"]["steps"]]
    assert names.index("drive-set") < names.index("bump") and names.index("inverter-settings") < names.index("lets-go")
    load = "energisation/first-load/pump-drive"
    assert [True, False] == applied(job, load, {}, "drive-set", "inverter-settings")
    job["items"]["supply"]["pump-drive"]["values"]["feeds"] = "inverter"
    assert [False, True] == applied(job, load, {}, "drive-set", "inverter-settings")
