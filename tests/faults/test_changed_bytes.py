"""A record with one byte changed, or cut short: never accepted with another meaning."""

import json
import random

import pytest

from builder.record.chain import Entry
from builder.record.merge import Held, merge
from builder.record.record_file import Refused, parse_record
from tests.record.phone import JOB, Phone, record_text


@pytest.fixture(scope="module")
def record() -> tuple[bytes, dict[str, Entry]]:
    """A small record of two phones, with letters of more than one byte."""
    one, other = Phone("Ana's phone"), Phone("Øyvind 李")
    for number in range(4):
        one.tell("reading", sheet="S", step="length", value=f"4{number},5", unit="m")
        other.hear(one)
        other.tell("snag", sheet="S", value="Kante – \"scharf\" \\ 🧤")
    entries = [*one.entries, *other.entries]
    return record_text(entries, one).encode(), {entry.id: entry for entry in entries}


def outcome(data: bytes, entries: dict[str, Entry]) -> str:
    """What became of a record: refused, or which of its entries were accepted. Fails when one was never written."""
    try:
        file = parse_record(data, JOB)
    except Refused:
        return "refused"
    merged = merge(Held(), file.entries, JOB)
    for entry in (*merged.held.entries, *merged.held.waiting):
        assert entries[entry.id].payload == entry.payload
    fine = all(one.verdict == "new" for one in merged.verdicts)
    if not file.whole or not fine or len(merged.held.entries) < len(entries):
        return "named"
    return "same"


def test_a_changed_byte_is_named_or_changes_nothing(record: tuple, full: bool) -> None:
    """At every byte (or some hundred), every kind of change: refused, named, or the same entries as before."""
    data, entries = record
    seed = random.randrange(2**32)
    print(f"seed {seed}")
    chance = random.Random(seed)
    places = range(len(data)) if full else chance.sample(range(len(data)), 400)
    found = {"refused": 0, "named": 0, "same": 0}
    for place in places:
        changed = bytearray(data)
        changed[place] ^= 1 << chance.randrange(8)
        result = outcome(bytes(changed), entries)
        found[result] += 1
        if result == "same":
            # What is not signed may differ: when it was exported, by whom, how far it says it goes.
            assert b'"entries"' not in data[:place] or b'"asked"' in data[:place], place
    print(found)
    assert found["named"] > found["same"]


def test_a_record_cut_short_keeps_its_good_beginning(record: tuple, full: bool) -> None:
    """At every length (or some hundred): whole entries before the cut are kept, and the cut is told."""
    data, entries = record
    seed = random.randrange(2**32)
    print(f"seed {seed}")
    lengths = range(len(data)) if full else random.Random(seed).sample(range(len(data)), 320)
    ends = [data.index(json.dumps(entry.sig).encode()) + 88 for entry in entries.values()]
    for length in lengths:
        try:
            file = parse_record(data[:length], JOB)
        except Refused:
            assert length < len('{"format":"pitslate/record/1"')
            continue
        assert not file.whole
        assert "cut or damaged" in file.reason or "damaged at byte" in file.reason
        assert sum(end + 1 <= length for end in ends) == len(file.entries)
        assert set(entries.values()) >= set(file.entries)
