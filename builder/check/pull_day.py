"""The pull day of a task: the working that calls it, its gate, what is measured, and the words of the radio."""

from collections.abc import Iterator

from builder.check.library import Measure, PullDay, Read
from builder.check.names import in_expressions
from builder.check.placed import PlacedTask
from builder.compile.pull_readings import MEASURED, is_measured
from builder.load.problems import Problem, nearest
from builder.quantity import UnknownUnit, parse_range, unit

FORMULA = "pull_call"
# The words that the screen itself says large; a library may have more.
_SAID = ("go-on", "ease-it", "stop")


def pull_day_faults(task: PlacedTask) -> list[Problem]:
    """What is wrong with how a task has its pull watched."""
    day = task.task.pull_day
    return [] if day is None else list(_faults(task, day))


def _faults(task: PlacedTask, day: PullDay) -> Iterator[Problem]:
    document, path, workings = task.document, (*task.path, "pull_day"), task.task.workings
    for place, name in ((("call",), day.call), *((("shows", name), name) for name in day.shows)):
        if name not in workings:
            yield document.problem((*path, *place), "NAME-02", f"this task has no working `{name}`", nearest(name, workings))
    if day.call in workings and workings[day.call].formula != FORMULA:
        yield document.problem((*path, "call"), "WORK-01", f"the call of a pull is worked out by `{FORMULA}`, "
                               f"and `{day.call}` is a working of `{workings[day.call].formula}`")
    holds = [hold.name for hold in task.holds]
    if day.after not in holds:
        yield document.problem((*path, "after"), "NAME-02", f"this task has no hold `{day.after}`", nearest(day.after, holds))
    yield from _measure_faults(task, "gauge", day.gauge, "N")
    yield from _measure_faults(task, "length", day.length, "m")
    if day.people:
        yield from _range_faults(task, "people", day.people.plausible)
    for word in _SAID:
        if word not in day.radio:
            yield document.problem((*path, "radio"), "SHAPE-02", f"the radio has no word for `{word}`",
                                   f"the screen says {', '.join(f'`{one}`' for one in _SAID)} large")
    for placed in task.steps:
        if placed.name in day.radio:
            yield placed.document.problem(placed.path, "NAME-01", f"`{placed.name}` is already a word of the radio")
        elif is_measured(placed.name) or (isinstance(placed.step, Read) and in_expressions(placed.name) == MEASURED):
            yield placed.document.problem(placed.path, "NAME-03", f"`{placed.name}` is measured on the pull itself: choose another name")


def _measure_faults(task: PlacedTask, name: str, measure: Measure, like: str) -> Iterator[Problem]:
    path = (*task.path, "pull_day", name, "unit")
    try:
        if unit(measure.unit).dimension != unit(like).dimension:
            yield task.document.problem(path, "UNIT-02", f"`{measure.unit}` is no unit of this; it is measured in one like `{like}`")
    except UnknownUnit as unknown:
        yield task.document.problem(path, "UNIT-01", str(unknown))
    yield from _range_faults(task, name, measure.plausible)


def _range_faults(task: PlacedTask, name: str, plausible: str) -> Iterator[Problem]:
    try:
        parse_range(plausible)
    except ValueError as error:
        yield task.document.problem((*task.path, "pull_day", name, "plausible"), "SHAPE-03", str(error))
