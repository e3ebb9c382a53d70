"""The shared vectors in both languages: what sheets say, how numbers are shown and read."""

from collections.abc import Callable

import pytest

from builder.compile.evaluate import Environment
from builder.formulas.number_text import number_text, plain_text
from builder.quantity import parse_number
from tests.compile.answers import differences, only_named
from tests.compile.vectors import read_vectors, vector_job

SHEETS = read_vectors("expressions") | {"job": vector_job()}
NUMBERS = read_vectors("numbers")
CASES = [pytest.param(case, id=case["title"]) for case in SHEETS["cases"]]
# Language libraries may differ in the last digits of a logarithm.
NEARNESS = 1e-12

SAID_ON_PHONE = """async ({job, sheet, readings}) => {
  const { Environment } = await import("/app/environment.mjs");
  const environment = new Environment(job, sheet, readings);
  const all = (names, say) => Object.fromEntries(names.map((name) => [name, say(name)]));
  return {
    workings: all(Object.keys(environment.task.workings), (name) => environment.working(name)),
    steps: all(environment.task.steps.map(({ name }) => name), (name) => environment.step(name)),
  };
}"""


def said_here(job: dict, sheet: dict, readings: dict) -> dict:
    environment = Environment(job, sheet, readings)
    return {
        "workings": {name: environment.working(name) for name in environment.task["workings"]},
        "steps": {step["name"]: environment.step(step["name"]) for step in environment.task["steps"]},
    }


def question(case: dict) -> dict:
    sheet = next(sheet for sheet in SHEETS["job"]["sheets"] if sheet["id"] == case["sheet"])
    return {"job": SHEETS["job"], "sheet": sheet, "readings": case["readings"]}


@pytest.mark.parametrize("case", CASES)
def test_sheet_says_in_python_what_the_vector_expects(case: dict) -> None:
    """Workings and steps come to what was worked out by hand."""
    expected = {"workings": case["workings"], "steps": case["steps"]}
    said = said_here(**question(case))
    assert [] == differences(expected, only_named(expected, said), NEARNESS)


@pytest.mark.parametrize("case", CASES)
def test_sheet_says_the_same_in_the_browser(case: dict, phone: Callable) -> None:
    """Every working and step of the sheet is the same in both languages, to the letter."""
    asked = question(case)
    assert [] == differences(said_here(**asked), phone(SAID_ON_PHONE, asked), NEARNESS)


def test_every_step_and_working_of_the_vector_job_is_expected_somewhere() -> None:
    """No step or working of the small job goes without an expectation."""
    tasks = SHEETS["job"]["tasks"].values()
    wanted = {name for task in tasks for name in (*task["workings"], *(step["name"] for step in task["steps"]))}
    expected = {name for case in SHEETS["cases"] for name in (*case["workings"], *case["steps"])}
    assert set() == wanted - expected - {"plate-time"}


@pytest.mark.parametrize(("number", "figures", "side", "text", "plain"), NUMBERS["shown"])
def test_number_is_shown_as_expected(number: float, figures: int, side: str, text: str, plain: str) -> None:
    """Ties, negatives, noise and the safe side come out as a person would write them."""
    assert (text, plain) == (number_text(number, figures, side), plain_text(number, figures, side))


def test_numbers_are_shown_alike_in_the_browser(phone: Callable) -> None:
    """The compiled number text is the same text."""
    shown = phone("""async (shown) => {
      const { functions } = await import("/app/formulas.mjs");
      return shown.map(([number, figures, side]) =>
        [functions.number_text(number, figures, side), functions.plain_text(number, figures, side)]);
    }""", NUMBERS["shown"])
    assert [list(row[3:]) for row in NUMBERS["shown"]] == shown


def number_or_none(text: str) -> float | None:
    try:
        return parse_number(text)
    except ValueError:
        return None


@pytest.mark.parametrize(("text", "number"), NUMBERS["typed"], ids=[ascii(text)[:30] for text, _ in NUMBERS["typed"]])
def test_typed_number_is_read_or_refused(text: str, number: float | None) -> None:
    """Digits with a point or comma are a number; everything else is refused."""
    assert number == number_or_none(text)


def test_typed_numbers_are_read_alike_in_the_browser(phone: Callable) -> None:
    """The phone reads and refuses the same texts."""
    read = phone("""async (texts) => {
      const { parseNumber } = await import("/app/quantity.mjs");
      return texts.map(parseNumber);
    }""", [text for text, _ in NUMBERS["typed"]])
    assert [number for _, number in NUMBERS["typed"]] == read
