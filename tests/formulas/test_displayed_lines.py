"""The line that a phone shows above a result, worked out as it stands there: it must come to that result."""

import math
import re

import pytest

from builder.compile.caller import call
from builder.compile.catalogue import function_of, signature_data
from builder.compile.showing import filled_lines
from tests.published.test_worked_examples import EXAMPLES, IDS, in_si

WRITTEN = [(" = ", "=="), ("·", "*"), ("²", "**2"), ("³", "**3"), ("^", "**"), ("√", "sqrt")]
NAMES = {name: getattr(math, name) for name in ("sqrt", "sin", "cos", "tan", "exp", "pi")} | {
    "ln": math.log, "max": max, "min": min, "π": math.pi, "__builtins__": {}}


def worked_by_line(line: str, numbers: dict[str, float]) -> float | None:
    """What the right side comes to in SI; None where it names what only words explain."""
    right = line.partition(" = ")[2]
    for sign, ours in WRITTEN:
        right = right.replace(sign, ours)
    right = re.sub(r"sqrt(\w+)", r"sqrt(\1)", right)
    try:
        return eval(right, NAMES, numbers)  # noqa: S307 - a line of our own docstrings
    except NameError:
        return None


@pytest.mark.parametrize(("path", "number", "example"), EXAMPLES, ids=IDS)
def test_displayed_line_comes_to_the_result_under_it(path, number, example):
    """No example is shown with a sum that says something else than its result; what is counted is the next whole one."""
    signature = signature_data()[example["formula"]]
    inputs = {name: in_si(value) for name, value in example["inputs"].items()}
    outputs = call(function_of(example["formula"]), signature, inputs)
    parts = [part for part in (*signature["inputs"], *signature["gives"]) if part["kind"] == "number"]
    numbers = {part["symbol"]: value for part in parts if (value := {**inputs, **outputs}.get(part["name"])) is not None}
    shown = filled_lines(signature, {symbol: symbol for symbol in numbers}, outputs.get("ruled_by"))
    for part in signature["gives"]:
        for line in shown:
            if part["kind"] == "number" and line.startswith(f"{part['symbol']} = "):
                worked = worked_by_line(line, numbers)
                if worked is not None:
                    counted = math.ceil(worked - 1e-9) if part["figures"] == 0 else worked
                    assert outputs[part["name"]] == pytest.approx(counted, rel=1e-6, abs=1e-9), line
