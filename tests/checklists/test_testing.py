"""Claims about testing before switching on that the good crew of the demo does not meet."""

import pytest

from builder.compile.evaluate import Environment
from tests.checklists.worked_sheets import applied, sheet_called, steps_of, verdict, worked

BACK = "testing/put-it-back"


@pytest.mark.parametrize(("clears", "said"), [("0.9", "within"), ("4", "within"), ("5", "outside")])
def test_bars_bear_their_figure_for_its_time_and_less_for_longer(clears: str, said: str, job: dict) -> None:
    """50 kA for a second are 25 kA for four and 22.4 kA for five: the transformer alone gives 22.7 kA."""
    assert said == verdict(job, "testing/look-it-over/kiln-board", "bars-bear", {"clears-in": clears})


def test_operators_earths_come_off_and_go_back_under_the_operators_word(job: dict) -> None:
    """Permit to test, proof and permit to work stand on the sheet as soon as one of the operator's earths comes off, and only then."""
    sheet = sheet_called(job, "testing/dead-tests/kiln-board")
    for said, applies in (("they-come-off", True), ("they-stay", False)):
        environment = Environment(job, sheet, worked(job, sheet, {"operators-earths": said}))
        assert [applies] * 3 == [environment.step(step)["applies"] for step in ("test-permit", "operator-proves", "permit-back")]


def test_no_hand_goes_in_between_lifting_the_earths_and_their_being_back(job: dict) -> None:
    """Everything that is unbolted comes off before the earths do, and goes back on a sheet that waits for them."""
    names = list(steps_of(job, "testing/dead-tests"))
    off = names.index("earths-may-be-lifted")
    assert max(map(names.index, ("lift-electronics", "winding-apart", "joins-lifted", "electrode-lifted"))) < off
    assert "hands-may-go-back" == names[-1]
    first = next(iter(steps_of(job, BACK).values()))
    needs = {(need["sheet"], need["hold"]) for need in sheet_called(job, f"{BACK}/kiln-board")["needs"][first["name"]]}
    assert ("hold", True) == (first["kind"], ("testing/dead-tests/kiln-board", "hands-may-go-back") in needs)


def test_no_test_voltage_comes_on_while_hands_put_things_back(job: dict) -> None:
    """Insulation is tested on the sheet where hands are out, windings with their leads off, and nowhere after."""
    assert [] == [name for name, step in steps_of(job, BACK).items() if step.get("unit") == "Mohm" or "test voltage" in step["say"].lower()]
    names = list(steps_of(job, "testing/dead-tests"))
    order = ("winding-apart", "winding-may-be-tested", "windings-within", "short-windings", "lift-electronics", "earths-may-be-lifted", "insulation-between", "earths-back")
    assert sorted(order, key=names.index) == list(order)


def test_what_is_put_back_is_counted_against_what_was_tagged(job: dict) -> None:
    """Another person may put it back on another day: tags and joins are read off the sheet of the test."""
    board = f"{BACK}/kiln-board"
    assert "outside" == verdict(job, board, "tags-back", {"tags-hanging": "15"})
    assert [[True], [False]] == [applied(job, board, {"joins-off": count}, "link-back") for count in ("1", "0")]


def test_a_joint_that_was_undone_is_proved_again(job: dict) -> None:
    """Four lugs were off for the test, three are within again: the fourth is found before anything comes alive."""
    assert "outside" == verdict(job, f"{BACK}/kiln-board", "joints-proved-again", {"joints-undone": "4", "joints-proved-again": "3"})
    names = list(steps_of(job, BACK))
    assert names.index("tags-back") < names.index("joints-proved-again") < names.index("dead-tests-in")


def test_a_test_voltage_misread_from_the_code_harms_no_gear(job: dict) -> None:
    """Where the practice has a figure twice that is the most, whatever was read: 500 V at 400 V, and never 2500 V."""
    dead = "testing/dead-tests/kiln-board"
    found = {volts: verdict(job, dead, "test-voltage", {"test-voltage-wanted": "500", "test-voltage": volts}) for volts in ("250", "500", "1000", "1100")}
    assert {"250": "outside", "500": "within", "1000": "within", "1100": "outside"} == found
    assert "outside" == verdict(job, dead, "test-voltage", {"test-voltage-wanted": "2500", "test-voltage": "2500"})


def test_every_interlock_of_the_drawing_is_tried(job: dict) -> None:
    """One that gives, or that nobody tried, is outside."""
    assert "outside" == verdict(job, "testing/prove-protection/kiln-board", "interlocks", {"interlocks-listed": "5", "interlocks": "4"})


def test_the_tap_is_compared_and_not_only_written_down(job: dict) -> None:
    """One position beside the drawing's is outside."""
    assert ["within", "outside"] == [verdict(job, f"{BACK}/kiln-board", "tap", {"tap": tap}) for tap in ("3", "2")]


def test_only_a_board_has_outgoing_ways(job: dict) -> None:
    """A drive's one cable is rung core by core; nobody looks for ways that it hasn't got."""
    assert [[True, True], [False, False]] == [applied(job, f"{BACK}/{supply}", {}, "ways-drawn", "ways-checked") for supply in ("kiln-board", "pump-drive")]


def test_no_core_is_left_out_of_the_insulation_test(job: dict) -> None:
    """The neutral is tested to each phase as well, and no open switch hides what lies behind it."""
    steps = steps_of(job, "testing/dead-tests")
    assert "to the neutral" in steps["insulation-between"]["say"]
    names = list(steps)
    assert steps["switches-for-test"]["must"] and names.index("switches-for-test") < names.index("insulation-between")


def test_a_neutral_joined_on_the_live_side_is_lifted_for_the_test(job: dict) -> None:
    """Unbroken, it reads straight to earth through a join that nobody here may open; broken with the rest, or joined here, it stays."""
    dead = "testing/dead-tests/kiln-board"
    elsewhere = {"link-drawn": "0", "link-found": "0"}
    assert [True] == applied(job, dead, elsewhere, "neutral-lifted")
    assert [False] == applied(job, dead, elsewhere | {"neutral-comes": "behind-a-locked-pole"}, "neutral-lifted")
    assert [False, False] == applied(job, dead, {}, "neutral-comes", "neutral-lifted")


def test_a_crew_of_the_united_states_is_asked_for_its_study_and_not_for_times_of_others(job: dict) -> None:
    """Its code knows neither systems by two letters nor a time for each: the study's own figure is held."""
    protection, asked = "testing/prove-protection/kiln-board", ("earthing-system", "final-lasts", "others-last", "fault-lasts")
    assert [True, True, True, False] == applied(job, protection, {}, *asked)
    job["job"]["practice"] = "us"
    assert [False, False, False, True] == applied(job, protection, {}, *asked)
    assert ["within", "outside"] == [verdict(job, protection, "fault-lasts", {"fault-lasts": lasts}) for lasts in ("0.5", "0.6")]


def test_conductors_side_by_side_are_cut_alike(job: dict) -> None:
    """Two for a phase may differ by a fiftieth; one alone has nothing to be held against."""
    look = "testing/look-it-over"
    assert ["within", "outside"] == [verdict(job, f"{look}/kiln-board", "leg-shortest", {"leg-longest": "71.6", "leg-shortest": short}) for short in ("70.2", "70.1")]
    assert [False] == applied(job, f"{look}/pump-drive", {}, "leg-shortest")


@pytest.mark.parametrize("codes", ["0.2", "0.4", "5"])
def test_small_final_circuits_are_never_given_the_time_of_a_distribution_circuit(codes: str, job: dict) -> None:
    """At 230 V to earth the practice's 0.4 s holds whatever the code's line was read as, and a shorter one holds instead."""
    protection = "testing/prove-protection/kiln-board"
    instead = {"final-may-last": codes, "final-lasts": "0.3"}
    assert ("outside" if codes == "0.2" else "within") == verdict(job, protection, "final-lasts", instead)
    assert "outside" == verdict(job, protection, "final-lasts", instead | {"final-lasts": "0.5"})
