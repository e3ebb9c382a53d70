"""
What stands against each hazard, and where each line of a published order is done: markdown tables.

`python -m builder.coverage` prints them for checklists/coverage/README.md. A step, kind or source that is not there is
named with its file and line, like any other slip.
"""

import sys
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from pydantic import Field

from builder.check.library import Library, Part, kind_of
from builder.check.names import Name
from builder.check.placed import PlacedStep, placed_tasks
from builder.check.shape import shaped
from builder.check.tables import read_sources
from builder.load.document import Document, read_document
from builder.load.problems import BadInput, Problem, nearest
from builder.places import CHECKLISTS, SOURCES

FOLDER = CHECKLISTS / "coverage"
# The hierarchy of controls, from the firmest to the weakest; clothing alone is no control of ours.
FIRM = {"remove": "takes it away", "keep_off": "keeps it off", "procedure": "how it is worked"}
LEVELS = {**FIRM, "protect": "clothing and tools"}


class Hazard(Part):
    """What can kill, and the steps against it by the hierarchy of controls."""

    title: str
    remove: list[str] = []
    keep_off: list[str] = Field(alias="keep-off", default=[])
    procedure: list[str] = []
    protect: list[str] = []
    holds: list[str] = Field(min_length=1)


class Hazards(Part):
    hazards: dict[Name, Hazard]


class Line(Part):
    """One line of a published order, and the steps that do it."""

    line: str
    steps: list[str] = Field(min_length=1)


class Sequence(Part):
    """A published order of work."""

    title: str
    source: str
    where: str
    in_order: bool = Field(alias="in-order")
    lines: list[Line] = Field(min_length=2)


class Sequences(Part):
    sequences: dict[Name, Sequence]


class Coverage(NamedTuple):
    """Both files, and every step of the libraries by `library/task/step`, in working order."""

    hazards: dict[str, Hazard]
    sequences: dict[str, Sequence]
    steps: dict[str, PlacedStep]


def coverage() -> Coverage:
    """The data of both tables. Raises BadInput where they name what is not there."""
    steps = _steps()
    hazard_file, sequence_file = read_document(FOLDER / "hazards.yaml"), read_document(FOLDER / "sequences.yaml")
    hazards, sequences = shaped(hazard_file, Hazards).hazards, shaped(sequence_file, Sequences).sequences
    problems = [*_hazard_faults(hazards, hazard_file, steps), *_sequence_faults(sequences, sequence_file, steps)]
    if problems:
        raise BadInput(problems)
    return Coverage(hazards, sequences, steps)


def _steps() -> dict[str, PlacedStep]:
    read = [read_document(path) for path in CHECKLISTS.glob("*.yaml") if path != SOURCES]
    libraries = sorted(((shaped(document, Library), document) for document in read), key=lambda one: one[0].order)
    tasks = [task for library, document in libraries for task in placed_tasks(library, document)]
    return {f"{task.key}/{step.name}": step for task in tasks for step in task.steps}


def _hazard_faults(hazards: dict[str, Hazard], document: Document, steps: dict[str, PlacedStep]) -> Iterator[Problem]:
    for name, hazard in hazards.items():
        path = ("hazards", name)
        for level in (*LEVELS, "holds"):
            key = level.replace("_", "-")
            yield from _unknown(getattr(hazard, level), (*path, key), document, steps)
        for index, hold in enumerate(hazard.holds):
            if hold in steps and kind_of(steps[hold].step) != "hold":
                yield document.problem((*path, "holds", index), "SHAPE-03", f"`{hold}` is no hold")
        if not any(getattr(hazard, level) for level in FIRM):
            yield document.problem(path, "SHAPE-02", f"nothing but clothing stands against `{name}`", of_key=True)


def _sequence_faults(sequences: dict[str, Sequence], document: Document, steps: dict[str, PlacedStep]) -> Iterator[Problem]:
    sources, _ = read_sources(SOURCES)
    place = {name: number for number, name in enumerate(steps)}
    for name, sequence in sequences.items():
        path = ("sequences", name)
        if sequence.source not in sources:
            yield document.problem((*path, "source"), "NAME-02", f"no source is called `{sequence.source}`",
                                   nearest(sequence.source, sources))
        before = -1
        for index, line in enumerate(sequence.lines):
            yield from _unknown(line.steps, (*path, "lines", index, "steps"), document, steps)
            first = place.get(line.steps[0], before + 1)
            if sequence.in_order and first <= before:
                yield document.problem((*path, "lines", index), "SHAPE-03", f"`{line.line}` is worked before the line above it")
            before = first


def _unknown(named: Iterable[str], path: tuple, document: Document, steps: dict[str, PlacedStep]) -> Iterator[Problem]:
    for index, step in enumerate(named):
        if step not in steps:
            yield document.problem((*path, index), "NAME-02", f"there is no step `{step}`", nearest(step, steps))


def coverage_tables(data: Coverage) -> str:
    """Hazards by control, then each published order line by line."""
    head = ("hazard", *LEVELS.values(), "nobody passes")
    parts = ["## Hazards\n", _row(head), _row(("---",) * len(head))]
    for hazard in data.hazards.values():
        cells = [_names(getattr(hazard, level)) for level in LEVELS]
        parts.append(_row((hazard.title, *cells, _names(hazard.holds))))
    for sequence in data.sequences.values():
        order = "in this order" if sequence.in_order else "in any order"
        parts += [f"\n## {sequence.title}\n", f"`{sequence.source}`: {sequence.where}; {order}.\n",
                  _row(("line", "steps")), _row(("---", "---"))]
        parts += [_row((line.line, _names(line.steps))) for line in sequence.lines]
    return "\n".join(parts) + "\n"


def _names(steps: list[str]) -> str:
    return ", ".join(f"`{step}`" for step in steps) or "–"


def _row(cells: Iterable[str]) -> str:
    return "| " + " | ".join(cells) + " |"


if __name__ == "__main__":
    try:
        print(coverage_tables(coverage()), end="")
    except BadInput as bad:
        sys.exit("\n".join(problem.shown() for problem in bad.problems))
