"""What a sheet's numbers come to: workings, acceptances and conditions, from one job and its readings."""

from collections.abc import Callable, Mapping
from typing import Any

from builder.compile import origin
from builder.compile.arithmetic import NO_ANSWER, NO_NUMBER, Missing, NotEntered, alike, at_least
from builder.compile.caller import call
from builder.compile.catalogue import function_of, signature_data
from builder.compile.closures import worked
from builder.compile.showing import amount, filled_lines, output_amount, words
from builder.compile.verdict import limit_of, plausible, sentence
from builder.formulas.mathematics import CannotTell
from builder.quantity import parse_quantity

__all__ = ["Environment", "plausible"]


class Environment:
    """
    One sheet with its readings, ready to be asked.

    job       job.json as read
    sheet     the sheet as job.json has it: at least `task`, `kind` and `item`
    readings  step name → the answer that stands: {text, unit, si} for a number, {text, word} for a word

    Never raises for anything that a person entered; what has no answer says why in a sentence.
    `assets/app/environment.mjs` is the same in JavaScript.
    """

    def __init__(self, job: Mapping[str, Any], sheet: Mapping[str, Any], readings: Mapping[str, Mapping[str, Any]]):
        self.job, self.sheet, self.readings = job, sheet, readings
        # Before its tasks are bound, a job can be asked whether a task is worked at all.
        self.task = job["tasks"][sheet["task"]] if sheet["task"] else {"steps": [], "workings": {}}
        self._workings: dict[str, dict[str, Any]] = {}
        self._touched: list[dict[str, Any]] = []

    def working(self, name: str) -> dict[str, Any]:
        """
        A working of this task, worked out.

        {name, title, formula,
         outputs: {output: {si, text, unit} | {word, text} | {rows: [{column: {si, text, unit} | {word, text}}], text}},
         lines: [formula line], numbers: [the line with numbers in it],
         inputs: [{name, symbol, text, from: job|table|overlay|reading|working|library, where, source, basis, unconfirmed}],
         source: text, basis, unconfirmed: [sentence], cannot_tell: sentence | None}
        `unconfirmed` names each value from memory, or of grade 3, that the working rests on.
        """
        if name not in self._workings:
            title = self.task["workings"][name]["title"]
            # Stands while the working is worked out, should it ever ask for itself.
            self._workings[name] = {"title": title, "outputs": {}, "basis": "library", "unconfirmed": [],
                                    "cannot_tell": f"{title} needs itself to be worked out."}
            self._workings[name] = self._work_out(name)
        return self._workings[name]

    def step(self, name: str) -> dict[str, Any]:
        """
        A step of this task: whether it applies and, where it has an acceptance, what that says.

        {applies: True|False|None, applies_reason, verdict: "within"|"outside"|"cant-tell"|None, reason,
         limits: [{op, si, text, unit, margin_text, margin_ratio, met}]}
        """
        step = next(step for step in self.task["steps"] if step["name"] == name)
        applies, applies_reason = self.condition(step.get("when"))
        state = {"applies": applies, "applies_reason": applies_reason, "verdict": None, "reason": "", "limits": []}
        if applies is not True or not step.get("accept"):
            return state
        expression = worked(step["accept"])
        state["limits"] = self._limits(step, expression)
        try:
            met, rests_on = self._asked(expression.value)
        except CannotTell as refusal:
            return state | {"verdict": "cant-tell", "reason": str(refusal)}
        if rests_on["unconfirmed"]:
            return state | {"verdict": "cant-tell", "reason": rests_on["unconfirmed"][0]}
        return state | {"verdict": "within" if met else "outside",
                        "reason": sentence(step, self.readings.get(name), state["limits"], met)}

    def condition(self, text: str | None) -> tuple[bool | None, str]:
        """An expression of `when`, and the reason where it can't be told (None)."""
        if not text:
            return True, ""
        try:
            met, rests_on = self._asked(worked(text).value)
        except CannotTell as refusal:
            return None, str(refusal)
        # A doubtful figure may ask for a step; it may not spare anyone one.
        if not met and rests_on["unconfirmed"]:
            return None, rests_on["unconfirmed"][0]
        return met, ""

    def _asked(self, closure: Callable[["Environment"], Any]) -> tuple[Any, dict[str, Any]]:
        """The value of a closure, and the one origin of all that it touched."""
        before, self._touched = self._touched, []
        try:
            value = closure(self)
            return value, origin.together(self._touched)
        except NO_NUMBER:
            raise CannotTell(NO_ANSWER) from None
        finally:
            self._touched = before

    def _work_out(self, name: str) -> dict[str, Any]:
        asked = self.task["workings"][name]
        signature = signature_data()[asked["formula"]]
        sources = self.job.get("sources", {})
        given, inputs, reason = {}, [], None
        for part in signature["inputs"]:
            try:
                value, rests_on = self._asked(worked(asked["with"][part["name"]]).value) if part["name"] in asked["with"] else (None, None)
            except CannotTell as refusal:
                # What a job or a table may lack, a formula may do without; a reading is waited for.
                lacking = part["optional"] and isinstance(refusal, Missing) and not isinstance(refusal, NotEntered)
                reason = reason or (None if lacking else str(refusal))
                continue
            if value is not None:
                given[part["name"]] = value
                inputs.append({"name": part["name"], "symbol": part.get("symbol", ""), "text": _input_text(part, value), **rests_on})
        outputs, numbers = {}, []
        if reason is None:
            try:
                values = call(function_of(asked["formula"]), signature, given)
                outputs = {part["name"]: _output(part, values[part["name"]]) for part in signature["gives"]}
                texts = {entry["symbol"]: entry["text"] for entry in inputs if entry["symbol"]}
                texts |= {part["symbol"]: outputs[part["name"]]["text"] for part in signature["gives"] if part["kind"] == "number"}
                numbers = filled_lines(signature, texts)
            except CannotTell as refusal:
                reason = str(refusal)
        unconfirmed = [*origin.formula_unconfirmed(asked["title"], signature, sources),
                       *(sentence for entry in inputs for sentence in entry["unconfirmed"])]
        return {
            "name": name, "title": asked["title"], "formula": asked["formula"], "outputs": outputs,
            "lines": signature["lines"], "numbers": numbers, "inputs": inputs,
            "source": origin.formula_source(signature, sources),
            "basis": origin.weakest([*(source["basis"] for source in signature["source"]), *(entry["basis"] for entry in inputs)]),
            "unconfirmed": list(dict.fromkeys(unconfirmed)), "cannot_tell": reason,
        }

    def _limits(self, step: Mapping[str, Any], expression: Any) -> list[dict[str, Any]]:
        found = []
        for bound in expression.limits:
            if bound.name != step["name"].replace("-", "_"):
                continue
            try:
                value, _ = self._asked(bound.limit)
                found.append(limit_of(bound.op, value, self._figures(bound.of), step, self.readings.get(step["name"])))
            except CannotTell:
                continue  # the verdict gives the reason
        return found

    def _figures(self, of: tuple[str, str] | None) -> int | None:
        """How many figures a limit is shown with: those of the working's output that it is."""
        working = self.task["workings"].get(of[0].replace("_", "-")) if of else None
        gives = signature_data()[working["formula"]]["gives"] if working else []
        return next((part.get("figures") for part in gives if part["name"] == of[1]), None)

    # What closures ask for.

    def path(self, path: tuple[str, ...]) -> Any:
        """A reading, a working's output, a named value of a table, or a value of the job."""
        first = path[0]
        if first == "table":
            return self._named_value(path[1], path[2])
        if first == "job" or first == self.sheet["kind"]:
            return self._job_value(path)
        name = first.replace("_", "-")
        if name in self.task["workings"]:
            working = self.working(name)
            if working["cannot_tell"]:
                raise CannotTell(working["cannot_tell"])
            self._touched.append(origin.from_working(working))
            output = working["outputs"][path[1]]
            return output["si"] if "si" in output else output["word"] if "word" in output else output["values"]
        reading = self.readings.get(name)
        if reading is None:
            raise NotEntered(f"{words(name)} is not entered yet.")
        self._touched.append(origin.from_reading(words(name)))
        return reading["si"] if "si" in reading else reading["word"]

    def _job_value(self, path: tuple[str, ...]) -> Any:
        if path[0] == "job":
            value, called = self.job["job"], ""
        else:
            found = self.job["items"][path[0]][self.sheet["item"]]
            value, called = found["values"], f"{words(path[0])} {found['title']}: "
        for field in path[1:]:
            if "ref" in value:
                kind, name = value["ref"]
                found = self.job["cables"][name] if kind == "cables" else self.job["items"][kind][name]
                value, called = found["values"], f"{words('cable' if kind == 'cables' else kind)} {found['title']}: "
            value = value.get(field)
            if value is None:
                gives_no = f"the job file gives no {words(field).lower()}."
                raise Missing(called + gives_no if called else gives_no[:1].upper() + gives_no[1:])
        self._touched.append(origin.from_job(called + words(path[-1]).lower() if called else words(path[-1])))
        return value

    def _table(self, name: str) -> Mapping[str, Any]:
        return self.job["tables"][name.replace("_", "-")]

    def _named_value(self, name: str, called: str) -> Any:
        table = self._table(name)
        entry = table["values"][called]
        if entry["value"] is None:
            raise Missing(f"{table['title']}: no figure for {words(called).lower()}. {origin.ASK}")
        self._touched.append(origin.from_table(table, entry, "value", called, self.job.get("sources", {})))
        return entry["value"]

    def cell(self, name: str, closures: Mapping[str, Callable[["Environment"], Any]], column: str) -> Any:
        """A value of a table's row: the first that matches every key, a band being matched up to its value."""
        table, keys, doubts = self._table(name), {}, []
        for key, closure in closures.items():
            keys[key], rests_on = self._asked(closure)
            doubts += rests_on["unconfirmed"]
        for row in table["rows"]:
            if all(_matches(table["keys"][key], row[key], value) for key, value in keys.items()):
                if row.get(column) is None:
                    raise Missing(f"{table['title']}: no figure for {words(column).lower()} in that row. {origin.ASK}")
                found = origin.from_table(table, row, column, column, self.job.get("sources", {}))
                self._touched.append(found | {"unconfirmed": [*doubts, *found["unconfirmed"]]})
                return row[column]
        asked = ", ".join(f"{words(key).lower()} {_key_text(table['keys'][key], value)}" for key, value in keys.items())
        raise Missing(f"{table['title']}: no row for {asked}. {origin.ASK}")

    def quantity(self, text: str) -> float:
        """A quantity written out."""
        self._touched.append(origin.from_library(text))
        return parse_quantity(text).si

    def given(self, closure: Callable[["Environment"], Any]) -> bool:
        """Whether a value is there at all."""
        before = len(self._touched)
        try:
            closure(self)
        except Missing:
            return False
        finally:
            del self._touched[before:]  # asking whether it is there is not resting on it
        return True

    def first_given(self, closures: list[Callable[["Environment"], Any]]) -> Any:
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
    return amount(value, key["unit"]) if key.get("unit") else _word_text(value)


def _word_text(value: Any) -> str:
    return ("yes" if value else "no") if isinstance(value, bool) else str(value).replace("_", " ").replace("-", " ")


def _input_text(part: Mapping[str, Any], value: Any) -> str:
    if part["kind"] == "number":
        return amount(value, part["unit"])
    return _word_text(value) if part["kind"] == "word" else f"{len(value)} listed"


def _output(part: Mapping[str, Any], value: Any) -> dict[str, Any]:
    if part["kind"] == "number":
        return {"si": value, "text": output_amount(value, part), "unit": part["unit"]}
    if part["kind"] == "word":
        return {"word": value, "text": _word_text(value)}
    rows = [{column["name"]: _output(column, row[column["name"]]) for column in part["columns"]} for row in value]
    return {"rows": rows, "text": f"{len(rows)} listed", "values": value}
