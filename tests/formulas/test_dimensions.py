"""Dimensions of every formula: measured in other base units, every output scales as its unit says."""

import pytest
import yaml

from builder.compile.catalogue import FOLDER, function_of, signature_data
from builder.formulas.mathematics import CannotTell
from builder.quantity import units
from tests.published.test_worked_examples import in_si

# Powers of two, so that scaling itself rounds nothing: metre, kilogram, second, ampere, kelvin.
# In the second set an acceleration keeps its number, which a formula that holds gravity needs.
FREE = (2.0, 8.0, 16.0, 0.5, 4.0)
GRAVITY_KEPT = (4.0, 8.0, 2.0, 0.5, 4.0)
HOLDS_GRAVITY = {"ground_pressure", "pulled_mass"}

EXAMPLES = [
    (example["formula"], example["inputs"])
    for path in sorted(FOLDER.glob("*.worked.yaml"))
    for example in yaml.safe_load(path.read_text(encoding="utf-8"))
]


def factor(part: dict, scale: tuple) -> float:
    """How a number of this unit changes when the base units do."""
    result = 1.0
    for base, exponent in zip(scale, units()[part["unit"]].dimension.exponents, strict=True):
        result *= base ** float(exponent)
    return result


def scaled(part: dict, value, scale: tuple):
    """One input or output measured in the other base units."""
    if value is None or part["kind"] == "word":
        return value
    if part["kind"] == "rows":
        return [{column["name"]: scaled(column, row.get(column["name"]), scale) for column in part["columns"]} for row in value]
    return value * factor(part, scale)


def results(name: str, inputs: list) -> dict:
    """The formula's own outputs, without the ranges that hold only in real units."""
    found = function_of(name)(*inputs)
    gives = signature_data()[name]["gives"]
    return found if isinstance(found, dict) else {gives[0]["name"]: found}


def checked(name: str, given: dict, scale: tuple) -> None:
    """Outputs of scaled inputs are the scaled outputs."""
    signature = signature_data()[name]
    inputs = [scaled(part, in_si(given[part["name"]]), (1.0,) * 5) for part in signature["inputs"]]
    plain = results(name, inputs)
    other = results(name, [scaled(part, value, scale) for part, value in zip(signature["inputs"], inputs, strict=True)])
    for part in signature["gives"]:
        expected = scaled(part, plain[part["name"]], scale)
        if part["kind"] == "rows":
            for wanted, row in zip(expected, other[part["name"]], strict=True):
                assert wanted == pytest.approx(row, rel=1e-9, abs=1e-12)
        elif part["kind"] == "word":
            assert expected == other[part["name"]]
        else:
            assert expected == pytest.approx(other[part["name"]], rel=1e-9, abs=1e-12)


@pytest.mark.parametrize(("name", "given"), EXAMPLES, ids=[f"{name} {number}" for number, (name, _) in enumerate(EXAMPLES, 1)])
def test_outputs_scale_as_their_units_say(name, given):
    """A formula that adds unlike quantities, or hides a number with a unit, fails this in some example."""
    checked(name, given, GRAVITY_KEPT if name in HOLDS_GRAVITY else FREE)


@pytest.mark.parametrize("name", sorted(HOLDS_GRAVITY))
def test_hidden_gravity_would_be_found(name):
    """A formula that does hold gravity fails where accelerations change, so the check sees such numbers."""
    given = next(inputs for formula, inputs in EXAMPLES if formula == name)
    with pytest.raises(AssertionError):
        checked(name, given, FREE)


@pytest.mark.parametrize("name", sorted(signature_data()))
def test_no_formula_keeps_anything_between_calls(name):
    """The same inputs give the same outputs again, and the rows that were put in are left as they were."""
    given = next(inputs for formula, inputs in EXAMPLES if formula == name)
    signature = signature_data()[name]
    inputs = [scaled(part, in_si(given[part["name"]]), (1.0,) * 5) for part in signature["inputs"]]
    before = repr(inputs)
    try:
        first, second = results(name, inputs), results(name, inputs)
    except CannotTell:
        pytest.fail("a worked example has an answer")
    assert first == second
    assert before == repr(inputs)
