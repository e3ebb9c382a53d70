"""One function of a formula file, statement by statement, held against the subset."""

import ast
import difflib
from typing import TYPE_CHECKING

from builder.compile.constructs import ARITHMETIC, CALLED, COMPARISONS, CONSTANTS, FUNCTIONS, LARGEST_POWER, MATHEMATICS

if TYPE_CHECKING:
    from builder.compile.subset import ModuleCheck


class FunctionCheck:
    """Statements are read in the order written, so that a name is set before it is used."""

    def __init__(self, module: "ModuleCheck", function: ast.FunctionDef):
        self.module, self.function = module, function
        self.names: set[str] = set()
        self.lists: set[str] = set()
        # Arguments of a building block are whole where its callers make them so, which the tests of both sides show.
        self.counted = {argument.arg for argument in function.args.args} if function.name.startswith("_") else set()
        self.refuse, self.outside = module.refuse, module.outside

    def run(self) -> None:
        function, arguments = self.function, self.function.args
        if function.decorator_list:
            self.refuse(function.decorator_list[0], "a decorator is outside the subset that formulas are written in")
        if any((arguments.posonlyargs, arguments.kwonlyargs, arguments.vararg, arguments.kwarg, arguments.defaults)):
            self.refuse(function, f"`{function.name}` takes plain arguments only: no default, star or keyword")
        if function.returns or any(argument.annotation for argument in arguments.args):
            self.refuse(function, f"`{function.name}` carries annotations; units stand in the docstring")
        for argument in arguments.args:
            self.assigned(argument, argument.arg)
        self.block(function.body[1 if ast.get_docstring(function) else 0:])

    def assigned(self, node: ast.AST, name: str) -> None:
        self.module.name(node, name)
        if name in self.module.callable or name in self.module.constants:
            self.refuse(node, f"`{name}` is already the name of a function")
        self.names.add(name)

    def count(self, name: str, whole: bool) -> None:
        self.counted = self.counted | {name} if whole else self.counted - {name}

    def block(self, statements: list[ast.stmt]) -> None:
        for statement in statements:
            self.statement(statement)

    def statement(self, node: ast.stmt) -> None:
        match node:
            case ast.Assign(targets=[ast.Name(id=name)], value=value):
                self.value(value)
                self.count(name, self.whole(value))
                self.assigned(node.targets[0], name)
                if isinstance(value, ast.List):
                    self.lists.add(name)
            case ast.AugAssign(target=ast.Name(id=name), op=operator, value=value):
                if type(operator) not in ARITHMETIC or isinstance(operator, ast.Pow):
                    self.outside(node, operator)
                if name not in self.names:
                    self.unknown(node.target, name)
                self.operand(value)
                self.count(name, name in self.counted and not isinstance(operator, ast.Div) and self.whole(value))
            case ast.Assign() | ast.AugAssign():
                self.refuse(node, "an assignment sets one name")
            case ast.If(test=test, body=body, orelse=otherwise):
                self.truth(test)
                self.block(body)
                self.block(otherwise)
            case ast.For(target=ast.Name(id=name), iter=rows, body=body, orelse=[]):
                self.loop(rows)
                self.assigned(node.target, name)
                self.count(name, isinstance(rows, ast.Call))
                self.block(body)
            case ast.For():
                self.refuse(node, "a loop is `for row in rows` or `for i in range(a, b)`, without `else`")
            case ast.Return(value=None):
                self.refuse(node, "`return` gives something back")
            case ast.Return(value=value):
                self.value(value)
            case ast.Expr(value=ast.Call(func=ast.Name(id="cannot_tell"), args=[reason], keywords=[])):
                if "cannot_tell" not in self.module.constants:
                    self.refuse(node, "`cannot_tell` is not imported", f"import it from {MATHEMATICS}")
                self.value(reason)
            case ast.Expr(value=ast.Call(func=ast.Name(id="cannot_tell"))):
                self.refuse(node, "`cannot_tell` takes one text: the reason")
            case ast.Expr(value=ast.Call(func=ast.Attribute(value=ast.Name(id=name), attr="append"),
                                         args=[ast.Dict() as row], keywords=[])):
                if name not in self.lists:
                    self.refuse(node, f"`{name}` is not a list that this function began")
                self.value(row)
            case ast.Expr(value=ast.Call(func=ast.Name(id=name)) as call) if name.startswith("_"):
                self.call(call)
            case ast.Expr(value=value) if type(value) in CALLED and not isinstance(value, ast.Attribute):
                self.outside(value)
            case ast.Expr():
                self.refuse(node, "a statement that does nothing: only `rows.append({…})` and `cannot_tell(\"…\")` stand alone")
            case _:
                self.outside(node)

    def loop(self, rows: ast.expr) -> None:
        match rows:
            case ast.Call(func=ast.Name(id="range"), args=[_, _] as ends, keywords=[]):
                for end in ends:
                    self.operand(end)
            case ast.Call(func=ast.Name(id="range")):
                self.refuse(rows, "`range` takes a start and an end")
            case ast.Name() | ast.Subscript():
                self.value(rows)
            case _:
                self.refuse(rows, "a loop runs over named rows or over `range(a, b)`")

    def truth(self, node: ast.expr) -> None:
        """What `if`, `and`, `or` and `not` may ask: something that is true or false, never a number or a list."""
        match node:
            case ast.BoolOp(values=values):
                for value in values:
                    self.truth(value)
            case ast.UnaryOp(op=ast.Not(), operand=operand):
                self.truth(operand)
            case ast.Compare() | ast.Constant(value=bool()) | ast.Name():
                self.value(node)
            case _ if type(node) in CALLED:
                self.outside(node)
            case _:
                self.refuse(node, "a condition is a comparison, or a name that holds true or false")

    def operand(self, node: ast.expr) -> None:
        if isinstance(node, ast.List | ast.Dict) or (isinstance(node, ast.Constant) and isinstance(node.value, bool | None)):
            self.refuse(node, "arithmetic takes numbers")
        self.value(node)

    def value(self, node: ast.expr) -> None:
        match node:
            case ast.Constant(value=None | bool() | str()):
                pass
            case ast.Constant(value=int() | float() as number):
                if abs(number) > 2**53 and isinstance(number, int):
                    self.refuse(node, "a whole number this large is not the same in both languages")
            case ast.Name(id=name):
                if name not in self.names and name not in self.module.constants - {"cannot_tell"}:
                    self.unknown(node, name)
            case ast.List(elts=values):
                for value in values:
                    self.value(value)
            case ast.Dict(keys=keys, values=values):
                for key, value in zip(keys, values, strict=True):
                    if not (isinstance(key, ast.Constant) and isinstance(key.value, str)):
                        self.refuse(key or node, "the keys of a row are texts, written out")
                    self.value(value)
            case ast.BinOp():
                self.arithmetic(node)
            case ast.UnaryOp(op=ast.USub(), operand=operand):
                self.operand(operand)
            case ast.UnaryOp(op=ast.Not()) | ast.BoolOp():
                self.truth(node)
            case ast.UnaryOp():
                self.outside(node, node.op)
            case ast.Compare():
                self.comparison(node)
            case ast.IfExp():
                self.truth(node.test)
                self.value(node.body)
                self.value(node.orelse)
            case ast.Subscript(value=rows, slice=index):
                self.value(rows)
                self.value(index)
                if not isinstance(rows, ast.Name | ast.Subscript):
                    self.refuse(node, "only a name can be looked into with […]")
            case ast.Call():
                self.call(node)
            case _:
                self.outside(node)

    def arithmetic(self, node: ast.BinOp) -> None:
        operator = type(node.op)
        if operator not in ARITHMETIC:
            self.outside(node, node.op)
        elif operator is ast.Pow:
            # A negative number to a broken power is complex in Python and no number in JavaScript.
            match node:
                case ast.BinOp(right=ast.Constant(value=int() as power)) if 0 <= power <= LARGEST_POWER:
                    pass
                case ast.BinOp(left=ast.Constant(value=int() | float() as base)) if base > 0:
                    pass
                case _:
                    self.refuse(node.right, f"a power is a whole number from 0 to {LARGEST_POWER} written out, "
                                "or stands on a number above 0 written out", "write `1 / x ** 2` or `sqrt(x)`")
        elif operator is not ast.Add:
            for side in (node.left, node.right):
                if isinstance(side, ast.Constant) and isinstance(side.value, str):
                    self.refuse(side, "texts can be joined with `+` and nothing else")
        self.operand(node.left)
        self.operand(node.right)

    def comparison(self, node: ast.Compare) -> None:
        self.value(node.left)
        for operator, right in zip(node.ops, node.comparators, strict=True):
            none = isinstance(right, ast.Constant) and right.value is None
            if isinstance(operator, ast.Is | ast.IsNot):
                if not none:
                    self.refuse(right, "`is` asks only whether something is None")
            elif type(operator) not in COMPARISONS:
                self.outside(node, operator)
            elif none:
                self.refuse(right, "None is asked for with `is None`")
            self.value(right)
        if len(node.ops) > 1 and any(isinstance(operator, ast.Is | ast.IsNot) for operator in node.ops):
            self.refuse(node, "`is None` stands alone, not in a chain")

    def call(self, node: ast.Call) -> None:
        if not isinstance(node.func, ast.Name):
            self.outside(node.func)
            return
        name = node.func.id
        if node.keywords:
            self.refuse(node, f"`{name}` is called with plain arguments, not by keyword")
        if name not in self.module.callable:
            self.unknown(node.func, name, "function")
        else:
            least, most = self.module.callable[name]
            if not least <= len(node.args) <= most:
                takes = f"{least}" if least == most else f"at least {least}"
                self.refuse(node, f"`{name}` takes {takes} argument{'' if takes == '1' else 's'}, not {len(node.args)}")
        if name == "str" and not all(self.whole(argument) for argument in node.args):
            self.refuse(node, "`str` writes only whole numbers: `str(floor(x))`, `str(len(rows))` or a counted name")
        for argument in node.args:
            self.value(argument)

    def whole(self, node: ast.expr) -> bool:
        """Whether a value is a whole number in both languages: Python would write 3.0 where JavaScript writes 3."""
        match node:
            case ast.Constant(value=int()) | ast.Call(func=ast.Name(id="floor" | "ceil" | "len")):
                return True
            case ast.BinOp(left=left, op=ast.Add() | ast.Sub() | ast.Mult(), right=right):
                return self.whole(left) and self.whole(right)
            case ast.Name(id=name):
                return name in self.counted
        return False

    def unknown(self, node: ast.AST, name: str, what: str = "name") -> None:
        known = {*self.module.callable} if what == "function" else {*self.names, *self.module.constants}
        near = difflib.get_close_matches(name, sorted(known), n=1)
        advice = f"Did you mean `{near[0]}`?" if near else ""
        if what == "name" and name in self.module.callable:
            self.refuse(node, f"`{name}` is a function: call it")
        elif name in FUNCTIONS or name in CONSTANTS:
            self.refuse(node, f"`{name}` is not imported", f"import it from {MATHEMATICS}")
        elif what == "function":
            self.refuse(node, f"there is no function `{name}` for formulas", advice)
        else:
            self.refuse(node, f"`{name}` is not set before it is used", advice)
