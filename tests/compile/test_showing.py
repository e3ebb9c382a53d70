"""Values as a person reads them."""

import pytest

from builder.compile.showing import amount, filled_lines, one_of, output_amount, range_text, word_text, words

SIGNATURE = {"lines": ["t = R · C", "q = t ** 2 / (k^2)", "s = x · T", "no equals sign T"], "symbols": ["C", "R", "T", "k", "t", "x"]}


def test_names_become_words() -> None:
    """Hyphens and underlines go, and only the first letter is raised."""
    assert ("Length in hand", "Uoc at STC") == (words("length-in-hand"), words("uoc_at_STC"))
    assert ("bend level", "yes", "no") == (word_text("bend_level"), word_text(True), word_text(False))
    assert ("single", "single, cradled or bend level") == (one_of(["single"]), one_of(["single", "cradled", "bend_level"]))


@pytest.mark.parametrize(("si", "symbol", "text"), [
    (46.0, "m", "46 m"), (0.00047, "uF", "470 µF"), (10000.0, "kohm", "10 kΩ"), (0.05, "%", "5 %"), (12.0, "1", "12"),
    (293.15, "degC", "20 °C"), (1.5707963267948966, "deg", "90°"), (-0.25, "kN", "−0.00025 kN"), (1 / 3, "m", "0.333333 m"),
    (0.0000025, "mm2", "2.5 mm²"), (30.0, "N.m", "30 N·m"),
])
def test_amount_is_shown_in_its_unit(si: float, symbol: str, text: str) -> None:
    """The unit is written as on a drawing, and noise of conversion is not seen."""
    assert text == amount(si, symbol)


def test_output_is_shown_with_its_figures_to_its_side() -> None:
    """What a formula declares decides the figures and the side."""
    part = {"unit": "mm", "figures": 3, "side": "up"}
    assert ("0.100 mm", "12.4 mm", "1240 mm") == (output_amount(0.0001, part), output_amount(0.01231, part), output_amount(1.231, part))
    assert "7" == output_amount(6.2, {"unit": "1", "figures": 0, "side": "up"})
    assert "0 to 1000000 m" == range_text({"low": 0.0, "high": 1e6, "unit": "m"})


def test_lines_carry_numbers_right_of_the_equals_sign() -> None:
    """Powers and negative numbers stand in brackets; a line with a symbol that has no number is left out."""
    texts = {"R": "10 kΩ", "C": "−470 µF", "t": "4.7 s", "k": "3", "T": "5 N"}
    assert ["t = 10 kΩ · (−470 µF)", "q = (4.7 s) ** 2 / (3^2)"] == filled_lines(SIGNATURE, texts)
