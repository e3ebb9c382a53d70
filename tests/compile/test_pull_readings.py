"""What is measured on a pull can be typed in either unit, and phone and desk believe the same."""

from collections.abc import Callable
from typing import Any

import pytest

from builder.compile.pull_readings import pull_reading

DAY = {
    "tension": {"unit": "kN", "plausible": [0.02, 200]}, "people": {"unit": "1", "plausible": [1, 40]}, "length": {"unit": "m", "plausible": [1, 2000]},
}
CASES = [
    ("station-1", "1.5", "kN"), ("station-1", "340", "[lbf_av]"), ("station-1", "4", "1"), ("length-in", "60", "m"), ("length-in", "197", "[ft_i]"),
    ("station-1", "900000", "[lbf_av]"), ("station-1", "much", "[lbf_av]"), ("station-1", "150", "kgf"), ("length-in", "60", "[yd_i]"),
    ("length-in", "1", "[ft_i]"), ("station-1", "1,500", "[lbf_av]"), ("station-2", "4", "[lbf_av]"),
]


def believed(day: dict, step: str, text: str, ucum: str) -> dict[str, Any]:
    return pull_reading(day, step, {"text": text, "unit": ucum, "known": None})


def test_pounds_and_feet_are_newton_and_metres() -> None:
    """340 lbf is 1.5124 kN, 197 ft is 60.046 m: each stands in the unit of the plan, worth what was typed."""
    pull, length = believed(DAY, "station-1", "340", "[lbf_av]"), believed(DAY, "length-in", "197", "[ft_i]")
    assert ("tension", "1.5124", pytest.approx(1512.395)) == (pull["quantity"], pull["text"], pull["si"])
    assert ("length", "60.046", pytest.approx(60.0456)) == (length["quantity"], length["text"], length["si"])


@pytest.mark.parametrize(("step", "text", "ucum"), [case for case in CASES if case[2] in ("[lbf_av]", "kgf", "[yd_i]") and case[1] != "340"])
def test_what_can_be_no_pull_is_refused_in_pounds_too(step: str, text: str, ucum: str) -> None:
    """Ranges are those of the plan's own unit, and a third unit is none."""
    assert believed(DAY, step, text, ucum)["refused"]


def test_phone_believes_the_same(phone: Callable) -> None:
    """Every case, word for word; with people counted and without."""
    days = [DAY, DAY | {"people": None}]
    there = phone("""async ({ days, cases }) => {
      const { pullReading } = await import("/app/pull-readings.mjs");
      return days.map((day) => cases.map(([step, text, unit]) => pullReading(day, step, { text, unit, known: null })));
    }""", {"days": days, "cases": CASES})
    assert [[believed(day, *case) for case in CASES] for day in days] == there
