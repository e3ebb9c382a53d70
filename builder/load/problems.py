"""What is wrong with a file, said to the person who wrote it."""

import difflib
import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

SHOWN_AT_MOST = 20

CODES = {
    "FILE-01": "A file that was asked for is not there or can't be read.",
    "FILE-02": "The file is not UTF-8 text, is too large, or is nested deeper than anyone would write by hand.",
    "YAML-01": "The file is not valid YAML: indentation, a tab, a quote or a colon is out of place.",
    "YAML-02": "The same key stands twice in one mapping, so one of the two would be lost without a word.",
    "YAML-03": "An anchor, alias, merge key or tag is used. A supervisor's file is read from top to bottom; these are refused.",
    "SHAPE-01": "A key that is not known here. The nearest known key is offered.",
    "SHAPE-02": "A key that must be there is missing.",
    "SHAPE-03": "A value is of the wrong kind: a list where text belongs, a word that is not one of those allowed.",
    "NAME-01": "Two things carry the same name where each must have its own.",
    "NAME-02": "A name refers to nothing: no such cable, table, caution, task, step, hold, source or library.",
    "NAME-03": "A name is not written as names are, small letters, digits and single hyphens, beginning with a letter; or it has a meaning of its own.",
    "UNIT-01": "A value has no unit, an unknown unit, or is not a number.",
    "UNIT-02": "A value has a unit of another dimension than the field takes.",
    "UNIT-03": "An expression compares, adds or hands over values of different dimensions.",
    "EXPR-01": "An expression is outside the small language that is allowed, or is not complete.",
    "EXPR-02": "An expression uses a name, a table, a key or a column that is not there.",
    "EXPR-03": "An expression gives the wrong kind of value for its place.",
    "WORK-01": "A working names no known formula, or hands it inputs that it does not take, or leaves out one that it needs.",
    "WORK-02": "Workings of one task need each other in a circle.",
    "HOLD-01": "Holds need each other in a circle, so none of them could ever be released.",
    "HOLD-02": "A hold needs something of related items, and this item names none.",
    "OVER-01": "An overlay changes something that is not there.",
    "OVER-02": "An overlay loosens a limit, and does not say why and who agreed.",
    "FORM-01": "A formula is outside the subset that can be compiled, or its docstring is not complete.",
}


@dataclass(frozen=True, order=True)
class Problem:
    """One thing wrong at one place: file, line and column from 1, a code, what is wrong, what to do."""

    file: str
    line: int
    column: int
    code: str
    text: str
    advice: str = ""
    source: str = field(default="", compare=False)
    width: int = field(default=1, compare=False)

    def shown(self) -> str:
        """The problem as printed: place and sentence, the line with a caret, the advice."""
        parts = [f"{self.file}:{self.line}:{self.column}: error {self.code}: {self.text}"]
        if self.source:
            number = f"{self.line:>5} | "
            source = self.source.replace("\t", " ")[:160]
            parts.append(number + source)
            if self.column <= len(source) + 1:
                caret = "^" * max(1, min(self.width, len(source) - self.column + 1))
                parts.append(" " * (len(number) - 2) + "| " + " " * (self.column - 1) + caret)
        if self.advice:
            parts.append(f"  {self.advice}")
        return "\n".join(parts)


class BadInput(Exception):
    """Input that can't be built from; carries every problem found in one go."""

    def __init__(self, problems: Iterable[Problem]):
        self.problems = sorted(set(problems))
        super().__init__(f"{len(self.problems)} problems")

    def report(self) -> str:
        """All problems sorted by place, at most twenty, and a closing count."""
        shown = [problem.shown() for problem in self.problems[:SHOWN_AT_MOST]]
        count = len(self.problems)
        more = f" ({count - SHOWN_AT_MOST} more not shown)" if count > SHOWN_AT_MOST else ""
        noun = "error" if count == 1 else "errors"
        return "\n".join([*shown, f"{count} {noun}{more}. Nothing was written."])


def nearest(name: str, known: Iterable[str]) -> str:
    """`Did you mean …?` for a mistyped name, or the known names where none is near."""
    known = sorted(set(known))
    close = difflib.get_close_matches(name, known, n=1, cutoff=0.6)
    # M13 is no more M18 than M12: where only the figures differ, all that are known are told.
    if close and not (re.search(r"\d", close[0]) and re.sub(r"\d", "", name) == re.sub(r"\d", "", close[0])):
        return f"Did you mean `{close[0]}`?"
    if not known:
        return ""
    listed = ", ".join(f"`{one}`" for one in known[:12])
    return f"Known here: {listed}{', …' if len(known) > 12 else ''}."


def path_shown(path: Path) -> str:
    """A path as the person would type it: relative to where they stand, when it lies below."""
    try:
        return path.resolve().relative_to(Path.cwd()).as_posix()
    except ValueError:
        return path.as_posix()
