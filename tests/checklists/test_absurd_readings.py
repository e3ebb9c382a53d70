"""What no good crew would read, and an eager or tired one might enter: none of it is within."""

from copy import deepcopy
from math import radians, sin
from typing import Any

import pytest

from builder.check.everything import checked_job
from builder.compile.evaluate import Environment, plausible
from builder.places import DEMO_JOB
from tests.checklists.worked_sheets import sheet_called, worked

LINK = "lock-out/prove-dead/drive-panel"
CELLS = "lock-out/cells-stay-live/battery-strings"
DIG = "trenching/open-trench/T1"
TEST = "testing/dead-tests/kiln-board"
LIVE = "energisation/prove-live/kiln-board"
LOAD = "energisation/first-load/kiln-board"


@pytest.fixture(scope="module")
def job() -> dict[str, Any]:
    """The demo job, checked and bound."""
    return checked_job(DEMO_JOB)


def _verdict(job: dict, identity: str, step: str, instead: dict[str, str]) -> str:
    sheet = sheet_called(job, identity)
    return Environment(job, sheet, worked(job, sheet, instead)).step(step)["verdict"]


@pytest.mark.parametrize(
    ("sheet", "step", "instead"),
    [
        (LINK, "tester-again", {"tester-first": "400", "tester-again": "51"}),
        (LINK, "tester-rating", {"tester-rating": "600"}),
        (LINK, "time-off", {"time-printed": "on-the-label", "label-time-seen": "15", "time-off": "10"}),
        (LINK, "time-off", {"time-printed": "nowhere", "time-off": "8"}),
        (CELLS, "section-voltage", {"section-voltage": "30"}),
        (CELLS, "section-wanted", {"section-wanted": "1200"}),
        (CELLS, "string-voltage", {"string-voltage": "51"}),
        (CELLS, "tester-again", {"tester-first": "400", "tester-again": "51"}),
        ("lock-out/give-back/kiln-feeder", "people-out", {"people-noted": "3", "people-out": "4"}),
        ("lock-out/lock-off/kiln-feeder", "sources-locked", {"sources-found": "3", "sources-locked": "4"}),
        (DIG, "top-width", {"deepest": "1.45", "top-width": "1.95"}),
        (DIG, "top-width", {"bottom-width": "0.9", "top-width": "1.95"}),
        (DIG, "walls", {"walls": "straight", "ground": "dug-before"}),
        (DIG, "walls", {"walls": "battered", "ground": "wet"}),
        (DIG, "toxic-gas", {"toxic-gas": "no-such-channel"}),
        ("trenching/bury-and-prove/T1", "conduits-proved", {"conduits-laid": "4", "conduits-proved": "5"}),
        ("cable-pulling/conduit/R1", "cable-diameter", {"cable-diameter": "3"}),
        ("cable-pulling/conduit/R1", "bore-measured", {"bore-measured": "130"}),
        ("cable-pulling/conduit/R1", "mandrel", {"mandrel": "140"}),
        ("cable-pulling/pull/R1", "cut-out-now", {"rope-tag": "1000", "head-tag": "200", "cut-out-now": "60"}),
        ("cable-pulling/pull/R4", "hands-now", {"rope-tag": "1000", "head-tag": "200", "hands-now": "9"}),
        ("cable-pulling/pull/R1", "pits-quiet", {"pits-manned": "2", "pits-quiet": "3"}),
        ("cable-pulling/prove-the-pull/R1", "length-in", {"length-in": "7.2"}),
        ("cable-pulling/prove-the-pull/R4", "length-in-one-way", {"length-in-one-way": "1.7"}),
        ("cable-pulling/prove-the-pull/R1", "test-voltage", {"test-voltage": "1500"}),
        ("cable-pulling/prove-the-pull/R1", "insulation-between", {"core-temperature": "60", "insulation-between": "0.5"}),
        ("cable-pulling/prove-the-pull/R1", "insulation-to-earth", {"core-temperature": "60", "insulation-to-earth": "0.5"}),
        (TEST, "insulation-between", {"board-temperature": "60", "insulation-between": "0.5"}),
        (TEST, "insulation-to-earth", {"board-temperature": "60", "insulation-to-earth": "0.5"}),
        (TEST, "test-voltage", {"test-voltage": "5000"}),
        (TEST, "earths-lifted", {"earths-noted": "1", "earths-lifted": "2"}),
        (TEST, "earths-back", {"earths-lifted": "2", "earths-back": "1"}),
        (TEST, "still-dead", {"still-dead": "60"}),
        (LIVE, "lowest-voltage", {"lowest-voltage": "480"}),
        (LIVE, "highest-voltage", {"lowest-voltage": "402", "highest-voltage": "380"}),
        (LIVE, "highest-to-neutral", {"highest-to-neutral": "0"}),
        (LOAD, "highest-current", {"highest-current": "5"}),
        (LOAD, "share-of-transformer", {"highest-current": "500", "share-of-transformer": "50"}),
        (LOAD, "like-joint", {"hottest-joint": "41", "like-joint": "60"}),
        (LOAD, "hottest-joint", {"hottest-joint": "150"}),
        ("energisation/switch-on/battery-link", "monitor-voltage", {"monitor-voltage": "48"}),
        ("termination/before-making-off/J8", "terminal", {"terminal": "live-cell"}),
        ("termination/bolt-up/J7", "wrench-bottom", {"wrench-bottom": "68"}),
        ("termination/bolt-up/J7", "wrench-top", {"wrench-top": "340"}),
        ("termination/make-off/J2", "lugs-crimped", {"lugs-here": "3", "lugs-crimped": "5"}),
    ],
)
def test_an_absurd_reading_is_outside(sheet: str, step: str, instead: dict[str, str], job: dict) -> None:
    """Too high is as wrong as too low, and readings of one sheet agree with each other."""
    assert "outside" == _verdict(job, sheet, step, instead)


@pytest.mark.parametrize(
    ("task", "step", "text"),
    [
        ("lock-out/prove-dead", "label-time-seen", "300"),
        ("lock-out/prove-dead", "time-off", "0"),
        ("lock-out/cells-stay-live", "section-voltage", "0"),
        ("testing/dead-tests", "earth-path", "0"),
        ("energisation/prove-live", "loop-measured", "0"),
        ("energisation/first-load", "highest-current", "0"),
        ("cable-pulling/pull", "highest-pull", "0"),
    ],
)
def test_a_reading_that_no_instrument_shows_is_refused(task: str, step: str, text: str, job: dict) -> None:
    """Nothing at all, and seconds entered for minutes, are asked again."""
    assert "reason" in plausible(job["tasks"][task], step, text)


def test_without_a_label_the_working_alone_says_how_long_to_wait(job: dict) -> None:
    """A link that nobody has labelled is no dead end: 9 minutes are more than 22 kohm, 9.4 mF and 620 V ask for."""
    assert "within" == _verdict(job, LINK, "time-off", {"time-printed": "nowhere", "time-off": "9"})


def test_a_tester_is_proved_before_it_measures(job: dict) -> None:
    """On live cells too: 0 V from a dead meter is no reading."""
    steps = [step["name"] for step in job["tasks"]["lock-out/cells-stay-live"]["steps"]]
    assert steps.index("tester-first") < steps.index("section-voltage") < steps.index("far-end") < steps.index("tester-again")


@pytest.mark.parametrize(
    ("task", "steps"),
    [
        ("lock-out/lock-off", ("hasp-and-locks", "own-locks", "see-open", "try-it")),
        ("lock-out/prove-dead", ("operator-earths", "tester", "tester-first", "open-covers", "live-inside", "phase-to-phase", "tester-again", "earth-and-short", "earths-on")),
        ("lock-out/cells-stay-live", ("suit-rating", "strings-on-bars", "tester-first", "link-across", "far-end", "tester-again", "cover")),
        ("trenching/open-trench", ("walls", "ground", "spotter", "box-ends", "oxygen", "toxic-gas")),
        ("cable-pulling/conduit", ("pits-entered", "oxygen", "flammable", "toxic-gas", "far-mouth")),
        ("cable-pulling/pull", ("tightest-now", "head-tag", "rope-tag", "cut-out-now", "hands-now", "pits-manned", "pits-quiet", "let-it-down", "highest-pull", "scores")),
        ("cable-pulling/prove-the-pull", ("discharge", "charge-left", "insulation-to-earth", "high-voltage-test")),
        ("termination/before-making-off", ("terminal", "right-place")),
        ("termination/make-off", ("gland-armour", "lugs-crimped")),
        ("termination/bolt-up", ("suit-rating", "glove-rating", "first-pole-on", "lug-to-pole", "last-pole-on", "wrench-set")),
        ("termination/check-the-joint", ("covers-on", "clean-out", "dead-again", "highest-joint")),
        ("testing/dead-tests", ("dead-here", "earths-lifted", "still-dead", "earths-back", "short-cables", "charge-left", "link-found", "switches-for-test")),
        ("testing/put-it-back", ("dead-here", "link-back", "tags-back", "tap")),
        ("testing/prove-protection", ("settings", "devices-proved", "secondaries-drawn", "secondaries-back", "interlocks", "stops-tried")),
        ("energisation/switch-on", ("tester-category", "bar-the-room", "all-open", "one-source", "walk-the-ends", "way-back", "stop-signs", "far-side",
                                   "arc-study", "live-by-plan", "one-reference", "walked-again")),
        ("energisation/prove-live", ("loop-measured", "residual-tried", "stops-tried", "other-clears", "gives-back", "reset-and-close", "schedule")),
        ("lock-out/give-back", ("people-out", "earths-off", "locks-come-off", "locks-left", "covers-on")),
    ],
)
def test_what_keeps_people_alive_cant_be_set_aside(task: str, steps: tuple[str, ...], job: dict) -> None:
    """Locks, proofs, earths, covers and counts of people are done or the work stands."""
    must = {step["name"]: step["must"] for step in job["tasks"][task]["steps"]}
    assert set() == {step for step in steps if not must[step]}


def test_walls_that_stand_by_themselves_are_shallow_firm_and_dry(job: dict) -> None:
    """Straight walls are within only where somebody competent passed the ground and it isn't deep."""
    assert "within" == _verdict(job, DIG, "walls", {"walls": "straight"})
    assert "outside" == _verdict(job, DIG, "walls", {"walls": "straight", "deepest": "1.6"})


def test_the_corner_roller_bears_the_worse_feed(job: dict) -> None:
    """Nobody has chosen an end yet, so the roller is strong enough for either: 2 · T · sin(30°/2)."""
    sheet = sheet_called(job, "cable-pulling/open-route/R5")
    environment = Environment(job, sheet, worked(job, sheet))
    pull = environment.working("pull")["outputs"]
    worst = max(pull["tension_from_start"]["si"], pull["tension_from_end"]["si"])
    assert 2 * worst * sin(radians(15)) == pytest.approx(environment.working("corner")["outputs"]["force"]["si"])


def test_a_conduit_with_two_sorts_of_cable_counts_both(job: dict) -> None:
    """Two cables that come from two lines of the job may fill less than one of them alone might."""
    two = deepcopy(job)
    two["job"]["practice"] = "us"
    run = two["items"]["run"]["R3"]["values"]
    run["cables"] = run["cables"] * 2
    run["cables_in_all"] = 2
    assert "within" == _verdict(job, "cable-pulling/conduit/R3", "cable-diameter", {})
    assert "outside" == _verdict(two, "cable-pulling/conduit/R3", "cable-diameter", {})


@pytest.mark.parametrize(
    ("system", "voltage", "ours"), [("dc", 1500.0, True), ("dc", 1600.0, False), ("ac3", 1000.0, True), ("ac3", 1100.0, False)]
)
def test_low_voltage_ends_higher_for_direct_current(system: str, voltage: float, ours: bool, job: dict) -> None:
    """1000 V a.c. and 1500 V d.c. are tested with 1000 V; above, the network or the maker tests, and its paper is copied."""
    other = deepcopy(job)
    other["items"]["run"]["R4"]["values"] |= {"system": system, "voltage": voltage}
    sheet = sheet_called(other, "cable-pulling/prove-the-pull/R4")
    readings = worked(job, sheet_called(job, sheet["id"]))
    environment = Environment(other, sheet, readings)
    assert (ours, not ours) == tuple(environment.step(name)["applies"] for name in ("insulation-to-earth", "high-voltage-test"))
    assert ("within" if ours else None) == environment.step("test-voltage")["verdict"]


def test_the_power_factor_is_easier_in_neither_direction(job: dict) -> None:
    """Whichever way a firm moves it, some cable drops more: it gives its reason."""
    assert job["tables"]["energising-policy"]["values"]["power_factor"].get("safer") is None


def test_a_band_that_differs_inside_a_practice_passes_no_supply(job: dict) -> None:
    """Where two countries of one practice part, neither's figure is put in for the other: the local one is asked for."""
    elsewhere = deepcopy(job)
    elsewhere["job"]["practice"] = "au-nz"
    sheet = sheet_called(elsewhere, LIVE)
    readings = worked(elsewhere, sheet, {"voltage-most": "425", "lowest-voltage": "420", "highest-voltage": "424"})
    without = {name: reading for name, reading in readings.items() if name != "voltage-most"}
    assert ["within", "cant-tell"] == [Environment(elsewhere, sheet, given).step("highest-voltage")["verdict"] for given in (readings, without)]
    assert "outside" == _verdict(elsewhere, LIVE, "highest-voltage", {"voltage-most": "425", "lowest-voltage": "420", "highest-voltage": "426"})


@pytest.mark.parametrize("sheet", ["cable-pulling/conduit/R1", "cable-pulling/conduit/R3"])
def test_nothing_is_pushed_into_a_live_board(sheet: str, job: dict) -> None:
    """Brush, mandrel and rope wait until what the conduit ends in is safe to work behind."""
    needs = [need["sheet"] for need in sheet_called(job, sheet)["needs"]["conduit-is-ours"]]
    assert "lock-out/prove-dead/kiln-feeder" in needs
