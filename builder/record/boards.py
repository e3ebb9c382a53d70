"""
What the boards say: which locks stand on which point, whose and since when, and who is in the zone.

Doubt is answered to the safe side, and a lock has two. Whoever wants to switch on asks whether it may still be there:
`on`. Whoever works behind it asks whether it surely is: `sure`. What is said against a lock and doesn't count leaves
it on, and sure no longer.

`assets/app/boards.mjs` says the same, word for word.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from math import inf

from builder.record.answers import Answers
from builder.record.payload import Fields
from builder.record.standing import is_supervisor, name_key, same_person
from builder.words import say

SITE = "site"


def board_of(point: str) -> str:
    """Where entries about the locks on a point are said."""
    return f"locks/{point}"


@dataclass(frozen=True)
class Against:
    """Something said against a lock, and why it doesn't count; None where it does."""

    entry: Fields
    why: str | None


@dataclass(frozen=True)
class Lock:
    """
    One lock on one point.

    state     on, off, or never: its owner took back that it went on
    sure      on, with nothing said against it and nothing missing before it
    against   what was said against it and stands, counting or not
    looked    who looked for its owner in vain, as `absent` entries that were not taken back, counting or not
    """

    entry: Fields
    state: str
    sure: bool
    against: list[Against]
    looked: list[Against]


@dataclass(frozen=True)
class Point:
    """
    The locks of one point.

    strays    said to be off, of locks that are not on this board
    unknown   a lock is spoken of that has not come here
    """

    name: str
    locks: list[Lock]
    strays: list[Against]
    unknown: bool

    @property
    def on(self) -> list[Lock]:
        """Locks that may still be there."""
        return [lock for lock in self.locks if lock.state == "on"]


class Boards:
    """
    The boards of a job.

    at   the entry as of which they are looked at: what its phone had not heard of then is left out
    """

    def __init__(self, told: Answers, at: Fields | None = None):
        self.told, self.job, self.at = told, told.job, at
        self.point = cache(self._read_point)

    def points(self) -> list[Point]:
        """Every point of the job."""
        return [self.point(name) for name in self.job.get("points", {})]

    def _said(self, board: str) -> list[Fields]:
        said = self.told.by_sheet.get(board, [])
        return [entry for entry in said if self.at is None or entry is self.at or self.told.past(entry, self.at)]

    def _read_point(self, name: str) -> Point:
        said = self._said(board_of(name))
        about: dict[str, list[Fields]] = {}
        for entry in said:
            for one in entry["about"][:1]:
                about.setdefault(one, []).append(entry)
        locks = [self._lock(entry, about) for entry in said if entry["kind"] == "lock-on"]
        here = {lock.entry["id"] for lock in locks}
        loose = [entry for entry in said if entry["kind"] in ("lock-off", "absent") and entry["about"][0] not in here]
        spoken_of = [entry["about"][0] for entry in said if entry["kind"] in ("lock-off", "absent", "withdraw")]
        return Point(
            name, locks,
            [Against(entry, self._stray(entry)) for entry in loose if entry["kind"] == "lock-off"],
            any(one not in self.told.by_id for one in spoken_of),
        )

    def _stray(self, entry: Fields) -> str:
        held = entry["about"][0] in self.told.by_id
        return say("lock_why.stray" if held else "lock_why.unheard")

    def _lock(self, on: Fields, about: dict[str, list[Fields]]) -> Lock:
        said = about.get(on["id"], [])
        against = [one for entry in said if entry["kind"] in ("lock-off", "withdraw") and (one := self._against(on, entry, about))]
        counting = {one.entry["kind"] for one in against if one.why is None}
        state = "never" if "withdraw" in counting else "off" if "lock-off" in counting else "on"
        return Lock(
            on, state, state == "on" and not against and self._unsound(on) is None, against,
            [Against(entry, self._why_not_absent(on["who"], entry)) for entry in said
             if entry["kind"] == "absent" and not _taken_back(entry, about)],
        )

    def _against(self, on: Fields, entry: Fields, about: dict[str, list[Fields]]) -> Against | None:
        """What one entry does against a lock; None where whoever may has taken it back."""
        back = _taken_back(entry, about)
        if not back:
            return Against(entry, self._why_not(on, entry, about))
        # Anybody puts a lock back on the board. That it hangs there only its owner, or who said it was off, can say.
        may = [one for one in back if same_person(one["who"], on["who"]) or same_person(one["who"], entry["who"])]
        if any(self._unsound(one) is None for one in may):
            return None
        return Against(entry, say("lock_why.back", who=back[0]["who"], other=entry["who"]))

    def _why_not(self, on: Fields, entry: Fields, about: dict[str, list[Fields]]) -> str | None:
        """Why what was said against a lock doesn't count."""
        owner = on["who"]
        if unsound := self._unsound(entry):
            return unsound
        if same_person(entry["who"], owner):
            return None
        if entry["kind"] == "withdraw":
            return say("lock_why.only_back", owner=owner)
        if len(entry["about"]) == 1:
            return say("lock_why.only_off", owner=owner)
        looked = next((one for one in about.get(on["id"], []) if one["id"] == entry["about"][1] and one["kind"] == "absent"), None)
        if looked is None or _taken_back(looked, about) or self._unsound(looked):
            return say("lock_why.not_looked", owner=owner)
        if here := self._why_not_absent(owner, looked) or self._why_not_absent(owner, entry):
            return here
        if len({name_key(name) for name in (owner, looked["who"], entry["who"])}) < 3:
            return say("lock_why.three", owner=owner)
        if not is_supervisor(self.job, looked["who"]) and not is_supervisor(self.job, entry["who"]):
            return say("lock_why.no_supervisor")
        return None

    def _why_not_absent(self, owner: str, entry: Fields) -> str | None:
        """Why an owner was not absent as far as whoever wrote `entry` had heard: signed on and not left is behind the lock."""
        if unsound := self._unsound(entry):
            return unsound
        then = Boards(self.told, entry)
        if any(same_person(one["who"], owner) for one in then.zone()):
            return say("lock_why.here", owner=owner)
        return say("lock_why.who_is_here") if then.missing() else None

    def _unsound(self, entry: Fields) -> str | None:
        """Why what lets go can't be relied on: what stands before it is missing, or stands in two ways."""
        if entry["id"] in self.told.early:
            return say("lock_why.gap")
        return say("lock_why.fork") if entry["seq"] >= self.told.forks.get(entry["dev"], inf) else None

    def stood_since(self, name: str, heads: Sequence[Fields]) -> bool:
        """
        Whether it can be shown that a lock stood on a point all the time since one of these entries.

        Locks may take turns: the next one has to be on, and known to be, before the last one goes.
        """
        locks = [lock for lock in self.point(name).locks if lock.state != "never"]
        staying = [lock for lock in locks if lock.sure]
        grown = True
        while grown:
            following = [
                lock for lock in locks if lock not in staying and lock.against
                and all(any(self._stood_at(other, one.entry) for other in staying) for one in lock.against)
            ]
            staying += following
            grown = bool(following)
        return any(self._stood_at(lock, head) for lock in staying for head in heads)

    def _stood_at(self, lock: Lock, entry: Fields) -> bool:
        """Whether a lock was on, and nothing said against it, as far as whoever wrote `entry` had heard."""
        past = self.told.past
        return past(lock.entry, entry) and not any(one.entry is entry or past(one.entry, entry) for one in lock.against)

    def missing(self) -> list[str]:
        """Devices of which entries are known to have been written, and are not here."""
        newest = {entry["dev"]: entry for entry in self.told.by_id.values()}
        heard = [entry["seen"] for entry in newest.values()] if self.at is None else [self.at["seen"]]
        gaps = {self.told.by_id[one]["dev"]: self.told.by_id[one]["seq"] for one in reversed(self.told.early)}
        known: dict[str, int] = {}
        for seen in heard:
            for dev, seq in seen.items():
                known[dev] = max(seq, known.get(dev, -1))
        if self.at is None:
            known |= {dev: max(seq, known.get(dev, -1)) for dev, seq in gaps.items()}
        return sorted(dev for dev, seq in known.items()
                      if dev not in newest or seq > newest[dev]["seq"] or seq >= gaps.get(dev, inf) - 1)

    def doubles(self) -> list[list[Lock]]:
        """Locks of one number that are on more than once: one lock can't hang in two places."""
        numbered: dict[str, list[Lock]] = {}
        for lock in (lock for point in self.points() for lock in point.on):
            numbered.setdefault(name_key(lock.entry["value"]), []).append(lock)
        return [locks for locks in numbered.values() if len(locks) > 1]

    def zone(self) -> list[Fields]:
        """Who has signed on and not left since, as the `arrived` entry of each."""
        said = self._said(SITE)
        about: dict[str, list[Fields]] = {}
        for entry in said:
            for one in entry["about"][:1]:
                about.setdefault(one, []).append(entry)
        left = [entry for entry in said if entry["kind"] == "left" and self._unsound(entry) is None and not _taken_back(entry, about)]
        here: dict[str, Fields] = {}
        for entry in said:
            key = name_key(entry["who"])
            if entry["kind"] != "arrived" or any(
                name_key(one["who"]) == key and self._unsound(one) is None for one in _taken_back(entry, about)
            ) or any(name_key(one["who"]) == key and self.told.past(entry, one) for one in left):
                continue
            if key not in here or self.told.past(here[key], entry):
                here[key] = entry
        return list(here.values())


def _taken_back(entry: Fields, about: dict[str, list[Fields]]) -> list[Fields]:
    """What takes an entry back. Taken back is taken back: there is no way on from there but saying it anew."""
    return [one for one in about.get(entry["id"], []) if one["kind"] == "withdraw"]
