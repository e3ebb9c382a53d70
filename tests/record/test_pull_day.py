"""A pull while it runs, from entries: the same cases at the desk and on the phone."""

from collections.abc import Callable
from typing import Any

import pytest

from builder.record.merge import order
from tests.record.conftest import vectors
from tests.record.test_progress import USUAL, at_the_desk

VECTORS = vectors("pull.json")
DEVICE = {"id": "a0", "kind": "device", "sheet": None, "step": None, "value": "A", "unit": None}


def case_of(vector: dict[str, Any]) -> dict[str, Any]:
    """A vector written out as a whole case of progress."""
    said: list[dict] = []
    for entry in [DEVICE, *VECTORS.get(vector.get("with"), []), *vector["entries"]]:
        entry = {"dev": "a", "kind": "measured", "sheet": "P", "unit": "kN", "value": "", **entry}
        before = [one for one in said if one["dev"] == entry["dev"]]
        said.append(USUAL | {"seq": len(before), "prev": before[-1]["id"] if before else None} | entry)
    return {"job": VECTORS["job"], "entries": sorted(said, key=order), "answers": {}, "unbelieved": []}


@pytest.mark.parametrize("vector", VECTORS["cases"], ids=lambda vector: vector["title"])
def test_desk_says_what_stands_of_a_pull(vector: dict[str, Any]) -> None:
    """Values, the station known before each, stops not lifted, and what they hold up."""
    state = at_the_desk(case_of(vector))["P"]
    measured = {step: {key: state["pulled"][step][key] for key in wanted} for step, wanted in vector["measured"].items()}
    assert (vector["measured"], list(vector["measured"])) == (measured, list(state["pulled"]))
    assert vector["stops"] == [stop["id"] for stop in state["stops"]]
    if "uncounted" in vector:
        assert vector["uncounted"] == [entry["id"] for entry in state["uncounted"]]
    if "go" in vector:
        assert (vector["go"], vector["in"]) == (state["holds"]["go"]["in_force"], state["holds"]["in"]["in_force"])
        assert vector["left"] == [block["say"] for block in state["left"] if block["kind"] == "stop"]


@pytest.mark.parametrize("vector", VECTORS["cases"], ids=lambda vector: vector["title"])
def test_phone_says_the_same_of_a_pull(vector: dict[str, Any], in_page: Callable) -> None:
    """Everything the desk says of the sheet, the phone says too, whole."""
    case = case_of(vector)
    assert at_the_desk(case) == in_page("stands", case)
