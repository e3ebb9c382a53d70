"""Where values come from: the table, the overlay that changed it, and what nobody may decide by."""

import pytest

from builder.compile import origin

TABLE = {"title": "Friction"}
SOURCES = {"book": {"title": "The book", "grade": 1}, "forum": {"title": "A forum", "grade": 3}}
DERIVED = {"source": [{"basis": "derived", "where": "sum"}]}
PULL = {"title": "Pull", "formula": "route_tension"}
BORE = origin.from_job("Run A: bore", "run", "bore")


def of(**entry) -> dict:
    return origin.from_table(TABLE, entry, "wet", "wet", SOURCES)


def test_published_figure_names_its_source_and_place() -> None:
    """A figure of a firm source raises no doubt."""
    assert {"from": "table", "where": "Friction, table 2", "source": "book", "basis": "published", "stands": "table",
            "unconfirmed": []} == of(
        basis="published", source="book", where="table 2")


def test_figure_from_memory_or_a_weak_source_is_doubted() -> None:
    """Grade comes from the row, or else from its source."""
    assert ["Friction, wet: this figure is from memory. Ask for the maker's or the local figure."] == of(basis="memory")["unconfirmed"]
    weak = ["Friction, wet: this figure has a weak source. Ask for the maker's or the local figure."]
    assert weak == of(basis="published", source="forum")["unconfirmed"]
    assert weak == of(basis="published", source="book", grade=3)["unconfirmed"]
    assert [] == of(basis="published", source="forum", grade=2)["unconfirmed"]
    assert [] == of(basis="practice")["unconfirmed"]


def test_overlay_takes_the_place_of_the_source_it_changed() -> None:
    """A firm's own figure is agreed by a named person, in that column only."""
    changed = {"wet": {"by": "our-firm", "because": "measured", "agreed_by": "K. Lund"}}
    assert {"from": "overlay", "where": "K. Lund: measured", "source": None, "basis": "agreed", "stands": "table",
            "unconfirmed": []} == of(
        basis="memory", changed=changed)
    assert "memory" == origin.from_table(TABLE, {"basis": "memory", "changed": changed}, "dry", "dry", SOURCES)["basis"]


def test_several_origins_are_as_weak_as_the_weakest() -> None:
    """A value that rests on several names all places, the first source, and every doubt once."""
    found = origin.together([origin.from_job("Run A: bore", "run", "bore"), of(basis="memory"), of(basis="memory"), of(basis="published", source="book")])
    assert ("job", "Run A: bore; Friction", "book", "memory", 1) == (
        found["from"], found["where"], found["source"], found["basis"], len(found["unconfirmed"]))


def test_working_rests_on_its_formula_and_every_input() -> None:
    """Doubts of inputs are handed on; a formula without a firm source is a doubt of its own."""
    assert ("memory", 1) == _weight(origin.of_working(PULL, DERIVED, [of(basis="memory")], None, SOURCES))
    assert ("derived", 0) == _weight(origin.of_working(PULL, DERIVED, [BORE], None, SOURCES))
    for basis, key in (("memory", None), ("published", "forum")):
        signature = {"source": [{"basis": basis, "key": key, "where": ""}]}
        assert ["Pull: the formula has no firm source. Ask for the maker's or the local figure."] == origin.of_working(
            PULL, signature, [], None, SOURCES)["unconfirmed"]


@pytest.mark.parametrize(("formula", "inputs", "ruled_by", "stands"), [
    ("route_length", [BORE, origin.from_reading("Length")], None, "job"),
    ("pulled_mass", [BORE, origin.from_job("Cable Cu 95: mass", "cables", "mass")], None, "maker"),
    ("rated", [origin.from_job("Supply: label current", "supply", "label_current")], None, "maker"),
    ("conduit_fill", [origin.from_job("Cable Cu 95: mass", "cables", "mass"), of(basis="practice")], None, "table"),
    ("conduit_fill", [of(basis="practice"), of(basis="memory")], None, "estimate"),
    ("conduit_fill", [of(basis="published", source="forum")], None, "estimate"),
    ("cable_estimate", [BORE], None, "estimate"),
    ("bolt_torque", [of(basis="memory"), origin.from_job("Joint: maker torque", "joint", "maker_torque")], "maker", "maker"),
    ("bolt_torque", [of(basis="published", source="book")], "table", "table"),
    ("discharge_waiting_time", [BORE], "label", "maker"),
])
def test_working_stands_on_its_weakest_deciding_input(formula: str, inputs: list, ruled_by: str | None, stands: str) -> None:
    """A guess makes an estimate, a table a table's number; what the maker's figure rules is the maker's whatever else was asked."""
    asked = {"title": "Pull", "formula": formula}
    assert stands == origin.of_working(asked, DERIVED, inputs, ruled_by, SOURCES)["stands"]


def test_working_that_feeds_another_hands_its_word_on() -> None:
    """What rests on an estimate is an estimate."""
    estimate = origin.of_working({"title": "Cable", "formula": "cable_estimate"}, DERIVED, [BORE], None, SOURCES)
    assert "estimate" == origin.of_working(PULL, DERIVED, [estimate, of(basis="practice")], None, SOURCES)["stands"]


def _weight(found: dict) -> tuple[str, int]:
    return found["basis"], len(found["unconfirmed"])


def test_formula_source_is_told_in_one_line() -> None:
    """Publications by title, and what is derived, practised or remembered in plain words."""
    signature = {"source": [{"basis": "published", "key": "book", "where": "p 3"}, {"basis": "practice", "where": ""},
                            {"basis": "memory", "where": "the factor"}, {"basis": "derived", "where": "a sum"}]}
    assert "The book: p 3; trade practice; from memory: the factor; derived: a sum" == origin.formula_source(signature, SOURCES)
