"""What formulas may be made of, and what everything else is called."""

import ast

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
    "arguments await case catch const debugger default delete do enum eval export extends function "
    "implements in instanceof interface let new null package private protected public static super switch "
    "this throw true false typeof undefined var void with yield NaN Infinity".split()
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
    ast.Import: "a plain `import`", ast.ImportFrom: "an import inside a function", ast.Constant: "this kind of constant",
    ast.Pow: "`**=`", ast.Attribute: "a dot", ast.FunctionDef: "a function inside another",
    ast.AsyncFor: "an async loop", ast.AsyncWith: "an async `with`", ast.YieldFrom: "`yield`", ast.TryStar: "`try`",
    ast.FloorDiv: "`//`", ast.Mod: "`%`", ast.MatMult: "`@`", ast.BitAnd: "`&`", ast.BitOr: "`|`", ast.BitXor: "`^`",
    ast.LShift: "`<<`", ast.RShift: "`>>`", ast.Invert: "`~`", ast.In: "`in`", ast.NotIn: "`not in`",
    ast.UAdd: "unary `+`", ast.Is: "`is`", ast.IsNot: "`is not`",
}
