"""Readings as a thumb, a tired eye or a broken meter makes them."""

from collections.abc import Iterator, Mapping
from typing import Any

from builder.compile.evaluate import Environment, plausible
from builder.quantity import from_si, units

# Nothing of this is a number as anybody types one.
NO_NUMBERS = ("", " ", "NaN", "nan", "∞", "Infinity", "-inf", "1e9", "1E3", "0x10", "twelve", "46 mm", "1,000", "--4", "1.2.3", "3 4", "٣", "½")
TIMES = (0.0, -1.0, 0.001, 0.1, 10.0, 1000.0)


def acceptances(job: Mapping, sheet: Mapping, readings: Mapping) -> list[Mapping]:
    """The steps of a sheet that judge, of those that apply."""
    environment = Environment(job, sheet, readings)
    return [step for step in job["tasks"][sheet["task"]]["steps"] if step.get("accept") and environment.step(step["name"])["applies"]]


def typed(number: float) -> str:
    """A number as it is typed on site, without an exponent."""
    return f"{number:.12f}".rstrip("0").rstrip(".")


def believed(job: Mapping, sheet: Mapping, name: str, text: str) -> dict[str, Any] | None:
    """The reading where the phone believes it."""
    found = plausible(job["tasks"][sheet["task"]], name, text)
    return None if "reason" in found else {"text": text, **found}


def number_of(job: Mapping, sheet: Mapping, name: str, reading: Mapping) -> float:
    """A reading in its own unit."""
    return from_si(reading["si"], units()[step_called(job, sheet, name)["unit"]])


def step_called(job: Mapping, sheet: Mapping, name: str) -> Mapping:
    return next(step for step in job["tasks"][sheet["task"]]["steps"] if step["name"] == name)


def along(job: Mapping, sheet: Mapping, name: str) -> Iterator[dict[str, Any]]:
    """What the phone may believe of a reading, from one end of belief to the other."""
    step = step_called(job, sheet, name)
    if step.get("one_of"):
        yield from (believed(job, sheet, name, word) for word in step["one_of"])
    elif not step.get("text"):
        low, high = step["plausible"]
        yield from (found for part in (0, 0.001, 0.03, 0.3, 1) if (found := believed(job, sheet, name, typed(low + part * (high - low)))))
