"""What is shown is never on the unsafe side of what was worked out: every output of every worked example."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.compile.catalogue import function_of, signature_data
from builder.formulas.number_text import number_text
from builder.quantity import from_si, units
from tests.published.test_worked_examples import EXAMPLES, IDS, in_si


def shown(value: float, part: dict) -> tuple[float, float]:
    """A number in its unit, exactly and as the page writes it."""
    exact = from_si(value, units()[part["unit"]])
    return exact, float(number_text(exact, part["figures"], part["side"]).replace("−", "-"))


def assert_safe(exact: float, written: float, side: str, figures: int) -> None:
    """Up is never below, down never above; a billionth of what is shown, of one for a whole number, is noise."""
    noise = 2e-9 * (abs(exact) if figures else max(1, abs(exact))) + 1e-12
    if side == "up":
        assert written >= exact - noise
    if side == "down":
        assert written <= exact + noise


def outputs_of(example: dict):
    """Each number that an example's formula gives, with the part that says how it is shown."""
    signature = signature_data()[example["formula"]]
    result = function_of(example["formula"])(*(in_si(example["inputs"][part["name"]]) for part in signature["inputs"]))
    for part in signature["gives"]:
        value = result[part["name"]] if isinstance(result, dict) else result
        if part["kind"] == "number":
            yield part, value
        elif part["kind"] == "rows":
            yield from ((column, row[column["name"]]) for row in value for column in part["columns"] if column["kind"] == "number")


@pytest.mark.parametrize("example", [example for _, _, example in EXAMPLES], ids=IDS)
def test_shown_number_is_on_its_safe_side(example):
    """A minimum is shown no lower and a maximum no higher than it is, and neither is off by more than its last figure."""
    for part, value in outputs_of(example):
        exact, written = shown(value, part)
        assert_safe(exact, written, part["side"], part["figures"])
        if part["figures"] and exact:
            assert written == pytest.approx(exact, rel=1.01 * 10 ** (1 - part["figures"]))


@given(st.floats(-1e9, 1e9), st.integers(0, 5), st.sampled_from(["up", "down"]))
def test_rounding_never_crosses_to_the_unsafe_side(number, figures, side):
    """Whatever the number and its figures, up is not below it and down is not above it."""
    assert_safe(number, float(number_text(number, figures, side).replace("−", "-")), side, figures)
