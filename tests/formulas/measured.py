"""The formulas' own source, run on quantities that carry their dimensions and refuse to be mixed."""

import ast
import builtins
import math
from collections.abc import Callable, Mapping
from copy import deepcopy
from functools import cache
from typing import Any

import pint

from builder.compile.catalogue import formulas
from builder.compile.constructs import FORMULAS, MATHEMATICS
from builder.formulas.mathematics import cannot_tell
from builder.quantity import units

MEASURE = pint.UnitRegistry()
# Exponents of the five bases, in pint's words.
_BASES = ("meter", "kilogram", "second", "ampere", "delta_degC")
# The one number with a unit that a formula may hold: it is exact, and nobody's policy.
GRAVITY = 9.80665


def quantity_of(symbol: str, si: float) -> pint.Quantity:
    """
    A number in SI with the dimension of a unit.

    A temperature stands on the Celsius scale, where only a difference can be multiplied.
    """
    of = units()[symbol]
    if of.dimension.kind == "temperature":
        return MEASURE.Quantity(si - 273.15, "degC")
    measure = MEASURE.Quantity(si)
    for base, exponent in zip(_BASES, of.dimension.exponents, strict=True):
        if exponent:
            measure = measure * MEASURE.Quantity(1, base) ** float(exponent)
    return measure


def measured(part: Mapping[str, Any], value: Any) -> Any:
    """An input in SI as a quantity; rows cell by cell, words as they are."""
    if value is None or part["kind"] == "word":
        return value
    if part["kind"] == "rows":
        return [{column["name"]: measured(column, row.get(column["name"])) for column in part["columns"]} for row in value]
    return quantity_of(part["unit"], value)


def _pure(value: Any) -> float:
    """The number of a quantity without dimension; any other raises."""
    return float(value.to("dimensionless").magnitude) if isinstance(value, pint.Quantity) else value


def _of_number(function: Callable) -> Callable:
    return lambda value: function(_pure(value))


def _of_like(function: Callable) -> Callable:
    """Greatest or least; a bare nothing among quantities is nothing of theirs."""
    def chosen(*values: Any) -> Any:
        found = function(*values)
        unit = next((value.units for value in values if isinstance(value, pint.Quantity)), None)
        return found if unit is None or isinstance(found, pint.Quantity) else MEASURE.Quantity(found, unit if found == 0 else None)

    return chosen


def _range(start: Any, end: Any) -> range:
    return range(int(_pure(start)), int(_pure(end)))


_OFFERED = {
    **{name: _of_number(getattr(math, name))
       for name in ("acos", "asin", "asinh", "atan", "ceil", "cos", "cosh", "exp", "floor", "log", "sin", "sinh", "tan")},
    **{name: getattr(builtins, name) for name in ("abs", "len", "str")},
    "max": _of_like(max), "min": _of_like(min),
    "sqrt": lambda value: value**0.5 if isinstance(value, pint.Quantity) else math.sqrt(value),
    "range": _range, "pi": math.pi, "cannot_tell": cannot_tell, "gravity": MEASURE.Quantity(GRAVITY, "m/s**2"),
    "__builtins__": {},
}


class _GravityNamed(ast.NodeTransformer):
    """Gravity gets its unit; every other number of a body counts as pure."""

    def visit_Constant(self, node: ast.Constant) -> ast.AST:
        return ast.copy_location(ast.Name("gravity", ast.Load()), node) if node.value == GRAVITY else node


def run_on_quantities(tree: ast.Module) -> dict[str, Any]:
    """What one formula module defines, over quantities; what it imports from its siblings likewise."""
    names = dict(_OFFERED)
    for node in tree.body:
        if isinstance(node, ast.ImportFrom) and node.module != MATHEMATICS:
            sibling = stage_on_quantities(node.module.removeprefix(FORMULAS))
            names |= {alias.name: sibling[alias.name] for alias in node.names}
    functions = [node for node in deepcopy(tree).body if isinstance(node, ast.FunctionDef)]
    module = ast.fix_missing_locations(_GravityNamed().visit(ast.Module(functions, [])))
    exec(compile(module, "<on quantities>", "exec"), names)  # noqa: S102
    return names


@cache
def stage_on_quantities(stage: str) -> dict[str, Any]:
    """The formulas of one stage and their building blocks, over quantities."""
    return run_on_quantities(formulas().modules[stage])


def on_quantities(name: str) -> Callable:
    """A formula over quantities."""
    return stage_on_quantities(formulas().signatures[name].stage)[name]


def unlike(part: Mapping[str, Any], expected: Any, found: Any) -> list[str]:
    """Where an output is not of its declared dimension, or not the number that the formula gives in SI."""
    name = part["name"]
    if part["kind"] == "word":
        return [] if expected == found else [f"{name}: {found} and not {expected}"]
    if part["kind"] == "rows":
        return [line for wanted, row in zip(expected, found, strict=True) for column in part["columns"]
                for line in unlike(column, wanted[column["name"]], row[column["name"]])]
    # Nothing at all is nothing in any unit.
    if not isinstance(found, pint.Quantity) and found == 0:
        found = quantity_of(part["unit"], 0.0)
    found = found if isinstance(found, pint.Quantity) else MEASURE.Quantity(float(found))
    wanted = quantity_of(part["unit"], expected)
    if found.dimensionality != wanted.dimensionality:
        return [f"{name}: {found.dimensionality} and not {wanted.dimensionality}"]
    number = found.to(wanted.units).magnitude
    return [] if math.isclose(number, wanted.magnitude, rel_tol=1e-9, abs_tol=1e-12) else [f"{name}: {number} and not {wanted.magnitude}"]
