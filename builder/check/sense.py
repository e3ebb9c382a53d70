"""What each field of a job allows and the fields together do not."""

from collections.abc import Iterator, Mapping

from pydantic import BaseModel

from builder.check.job import KINDS, Isolation, Job, Run, Supply, WordOf
from builder.load.document import Document
from builder.load.problems import Problem, nearest


def sense_faults(job: Job, document: Document, tables: Mapping[str, dict]) -> list[Problem]:
    """What each field allows and the fields together do not: words that no table knows, and contradictions."""
    problems = []
    for kind, (field, _) in KINDS.items():
        for index, item in enumerate(getattr(job, field)):
            path = (field, index)
            problems += _word_faults(item, path, document, tables)
            problems += _crew_faults(item, path, document, tables)
            problems += [document.problem((*path, *where), "SHAPE-03", text, advice)
                         for where, text, advice in _CONTRADICTIONS.get(kind, lambda _: ())(item)]
    return problems


def _word_faults(item: BaseModel, path: tuple, document: Document, tables: Mapping[str, dict]) -> list[Problem]:
    problems = []
    for field, info in type(item).model_fields.items():
        word_of = next((mark for mark in info.metadata if isinstance(mark, WordOf)), None)
        given = getattr(item, field)
        known = tables.get(word_of.table, {}).get("keys", {}).get(word_of.key, {}).get("one_of") if word_of else None
        if known and given not in known:
            problems.append(document.problem((*path, field), "NAME-02", f"the table `{word_of.table}` knows no "
                                             f"{word_of.key} `{given}`", nearest(given, known)))
    return problems


def _crew_faults(item: BaseModel, path: tuple, document: Document, tables: Mapping[str, dict]) -> list[Problem]:
    if not isinstance(item, Isolation) or item.operated_by == "operator":
        return []
    limits = tables.get("lock-out-policy", {}).get("values", {})
    # What stands on capacitors is direct voltage, whatever feeds them.
    for standing, current in ((item.voltage, item.system), (item.charged_to, "dc")):
        limit = limits.get(f"crew_tests_{current}")
        if standing and limit and limit["value"] is not None and standing.si > limit["value"]:
            return [document.problem((*path, "operated_by" if "operated_by" in item.model_fields_set else "voltage"), "SHAPE-03",
                                     f"a crew doesn't operate what stands at {standing.text}; over {limit['text']} the operator does",
                                     "write `operated_by: operator`")]
    return []


def _isolation_contradictions(isolation: Isolation) -> Iterator[tuple[tuple, str, str]]:
    if isolation.of == "battery" and isolation.can_be_made_dead:
        yield ("can_be_made_dead",), "a battery's cells can't be made dead", "write `false`; a switch behind the cells is another point"
    if isolation.system == "ac" and isolation.charged_to and isolation.charged_to.si < 2**0.5 * isolation.voltage.si:
        yield (("charged_to",), f"what is fed with {isolation.voltage.text} a.c. charges to its peak, √2 of that, at least",
               "give the highest voltage that can stand there, or leave it out")


def _run_contradictions(run: Run) -> Iterator[tuple[tuple, str, str]]:
    count = run.number + sum(other.number for other in run.also)
    wanted = {"single": 1, "cradled": 3, "triangular": 3, "diamond": 4}.get(run.arrangement, count)
    if count != wanted:
        yield (("arrangement",), f"`{run.arrangement}` is {wanted} in one pull, and this run has {count}",
               "`mixed` is for cables in no set order")
    for index, segment in enumerate(run.route):
        wanted_of = ("length", "slope") if segment.shape == "straight" else ("turn", "radius")
        for name in wanted_of:
            if getattr(segment, name) is None:
                yield ("route", index), f"a `{segment.shape}` of a route gives its `{name}`", ""


def _supply_contradictions(supply: Supply) -> Iterator[tuple[tuple, str, str]]:
    for index, point in enumerate(supply.stay_locked):
        if point in supply.isolations:
            yield (("stay_locked", index), f"`{point}` is one of this supply's `isolations`, whose locks come off before it is switched on",
                   "name it in one of the two")


_CONTRADICTIONS = {"isolation": _isolation_contradictions, "run": _run_contradictions, "supply": _supply_contradictions}
