"""Judge entries one by one: what each is worth by itself, before it meets the others."""

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from builder.record.chain import Entry, open_entry, public_key, signature_holds
from builder.record.payload import Fields, NotAccepted

NO_KEY = "Entry 0 of this phone is missing, so its signature can't be checked yet."
_MISFIT = "Its signature does not fit its text and its phone's key."


class Examined(NamedTuple):
    """An entry looked at: its fields when it can be read, and what is wrong with it (None: nothing)."""

    entry: Entry
    fields: Fields | None
    verdict: str | None
    reason: str


def examine(entries: Sequence[Entry], job: str, keys: Mapping[str, str]) -> list[Examined]:
    """
    Each entry, in the order given: good (verdict None), `early` for want of a key, `broken` or `foreign`.

    keys   device → public key, of devices whose entry 0 is held already
    """
    opened = [_opened(entry, job) for entry in entries]
    known = {dev: public_key(key) for dev, key in keys.items()}
    firsts: dict[Entry, Examined] = {}
    for one in opened:
        if one.verdict is None and one.fields["seq"] == 0 and one.entry not in firsts:
            key = public_key(one.fields["key"])
            firsts[one.entry] = one if signature_holds(key, one.entry) else _broken(one)
            if firsts[one.entry].verdict is None:
                known[one.fields["dev"]] = key
    return [firsts.get(one.entry) or _judged(one, known) for one in opened]


def keys_of(said: Iterable[Fields]) -> dict[str, str]:
    """Device → public key, from the entries 0 among these."""
    return {fields["dev"]: fields["key"] for fields in said if fields["seq"] == 0}


def _opened(entry: Entry, job: str) -> Examined:
    try:
        return Examined(entry, open_entry(entry, job), None, "")
    except NotAccepted as fault:
        return Examined(entry, None, fault.verdict, fault.reason)


def _judged(one: Examined, keys: Mapping) -> Examined:
    if one.verdict is not None:
        return one
    if one.fields["dev"] not in keys:
        return one._replace(verdict="early", reason=NO_KEY)
    return one if signature_holds(keys[one.fields["dev"]], one.entry) else _broken(one)


def _broken(one: Examined) -> Examined:
    return one._replace(verdict="broken", reason=_MISFIT)
