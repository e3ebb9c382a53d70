"""Calling a formula: every absurd input and output gives a reason and no number."""

from collections.abc import Callable
from typing import Any

import pytest

from builder.compile.caller import call
from builder.formulas.mathematics import CannotTell
from builder.quantity import to_si, unit

NO_ANSWER = "These numbers have no answer in this formula."


def number(name: str, symbol: str, low: float, high: float, **more: Any) -> dict[str, Any]:
    of = unit(symbol)
    return {"name": name, "kind": "number", "unit": symbol, "low": low, "high": high, "low_si": to_si(low, of),
            "high_si": to_si(high, of), "optional": False, **more}


SIGNATURE = {
    "inputs": [
        number("length", "mm", 1, 5000),
        number("slack", "%", 0, 50, optional=True),
        {"name": "way", "kind": "word", "one_of": ["conduit", "open_tray"], "optional": False},
        {"name": "segments", "kind": "rows", "optional": False, "columns": [number("turn", "deg", 0, 90)]},
    ],
    "gives": [number("total", "m", 0, 10)],
}
GIVEN = {"length": 2.0, "slack": None, "way": "conduit", "segments": [{"turn": 0.5, "other": "left alone"}]}


def total(length, slack, way, segments):
    return length


@pytest.mark.parametrize(("given", "reason"), [
    ({"length": None}, "Length is not given."),
    ({"length": "2"}, "Length is not a number."),
    ({"length": True}, "Length is not a number."),
    ({"length": float("nan")}, "Length is not a number."),
    ({"length": float("inf")}, "Length is not a number."),
    ({"length": 5.001}, "Length is 5001 mm; this formula holds from 1 to 5000 mm."),
    ({"length": -2.0}, "Length is −2000 mm; this formula holds from 1 to 5000 mm."),
    ({"slack": 0.6}, "Slack is 60 %; this formula holds from 0 to 50 %."),
    ({"way": None}, "Way is not given."),
    ({"way": "drum"}, "Way is “drum”; this formula takes conduit or open tray."),
    ({"segments": []}, "Segments: nothing is listed."),
    ({"segments": None}, "Segments is not given."),
    ({"segments": [{"turn": 0.1}, {"turn": None}]}, "Segments, row 2: turn is not given."),
    ({"segments": [{"turn": 0.1}, {}]}, "Segments, row 2: turn is not given."),
    ({"segments": [{"turn": 2.0}]}, "Segments, row 1: turn is 114.592°; this formula holds from 0 to 90°."),
])
def test_absurd_input_gives_a_reason_with_value_and_range(given: dict, reason: str) -> None:
    """What is missing, no number, or outside the range is named before the formula is asked."""
    with pytest.raises(CannotTell) as refusal:
        call(total, SIGNATURE, GIVEN | given)
    assert reason == str(refusal.value)


@pytest.mark.parametrize("length", [0.001, 5.0, 5.000000001, 0.000999999999])
def test_input_at_the_end_of_its_range_is_taken(length: float) -> None:
    """Noise of conversion does not push a value over the edge of its range."""
    assert {"total": length} == call(total, SIGNATURE, GIVEN | {"length": length})


@pytest.mark.parametrize(("formula", "reason"), [
    (lambda *_: 1 / 0, NO_ANSWER),
    (lambda *_: (-1) ** 0.5, NO_ANSWER),
    (lambda *_: float("inf"), NO_ANSWER),
    (lambda *_: float("nan"), NO_ANSWER),
    (lambda *_: 10.0 ** 400, NO_ANSWER),
    (lambda *_: [][0], NO_ANSWER),
    (lambda *_: {"total": 11.0}, "Total comes to 11 m; this formula is trusted from 0 to 10 m."),
    (lambda *_: -0.5, "Total comes to −0.5 m; this formula is trusted from 0 to 10 m."),
])
def test_absurd_output_gives_a_reason(formula: Callable, reason: str) -> None:
    """No division by zero, overflow, root of less than nothing or untrusted size ever becomes a number."""
    with pytest.raises(CannotTell) as refusal:
        call(formula, SIGNATURE, GIVEN)
    assert reason == str(refusal.value)


def test_formula_sees_the_declared_columns_only_and_no_minus_zero() -> None:
    """Rows are handed over with their declared columns; a result of minus zero is zero."""
    seen = {}

    def watch(length, slack, way, segments):
        seen.update(length=length, slack=slack, way=way, segments=segments)
        return -0.0

    assert "0.0" == str(call(watch, SIGNATURE, GIVEN)["total"])
    assert {"length": 2.0, "slack": None, "way": "conduit", "segments": [{"turn": 0.5}]} == seen


BEYOND_PYTHON = """async () => {
  const $ = await import("/app/mathematics.mjs");
  const tries = {
    divide: () => $.divide(1, 0), root: () => $.sqrt(-1), log: () => $.log(0), exp: () => $.exp(1000), asin: () => $.asin(2),
    power: () => $.power(10, 400), negative: () => $.power(-2, 0.5), floor: () => $.floor(Infinity), row: () => $.at([1], 3),
    sine: () => $.sin(Infinity), column: () => $.at({ a: 1 }, "b"), alike: () => $.alike(NaN, 1),
  };
  return Object.entries(tries).map(([name, attempt]) => {
    try {
      return [name, attempt()];
    } catch (refusal) {
      return [name, refusal instanceof $.CannotTell ? refusal.message : String(refusal)];
    }
  });
}"""


def test_browser_arithmetic_fails_where_python_does(phone: Callable) -> None:
    """Where Python raises, the phone refuses in the same words instead of going on with Infinity or NaN."""
    assert {NO_ANSWER} == {said for _, said in phone(BEYOND_PYTHON)}


def test_browser_arithmetic_takes_what_python_takes(phone: Callable) -> None:
    """Least and greatest, negative places and whole numbers as text come out as in Python."""
    found = phone("""async () => {
      const $ = await import("/app/mathematics.mjs");
      return [$.max(1, 3, 2), $.min(2, 1, 1), $.at([1, 2, 3], -1), $.str(-0), $.str(12), [...$.range(1, 4)], $.len([1, 2]),
        $.alike(0.1 + 0.2, 0.3), $.above(0.1 + 0.2, 0.3), $.atLeast(0.3, 0.1 + 0.2), $.below(1, 2), $.alike("a", "a"), $.power(2, 3)];
    }""")
    assert [3, 1, 3, "0", "12", [1, 2, 3], 2, True, False, True, True, True, 8] == found
