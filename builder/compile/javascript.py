"""Formulas and expressions written as JavaScript modules."""

import ast
import json
from collections.abc import Collection, Iterable

from builder.compile.constructs import ARITHMETIC, COMPARISONS, CONSTANTS, FORMULAS, FUNCTIONS, MATHEMATICS
from builder.compile.language import Limit, limits_of, parse_expression, path_of
from builder.compile.subset import functions_of
from builder.quantity import units_data

RUNTIME = "./mathematics.mjs"
# `$` can't begin a Python name, so nothing in a formula can hide the runtime.
_OPENING = f'import * as $ from "{RUNTIME}";\n'
_ALIKE = {ast.Eq: "$.alike", ast.NotEq: "!$.alike", ast.GtE: "$.atLeast", ast.LtE: "$.atMost", ast.Gt: "$.above", ast.Lt: "$.below"}


def formulas_module(modules: dict[str, ast.Module], wanted: Collection[str]) -> str:
    """
    The wanted formulas, and what they rest on, as one ES module.

    modules: stage → its checked tree. Exports `functions` by formula name; their signatures travel
    in job.json.
    """
    functions: dict[str, _Function] = {}
    for stage, tree in modules.items():
        names = {name: f"{stage}${name}" for name in functions_of(tree)}
        for node in tree.body:
            if isinstance(node, ast.ImportFrom) and node.module != MATHEMATICS:
                sibling = node.module.removeprefix(FORMULAS)
                names |= {alias.name: f"{sibling}${alias.name}" for alias in node.names}
        for node in tree.body:
            if isinstance(node, ast.FunctionDef):
                functions[names[node.name]] = _Function(names, node, stage)
    exported = {name: function for name, function in functions.items() if function.node.name in wanted}
    needed, waiting = set(), list(exported)
    while waiting:
        name = waiting.pop()
        if name not in needed:
            needed.add(name)
            waiting += functions[name].calls()
    parts = [f"// {function.place}\n{function.text()}" for name, function in functions.items() if name in needed]
    public = [f"  {function.node.name}: {name},\n" for name, function in exported.items()]
    return "\n".join([_OPENING, *parts, f"export const functions = {{\n{''.join(public)}}};\n"])


def expressions_module(texts: Iterable[str], acceptances: Collection[str]) -> str:
    """
    Every distinct expression as one ES module.

    texts        every expression; `acceptances` are those among them that judge a reading
    Exports `expressions`: text → {value: (e) => …} where `e` is the environment, and for an acceptance limits besides:
    [{name, op, of, limit: (e) => …, about}], a limit without a name with {subject: (e) => …, unitsOf}. The key is the text
    as the library has it: names are found by the environment, so one text means the same thing wherever it stands.
    """
    lines = []
    for text in sorted(set(texts)):
        expression = parse_expression(text)
        limits = f", limits: [{', '.join(_limit(limit) for limit in limits_of(expression))}]" if text in acceptances else ""
        lines.append(f"  {_json(text)}: {{ value: (e) => {_ExpressionWriter().write(expression.node)}{limits} }},\n")
    return f"{_OPENING}\nexport const expressions = {{\n{''.join(lines)}}};\n"


def _limit(limit: Limit) -> str:
    parts = [f"name: {_json(limit.name)}, op: {_json(limit.op)}, of: {_json(limit.of)}, about: {_json(limit.about)}",
             f"limit: (e) => {_ExpressionWriter().write(limit.node)}"]
    if limit.subject is not None:
        parts.append(f"subject: (e) => {_ExpressionWriter().write(limit.subject)}, unitsOf: {_json(limit.units_of)}")
    return f"{{ {', '.join(parts)} }}"


def units_module() -> str:
    """Every unit as an ES module: `units`, by symbol."""
    return f"export const units = {_json(units_data())};\n"


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


class _Writer:
    """What formulas and expressions have in common."""

    def write(self, node: ast.expr) -> str:
        match node:
            case ast.Constant(value=None):
                return "null"
            case ast.Constant(value=bool() as truth):
                return "true" if truth else "false"
            case ast.Constant(value=str() as text):
                return _json(text)
            case ast.Constant(value=number):
                return repr(number)
            case ast.BinOp(left=left, op=ast.Div(), right=right):
                return f"$.divide({self.write(left)}, {self.write(right)})"
            case ast.BinOp(left=left, op=ast.Pow(), right=right):
                return f"$.power({self.write(left)}, {self.write(right)})"
            case ast.BinOp(left=left, op=operator, right=right):
                return f"({self.write(left)} {ARITHMETIC[type(operator)]} {self.write(right)})"
            case ast.UnaryOp(op=ast.USub(), operand=operand):
                return f"(-{self.write(operand)})"
            case ast.UnaryOp(op=ast.Not(), operand=operand):
                return f"!{self.truth(operand)}"
            case ast.BoolOp(op=operator, values=values):
                word = " && " if isinstance(operator, ast.And) else " || "
                return f"({word.join(self.truth(value) for value in values)})"
            case ast.Compare(left=left, ops=operators, comparators=rights):
                pairs = zip(operators, [left, *rights], rights, strict=False)
                return f"({' && '.join(self.compared(a, operator, b) for operator, a, b in pairs)})"
            case ast.IfExp(test=test, body=body, orelse=otherwise):
                return f"({self.truth(test)} ? {self.write(body)} : {self.write(otherwise)})"
        return self.special(node)

    def truth(self, node: ast.expr) -> str:
        return self.write(node)

    def compared(self, left: ast.expr, operator: ast.cmpop, right: ast.expr) -> str:
        raise NotImplementedError

    def special(self, node: ast.expr) -> str:
        raise NotImplementedError


class _ExpressionWriter(_Writer):
    """An expression of a library; `e` is the environment that knows the names."""

    def compared(self, left: ast.expr, operator: ast.cmpop, right: ast.expr) -> str:
        if isinstance(operator, ast.In | ast.NotIn):
            words = _json([word.value for word in right.elts])
            return f"{'!' if isinstance(operator, ast.NotIn) else ''}{words}.includes({self.write(left)})"
        return f"{_ALIKE[type(operator)]}({self.write(left)}, {self.write(right)})"

    def special(self, node: ast.expr) -> str:
        match node:
            case ast.Name(id=name):
                return f"e.path({_json([name])})"
            case ast.Attribute(value=ast.Call(func=ast.Attribute(attr=table), keywords=keywords), attr=column):
                keys = ", ".join(f"{keyword.arg}: () => {self.write(keyword.value)}" for keyword in keywords)
                return f"e.cell({_json(table)}, {{ {keys} }}, {_json(column)})"
            case ast.Attribute():
                return f"e.path({_json(path_of(node))})"
            case ast.Call(func=ast.Name(id="quantity"), args=[ast.Constant(value=text)]):
                return f"e.quantity({_json(text)})"
            case ast.Call(func=ast.Name(id="given"), args=[argument]):
                return f"e.given(() => {self.write(argument)})"
            case ast.Call(func=ast.Name(id="first_given"), args=arguments):
                return f"e.firstGiven([{', '.join(f'() => {self.write(argument)}' for argument in arguments)}])"
            case ast.Call(func=ast.Name(id=name), args=arguments):
                return f"$.{name}({', '.join(self.write(argument) for argument in arguments)})"
        raise AssertionError(ast.dump(node))


class _Function(_Writer):
    """One formula or building block."""

    def __init__(self, names: dict[str, str], node: ast.FunctionDef, stage: str):
        self.names, self.node = names, node
        self.place = f"{stage}.py:{node.lineno}"
        self.arguments = [argument.arg for argument in node.args.args]
        assigned = {
            name.id for part in ast.walk(node) if isinstance(part, ast.Assign | ast.AugAssign | ast.For)
            for name in (part.targets if isinstance(part, ast.Assign) else [part.target])
        }
        self.local = sorted(assigned - set(self.arguments))

    def calls(self) -> list[str]:
        """The other compiled functions that this one calls."""
        parts = ast.walk(self.node)
        return [self.names[part.func.id] for part in parts
                if isinstance(part, ast.Call) and isinstance(part.func, ast.Name) and part.func.id in self.names]

    def text(self) -> str:
        body = self.node.body[1 if ast.get_docstring(self.node) else 0:]
        lines = [f"function {self.names[self.node.name]}({', '.join(self.arguments)}) {{"]
        if self.local:
            lines.append(f"  let {', '.join(self.local)};")
        for statement in body:
            lines += self.statement(statement, "  ")
        return "\n".join([*lines, "}\n"])

    def statement(self, node: ast.stmt, indent: str) -> list[str]:
        match node:
            case ast.Assign(targets=[ast.Name(id=name)], value=value):
                return [f"{indent}{name} = {self.write(value)};"]
            case ast.AugAssign(target=target, op=operator, value=value):
                whole = self.write(ast.BinOp(target, operator, value))
                return [f"{indent}{target.id} = {whole};"]
            case ast.Return(value=value):
                return [f"{indent}return {self.write(value)};"]
            case ast.Expr(value=ast.Call(func=ast.Name(id="cannot_tell"), args=[reason])):
                return [f"{indent}$.cannot_tell({self.write(reason)});"]
            case ast.Expr(value=ast.Call(func=ast.Attribute(value=ast.Name(id=name)), args=[row])):
                return [f"{indent}{name}.push({self.write(row)});"]
            case ast.Expr(value=call):
                return [f"{indent}{self.write(call)};"]
            case ast.For(target=ast.Name(id=name), iter=rows, body=body):
                # The counter is a fresh one each round, as in Python: the body may set its name to something else.
                return [f"{indent}for (const $each of {self.rows(rows)}) {{", f"{indent}  {name} = $each;",
                        *self.block(body, indent), f"{indent}}}"]
            case ast.If(test=test, body=body, orelse=otherwise):
                lines = [f"{indent}if ({self.truth(test)}) {{", *self.block(body, indent)]
                if otherwise:
                    lines += [f"{indent}}} else {{", *self.block(otherwise, indent)]
                return [*lines, f"{indent}}}"]
        raise AssertionError(ast.dump(node))

    def block(self, statements: list[ast.stmt], indent: str) -> list[str]:
        return [line for statement in statements for line in self.statement(statement, indent + "  ")]

    def rows(self, node: ast.expr) -> str:
        if isinstance(node, ast.Call):
            return f"$.range({', '.join(self.write(argument) for argument in node.args)})"
        return self.write(node)

    def truth(self, node: ast.expr) -> str:
        written = self.write(node)
        return f"$.truth({written})" if isinstance(node, ast.Name) else written

    def compared(self, left: ast.expr, operator: ast.cmpop, right: ast.expr) -> str:
        sign = {ast.Is: "===", ast.IsNot: "!=="}.get(type(operator)) or COMPARISONS[type(operator)]
        return f"{self.write(left)} {sign} {self.write(right)}"

    def special(self, node: ast.expr) -> str:
        match node:
            case ast.Name(id=name):
                constant = name in CONSTANTS and name not in self.arguments and name not in self.local
                return f"$.{name}" if constant else name
            case ast.List(elts=values):
                return f"[{', '.join(self.write(value) for value in values)}]"
            case ast.Dict(keys=keys, values=values):
                pairs = zip(keys, values, strict=True)
                return f"{{ {', '.join(f'{_json(key.value)}: {self.write(value)}' for key, value in pairs)} }}"
            case ast.Subscript(value=rows, slice=index):
                return f"$.at({self.write(rows)}, {self.write(index)})"
            case ast.Call(func=ast.Name(id=name), args=arguments):
                called = self.names.get(name, f"$.{name}" if name in FUNCTIONS else name)
                return f"{called}({', '.join(self.write(argument) for argument in arguments)})"
        raise AssertionError(ast.dump(node))
