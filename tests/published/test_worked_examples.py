"""Every formula against printed examples, hand work and limits: `builder/formulas/*.worked.yaml`."""

from pathlib import Path

import pytest
import yaml

from builder.compile.caller import call
from builder.compile.catalogue import FOLDER, function_of, signature_data
from builder.places import ROOT
from builder.quantity import parse_quantity

ORIGINS = {"published", "derived", "hand", "limit", "practice", "memory"}
STAGES = sorted(FOLDER.glob("*.worked.yaml"))
SOURCES = yaml.safe_load((ROOT / "checklists" / "sources.yaml").read_text(encoding="utf-8"))


def _examples() -> list[tuple[Path, int, dict]]:
    return [
        (path, number, example)
        for path in STAGES
        for number, example in enumerate(yaml.safe_load(path.read_text(encoding="utf-8")), 1)
    ]


EXAMPLES = _examples()
IDS = [
    f"{example['formula']} {number} {example.get('source', example['origin'])} {example.get('where', '')}".strip()
    for _, number, example in EXAMPLES
]


def in_si(given):
    """A value as the worked example writes it: rows, a word, `none`, or a number with its unit."""
    if isinstance(given, list):
        return [{name: in_si(value) for name, value in row.items()} for row in given]
    if given == "none":
        return None
    if isinstance(given, int | float):
        return float(given)
    return parse_quantity(given).si if given[0].isdigit() or given[0] == "-" else given


@pytest.mark.parametrize(("path", "number", "example"), EXAMPLES, ids=IDS)
def test_formula_gives_what_the_example_says(path, number, example):
    """A printed or hand-worked result comes out within the tolerance of its print."""
    signature = signature_data()[example["formula"]]
    inputs = {name: in_si(value) for name, value in example["inputs"].items()}
    outputs = call(function_of(example["formula"]), signature, inputs)
    expected = {name: in_si(value) for name, value in example["gives"].items()}
    actual = {name: outputs[name] for name in expected}
    assert expected == {
        name: pytest.approx(value, rel=example["tolerance"], abs=1e-12) if isinstance(value, float) else value
        for name, value in actual.items()
    }


@pytest.mark.parametrize("name", sorted(signature_data()))
def test_formula_has_three_examples_of_which_one_is_not_its_own(name):
    """Three examples at least, and something besides limits that the formula could not have written itself."""
    own = [example for _, _, example in EXAMPLES if example["formula"] == name]
    assert len(own) >= 3
    assert any(example["origin"] in ("published", "derived", "hand", "memory") for example in own)


@pytest.mark.parametrize(("path", "number", "example"), EXAMPLES, ids=IDS)
def test_example_names_where_it_comes_from(path, number, example):
    """A published example names a listed publication and the place in it; nothing else borrows one."""
    assert example["origin"] in ORIGINS
    if example["origin"] == "published":
        assert example["source"] in SOURCES
        assert example["where"]
    else:
        assert "source" not in example


@pytest.mark.parametrize(("path", "number", "example"), EXAMPLES, ids=IDS)
def test_example_uses_the_formulas_own_names(path, number, example):
    """An example gives every input once and asks only for outputs that exist."""
    signature = signature_data()[example["formula"]]
    assert {part["name"] for part in signature["inputs"]} == set(example["inputs"])
    assert set(example["gives"]) <= {part["name"] for part in signature["gives"]}


@pytest.mark.parametrize("name", sorted(signature_data()))
def test_formula_cites_listed_publications(name):
    """Every publication in a formula's docstring is in the list of sources."""
    cited = {source["key"] for source in signature_data()[name]["source"] if source["basis"] == "published"}
    assert set() == cited - set(SOURCES)
