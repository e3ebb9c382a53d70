"""The table of formulas says of each what it rests on and what checked it, and no more."""

import subprocess
import sys

import pytest
import yaml

from builder.compile.catalogue import FOLDER, signature_data
from builder.compile.formula_table import HEAD, formula_table
from builder.places import ROOT

ROWS = [[cell.strip() for cell in line.strip("|\n").split(" | ")] for line in formula_table().splitlines()]
BY_NAME = {row[0].strip("`"): dict(zip(HEAD, row, strict=True)) for row in ROWS[2:]}
EXAMPLES = [example for path in sorted(FOLDER.glob("*.worked.yaml")) for example in yaml.safe_load(path.read_text(encoding="utf-8"))]


def test_table_lists_every_formula_once() -> None:
    """No formula is left out and none stands twice."""
    assert sorted(signature_data()) == sorted(row[0].strip("`") for row in ROWS[2:])
    assert list(HEAD) == ROWS[0]


@pytest.mark.parametrize("name", sorted(signature_data()))
def test_table_counts_the_checks_that_there_are(name: str) -> None:
    """As many examples of each origin as stand beside the formula, and the publications of those that are published."""
    own = [example for example in EXAMPLES if example["formula"] == name]
    for origin in {example["origin"] for example in own}:
        assert f"{sum(example['origin'] == origin for example in own)} {origin}" in BY_NAME[name]["checks"]
    for example in own:
        assert ("source" not in example) or f"`{example['source']}`" in BY_NAME[name]["checks"]
    assert ("published" in BY_NAME[name]["checks"]) == any(example["origin"] == "published" for example in own)


@pytest.mark.parametrize("name", sorted(signature_data()))
def test_table_claims_no_firmer_basis_than_the_docstring(name: str) -> None:
    """A basis is named where the docstring has a source of that kind, and nowhere else."""
    stated = {source["basis"] for source in signature_data()[name]["source"]}
    claimed = {basis for basis in ("published", "derived", "practice", "memory") if basis in BY_NAME[name]["basis"]}
    assert stated == claimed
    assert set(signature_data()[name]["gives"][0]["name"].split("_")) <= set(BY_NAME[name]["gives"].replace(",", " ").split())


def test_weak_formula_says_that_it_never_decides() -> None:
    """A formula that rests on a trade page alone is called what it is."""
    assert "never decides by itself" in BY_NAME["absorption_ratio"]["basis"]
    assert "never decides by itself" not in BY_NAME["route_tension"]["basis"]


def test_command_prints_the_table() -> None:
    """`python -m builder.compile.formula_table` prints just the table."""
    run = subprocess.run([sys.executable, "-m", "builder.compile.formula_table"], cwd=ROOT, capture_output=True, text=True, check=True)
    assert formula_table() == run.stdout
