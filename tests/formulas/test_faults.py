"""Missing, zero, negative, tenfold and senseless inputs: a number or a reason, and nothing else."""

from math import inf, isfinite, nan

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from builder.compile.caller import call
from builder.compile.catalogue import FOLDER, function_of, signature_data
from builder.formulas.mathematics import CannotTell
from tests.published.test_worked_examples import in_si

GOOD: dict[str, list[dict]] = {}
for _path in sorted(FOLDER.glob("*.worked.yaml")):
    for _example in yaml.safe_load(_path.read_text(encoding="utf-8")):
        GOOD.setdefault(_example["formula"], []).append({name: in_si(value) for name, value in _example["inputs"].items()})

TENFOLD = "ten times as much"
SENSELESS = [None, 0.0, -1.0, -0.0, TENFOLD, "a tenth", 1e300, 1e-300, nan, inf, -inf, True, "twelve", "", [], {}]
# That rows are a list is settled when the sheet is built; what is in them is not.
SENSELESS_ROWS = [None, [], [{}], [{"number": nan}]]


def spoiled(value, fault):
    """A good value with the fault put in its place."""
    if fault in (TENFOLD, "a tenth"):
        return value * (10 if fault == TENFOLD else 0.1) if isinstance(value, float) else fault
    return fault


def answered(name: str, inputs: dict) -> dict | None:
    """The outputs, or None where the formula said why it can't tell."""
    try:
        return call(function_of(name), signature_data()[name], inputs)
    except CannotTell as reason:
        assert str(reason).endswith(".")
        return None


def assert_sound(name: str, outputs: dict | None) -> None:
    """Every number of an answer is finite and inside what the formula is trusted for."""
    for part in signature_data()[name]["gives"] if outputs is not None else []:
        numbers = [outputs[part["name"]]]
        if part["kind"] == "rows":
            numbers = [row[column["name"]] for row in outputs[part["name"]] for column in part["columns"] if column["kind"] == "number"]
        if part["kind"] != "word":
            assert all(isfinite(number) and number >= 0 for number in numbers)


@pytest.mark.parametrize("name", sorted(GOOD))
def test_spoiled_input_gives_a_number_or_a_reason(name):
    """Each input of each worked example in turn is spoiled in every way; nothing but CannotTell ever comes out."""
    for inputs in GOOD[name]:
        for spoiled_name in inputs:
            for fault in SENSELESS_ROWS if isinstance(inputs[spoiled_name], list) else SENSELESS:
                changed = {**inputs, spoiled_name: spoiled(inputs[spoiled_name], fault)}
                assert_sound(name, answered(name, changed))


@pytest.mark.parametrize("name", sorted(name for name in GOOD if any(part["kind"] == "rows" for part in signature_data()[name]["inputs"])))
def test_spoiled_row_gives_a_number_or_a_reason(name):
    """Each cell of each row is spoiled in every way."""
    rows_name = next(part["name"] for part in signature_data()[name]["inputs"] if part["kind"] == "rows")
    for inputs in GOOD[name]:
        for number, row in enumerate(inputs[rows_name]):
            for cell in row:
                for fault in SENSELESS:
                    rows = [*inputs[rows_name]]
                    rows[number] = {**row, cell: spoiled(row[cell], fault)}
                    assert_sound(name, answered(name, {**inputs, rows_name: rows}))


# Nothing of this is a number; no formula may have an answer by it.
NO_NUMBERS = {"not a number": nan, "infinite": inf, "less than infinite": -inf, "text": "1e9", "empty": "", "the sign of infinity": "∞", "yes": True,
              "a list": [1.0], "a mapping": {}}


def cells(name: str):
    """Each number of each worked example: the part, the good inputs, and how to put another value there."""
    for inputs in GOOD[name]:
        for part in signature_data()[name]["inputs"]:
            if part["kind"] == "number":
                yield part, inputs[part["name"]], lambda value, inputs=inputs, part=part: {**inputs, part["name"]: value}
            for column in (column for column in part.get("columns", []) if column["kind"] == "number"):
                for number, row in enumerate(inputs[part["name"]]):
                    def put(value, inputs=inputs, part=part, column=column, number=number):
                        rows = [dict(one) for one in inputs[part["name"]]]
                        rows[number][column["name"]] = value
                        return {**inputs, part["name"]: rows}
                    yield column, row.get(column["name"]), put


def beyond(part: dict) -> dict[str, float]:
    """Numbers outside a range: just past either end, ten times and a thousand times past the higher one, below nothing."""
    low, high = part["low_si"], part["high_si"]
    span = high - low
    return {"under its least": low - span * 1e-6, "over its most": high + span * 1e-6, "ten times its most": high + 9 * abs(high) + span,
            "in another unit": high * 1000 + span, "less than nothing": low - abs(low) - span}


def test_no_formula_answers_to_what_is_no_number_or_beyond_its_range():
    """Every number of every worked example in turn: missing, endless, none, text, beyond its range: always a sentence, never a number."""
    asked, answers = 0, []
    for name in sorted(GOOD):
        for part, _, put in cells(name):
            faults = {**NO_NUMBERS, **beyond(part), **({} if part["optional"] else {"missing": None})}
            for fault, value in faults.items():
                asked += 1
                if answered(name, put(value)) is not None:
                    answers.append(f"{name}: {part['name']} {fault}")
    print(f"{asked} faults in {len(GOOD)} formulas, {len(answers)} answered")
    assert [] == answers
    assert asked > 10_000


def test_nothing_and_less_than_nothing_are_answered_only_where_the_range_says_so():
    """Zero and negative numbers are refused wherever a docstring does not allow them by its range."""
    for name in sorted(GOOD):
        for part, good, put in cells(name):
            for value in (0.0, -good if good else -1.0):
                if answered(name, put(value)) is not None:
                    low, high = part["low_si"], part["high_si"]
                    assert low - 1e-9 * abs(low) <= value <= high + 1e-9 * abs(high), f"{name}: {part['name']} {value}"


REQUIRED = [
    (name, part["name"]) for name in sorted(GOOD) for part in signature_data()[name]["inputs"] if not part["optional"]
]


@pytest.mark.parametrize(("name", "missing"), REQUIRED)
def test_missing_input_is_named_and_never_guessed(name, missing):
    """Without a required input there is no number, and the reason names what is missing."""
    with pytest.raises(CannotTell) as reason:
        call(function_of(name), signature_data()[name], {**GOOD[name][0], missing: None})
    assert missing.replace("_", " ") in str(reason.value).lower()


def numbers_of(part: dict) -> st.SearchStrategy:
    """Any value that the docstring allows for this part."""
    if part["kind"] == "word":
        return st.sampled_from(part["one_of"])
    if part["kind"] == "rows":
        row = st.fixed_dictionaries({column["name"]: numbers_of(column) for column in part["columns"]})
        return st.lists(row, min_size=1, max_size=4)
    number = st.floats(part["low_si"], part["high_si"]) | st.sampled_from([part["low_si"], part["high_si"]])
    return number | st.none() if part["optional"] else number


@pytest.mark.parametrize("name", sorted(signature_data()))
@settings(deadline=None, max_examples=60)
@given(data=st.data())
def test_allowed_inputs_give_a_number_or_a_reason(name, data):
    """Anything inside the stated ranges, together and at their ends, gives a sound answer or a reason."""
    inputs = {part["name"]: data.draw(numbers_of(part), part["name"]) for part in signature_data()[name]["inputs"]}
    assert_sound(name, answered(name, inputs))
