"""An expression against the names that are there: unknown names, unfit kinds, mixed dimensions."""

import ast
from collections.abc import Mapping
from fractions import Fraction

from builder.compile.kinds import Kind, Number, Record, Scope, Table, Truth, Word, fits, kind_of_part, misfit
from builder.compile.language import Expression, Placed, parse_expression
from builder.compile.mistyped import hyphened
from builder.compile.refusal import Refused
from builder.load.problems import nearest
from builder.quantity import NUMBER, dimensions, parse_quantity

__all__ = ["check_expression", "fits", "kind_of_part", "misfit", "parse_expression"]

_TEMPERATURE = dimensions()["temperature"]
_DIFFERENCE = dimensions()["temperature difference"]


def check_expression(text: str, scope: Scope) -> tuple[Expression, Kind]:
    """
    Read an expression and find its kind in a scope.

    Raises Refused with every unknown name, unfit kind and mixed dimension in it; line and column
    count within the text.
    """
    expression = parse_expression(text)
    check = _Check(text, scope)
    kind = check.kind(expression.node)
    if check.refusals:
        raise Refused(check.refusals)
    if kind is None or isinstance(kind, Table):
        check.refuse(expression.node, "EXPR-03", f"`{text.strip()}` is a table and not a value", "name the column: `table.name(key=value).column`")
        raise Refused(check.refusals)
    return expression, kind


class _Check(Placed):
    """Kinds of every part; None where the part was refused already."""

    def __init__(self, text: str, scope: Scope):
        super().__init__(text)
        self.scope = scope

    def shown(self, node: ast.expr) -> str:
        return f"`{ast.get_source_segment(self.text.strip(), node) or ast.unparse(node)}`"

    def kind(self, node: ast.expr) -> Kind | None:
        match node:
            case ast.Constant(value=bool()):
                return Truth()
            case ast.Constant(value=str() as word):
                return Word((word,))
            case ast.Constant():
                return Number()
            case ast.Name(id=name):
                return self.named(node, name, self.scope.names)
            case ast.Attribute(value=value, attr=name):
                return self.attribute(node, value, name)
            case ast.BinOp():
                return self.arithmetic(node)
            case ast.UnaryOp(op=ast.Not(), operand=operand):
                return self.truth(operand)
            case ast.UnaryOp(operand=operand):
                return self.number(operand)
            case ast.BoolOp(values=values):
                for value in values:
                    self.truth(value)
                return Truth()
            case ast.Compare():
                return self.comparison(node)
            case ast.IfExp(test=test, body=body, orelse=otherwise):
                self.truth(test)
                return self.same(node, [body, otherwise], "choose between")
            case ast.Call(func=ast.Name(id=name), args=arguments):
                return self.function(node, name, arguments)
            case ast.Call(func=ast.Attribute(value=table, attr=name), keywords=keywords):
                return self.row(node, table, name, keywords)
        raise AssertionError(ast.dump(node))

    def named(self, node: ast.expr, name: str, known: Mapping[str, Kind], of: ast.expr | None = None) -> Kind | None:
        found = known.get(name)
        if found is None:
            said = f"{self.shown(of)} has no `{name}`" if of else f"`{name}` is not known here"
            self.refuse(node, "EXPR-02", said, nearest(name, known))
        return found

    def attribute(self, node: ast.Attribute, value: ast.expr, name: str) -> Kind | None:
        of = self.kind(value)
        match of:
            case None:
                return None
            case Record(fields=fields):
                return self.named(node, name, fields, value)
            case Table(keys=keys, columns=columns):
                if keys and not isinstance(value, ast.Call):
                    asked = ", ".join(f"{key}=…" for key in keys)
                    self.refuse(node, "EXPR-02", f"{self.shown(value)} is asked by key", f"write {self.shown(value)[:-1]}({asked}).{name}`")
                    return None
                return self.named(node, name, columns, value)
        self.refuse(node, "EXPR-03", f"{self.shown(value)} is {of} and has no fields")
        return None

    def row(self, node: ast.Call, value: ast.expr, name: str, keywords: list[ast.keyword]) -> Kind | None:
        table = self.attribute(node.func, value, name)
        if not isinstance(table, Table):
            return None
        given = {keyword.arg: keyword for keyword in keywords}
        for key, keyword in given.items():
            kind = self.kind(keyword.value)
            if key not in table.keys:
                self.refuse(keyword, "EXPR-02", f"`{name}` has no key `{key}`", nearest(key, table.keys))
            elif kind is not None and not fits(kind, table.keys[key]):
                self.refuse(keyword.value, *misfit(f"the key `{key}`", table.keys[key], kind))
        for key in table.keys:
            if key not in given:
                self.refuse(node, "EXPR-02", f"`{name}` needs the key `{key}` too")
        return table

    def function(self, node: ast.Call, name: str, arguments: list[ast.expr]) -> Kind | None:
        if name == "quantity":
            of = parse_quantity(arguments[0].value).unit
            return Number(of.dimension, of.symbol)
        if name == "given":
            if not isinstance(arguments[0], ast.Attribute | ast.Name):
                self.refuse(arguments[0], "EXPR-03", "`given` asks about one name")
            self.kind(arguments[0])
            return Truth()
        if name == "abs":
            return self.number(arguments[0])
        if name == "sqrt":
            of = self.number(arguments[0])
            return of and Number(of.dimension.to_the(Fraction(1, 2)), "")
        return self.same(node, arguments, f"give `{name}` both", numbers=name != "first_given")

    def arithmetic(self, node: ast.BinOp) -> Kind | None:
        if (name := hyphened(self.shown(node)[1:-1])) in self.scope.names:
            self.refuse(node, "EXPR-01", f"{self.shown(node)} is read as a subtraction", f"in an expression a name is written `{name}`")
            return self.scope.names[name]
        left, right = self.number(node.left), self.number(node.right)
        if left is None or right is None:
            return None
        if isinstance(node.op, ast.Pow):
            return Number(left.dimension.to_the(Fraction(node.right.value)), "")
        if isinstance(node.op, ast.Add | ast.Sub):
            return self.summed(node, left, right)
        if _TEMPERATURE in (left.dimension, right.dimension):
            self.refuse(node, "UNIT-03", "a temperature on a scale can't be multiplied or divided",
                        "take the difference of two temperatures first")
            return None
        sign = 1 if isinstance(node.op, ast.Mult) else -1
        dimension = left.dimension.times(right.dimension, sign)
        return Number(dimension, left.unit if right.dimension == NUMBER else "")

    def summed(self, node: ast.BinOp, left: Number, right: Number) -> Kind | None:
        plus = isinstance(node.op, ast.Add)
        if _TEMPERATURE in (left.dimension, right.dimension):
            if not plus and left.dimension == right.dimension:
                return Number(_DIFFERENCE, "K")
            if left.dimension == _TEMPERATURE and right.dimension == _DIFFERENCE:
                return left
            if plus and left.dimension == _DIFFERENCE and right.dimension == _TEMPERATURE:
                return right
        elif left.dimension == right.dimension:
            return left
        self.mixed(node, "add" if plus else "subtract", node.left, left, node.right, right)
        return None

    def comparison(self, node: ast.Compare) -> Kind | None:
        left = node.left
        for operator, right in zip(node.ops, node.comparators, strict=True):
            if isinstance(operator, ast.In | ast.NotIn):
                for word in right.elts:
                    self.comparable(node, left, word, operator)
            else:
                self.comparable(node, left, right, operator)
            left = right
        return Truth()

    def comparable(self, node: ast.Compare, left: ast.expr, right: ast.expr, operator: ast.cmpop) -> None:
        if self.bare_word(left, right) or self.bare_word(right, left):
            return
        a, b = self.kind(left), self.kind(right)
        ordered = not isinstance(operator, ast.Eq | ast.NotEq | ast.In | ast.NotIn)
        match a, b:
            case (None, _) | (_, None):
                pass
            case Number(), Number():
                if a.dimension != b.dimension:
                    self.mixed(node, "compare", left, a, right, b)
            case Word(), Word() if not ordered:
                for literal, word, other in ((left, a, b), (right, b, a)):
                    if isinstance(literal, ast.Constant) and other.one_of and word.one_of[0] not in other.one_of:
                        self.refuse(literal, "EXPR-03", f"`{word.one_of[0]}` is none of the words that can stand here",
                                    nearest(word.one_of[0], other.one_of))
            case Truth(), Truth() if not ordered:
                pass
            case (Word(), Word()) | (Truth(), Truth()):
                self.refuse(node, "EXPR-03", "words, and what is true or false, have no order", "compare them with `==` or `!=`")
            case _:
                self.refuse(node, "EXPR-03", f"{self.shown(left)} is {a} and {self.shown(right)} is {b}: they can't be compared")

    def bare_word(self, node: ast.expr, other: ast.expr) -> bool:
        """Whether a word without its quotes, or `true`, is compared; then what to write was said."""
        segment = self.shown(node)[1:-1]
        if segment in self.scope.names or not isinstance(node, ast.Name | ast.BinOp):
            return False
        of = _Check(self.text, self.scope).kind(other)
        if segment in ("true", "false"):
            advice = f"ask `{'' if segment == 'true' else 'not '}{self.shown(other)[1:-1]}` alone"
        elif isinstance(of, Word) and segment in (of.one_of or ()):
            advice = f"put the word in quotes: `\"{segment}\"`"
        else:
            return False
        self.refuse(node, "EXPR-02", f"`{segment}` is not known here", advice)
        return True

    def same(self, node: ast.expr, parts: list[ast.expr], doing: str, *, numbers: bool = False) -> Kind | None:
        kinds = [self.number(part) if numbers else self.kind(part) for part in parts]
        if None in kinds:
            return None
        first = kinds[0]
        for part, kind in zip(parts[1:], kinds[1:], strict=True):
            if isinstance(first, Number) and isinstance(kind, Number):
                if first.dimension != kind.dimension:
                    self.mixed(node, doing, parts[0], first, part, kind)
            elif type(first) is not type(kind):
                self.refuse(node, "EXPR-03", f"{self.shown(parts[0])} is {first} and {self.shown(part)} is {kind}")
        if isinstance(first, Word):
            words = [kind.one_of for kind in kinds if isinstance(kind, Word)]
            return Word(tuple(dict.fromkeys(word for one in words for word in one)) if all(words) else None)
        return first

    def mixed(self, node: ast.expr, doing: str, left: ast.expr, a: Number, right: ast.expr, b: Number) -> None:
        advice = ""
        for part, kind, other in ((left, a, b), (right, b, a)):
            if kind.dimension == NUMBER and isinstance(part, ast.Constant) and other.unit:
                advice = f"give the number its unit: `quantity(\"{part.value} {other.unit}\")`"
        self.refuse(node, "UNIT-03", f"can't {doing} {self.shown(left)}, {a}, and {self.shown(right)}, {b}", advice)

    def number(self, node: ast.expr) -> Number | None:
        kind = self.kind(node)
        if kind is None or isinstance(kind, Number):
            return kind
        self.refuse(node, "EXPR-03", f"{self.shown(node)} is {kind}; a number is wanted")
        return None

    def truth(self, node: ast.expr) -> Truth | None:
        kind = self.kind(node)
        if kind is not None and not isinstance(kind, Truth):
            self.refuse(node, "EXPR-03", f"{self.shown(node)} is {kind}; something true or false is wanted")
        return Truth()
