"""
Bring records together: a union of entries, whatever the order they come in.

What an entry is worth is worked out from the whole set each time, never from the order of arrival, so that
merging commutes, associates and may be repeated. `assets/app/merge.mjs` says the same, word for word.
"""

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import groupby
from typing import NamedTuple

from builder.record.chain import Entry
from builder.record.payload import Fields
from builder.record.verify import Examined, examine, keys_of
from builder.words import say


class Aside(NamedTuple):
    """An entry that is kept, but never counted."""

    entry: Entry
    verdict: str
    reason: str


class Verdict(NamedTuple):
    """What became of one entry that came in: new, known, early, forked, broken or foreign, and a sentence."""

    id: str
    verdict: str
    reason: str


@dataclass(frozen=True)
class Held:
    """
    What a place holds of a job.

    entries  signature good; sorted by device, number, id
    waiting  nothing wrong, but entry 0 with the key has not come yet
    aside    kept, never counted
    """

    entries: Sequence[Entry] = ()
    waiting: Sequence[Entry] = ()
    aside: Sequence[Aside] = ()


@dataclass(frozen=True)
class Standing:
    """Which entries have a gap before them or stand against others, and where a device went two ways."""

    early: dict[str, str] = field(default_factory=dict)
    forked: dict[str, str] = field(default_factory=dict)
    forks: dict[str, int] = field(default_factory=dict)


@dataclass(frozen=True)
class Merged:
    """What is held afterwards, its entries opened, and a verdict for each entry that came in."""

    held: Held
    said: list[Fields]
    verdicts: list[Verdict]


def merge(held: Held, incoming: Sequence[Entry], job: str, examined: Sequence[Examined] | None = None) -> Merged:
    """
    Add entries to what is held.

    examined   `incoming` as `examine` judged it, where that was done elsewhere
    """
    entries = {entry.id: entry for entry in held.entries}
    said = {entry.id: said_of(entry) for entry in held.entries}
    known = set(said)
    keys = keys_of(said.values())
    if examined is None:
        judged = iter(examine([entry for entry in incoming if entries.get(entry.id) != entry], job, keys))
        examined = [
            Examined(entry, said[entry.id], None, "") if entries.get(entry.id) == entry else next(judged)
            for entry in incoming
        ]
    keys |= keys_of(one.fields for one in examined if one.verdict is None)
    # Entries that waited for this key, here or on the way.
    again = [*held.waiting, *(one.entry for one in examined if one.verdict == "early")]
    late = {one.entry: one for one in examine(again, job, keys)}
    examined = [late.get(one.entry, one) for one in examined]

    aside = {kept.entry: kept for kept in held.aside}
    for one in [*late.values(), *examined]:
        if one.verdict in ("broken", "foreign"):
            aside[one.entry] = Aside(one.entry, one.verdict, one.reason)
        elif one.verdict is None:
            before = entries.get(one.entry.id)
            # A second good signature of the same text adds nothing; keeping the smaller makes the order not matter.
            if before is None or one.entry.sig < before.sig:
                entries[one.entry.id] = one.entry
            said[one.entry.id] = one.fields
    in_order = sorted(said.values(), key=order)
    stands = standing(in_order)
    return Merged(
        Held(
            [entries[fields["id"]] for fields in in_order],
            sorted(entry for entry, one in late.items() if one.verdict == "early"),
            sorted(aside.values()),
        ),
        in_order,
        list(_verdicts(examined, known, stands)),
    )


def standing(said: Iterable[Fields]) -> Standing:
    """Gaps and forks among entries, which come sorted."""
    stands = Standing()
    reached: set[str] = set()
    gaps: dict[str, str] = {}
    before: list[Fields] = []
    device, last = "", -1

    def fork(fields: Fields, seq: int, reason: str) -> None:
        stands.forked.setdefault(fields["id"], reason)
        stands.forks[fields["dev"]] = min(seq, stands.forks.get(fields["dev"], seq))

    for (dev, seq), group in groupby(said, key=lambda fields: (fields["dev"], fields["seq"])):
        same = list(group)
        if dev != device:
            device, before, last = dev, [], -1
        neighbours = before if seq == last + 1 else []
        for fields in same:
            parent = next((one for one in neighbours if one["id"] == fields["prev"]), None)
            if len(same) > 1:
                fork(fields, seq, say("record_why.twice", seq=seq))
            if seq == 0 or (parent and parent["id"] in reached):
                reached.add(fields["id"])
            elif not parent and neighbours:
                fork(fields, seq - 1, say("record_why.not_before", seq=seq - 1))
                gaps[fields["id"]] = say("record_why.another", seq=seq - 1)
            else:
                gaps[fields["id"]] = (parent and gaps.get(parent["id"])) or _missing(last + 1, seq - 1)
            if fields["id"] in gaps:
                stands.early[fields["id"]] = gaps[fields["id"]]
        before, last = same, seq
    return stands


def order(fields: Fields) -> tuple[str, int, str]:
    """The one order of entries: device, number, id."""
    return fields["dev"], fields["seq"], fields["id"]


def said_of(entry: Entry) -> Fields:
    """An entry that is already known to be good, opened."""
    return json.loads(entry.payload) | {"id": entry.id}


def _verdicts(examined: Iterable[Examined], known: set[str], stands: Standing) -> Iterator[Verdict]:
    for entry, _, verdict, reason in examined:
        if verdict is not None:
            yield Verdict(entry.id, verdict, reason)
        elif entry.id in known:
            yield Verdict(entry.id, "known", "")
        elif entry.id in stands.forked:
            yield Verdict(entry.id, "forked", stands.forked[entry.id])
        elif entry.id in stands.early:
            yield Verdict(entry.id, "early", stands.early[entry.id])
        else:
            yield Verdict(entry.id, "new", "")
        if verdict is None:
            known.add(entry.id)


def _missing(lowest: int, highest: int) -> str:
    if lowest == highest:
        return say("record_why.gap", seq=lowest)
    return say("record_why.gaps", lowest=lowest, highest=highest)
