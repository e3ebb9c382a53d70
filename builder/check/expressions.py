"""Every expression and working of a task, held against what it may name and what it must give."""

from collections.abc import Callable, Mapping

from builder.check.library import Hold, Read
from builder.check.names import in_expressions
from builder.check.placed import PlacedStep, PlacedTask
from builder.check.scope import job_scope, task_scope
from builder.compile.expression import check_expression
from builder.compile.kinds import Kind, Record, Scope, Truth, fits, kind_of_part, misfit
from builder.compile.language import parse_expression
from builder.compile.refusal import Refused
from builder.compile.signature import Signature
from builder.load.document import Document
from builder.load.problems import Problem, nearest


def expression_faults(task: PlacedTask, tables: Record, formulas: Mapping[str, Signature]) -> list[Problem]:
    """What is wrong with the conditions, acceptances and workings of one task."""
    problems = []
    if task.task.when is not None:
        problems += _truth_faults(task.document, (*task.path, "when"), task.task.when, job_scope(task.kind, tables))
    for place, text in task.task.pull_day.conditions if task.task.pull_day else ():
        problems += _truth_faults(task.document, (*task.path, "pull_day", *place), text, job_scope(task.kind, tables))
    scope = task_scope(task, tables, formulas)
    for name in task.task.workings:
        problems += _working_faults(task, name, scope, formulas)
    if not problems:
        problems += _circle_faults(task)
    resting = _readings_that_rest_in(task)
    lost = {in_expressions(name) for name, working in task.task.workings.items() if working.formula not in formulas}
    for placed in task.steps:
        accept = placed.step.accept if isinstance(placed.step, Read) else None
        for key, text in (("when", placed.step.when), ("accept", accept)):
            if text is None or lost & _names_in(text):
                continue
            faults = _truth_faults(placed.document, (*placed.path, key), text, scope)
            problems += faults or _order_faults(task, placed, key, resting(text))
    return problems


def _readings_that_rest_in(task: PlacedTask) -> Callable[[str], set[str]]:
    """A function from an expression to every reading that it rests on, through workings too."""
    workings = {in_expressions(name): working for name, working in task.task.workings.items()}
    readings = {in_expressions(placed.name) for placed in task.steps if isinstance(placed.step, Read)}

    def resting(text: str) -> set[str]:
        found, names, seen = set(), [*_names_in(text)], set()
        while names:
            name = names.pop()
            if name in readings:
                found.add(name)
            elif name in workings and name not in seen:
                seen.add(name)
                names += [one for given in workings[name].inputs.values() for one in _names_in(str(given))]
        return found

    return resting


def _order_faults(task: PlacedTask, placed: PlacedStep, key: str, readings: set[str]) -> list[Problem]:
    """An expression that waits for what waits for its own step, or an acceptance that its reading can't change."""
    path, own = (*placed.path, key), in_expressions(placed.name)
    if key == "when" and own in readings:
        return [placed.document.problem(path, "EXPR-03", f"`{own}` is read only where this holds, so it could never be")]
    if key == "accept" and own not in readings:
        return [placed.document.problem(path, "EXPR-03", f"this acceptance doesn't ask for its own reading `{own}`")]
    behind = None
    for other in task.steps[task.steps.index(placed) + 1 :]:
        if isinstance(other.step, Hold):
            behind = behind or other.name
        elif behind and in_expressions(other.name) in readings:
            return [placed.document.problem(path, "EXPR-03", f"`{in_expressions(other.name)}` is read behind the hold "
                                            f"`{behind}`, which waits for this step")]
    return []


def _names_in(text: str) -> frozenset[str]:
    try:
        return parse_expression(text).names
    except Refused:
        return frozenset()


def _kind_of(document: Document, path: tuple, text: str, scope: Scope) -> Kind | list[Problem]:
    try:
        return check_expression(text, scope)[1]
    except Refused as refused:
        return [_placed(document, path, refusal) for refusal in refused.refusals]


def _placed(document: Document, path: tuple, refusal) -> Problem:
    """A refusal inside an expression, at its line and column of the file."""
    place = document.place(path)
    line = document.text.split("\n")[place.line - 1]
    opening = line[place.column - 1 : place.column]
    # A quoted text begins one further; a block begins on another line, so only its head is named.
    offset = 0 if opening in ("|", ">") or refusal.line > 1 else refusal.column - 1 + (opening in ("'", '"'))
    return document.problem(path, refusal.code, refusal.text, refusal.advice, offset=offset, width=refusal.width)


def _truth_faults(document: Document, path: tuple, text: str, scope: Scope) -> list[Problem]:
    kind = _kind_of(document, path, text, scope)
    if isinstance(kind, list):
        return kind
    if not isinstance(kind, Truth):
        return [document.problem(path, "EXPR-03", f"this gives {kind}; something true or false is wanted")]
    return []


def _working_faults(task: PlacedTask, name: str, scope: Scope, formulas: Mapping[str, Signature]) -> list[Problem]:
    document, path, working = task.document, (*task.path, "workings", name), task.task.workings[name]
    signature = formulas.get(working.formula)
    if signature is None:
        return [document.problem((*path, "formula"), "WORK-01", f"no formula is called `{working.formula}`",
                                 nearest(working.formula, formulas))]
    wanted = {part.name: part for part in signature.inputs}
    problems = []
    for given, text in working.inputs.items():
        here = (*path, "with", given)
        if given not in wanted:
            problems.append(document.problem(here, "WORK-01", f"`{working.formula}` takes no `{given}`",
                                             nearest(given, wanted), of_key=True))
            continue
        kind = _kind_of(document, here, str(text), scope)
        if isinstance(kind, list):
            problems += kind
        elif not fits(kind, kind_of_part(wanted[given])):
            code, sentence = misfit(f"`{given}` of `{working.formula}`", kind_of_part(wanted[given]), kind)
            problems.append(document.problem(here, code, sentence))
    for part in signature.inputs:
        if part.name not in working.inputs and not part.optional:
            problems.append(document.problem((*path, "formula"), "WORK-01",
                                             f"`{working.formula}` needs `{part.name}` and is not given it"))
    return problems


def _circle_faults(task: PlacedTask) -> list[Problem]:
    called = {in_expressions(name): name for name in task.task.workings}
    needs = {
        name: sorted({called[one] for text in working.inputs.values() for one in parse_expression(str(text)).names
                      if one in called})
        for name, working in task.task.workings.items()
    }
    for start in needs:
        trail = _way_back(needs, start)
        if trail:
            return [task.document.problem((*task.path, "workings", start), "WORK-02",
                                          f"workings need each other in a circle: {' → '.join(trail)}", of_key=True)]
    return []


def _way_back(needs: dict[str, list[str]], start: str) -> list[str]:
    trails, seen = [[start]], set()
    while trails:
        trail = trails.pop()
        for following in needs[trail[-1]]:
            if following == start:
                return [*trail, start]
            if following not in seen:
                seen.add(following)
                trails.append([*trail, following])
    return []
