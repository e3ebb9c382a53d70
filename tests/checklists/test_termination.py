"""Claims about making off that the good crew of the demo does not meet."""

import pytest

from builder.compile.evaluate import Environment
from tests.checklists.worked_sheets import applied, sheet_called, steps_of, verdict, worked

CELL_JOINT, STRING_LINKS = "termination/make-off/J7", "termination/close-the-links/J7"


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


def test_lug_that_its_maker_fitted_is_bolted_and_not_pressed(job):
    """Nobody is asked for die and crimps of a lug that came on the cable; tail, bolts and torque stay."""
    made = {"lug-comes": "fitted-by-its-maker"}
    asked = applied(job, "termination/make-off/J1", made, "fitted-lug", "crimps-made", "strip", "tail-radius", "wrench-set", "bolts-clicked")
    assert [True, False, False, True, True, True] == asked


def test_links_close_after_the_cables_are_tested(job):
    """Cables are tested with the links open: closing waits for those tests, and giving back waits for the closing."""
    closing = sheet_called(job, "termination/close-the-links/J7")["needs"]["links-may-close"]
    assert {"sheet": "testing/put-it-back/battery-link", "hold": "dead-tests-in"} in closing
    giving = sheet_called(job, "lock-out/give-back/battery-strings")["needs"]["may-come-off"]
    assert {"sheet": "termination/close-the-links/J7", "hold": None} in giving


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
