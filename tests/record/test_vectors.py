"""What phone and desk must say alike of the same entries: ids, signatures, verdicts, reasons, states."""

from collections.abc import Callable
from typing import Any

import pytest

from builder.record.chain import Entry, entry_id, open_entry, public_key, signature_holds
from builder.record.merge import Held, merge
from builder.record.payload import NotAccepted, payload_text
from tests.record import make_vectors
from tests.record.conftest import vectors

CHAIN = vectors("chain.json")
MERGE = vectors("merge.json")


def test_vectors_are_what_their_maker_writes() -> None:
    """The committed vectors are those that the hand-written cases give."""
    assert make_vectors.chain_vectors() == CHAIN
    assert {"job": MERGE["job"], "cases": make_vectors.merge_cases()} == MERGE


@pytest.mark.parametrize("vector", CHAIN["entries"], ids=lambda vector: vector["title"])
def test_desk_reads_an_entry(vector: dict[str, Any]) -> None:
    """Id, verdict, reason and signature of one entry, at the desk."""
    entry = Entry(vector["payload"], vector["id"], vector["sig"])
    assert vector["id"] == entry_id(entry.payload.encode())
    if vector["verdict"]:
        with pytest.raises(NotAccepted) as fault:
            open_entry(entry, CHAIN["job"])
        assert (vector["verdict"], vector["reason"]) == (fault.value.verdict, fault.value.reason)
    else:
        assert vector["payload"] == payload_text(open_entry(entry, CHAIN["job"]))
        assert vector["signed"] == signature_holds(public_key(vector["key"]), entry)


def test_phone_reads_entries_alike(in_page: Callable) -> None:
    """Id, verdict, reason and signature of every entry, on the phone."""
    expected = [
        {"id": vector["id"], "verdict": vector["verdict"], "reason": vector["reason"], "signed": vector.get("signed"),
         "written": None if vector["verdict"] else vector["payload"]}
        for vector in CHAIN["entries"]
    ]
    assert expected == in_page("chain", CHAIN)


@pytest.mark.parametrize("case", MERGE["cases"], ids=lambda case: case["title"])
def test_desk_merges(case: dict[str, Any]) -> None:
    """Verdicts of the last round, and what is held after it, at the desk."""
    held, verdicts = Held(), []
    for incoming in case["rounds"]:
        merged = merge(held, [Entry(**entry) for entry in incoming], MERGE["job"])
        held, verdicts = merged.held, merged.verdicts
    assert case["gives"] == [[one.verdict, one.reason] for one in verdicts]
    assert (case["holds"], case["waits"], case["aside"]) == (len(held.entries), len(held.waiting), len(held.aside))


def test_phone_merges_alike(in_page: Callable) -> None:
    """Verdicts and what is held, entry for entry, on the phone."""
    for case in MERGE["cases"]:
        held = Held()
        for incoming in case["rounds"]:
            held = merge(held, [Entry(**entry) for entry in incoming], MERGE["job"]).held
        expected = {
            "verdicts": case["gives"],
            "held": {
                "entries": [entry._asdict() for entry in held.entries],
                "waiting": [entry._asdict() for entry in held.waiting],
                "aside": [{"entry": kept.entry._asdict(), "verdict": kept.verdict, "reason": kept.reason} for kept in held.aside],
            },
        }
        came_out = in_page("merged", {"rounds": case["rounds"], "job": MERGE["job"]})
        assert (case["title"], expected) == (case["title"], {**came_out, "held": _by_id(came_out["held"], expected["held"])})


def _by_id(held: dict[str, list], like: dict[str, list]) -> dict[str, list]:
    """What waits and what is kept aside has no order of its own that matters."""
    return {name: sorted(entries, key=like[name].index) if name != "entries" else entries for name, entries in held.items()}
