"""The order in which a job can be worked, read from its holds and from nothing else."""

import heapq
from collections import defaultdict
from collections.abc import Callable, Iterator
from functools import cache
from graphlib import TopologicalSorter
from itertools import pairwise
from typing import Any

# A stretch of a sheet: up to a hold, or from the last hold to the far end (None).
Stretch = tuple[str, str | None]


def order_of_work(job: dict[str, Any]) -> list[Stretch]:
    """
    Every stretch of every sheet, each after all that it waits for; of those that wait for nothing, the job's first.

    What a release ends, and waited for, is finished before it, and so is all that rests on it; whatever else it
    starts again is begun after it.
    """
    stretches = [(sheet["id"], hold) for sheet in job["sheets"] for hold in (*_holds(job, sheet), None)]
    after: dict[Stretch, set[Stretch]] = {stretch: set() for stretch in stretches}
    for one, before in (*_within(job), *_needed(job)):
        after[one].add(before)

    @cache
    def all_before(stretch: Stretch) -> frozenset[Stretch]:
        return frozenset(after[stretch]).union(*map(all_before, after[stretch]))

    for stretch in stretches:
        all_before(stretch)
    for one, before in (*_ended(job, all_before), *_locked_still(job)):
        if one not in all_before(before) and one != before:
            after[one].add(before)
    return list(_first_come(stretches, after))


def _holds(job: dict[str, Any], sheet: dict[str, Any]) -> list[str]:
    return [step["name"] for step in job["tasks"][sheet["task"]]["steps"] if step["kind"] == "hold"]


def _within(job: dict[str, Any]) -> Iterator[tuple[Stretch, Stretch]]:
    for sheet in job["sheets"]:
        holds = [*_holds(job, sheet), None]
        for before, one in pairwise(holds):
            yield (sheet["id"], one), (sheet["id"], before)


def _needed(job: dict[str, Any]) -> Iterator[tuple[Stretch, Stretch]]:
    for sheet in job["sheets"]:
        for hold, needs in sheet["needs"].items():
            for need in needs:
                # A hold that needs its own sheet needs the steps before it.
                if need["sheet"] != sheet["id"]:
                    yield (sheet["id"], hold), (need["sheet"], need["hold"])


def _ended(job: dict[str, Any], all_before: Callable[[Stretch], frozenset[Stretch]]) -> Iterator[tuple[Stretch, Stretch]]:
    resting_on = defaultdict(set)
    for (sheet, _), before in _needed(job):
        resting_on[before].add(sheet)
    for sheet in job["sheets"]:
        for hold, ended in sheet["ends"].items():
            release = (sheet["id"], hold)
            for name, end in ((one["sheet"], one["hold"]) for one in ended):
                if (name, end) in all_before(release):
                    yield from ((release, (other, None)) for other in (name, *resting_on[name, end]))
                else:
                    yield (name, _holds(job, _called(job, name))[0]), release


def _called(job: dict[str, Any], name: str) -> dict[str, Any]:
    return next(sheet for sheet in job["sheets"] if sheet["id"] == name)


def _locked_still(job: dict[str, Any]) -> Iterator[tuple[Stretch, Stretch]]:
    """A sheet that wants a lock on a point is finished before that point is given back, or one that shares its box."""
    asking = [(sheet, asked) for sheet in job["sheets"] for asked in sheet.get("locks", {}).values()]
    boxes = {name: point["box"] or name for name, point in job["points"].items()}
    for before, wanted in asking:
        stay = {boxes[point] for point in (*wanted.get("stay", ()), *(wanted["points"] if wanted["want"] == "on" else ()))}
        for sheet, asked in asking:
            if sheet["kind"] == "isolation" and asked["want"] == "off" and boxes[sheet["item"]] in stay:
                yield (sheet["id"], _holds(job, sheet)[0]), (before["id"], None)


def _first_come(stretches: list[Stretch], after: dict[Stretch, set[Stretch]]) -> Iterator[Stretch]:
    place = {stretch: number for number, stretch in enumerate(stretches)}
    sorter = TopologicalSorter(after)
    sorter.prepare()
    ready: list[int] = []
    while sorter.is_active():
        for stretch in sorter.get_ready():
            heapq.heappush(ready, place[stretch])
        stretch = stretches[heapq.heappop(ready)]
        yield stretch
        sorter.done(stretch)
