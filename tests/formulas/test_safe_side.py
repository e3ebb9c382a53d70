"""Over generated inputs: nothing is shown on the unsafe side, and a unit is only a way of writing."""

import os
from random import Random

import pytest

from builder.compile.caller import call
from builder.compile.catalogue import function_of, signature_data
from builder.formulas.mathematics import CannotTell
from builder.quantity import from_si, parse_quantity, to_si, units
from tests.compile.inputs import input_sets
from tests.formulas.test_faults import GOOD
from tests.formulas.test_rounding import assert_safe, shown

SEED = int(os.environ.get("PITSLATE_SEED", "21"))
SETS = 200
NAMES = sorted(signature_data())


def answers(name: str):
    """Inputs that have an answer, with it: the worked ones, and those of the generated ones that do."""
    for given in [*GOOD[name], *input_sets(signature_data()[name], SETS, Random(f"{SEED} {name}"))]:
        try:
            yield given, call(function_of(name), signature_data()[name], given)
        except CannotTell:
            continue


def numbers(parts: list[dict], values: dict):
    for part in parts:
        if part["kind"] == "number":
            yield part, values[part["name"]]
        elif part["kind"] == "rows":
            for row in values[part["name"]]:
                yield from numbers(part["columns"], row)


@pytest.mark.parametrize("name", NAMES)
def test_output_is_never_shown_on_its_unsafe_side(name):
    """Each number of each answer, as the page writes it: a minimum no lower, a maximum no higher."""
    seen = 0
    for _, outputs in answers(name):
        for part, value in numbers(signature_data()[name]["gives"], outputs):
            exact, written = shown(value, part)
            assert_safe(exact, written, part["side"], part["figures"])
            seen += 1
    assert seen or all(part["kind"] == "word" for part in signature_data()[name]["gives"]), f"seed {SEED}"


def written_otherwise(part: dict, si: float, random: Random) -> float:
    """The same number written in another unit of its dimension, and read again."""
    of = random.choice([one for one in units().values() if one.dimension == units()[part["unit"]].dimension])
    return to_si(from_si(si, of), of)


@pytest.mark.parametrize("name", NAMES)
def test_same_number_in_another_unit_gives_the_same_result(name):
    """Feet for metres, kilovolts for volts, pounds for newtons: the outputs stay where they were."""
    random = Random(f"{SEED} {name}")
    whole = {"1"}
    for given, outputs in answers(name):
        other = {}
        for part in signature_data()[name]["inputs"]:
            value = given[part["name"]]
            # A count has no unit to write it in.
            if part["kind"] == "number" and value is not None and part["unit"] not in whole:
                value = written_otherwise(part, value, random)
            other[part["name"]] = value
        try:
            again = call(function_of(name), signature_data()[name], other)
        except CannotTell as reason:
            pytest.fail(f"seed {SEED}: {reason} for {other}")
        gives = signature_data()[name]["gives"]
        pairs = [(part, value, found) for (part, value), (_, found) in zip(numbers(gives, outputs), numbers(gives, again), strict=True)]
        # A sum that is just a whole number of people or hitches may count one more, and what they share is then another.
        counts = [(value, found) for part, value, found in pairs if part["figures"] == 0]
        assert all(abs(value - found) <= 1 for value, found in counts), f"seed {SEED}: {other}"
        if all(value == found for value, found in counts):
            for part, value, found in pairs:
                assert value == pytest.approx(found, rel=1e-6, abs=1e-9), f"seed {SEED}: {part['name']} for {other}"


@pytest.mark.parametrize(("one", "other"), [
    ("46 m", "46000 mm"), ("1 ft", "12 in"), ("240 mm2", "0.00024 m2"), ("5 kN", "5000 N"), ("4.37 kN/m", "4370 N/m"), ("10 min", "600 s"),
    ("1.5 kV", "1500 V"), ("0.9 Mohm", "900 kohm"), ("20 %", "0.2"), ("90 deg", "1.5707963267948966 rad"), ("250 kWh", "250000 Wh"),
    ("9400 uF", "9.4 mF"), ("2.45 t", "2450 kg"), ("0.125 ohm/km", "0.125 mohm/m"), ("12 N.m", "12 J"), ("500 kVA", "0.5 MVA"),
])
def test_people_may_write_one_quantity_in_two_ways(one, other):
    """What a job file or a reading says in one unit, it says in the other (hand)."""
    assert parse_quantity(one).si == pytest.approx(parse_quantity(other).si, rel=1e-12)
