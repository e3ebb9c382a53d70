"""Every formula there is: its tree, its signature and its Python function, checked once."""

import ast
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cache
from importlib import import_module
from pathlib import Path

from builder.compile.refusal import Refusal, Refused
from builder.compile.signature import Signature, signatures_of
from builder.compile.subset import functions_of, parse_formulas
from builder.load.problems import BadInput, Problem, path_shown

FOLDER = Path(__file__).resolve().parent.parent / "formulas"
# Compiled for both sides, but no formulas of the trade: how numbers and the plot are put on a screen or on paper.
WRITING = ("number_text", "pull_drawing")
_NOT_FORMULAS = ("__init__", "mathematics")


@dataclass
class Catalogue:
    """Formula modules by stage, and what the formulas in them take and give."""

    modules: dict[str, ast.Module] = field(default_factory=dict)
    signatures: dict[str, Signature] = field(default_factory=dict)
    refusals: dict[Path, list[Refusal]] = field(default_factory=dict)


def read_catalogue(folder: Path = FOLDER) -> Catalogue:
    """Read and check every formula file; what is wrong stands in `refusals`, by file."""
    catalogue = Catalogue()
    sources = {path: path.read_text(encoding="utf-8") for path in sorted(folder.glob("*.py")) if path.stem not in _NOT_FORMULAS}
    functions = {}
    for path, source in sources.items():
        try:
            functions[path.stem] = functions_of(ast.parse(source))
        except (SyntaxError, ValueError):
            functions[path.stem] = {}
    for path, source in sources.items():
        try:
            tree = parse_formulas(source, functions)
            found = {} if path.stem in WRITING else signatures_of(tree, path.stem)
        except Refused as refused:
            catalogue.refusals[path] = refused.refusals
            continue
        catalogue.modules[path.stem] = tree
        for name, signature in found.items():
            if name in catalogue.signatures:
                text = f"`{name}` is a formula of {catalogue.signatures[name].stage}.py too"
                catalogue.refusals.setdefault(path, []).append(Refusal(1, 1, "NAME-01", text))
            catalogue.signatures[name] = signature
    return catalogue


def writing_functions(modules: dict[str, ast.Module]) -> set[str]:
    """The names of the functions that are on every phone, whichever formulas its job uses."""
    return {name for stage in WRITING for name in functions_of(modules[stage]) if not name.startswith("_")}


@cache
def formulas() -> Catalogue:
    """The project's own formulas. Raises BadInput where one is outside the subset."""
    catalogue = read_catalogue(FOLDER)
    if catalogue.refusals:
        raise BadInput([_problem(path, refusal) for path, refusals in catalogue.refusals.items() for refusal in refusals])
    return catalogue


def _problem(path: Path, refusal: Refusal) -> Problem:
    lines = path.read_text(encoding="utf-8").split("\n")
    source = lines[refusal.line - 1] if refusal.line <= len(lines) else ""
    return Problem(path_shown(path), refusal.line, refusal.column, refusal.code, refusal.text, refusal.advice, source, refusal.width)


def formula_signatures() -> dict[str, Signature]:
    """Every formula's signature by name."""
    return formulas().signatures


@cache
def signature_data() -> dict[str, dict]:
    """Every signature as the phone carries it."""
    return {name: signature.data() for name, signature in formulas().signatures.items()}


@cache
def function_of(name: str) -> Callable:
    """The Python function of a formula."""
    return getattr(import_module(f"builder.formulas.{formulas().signatures[name].stage}"), name)
