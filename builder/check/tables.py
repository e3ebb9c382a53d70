"""Tables turned into what expressions look up: numbers in SI, every value with its source and basis."""

import keyword
from dataclasses import dataclass
from math import inf
from pathlib import Path
from typing import Any

from builder.check.names import in_expressions
from builder.check.shape import shaped
from builder.check.table import NamedValue, Row, Source, Table
from builder.load.document import Document, read_document
from builder.load.problems import BadInput, Problem, nearest
from builder.quantity import UnknownUnit, parse_quantity, to_si, unit


@dataclass
class PlacedTable:
    """A table and the file it stands in."""

    table: Table
    document: Document


def read_sources(path: Path) -> tuple[dict[str, Source], list[Problem]]:
    """The publications by key, and what is wrong with their file."""
    try:
        document = read_document(path)
    except BadInput as bad:
        return {}, bad.problems
    if not isinstance(document.data, dict):
        return {}, [document.problem((), "SHAPE-03", "the sources must be a mapping: a key and its title, year and grade")]
    found, problems = {}, []
    values, keys = _by_first(document.values), _by_first(document.keys)
    for key, entry in document.data.items():
        if not isinstance(entry, dict):
            problems.append(document.problem((key,), "SHAPE-03", "a source must be a mapping of title, year and grade"))
            continue
        part = Document(document.path, document.text, entry, values[key], keys.get(key, {}))
        try:
            found[key] = shaped(part, Source)
        except BadInput as bad:
            problems += bad.problems
    return found, problems


def _by_first(places: dict) -> dict:
    """Places by the first step of their paths, each with the rest of it."""
    groups: dict = {}
    for path, place in places.items():
        if path:
            groups.setdefault(path[0], {})[path[1:]] = place
    return groups


def read_tables(folder: Path, sources: dict[str, Source]) -> tuple[dict[str, PlacedTable], list[Problem]]:
    """Every table of a folder by name, and what is wrong with them."""
    found: dict[str, PlacedTable] = {}
    problems: list[Problem] = []
    for path in sorted(folder.glob("*.yaml")):
        try:
            document = read_document(path)
            table = shaped(document, Table)
        except BadInput as bad:
            problems += bad.problems
            continue
        if table.table in found:
            problems.append(document.problem(("table",), "NAME-01", f"another table is already called `{table.table}`",
                                             f"it stands in {found[table.table].document.name}"))
            continue
        found[table.table] = PlacedTable(table, document)
        problems += _faults(table, document, sources)
    return found, problems


def _faults(table: Table, document: Document, sources: dict[str, Source]) -> list[Problem]:
    problems = []
    if bool(table.values) == bool(table.rows):
        problems.append(document.problem((), "SHAPE-03", "a table has either `rows` or `values`"))
    for kind, parts in (("keys", table.keys), ("columns", table.columns)):
        for name, part in parts.items():
            if not name.isidentifier() or keyword.iskeyword(name):
                problems.append(document.problem((kind, name), "NAME-03", f"expressions can't ask for `{name}`",
                                                 "small letters and underscores, and no word of Python", of_key=True))
            if part.unit is not None:
                problems += _unit_faults(document, (kind, name, "unit"), part.unit)
    for name, value in table.values.items():
        problems += _basis_faults(document, ("values", name), value, sources)
        if isinstance(value.value, str):
            problems += value_faults(document, ("values", name, "value"), value.value)
    if not problems:
        for index, row in enumerate(table.rows):
            problems += _row_faults(table, document, index, row, sources)
    if not problems:
        problems += _order_faults(table, document)
    return problems


def _order_faults(table: Table, document: Document) -> list[Problem]:
    """Rows that no look-up could tell apart, and bands that do not rise: the first that fits would win unseen."""
    bands = [name for name, key in table.keys.items() if key.up_to]
    first: dict[tuple, int] = {}
    highest: dict[tuple, float] = {}
    problems = []
    for index, row in enumerate(table.rows):
        keys = tuple(str(row.cells[name]) for name in table.keys)
        if keys in first:
            problems.append(document.problem(("rows", index), "NAME-01", "another row has the same keys",
                                             f"it stands in line {document.place(('rows', first[keys])).line}"))
            continue
        first[keys] = index
        if len(bands) == 1:
            others = tuple(str(row.cells[name]) for name in table.keys if name != bands[0])
            end = inf if row.cells[bands[0]] in (None, "none") else row.cells[bands[0]]
            if end < highest.get(others, -inf):
                problems.append(document.problem(("rows", index, bands[0]), "SHAPE-03",
                                                 "the bands must rise, and `none` (no upper bound) comes last"))
            highest[others] = end
    return problems


def _unit_faults(document: Document, path: tuple, symbol: str) -> list[Problem]:
    try:
        unit(symbol)
    except UnknownUnit as error:
        return [document.problem(path, "UNIT-01", str(error))]
    return []


def value_faults(document: Document, path: tuple, text: str) -> list[Problem]:
    """What is wrong with a value written as text; a word without digits is a word and not a quantity."""
    if not any(character.isdigit() for character in text):
        return []
    try:
        parse_quantity(text)
    except ValueError as error:
        return [document.problem(path, "UNIT-01", str(error))]
    return []


def _basis_faults(document: Document, path: tuple, part: NamedValue | Row, sources: dict[str, Source]) -> list[Problem]:
    if part.source is not None and part.source not in sources:
        return [document.problem((*path, "source"), "NAME-02", f"no source is called `{part.source}`",
                                 nearest(part.source, sources))]
    if part.basis == "published" and part.source is None:
        return [document.problem((*path, "basis"), "SHAPE-02", "a published value names its `source`")]
    return []


def _row_faults(table: Table, document: Document, index: int, row: Row, sources: dict[str, Source]) -> list[Problem]:
    path = ("rows", index)
    problems = _basis_faults(document, path, row, sources)
    known = {**table.keys, **table.columns}
    for name, cell in row.cells.items():
        if name not in known:
            problems.append(document.problem((*path, name), "SHAPE-01", f"`{name}` is not a key or column of this table",
                                             nearest(name, known), of_key=True))
            continue
        part = known[name]
        if cell is None or (cell == "none" and name in table.keys and table.keys[name].up_to):
            continue
        if part.one_of and cell not in part.one_of:
            problems.append(document.problem((*path, name), "SHAPE-03", f"`{cell}` is not a word of `{name}`",
                                             nearest(str(cell), part.one_of)))
        elif part.unit is not None and (isinstance(cell, bool) or not isinstance(cell, int | float)):
            problems.append(document.problem((*path, name), "UNIT-01", f"expected a number in {part.unit}, found `{cell}`"))
    for name in table.keys:
        if name not in row.cells:
            problems.append(document.problem(path, "SHAPE-02", f"the key `{name}` is missing in this row"))
    return problems


def as_data(placed: PlacedTable, sources: dict[str, Source]) -> dict[str, Any]:
    """A table as job.json carries it: numbers in SI, names as expressions call them, no grade above its source's."""
    data = _as_written(placed.table)
    for cell in [*data.get("rows", []), *data.get("values", {}).values()]:
        source = sources.get(cell.get("source", ""))
        if source is not None:
            cell["grade"] = max(source.grade, cell.get("grade", 1))
    return data


def _as_written(table: Table) -> dict[str, Any]:
    data: dict[str, Any] = {"name": table.table, "title": table.title}
    if table.values:
        data["values"] = {in_expressions(name): _value_data(value) for name, value in table.values.items()}
        return data
    data["keys"] = {name: key.model_dump(exclude_defaults=True) for name, key in table.keys.items()}
    data["columns"] = {name: column.model_dump(exclude_defaults=True) for name, column in table.columns.items()}
    data["rows"] = [_row_data(table, row) for row in table.rows]
    return data


def _origin(part: NamedValue | Row) -> dict[str, Any]:
    named = {"source": part.source, "where": part.where, "basis": part.basis, "grade": part.grade}
    return {name: value for name, value in named.items() if value is not None}


def _value_data(value: NamedValue) -> dict[str, Any]:
    data = {**_origin(value), "safer": value.safer, "about": value.about}
    if value.value is None:
        data |= {"value": None, "unit": "1"}
    elif isinstance(value.value, str) and not any(character.isdigit() for character in value.value):
        data |= {"value": value.value}
    else:
        quantity = parse_quantity(str(value.value))
        data |= {"value": quantity.si, "unit": quantity.unit.symbol, "text": str(value.value)}
    return {name: part for name, part in data.items() if part is not None or name == "value"}


def _row_data(table: Table, row: Row) -> dict[str, Any]:
    data = _origin(row)
    known = {**table.keys, **table.columns}
    for name, part in known.items():
        cell = row.cells.get(name)
        if cell == "none" and part.unit is not None:
            cell = None
        data[name] = cell if part.unit is None or cell is None else to_si(cell, unit(part.unit))
    return data
