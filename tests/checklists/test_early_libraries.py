"""From the gate to the closed trench: what a load, a line, a hole or a paper decides, and when it is asked."""

from typing import Any

import pytest

from tests.checklists.worked_sheets import applied, steps_of, verdict

CRANE = "placing/set-it-down/pad-transformer"
SKATES = "placing/set-it-down/kiln-board"


@pytest.mark.parametrize("start", ["trial-lift", "try-forks", "jack-up"])
def test_nothing_leaves_the_ground_before_every_figure_of_the_lift_is_within(start: str, job: dict[str, Any]) -> None:
    """Chart, ground, wind, lines, slings and skates stand before a hold, and the first movement behind it."""
    names = list(steps_of(job, "placing/set-it-down"))
    judged = [step["name"] for step in steps_of(job, "placing/set-it-down").values() if step.get("accept")]
    assert ["stands-out-of-level"] == [name for name in judged if names.index(name) > names.index("lift-may-begin")]
    assert names.index("lift-may-begin") < names.index(start)


def test_a_live_line_keeps_the_distance_that_its_owner_gives(job: dict[str, Any]) -> None:
    """Nearer is outside; where there is none, or its owner's paper says that it is off, no distance is asked."""
    assert "outside" == verdict(job, CRANE, "line-kept", line_wanted="4", line_kept="3.9")
    assert "within" == verdict(job, CRANE, "line-kept", line_wanted="4", line_kept="4")
    asked = {said: applied(job, CRANE, {"line-near": said}, "line-paper", "line-wanted", "line-kept", "line-watch")
             for said in ("no-line", "switched-off", "live-line")}
    assert {"no-line": [False] * 4, "switched-off": [True, False, False, False], "live-line": [False, True, True, True]} == asked
    assert [False] == applied(job, SKATES, {}, "line-near")


def test_each_skate_and_jack_carries_half_of_the_gear(job: dict[str, Any]) -> None:
    """680 kg on an uneven floor: one of four hangs free and its neighbour has double."""
    assert ["within", "outside"] == [verdict(job, SKATES, "skate-may", skate_may=text) for text in ("340", "330")]


def test_a_crane_can_t_weigh_less_than_what_hangs_on_it(job: dict[str, Any]) -> None:
    """The sum under the outriggers counts crane and load, so the load alone is a slip."""
    assert "outside" == verdict(job, CRANE, "crane-and-load", crane_and_load="2600", rigging="180")


def test_what_a_crane_lifts_straight_up_needs_no_ground_to_be_drawn_out(job: dict[str, Any]) -> None:
    """A truck's length and the ground in front are asked for what leaves by truck or on skates."""
    asked = {item: applied(job, f"placing/ready-the-place/{item}", {}, "machine-length", "ground-in-front")
             for item in ("pad-transformer", "kiln-board", "battery-unit")}
    assert {"pad-transformer": [False, False], "kiln-board": [False, True], "battery-unit": [True, True]} == asked
    assert "within" == verdict(job, "placing/ready-the-place/kiln-board", "ground-in-front", ground_in_front="1.4")


def test_a_room_has_as_many_ways_out_as_its_code_asks(job: dict[str, Any]) -> None:
    """Indoors doors are counted that open at a push; under the open sky none is asked."""
    assert "outside" == verdict(job, "placing/ready-the-place/kiln-board", "exits", exits_wanted="2", exits="1")
    assert [False, False] == applied(job, "placing/ready-the-place/battery-unit", {}, "exits", "dry-above")


def test_a_generator_is_asked_for_its_exhaust_its_fuel_and_its_distance(job: dict[str, Any]) -> None:
    """What burns fuel kills by its exhaust and burns by its tank."""
    asked = ("fuel-kept", "exhaust-out", "fire-wanted", "fire-distance")
    assert [False] * 4 == applied(job, "placing/ready-the-place/kiln-board", {}, *asked)
    job["items"]["placement"]["kiln-board"]["values"]["gear"] = "generator"
    assert [True] * 4 == applied(job, "placing/ready-the-place/kiln-board", {}, *asked)


def test_gear_without_fence_or_heaters_is_asked_for_neither(job: dict[str, Any]) -> None:
    """A metal fence is measured, any fence has a gate, and no fence means doors that lock."""
    sheet = "placing/guard-it/battery-unit"
    asked = {said: applied(job, sheet, {"fence": said}, "fence-earth", "gate", "doors-locked") for said in ("metal", "not-metal", "no-fence")}
    assert {"metal": [True, True, False], "not-metal": [False, True, False], "no-fence": [False, False, True]} == asked
    assert [False, False] == applied(job, sheet, {"heaters": "has-none"}, "heaters-may-go-on", "heater-source")


CUT = "receiving/cut-to-run"


def test_cable_that_is_pulled_straight_off_the_drum_is_not_asked_for_pieces(job: dict[str, Any]) -> None:
    """Its pull waits for this sheet, so the sheet can't wait for a cut that is made behind the pull."""
    pieces = ("cap-and-tag", "pieces", "left-over")
    assert [False] * 3 == applied(job, f"{CUT}/D2", {"off-the-drum": "72", "pieces-wanted": "0"}, *pieces)
    assert "outside" == verdict(job, f"{CUT}/D2", "pieces-wanted", off_the_drum="0", pieces_wanted="0")
    assert "outside" == verdict(job, f"{CUT}/D1", "pieces-wanted", wanted="438", off_the_drum="438", pieces_wanted="6")


def test_what_is_left_counts_what_is_pulled_off_the_drum_later(job: dict[str, Any]) -> None:
    """451 m, 219 m of 438 m cut in three pieces: 232 m stay, and 12 m would be a piece cut long."""
    half = {"on-hand": "451", "wanted": "438", "off-the-drum": "219", "pieces-wanted": "3", "pieces": "3"}
    assert ["within", "outside"] == [verdict(job, f"{CUT}/D1", "left-over", half | {"left-over": text}) for text in ("231.5", "12")]


def test_gear_that_goes_to_a_store_has_a_lift_of_its_own(job: dict[str, Any]) -> None:
    """Off the truck it weighs what it weighs at its place: planned, judged and released, or left to the sheet that is."""
    steps = ("lift-plan", "lifts", "may-come-off", "kept-dry")
    sheet = "receiving/gear-in/pad-transformer"
    assert [True] * 4 == applied(job, sheet, {"goes-to": "to-store"}, *steps)
    assert [False] * 4 == applied(job, sheet, {"goes-to": "to-its-place"}, *steps)
    assert "outside" == verdict(job, sheet, "lifts", lifts="2400")
    assert [False] == applied(job, sheet, {}, "charged-again")


def test_no_strap_and_no_sling_before_the_drum_is_chocked_and_the_lift_is_strong_enough(job: dict[str, Any]) -> None:
    """What may lift it is judged before it leaves the truck."""
    names = list(steps_of(job, "receiving/drum-in"))
    assert names.index("lifts") < names.index("chock-first") < names.index("may-come-off") < names.index("lift-by-spindle")


def test_a_manual_that_is_missing_is_outside(job: dict[str, Any]) -> None:
    """A count of what is there said nothing; none may be missing."""
    assert "outside" == verdict(job, "handing-over/papers/kiln-board", "manuals", manuals="1")


FIND = "trenching/find-services/T1"
DIG = "trenching/open-trench/T1"
LAY = "trenching/lay-conduit/T1"


def test_a_raised_boom_keeps_the_distance_that_the_line_s_owner_gives(job: dict[str, Any]) -> None:
    """A look upwards that found a line asks how far, and nobody digs nearer."""
    assert "outside" == verdict(job, FIND, "line-kept", overhead="live-line", line_wanted="4", line_kept="3.9")
    assert [False] * 3 == applied(job, FIND, {"overhead": "no-line"}, "line-paper", "line-wanted", "line-kept")


def test_no_bucket_before_the_nearest_service_and_what_stands_beside_are_judged(job: dict[str, Any]) -> None:
    """A wall nearer than the trench is deep, or a service inside its zone, keeps the hold for digging shut."""
    names = list(steps_of(job, "trenching/open-trench"))
    assert all(names.index(before) < names.index("clear-to-dig") < names.index("dig-in-lifts") for before in ("beside", "service-near", "machine-distance"))
    assert ["within", "within", "outside"] == [verdict(job, DIG, "beside", beside=said) for said in ("nothing", "passed-by-engineer", "not-passed")]
    assert [False] == applied(job, DIG, {"beside": "nothing"}, "propped-by")


def test_the_locator_is_tried_before_the_line_is_swept(job: dict[str, Any]) -> None:
    """A locator is a tester: silence from a broken one is no clear ground."""
    names = list(steps_of(job, "trenching/find-services"))
    assert names.index("locator-tried") < names.index("sweep")
    assert steps_of(job, "trenching/find-services")["locator-tried"]["must"]


def test_named_services_can_t_be_tapped_away_where_conduits_are_laid(job: dict[str, Any]) -> None:
    """The job names some on this line, so one of them has the least to spare."""
    assert "outside" == verdict(job, LAY, "nearest-service", nearest_service="none")


def test_turns_between_pull_points_are_added_up_where_the_practice_limits_them(job: dict[str, Any]) -> None:
    """Four quarter bends in the United States; elsewhere the pull's working decides and nothing is asked."""
    assert [False] == applied(job, LAY, {}, "bends-in-all")
    job["job"]["practice"] = "us"
    assert ["within", "outside"] == [verdict(job, LAY, "bends-in-all", bends_in_all=text) for text in ("360", "375")]


def test_a_box_is_drawn_only_where_one_stands(job: dict[str, Any]) -> None:
    """Sides that lean have no box to draw."""
    asked = {said: applied(job, "trenching/bury-and-prove/T1", {"held-by": said}, "box-out") for said in ("boxes-or-shores", "nothing-set")}
    assert {"boxes-or-shores": [True], "nothing-set": [False]} == asked


def test_a_hot_day_is_planned_anew_from_where_the_law_calls_it_hot(job: dict[str, Any]) -> None:
    """95 degrees Fahrenheit, 35 Celsius; the firm's own 37 was too late."""
    asked = [applied(job, "setting-up/brief/yard", {"air-temperature": text, "day-planned-anew": "x"}, "day-planned-anew") for text in ("34.9", "35.5")]
    assert [[False], [True]] == asked


def test_every_shift_in_the_trench_has_its_look(job: dict[str, Any]) -> None:
    """Looked at on the first day alone, three shifts are outside, and nothing is buried over it."""
    assert "outside" == verdict(job, LAY, "shifts-looked", shifts_in="3", shifts_looked="1")
    names = list(steps_of(job, "trenching/lay-conduit"))
    assert names.index("shifts-looked") < names.index("ready-to-bury")


def test_nobody_drills_where_nobody_knows_what_is_in_wall_or_floor(job: dict[str, Any]) -> None:
    """Asbestos that nobody has looked for is outside, and a floor is scanned before it is anchored in."""
    assert "outside" == verdict(job, "setting-up/permissions/yard", "asbestos", asbestos="nobody-knows")
    asked = {slab: applied(job, "placing/ready-the-place/kiln-board", {"slab": slab}, "floor-scanned") for slab in ("old-floor", "steel")}
    assert {"old-floor": [True], "steel": [False]} == asked


def test_what_is_claimed_of_a_carrier_has_its_picture(job: dict[str, Any]) -> None:
    """Packing and shock marks are photographed before anything leaves the truck."""
    assert ["needed", "needed"] == [steps_of(job, task)[step]["photo"] for task, step in (("receiving/drum-in", "packing"), ("receiving/gear-in", "shock-marks"))]


def test_a_battery_s_links_are_out_before_it_hangs_on_a_hook(job: dict[str, Any]) -> None:
    """Only of a battery, and before anything lifts it."""
    asked = {item: applied(job, f"receiving/gear-in/{item}", {}, "battery-open") for item in ("battery-unit", "kiln-board")}
    assert {"battery-unit": [True], "kiln-board": [False]} == asked
    names = list(steps_of(job, "receiving/gear-in"))
    assert names.index("battery-open") < names.index("may-come-off")


def test_a_trench_that_names_no_service_can_be_dug(job: dict[str, Any]) -> None:
    """None on the plans, none pegged and none passing are true answers where the job names none."""
    job["items"]["trench"]["T1"]["values"]["services"] = []
    assert "within" == verdict(job, FIND, "services-on-plans", services_on_plans="0")
    assert "within" == verdict(job, DIG, "service-near", service_near="none")
    assert "within" == verdict(job, LAY, "nearest-service", nearest_service="none")
    assert [False] == applied(job, FIND, {}, "vacuum-first")


def test_the_way_out_is_shown_where_something_heavy_goes_live(job: dict[str, Any]) -> None:
    """A drive without a placement of its own has no machine to be let in."""
    asked = {item: applied(job, f"handing-over/papers/{item}", {}, "way-out-shown") for item in ("kiln-board", "pump-drive")}
    assert {"kiln-board": [True], "pump-drive": [False]} == asked


def test_a_box_goes_in_on_chains_before_anybody_looks_at_its_ends(job: dict[str, Any]) -> None:
    """Only where the walls are held by one."""
    names = list(steps_of(job, "trenching/open-trench"))
    assert names.index("box-set") < names.index("box-ends") < names.index("open-and-safe")
    assert [True] == applied(job, DIG, {"walls": "boxed"}, "box-set")
    assert [False] == applied(job, DIG, {}, "box-set")


def test_a_safety_switch_that_never_trips_can_be_entered_and_is_outside(job: dict[str, Any]) -> None:
    """Without a number for it the crew would enter the slowest of the others."""
    assert "outside" == verdict(job, "setting-up/make-safe/yard", "safety-switch", safety_switch="2000")
