"""What stands in feet and pounds beside a metric amount on the phone never promises more than the amount does."""

import random
import re
from collections.abc import Callable

import pytest

from builder.quantity import customary, parse_number, unit, units

ASKED = """async (asked) => {
  const { amount, outputAmount, showCustomary } = await import("/app/showing.mjs");
  showCustomary(true);
  try {
    return asked.map(([si, unit, figures, side]) => [amount(si, unit, figures, side), outputAmount(si, { kind: "number", unit, figures, side })]);
  } finally {
    showCustomary(false);
  }
}"""
LIMITED = """async (asked) => {
  const { limitOf } = await import("/app/verdict.mjs");
  const { showCustomary } = await import("/app/showing.mjs");
  showCustomary(true);
  try {
    return asked.map(([op, si, unit, held]) => limitOf(op, si, 3, unit, { what: "It", value: held, text: "", workings: [] }));
  } finally {
    showCustomary(false);
  }
}"""


def in_brackets(text: str, symbol: str) -> float:
    """The number in brackets, in SI."""
    number = parse_number(re.fullmatch(r".* \((\S+) \S+\)", text)[1].replace("−", "-"))
    other = unit(customary(symbol))
    return number * other.factor + other.offset


@pytest.mark.parametrize("side", ["up", "down"])
def test_customary_is_rounded_to_the_side_of_its_formula(phone: Callable, side: str) -> None:
    """Every unit with another beside it: up never comes out lower than the amount itself, down never higher, and neither far off."""
    chance = random.Random(4)
    asked = [[chance.uniform(0.5, 9000) * unit(symbol).factor + unit(symbol).offset, symbol, 3, side] for symbol in units() if customary(symbol) for _ in range(20)]
    for (si, symbol, *_), texts in zip(asked, phone(ASKED, asked), strict=True):
        for text in texts:
            shown, slack = in_brackets(text, symbol), 1e-9 * abs(si)
            assert (si - slack <= shown) if side == "up" else (shown <= si + slack), (text, si)
            assert shown == pytest.approx(si, rel=0.0011, abs=0.0011 * unit(symbol).factor), text


def test_limits_are_rounded_to_the_safe_side_in_feet_and_pounds(phone: Callable) -> None:
    """8 kN are 1798.47 lbf: at most 1798, at least 1799. A drop of 2.5 m at most is 8.202 ft, and 0.6 m at least 23.63 in."""
    asked = [["<=", 8000.0, "kN", 1.0], [">=", 8000.0, "kN", 1.0], ["<=", 2.5, "m", 1.0], [">=", 0.6, "mm", 1.0], [">", 263.15, "degC", 289.15]]
    texts = [limit["text"] for limit in phone(LIMITED, asked)]
    assert ["8.00 kN (1798 lbf)", "8.00 kN (1799 lbf)", "2.50 m (8.202 ft)", "600 mm (23.63 in)", "−10.0 °C (14 °F)"] == texts


def test_room_in_degrees_is_a_difference(phone: Callable) -> None:
    """26 °C above a limit are 46.8 °F of room, and no temperature of 78.8 °F."""
    [limit] = phone(LIMITED, [[">=", 263.15, "degC", 289.15]])
    assert "26 °C (46.8 °F) to spare" == limit["margin_text"]


def test_on_a_metric_phone_nothing_stands_beside(phone: Callable) -> None:
    """As long as nobody has asked for feet and pounds."""
    assert ["8 kN", "1.00 m"] == phone("""async () => {
      const { amount, outputAmount } = await import("/app/showing.mjs");
      return [amount(8000, "kN"), outputAmount(1, { kind: "number", unit: "m", figures: 3, side: "up" })];
    }""")
