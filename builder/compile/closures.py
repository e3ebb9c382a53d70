"""Expressions worked out in Python: each distinct text becomes one closure, once."""

import ast
import math
import operator
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from builder.compile.arithmetic import above, alike, at_least, at_most, below
from builder.compile.language import limits_of, parse_expression, path_of

Closure = Callable[[Any], Any]

_COMPARED = {ast.Eq: alike, ast.NotEq: lambda a, b: not alike(a, b), ast.GtE: at_least, ast.LtE: at_most, ast.Gt: above, ast.Lt: below}
_WORKED = {ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv, ast.Pow: operator.pow}
_FUNCTIONS = {"abs": abs, "min": min, "max": max, "sqrt": math.sqrt}


@dataclass(frozen=True)
class BoundLimit:
    """A limit of an acceptance, ready to be worked out."""

    name: str | None
    op: str
    of: tuple[str, str] | None
    limit: Closure
    subject: Closure | None
    units_of: tuple[tuple[str, ...], ...]
    about: tuple[str, ...]


@dataclass(frozen=True)
class Worked:
    """An expression ready to be asked of an environment."""

    value: Closure
    limits: tuple[BoundLimit, ...]


@lru_cache(maxsize=100_000)
def worked(text: str) -> Worked:
    """The closure of an expression and of its limits. Raises Refused where the text is no expression."""
    expression = parse_expression(text)
    limits = tuple(
        BoundLimit(limit.name, limit.op, limit.of, _closure(limit.node), limit.subject and _closure(limit.subject), limit.units_of, limit.about)
        for limit in limits_of(expression)
    )
    return Worked(_closure(expression.node), limits)


def _closure(node: ast.expr) -> Closure:
    match node:
        case ast.Constant(value=value):
            return lambda e: value
        case ast.Name(id=name):
            path = (name,)
            return lambda e: e.path(path)
        case ast.Attribute(value=ast.Call(func=ast.Attribute(attr=table), keywords=keywords), attr=column):
            keys = {keyword.arg: _closure(keyword.value) for keyword in keywords}
            return lambda e: e.cell(table, keys, column)
        case ast.Attribute():
            path = tuple(path_of(node))
            return lambda e: e.path(path)
        case ast.BinOp(left=left, op=op, right=right):
            a, b, work = _closure(left), _closure(right), _WORKED[type(op)]
            return lambda e: work(a(e), b(e))
        case ast.UnaryOp(op=ast.Not(), operand=operand):
            a = _closure(operand)
            return lambda e: not a(e)
        case ast.UnaryOp(operand=operand):
            a = _closure(operand)
            return lambda e: -a(e)
        case ast.BoolOp(op=op, values=values):
            parts = [_closure(value) for value in values]
            if isinstance(op, ast.And):
                return lambda e: all(part(e) for part in parts)
            return lambda e: any(part(e) for part in parts)
        case ast.Compare():
            return _comparison(node)
        case ast.IfExp(test=test, body=body, orelse=otherwise):
            asked, a, b = _closure(test), _closure(body), _closure(otherwise)
            return lambda e: a(e) if asked(e) else b(e)
        case ast.Call(func=ast.Name(id=name), args=arguments):
            return _call(name, arguments)
    raise AssertionError(ast.dump(node))


def _comparison(node: ast.Compare) -> Closure:
    if isinstance(node.ops[0], ast.In | ast.NotIn):
        a, words = _closure(node.left), frozenset(word.value for word in node.comparators[0].elts)
        if isinstance(node.ops[0], ast.In):
            return lambda e: a(e) in words
        return lambda e: a(e) not in words
    values = [_closure(value) for value in (node.left, *node.comparators)]
    compared = [_COMPARED[type(op)] for op in node.ops]
    if len(compared) == 1:
        a, b = values
        only = compared[0]
        return lambda e: only(a(e), b(e))
    pairs = list(zip(compared, values, values[1:], strict=False))
    return lambda e: all(compare(a(e), b(e)) for compare, a, b in pairs)


def _call(name: str, arguments: list[ast.expr]) -> Closure:
    if name == "quantity":
        text = arguments[0].value
        return lambda e: e.quantity(text)
    parts = [_closure(argument) for argument in arguments]
    if name == "given":
        return lambda e: e.given(parts[0])
    if name == "first_given":
        return lambda e: e.first_given(parts)
    function = _FUNCTIONS[name]
    return lambda e: function(*(part(e) for part in parts))
