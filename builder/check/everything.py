"""One job with its libraries, tables and overlays: read, checked as a whole, and bound."""

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel

from builder import bind
from builder.check.circles import circles
from builder.check.expressions import expression_faults
from builder.check.figures import figure_faults
from builder.check.job import Job
from builder.check.library import Library
from builder.check.needs import Wanted, wanted
from builder.check.overlay import Overlay
from builder.check.overlaying import overlay_steps, overlay_tables
from builder.check.placed import PlacedStep, PlacedTask, placed_tasks
from builder.check.pull_day import pull_day_faults
from builder.check.references import job_faults, library_faults, task_faults
from builder.check.scope import table_kinds
from builder.check.sense import sense_faults
from builder.check.shape import shaped
from builder.check.table import Source
from builder.check.tables import as_data, read_sources, read_tables
from builder.check.terms import Term, TermFile, term_faults, worded
from builder.check.translation import Translation, beside
from builder.compile.catalogue import formula_signatures, signature_data
from builder.compile.evaluate import Environment
from builder.load.document import Document, read_document
from builder.load.problems import BadInput, Problem, nearest
from builder.places import CHECKLISTS, SOURCES, TABLES, TERMS

Model = TypeVar("Model", bound=BaseModel)


@dataclass
class _Gathered:
    """What was read so far, and what is wrong with it."""

    tasks: dict[str, PlacedTask] = field(default_factory=dict)
    overlays: list[tuple[Overlay, Document]] = field(default_factory=list)
    tables: dict[str, dict] = field(default_factory=dict)
    sources: dict[str, Source] = field(default_factory=dict)
    terms: dict[str, Term] = field(default_factory=dict)
    spelling: dict[str, dict[str, str]] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def shaped(self, path: Path, model: type[Model]) -> tuple[Model, Document] | None:
        try:
            document = read_document(path)
            return shaped(document, model), document
        except BadInput as bad:
            self.problems += bad.problems
            return None


def checked_job(job_path: Path) -> dict[str, Any]:
    """
    Read and check a job with all that it names, and bind it.

    Gives job.json as a dict. Raises BadInput with every problem of every file; where a file's shape
    is wrong, what rests on that file is not judged.
    """
    gathered = _Gathered()
    read_job = gathered.shaped(job_path, Job)
    gathered.sources, problems = read_sources(SOURCES)
    gathered.problems += problems
    if read_terms := gathered.shaped(TERMS, TermFile):
        gathered.terms, gathered.spelling = read_terms[0].terms, read_terms[0].spelling
    placed_tables, problems = read_tables(TABLES, gathered.sources)
    gathered.problems += problems
    if read_job:
        _read_named(gathered, *read_job)
    _stop_at(gathered)
    job, document = read_job
    gathered.tables = {name: as_data(placed, gathered.sources) for name, placed in sorted(placed_tables.items())}
    for overlay, overlay_document in gathered.overlays:
        gathered.problems += overlay_steps(overlay, overlay_document, gathered.tasks)
        gathered.problems += overlay_tables(overlay, overlay_document, gathered.tables)
    gathered.problems += [*job_faults(job, document), *sense_faults(job, document, gathered.tables),
                          *figure_faults(job, document, gathered.tables)]
    lines = _check_tasks(gathered)
    _stop_at(gathered)
    return _bound(gathered, job, document, lines)


def _stop_at(gathered: _Gathered) -> None:
    if gathered.problems:
        raise BadInput(gathered.problems)


def _read_named(gathered: _Gathered, job: Job, document: Document) -> None:
    """The libraries and overlays that the job names: its own beside it, else those of the project."""
    beside = document.path.parent
    for index, name in enumerate(job.libraries):
        here, ours = beside / f"{name}.yaml", CHECKLISTS / f"{name}.yaml"
        path = here if here.exists() else ours
        if here.exists() and ours.exists() and here.resolve() != ours.resolve():
            gathered.problems.append(document.problem(
                ("libraries", index), "NAME-01", f"`{name}` stands beside the job and in the project, and one would quietly "
                "replace the other", "give yours another name, or change ours in an overlay"))
            continue
        if not path.exists():
            gathered.problems.append(document.problem(("libraries", index), "NAME-02", f"no library is called `{name}`",
                                                      nearest(name, _ours())))
        elif found := gathered.shaped(path, Library):
            _place(gathered, *found, name, document, index)
    for index, name in enumerate(job.overlays):
        path = beside / name
        if not path.exists():
            known = [one.name for one in beside.glob("*.yaml") if one != document.path]
            gathered.problems.append(document.problem(("overlays", index), "NAME-02", f"there is no file `{name}` beside "
                                                      "the job", nearest(name, known)))
        elif found := gathered.shaped(path, Overlay):
            gathered.overlays.append(found)


def _ours() -> list[str]:
    """The libraries of the project, whether this job works them or not."""
    return [one.stem for one in CHECKLISTS.glob("*.yaml") if one != SOURCES]


def _place(gathered: _Gathered, library: Library, read: Document, name: str, document: Document, index: int) -> None:
    if library.library != name:
        gathered.problems.append(read.problem(("library",), "NAME-02", f"the file is called `{name}.yaml` and the library "
                                              f"`{library.library}`", "let the two agree"))
    tasks = placed_tasks(library, read)
    gathered.problems += library_faults(library, read, tasks, gathered.sources)
    if any(task.key in gathered.tasks for task in tasks):
        gathered.problems.append(document.problem(("libraries", index), "NAME-01", f"`{name}` is named twice"))
    gathered.tasks |= {task.key: task for task in tasks}


def _check_tasks(gathered: _Gathered) -> list[Wanted]:
    formulas, tables = formula_signatures(), table_kinds(gathered.tables)
    for task in gathered.tasks.values():
        faults = task_faults(task, gathered.sources) + term_faults(task, gathered.terms) + pull_day_faults(task)
        # A reading in an unknown unit has no dimension to judge expressions by.
        if not any(fault.code == "UNIT-01" for fault in faults):
            faults += expression_faults(task, tables, formulas)
        gathered.problems += faults
    lines, problems = wanted(gathered.tasks, _ours())
    gathered.problems += problems
    return lines


def _bound(gathered: _Gathered, job: Job, document: Document, lines: list[Wanted]) -> dict[str, Any]:
    tasks = sorted(gathered.tasks.values(), key=lambda task: task.library.order)
    data = {"format": bind.FORMAT, **bind.job_data(job), "tables": gathered.tables}
    undecided: list[Problem] = []

    def applies(kind: str, item: str, when: str | None) -> bool | None:
        if when is None:
            return True
        return Environment(data, {"task": None, "kind": kind, "item": item}, {}).condition(when)[0]

    for task in tasks:
        undecided += _undecided(task, data, applies)
    found, unmet = bind.sheets(job, tasks, lines, applies)
    gathered.problems += undecided
    gathered.problems += [_unmet(line, item) for line, item in unmet]
    gathered.problems += [_no_point(placed, item) for placed, item in bind.with_locks(job, tasks, found, applies)]
    gathered.problems += [_circle(circle, gathered.tasks) for circle in circles(found, tasks)]
    gathered.problems += _double_holds(found, gathered.tasks)
    if not found:
        gathered.problems.append(document.problem((), "SHAPE-02", "this job has no item that any of its libraries is for"))
    _stop_at(gathered)
    names = _translated(gathered, job)
    _stop_at(gathered)
    spelling = gathered.spelling.get(job.practice)
    bound = {task.key: bind.task_data(task, lambda text: worded(text, gathered.terms, job.practice, job.language, spelling)) for task in tasks}
    data |= {"tasks": bound, "sheets": found} | ({"names": names} if names else {})
    return bind.with_what_is_used(data, gathered.sources, signature_data())


def _translated(gathered: _Gathered, job: Job) -> dict[str, str]:
    """Everything into the job's language; gives what the libraries' names are called in it."""
    languages = {task.library.language for task in gathered.tasks.values()} | {overlay.language for overlay, _ in gathered.overlays}
    if languages == {job.language}:
        return {}
    if beside(TERMS, job.language).exists() and (read := gathered.shaped(beside(TERMS, job.language), TermFile)):
        gathered.terms = dict(gathered.terms) | read[0].terms
    translation = Translation(job.language, gathered.terms)
    translation.translate(gathered.tasks, gathered.overlays)
    gathered.problems += translation.problems
    titles = beside(TABLES / "titles.yaml", job.language)
    if titles.exists():
        named = read_document(titles).data
        for name in named.keys() & gathered.tables.keys():
            gathered.tables[name]["title"] = named[name]
    return translation.names


def _undecided(task: PlacedTask, data: dict, applies) -> list[Problem]:
    """Items for which the job does not say enough to know whether the task is theirs."""
    names = [name for name in data["items"][task.kind] if applies(task.kind, name, task.task.when) is None]
    if not names:
        return []
    return [task.document.problem((*task.path, "when"), "EXPR-03", f"the job does not say enough about "
                                  f"{', '.join(f'`{name}`' for name in names)} to tell whether this task is for it")]


def _unmet(line: Wanted, item: str) -> Problem:
    kinds = " or ".join(dict.fromkeys(f"{task.kind}" for task in line.target.tasks))
    return line.hold.document.problem(
        (*line.hold.path, line.word, line.index), "HOLD-02",
        f"`{item}` has no {kinds} with a sheet that this hold could wait for",
        f"name it in the job file, or write `{line.hold.step.needs[line.index]} if any` where there may be none",
    )


def _no_point(placed: PlacedStep, item: str) -> Problem:
    return placed.document.problem((*placed.path, "locks"), "HOLD-02", f"`{item}` names no isolation whose locks this hold could look at",
                                   "name its `isolations` in the job file, or leave `locks` out")


def _circle(circle: list[tuple[str, str]], tasks: dict[str, PlacedTask]) -> Problem:
    sheet, hold = circle[0]
    task = tasks[sheet.rpartition("/")[0]]
    placed = next(one for one in task.holds if one.name == hold)
    trail = " → ".join(f"`{name}` of {where}" for where, name in [*circle, circle[0]])
    return placed.document.problem((*placed.path, "hold"), "HOLD-01", f"holds wait for each other in a circle: {trail}")


def _double_holds(found: list[dict], tasks: dict[str, PlacedTask]) -> list[Problem]:
    """One item with two sheets of one library that carry the same hold name: a need could mean either."""
    first: dict[tuple[str, str, str], str] = {}
    problems = []
    for sheet in found:
        task = tasks[sheet["task"]]
        for placed in task.holds:
            key = (task.library.library, placed.name, sheet["item"])
            if first.setdefault(key, task.key) != task.key:
                problems.append(placed.document.problem((*placed.path, "hold"), "NAME-01", f"`{sheet['item']}` gets two holds "
                                                        f"`{placed.name}`: here and in `{first[key]}`"))
    return problems
