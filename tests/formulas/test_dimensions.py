"""Dimensions of every formula: its own source, run on quantities that refuse to be mixed."""

import ast
import inspect

import pint
import pytest

from builder.compile.catalogue import function_of, signature_data
from builder.formulas.mathematics import CannotTell
from tests.formulas.measured import MEASURE, measured, on_quantities, quantity_of, run_on_quantities, unlike
from tests.published.test_worked_examples import EXAMPLES, in_si

NAMES = sorted(signature_data())
GIVEN = {name: [{key: in_si(value) for key, value in example["inputs"].items()} for _, _, example in EXAMPLES if example["formula"] == name]
         for name in NAMES}
# No formula of the trade has light in it, so wherever this is put in it has to show.
FOREIGN = MEASURE.Quantity(1, "candela")


def in_order(name: str, given: dict) -> list:
    return [given[part["name"]] for part in signature_data()[name]["inputs"]]


def outputs(name: str, result) -> dict:
    """A formula's outputs by name, without the ranges."""
    return result if isinstance(result, dict) else {signature_data()[name]["gives"][0]["name"]: result}


def wrong(name: str, function, given: dict, inputs: list) -> list[str]:
    """What is wrong with the outputs over these quantities, the refusal to mix them included."""
    expected = outputs(name, function_of(name)(*in_order(name, given)))
    try:
        found = outputs(name, function(*inputs))
    # pint says ValueError where a quantity is compared with a bare number.
    except (pint.DimensionalityError, pint.OffsetUnitCalculusError, ValueError) as refusal:
        return [str(refusal)]
    return [line for part in signature_data()[name]["gives"] for line in unlike(part, expected[part["name"]], found[part["name"]])]


def quantities(name: str, given: dict) -> list:
    return [measured(part, given[part["name"]]) for part in signature_data()[name]["inputs"]]


@pytest.mark.parametrize("name", NAMES)
def test_formula_keeps_its_dimensions(name):
    """On quantities nothing unlike is added or compared, and each output has its declared dimension and its number."""
    for given in GIVEN[name]:
        assert [] == wrong(name, on_quantities(name), given, quantities(name, given))


def spoilt(name: str, given: dict):
    """Each number that an example gives, in turn made into something foreign: (what, inputs)."""
    for place, part in enumerate(signature_data()[name]["inputs"]):
        inputs = quantities(name, given)
        before, after = inputs[:place], inputs[place + 1:]
        if part["kind"] == "number" and inputs[place] is not None:
            yield part["name"], [*before, given[part["name"]] * FOREIGN, *after]
        for column in part.get("columns", []):
            for number, row in enumerate(given[part["name"]]):
                if column["kind"] == "number" and row.get(column["name"]) is not None:
                    rows = [dict(one) for one in inputs[place]]
                    rows[number][column["name"]] = row[column["name"]] * FOREIGN
                    yield f"{part['name']}.{column['name']}", [*before, rows, *after]


@pytest.mark.parametrize("name", NAMES)
def test_wrong_dimension_of_any_input_is_found(name):
    """Whichever number is of another kind, some example fails: no input's dimension goes unseen."""
    unseen = {what for given in GIVEN[name] for what, _ in spoilt(name, given)}
    for given in GIVEN[name]:
        unseen -= {what for what, inputs in spoilt(name, given) if wrong(name, on_quantities(name), given, inputs)}
    assert set() == unseen, "a worked example is missing in which these matter"


BROKEN = [
    ("full_load_current", "rating / (sqrt(3) * voltage)", "rating * voltage"),
    ("pulled_mass", "* 9.80665", "* 9.81"),
    ("discharge_waiting_time", "resistance * capacitance * log(", "resistance * log("),
    ("conductor_resistance", "(temperature - zero_temperature)", "temperature"),
    ("earth_conductor_size", "sqrt(time / density_time)", "sqrt(time)"),
    ("spoil_heap", "4 * loose_volume / (length * tan(repose))", "4 * loose_volume / tan(repose)"),
    ("turning_gap", "load_reach**2", "load_reach"),
    ("wall_support", "depth + heap_height", "depth + 0.6"),
]


@pytest.mark.parametrize(("name", "right", "slip"), BROKEN)
def test_slip_in_a_formula_is_found(name, right, slip):
    """A dimension lost or doubled, a hidden number with a unit, a temperature taken for a difference: all fail."""
    source = inspect.getsource(inspect.getmodule(function_of(name)))
    assert 1 == source.count(right)
    names = run_on_quantities(ast.parse(source.replace(right, slip)))
    assert any(wrong(name, names[name], given, quantities(name, given)) for given in GIVEN[name])


def test_temperature_is_no_difference():
    """A temperature can be subtracted from another and not be multiplied; kelvins of difference can."""
    here = quantity_of("degC", 293.15)
    assert 1 == (quantity_of("degC", 303.15) - here) / quantity_of("K", 10)
    with pytest.raises(pint.OffsetUnitCalculusError):
        here * 2


@pytest.mark.parametrize("name", NAMES)
def test_no_formula_keeps_anything_between_calls(name):
    """The same inputs give the same outputs again, and the rows that were put in are left as they were."""
    inputs = in_order(name, GIVEN[name][0])
    before = repr(inputs)
    try:
        first, second = (outputs(name, function_of(name)(*inputs)) for _ in range(2))
    except CannotTell:
        pytest.fail("a worked example has an answer")
    assert first == second
    assert before == repr(inputs)
