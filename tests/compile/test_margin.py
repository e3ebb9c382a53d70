"""The room to a limit in per cent, in both languages."""

from collections.abc import Callable

import pytest

from builder.compile.margin import margin_share
from tests.compile.vectors import read_vectors

CASES = read_vectors("margins")["cases"]


@pytest.mark.parametrize(("op", "ratio", "said"), CASES)
def test_margin_is_rounded_to_the_safe_side(op: str, ratio: float | None, said: str | None) -> None:
    """Never more in hand, never less over or short, than there is."""
    assert said == margin_share(op, ratio)


def test_margins_are_said_alike_in_the_browser(phone: Callable) -> None:
    """The phone says the same words."""
    told = phone("""async (cases) => {
      const { marginShare } = await import("/app/margin.mjs");
      return cases.map(([op, ratio]) => marginShare(op, ratio));
    }""", CASES)
    assert [said for _, _, said in CASES] == told
