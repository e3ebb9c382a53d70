"""What a sheet's numbers come to: workings, acceptances and conditions, from one job and its readings."""

from typing import Any


class Environment:
    """
    One sheet with its readings, ready to be asked.

    job       job.json as read
    sheet     the sheet as job.json has it: at least `task`, `kind` and `item`
    readings  step name → the answer that stands: {text, unit, si} for a number, {text, word} for a word

    Never raises for anything that a person entered; what has no answer says why in a sentence.
    `assets/app/environment.mjs` is the same in JavaScript.
    """

    def __init__(self, job: dict, sheet: dict, readings: dict[str, dict]):
        self.job, self.sheet, self.readings = job, sheet, readings

    def working(self, name: str) -> dict[str, Any]:
        """
        A working of this task, worked out.

        {name, title, formula,
         outputs: {output: {si, text, unit} | {word, text} | {rows: [{column: {si, text, unit} | {word, text}}], text}},
         lines: [formula line], numbers: [the line with numbers in it],
         inputs: [{name, symbol, text, from: job|table|overlay|reading|working|library, where, source, basis}],
         source: text, basis, unconfirmed: [sentence], cannot_tell: sentence | None}
        `unconfirmed` names each value from memory, or of grade 3, that the working rests on.
        """
        raise NotImplementedError

    def step(self, name: str) -> dict[str, Any]:
        """
        A step of this task: whether it applies and, where it has an acceptance, what that says.

        {applies: True|False|None, applies_reason, verdict: "within"|"outside"|"cant-tell"|None, reason,
         limits: [{op, si, text, unit, margin_text, margin_ratio}]}
        """
        raise NotImplementedError

    def condition(self, text: str | None) -> tuple[bool | None, str]:
        """An expression of `when`, and the reason where it can't be told (None)."""
        raise NotImplementedError


def plausible(task: dict, step: str, text: str) -> dict[str, Any]:
    """A typed reading: {si, text} or {word, text} where it can be believed, else {reason}."""
    raise NotImplementedError
