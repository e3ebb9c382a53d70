"""Overlays put over libraries and tables; the base files are never touched."""

from builder.check.overlay import AddStep, Overlay, Reword, TableValue
from builder.check.placed import PlacedStep, PlacedTask
from builder.load.document import Document
from builder.load.problems import Problem, nearest
from builder.quantity import parse_quantity, unit


def overlay_steps(overlay: Overlay, document: Document, tasks: dict[str, PlacedTask]) -> list[Problem]:
    """Add and reword steps in `tasks` (by `library/task`); gives what could not be done."""
    problems: list[Problem] = []
    for index, change in enumerate(overlay.changes):
        path = ("changes", index)
        if isinstance(change, AddStep):
            problems += _add(overlay, change, document, path, tasks)
        elif isinstance(change, Reword):
            problems += _reword(overlay, change, document, path, tasks)
    return problems


def _add(overlay: Overlay, change: AddStep, document: Document, path: tuple, tasks: dict[str, PlacedTask]):
    task = tasks.get(change.add)
    if task is None:
        return [document.problem((*path, "add"), "OVER-01", f"no task is called `{change.add}`", nearest(change.add, tasks))]
    names = [placed.name for placed in task.steps]
    if change.step.name in names:
        return [document.problem((*path, "step"), "NAME-01", f"`{change.add}` already has a step `{change.step.name}`")]
    if change.after is not None and change.after not in names:
        return [document.problem((*path, "after"), "OVER-01", f"`{change.add}` has no step `{change.after}`",
                                 nearest(change.after, names))]
    place = names.index(change.after) + 1 if change.after is not None else 0
    task.steps.insert(place, PlacedStep(change.step, document, (*path, "step"), added_by=overlay.overlay))
    return []


def _reword(overlay: Overlay, change: Reword, document: Document, path: tuple, tasks: dict[str, PlacedTask]):
    key, _, name = change.reword.rpartition("/")
    task = tasks.get(key)
    if task is None:
        return [document.problem((*path, "reword"), "OVER-01", f"no task is called `{key}`; a step is named "
                                 "`library/task/step`", nearest(key, tasks))]
    placed = next((one for one in task.steps if one.name == name), None)
    words = {word: given for word, given in (("say", change.say), ("why", change.why)) if given is not None}
    radio = task.task.pull_day.radio if task.task.pull_day else {}
    if placed is None and name in radio:
        radio[name] = radio[name].model_copy(update=words)
        return []
    if placed is None:
        return [document.problem((*path, "reword"), "OVER-01", f"`{key}` has no step `{name}`",
                                 nearest(name, [one.name for one in task.steps]))]
    placed.step = placed.step.model_copy(update=words)
    placed.reworded_by = overlay.overlay
    return []


def overlay_tables(overlay: Overlay, document: Document, tables: dict[str, dict]) -> list[Problem]:
    """Change values in `tables` (as job.json carries them); gives what could not be done."""
    problems: list[Problem] = []
    for index, change in enumerate(overlay.changes):
        if isinstance(change, TableValue):
            problems += _change_value(overlay, change, document, ("changes", index), tables)
    return problems


def _change_value(overlay: Overlay, change: TableValue, document: Document, path: tuple, tables: dict[str, dict]):
    table = tables.get(change.table)
    if table is None:
        return [document.problem((*path, "table"), "OVER-01", f"no table is called `{change.table}`",
                                 nearest(change.table, tables))]
    target = _target(change, table, document, path)
    if isinstance(target, Problem):
        return [target]
    cells, name, symbol, safer = target
    try:
        quantity = parse_quantity(str(change.to))
    except ValueError as error:
        return [document.problem((*path, "to"), "UNIT-01", str(error))]
    if quantity.unit.dimension != unit(symbol).dimension:
        return [document.problem((*path, "to"), "UNIT-02",
                                 f"`{change.to}` is in {quantity.unit.symbol}; this value is in {symbol}")]
    before = cells[name]
    if before is not None and (quantity.si == 0 or (quantity.si < 0) != (before < 0)):
        return [document.problem((*path, "to"), "SHAPE-03", f"`{change.to}` can't stand where {_shown(cells, name)} stood")]
    # A figure that nobody vouches for becomes the firm's own by this change, so somebody has to.
    vouched_for = before is not None and cells["basis"] != "memory" and cells.get("grade") != 3
    tightened = vouched_for and ((safer == "higher" and quantity.si >= before) or (safer == "lower" and quantity.si <= before))
    because, agreed_by = (change.because or "").strip(), (change.agreed_by or "").strip()
    if not tightened and not (because and agreed_by):
        return [document.problem(path, "OVER-02", f"`{change.to}` is not plainly safer than a firm value that stands",
                                 "say why with `because:` and who agreed with `agreed_by:`")]
    cells[name] = quantity.si
    if "text" in cells:
        cells["text"], cells["unit"] = str(change.to), quantity.unit.symbol
    # The value now rests on the firm and no longer on the source that its row names.
    cells.setdefault("changed", {})[name] = {
        "by": overlay.overlay, "because": because or "safer than the value that stood",
        "agreed_by": agreed_by or overlay.title,
    }
    return []


def _shown(cells: dict, name: str) -> str:
    return f"`{cells['text']}`" if "text" in cells else f"`{cells[name]}`"


def _target(change: TableValue, table: dict, document: Document, path: tuple):
    if "values" in table:
        name = str(change.value or "").replace("-", "_")
        if name not in table["values"]:
            return document.problem((*path, "value"), "OVER-01", f"`{change.table}` has no value `{change.value}`",
                                    nearest(name, table["values"]))
        cell = table["values"][name]
        return cell, "value", cell.get("unit", "1"), cell.get("safer")
    if change.column not in table["columns"]:
        return document.problem((*path, "column"), "OVER-01", f"`{change.table}` has no column `{change.column}`",
                                nearest(str(change.column), table["columns"]))
    rows = [row for row in table["rows"] if all(_matches(table, row, key, given) for key, given in (change.row or {}).items())]
    if len(rows) != 1:
        return document.problem((*path, "row"), "OVER-01", f"{len(rows)} rows of `{change.table}` match; name every key "
                                "so that one does", nearest("", table["keys"]))
    column = table["columns"][change.column]
    return rows[0], change.column, column.get("unit", "1"), column.get("safer")


def _matches(table: dict, row: dict, key: str, given: object) -> bool:
    if key not in table["keys"]:
        return False
    symbol = table["keys"][key].get("unit")
    if symbol is None:
        return row[key] == given
    if given == "none":
        return row[key] is None
    try:
        return row[key] == parse_quantity(str(given) if " " in str(given) else f"{given} {symbol}").si
    except ValueError:
        return False

