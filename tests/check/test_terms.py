"""Terms of the trade, as each practice says them."""

import pytest

from builder.check.terms import Term, worded

TERMS = {
    "earth": Term(**{"au-nz": "earth", "iec": "earth", "us": "ground"}),
    "safety switch": Term(**{"au-nz": "safety switch", "iec": "RCD", "us": "GFCI"}),
}


@pytest.mark.parametrize(("practice", "expected"), [
    ("au-nz", "Earth first. Fit an earth and a safety switch."),
    ("iec", "Earth first. Fit an earth and an RCD."),
    ("us", "Ground first. Fit a ground and a GFCI."),
])
def test_a_term_is_said_as_the_practice_says_it(practice: str, expected: str) -> None:
    """A term that begins a sentence is capital, and the article before one follows the word."""
    assert expected == worded("{Earth} first. Fit an {earth} and a {safety switch}.", TERMS, practice, "en")


def test_a_word_is_spelt_as_the_practice_spells_it() -> None:
    """Whole words only, with the capital they had."""
    text = "Colour and colours: the licence, the {earth}, a colourless coat."
    assert "Color and colours: the license, the ground, a colourless coat." == worded(text, TERMS, "us", "en", {"colour": "color", "licence": "license"})


def test_only_english_has_the_article() -> None:
    """A Spanish `a` is a word of its own."""
    assert "De fase a earth." == worded("De fase a {earth}.", TERMS, "iec", "es")
