"""Claims about locking out and proving dead that the good crew of the demo does not meet."""

import pytest

from builder.compile.evaluate import Environment
from tests.checklists.worked_sheets import applied, sheet_called, steps_of, verdict, worked

LINK = "lock-out/prove-dead/drive-panel"
CELLS = "lock-out/cells-stay-live/battery-strings"


def test_clothing_is_chosen_by_the_study_and_not_by_the_sum(job: dict) -> None:
    """Whatever the indication comes to, the suit is held against the study's own figure."""
    cells = "lock-out/cells-stay-live/battery-strings"
    assert "within" == verdict(job, cells, "suit-rating", {"short-current": "60000"})
    assert "outside" == verdict(job, cells, "suit-rating", {"short-current": "200", "study-energy": "30"})


def test_lock_box_needs_a_lock_for_each_point_and_each_person(job: dict) -> None:
    """Two points and three people: five locks with a box, six without."""
    sheet = sheet_called(job, "lock-out/lock-off/hv-switch")
    boxed = Environment(job, sheet, worked(job, sheet)).working("locks")["outputs"]["locks"]["si"]
    job["items"]["isolation"]["hv-switch"]["values"]["lock_box"] = None
    apart = Environment(job, sheet, worked(job, sheet)).working("locks")["outputs"]["locks"]["si"]
    assert (5, 6) == (boxed, apart)


@pytest.mark.parametrize(
    ("practice", "live", "volts", "kept", "said"),
    [
        # EN 50110 asks 1.15 m at 10 kV and 0.3 m at low voltage; NFPA 70E 1.52 m and 1.07 m.
        ("iec", "bare-on-ac", "10000", "1.1", "outside"), ("iec", "bare-on-ac", "10000", "1.2", "within"),
        ("us", "bare-on-ac", "10000", "1.2", "outside"), ("us", "bare-on-ac", "10000", "1.6", "within"),
        ("us", "bare-on-ac", "120", "1.1", "within"), ("us", "bare-on-ac", "120", "1", "outside"),
        ("us", "bare-on-dc", "768", "1", "outside"),
        # No print at hand: what the site asks stands alone, and stands.
        ("us", "bare-on-dc", "125", "0.8", "within"), ("us", "bare-on-dc", "125", "0.6", "outside"),
        ("au-nz", "bare-on-ac", "10000", "0.8", "within"), ("au-nz", "bare-on-ac", "10000", "0.6", "outside"),
    ],
)
def test_distance_of_one_practice_is_not_borrowed_by_another(practice: str, live: str, volts: str, kept: str, said: str, job: dict) -> None:
    """Each practice takes its own print, and where it has none the site's figure; nobody takes another's."""
    job["job"]["practice"] = practice
    instead = {"live-beside": live, "beside-voltage": volts, "distance-wanted": "0.7", "distance-kept": kept}
    assert said == verdict(job, "lock-out/prove-dead/kiln-feeder", "distance-kept", instead)


@pytest.mark.parametrize(
    ("system", "volts", "charge", "crew"),
    [("ac", 1000, None, True), ("ac", 1001, None, False), ("dc", 1500, None, True), ("dc", 1501, None, False),
     ("ac", 690, 1200, True), ("ac", 690, 1600, False)],
)
def test_crew_proves_dead_up_to_where_low_voltage_ends(system: str, volts: float, charge: float | None, crew: bool, job: dict) -> None:
    """1000 V on a.c. and 1500 V on d.c., a charge counted as d.c.; above, the operator proves and the crew watches."""
    job["items"]["isolation"]["kiln-feeder"]["values"] |= {"system": system, "voltage": volts, "charged_to": charge}
    sheet = sheet_called(job, "lock-out/prove-dead/kiln-feeder")
    environment = Environment(job, sheet, {})
    assert (crew, not crew) == tuple(environment.step(name)["applies"] for name in ("tester-first", "operator-proves"))


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
        given_back, none = f"lock-out/give-back/{point}", {"earths-noted": "0", "earths-off": "0"}
        assert [said == "outside"] == applied(job, given_back, none, "earths-off")
        assert (said if said == "outside" else None) == verdict(job, given_back, "earths-off", none)


def test_who_may_not_test_a_point_counts_no_tests_of_it(job):
    """On the operator's point the permit is looked at, on cells the covers; only the crew's own point is tested again."""
    counts = ("tested-again", "permit-seen", "cells-seen")
    found = {point: applied(job, f"lock-out/keep-it-locked/{point}", {}, *counts) for point in ("kiln-feeder", "hv-switch", "battery-strings")}
    assert {"kiln-feeder": [True, False, False], "hv-switch": [False, True, False], "battery-strings": [False, False, True]} == found


def test_the_watch_is_counted_behind_the_work(job):
    """No count of changes and starts before every joint, link and test behind the point is closed."""
    needs = sheet_called(job, "lock-out/keep-it-locked/battery-strings")["needs"]["watch-ends"]
    assert {"termination/check-the-joint/J7", "termination/close-the-links/J7", "testing/dead-tests/battery-link", "testing/put-it-back/battery-link"} <= {need["sheet"] for need in needs}
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


def test_cells_are_given_back_without_a_count_of_earths(job):
    """Nobody earths a cell: no hold for earths, no photo of a paper that shows none, no follower of conductors."""
    steps = ("earths-may-come-off", "earths-noted", "tools-in", "earths-off", "earths-seen-off", "tools-out")
    assert [False] * 6 == applied(job, "lock-out/give-back/battery-strings", {}, *steps)
    assert [True] * 6 == applied(job, "lock-out/give-back/kiln-feeder", {}, *steps)
    assert [True, True, False, False, True, False] == applied(job, "lock-out/give-back/drive-switch", {"earths-noted": "0"}, *steps)
