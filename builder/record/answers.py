"""
What has been said to each step: from entries to answers, without any of the job's sums.

`assets/app/answers.mjs` says the same, word for word.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence, Set
from dataclasses import dataclass, field, replace
from functools import cache
from math import inf
from typing import Any

from builder.compile.pull_readings import is_measured
from builder.record.entry_kinds import ANSWERING
from builder.record.merge import standing
from builder.record.payload import Fields
from builder.record.pull_day import measured_in, stops_in
from builder.record.standing import counts_as_release

_ANSWERS = {
    "do": ("done", "aside"), "look": ("done", "aside"), "read": ("reading", "aside"), "hold": ("release",),
}


@dataclass(frozen=True)
class Answer:
    """
    What has been said to one step.

    state     open, answered, aside or conflict
    answer    the entry that stands
    heads     entries that no other answers over; a `settle` of a conflict names these
    earlier   history
    photos    photos of it that count: of this round, and since the gates before it were released
    """

    state: str
    answer: Fields | None
    heads: list[Fields]
    earlier: list[Fields]
    photos: list[Fields] = field(default_factory=list)


@dataclass(frozen=True)
class Snag:
    """Something found wrong, and the entry that closed it."""

    entry: Fields
    closed: Fields | None


@dataclass(frozen=True)
class SheetAnswers:
    """
    What has been said to one sheet.

    round       1, or more when a release started the sheet again
    begun       something counts in this round
    snags       of every round: starting again mends nothing
    photos      of every round, and of snags; not those taken back
    signatures  the same
    closes      closing entries not withdrawn
    uncounted   kept, but no answer here: wrong kind, standing too low, after a gap
    gaps        of these, the ones that came without the entries before them
    measured    on a pull: step → {text, unit, known, differ}
    stops       of a pull, called and not lifted
    """

    round: int
    begun: bool
    steps: dict[str, Answer]
    snags: list[Snag]
    photos: list[Fields]
    signatures: list[Fields]
    closes: list[Fields]
    uncounted: list[Fields]
    gaps: list[Fields]
    measured: dict[str, dict[str, Any]]
    stops: list[Fields]


class Answers:
    """Entries, sorted, seen as answers to the sheets of a job."""

    def __init__(self, job: dict, entries: Sequence[Fields]):
        self.job = job
        self.by_id = {entry["id"]: entry for entry in entries}
        stands = standing(entries)
        self.early, self.forks = stands.early, stands.forks
        self.by_sheet = _grouped(entries, "sheet")
        self.sheets = {sheet["id"]: sheet for sheet in job["sheets"]}
        self.endings = _endings(job["sheets"])
        self.releases = cache(self._find_releases)

    def past(self, one: Fields, other: Fields) -> bool:
        """Is `one` in the past of `other`: did the device that wrote `other` hold `one`?"""
        fork = self.forks.get(one["dev"], inf)
        if one["dev"] != other["dev"]:
            return one["seq"] < fork and one["seq"] <= other["seen"].get(one["dev"], -1)
        if one["seq"] < fork:
            return one["seq"] < other["seq"]
        entry: Fields | None = other
        while entry and entry["seq"] > one["seq"]:
            entry = self.by_id.get(entry["prev"])
        return entry is one and one is not other

    def sheet(self, name: str, besides: Set[str] = frozenset()) -> SheetAnswers:
        """
        Answers to one sheet.

        besides   ids of releases before which the sheet is looked at: they have not started it again yet. What
                  was said after them is left out, but for taking something back: that was wrong from the start.
        """
        everything = self.by_sheet.get(name, [])
        counted = [entry for entry in everything if self.counts(entry)]
        starting = self.starting(name)
        started = [release for release in starting if release["id"] not in besides]
        later = [release for release in starting if release["id"] in besides]
        now = [
            entry for entry in counted
            if all(self.past(release, entry) for release in started)
            and (entry["kind"] == "withdraw" or not any(self.past(release, entry) for release in later))
        ]
        current = {entry["id"] for entry in now}
        by_step = _grouped(counted, "step")
        withdrawn = _withdrawn(now)
        task = self.job["tasks"][self.sheets[name]["task"]]
        steps, pulled = task["steps"], task.get("pull_day")
        given = {step["name"]: self.answer(by_step.get(step["name"], []), current) for step in steps}
        uncounted = [entry for entry in everything if not self.counts(entry)]
        photos = _beside("photo", counted)
        return SheetAnswers(
            round=len(started) + 1,
            begun=bool(now),
            steps=self._behind_gates(steps, given, [one for one in photos if one["id"] in current and not one["about"]]),
            snags=_snags(counted),
            photos=photos,
            signatures=_beside("signed", counted),
            closes=[entry for entry in now if entry["kind"] == "close" and entry["id"] not in withdrawn],
            uncounted=uncounted,
            gaps=[entry for entry in uncounted if entry["id"] in self.early],
            measured=measured_in(self, now) if pulled else {},
            stops=stops_in(self, now) if pulled else [],
        )

    def starting(self, name: str) -> list[Fields]:
        """Releases that start this sheet again."""
        return [release for sheet, hold in self.endings.get(name, []) for release in self.releases(sheet, hold)]

    def starting_again(self) -> list[Fields]:
        """Every release that started some sheet again."""
        holds = [hold for endings in self.endings.values() for hold in endings]
        return [release for sheet, hold in holds for release in self.releases(sheet, hold)]

    def _behind_gates(self, steps: list[dict], given: dict[str, Answer], photos: list[Fields]) -> dict[str, Answer]:
        """
        An answer or a photo behind a hold counts when it had seen the release that stands: what was before is old.

        The same of an answer and the steps that its step comes `after`.
        """
        gates: list[Answer] = []

        def is_since(entries: list[Fields], answers: list[Answer]) -> bool:
            return all(self.covered(answer.heads, entries) for answer in answers)

        for step in steps:
            said = given[step["name"]]
            before = [given[name] for name in step.get("after", []) if given[name].heads]
            if said.heads and not is_since(said.heads, [*gates, *before]):
                said = Answer("open", None, [], [*said.earlier, *said.heads])
            taken = [photo for photo in photos if photo["step"] == step["name"] and is_since([photo], gates)]
            said = given[step["name"]] = replace(said, photos=taken)
            if step["kind"] == "hold" and said.state == "answered":
                gates.append(said)
        return given

    def covered(self, heads: list[Fields], by: list[Fields]) -> bool:
        """Had one of these seen one of these answers, or is it one of them?"""
        return any(head is one or self.past(head, one) for one in by for head in heads)

    def counts(self, entry: Fields) -> bool:
        """Whether an entry says anything to its sheet, as far as it is held."""
        if entry["id"] in self.early:
            return self._stops(entry)
        if entry["kind"] == "measured":
            return is_measured(entry["step"]) and self._is_pulled(entry)
        if entry["kind"] not in ("done", "reading", "aside", "release"):
            return True
        step = self._step_of(entry)
        if step is None or entry["kind"] not in _ANSWERS[step["kind"]]:
            return False
        if entry["kind"] == "release":
            return counts_as_release(self.job, entry, step["released_by"])
        return entry["kind"] != "aside" or not step.get("must")

    def _stops(self, entry: Fields) -> bool:
        """What stops the work counts at once; what lets it go on waits until the gap before it is filled."""
        if entry["kind"] == "withdraw":
            target = self.by_id.get(entry["about"][0])
            return target is not None and target["kind"] != "snag"
        if entry["kind"] == "release":
            step = self._step_of(entry)
            ends = step and self.sheets[entry["sheet"]].get("ends", {}).get(entry["step"])
            return bool(ends) and counts_as_release(self.job, entry, step["released_by"])
        return entry["kind"] in ("snag", "stop")

    def _is_pulled(self, entry: Fields) -> bool:
        sheet = self.sheets.get(entry["sheet"])
        return bool(sheet and self.job["tasks"][sheet["task"]].get("pull_day"))

    def _step_of(self, entry: Fields) -> dict | None:
        sheet = self.sheets.get(entry["sheet"])
        steps = self.job["tasks"][sheet["task"]]["steps"] if sheet else []
        return next((step for step in steps if step["name"] == entry["step"]), None)

    def _find_releases(self, sheet: str, hold: str) -> list[Fields]:
        """Releases that count, withdrawn or not: people may have acted on one before it was withdrawn."""
        return [
            entry for entry in self.by_sheet.get(sheet, [])
            if entry["kind"] == "release" and entry["step"] == hold and self.counts(entry)
        ]

    def answer(self, said: Sequence[Fields], current: Set[str] | None = None) -> Answer:
        """What has been said to one step, of which the ids in `current` (or all) count."""
        given = [entry for entry in said if entry["kind"] in ANSWERING]
        heads = self._heads(_sound([entry for entry in given if current is None or entry["id"] in current]))
        standing_ones = [self._resolved(head) for head in heads]
        earlier = [entry for entry in given if entry not in heads]
        if len(set(map(_meaning, standing_ones))) > 1:
            return Answer("conflict", None, heads, earlier)
        if not standing_ones or standing_ones[0]["kind"] == "withdraw":
            return Answer("open", None, heads, earlier)
        answer = standing_ones[0]
        return Answer("aside" if answer["kind"] == "aside" else "answered", answer, heads, earlier)

    def _heads(self, now: list[Fields]) -> list[Fields]:
        """
        Entries that no other answers over.

        A settle answers over what it names and what those answered over; any other entry, over its past.
        """
        newest = {entry["dev"]: entry["seq"] for entry in now if entry["kind"] != "settle"}
        last = [
            entry for entry in now
            if entry["seq"] >= min(newest.get(entry["dev"], 0), self.forks.get(entry["dev"], inf))
        ]
        named = self._named(last)
        plain = [entry for entry in (*last, *named.values()) if entry["kind"] != "settle"]
        seen: dict[str, int] = {}
        for entry in plain:
            for dev, seq in (*entry["seen"].items(), (entry["dev"], entry["seq"] - 1)):
                seen[dev] = max(seq, seen.get(dev, -1))

        def is_over(entry: Fields) -> bool:
            if entry["seq"] < self.forks.get(entry["dev"], inf):
                return entry["seq"] <= seen.get(entry["dev"], -1)
            return any(other["dev"] == entry["dev"] and self.past(entry, other) for other in plain)

        return [entry for entry in last if entry["id"] not in named and not is_over(entry)]

    def _named(self, entries: list[Fields]) -> dict[str, Fields]:
        """What these entries speak of, and what is spoken of by settles among that, all the way down."""
        named: dict[str, Fields] = {}
        below = [name for entry in entries for name in entry["about"]]
        while below:
            one = self.by_id[below.pop()]
            if one["id"] not in named:
                named[one["id"]] = one
                below.extend(one["about"] if one["kind"] == "settle" else ())
        return named

    def _resolved(self, head: Fields) -> Fields:
        """The answer that a head stands for: a settle stands for the one it chose."""
        while head["kind"] == "settle":
            head = self.by_id[head["value"]]
        return head


def _meaning(entry: Fields) -> tuple:
    return ("withdraw",) if entry["kind"] == "withdraw" else (entry["kind"], entry["value"], entry["unit"])


def _withdrawn(entries: Sequence[Fields]) -> dict[str, Fields]:
    held = {entry["id"]: entry for entry in entries}
    return {
        entry["about"][0]: entry for entry in entries
        if entry["kind"] == "withdraw" and entry["about"][0] in held
        and held[entry["about"][0]]["step"] == entry["step"]
    }


def _beside(kind: str, entries: Sequence[Fields]) -> list[Fields]:
    """What stands beside the answers and was not taken back."""
    withdrawn = _withdrawn(entries)
    return [entry for entry in entries if entry["kind"] == kind and entry["id"] not in withdrawn]


def _snags(entries: Sequence[Fields]) -> list[Snag]:
    closed = _withdrawn(entries)
    closing = [entry for entry in entries if entry["kind"] == "snag-closed" and entry["id"] not in closed]
    closed = closed | {entry["about"][0]: entry for entry in closing}
    return [Snag(entry, closed.get(entry["id"])) for entry in entries if entry["kind"] == "snag"]


def _grouped(entries: Iterable[Fields], by: str) -> dict[str | None, list[Fields]]:
    groups = defaultdict(list)
    for entry in entries:
        groups[entry[by]].append(entry)
    return dict(groups)


def _sound(entries: list[Fields]) -> list[Fields]:
    """Entries that speak of nothing but each other, all the way down: a settle of what is not here settles nothing."""
    ids = {entry["id"] for entry in entries}
    resting_on = defaultdict(list)
    for entry in entries:
        for one in entry["about"]:
            resting_on[one].append(entry)
    loose = [entry for entry in entries if not ids.issuperset(entry["about"])]
    for entry in loose:
        if entry["id"] in ids:
            ids.remove(entry["id"])
            loose.extend(resting_on[entry["id"]])
    return [entry for entry in entries if entry["id"] in ids]


def _endings(sheets: Iterable[dict]) -> dict[str, list[tuple[str, str]]]:
    """Sheet → the holds whose release starts it again."""
    endings = defaultdict(list)
    for sheet in sheets:
        for hold, ended in sheet.get("ends", {}).items():
            for one in ended:
                endings[one["sheet"]].append((sheet["id"], hold))
    return endings
