"""Laws of the lock boards over crews made up at random: doubt never takes a lock off."""

import functools
import itertools
from typing import Any

import pytest
from hypothesis import assume, given, note, settings
from hypothesis import strategies as some

from builder.record.answers import Answers
from builder.record.boards import SITE, Boards, Lock
from builder.record.chain import Entry
from builder.record.merge import Held, merge, order
from tests.record.phone import Phone

CREW = ("Ana Lind", "Ben Tarn", "Cora Vey", "Dov Hale")
SUPERVISOR = "Cora Vey"
JOB = {
    "job": {"people": [{"name": "Ben Tarn", "role": "crew"}, {"name": SUPERVISOR, "role": "supervisor"}]},
    "points": {"P": {"box": None}, "Q": {"box": None}}, "sheets": [], "tasks": {},
}
Fields = dict[str, Any]


class Crew:
    """Phones that put locks on and take them off as chance has it, hear of each other or not, and lose entries."""

    def __init__(self) -> None:
        self.entries: list[Fields] = []
        for dev in range(3):
            self._add(dev, "device", "", None, ())

    def _add(self, dev: int, kind: str, who: str, sheet: str | None, about: tuple, twin: bool = False) -> None:
        own = [entry for entry in self.entries if entry["dev"] == f"d{dev}"]
        before = own[:-1] if twin and len(own) > 1 else own
        self.entries.append({
            "id": f"e{len(self.entries):03}", "dev": f"d{dev}", "seq": len(before), "prev": before[-1]["id"] if before else None,
            "seen": self._heard(dev) if len(self.entries) % 2 else {}, "who": who, "kind": kind, "sheet": sheet, "step": None,
            "value": str(len(self.entries) % 3), "unit": None, "about": list(about), "at": "2026-03-04T10:00:00+10:00", "build": "b",
        })

    def _heard(self, dev: int) -> dict[str, int]:
        return {entry["dev"]: entry["seq"] for entry in self.entries if entry["dev"] != f"d{dev}"}

    def act(self, dev: int, kind: str, who: str, point: str, which: int, twin: bool) -> None:
        """One thing done; about the lock, or for a withdraw the entry, that `which` points at."""
        if kind in ("arrived", "left"):
            return self._add(dev, kind, who, SITE, (), twin)
        if kind in ("lock-on", "note"):
            return self._add(dev, kind, who, f"locks/{point}", (), twin)
        wanted = "lock-on" if kind != "withdraw" else None
        targets = [one for one in self.entries if one["kind"] == wanted or (wanted is None and one["kind"] not in ("device", "note"))]
        if not targets:
            return None
        target = targets[-1 - which // 2 % min(2, len(targets))]
        looked = [one["id"] for one in self.entries if one["kind"] == "absent" and one["about"] == [target["id"]]]
        about = (target["id"], *(looked[-1:] if kind == "lock-off" and which % 2 else ()))
        return self._add(dev, kind, who, target["sheet"], about, twin)


ACTS = some.tuples(
    some.integers(0, 2), some.sampled_from(["lock-on", "lock-off", "lock-off", "absent", "absent", "withdraw", "note", "arrived", "left"]),
    some.sampled_from(CREW), some.sampled_from("PPPQ"), some.integers(0, 3), some.sampled_from([False] * 9 + [True]),
)


@some.composite
def crews(draw: Any) -> list[Fields]:
    """What a made-up crew has written."""
    crew = Crew()
    for act in draw(some.lists(ACTS, min_size=4, max_size=12)):
        crew.act(*act)
    return crew.entries


def boards(entries: list[Fields]) -> Boards:
    return Boards(Answers(JOB, sorted(entries, key=order)))


def locks(entries: list[Fields]) -> dict[str, Lock]:
    """Every lock, by the entry that put it on."""
    return {lock.entry["id"]: lock for point in boards(entries).points() for lock in point.locks}


@settings(max_examples=150, deadline=None)
@given(crews(), some.data())
def test_nothing_that_is_missing_takes_a_lock_off(entries: list[Fields], data: Any) -> None:
    """Without any one entry, a lock that was on is on still, unless that one put it on, put it back, or split a record."""
    before = locks(entries)
    out = data.draw(some.sampled_from(entries))
    forked = {(one["dev"], one["seq"]) for one in entries if sum((one["dev"], one["seq"]) == (two["dev"], two["seq"]) for two in entries) > 1}
    assume(out["kind"] != "withdraw" and out["dev"] not in {dev for dev, _ in forked})
    note(f"without {out}")
    after = locks([one for one in entries if one is not out])
    assert [] == [one for one, lock in before.items() if lock.state == "on" and one in after and after[one].state != "on"]


@pytest.mark.parametrize(("owner", "looked", "taker"), list(itertools.product(CREW, CREW, CREW)))
def test_a_lock_comes_off_by_its_owner_or_by_two_others_and_a_supervisor(owner: str, looked: str, taker: str) -> None:
    """Every way in which four people can be owner, who looked for the owner, and who takes the lock off."""
    crew = Crew()
    crew.act(0, "lock-on", owner, "P", 0, twin=False)
    crew.act(1, "absent", looked, "P", 0, twin=False)
    crew.act(2, "lock-off", taker, "P", 1, twin=False)
    [lock] = locks(crew.entries).values()
    may = taker == owner or (len({owner, looked, taker}) == 3 and SUPERVISOR in (looked, taker))
    assert ("off" if may else "on") == lock.state


@settings(max_examples=150, deadline=None)
@given(crews(), ACTS)
def test_nobody_but_the_owner_and_supervisors_takes_a_lock_off(entries: list[Fields], act: tuple) -> None:
    """One thing more, said by anybody else, leaves every lock on that was on."""
    before = locks(entries)
    crew = Crew()
    crew.entries = list(entries)
    crew.act(*act)
    after = locks(crew.entries)
    gone = [before[one] for one, lock in after.items() if one in before and before[one].state == "on" and lock.state != "on"]
    said_by = crew.entries[-1]["who"]
    assert [] == [lock for lock in gone if said_by not in (lock.entry["who"], SUPERVISOR) and not any(one.why is None for one in lock.looked)]


@settings(max_examples=150, deadline=None)
@given(crews())
def test_what_is_relied_on_has_nothing_said_against_it(entries: list[Fields]) -> None:
    """A lock is sure only while it is on; a word against it that stands, counting or not, takes that away."""
    for lock in locks(entries).values():
        assert not lock.sure or (lock.state == "on" and lock.against == [])


@settings(max_examples=150, deadline=None)
@given(crews(), some.data())
def test_a_lock_that_stood_all_the_time_was_never_the_only_one_to_go(entries: list[Fields], data: Any) -> None:
    """Where a point is said to have been locked since an entry, a lock is on now and one was on then."""
    found = boards(entries)
    head = data.draw(some.sampled_from(entries))
    for point in found.points():
        if found.stood_since(point.name, [head]):
            assert any(lock.sure for lock in point.locks)
            assert any(found.told.past(lock.entry, head) for lock in point.locks)


@functools.cache
def crew_records() -> list[Entry]:
    """Entries of three phones that worked on one board, signed."""
    one, two, three = phones = [Phone(f"Phone {number}") for number in range(3)]
    on = [phone.tell("lock-on", who=who, sheet="locks/P", value=str(number)) for number, (phone, who) in enumerate(zip(phones, CREW, strict=False))]
    two.hear(one, three)
    absent = two.tell("absent", who="Ben Tarn", sheet="locks/P", value="called", about=[on[0].id])
    three.hear(two)
    three.tell("lock-off", who=SUPERVISOR, sheet="locks/P", about=[on[0].id, absent.id])
    one.tell("lock-off", who="Ben Tarn", sheet="locks/P", about=[on[1].id])
    back = two.tell("lock-off", who=SUPERVISOR, sheet="locks/P", about=[on[2].id])
    one.hear(two)
    one.tell("withdraw", who="Dov Hale", sheet="locks/P", value="it hangs", about=[back.id])
    return [entry for phone in phones for entry in phone.entries]


@settings(max_examples=30, deadline=None)
@given(some.permutations(crew_records()), some.integers(1, 4))
def test_in_whatever_order_records_come_one_board_is_read(entries: list[Entry], parts: int) -> None:
    """The board is read off the union: the order and the grouping of what comes in make no difference."""
    held = Held()
    for part in range(parts):
        merged = merge(held, entries[part::parts], "yard")
        held = merged.held
    found = {lock.entry["value"]: (lock.state, lock.sure) for lock in boards(merged.said).point("P").locks}
    assert {"0": ("off", False), "1": ("off", False), "2": ("on", False)} == found
