"""Claims about making off that the good crew of the demo does not meet."""

import pytest

from builder.compile.evaluate import Environment
from tests.checklists.worked_sheets import applied, sheet_called, steps_of, verdict, worked

CELL_JOINT, STRING_LINKS = "termination/bolt-up/J7", "termination/close-the-links/J7"


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


@pytest.mark.parametrize(("neutral", "labelled"), [("blue", False), ("black", True), ("none-here", False), ("other", True)])
def test_neutral_in_another_colour_than_the_practice_s_is_named_on_a_label(neutral, labelled, job):
    """Black is a phase here: whoever opens this next is told that it is the neutral of this cable."""
    sheet = sheet_called(job, "termination/before-making-off/J1")
    schemes = {"cable-scheme": "brown-black-grey", "gear-scheme": "brown-black-grey", "neutral-worn": neutral}
    assert labelled == Environment(job, sheet, worked(job, sheet, schemes)).step("schemes-meet")["applies"]


@pytest.mark.parametrize(
    ("practice", "worn", "said"),
    [("iec", "green-yellow", "within"), ("iec", "green", "outside"), ("us", "green", "within"), ("au-nz", "green", "outside"), ("iec", "other", "outside")],
)
def test_earth_wears_what_the_practice_gives_it(practice, worn, said, job):
    """Green alone is earth under one practice and was a phase under the others."""
    job["job"]["practice"] = practice
    assert said == verdict(job, "termination/before-making-off/J1", "earth-worn", earth_worn=worn)


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


def test_lug_that_its_maker_fitted_is_bolted_and_not_pressed(job):
    """Nobody is asked for die and crimps of a lug that came on the cable; tail, bolts and torque stay."""
    made = {"lug-comes": "fitted-by-its-maker"}
    asked = applied(job, "termination/make-off/J1", made, "fitted-lug", "lugs-crimped", "strip", "tail-radius")
    assert [True, False, False, True] == asked


def test_links_close_after_the_cables_are_tested(job):
    """Cables are tested with the links open: closing waits for those tests, and giving back waits for the closing."""
    closing = sheet_called(job, "termination/close-the-links/J7")["needs"]["links-may-close"]
    assert {"sheet": "testing/put-it-back/battery-link", "hold": "dead-tests-in"} in closing
    giving = sheet_called(job, "lock-out/give-back/battery-strings")["needs"]["may-come-off"]
    assert {"sheet": "termination/close-the-links/J7", "hold": None} in giving


def test_nobody_bares_a_live_pole_before_clothing_is_read_and_signed_for(job):
    """Names, heat, suit and gloves, then a signed gate under lock; a dead terminal is asked for none of it."""
    names, steps = list(steps_of(job, "termination/bolt-up")), steps_of(job, "termination/bolt-up")
    asked = ("cell-hands", "metal-off", "cell-tools", "study-energy", "suit-rating", "glove-rating")
    gate = "pole-may-be-bared"
    assert all(names.index(name) < names.index(gate) < names.index("tail-to-rack") < names.index("first-pole-on") for name in asked)
    assert ("licensed-worker", True, "on") == (steps[gate]["released_by"], steps[gate]["signed"], sheet_called(job, CELL_JOINT)["locks"][gate]["want"])
    assert {True} == set(applied(job, CELL_JOINT, {}, *asked, gate))
    assert {False} == set(applied(job, "termination/bolt-up/J1", {}, *asked, gate))
    assert ["outside"] * 3 == [
        verdict(job, CELL_JOINT, step, **instead)
        for step, instead in (("suit-rating", {"suit_rating": "17"}), ("study-energy", {"study_energy": "41"}), ("glove-rating", {"glove_rating": "768"}))
    ]


def test_a_meter_on_live_cells_has_a_way_round_and_is_proved_on_both_sides(job):
    """Lug against pole is read with one pole on, a link's gap with one link open, and the tester before and after each."""
    names = list(steps_of(job, "termination/bolt-up"))
    order = ["first-pole-on", "tester-before", "lug-to-pole", "tester-after", "last-pole-on"]
    assert order == sorted(order, key=names.index)
    names = list(steps_of(job, "termination/close-the-links"))
    order = ["tester-first", "sections-marked", "close-links", "link-gap", "tester-again", "last-link", "links-clicked", "string-back"]
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


@pytest.mark.parametrize("joint", ["J1", "J5", "J7"])
def test_it_is_proved_dead_again_before_it_is_bolted(joint, job):
    """Lugs are pressed one day and bolted the next: each has its own proof, tester before and after, and its own gate under lock."""
    needs = sheet_called(job, f"termination/bolt-up/{joint}")["needs"]["may-bolt"]
    assert {"sheet": f"termination/make-off/{joint}", "hold": "lugged"} in needs
    for task, gate in (("make-off", "go"), ("bolt-up", "may-bolt")):
        names, sheet = list(steps_of(job, f"termination/{task}")), sheet_called(job, f"termination/{task}/{joint}")
        proof = "cable-dead" if joint == "J7" else "dead-here"
        assert names.index("tester-first") < names.index(proof) < names.index("tester-again") < names.index(gate)
        assert ("on", [True, "outside"]) == (sheet["locks"][gate]["want"], [*applied(job, sheet["id"], {}, proof), verdict(job, sheet["id"], proof, {proof: "60"})])


def test_lug_and_barrel_are_measured_before_the_compound_goes_in(job):
    """Charts and measures first; from the brush to the press nobody lays the cable down to read."""
    names = list(steps_of(job, "termination/make-off"))
    order = ["die-number", "crimps-wanted", "cut-square", "lug-bore", "conductor-diameter", "maker-play", "strip", "brush-and-compound", "lug-fits",
             "home-in-barrel", "lugs-here", "lugs-crimped", "crimp"]
    assert order == sorted(order, key=names.index)


def test_every_lug_of_a_joint_is_counted_and_not_one_of_them(job):
    """Two crimps on one lug say nothing of the other two."""
    assert ["outside", "within"] == [verdict(job, "termination/make-off/J1", "lugs-crimped", lugs_here="3", lugs_crimped=made) for made in ("1", "3")]


@pytest.mark.parametrize(("printed", "said"), [("50", "within"), ("50.8", "within"), ("44", "outside"), ("70", "outside")])
def test_the_torque_on_the_gear_is_the_one_in_the_job_file(printed, said, job):
    """37.5 lbf.ft are 50.8 N.m; another figure on the label stops the work until the file is right."""
    assert said == verdict(job, "termination/bolt-up/J1", "torque-printed", torque_printed=printed)


def test_above_low_voltage_the_kit_is_named(job):
    """A black layer that stays under the screen burns through; at 400 V nobody is asked for a kit."""
    steps = ("kit", "kit-layer")
    assert [False, False] == applied(job, "termination/make-off/J1", {}, *steps)
    job["items"]["run"]["R1"]["values"]["voltage"] = 11000
    job["cables"]["AL300"]["values"]["construction"] = "screened"
    assert [True, True] == applied(job, "termination/make-off/J1", {}, *steps)


def test_links_are_closed_by_the_count_of_those_that_were_opened(job):
    """A finger-tight link shows full voltage: the bolts that clicked are held against the paper, and the paper is written when they open."""
    opened = list(steps_of(job, "lock-out/cells-stay-live"))
    assert opened.index("open-links") < opened.index("links-opened") < opened.index("safe-to-work")
    assert ["outside", "within"] == [verdict(job, STRING_LINKS, "links-clicked", links_noted="6", links_clicked=made) for made in ("5", "6")]
