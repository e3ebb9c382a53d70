"""Faults of shape: all of them in one go, each at its place, with the nearest valid name."""

import re
from pathlib import Path

import pytest

from builder.check.job import Job
from builder.check.library import Library
from builder.check.shape import shaped
from builder.load.document import read_document
from builder.load.problems import BadInput

BOOK = Path(__file__).with_name("bad_library.txt").read_text(encoding="utf-8")
CASES = [
    pytest.param(body, [line[3:] for line in said.splitlines()], id=title)
    for title, body, said in re.findall(r"^== (.*)\n((?:(?!-- |== ).*\n)*)((?:-- .*\n)+)", BOOK, re.M)
]


def _said(folder: Path, text: str, model: type, *, advice: bool = False) -> list[str]:
    path = folder / "given.yaml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(BadInput) as bad:
        shaped(read_document(path), model)
    return [
        problem.shown().splitlines()[0].split("given.yaml:")[1] + (f" | {problem.advice}" if advice and problem.advice else "")
        for problem in bad.value.problems
    ]


@pytest.mark.parametrize(("body", "said"), CASES)
def test_faults_of_a_library_are_named_with_their_places(body: str, said: list[str], tmp_path: Path) -> None:
    """Every fault of the file is reported, in order, with line and column."""
    advice = any(" | " in line for line in said)
    assert said == _said(tmp_path, body.rstrip("\n") + "\n", Library, advice=advice)


JOB = """\
job: j
title: J
place: P
client: C
practice: iec
libraries: [a]
cables:
  - cable: al-300
    title: Al 300
    conductor: aluminium
    stranding: stranded
    area: {area}
    cores: 1
    construction: unarmoured
    jacket: pvc
    insulation: xlpe
    diameter: {diameter}
    mass: {mass}
    rated_voltage: 1 kV
"""


@pytest.mark.parametrize(
    ("field", "typed", "said"),
    [
        ("mass", "1.2", "18:11: error UNIT-01: `1.2` has no unit; expected one like `1.2 kg/m`"),
        ("mass", "1.2 kg", "18:11: error UNIT-02: `1.2 kg` is in kg; this takes a value in kg/m"),
        ("diameter", "32 mmm", "17:15: error UNIT-01: `mmm` is not a unit known here; did you mean `mm`?"),
        ("diameter", "about 32", "17:15: error UNIT-01: `about 32` is not a number with a unit; expected a number with a "
                                 "unit, such as `1 mm`"),
        ("area", "[300]", "12:11: error UNIT-01: expected a number with a unit, such as `1 mm2`"),
    ],
)
def test_a_value_without_its_unit_is_refused(field: str, typed: str, said: str, tmp_path: Path) -> None:
    """No unit, another dimension, an unknown unit and words are each named for what they are."""
    given = {"area": "300 mm2", "diameter": "32 mm", "mass": "1.2 kg/m", field: typed}
    assert [said] == _said(tmp_path, JOB.format(**given), Job)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("0", "13:12: error SHAPE-03: `0` is too few: at least 1"),
        ('"4"', "13:12: error SHAPE-03: expected a whole number, found `4` | write it without quotes: `4`"),
        ("1.5", "13:12: error SHAPE-03: expected a whole number, found `1.5`"),
    ],
)
def test_a_count_that_is_none_is_told_what_to_write(typed: str, said: str, tmp_path: Path) -> None:
    """None at all, one in quotes, and one and a half."""
    text = JOB.format(area="300 mm2", diameter="32 mm", mass="1.2 kg/m").replace("cores: 1", f"cores: {typed}")
    assert [said] == _said(tmp_path, text, Job, advice=True)


def test_a_text_that_reads_as_a_number_is_asked_in_quotes(tmp_path: Path) -> None:
    """A property class is a name, though it looks like a number."""
    text = JOB.format(area="300 mm2", diameter="32 mm", mass="1.2 kg/m") + (
        "joints:\n  - {joint: J1, title: a, run: R1, end: start, kind: pad, thread: M10, bolts: 4, metal: copper-copper,\n"
        "     property_class: 8.8}\n")
    assert ['22:22: error SHAPE-03: expected text, found `8.8` | put it in quotes: `"8.8"`'] == _said(tmp_path, text, Job, advice=True)


def test_a_name_with_a_line_break_at_its_end_is_no_name(tmp_path: Path) -> None:
    """Names become file names and addresses: not even a break that nobody sees gets into them."""
    said = _said(tmp_path, 'library: "pulling\\n"\ntitle: T\norder: 1\nfor_each: run\n'
                           "tasks: [{task: one, title: One, steps: [{do: a, say: A}]}]\n", Library)
    assert 1 == len(said)
    assert said[0].startswith("1:10: error NAME-03")
