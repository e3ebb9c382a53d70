"""Formulas and vectors in Python and in the browser: the same numbers, the same words, the same refusals."""

import json
import os
from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest
from selenium.webdriver import WebKitGTK

from builder.compile.catalogue import signature_data
from builder.compile.evaluate import plausible
from builder.quantity import from_si, parse_quantity, to_si, units
from tests.compile.answers import differences
from tests.compile.calls import CALLED_ON_PHONE, CALLED_ON_WEBKIT, asked_of_phone, called_here, uses_libraries
from tests.compile.inputs import input_sets
from tests.compile.page import write_page
from tests.compile.vectors import vector_job
from tests.published.test_worked_examples import EXAMPLES, in_si

SEED = int(os.environ.get("PITSLATE_SEED", "20"))
PER_FORMULA = 200
IN_WEBKIT = 20
# Over all formulas, when the long counts are asked for.
LONG_COUNT = 100_000
NEARNESS = 1e-12


def unlike(ask: Callable, count: int) -> list[str]:
    """Where the answers of an engine differ from Python's, over generated inputs of every formula."""
    found = []
    for name in sorted(signature_data()):
        sets = list(input_sets(signature_data()[name], count, Random(f"{SEED} {name}")))
        nearness = NEARNESS if uses_libraries(name) else 0.0
        for given, there in zip(sets, ask(asked_of_phone(name, sets)), strict=True):
            lines = differences(called_here(name, given), there, nearness, name)
            found += [f"seed {SEED}: {line} for {json.dumps(given)}" for line in lines]
    return found


def test_formulas_python_and_browser_agree(phone: Callable, full: bool) -> None:
    """Generated inputs give the same numbers, words, shown texts and refusals in both languages."""
    count = max(PER_FORMULA, -(-LONG_COUNT // len(signature_data()))) if full else PER_FORMULA
    assert [] == unlike(lambda asked: phone(CALLED_ON_PHONE, asked), count)[:10]


def test_formulas_python_and_webkit_agree(webkit: WebKitGTK, serve_folder: Callable, tmp_path: Path, full: bool) -> None:
    """The other engine of phones gives the same too."""
    write_page(tmp_path, vector_job())
    webkit.get(serve_folder(tmp_path).url)

    def ask(asked: dict) -> list[dict]:
        said = webkit.execute_async_script(CALLED_ON_WEBKIT, asked)
        assert "error" not in said, said
        return said["answers"]

    assert [] == unlike(ask, PER_FORMULA if full else IN_WEBKIT)[:10]


@pytest.mark.parametrize("name", sorted(signature_data()))
def test_formula_generated_inputs_reach_numbers_and_refusals(name: str) -> None:
    """The generated inputs of every formula have answers among them, and refusals."""
    answers = [called_here(name, given) for given in input_sets(signature_data()[name], PER_FORMULA, Random(f"{SEED} {name}"))]
    assert {"outputs", "cannot_tell"} == {next(iter(answer)) for answer in answers}


def test_worked_examples_come_out_in_the_browser(phone: Callable) -> None:
    """Every printed, derived or hand-worked example holds on the phone too, within the tolerance of its print."""
    found = []
    for _, number, example in EXAMPLES:
        given = {name: in_si(value) for name, value in example["inputs"].items()}
        [answer] = phone(CALLED_ON_PHONE, asked_of_phone(example["formula"], [given]))
        expected = {name: in_si(value) for name, value in example["gives"].items()}
        where = f"{example['formula']} example {number}"
        if "outputs" not in answer:
            found.append(f"{where}: {answer['cannot_tell']}")
            continue
        outputs = {name: answer["outputs"][name] for name in expected}
        for name, value in expected.items():
            near = pytest.approx(value, rel=example["tolerance"], abs=1e-12) if isinstance(value, float) else value
            if outputs[name] != near:
                found.append(f"{where}: {name} is {outputs[name]} and not {value}")
    assert [] == found


PLAUSIBLE_ON_PHONE = """async ({task, asked}) => {
  const { plausible } = await import("/app/environment.mjs");
  return asked.map(([step, text]) => plausible(task, step, text));
}"""


def test_typed_readings_are_believed_or_refused_alike(phone: Callable) -> None:
    """Text, exponents, nothing, and numbers beyond belief are refused in the same words; the rest is taken."""
    task = {"steps": [
        {"name": "length-in-hand", "unit": "m", "plausible": [1, 2000], "one_of": [], "text": False},
        {"name": "winding", "unit": "degC", "plausible": [-40, 150], "one_of": [], "text": False},
        {"name": "marking", "unit": None, "plausible": None, "one_of": ["legible", "damaged"], "text": False},
        {"name": "drum", "unit": None, "plausible": None, "one_of": [], "text": True},
    ]}
    no_number = "Length in hand: type a number between 1 and 2000 m, with a point or comma for decimals."
    expected = [
        ("length-in-hand", " 46,5 ", {"si": 46.5, "text": "46,5"}),
        ("length-in-hand", "1", {"si": 1.0, "text": "1"}),
        ("length-in-hand", "2000", {"si": 2000.0, "text": "2000"}),
        *(("length-in-hand", text, {"reason": no_number}) for text in ("", "forty", "1e3", "NaN", "inf", "46 m", "--4")),
        ("length-in-hand", "2000.1", {
            "reason": "Length in hand: 2000.1 m can't be right; it lies between 1 and 2000 m. Measure again."}),
        ("length-in-hand", "-5", {
            "reason": "Length in hand: -5 m can't be right; it lies between 1 and 2000 m. Measure again."}),
        ("winding", "-10", {"si": 263.15, "text": "-10"}),
        ("winding", "200", {"reason": "Winding: 200 °C can't be right; it lies between −40 and 150 °C. Measure again."}),
        ("marking", "legible", {"word": "legible", "text": "legible"}),
        ("marking", "clear", {"reason": "Marking: choose legible or damaged."}),
        ("drum", " D-17 ", {"word": "D-17", "text": "D-17"}),
        ("drum", "   ", {"reason": "Drum: write something, in 200 letters at most."}),
        ("drum", "x" * 201, {"reason": "Drum: write something, in 200 letters at most."}),
    ]
    asked = [[step, text] for step, text, _ in expected]
    assert [answer for *_, answer in expected] == [plausible(task, step, text) for step, text in asked]
    assert [answer for *_, answer in expected] == phone(PLAUSIBLE_ON_PHONE, {"task": task, "asked": asked})


CONVERTED_ON_PHONE = """async ({symbols, numbers, texts}) => {
  const { fromSi, parseQuantity, toSi } = await import("/app/quantity.mjs");
  return {
    converted: symbols.map((symbol) => numbers.map((number) => [toSi(number, symbol), fromSi(number, symbol)])),
    read: texts.map((text) => parseQuantity(text)?.si ?? null),
  };
}"""


def test_units_convert_alike_in_the_browser(phone: Callable) -> None:
    """Every unit goes to SI and back to the same last digit, and quantities are read alike."""
    numbers = [0.0, 1.0, -40.0, 0.1, 123.456]
    texts = ["46 m", "46,5m", "-10 degC", "5", "3 %", "1.5 lbf.in", "46 mtr", "m", "1e3 m", "1 constructor", ""]
    there = phone(CONVERTED_ON_PHONE, {"symbols": list(units()), "numbers": numbers, "texts": texts})
    assert [[[to_si(number, unit), from_si(number, unit)] for number in numbers] for unit in units().values()] == there["converted"]
    assert [_si_or_none(text) for text in texts] == there["read"]


def _si_or_none(text: str) -> float | None:
    try:
        return parse_quantity(text).si
    except ValueError:
        return None
