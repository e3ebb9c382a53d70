"""Tables: rows that a look-up can tell apart, each with a source and a grade that it may claim."""

from pathlib import Path

import pytest

from builder.check.table import Source
from builder.check.tables import as_data, read_sources, read_tables

SOURCES = {"book": Source(title="A book", grade=2), "forum": Source(title="A forum", grade=3)}
TABLE = """\
table: bends
title: Bends
keys:
  kind: {one_of: [plain, armoured]}
  diameter: {unit: mm, up_to: true}
columns:
  radius: {unit: "1"}
rows:
"""


def _read(folder: Path, rows: str):
    (folder / "bends.yaml").write_text(TABLE + rows, encoding="utf-8")
    tables, problems = read_tables(folder, SOURCES)
    return tables, [f"{one.line}:{one.column}: {one.code}" for one in problems]


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ("  - {kind: plain, diameter: 20, radius: 4, basis: practice}\n  - {kind: plain, diameter: 20, radius: 9, basis: practice}\n", "10:5: NAME-01"),
        ("  - {kind: plain, diameter: 40, radius: 6, basis: practice}\n  - {kind: plain, diameter: 20, radius: 4, basis: practice}\n", "10:29: SHAPE-03"),
        ("  - {kind: plain, diameter: none, radius: 6, basis: practice}\n  - {kind: plain, diameter: 20, radius: 4, basis: practice}\n", "10:29: SHAPE-03"),
        ("  - {kind: plane, diameter: 20, radius: 4, basis: practice}\n", "9:12: SHAPE-03"),
        ("  - {kind: plain, diameter: wide, radius: 4, basis: practice}\n", "9:29: UNIT-01"),
        ("  - {kind: plain, radius: 4, basis: practice}\n", "9:5: SHAPE-02"),
        ("  - {kind: plain, diameter: 20, radios: 4, basis: practice}\n", "9:33: SHAPE-01"),
        ("  - {kind: plain, diameter: 20, radius: 4, basis: published}\n", "9:51: SHAPE-02"),
        ("  - {kind: plain, diameter: 20, radius: 4, basis: published, source: bok}\n", "9:70: NAME-02"),
    ],
)
def test_a_wrong_row_is_named_where_it_stands(rows: str, said: str, tmp_path: Path) -> None:
    """Doubled keys, falling bands, strange words, missing keys, unknown columns and sources."""
    assert [said] == _read(tmp_path, rows)[1]


def test_no_value_claims_a_better_grade_than_its_source(tmp_path: Path) -> None:
    """A forum's figure stays a forum's figure, whatever the row says; a row may only be weaker."""
    rows = "  - {kind: plain, diameter: 20, radius: 4, source: forum, basis: published, grade: 1}\n"
    rows += "  - {kind: armoured, diameter: 20, radius: 9, source: book, basis: published}\n"
    tables, problems = _read(tmp_path, rows)
    assert [] == problems
    assert [3, 2] == [row["grade"] for row in as_data(tables["bends"], SOURCES)["rows"]]


def test_sources_must_be_a_mapping(tmp_path: Path) -> None:
    """A list of sources is refused in words, not with a trace."""
    path = tmp_path / "sources.yaml"
    path.write_text("- title: A book\n", encoding="utf-8")
    assert ["SHAPE-03"] == [one.code for one in read_sources(path)[1]]
