"""The language of a library's expressions: what it holds, whatever the names mean."""

import ast
import warnings
from dataclasses import dataclass, field
from functools import lru_cache

from builder.compile.constructs import CALLED
from builder.compile.mistyped import mistyped
from builder.compile.refusal import Refusal, Refused
from builder.load.problems import nearest
from builder.quantity import parse_quantity

FUNCTIONS = ("abs", "first_given", "given", "max", "min", "quantity", "sqrt")
_DEEPEST = 40
_OUTSIDE = CALLED | {ast.Subscript: "`[…]`", ast.Dict: "`{…}`", ast.List: "a list"}


@dataclass(frozen=True)
class Expression:
    """A text that was read and found to be in the language; `names` are the first names it uses."""

    text: str
    node: ast.expr = field(compare=False, repr=False)
    names: frozenset[str] = field(compare=False)


def parse_expression(text: str) -> Expression:
    """Read an expression. Raises Refused where it is not of this language; names are not checked."""
    found = _parsed(text)
    if isinstance(found, Refused):
        raise found
    return found


@lru_cache(maxsize=100_000)
def _parsed(text: str) -> Expression | Refused:
    try:
        # A leading blank would be an indentation; `Placed` gives it back to the columns.
        with warnings.catch_warnings(action="ignore"):
            tree = ast.parse(text.strip(), mode="eval")
    except SyntaxError as error:
        if habit := mistyped(text):
            return Refused([habit])
        column = min(max(error.offset or 1, 1) + len(text) - len(text.lstrip()), len(text) + 1)
        return Refused([Refusal(1, column, "EXPR-01", "this can't be read as an expression")])
    except (ValueError, RecursionError, MemoryError):
        return Refused([Refusal(1, 1, "EXPR-01", "this can't be read as an expression")])
    reader = _Reader(text)
    reader.read(tree.body, 0)
    if reader.refusals:
        return Refused(reader.refusals)
    return Expression(text, tree.body, frozenset(reader.names))


class Placed:
    """Where a node stands in the text as written."""

    def __init__(self, text: str):
        self.text = text
        self.leading = len(text) - len(text.lstrip())
        self.lines = text.strip().split("\n")
        self.refusals: list[Refusal] = []

    def refuse(self, node: ast.AST, code: str, text: str, advice: str = "") -> None:
        line = self.lines[node.lineno - 1].encode()
        column = len(line[:node.col_offset].decode(errors="ignore")) + 1
        width = len(line[node.col_offset:node.end_col_offset].decode(errors="ignore")) if node.end_lineno == node.lineno else 1
        if node.lineno == 1:
            column += self.leading
        self.refusals.append(Refusal(node.lineno, column, code, text, advice, max(width, 1)))


class _Reader(Placed):
    """What the language holds, whatever the names mean."""

    def __init__(self, text: str):
        super().__init__(text)
        self.names: set[str] = set()

    def read(self, node: ast.expr, depth: int) -> None:
        if depth > _DEEPEST:
            self.refuse(node, "EXPR-01", "this expression is nested too deep to be read by a person")
            return
        match node:
            case ast.Constant(value=bool() | str()):
                return
            case ast.Constant(value=int() | float() as number):
                if abs(number) > 1e15:
                    self.refuse(node, "EXPR-01", "this number is too large")
                return
            case ast.Name(id=name):
                self.names.add(name)
                return
            case ast.Attribute(value=value):
                return self.read(value, depth + 1)
            case ast.BinOp(left=left, op=ast.Add() | ast.Sub() | ast.Mult() | ast.Div(), right=right):
                parts = [left, right]
            case ast.BinOp(left=left, op=ast.Pow(), right=ast.Constant(value=int() as power)) if 0 <= power <= 9:
                parts = [left]
            case ast.BinOp(op=ast.Pow()):
                return self.refuse(node.right, "EXPR-01", "a power is a whole number from 0 to 9, written out")
            case ast.UnaryOp(op=ast.USub() | ast.Not(), operand=operand):
                parts = [operand]
            case ast.BoolOp(values=values):
                parts = values
            case ast.Compare():
                parts = self.compared(node)
            case ast.IfExp(test=test, body=body, orelse=otherwise):
                parts = [test, body, otherwise]
            case ast.Call():
                parts = self.called(node)
            case _:
                what = getattr(node, "op", node)
                return self.refuse(node, "EXPR-01", f"{_OUTSIDE.get(type(what), type(what).__name__)} is not part of an expression here")
        for part in parts:
            self.read(part, depth + 1)

    def compared(self, node: ast.Compare) -> list[ast.expr]:
        parts = [node.left]
        for operator, right in zip(node.ops, node.comparators, strict=True):
            if isinstance(operator, ast.In | ast.NotIn):
                words = right.elts if isinstance(right, ast.Tuple) else []
                if not words or not all(isinstance(word, ast.Constant) and isinstance(word.value, str) for word in words):
                    self.refuse(right, "EXPR-01", "after `in` come words in brackets, such as `in (\"single\", \"cradled\")`")
                if len(node.ops) > 1:
                    self.refuse(node, "EXPR-01", "`in` stands alone, not in a chain")
            elif isinstance(operator, ast.Is | ast.IsNot):
                self.refuse(node, "EXPR-01", "`is` is not part of an expression here", "ask `given(x)` or compare with `==`")
            else:
                parts.append(right)
        return parts

    def called(self, node: ast.Call) -> list[ast.expr]:
        match node:
            case ast.Call(func=ast.Name(id=name), args=arguments, keywords=[]) if name in FUNCTIONS:
                return self.function(node, name, arguments)
            case ast.Call(func=ast.Name(id=name)) if name in FUNCTIONS:
                self.refuse(node, "EXPR-01", f"`{name}` is called with plain arguments, not by keyword")
            case ast.Call(func=ast.Name(id=name)):
                self.refuse(node, "EXPR-02", f"there is no function `{name}` here", nearest(name, FUNCTIONS))
            case ast.Call(func=ast.Attribute(value=ast.Name(id="table")), args=[], keywords=keywords):
                if any(keyword.arg is None for keyword in keywords):
                    self.refuse(node, "EXPR-01", "a table is asked by key, such as `table.name(key=value).column`")
                self.names.add("table")
                return [keyword.value for keyword in keywords]
            case _:
                self.refuse(node, "EXPR-01", "only functions and tables are called, a table by key: `table.name(key=value).column`")
        return []

    def function(self, node: ast.Call, name: str, arguments: list[ast.expr]) -> list[ast.expr]:
        least, most = {"abs": (1, 1), "sqrt": (1, 1), "given": (1, 1), "quantity": (1, 1)}.get(name, (2, 9))
        if not least <= len(arguments) <= most:
            takes = f"{least}" if least == most else f"{least} to {most}"
            self.refuse(node, "EXPR-01", f"`{name}` takes {takes} argument{'' if most == 1 else 's'}, not {len(arguments)}")
        elif name == "quantity":
            if not (isinstance(arguments[0], ast.Constant) and isinstance(arguments[0].value, str)):
                self.refuse(node, "EXPR-01", "`quantity` takes a number with its unit in quotes, such as `quantity(\"50 V\")`")
                return []
            try:
                parse_quantity(arguments[0].value)
            except ValueError as error:
                self.refuse(arguments[0], "UNIT-01", str(error))
            return []
        return arguments


def path_of(node: ast.expr) -> list[str]:
    """`run.cable.mass` as its names."""
    if isinstance(node, ast.Name):
        return [node.id]
    return [*path_of(node.value), node.attr]


@dataclass(frozen=True)
class Limit:
    """One comparison that an acceptance makes: `length_in_hand >= needed.length`, `drop.drop_ratio <= table.policy.drop`."""

    name: str | None  # the reading, where it stands there by itself
    op: str  # as if what is held against the limit stood on the left
    node: ast.expr  # the limit
    of: tuple[str, str] | None  # the working and output where the limit is just that
    subject: ast.expr | None = None  # what is held against it, where that is no bare name
    units_of: tuple[tuple[str, ...], ...] = ()  # output or table value that the subject and the limit are, if they are one
    about: tuple[str, ...] = ()  # what stands before a dot, the subject's first: workings among it


_OPS = {ast.Eq: "==", ast.NotEq: "!=", ast.Lt: "<", ast.LtE: "<=", ast.Gt: ">", ast.GtE: ">="}
_TURNED = {"==": "==", "!=": "!=", "<": ">", "<=": ">=", ">": "<", ">=": "<="}


def limits_of(expression: Expression) -> list[Limit]:
    """The comparisons that all have to hold, in the order written, where one side can be held against the other."""
    found = []
    for part in _all_of(expression.node):
        if not isinstance(part, ast.Compare) or isinstance(part.ops[0], ast.In | ast.NotIn):
            continue
        for left, operator, right in zip([part.left, *part.comparators], part.ops, part.comparators, strict=False):
            op = _OPS[type(operator)]
            if isinstance(left, ast.Name):
                found.append(Limit(left.id, op, right, _output_of(right), about=_before_a_dot(right)))
            if isinstance(right, ast.Name):
                found.append(Limit(right.id, _TURNED[op], left, _output_of(left), about=_before_a_dot(left)))
            if not isinstance(left, ast.Name) and not isinstance(right, ast.Name) and op not in ("==", "!="):
                found += _worked_out(left, op, right)
    return found


def _worked_out(left: ast.expr, op: str, right: ast.expr) -> list[Limit]:
    """
    What a working is held against: the table's figure, or else the side that has to be the greater.

    Nothing where neither side names the unit by itself.
    """
    tables = ["table" in _before_a_dot(side) for side in (left, right)]
    limit_is_left = op in (">=", ">") if tables[0] == tables[1] else tables[0]
    subject, limit = (right, left) if limit_is_left else (left, right)
    about = tuple(dict.fromkeys(_before_a_dot(subject) + _before_a_dot(limit)))
    units_of = (_unit_of(subject), _unit_of(limit))
    if not any(units_of):
        return []
    return [Limit(None, _TURNED[op] if limit_is_left else op, limit, _output_of(limit), subject, units_of, about)]


def _before_a_dot(node: ast.expr) -> tuple[str, ...]:
    """The names that something is taken from, each once, in the order written: workings, items, `table`."""
    if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
        return (node.value.id,)
    return tuple(dict.fromkeys(name for child in ast.iter_child_nodes(node) for name in _before_a_dot(child)))


def _unit_of(node: ast.expr) -> tuple[str, ...]:
    match node:
        case ast.IfExp(body=body):
            return _unit_of(body)
        case ast.Attribute(value=ast.Attribute(value=ast.Name(id="table"), attr=table), attr=value):
            return ("table", table, value)
        case ast.Attribute(value=ast.Call(func=ast.Attribute(value=ast.Name(id="table"), attr=table)), attr=column):
            return ("table", table, column)
    return _output_of(node) or ()


def _all_of(node: ast.expr) -> list[ast.expr]:
    if isinstance(node, ast.BoolOp) and isinstance(node.op, ast.And):
        return [part for value in node.values for part in _all_of(value)]
    return [node]


def _output_of(node: ast.expr) -> tuple[str, str] | None:
    match node:
        case ast.Attribute(value=ast.Name(id=name), attr=output):
            return name, output
    return None
