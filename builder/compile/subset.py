"""The subset of Python that formulas are written in: everything else is refused, with its place."""

import ast
import difflib
import warnings

from builder.compile.refusal import Refusal, Refused

MATHEMATICS = "builder.formulas.mathematics"
FORMULAS = "builder.formulas."
# Function → how many arguments it takes, at least and at most.
FUNCTIONS = {
    "sqrt": (1, 1), "exp": (1, 1), "log": (1, 1), "sin": (1, 1), "cos": (1, 1), "tan": (1, 1),
    "asin": (1, 1), "acos": (1, 1), "atan": (1, 1), "sinh": (1, 1), "cosh": (1, 1), "asinh": (1, 1),
    "floor": (1, 1), "ceil": (1, 1), "abs": (1, 1), "min": (2, 99), "max": (2, 99), "len": (1, 1), "str": (1, 1),
}
BUILT_IN = ("abs", "min", "max", "len", "str")
CONSTANTS = ("pi",)
# Words that JavaScript keeps for itself and Python does not.
KEPT_BY_JAVASCRIPT = frozenset(
    ["arguments", "await", "case", "catch", "const", "debugger", "default", "delete", "do", "enum", "eval", "export", "extends", "function", "implements", "in", "instanceof", "interface", "let", "new", "null", "package", "private", "protected", "public", "static", "super", "switch", "this", "throw", "true", "false", "typeof", "undefined", "var", "void", "with", "yield", "NaN", "Infinity"]
)
ARITHMETIC = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/", ast.Pow: "**"}
COMPARISONS = {ast.Eq: "===", ast.NotEq: "!==", ast.Lt: "<", ast.LtE: "<=", ast.Gt: ">", ast.GtE: ">="}
LARGEST_POWER = 9

# What is refused, in the words of the person who wrote it.
CALLED = {
    ast.While: "`while`", ast.Try: "`try`", ast.With: "`with`", ast.Lambda: "`lambda`", ast.ClassDef: "a class",
    ast.AsyncFunctionDef: "an async function", ast.ListComp: "a comprehension", ast.SetComp: "a comprehension",
    ast.DictComp: "a comprehension", ast.GeneratorExp: "a comprehension", ast.JoinedStr: "an f-string",
    ast.Slice: "a slice", ast.Starred: "a star", ast.Set: "a set", ast.Tuple: "a tuple", ast.Raise: "`raise`",
    ast.Assert: "`assert`", ast.Delete: "`del`", ast.Global: "`global`", ast.Nonlocal: "`nonlocal`",
    ast.Pass: "`pass`", ast.Break: "`break`", ast.Continue: "`continue`", ast.Match: "`match`",
    ast.AnnAssign: "an annotation", ast.NamedExpr: "`:=`", ast.Yield: "`yield`", ast.Await: "`await`",
    ast.Import: "a plain `import`", ast.Attribute: "a dot", ast.FunctionDef: "a function inside another",
    ast.AsyncFor: "an async loop", ast.AsyncWith: "an async `with`", ast.YieldFrom: "`yield`", ast.TryStar: "`try`",
    ast.FloorDiv: "`//`", ast.Mod: "`%`", ast.MatMult: "`@`", ast.BitAnd: "`&`", ast.BitOr: "`|`", ast.BitXor: "`^`",
    ast.LShift: "`<<`", ast.RShift: "`>>`", ast.Invert: "`~`", ast.In: "`in`", ast.NotIn: "`not in`",
    ast.UAdd: "unary `+`", ast.Is: "`is`", ast.IsNot: "`is not`",
}


def parse_formulas(source: str, known_elsewhere: dict[str, dict[str, int]]) -> ast.Module:
    """
    Parse one formula module and check it against the subset.

    known_elsewhere: sibling module → its functions and how many arguments each takes.
    Gives the tree. Raises Refused with everything that is outside the subset.
    """
    try:
        with warnings.catch_warnings(action="ignore"):
            tree = ast.parse(source)
    except SyntaxError as error:
        raise Refused([Refusal(error.lineno or 1, max(error.offset or 1, 1), "FORM-01", "this is not Python")]) from None
    except (ValueError, RecursionError, MemoryError):
        raise Refused([Refusal(1, 1, "FORM-01", "this can't be read as Python")]) from None
    check = _ModuleCheck(source, known_elsewhere)
    check.module(tree)
    if check.refusals:
        raise Refused(check.refusals)
    return tree


def functions_of(tree: ast.Module) -> dict[str, int]:
    """The functions of a module and how many arguments each takes."""
    return {node.name: len(node.args.args) for node in tree.body if isinstance(node, ast.FunctionDef)}


class _ModuleCheck:
    def __init__(self, source: str, known_elsewhere: dict[str, dict[str, int]]):
        self.lines = source.splitlines()
        self.known_elsewhere = known_elsewhere
        self.refusals: list[Refusal] = []
        self.callable: dict[str, tuple[int, int]] = {name: FUNCTIONS[name] for name in BUILT_IN}
        self.constants: set[str] = set()

    def refuse(self, node: ast.AST, text: str, advice: str = "") -> None:
        line, offset = getattr(node, "lineno", 1), getattr(node, "col_offset", 0)
        # ast counts bytes of UTF-8; people and editors count characters.
        before = self.lines[line - 1].encode()[:offset].decode(errors="ignore") if line <= len(self.lines) else ""
        self.refusals.append(Refusal(line, len(before) + 1, "FORM-01", text, advice))

    def outside(self, node: ast.AST, what: ast.AST | None = None) -> None:
        kind = type(what or node)
        self.refuse(node, f"{CALLED.get(kind, kind.__name__)} is outside the subset that formulas are written in")

    def module(self, tree: ast.Module) -> None:
        if not ast.get_docstring(tree):
            self.refuse(tree, "a formula file opens with a docstring that says which stage it serves")
        for node in tree.body[1 if ast.get_docstring(tree) else 0:]:
            if isinstance(node, ast.ImportFrom):
                self.imported(node)
            elif isinstance(node, ast.FunctionDef):
                self.name(node, node.name)
                if node.name in self.callable:
                    self.refuse(node, f"`{node.name}` stands twice")
                self.callable[node.name] = (len(node.args.args), len(node.args.args))
            elif type(node) in CALLED:
                self.outside(node)
            else:
                self.refuse(node, "only imports and functions stand at the top of a formula file")
        for node in tree.body:
            if isinstance(node, ast.FunctionDef):
                _FunctionCheck(self, node).run()

    def imported(self, node: ast.ImportFrom) -> None:
        module = node.module or ""
        siblings = self.known_elsewhere.get(module.removeprefix(FORMULAS), {}) if module.startswith(FORMULAS) else {}
        if node.level or not (module == MATHEMATICS or siblings):
            self.refuse(node, f"a formula may not import from `{'.' * node.level}{module}`",
                        f"import from {MATHEMATICS} or from another formula file")
            return
        for alias in node.names:
            if alias.asname:
                self.refuse(alias, f"`{alias.name} as {alias.asname}` renames what it imports; one thing has one name")
            elif module != MATHEMATICS and alias.name in siblings:
                self.callable[alias.name] = (siblings[alias.name], siblings[alias.name])
            elif module == MATHEMATICS and alias.name in FUNCTIONS:
                self.callable[alias.name] = FUNCTIONS[alias.name]
            elif (module == MATHEMATICS and alias.name in CONSTANTS) or (module == MATHEMATICS and alias.name == "cannot_tell"):
                self.constants.add(alias.name)
            else:
                self.refuse(alias, f"`{module}` has no `{alias.name}` for formulas")

    def name(self, node: ast.AST, name: str) -> None:
        if name in KEPT_BY_JAVASCRIPT or name.startswith("__"):
            self.refuse(node, f"`{name}` can't be a name here: one of the two languages keeps it for itself")


class _FunctionCheck:
    """One function, statement by statement in the order written, so that a name is set before it is used."""

    def __init__(self, module: _ModuleCheck, function: ast.FunctionDef):
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
        special = [*arguments.posonlyargs, *arguments.kwonlyargs, arguments.vararg, arguments.kwarg]
        if any(special) or arguments.defaults:
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
            case ast.Assign():
                self.refuse(node, "an assignment sets one name")
            case ast.AugAssign(target=ast.Name(id=name), op=operator, value=value):
                if type(operator) not in ARITHMETIC or isinstance(operator, ast.Pow):
                    self.outside(node, operator)
                if name not in self.names:
                    self.unknown(node.target, name)
                self.operand(value)
                self.count(name, name in self.counted and not isinstance(operator, ast.Div) and self.whole(value))
            case ast.AugAssign():
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
            case ast.Call(func=ast.Name(id="range"), args=[start, end], keywords=[]):
                self.operand(start)
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
            case ast.UnaryOp(op=operator):
                self.outside(node, operator)
            case ast.Compare():
                self.comparison(node)
            case ast.IfExp(test=test, body=body, orelse=otherwise):
                self.truth(test)
                self.value(body)
                self.value(otherwise)
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
            self.unknown(node.func, name)
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
            case ast.Constant(value=int()):
                return True
            case ast.Call(func=ast.Name(id="floor" | "ceil" | "len")):
                return True
            case ast.BinOp(left=left, op=ast.Add() | ast.Sub() | ast.Mult(), right=right):
                return self.whole(left) and self.whole(right)
            case ast.Name(id=name):
                return name in self.counted
        return False

    def unknown(self, node: ast.AST, name: str) -> None:
        known = {*self.names, *self.module.callable, *self.module.constants}
        near = difflib.get_close_matches(name, sorted(known), n=1)
        if name in FUNCTIONS or name in CONSTANTS:
            self.refuse(node, f"`{name}` is not imported", f"import it from {MATHEMATICS}")
        else:
            self.refuse(node, f"`{name}` is not set before it is used", f"Did you mean `{near[0]}`?" if near else "")
