"""Names that must be there and names that must be single, in a job and in the tasks."""

import keyword
from collections.abc import Iterable, Iterator

from pydantic import BaseModel

from builder.check.job import KINDS, Job, Refers
from builder.check.library import Library, Read
from builder.check.names import in_expressions
from builder.check.placed import PlacedStep, PlacedTask
from builder.compile.language import FUNCTIONS
from builder.load.document import Document
from builder.load.problems import Problem, nearest
from builder.quantity import UnknownUnit, parse_range, unit
from builder.record.standing import name_key

# What is said about locks and about who is on site stands where entries of a library's sheets stand.
_BOARDS = ("locks", "site")
_RESERVED = {*KINDS, "job", "table", *FUNCTIONS}


def job_faults(job: Job, document: Document) -> list[Problem]:
    """Items of one kind with one name, and references of items to nothing."""
    problems: list[Problem] = []
    people = [(person.name, person.role) for person in job.people]
    for index, (name, role) in enumerate(people):
        if (name_key(name), role) in [(name_key(other), held) for other, held in people[:index]]:
            problems.append(document.problem(("people", index, "name"), "NAME-01", f"`{name}` is on the list already in that "
                                             "role: a record could not tell the two apart"))
    known = {kind: [getattr(item, kind) for item in getattr(job, field)] for kind, (field, _) in KINDS.items()}
    for index, name in enumerate(known["lock_box"]):
        if name in known["isolation"]:
            problems.append(document.problem(("lock_boxes", index, "lock_box"), "NAME-01", f"an isolation is already called `{name}`: "
                                             "a lock could not be told to hang on one or the other"))
    for kind, (field, _) in KINDS.items():
        for index, name in enumerate(known[kind]):
            first = known[kind].index(name)
            if first < index:
                line = document.place((field, first, kind)).line
                problems.append(document.problem((field, index, kind), "NAME-01", f"another {kind} is already called "
                                                 f"`{name}`", f"the first is in line {line}"))
        for index, item in enumerate(getattr(job, field)):
            for path, refers, name in _references(item, (field, index)):
                if name not in known[refers]:
                    problems.append(document.problem(path, "NAME-02", f"no {refers} is called `{name}`",
                                                     nearest(name, known[refers])))
    return problems


def _references(item: BaseModel, path: tuple) -> Iterator[tuple[tuple, str, str]]:
    """Every reference that an item makes: its path, the kind it leads to, the name."""
    for field, info in type(item).model_fields.items():
        given = getattr(item, field)
        refers = refers_to([*info.metadata, info.annotation])
        here = (*path, info.alias or field)
        if isinstance(given, str) and refers:
            yield here, refers, given
        elif isinstance(given, list):
            for index, one in enumerate(given):
                if isinstance(one, BaseModel):
                    yield from _references(one, (*here, index))
                elif refers:
                    yield (*here, index), refers, one


def refers_to(parts: Iterable) -> str | None:
    """The kind that a field's type marks itself as naming, if it does."""
    for part in parts:
        if isinstance(part, Refers):
            return part.to
        inner = [*getattr(part, "__metadata__", ()), *getattr(part, "__args__", ())]
        if inner and (found := refers_to(inner)):
            return found
    return None


def task_faults(task: PlacedTask, sources: Iterable[str]) -> list[Problem]:
    """Double names within a task, and names of cautions, workings and sources that lead nowhere."""
    document, path = task.document, task.path
    problems = []
    for index, name in enumerate(task.task.cautions):
        if name not in task.library.cautions:
            problems.append(document.problem((*path, "cautions", index), "NAME-02", f"no caution is called `{name}`",
                                             nearest(name, task.library.cautions)))
    for name in task.task.workings:
        problems += _reserved_faults(document, (*path, "workings", name), name, of_key=True)
    taken = {in_expressions(name): f"the working `{name}`" for name in task.task.workings}
    for placed in task.steps:
        called = in_expressions(placed.name)
        if isinstance(placed.step, Read):
            problems += _reserved_faults(placed.document, (*placed.path, "read"), placed.name)
        if called in taken:
            problems.append(placed.document.problem((*placed.path, _kind_key(placed)), "NAME-01",
                                                    f"`{placed.name}` is already the name of {taken[called]}"))
        taken[called] = f"the step `{placed.name}`"
        problems += _after_faults(task, placed)
        problems += _step_faults(task, placed, sources)
    return problems


def _after_faults(task: PlacedTask, placed: PlacedStep) -> list[Problem]:
    """A step comes after steps that stand before it in its task."""
    names = [one.name for one in task.steps]
    before = names[:task.steps.index(placed)]
    problems = []
    for index, name in enumerate(placed.step.after_steps):
        path = (*placed.path, "after") if isinstance(placed.step.after, str) else (*placed.path, "after", index)
        if name == placed.name:
            problems.append(placed.document.problem(path, "NAME-02", "a step can't come after itself"))
        elif name in names and name not in before:
            problems.append(placed.document.problem(path, "NAME-02", f"`{name}` stands behind `{placed.name}`: a step comes after one "
                                                    "that stands before it"))
        elif name not in names:
            problems.append(placed.document.problem(path, "NAME-02", f"no step before this one is called `{name}`", nearest(name, before)))
    return problems


def _reserved_faults(document: Document, path: tuple, name: str, *, of_key: bool = False) -> list[Problem]:
    """Names that expressions keep for something else, or could never say."""
    called = in_expressions(name)
    if called in _RESERVED or keyword.iskeyword(called):
        return [document.problem(path, "NAME-03", f"`{name}` has a meaning of its own in expressions: choose another name",
                                 of_key=of_key)]
    return []


def _kind_key(placed: PlacedStep) -> str:
    return type(placed.step).__name__.lower()


def _step_faults(task: PlacedTask, placed: PlacedStep, sources: Iterable[str]) -> list[Problem]:
    document, path, step = placed.document, placed.path, placed.step
    problems = []
    for index, name in enumerate(step.caution):
        if name not in task.library.cautions:
            problems.append(document.problem((*path, "caution", index), "NAME-02", f"no caution is called `{name}`",
                                             nearest(name, task.library.cautions)))
    for name in step.workings:
        if name not in task.task.workings:
            problems.append(document.problem((*path, "working"), "NAME-02", f"this task has no working `{name}`",
                                             nearest(name, task.task.workings)))
    if step.source is not None and step.source not in sources:
        problems.append(document.problem((*path, "source"), "NAME-02", f"no source is called `{step.source}`",
                                         nearest(step.source, sources)))
    if isinstance(step, Read):
        problems += _reading_faults(document, path, step)
    return problems


def _reading_faults(document: Document, path: tuple, step: Read) -> list[Problem]:
    ways = [way for way in ("unit", "one_of", "text") if getattr(step, way)]
    if len(ways) != 1:
        return [document.problem((*path, "read"), "SHAPE-03",
                                 "a reading takes exactly one of `unit`, `one_of` or `text: true`")]
    problems = []
    if step.unit is not None:
        try:
            unit(step.unit)
        except UnknownUnit as error:
            problems.append(document.problem((*path, "unit"), "UNIT-01", str(error)))
        if step.plausible is None:
            problems.append(document.problem((*path, "read"), "SHAPE-02", "a number needs its `plausible` range",
                                             "write it in the reading's unit: `plausible: 1 to 2000`"))
    elif step.plausible is not None:
        problems.append(document.problem((*path, "plausible"), "SHAPE-03", "only a number has a plausible range"))
    if step.plausible is not None:
        try:
            parse_range(step.plausible)
        except ValueError as error:
            problems.append(document.problem((*path, "plausible"), "SHAPE-03", str(error)))
    return problems


def library_faults(library: Library, document: Document, tasks: Iterable[PlacedTask], sources: Iterable[str]) -> list[Problem]:
    """Tasks of one library with one name, and cautions that rest on no known source."""
    problems, first = [], {}
    if library.library in _BOARDS:
        problems.append(document.problem(("library",), "NAME-03", f"`{library.library}` is the name of a board: choose another name"))
    for name, caution in library.cautions.items():
        if caution.source is not None and caution.source not in sources:
            problems.append(document.problem(("cautions", name, "source"), "NAME-02",
                                             f"no source is called `{caution.source}`", nearest(caution.source, sources)))
        elif caution.basis == "published" and caution.source is None:
            problems.append(document.problem(("cautions", name, "basis"), "SHAPE-02", "a published caution names its `source`"))
    for task in tasks:
        if task.key in first:
            line = first[task.key].document.place((*first[task.key].path, "task")).line
            problems.append(task.document.problem((*task.path, "task"), "NAME-01",
                                                  f"another task is already called `{task.task.task}`",
                                                  f"the first is in line {line}"))
        first.setdefault(task.key, task)
    return problems
