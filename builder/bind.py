"""Task × item: the job as the phone and `collect` read it (job.json)."""

import re
from collections.abc import Callable, Mapping
from typing import Any

from pydantic import BaseModel

from builder.check.job import KINDS, Job
from builder.check.library import ITEM_KINDS, Hold, Read, kind_of
from builder.check.names import in_expressions
from builder.check.needs import Wanted, relation
from builder.check.placed import PlacedStep, PlacedTask
from builder.check.references import refers_to
from builder.compile.pull_readings import pull_conditions
from builder.quantity import Quantity, parse_range
from builder.summary import summary

FORMAT = "pitslate/job/1"
_TABLE = re.compile(r"\btable\.([a-z0-9_]+)")


def item_values(item: BaseModel, job: Job) -> dict[str, Any]:
    """An item's data for expressions: numbers in SI, references as `{"ref": [kind, name]}`."""
    values = {}
    for name, info in type(item).model_fields.items():
        refers = refers_to([*info.metadata, info.annotation])
        values[info.alias or name] = _value(getattr(item, name), refers, job)
    if hasattr(item, "also"):
        values["cables"] = _pulled_together(item, job)
        values["cables_in_all"] = sum(part["number"] for part in values["cables"])
        values["cores_in_all"] = sum(part["number"] * part["cores"] for part in values["cables"])
    return values


def _value(given: Any, refers: str | None, job: Job) -> Any:
    if isinstance(given, Quantity):
        return given.si
    if isinstance(given, BaseModel):
        return item_values(given, job)
    if isinstance(given, list):
        return [_value(one, refers, job) for one in given]
    if refers is not None and isinstance(given, str):
        return {"ref": ["cables" if refers == "cable" else refers, given]}
    return given


def _pulled_together(run: BaseModel, job: Job) -> list[dict[str, Any]]:
    """Every cable of one pull with what the formulas ask of it."""
    cables = {cable.cable: cable for cable in job.cables}
    parts = [(run.cable, run.number), *((other.cable, other.number) for other in run.also)]
    return [
        {"mass": cables[name].mass.si, "diameter": cables[name].diameter.si, "area": cables[name].area.si, "number": number,
         "cores": cables[name].cores}
        for name, number in parts
    ]


def job_data(job: Job) -> dict[str, Any]:
    """The job's own part: who, where, cables and items."""
    data: dict[str, Any] = {
        "job": {
            "name": job.job, "title": job.title, "place": job.place, "client": job.client, "practice": job.practice, "language": job.language,
            "people": [{"name": person.name, "role": person.role} for person in job.people],
        },
        "cables": {cable.cable: {"title": cable.title, "values": item_values(cable, job)} for cable in job.cables},
        "items": {},
    }
    for kind in (*ITEM_KINDS, "lock_box"):
        field, _ = KINDS[kind]
        data["items"][kind] = {
            getattr(item, kind): {"title": item.title, "summary": summary(kind, item, job), "values": item_values(item, job)}
            for item in getattr(job, field)
        }
    # Every place that locks hang on, and the box that holds the key of its lock.
    boxes = {"lock_box": {box.lock_box: None for box in job.lock_boxes}, "isolation": {one.isolation: one.lock_box for one in job.isolations}}
    data["points"] = {name: {"kind": kind, "box": box} for kind, points in boxes.items() for name, box in points.items()}
    return data


def task_data(placed: PlacedTask, worded: Callable[[str], str]) -> dict[str, Any]:
    """One task with its steps, as the page shows it and the phone works it; `worded` gives the practice's own terms."""
    task, library = placed.task, placed.library
    data = {
        "library": library.library, "library_title": worded(library.title), "order": library.order,
        "name": task.task, "title": worded(task.title), "for_each": placed.kind,
        "cautions": [_caution(placed, name, worded) for name in task.cautions],
        "workings": {
            name: {"title": worded(working.title), "formula": working.formula,
                   "with": {given: str(text) for given, text in working.inputs.items()}}
            for name, working in task.workings.items()
        },
        "steps": [_step_data(placed, step, worded) for step in placed.steps],
    }
    return data | {"pull_day": _pull_day_data(placed, worded)} if task.pull_day else data


def _pull_day_data(placed: PlacedTask, worded: Callable[[str], str]) -> dict[str, Any]:
    """How a pull is watched: each thing measured under the name that the formula has for it."""
    day = placed.task.pull_day
    people = day.people and {"unit": "1", "plausible": list(parse_range(day.people.plausible)), "when": day.people.when}
    return {
        "call": day.call, "after": day.after, "shows": day.shows,
        "tension": {"unit": day.gauge.unit, "plausible": list(parse_range(day.gauge.plausible))},
        "length": {"unit": day.length.unit, "plausible": list(parse_range(day.length.plausible))},
        "people": people,
        "radio": {name: {"say": worded(word.say), "why": word.why and worded(word.why)} for name, word in day.radio.items()},
    }


def _caution(placed: PlacedTask, name: str, worded: Callable[[str], str]) -> dict[str, Any]:
    caution = placed.library.cautions[name]
    data = {"name": name, "say": worded(caution.say), "basis": caution.basis, "source": caution.source}
    return data | ({"lang": placed.other[name]} if name in placed.other else {})


def _step_data(task: PlacedTask, placed: PlacedStep, worded: Callable[[str], str]) -> dict[str, Any]:
    step = placed.step
    data: dict[str, Any] = {
        "kind": kind_of(step), "name": step.name, "say": worded(step.say), "why": step.why and worded(step.why), "when": step.when,
        "cautions": [_caution(task, name, worded) for name in step.caution], "workings": step.workings,
        "source": step.source, "added_by": placed.added_by, "reworded_by": placed.reworded_by,
        # A limit can't be got round by setting its reading aside.
        "must": bool(step.must or getattr(step, "accept", None)),
    }
    if placed.other:
        data["lang"] = placed.other
    if photo := getattr(step, "photo", None):
        data["photo"] = photo
    if step.after_steps:
        data["after"] = step.after_steps
    if isinstance(step, Read):
        low_high = list(parse_range(step.plausible)) if step.plausible else None
        data |= {"unit": step.unit, "plausible": low_high, "one_of": step.one_of, "text": bool(step.text), "accept": step.accept}
    if isinstance(step, Hold):
        data["released_by"] = step.released_by
        if step.signed:
            data["signed"] = True
    return data


def related(job: Job, kind: str, item: Any, other: str) -> tuple[list[str], bool]:
    """
    Names of the items of kind `other` that belong to an item, and whether the item itself names them.

    The item itself where the kinds are the same; the items that it names; else those that name it. The sites
    belong to every item, and every item to them.
    """
    name = getattr(item, kind)
    if kind == other:
        return [name], True
    if field := relation(kind, other):
        return _named(item, field), True
    if field := relation(other, kind):
        return [getattr(one, other) for one in getattr(job, KINDS[other][0]) if name in _named(one, field)], False
    if "site" in (kind, other):
        return [getattr(one, other) for one in getattr(job, KINDS[other][0])], False
    return [], True


def _named(item: Any, field: str) -> list[str]:
    given = getattr(item, field)
    return [] if given is None else [given] if isinstance(given, str) else list(given)


def sheets(job: Job, tasks: list[PlacedTask], lines: list[Wanted], applies) -> tuple[list[dict], list[tuple[Wanted, str]]]:
    """
    Every sheet of the job with what its holds need and end.

    `applies(kind, item name, when)` says whether a condition over job values holds: True, False, or
    None where only readings can tell.
    Gives the sheets, and (line, item name) for each need that an item has nothing to meet with.
    """
    found: dict[str, dict] = {}
    for task in tasks:
        for item in getattr(job, KINDS[task.kind][0]):
            name = getattr(item, task.kind)
            if applies(task.kind, name, task.task.when):
                identity = f"{task.key}/{name}"
                found[identity] = {"id": identity, "task": task.key, "kind": task.kind, "item": name, "needs": {}, "ends": {}}
    unmet = []
    for line in lines:
        for item in getattr(job, KINDS[line.of.kind][0]):
            name = getattr(item, line.of.kind)
            sheet = found.get(f"{line.of.key}/{name}")
            if sheet is None or applies(line.of.kind, name, line.hold.step.when) is False:
                continue
            targets, complete = _targets(job, line, item, found)
            known = sheet[line.word].setdefault(line.hold.name, [])
            known += [target for target in targets if target not in known]
            if line.word == "needs" and not complete:
                unmet.append((line, name))
    return list(found.values()), unmet


def with_locks(job: Job, tasks: list[PlacedTask], found: list[dict], applies) -> list[tuple[PlacedStep, str]]:
    """
    Adds to each sheet which points its holds want locked or clear of locks, and which must stay locked meanwhile.

    Gives (hold, item name) for each hold that asks for locks where the item names no isolation.
    """
    by_task = {task.key: task for task in tasks}
    none = []
    for sheet in found:
        item = next(one for one in getattr(job, KINDS[sheet["kind"]][0]) if getattr(one, sheet["kind"]) == sheet["item"])
        for placed in by_task[sheet["task"]].holds:
            if placed.step.locks is None or applies(sheet["kind"], sheet["item"], placed.step.when) is False:
                continue
            points, _ = related(job, sheet["kind"], item, "isolation")
            stay = getattr(item, "stay_locked", []) if placed.step.locks == "off" else []
            asked = {"want": placed.step.locks, "points": points} | ({"stay": stay} if stay else {})
            sheet.setdefault("locks", {})[placed.name] = asked
            if not points:
                none.append((placed, sheet["item"]))
    return none


def _targets(job: Job, line: Wanted, item: Any, found: dict[str, dict]) -> tuple[list[dict], bool]:
    """The sheets that one line means for one item, and whether nothing is missing."""
    targets, complete = [], True
    for kind in dict.fromkeys(task.kind for task in line.target.tasks):
        names, forwards = related(job, line.of.kind, item, kind)
        missing = forwards and not names
        for name in names:
            there = [f"{task.key}/{name}" for task in line.target.tasks
                     if task.kind == kind and f"{task.key}/{name}" in found]
            targets += [{"sheet": one, "hold": line.target.hold} for one in there]
            missing = missing or (forwards and not there)
        complete = complete and (not missing or line.target.if_any)
    return targets, complete


def with_what_is_used(data: dict[str, Any], sources: Mapping[str, BaseModel], formulas: Mapping[str, dict]) -> dict[str, Any]:
    """The job with only those formulas, tables and sources that its sheets can ask for: a phone carries no more."""
    tasks = data["tasks"].values()
    workings = [working for task in tasks for working in task["workings"].values()]
    texts = [text for working in workings for text in working["with"].values()]
    texts += [step[asked] for task in tasks for step in task["steps"] for asked in ("when", "accept") if step.get(asked)]
    texts += [text for task in tasks for text in pull_conditions(task)]
    asked_for = {name for text in texts for name in _TABLE.findall(text)}
    used_formulas = {name: formulas[name] for name in sorted({working["formula"] for working in workings})}
    used_tables = {name: table for name, table in data["tables"].items() if in_expressions(name) in asked_for}
    named = {cell.get("source") for table in used_tables.values() for cell in [*table.get("rows", []), *table.get("values", {}).values()]}
    named |= {source.get("key") for formula in used_formulas.values() for source in formula["source"]}
    named |= {part.get("source") for task in tasks for step in task["steps"] for part in [step, *step["cautions"]]}
    named |= {caution.get("source") for task in tasks for caution in task["cautions"]}
    used_sources = {key: source.model_dump(exclude_none=True) for key, source in sorted(sources.items()) if key in named}
    return data | {"formulas": used_formulas, "tables": used_tables, "sources": used_sources}
