"""Merging is a union: in whatever order, grouping and number records come, one thing is held."""

import functools
import random

import pytest

from builder.record.chain import Entry
from builder.record.merge import Held, merge
from tests.record.phone import JOB, Phone


@functools.cache
def pool() -> list[Entry]:
    """Entries of three phones that heard of each other, one of them forked, and some that are damaged."""
    phones = [Phone(f"Phone {number}") for number in range(3)]
    chance = random.Random(1)
    for number in range(24):
        phone = chance.choice(phones)
        phone.hear(*chance.sample(phones, 2))
        phone.tell("snag", sheet="S", value=f"Snag {number}")
    twin = Phone("Phone 0")
    twin.entries = phones[0].entries[:3]
    twin.tell("snag", sheet="S", value="Another way")
    entries = [entry for phone in [*phones, twin] for entry in phone.entries]
    damaged = [entry._replace(sig=entries[0].sig) for entry in entries[3:6]]
    damaged += [entry._replace(payload=entry.payload.replace("Snag", "Smag")) for entry in entries[6:9]]
    return entries + damaged


def _some(chance: random.Random) -> list[Entry]:
    return chance.sample(pool(), chance.randrange(len(pool()) // 2))


def _all(*records: list[Entry]) -> Held:
    return functools.reduce(lambda held, record: merge(held, record, JOB).held, records, Held())


@pytest.fixture
def chance(full: bool) -> tuple[random.Random, int]:
    """A source of chance whose seed is printed, and how many rounds to take."""
    seed = random.randrange(2**32)
    print(f"seed {seed}")
    return random.Random(seed), 5000 if full else 200


def test_merging_commutes(chance: tuple[random.Random, int]) -> None:
    """One record after the other gives what the other after the one gives."""
    source, rounds = chance
    for _ in range(rounds // 4):
        one, other = _some(source), _some(source)
        assert _all(one, other) == _all(other, one)


def test_merging_associates(chance: tuple[random.Random, int]) -> None:
    """Two records brought together first, or one by one, give the same; and so does one file of both."""
    source, rounds = chance
    for _ in range(rounds // 4):
        one, other, third = _some(source), _some(source), _some(source)
        together = _all(other, third)
        regrouped = [*together.entries, *together.waiting, *(kept.entry for kept in together.aside)]
        assert _all(one, other, third) == _all(one, regrouped) == _all(one + other + third)


def test_merging_may_be_repeated(chance: tuple[random.Random, int]) -> None:
    """The same record again changes nothing."""
    source, rounds = chance
    for _ in range(rounds // 4):
        one, other = _some(source), _some(source)
        assert _all(one, other) == _all(one, other, one, other)


def test_nothing_changes_nothing(chance: tuple[random.Random, int]) -> None:
    """An empty record leaves what is held as it was."""
    source, rounds = chance
    for _ in range(rounds // 4):
        one = _some(source)
        assert _all(one) == _all([], one, [])
