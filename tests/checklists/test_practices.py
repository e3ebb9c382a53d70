"""The same job under each practice: what its own figures say, and what it asks the crew for instead of borrowing."""

from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest
import yaml

from builder.check.everything import checked_job
from builder.compile.evaluate import Environment
from builder.places import CHECKLISTS, DEMO_JOB
from tests.checklists.worked_sheets import sheet_called, worked

PRACTICES = ("au-nz", "iec", "us")
KEYED = [path for path in sorted((CHECKLISTS / "tables").glob("*.yaml")) if "\n  practice: {one_of" in path.read_text(encoding="utf-8")]


@pytest.fixture(scope="module", params=PRACTICES)
def job(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """The demo as it would be in that part of the world, its firm's own changes left out."""
    text = DEMO_JOB.read_text(encoding="utf-8")
    assert "practice: iec\n" in text and "overlays: [firm.yaml]\n" in text
    here = tmp_path_factory.mktemp("job") / "job.yaml"
    text = text.replace("practice: iec\n", f"practice: {request.param}\n").replace("overlays: [firm.yaml]\n", "")
    here.write_text(text, encoding="utf-8")
    return checked_job(here)


def test_the_demo_is_bound_under_each_practice(job: dict[str, Any]) -> None:
    """Every library speaks every practice: nothing is left to ask of the files."""
    assert 100 < len(job["sheets"])


def test_what_a_practice_does_not_have_is_asked_for(job: dict[str, Any]) -> None:
    """Under any practice a good crew is within, or is told that nobody here has the figure; never outside by a borrowed one."""
    strange = []
    for sheet in job["sheets"]:
        environment = Environment(job, sheet, worked(job, sheet))
        for step in job["tasks"][sheet["task"]]["steps"]:
            state = environment.step(step["name"])
            asked = state["verdict"] == "cant-tell" and "local figure" in state["reason"]
            if state["verdict"] not in (None, "within") and not asked:
                strange.append(f"{sheet['id']} {step['name']}: {state['reason']}")
    assert [] == strange


@pytest.mark.parametrize("path", KEYED, ids=lambda path: path.stem)
def test_a_table_by_practice_has_rows_for_each(path: Path) -> None:
    """A practice without a figure says so in a row of its own: nobody forgot it."""
    table = yaml.safe_load(path.read_text(encoding="utf-8"))
    assert set(PRACTICES) == {row["practice"] for row in table["rows"]}


@pytest.mark.parametrize("path", KEYED, ids=lambda path: path.stem)
def test_no_row_of_one_practice_rests_on_another(path: Path) -> None:
    """A figure of one set never stands in a second under the same words of the same print."""
    rows = yaml.safe_load(path.read_text(encoding="utf-8"))["rows"]
    prints = {}
    for row in rows:
        if row.get("source"):
            prints.setdefault((row["source"], row["where"]), set()).add(row["practice"])
    assert [] == [where for where, practices in prints.items() if len(practices) > 1]


DIG = "trenching/open-trench/T1"
SERVICES = "trenching/find-services/T1"
LAY = "trenching/lay-conduit/T1"
LIVE = "energisation/prove-live/kiln-board"
DEAD = "testing/dead-tests/kiln-board"
SHAFT = {"walls": "battered", "deepest": "1.22"}

# Practice, sheet, step, a reading just within and one just outside the practice's own figure, and what else was read.
OWN_FIGURES = [
    ("us", DIG, "spoil-distance", "0.62", "0.6", {}),
    ("iec", DIG, "spoil-distance", "1", "0.98", {}),
    ("us", DIG, "ladder-distance", "7.6", "7.7", {}),
    ("us", DIG, "machine-distance", "0.61", "0.6", {}),
    ("au-nz", DIG, "machine-distance", "0.6", "0.59", {}),
    ("au-nz", DIG, "deepest", "1.49", "1.5", {"walls": "straight"}),
    ("iec", DIG, "deepest", "1.24", "1.26", {"walls": "straight"}),
    ("us", DIG, "deepest", "1.52", "1.53", {"walls": "straight"}),
    # 0.62 m at the bottom and 1.22 m deep: 1.5 across for one down, and 1.
    ("us", DIG, "top-width", "4.3", "4.2", SHAFT | {"ground": "wet"}),
    ("iec", DIG, "top-width", "3.1", "3", SHAFT | {"ground": "soft"}),
    ("us", LAY, "cover-to-be", "610", "600", {}),
    # 400 V: 10 % either way, 5 % either way.
    ("iec", LIVE, "lowest-voltage", "361", "359", {"highest-voltage": "404"}),
    ("us", LIVE, "lowest-voltage", "381", "379", {"highest-voltage": "404"}),
    ("us", DEAD, "test-voltage", "1000", "500", {}),
    ("iec", DEAD, "test-voltage", "500", "250", {}),
    ("au-nz", DEAD, "test-voltage", "500", "250", {}),
]
# The step that a figure decides; where the walls are what is wrong, the depth alone is right.
DECIDED_AT = {"deepest": "walls"}

# Practice, sheet, the step that asks for the figure which the practice lacks, and the step that can't do without it.
ASKED = [
    ("au-nz", DIG, "setback-wanted", "spoil-distance", {}),
    ("au-nz", DIG, "ladder-travel", "ladder-distance", {}),
    ("iec", DIG, "ladder-travel", "ladder-distance", {}),
    ("au-nz", DIG, "batter-wanted", "top-width", SHAFT | {"ground": "wet"}),
    ("iec", DIG, "zone-wanted", "machine-distance", {}),
    ("au-nz", "cable-pulling/conduit/R1", "fill-wanted", "cable-diameter", {}),
    ("iec", "cable-pulling/conduit/R1", "fill-wanted", "cable-diameter", {}),
    ("au-nz", "cable-pulling/prove-the-pull/R4", "test-voltage-wanted", "test-voltage", {}),
    ("au-nz", "cable-pulling/prove-the-pull/R4", "insulation-wanted", "insulation-between", {}),
]


def _elsewhere(job: dict[str, Any], practice: str) -> dict[str, Any]:
    """A job changed in place: of another practice, with no cover of its own."""
    job["job"]["practice"] = practice
    trench = job["items"]["trench"]["T1"]["values"]
    trench["local_cover"], trench["cover"] = None, 0.4
    return job


def _said(job: dict[str, Any], identity: str, step: str, instead: dict[str, str], without: tuple[str, ...] = ()) -> dict[str, Any]:
    """What a step says with a good crew's readings, some others instead and some not entered."""
    sheet = sheet_called(job, identity)
    readings = worked(job, sheet, instead)
    return Environment(job, sheet, {name: one for name, one in readings.items() if name not in without}).step(step)


@pytest.fixture
def own_job() -> dict[str, Any]:
    """The demo job, to be moved to another practice."""
    return deepcopy(checked_job(DEMO_JOB))


@pytest.mark.parametrize(("practice", "sheet", "step", "good", "bad", "instead"), OWN_FIGURES)
def test_a_practice_s_own_figure_decides(practice: str, sheet: str, step: str, good: str, bad: str, instead: dict[str, str], own_job: dict[str, Any]) -> None:
    """What is just within the figure of one practice passes there, and just beyond it does not."""
    job, decided = _elsewhere(own_job, practice), DECIDED_AT.get(step, step)
    found = [_said(job, sheet, decided, instead | {step: text})["verdict"] for text in (good, bad)]
    assert ["within", "outside"] == found


@pytest.mark.parametrize(("practice", "sheet", "asks", "needs", "instead"), ASKED)
def test_a_figure_that_a_practice_lacks_is_asked_of_the_crew(practice: str, sheet: str, asks: str, needs: str, instead: dict[str, str], own_job: dict[str, Any]) -> None:
    """The sheet asks for it in words, can't tell without it, and asks nobody whose practice has one."""
    job = _elsewhere(own_job, practice)
    assert _said(job, sheet, asks, instead)["applies"]
    state = _said(job, sheet, needs, instead, (asks,))
    assert ("cant-tell", True) == (state["verdict"], asks.replace("-", " ") in state["reason"].lower())
    say = next(step["say"] for step in job["tasks"][sheet.rpartition("/")[0]]["steps"] if step["name"] == asks)
    assert "Read " in say
    assert not _said(_elsewhere(job, "us"), sheet, asks, instead)["applies"]


def test_a_firm_s_own_figure_ends_the_asking(own_job: dict[str, Any]) -> None:
    """Filled in by an overlay, a missing figure is asked of nobody and decides."""
    job = _elsewhere(own_job, "au-nz")
    row = next(row for row in job["tables"]["spoil-setbacks"]["rows"] if row["practice"] == "au-nz")
    row["setback"] = 0.8
    assert not _said(job, DIG, "setback-wanted", {})["applies"]
    assert ["within", "outside"] == [_said(job, DIG, "spoil-distance", {"spoil-distance": text}, ("setback-wanted",))["verdict"] for text in ("0.9", "0.7")]


def test_a_slope_for_sound_soil_holds_no_other(own_job: dict[str, Any]) -> None:
    """Forty-five degrees are printed for soil that lies as it grew: wet, cracked or filled ground is boxed or shored."""
    job = _elsewhere(own_job, "iec")
    found = {ground: _said(job, DIG, "walls", SHAFT | {"ground": ground})["verdict"] for ground in ("soft", "wet", "cracked", "dug-before")}
    assert {"soft": "within", "wet": "outside", "cracked": "outside", "dug-before": "outside"} == found


@pytest.mark.parametrize(("practice", "surface"), [("iec", "road"), ("au-nz", "open-ground"), ("au-nz", "road"), ("us", "farm"), ("us", "under-slab"), ("us", "rock")])
def test_cover_that_is_in_no_good_print_is_asked_for(practice: str, surface: str, own_job: dict[str, Any]) -> None:
    """A figure of a forum, of one network or of nobody passes no trench: the crew reads it from the local code."""
    job = _elsewhere(own_job, practice)
    job["items"]["trench"]["T1"]["values"]["surface"] = surface
    assert ("cant-tell", "within", "outside") == (
        _said(job, LAY, "cover-to-be", {}, ("cover-wanted",))["verdict"],
        _said(job, LAY, "cover-to-be", {"cover-wanted": "700", "cover-to-be": "710"})["verdict"],
        _said(job, LAY, "cover-to-be", {"cover-wanted": "700", "cover-to-be": "690"})["verdict"])
    job["items"]["trench"]["T1"]["values"]["local_cover"] = 0.7
    assert not _said(job, LAY, "cover-wanted", {})["applies"]


@pytest.mark.parametrize(("practice", "cover", "local", "least"), [("us", 0.4, None, 0.6096), ("us", 0.9, None, 0.9), ("us", 0.4, 0.8, 0.8), ("us", 0.9, 0.8, 0.9), ("iec", 0.5, None, 0.5)])
def test_it_is_dug_for_the_greatest_cover_that_anybody_asks(practice: str, cover: float, local: float | None, least: float, own_job: dict[str, Any]) -> None:
    """Drawing, local code and the practice's own table: nobody digs to the drawing alone and opens it again for the cover."""
    job = _elsewhere(own_job, practice)
    job["items"]["trench"]["T1"]["values"] |= {"cover": cover, "local_cover": local}
    sheet = sheet_called(job, DIG)
    depth = Environment(job, sheet, worked(job, sheet, {})).working("depth")["outputs"]["depth"]["si"]
    # Two layers of 110 mm, 50 mm between them, 75 mm of bedding.
    assert least + 0.345 == pytest.approx(depth)


def test_american_insulation_at_208_volts_is_that_of_the_cable_s_rating(own_job: dict[str, Any]) -> None:
    """The print goes by what the cable is rated for and not by the circuit: the crew reads voltage and least resistance off, and what it asks decides."""
    job = _elsewhere(own_job, "us")
    run, sheet = job["items"]["run"]["R1"]["values"], "cable-pulling/prove-the-pull/R1"
    run["voltage"] = 208.0
    wanted = {"test-voltage-wanted": "1000", "insulation-wanted": "100", "test-voltage": "1000"}
    assert ["within", "outside"] == [
        _said(job, sheet, "insulation-to-earth", wanted | {"core-temperature": "20", "insulation-to-earth": megohms})["verdict"] for megohms in ("120", "40")]
    assert "cant-tell" == _said(job, sheet, "insulation-to-earth", wanted, ("insulation-wanted",))["verdict"]
    run["voltage"] = 480.0
    assert not _said(job, sheet, "insulation-wanted", {})["applies"]
