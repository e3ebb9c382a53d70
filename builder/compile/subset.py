"""The subset of Python that formulas are written in: everything else is refused, with its place."""

import ast
import warnings

from builder.compile.constructs import BUILT_IN, CALLED, CONSTANTS, FORMULAS, FUNCTIONS, KEPT_BY_JAVASCRIPT, MATHEMATICS
from builder.compile.function_body import FunctionCheck
from builder.compile.refusal import Refusal, Refused


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
        raise Refused([Refusal(1, 1, "FORM-01", "this is not Python")]) from None
    check = ModuleCheck(source, known_elsewhere)
    check.module(tree)
    if check.refusals:
        raise Refused(check.refusals)
    return tree


def functions_of(tree: ast.Module) -> dict[str, int]:
    """The functions of a module and how many arguments each takes."""
    return {node.name: len(node.args.args) for node in tree.body if isinstance(node, ast.FunctionDef)}


class ModuleCheck:
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
        functions = [node for node in tree.body if isinstance(node, ast.FunctionDef)]
        for node in functions:
            FunctionCheck(self, node).run()
        self.circles(functions)

    def circles(self, functions: list[ast.FunctionDef]) -> None:
        """A function that comes back to itself may never end."""
        calls = {
            node.name: {part.func.id for part in ast.walk(node) if isinstance(part, ast.Call) and isinstance(part.func, ast.Name)}
            for node in functions
        }
        for node in functions:
            reached, waiting = set(), set(calls[node.name])
            while waiting:
                name = waiting.pop()
                reached.add(name)
                waiting |= calls.get(name, set()) - reached
            if node.name in reached:
                self.refuse(node, f"`{node.name}` calls itself")

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
