"""A firm's changes to table values: freely towards the safe side, otherwise with a reason and a name."""

from pathlib import Path

import pytest

from builder.check.overlay import Overlay
from builder.check.overlaying import overlay_tables
from builder.check.shape import shaped
from builder.check.tables import as_data, read_sources, read_tables
from builder.load.document import read_document
from builder.places import SOURCES, TABLES

POLICY = "  - {table: pulling-policy, value: person_sustained, to: %s}\n"
REASONED = "  - {table: pulling-policy, value: person_sustained, to: %s, because: Trained crew., agreed_by: Ada Quill}\n"
ROW = "  - {table: bending-multiples, row: {construction: unarmoured, diameter: %s}, column: pulling, to: %s}\n"


@pytest.fixture
def tables() -> dict[str, dict]:
    """The project's own tables, as a job carries them."""
    sources, _ = read_sources(SOURCES)
    return {name: as_data(placed, sources) for name, placed in read_tables(TABLES, sources)[0].items()}


def _overlaid(folder: Path, change: str, tables: dict[str, dict]) -> list[str]:
    path = folder / "firm.yaml"
    path.write_text(f"overlay: firm\ntitle: House rules\nchanges:\n{change}", encoding="utf-8")
    document = read_document(path)
    return [f"{one.line}:{one.column}: {one.code}" for one in overlay_tables(shaped(document, Overlay), document, tables)]


def test_a_firm_may_ask_less_of_a_person_without_a_reason(tables: dict[str, dict], tmp_path: Path) -> None:
    """A lower force per person is the safe side: it is taken, and the value says who put it there."""
    assert [] == _overlaid(tmp_path, POLICY % "80 N", tables)
    value = tables["pulling-policy"]["values"]["person_sustained"]
    assert (80.0, "80 N", "firm") == (value["value"], value["text"], value["changed"]["value"]["by"])


def test_asking_more_of_a_person_needs_a_reason_and_a_name(tables: dict[str, dict], tmp_path: Path) -> None:
    """Loosening is refused bare, and taken with `because` and `agreed_by`, which stay with the value."""
    before = tables["pulling-policy"]["values"]["person_sustained"]["value"]
    assert ["4:5: OVER-02"] == _overlaid(tmp_path, POLICY % "300 N", tables)
    assert before == tables["pulling-policy"]["values"]["person_sustained"]["value"]
    assert [] == _overlaid(tmp_path, REASONED % "300 N", tables)
    changed = tables["pulling-policy"]["values"]["person_sustained"]["changed"]["value"]
    assert ("Trained crew.", "Ada Quill") == (changed["because"], changed["agreed_by"])


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (POLICY % "80 kg", "4:58: UNIT-02"),
        (POLICY % "-80 N", "4:58: SHAPE-03"),
        (POLICY % "0 N", "4:58: SHAPE-03"),
        (REASONED.replace("Trained crew.", '" "') % "300 N", "4:5: OVER-02"),
        (POLICY % "eighty", "4:58: UNIT-01"),
        ("  - {table: pulling-polici, value: person_sustained, to: 80 N}\n", "4:13: OVER-01"),
        ("  - {table: pulling-policy, value: persons, to: 80 N}\n", "4:36: OVER-01"),
        ("  - {table: bending-multiples, row: {diameter: none}, column: pulling, to: 20}\n", "4:37: OVER-01"),
        ("  - {table: bending-multiples, row: {construction: unarmoured, diameter: 25 mm}, column: pull, to: 20}\n", "4:90: OVER-01"),
    ],
)
def test_a_change_of_nothing_is_named(change: str, said: str, tables: dict[str, dict], tmp_path: Path) -> None:
    """Another dimension, no number, no such table, value, row or column: each at its place."""
    assert [said] == _overlaid(tmp_path, change, tables)


def test_a_weak_figure_is_taken_over_only_with_a_name(tables: dict[str, dict], tmp_path: Path) -> None:
    """Writing down a figure of grade 3 as the firm's own, even unchanged, makes it decide: somebody must have agreed."""
    row = "  - {table: joint-torques, row: {joint: breaker-pad, thread: M10}, column: torque, to: 37.5 N.m%s}\n"
    assert ["4:5: OVER-02"] == _overlaid(tmp_path, row % "", tables)
    assert [] == _overlaid(tmp_path, row % ", because: Maker's letter., agreed_by: Ada Quill", tables)


def test_one_cell_of_one_row_changes(tables: dict[str, dict], tmp_path: Path) -> None:
    """A wider bend for one construction and band leaves every other row alone."""
    before = [dict(row) for row in tables["bending-multiples"]["rows"]]
    assert [] == _overlaid(tmp_path, ROW % ("none", "20"), tables)
    different = [new for old, new in zip(before, tables["bending-multiples"]["rows"], strict=True) if old != new]
    assert [20.0] == [row["pulling"] for row in different]
    assert {"pulling"} == set(different[0]["changed"])
