"""What a hold needs and what it ends: names of tasks and holds turned into places in the libraries."""

from collections.abc import Iterable
from dataclasses import dataclass

from builder.check.job import KINDS, Refers
from builder.check.library import Hold
from builder.check.placed import PlacedStep, PlacedTask
from builder.load.problems import Problem, nearest

IF_ANY = " if any"


@dataclass(frozen=True)
class Target:
    """A hold of a task, or the whole task; `if_any` where an item may have none of them."""

    task: str
    hold: str | None
    if_any: bool


@dataclass(frozen=True)
class Wanted:
    """One line of `needs` or `ends` with its target."""

    of: PlacedTask
    hold: PlacedStep
    word: str
    index: int
    target: Target


def wanted(tasks: dict[str, PlacedTask]) -> tuple[list[Wanted], list[Problem]]:
    """Every line of `needs` and `ends`, resolved, and what refers to nothing."""
    found, problems = [], []
    for task in tasks.values():
        for placed in task.holds:
            hold = placed.step
            assert isinstance(hold, Hold)
            for word in ("needs", "ends"):
                for index, text in enumerate(getattr(hold, word)):
                    line = _resolved(text, word, index, task, placed, tasks)
                    if isinstance(line, Problem):
                        problems.append(line)
                    else:
                        found.append(line)
    return found, problems


def _resolved(text: str, word: str, index: int, task: PlacedTask, placed: PlacedStep, tasks: dict[str, PlacedTask]):
    path = (*placed.path, word, index)
    if_any = text.endswith(IF_ANY)
    name = text.removesuffix(IF_ANY)
    library, _, last = name.rpartition(".")
    library = library or task.library.library
    within = [one for one in tasks.values() if one.library.library == library]
    if not within:
        known = {one.library.library for one in tasks.values()}
        return placed.document.problem(path, "NAME-02", f"no library of this job is called `{library}`", nearest(library, known))
    for other in within:
        if word == "needs" and other.task.task == last:
            return Wanted(task, placed, word, index, Target(other.key, None, if_any))
        if any(one.name == last for one in other.holds):
            return Wanted(task, placed, word, index, Target(other.key, last, if_any))
    known = [one.name for other in within for one in other.holds]
    known += [other.task.task for other in within] if word == "needs" else []
    what = "task or hold" if word == "needs" else "hold"
    return placed.document.problem(path, "NAME-02", f"`{library}` has no {what} `{last}`", nearest(last, known))


def relation(kind: str, other: str) -> str | None:
    """The field of an item of `kind` that leads to items of kind `other`; empty for the item itself."""
    if kind == other:
        return ""
    for name, field in KINDS[kind][1].model_fields.items():
        if other in _leads_to([*field.metadata, field.annotation]):
            return name
    return None


def _leads_to(parts: Iterable) -> set[str]:
    found = set()
    for part in parts:
        if isinstance(part, Refers):
            found.add(part.to)
        found |= _leads_to(getattr(part, "__metadata__", ()))
        found |= _leads_to(getattr(part, "__args__", ()))
    return found
