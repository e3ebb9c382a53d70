"""What an expression may name in a task, with the kind of each: items, tables, readings, workings."""

import types
import typing
from collections.abc import Iterator, Mapping
from typing import Any

from pydantic import BaseModel

from builder.check.job import KINDS, Job, Measured, WordOf
from builder.check.library import Read
from builder.check.names import in_expressions
from builder.check.placed import PlacedTask
from builder.check.references import refers_to
from builder.compile.kinds import Kind, Number, Record, Rows, Scope, Table, Truth, Word, kind_of_part, number_in
from builder.compile.pull_readings import MEASURED
from builder.compile.signature import Signature

_PRACTICES = typing.get_args(Job.model_fields["practice"].annotation)
_JOB = Record({**{name: Word() for name in ("name", "title", "place", "client")}, "practice": Word(_PRACTICES)}, "the job")


# What is measured on a pull: at a station, pull or people; and the length that has gone in.
_MEASURED = {"station": Number(), "tension": number_in("N"), "people": Number(), "length": number_in("m"), "known": Number()}


class _Fields(Mapping[str, Kind]):
    """An item's fields by name; what a reference leads to is looked up only when it is asked for."""

    def __init__(self, model: type[BaseModel], tables: Record, extra: Mapping[str, Kind] | None = None):
        self._tables, self._extra = tables, extra or {}
        self._names = {info.alias or name: info for name, info in model.model_fields.items()}

    def __getitem__(self, name: str) -> Kind:
        if name in self._extra:
            return self._extra[name]
        info = self._names[name]
        return _kind([*info.metadata, info.annotation], self._tables)

    def __iter__(self) -> Iterator[str]:
        return iter({**self._names, **self._extra})

    def __len__(self) -> int:
        return len({**self._names, **self._extra})


def item_kind(kind: str, tables: Record) -> Record:
    """An item, or a cable, with its fields; words that a table keeps are known by it."""
    pulled = {"diameter": number_in("mm"), "mass": number_in("kg/m"), "area": number_in("mm2"), "number": Number()}
    extra = {"cables": Rows(pulled), "cables_in_all": Number(), "cores_in_all": Number()} if kind == "run" else None
    return Record(_Fields(KINDS[kind][1], tables, extra), f"a {kind}")


def _kind(parts: list[Any], tables: Record) -> Kind:
    """The kind of a field from its type and marks."""
    if word_of := next((part for part in parts if isinstance(part, WordOf)), None):
        table = tables.fields.get(in_expressions(word_of.table))
        return table.keys[word_of.key] if table else Word()
    if measured := next((part for part in parts if isinstance(part, Measured)), None):
        return number_in(measured.symbol)
    annotation = parts[-1]
    origin, arguments = typing.get_origin(annotation), typing.get_args(annotation)
    if origin in (typing.Union, types.UnionType):
        return _kind([*parts[:-1], next(one for one in arguments if one is not type(None))], tables)
    if origin is typing.Annotated:
        return _kind([*parts[:-1], *annotation.__metadata__, arguments[0]], tables)
    if origin is list:
        inner = arguments[0]
        is_model = isinstance(inner, type) and issubclass(inner, BaseModel)
        return Rows(_Fields(inner, tables) if is_model else {})
    if target := refers_to(parts):
        return item_kind(target, tables)
    if origin is typing.Literal:
        return Word(arguments)
    return {bool: Truth(), int: Number(), float: Number()}.get(annotation, Word())


def table_kinds(tables: Mapping[str, dict]) -> Record:
    """Every table under the name that expressions call it by."""
    return Record({in_expressions(name): _table_kind(data) for name, data in tables.items()}, "the tables")


def _table_kind(data: dict) -> Table:
    if "values" in data:
        return Table({}, {name: _value_kind(value) for name, value in data["values"].items()})
    keys = {name: _part_kind(key) for name, key in data["keys"].items()}
    return Table(keys, {name: _part_kind(column) for name, column in data["columns"].items()})


def _value_kind(value: dict) -> Kind:
    return number_in(value["unit"]) if "unit" in value else Word()


def _part_kind(part: dict) -> Kind:
    if part.get("unit"):
        return number_in(part["unit"])
    return Word(tuple(part["one_of"]) if part.get("one_of") else None)


def job_scope(kind: str, tables: Record) -> Scope:
    """What is known before anybody has read anything: the item and the job."""
    return Scope({kind: item_kind(kind, tables), "job": _JOB})


def task_scope(task: PlacedTask, tables: Record, formulas: Mapping[str, Signature]) -> Scope:
    """Everything that expressions of a task may name."""
    names: dict[str, Kind] = {task.kind: item_kind(task.kind, tables), "job": _JOB, "table": tables}
    for placed in task.steps:
        if isinstance(placed.step, Read):
            names[in_expressions(placed.name)] = _reading_kind(placed.step)
    if task.task.pull_day:
        names[MEASURED] = Rows(_MEASURED)
    for name, working in task.task.workings.items():
        if signature := formulas.get(working.formula):
            outputs = {part.name: kind_of_part(part) for part in signature.gives}
            names[in_expressions(name)] = Record(outputs, f"the working `{name}`")
    return Scope(names)


def _reading_kind(step: Read) -> Kind:
    if step.unit is not None:
        return number_in(step.unit)
    return Word(tuple(step.one_of) if step.one_of else None)
