"""What the names of an expression stand for on one sheet, and where each value comes from."""

import math
from collections.abc import Callable, Mapping
from typing import Any

from builder.compile import origin
from builder.compile.arithmetic import NO_ANSWER, NO_NUMBER, Missing, NotEntered, alike, at_least
from builder.compile.pull_readings import MEASURED, pull_rows
from builder.compile.showing import amount, word_text, words
from builder.formulas.mathematics import CannotTell
from builder.quantity import parse_quantity
from builder.words import say

Closure = Callable[["Lookup"], Any]


class Lookup:
    """
    The values that one sheet's expressions can reach: job, tables, readings and workings.

    `assets/app/lookup.mjs` is the same in JavaScript.
    """

    def __init__(self, job: Mapping[str, Any], sheet: Mapping[str, Any], readings: Mapping[str, Mapping[str, Any]]):
        self.job, self.sheet, self.readings = job, sheet, readings
        # Before its tasks are bound, a job can be asked whether a task is worked at all.
        self.task = job["tasks"][sheet["task"]] if sheet["task"] else {"steps": [], "workings": {}}
        self.sources = job.get("sources", {})
        self._touched: list[dict[str, Any]] = []

    def outputs_of(self, name: str) -> tuple[Mapping[str, Any], dict[str, Any]]:
        """A working's outputs in SI, and their origin. Raises CannotTell where it has none."""
        raise NotImplementedError

    def asked(self, closure: Closure) -> tuple[Any, dict[str, Any]]:
        """The value of a closure, and the one origin of all that it touched."""
        before, self._touched = self._touched, []
        try:
            value = closure(self)
            return value, origin.together(self._touched)
        except NO_NUMBER:
            raise CannotTell(NO_ANSWER) from None
        finally:
            self._touched = before

    def path(self, path: tuple[str, ...]) -> Any:
        """A reading, a working's output, a named value of a table, or a value of the job."""
        first = path[0]
        if first == "table":
            return self._named_value(path[1], path[2])
        if first == "job" or first == self.sheet["kind"]:
            return self._job_value(path)
        if first == MEASURED and self.task.get("pull_day"):
            rows = pull_rows(self.readings)
            self._touched.append(origin.from_reading(say("lookup.measured")))
            return rows
        name = first.replace("_", "-")
        if name in self.task["workings"]:
            outputs, rests_on = self.outputs_of(name)
            self._touched.append(rests_on)
            return outputs[path[1]]
        reading = self.readings.get(name)
        if reading is None:
            raise NotEntered(say("lookup.not_entered", reading=words(name)))
        self._touched.append(origin.from_reading(words(name)))
        return reading["si"] if "si" in reading else reading["word"]

    def _job_value(self, path: tuple[str, ...]) -> Any:
        if path[0] == "job":
            value, called, kind = self.job["job"], "", "job"
        else:
            kind = path[0]
            found = self.job["items"][kind][self.sheet["item"]]
            value, called = found["values"], f"{words(path[0])} {found['title']}"
        for field in path[1:]:
            if "ref" in value:
                kind, name = value["ref"]
                found = self.job["cables"][name] if kind == "cables" else self.job["items"][kind][name]
                value, called = found["values"], f"{words('cable' if kind == 'cables' else kind)} {found['title']}"
            value = value.get(field)
            if value is None:
                raise Missing(say("lookup.item_lacks" if called else "lookup.job_lacks", item=called, field=words(field).lower()))
            if isinstance(value, float) and not math.isfinite(value):
                raise CannotTell(say("lookup.no_number", field=_field(called, field)))
        self._touched.append(origin.from_job(_field(called, path[-1]), kind, path[-1]))
        return value

    def _table(self, name: str) -> Mapping[str, Any]:
        return self.job["tables"][name.replace("_", "-")]

    def _named_value(self, name: str, called: str) -> Any:
        table = self._table(name)
        entry = table["values"][called]
        if entry["value"] is None:
            raise Missing(say("lookup.no_figure", table=table["title"], figure=words(called).lower()))
        self._touched.append(origin.from_table(table, entry, "value", called, self.sources))
        return entry["value"]

    def cell(self, name: str, closures: Mapping[str, Closure], column: str) -> Any:
        """A value of a table's row: the first that matches every key, a band being matched up to its value."""
        table, keys, doubts = self._table(name), {}, []
        for key, closure in closures.items():
            keys[key], rests_on = self.asked(closure)
            doubts += rests_on["unconfirmed"]
        for row in table["rows"]:
            if all(_matches(table["keys"][key], row[key], value) for key, value in keys.items()):
                if row.get(column) is None:
                    raise Missing(say("lookup.not_in_row", table=table["title"], figure=words(column).lower()))
                found = origin.from_table(table, row, column, column, self.sources)
                self._touched.append(found | {"unconfirmed": [*doubts, *found["unconfirmed"]]})
                return row[column]
        asked = ", ".join(f"{words(key).lower()} {_key_text(table['keys'][key], value)}" for key, value in keys.items())
        raise Missing(say("lookup.no_row", table=table["title"], asked=asked))

    def quantity(self, text: str) -> float:
        """A quantity written out."""
        self._touched.append(origin.from_library(text))
        return parse_quantity(text).si

    def given(self, closure: Closure) -> bool:
        """Whether a value is there at all; a list that names nobody is not."""
        before = len(self._touched)
        try:
            return closure(self) != []
        except Missing:
            return False
        finally:
            del self._touched[before:]  # asking whether it is there is not resting on it

    def first_given(self, closures: list[Closure]) -> Any:
        """The first value that is there. Where none is, a reading not yet entered is what is waited for."""
        missing: list[Missing] = []
        before = len(self._touched)
        for closure in closures:
            try:
                return closure(self)
            except Missing as refusal:
                missing.append(refusal)
                del self._touched[before:]
        raise next((refusal for refusal in missing if isinstance(refusal, NotEntered)), missing[0])


def _matches(key: Mapping[str, Any], cell: Any, asked: Any) -> bool:
    if key.get("up_to"):
        return cell is None or at_least(cell, asked)
    return cell is not None and alike(cell, asked)


def _key_text(key: Mapping[str, Any], value: Any) -> str:
    return word_text(value) if isinstance(value, str | bool) else amount(value, key.get("unit") or "1")


def _field(item: str, field: str) -> str:
    """`Cable Al 300: mass`, or `Practice` of the job as a whole."""
    return say("lookup.of_item", item=item, field=words(field).lower()) if item else words(field)
