"""What a formula takes and gives, read from its docstring."""

import ast
import re
from dataclasses import dataclass, field
from typing import Any

from builder.compile.constructs import FUNCTIONS
from builder.compile.refusal import Refusal, Refused
from builder.quantity import UnknownUnit, to_si, unit

SECTIONS = ("Inputs", "Gives", "Holds when", "Source")
SIDES = ("up", "down", "nearest")
_PART = re.compile(r"(?P<dot>\.?)(?P<name>[a-z][a-z0-9_]*)\s*:\s*(?P<rest>\S.*)")
# A symbol of a displayed line: Latin or Greek letters, then digits too. Both languages read it alike.
SYMBOL = "[A-Za-z\u0391-\u03c9][A-Za-z\u0391-\u03c90-9_]*"
_NUMBER = r"[+-]?[0-9]+(?:\.[0-9]+)?(?:e[+-]?[0-9]+)?"
_MEASURE = re.compile(
    rf"(?P<symbol>{SYMBOL})\s*\[(?P<unit>[^\]]+)\]\s+(?P<low>{_NUMBER})\s*\.\.\s*(?P<high>{_NUMBER})(?P<none>\s+or none)?(?=\s|$)\s*(?P<rest>.*)"
)
_FIGURES = re.compile(r"(?:(?P<figures>[1-9]) figures?|whole), (?P<side>\w+)(?=\s|$)\s*(?P<rest>.*)")
SYMBOLS = re.compile(r"one of (?P<words>[a-z0-9_-]+(?:, [a-z0-9_-]+)*)(?P<none>\s+or none)?(?=\s|$)\s*(?P<rest>.*)")
_SOURCE = re.compile(r"(?P<key>[a-z0-9-]+)(?::\s*(?P<where>.*))?")


@dataclass
class Part:
    """One input, output or column: a number, a word of several, or rows."""

    name: str
    kind: str  # number | word | rows
    symbol: str = ""
    unit: str = ""
    low: float = 0.0  # in the unit
    high: float = 0.0
    optional: bool = False
    one_of: tuple[str, ...] = ()
    columns: list["Part"] = field(default_factory=list)
    figures: int = 0  # 0: shown as a whole number
    side: str = ""
    about: str = ""

    def data(self) -> dict[str, Any]:
        """The part as job.json and the phone carry it; limits in the unit and in SI."""
        data: dict[str, Any] = {"name": self.name, "kind": self.kind, "optional": self.optional, "about": self.about}
        if self.kind == "number":
            of = unit(self.unit)
            data |= {"symbol": self.symbol, "unit": self.unit, "low": self.low, "high": self.high,
                     "low_si": to_si(self.low, of), "high_si": to_si(self.high, of)}
            if self.side:
                data |= {"figures": self.figures, "side": self.side}
        elif self.kind == "word":
            data["one_of"] = list(self.one_of)
        else:
            data["columns"] = [column.data() for column in self.columns]
        return data


@dataclass
class Signature:
    """A formula as its docstring declares it."""

    name: str
    stage: str
    summary: str = ""
    lines: list[str] = field(default_factory=list)
    inputs: list[Part] = field(default_factory=list)
    gives: list[Part] = field(default_factory=list)
    holds_when: str = ""
    sources: list[dict[str, str]] = field(default_factory=list)  # {basis, key?, where}
    symbols: list[str] = field(default_factory=list)  # what the displayed lines name, functions left out

    def data(self) -> dict[str, Any]:
        """The signature as job.json and the phone carry it."""
        return {"stage": self.stage, "summary": self.summary, "lines": self.lines, "symbols": self.symbols,
                "inputs": [part.data() for part in self.inputs], "gives": [part.data() for part in self.gives],
                "holds_when": self.holds_when, "source": self.sources}


def signatures_of(tree: ast.Module, stage: str) -> dict[str, Signature]:
    """The signature of every public formula of a module. Raises Refused with all that is wrong."""
    found, refusals = {}, []
    for function in tree.body:
        if isinstance(function, ast.FunctionDef) and not function.name.startswith("_"):
            reader = _Reader(function, stage)
            found[function.name] = reader.read()
            refusals += reader.refusals
    if refusals:
        raise Refused(refusals)
    return found


class _Reader:
    def __init__(self, function: ast.FunctionDef, stage: str):
        self.function = function
        self.signature = Signature(function.name, stage)
        self.refusals: list[Refusal] = []
        self.line_numbers: list[int] = []  # of the displayed lines
        self.line = function.lineno
        self.column = function.col_offset + 1

    def refuse(self, text: str, advice: str = "") -> None:
        self.refusals.append(Refusal(self.line, self.column, "FORM-01", f"`{self.function.name}`: {text}", advice))

    def read(self) -> Signature:
        if not ast.get_docstring(self.function):
            self.refuse("a formula says in its docstring what it takes and gives")
            return self.signature
        first = self.function.body[0].value
        sections = self.sections(first.value.split("\n"), first.lineno)
        self.signature.inputs = self.parts(sections["Inputs"], gives=False)
        self.signature.gives = self.parts(sections["Gives"], gives=True)
        self.signature.holds_when = " ".join(text.strip() for _, text in sections["Holds when"])
        self.sources(sections["Source"])
        self.line, self.column = self.function.lineno, self.function.col_offset + 1
        for section in ("Gives", "Holds when", "Source"):
            if not sections[section]:
                self.refuse(f"the section `{section}` is missing or empty")
        taken = [argument.arg for argument in self.function.args.args]
        declared = [part.name for part in self.signature.inputs]
        if taken != declared:
            self.refuse(f"the arguments are {', '.join(taken) or 'none'} and the docstring lists {', '.join(declared) or 'none'}",
                        "list the same names in the same order")
        self.lines_known()
        return self.signature

    def sections(self, lines: list[str], first_line: int) -> dict[str, list[tuple[int, str]]]:
        """Lines of each section with their line numbers; summary and displayed lines go to the signature."""
        found: dict[str, list[tuple[int, str]]] = {name: [] for name in SECTIONS}
        margin = min((_indent(line) for line in lines[1:] if line.strip()), default=0)
        current = None
        summary = []
        for number, text in enumerate(lines, first_line):
            if not text.strip():
                continue
            self.line, self.column = number, _indent(text) + 1
            depth = _indent(text) - margin if number > first_line else 0
            if depth == 0 and text.strip() in SECTIONS:
                current = text.strip()
            elif current is None and depth == 0:
                summary.append(text.strip())
            elif current is None:
                self.signature.lines.append(text.strip())
                self.line_numbers.append(number)
            elif depth == 0:
                self.refuse(f"`{text.strip()}` is not a section of a formula's docstring", f"the sections are {', '.join(SECTIONS)}")
                current = "unknown"
            elif current in found:
                found[current].append((number, text))
        self.signature.summary = " ".join(summary)
        return found

    def parts(self, lines: list[tuple[int, str]], *, gives: bool) -> list[Part]:
        found: list[Part] = []
        depth = min((_indent(text) for _, text in lines), default=0)
        for number, text in lines:
            self.line, self.column = number, _indent(text) + 1
            match = _PART.fullmatch(text.strip())
            if match is None:
                # A line further in than the names goes on with what the line before said.
                if found and _indent(text) > depth:
                    last = found[-1].columns[-1] if found[-1].columns else found[-1]
                    last.about = f"{last.about} {text.strip()}".strip()
                else:
                    self.refuse(f"`{text.strip()}` is not `name : symbol [unit]  low .. high`, `name : one of …` or `name : rows`")
                continue
            part = self.part(match["name"], match["rest"], gives=gives)
            if not match["dot"]:
                siblings = found
            elif found and found[-1].kind == "rows":
                siblings = found[-1].columns
            else:
                self.refuse(f"`.{part.name}` is a column, and no `rows` stands above it")
                continue
            if any(other.name == part.name for other in siblings):
                self.refuse(f"`{part.name}` stands twice")
            siblings.append(part)
        for part in found:
            if part.kind == "rows" and not part.columns:
                self.refuse(f"`{part.name}` is rows and lists no columns")
        return found

    def part(self, name: str, rest: str, *, gives: bool) -> Part:
        if rest == "rows" or rest.startswith("rows "):
            return Part(name, "rows", about=rest[5:].strip())
        if words := SYMBOLS.fullmatch(rest):
            return Part(name, "word", one_of=tuple(words["words"].split(", ")), optional=bool(words["none"]), about=words["rest"])
        part = Part(name, "number")
        measure = _MEASURE.fullmatch(rest)
        if measure is None:
            self.refuse(f"`{name} : {rest}` has no `symbol [unit]  low .. high`")
            return part
        part.symbol, part.unit = measure["symbol"], measure["unit"].strip()
        part.low, part.high = float(measure["low"]), float(measure["high"])
        part.optional, part.about = bool(measure["none"]), measure["rest"]
        if part.low >= part.high:
            self.refuse(f"the range of `{name}` must rise")
        try:
            unit(part.unit)
        except UnknownUnit as error:
            self.refuse(f"`{name}`: {error}")
            part.unit = "1"
        if gives:
            figures = _FIGURES.fullmatch(part.about)
            if figures is None or figures["side"] not in SIDES:
                self.refuse(f"`{name}` does not say how it is shown, such as `3 figures, up` or `whole, up`", f"the sides are {', '.join(SIDES)}")
            else:
                part.figures, part.side, part.about = int(figures["figures"] or 0), figures["side"], figures["rest"]
        return part

    def sources(self, lines: list[tuple[int, str]]) -> None:
        depth = min((_indent(text) for _, text in lines), default=0)
        for number, text in lines:
            self.line, self.column = number, _indent(text) + 1
            if _indent(text) > depth and self.signature.sources:
                self.signature.sources[-1]["where"] += " " + text.strip()
                continue
            match = _SOURCE.fullmatch(text.strip())
            if match is None:
                self.refuse(f"`{text.strip()}` is not `source-key: where`, `derived: …`, `practice` or `memory: …`")
            elif match["key"] in ("derived", "practice", "memory"):
                self.signature.sources.append({"basis": match["key"], "where": match["where"] or ""})
            else:
                self.signature.sources.append({"basis": "published", "key": match["key"], "where": match["where"] or ""})

    def lines_known(self) -> None:
        """Every letter of a displayed line is a symbol declared above, a function, or told of under `Holds when`."""
        functions = {*FUNCTIONS, "ln", "π"}
        numbers = [part for part in [*self.signature.inputs, *self.signature.gives] if part.kind == "number"]
        columns = [column for part in [*self.signature.inputs, *self.signature.gives] for column in part.columns]
        known = {part.symbol for part in [*numbers, *columns]} | set(re.findall(SYMBOL, self.signature.holds_when))
        symbols = [part.symbol for part in numbers]
        for symbol in sorted({symbol for symbol in symbols if symbols.count(symbol) > 1}):
            self.refuse(f"the symbol `{symbol}` stands for two things")
        for number, line in zip(self.line_numbers, self.signature.lines, strict=True):
            self.line = number
            # What stands left of the equals sign is named by the line itself.
            used = set(re.findall(SYMBOL, line.partition(" = ")[2] or line)) - functions.difference(symbols)
            self.signature.symbols = sorted({*self.signature.symbols, *used})
            for word in sorted(used - known):
                self.refuse(f"`{word}` in the line `{line}` is not a symbol of the inputs or outputs")


def _indent(text: str) -> int:
    return len(text) - len(text.lstrip())
