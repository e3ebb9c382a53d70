"""What a sheet's numbers come to: workings, acceptances and conditions, from one job and its readings."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from builder.compile import origin
from builder.compile.arithmetic import Missing, NotEntered
from builder.compile.caller import call
from builder.compile.catalogue import function_of
from builder.compile.closures import BoundLimit, Worked, worked
from builder.compile.lookup import Lookup
from builder.compile.showing import amount, filled_lines, output_amount, word_text, words
from builder.compile.verdict import FIGURES, Held, limit_of, plausible, reading_text, sentence
from builder.formulas.mathematics import CannotTell
from builder.words import say

__all__ = ["Environment", "plausible"]


@dataclass
class _Reckoned:
    """A working before it is put into words."""

    signature: Mapping[str, Any]
    inputs: list[tuple[Mapping[str, Any], Any, dict[str, Any]]]  # (part, value, origin) of each that is there
    values: Mapping[str, Any]
    origin: dict[str, Any]
    cannot_tell: str | None


class Environment(Lookup):
    """
    One sheet with its readings, ready to be asked.

    job       job.json as read
    sheet     the sheet as job.json has it: at least `task`, `kind` and `item`
    readings  step name → the answer that stands: {text, unit, si} for a number, {text, word} for a word

    Never raises for anything that a person entered; what has no answer says why in a sentence.
    `assets/app/environment.mjs` is the same in JavaScript.
    """

    def __init__(self, job: Mapping[str, Any], sheet: Mapping[str, Any], readings: Mapping[str, Mapping[str, Any]]):
        super().__init__(job, sheet, readings)
        self._reckoned: dict[str, _Reckoned | None] = {}

    def working(self, name: str) -> dict[str, Any]:
        """
        A working of this task, worked out.

        {name, title, formula,
         outputs: {output: {si, text, unit} | {word, text} | {rows: [{column: {si, text, unit} | {word, text}}], text}},
         lines: [formula line], numbers: [the line with numbers in it],
         inputs: [{name, symbol, text, rows?, from: job|table|overlay|reading|working|library, where, source, basis, stands, unconfirmed}],
         source: text, basis, stands: maker|table|estimate|job, unconfirmed: [sentence], cannot_tell: sentence | None}
        `unconfirmed` names each value from memory, or of grade 3, that the working rests on; `stands` is the one
        word for what it stands on.
        """
        asked, reckoned = self.task["workings"][name], self._reckon(name)
        signature = reckoned.signature
        inputs = [
            {"name": part["name"], "symbol": part.get("symbol", ""), "text": _input_text(part, value),
             **({"rows": value} if part["kind"] == "rows" else {}), **rests_on}
            for part, value, rests_on in reckoned.inputs
        ]
        outputs = {part["name"]: _output(part, reckoned.values[part["name"]]) for part in signature["gives"] if reckoned.values}
        texts = {entry["symbol"]: entry["text"] for entry in inputs if entry["symbol"]}
        texts |= {part["symbol"]: outputs[part["name"]]["text"] for part in signature["gives"] if part["kind"] == "number" and outputs}
        return {
            "name": name, "title": asked["title"], "formula": asked["formula"], "outputs": outputs, "lines": signature["lines"],
            "numbers": filled_lines(signature, texts, reckoned.values.get("ruled_by")) if outputs else [], "inputs": inputs,
            "source": origin.formula_source(signature, self.sources), "basis": reckoned.origin["basis"],
            "stands": reckoned.origin["stands"], "unconfirmed": reckoned.origin["unconfirmed"], "cannot_tell": reckoned.cannot_tell,
        }

    def step(self, name: str) -> dict[str, Any]:
        """
        A step of this task: whether it applies and, where it has an acceptance, what that says.

        {applies: True|False|None, applies_reason, verdict: "within"|"outside"|"cant-tell"|None, reason,
         limits: [{op, si, text, unit, margin_text, margin_ratio, margin_share, met, what, found, workings}]}
        """
        step = next(step for step in self.task["steps"] if step["name"] == name)
        applies, applies_reason = self.condition(step.get("when"))
        state = {"applies": applies, "applies_reason": applies_reason, "verdict": None, "reason": "", "limits": []}
        if applies is not True or not step.get("accept"):
            return state
        expression = worked(step["accept"])
        state["limits"] = self._limits(step, expression)
        try:
            met, rests_on = self.asked(expression.value)
        except CannotTell as refusal:
            return state | {"verdict": "cant-tell", "reason": str(refusal)}
        if rests_on["unconfirmed"]:
            return state | {"verdict": "cant-tell", "reason": rests_on["unconfirmed"][0]}
        reason = sentence(state["limits"], met)
        return state | {"verdict": "within" if met else "outside", "reason": reason}

    def condition(self, text: str | None) -> tuple[bool | None, str]:
        """An expression of `when`, and the reason where it can't be told (None)."""
        if not text:
            return True, ""
        try:
            met, rests_on = self.asked(worked(text).value)
        except CannotTell as refusal:
            return None, str(refusal)
        # A doubtful figure may ask for a step; it may not spare anyone one.
        if not met and rests_on["unconfirmed"]:
            return None, rests_on["unconfirmed"][0]
        return met, ""

    def outputs_of(self, name: str) -> tuple[Mapping[str, Any], dict[str, Any]]:
        """A working's outputs in SI, and their origin. Raises CannotTell where it has none."""
        reckoned = self._reckon(name)
        if reckoned.cannot_tell is not None:
            raise CannotTell(reckoned.cannot_tell)
        return reckoned.values, reckoned.origin

    def _reckon(self, name: str) -> _Reckoned:
        if name not in self._reckoned:
            self._reckoned[name] = None
            self._reckoned[name] = self._work_out(self.task["workings"][name])
        found = self._reckoned[name]
        if found is None:
            raise CannotTell(say("formula.circular", working=self.task["workings"][name]["title"]))
        return found

    def _work_out(self, asked: Mapping[str, Any]) -> _Reckoned:
        signature = self.job["formulas"][asked["formula"]]
        inputs, reason = [], None
        for part in signature["inputs"]:
            text = asked["with"].get(part["name"])
            if text is None:
                continue
            try:
                inputs.append((part, *self.asked(worked(text).value)))
            except CannotTell as refusal:
                # What a job or a table may lack, a formula may do without; a reading is waited for.
                lacking = part["optional"] and isinstance(refusal, Missing) and not isinstance(refusal, NotEntered)
                reason = reason or (None if lacking else str(refusal))
        function = function_of(asked["formula"])
        given = {part["name"]: value for part, value, _ in inputs}
        values: Mapping[str, Any] = {}
        if reason is None:
            try:
                values = call(function, signature, given)
            except CannotTell as refusal:
                reason = str(refusal)
        deciding = [found for part, _, found in inputs
                    if not (values and found["unconfirmed"] and part["optional"]
                            and _same_without(function, signature, given, part["name"], values))]
        rests_on = origin.of_working(asked, signature, deciding, values.get("ruled_by"), self.sources)
        return _Reckoned(signature, inputs, values, rests_on, reason)

    def _limits(self, step: Mapping[str, Any], expression: Worked) -> list[dict[str, Any]]:
        called, found = step["name"].replace("-", "_"), []
        for bound in expression.limits:
            if bound.name not in (None, called):
                continue
            workings = [name for name in (word.replace("_", "-") for word in bound.about) if name in self.task["workings"]]
            symbol = step["unit"] if bound.name is not None else self._held_in(bound, workings)
            try:
                held = self._reading_held(step, workings) if bound.name is not None else symbol and self._working_held(bound, symbol, workings)
                if held is not None:
                    value, _ = self.asked(bound.limit)
                    found.append(limit_of(bound.op, value, self._figures(bound.of), symbol, held))
            except CannotTell:
                continue  # the verdict gives the reason
        return found

    def _reading_held(self, step: Mapping[str, Any], workings: list[str]) -> Held:
        reading = self.readings.get(step["name"])
        if reading is None:
            return Held(words(step["name"]), None, None, workings)
        return Held(words(step["name"]), reading.get("si", reading.get("word")), reading_text(step, reading), workings)

    def _held_in(self, bound: BoundLimit, workings: list[str]) -> str | None:
        """The unit in which a working and its limit are shown; None where it is no working that is held."""
        if not bound.about or bound.about[0].replace("_", "-") not in workings:
            return None
        return next(filter(None, (self._unit(path) for path in bound.units_of if path)), None)

    def _working_held(self, bound: BoundLimit, symbol: str, workings: list[str]) -> Held:
        value, _ = self.asked(bound.subject)
        figures = (bound.units_of[0] and self._figures(bound.units_of[0])) or FIGURES
        text = amount(value, symbol, figures, "up" if bound.op in ("<=", "<") else "down")
        return Held(self.task["workings"][workings[0]]["title"], value, text, workings)

    def _unit(self, path: tuple[str, ...]) -> str | None:
        """The unit of an output, or of a table's value."""
        if path[0] == "table":
            table = self.job["tables"][path[1].replace("_", "-")]
            entry = table["values"][path[2]] if "values" in table else table["columns"][path[2]]
            return entry.get("unit")
        part = self._part(path)
        return part and part.get("unit")

    def _figures(self, of: tuple[str, str] | None) -> int | None:
        """How many figures a limit is shown with: those of the working's output that it is."""
        part = of and self._part(of)
        return part and part.get("figures")

    def _part(self, path: tuple[str, str]) -> Mapping[str, Any] | None:
        """An output as its formula declares it; None where the path is no working's."""
        working = self.task["workings"].get(path[0].replace("_", "-"))
        gives = self.job["formulas"][working["formula"]]["gives"] if working else []
        return next((part for part in gives if part["name"] == path[1]), None)


def _same_without(function: Any, signature: Mapping[str, Any], given: Mapping[str, Any], name: str, values: Mapping[str, Any]) -> bool:
    """Whether a formula comes to the same without one of its inputs: a doubtful value that rules nothing decides nothing."""
    try:
        return call(function, signature, {other: value for other, value in given.items() if other != name}) == values
    except CannotTell:
        return False


def _input_text(part: Mapping[str, Any], value: Any) -> str:
    if part["kind"] == "number":
        return amount(value, part["unit"])
    return word_text(value) if part["kind"] == "word" else say("amount.listed", number=len(value))


def _output(part: Mapping[str, Any], value: Any) -> dict[str, Any]:
    if part["kind"] == "number":
        return {"si": value, "text": output_amount(value, part), "unit": part["unit"]}
    if part["kind"] == "word":
        return {"word": value, "text": word_text(value)}
    rows = [{column["name"]: _output(column, row[column["name"]]) for column in part["columns"]} for row in value]
    return {"rows": rows, "text": say("amount.listed", number=len(rows))}
