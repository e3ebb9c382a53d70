"""What a hold needs and what it ends: names of tasks and holds turned into places in the libraries."""

from collections.abc import Container
from dataclasses import dataclass

from builder.check.job import KINDS
from builder.check.placed import PlacedStep, PlacedTask
from builder.check.references import refers_to
from builder.load.problems import Problem, nearest

IF_ANY = " if any"


@dataclass(frozen=True, eq=False)
class Target:
    """
    A hold, or a whole task, that a hold needs or ends.

    tasks   the tasks that carry it: one hold name may stand in several tasks of a library, of which
            an item gets one. `if_any` where an item may have none of them.
    """

    tasks: tuple[PlacedTask, ...]
    hold: str | None
    if_any: bool


@dataclass(frozen=True, eq=False)
class Wanted:
    """One line of `needs` or `ends` with its target."""

    of: PlacedTask
    hold: PlacedStep
    word: str
    index: int
    target: Target


def wanted(tasks: dict[str, PlacedTask], libraries: Container[str] = ()) -> tuple[list[Wanted], list[Problem]]:
    """
    Every line of `needs` and `ends`, resolved, and what refers to nothing.

    libraries   all that there are: one that this job does not work has nothing to offer `if any`
    """
    found, problems = [], []
    for task in tasks.values():
        for placed in task.holds:
            for word, lines in (("needs", placed.step.needs), ("ends", placed.step.ends)):
                for index, text in enumerate(lines):
                    if text.endswith(IF_ANY) and _elsewhere(text, task, tasks) in libraries:
                        continue
                    line = _resolved(text, word, index, task, placed, tasks)
                    if isinstance(line, Problem):
                        problems.append(line)
                    else:
                        found.append(line)
    return found, problems


def _elsewhere(text: str, task: PlacedTask, tasks: dict[str, PlacedTask]) -> str | None:
    """The library that a line names, where no task of this job is of it."""
    library = text.rpartition(".")[0] or task.library.library
    return None if any(one.library.library == library for one in tasks.values()) else library


def _resolved(text: str, word: str, index: int, task: PlacedTask, placed: PlacedStep, tasks: dict[str, PlacedTask]):
    path = (*placed.path, word, index)
    if_any = text.endswith(IF_ANY)
    name = text.removesuffix(IF_ANY)
    library, _, last = name.rpartition(".")
    library = library or task.library.library
    within = [one for one in tasks.values() if one.library.library == library]
    if not within:
        own = {one.task.task for one in tasks.values() if one.library is task.library}
        if library in own:
            return placed.document.problem(path, "NAME-02", f"`{library}` is a task of this library; write `{last}`",
                                           "a library is named before the point, and not a task")
        known = {one.library.library for one in tasks.values()}
        return placed.document.problem(path, "NAME-02", f"no library of this job is called `{library}`", nearest(library, known))
    whole = tuple(one for one in within if one.task.task == last) if word == "needs" else ()
    carrying = tuple(one for one in within if any(hold.name == last for hold in one.holds))
    if whole or carrying:
        return Wanted(task, placed, word, index, Target(whole or carrying, None if whole else last, if_any))
    known = [one.name for other in within for one in other.holds]
    known += [other.task.task for other in within] if word == "needs" else []
    what = "task or hold" if word == "needs" else "hold"
    return placed.document.problem(path, "NAME-02", f"`{library}` has no {what} `{last}`", nearest(last, known))


def relation(kind: str, other: str) -> str | None:
    """The field of an item of `kind` that names items of kind `other`, if it has one."""
    for name, field in KINDS[kind][1].model_fields.items():
        if refers_to([*field.metadata, field.annotation]) == other:
            return name
    return None
