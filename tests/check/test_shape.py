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


def _said(folder: Path, text: str, model: type) -> list[str]:
    path = folder / "given.yaml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(BadInput) as bad:
        shaped(read_document(path), model)
    return [problem.shown().splitlines()[0].split("given.yaml:")[1] for problem in bad.value.problems]


@pytest.mark.parametrize(("body", "said"), CASES)
def test_faults_of_a_library_are_named_with_their_places(body: str, said: list[str], tmp_path: Path) -> None:
    """Every fault of the file is reported, in order, with line and column."""
    assert said == _said(tmp_path, body.rstrip("\n") + "\n", Library)


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
