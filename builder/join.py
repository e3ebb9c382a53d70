"""
The app's modules joined into the one classic script that a page loads.

Small modules read well and load badly: on a slow phone half of a cold start went into fetching and
compiling them one by one. A classic script, unlike a module, a browser keeps compiled once the worker has
stored it. Only the plain forms of `import` and `export` that the modules use are known; anything else is
refused, so that nothing is joined by guesswork.
"""

import re
from collections.abc import Mapping

from rjsmin import jsmin

_IMPORT = re.compile(r'^import\s+(?:\{([^}]*)\}|\*\s+as\s+([\w$]+))\s+from\s+"\./([\w-]+)\.mjs";[ \t]*$', re.M)
_PASSED_ON = re.compile(r'^export\s+\{([^}]*)\}\s+from\s+"\./([\w-]+)\.mjs";[ \t]*$', re.M)
_LISTED = re.compile(r"^export\s+\{([^}]*)\};[ \t]*$", re.M)
_DECLARED = re.compile(r"^export\s+((?:async\s+)?function\*?|class|const)\s+([\w$]+)", re.M)
# What can open or close a template in code; texts and comments are passed over whole.
_SIGNS = re.compile(r"""//[^\n]*|/\*.*?\*/|"(?:\\.|[^"\\])*"|'(?:\\.|[^'\\])*'|`|\{|\}""", re.S)
_IN_TEMPLATE = re.compile(r"\\.|`|\$\{", re.S)
_LEFT_OVER = re.compile(r"^\s*(?:import|export)\b(?!\()", re.M)


class CannotJoin(Exception):
    """A module uses a form of import or export that is not known here, or modules need each other in a circle."""


def joined(modules: Mapping[str, str], first: str) -> str:
    """
    One script out of many modules.

    Inputs
      modules  name without ending → source
      first    the module that starts the app; what it needs, and what that needs, is taken along
    Gives the source of a classic script, without comments. Raises CannotJoin.
    """
    order = _in_order(modules, first)
    parts = [f"const {_held(name)}=(()=>{{{_inner(modules[name], name)}}})();" for name in order if name != first]
    body, given = _rewritten(modules[first], first)
    if given:
        raise CannotJoin(f"{first}.mjs starts the app and gives nothing to others")
    # The start waits for its data, as only a module may at its top; the braces keep names from the page.
    return jsmin("\n".join(['"use strict";{', *parts, "(async()=>{", body, "})();}"]))


def _in_order(modules: Mapping[str, str], first: str) -> list[str]:
    """Every module that is needed, each after those that it needs."""
    order: list[str] = []
    open_ones: list[str] = []

    def visit(name: str, by: str) -> None:
        if name in order:
            return
        if name in open_ones:
            raise CannotJoin(f"modules need each other in a circle: {' → '.join([*open_ones, name])}")
        if name not in modules:
            raise CannotJoin(f"{by}.mjs needs {name}.mjs, which is not there")
        open_ones.append(name)
        source = modules[name]
        for needed in [match[3] for match in _IMPORT.finditer(source)] + [match[2] for match in _PASSED_ON.finditer(source)]:
            visit(needed, name)
        open_ones.pop()
        order.append(name)

    visit(first, first)
    return order


def _inner(source: str, name: str) -> str:
    body, given = _rewritten(source, name)
    return f"{body}\nreturn{{{','.join(given)}}};"


def _refuse_template_in_template(source: str, name: str) -> None:
    """Spaces of a template inside another's `${}` would be taken for code and lost."""
    at, open_ones = 0, []  # "`" for a template, a count of braces for code inside one
    while found := (_IN_TEMPLATE if open_ones[-1:] == ["`"] else _SIGNS).search(source, at):
        at, sign = found.end(), found[0]
        if sign == "`" and open_ones[-1:] == ["`"]:
            open_ones.pop()
        elif sign == "`":
            if open_ones:
                line = source.count("\n", 0, found.start()) + 1
                raise CannotJoin(f"{name}.mjs:{line}: a template inside another's `${{}}`; give the inner one a name first")
            open_ones.append("`")
        elif sign == "${":
            open_ones.append(0)
        elif sign == "{" and open_ones:
            open_ones[-1] += 1
        elif sign == "}" and open_ones:
            open_ones[-1] -= 1
            if open_ones[-1] < 0:
                open_ones.pop()


def _rewritten(source: str, name: str) -> tuple[str, list[str]]:
    """A module's source with its imports as look-ups, and what it gives to others."""
    _refuse_template_in_template(source, name)
    given: list[str] = []

    def looked_up(match: re.Match) -> str:
        if match[2]:
            return f"const {match[2]}={_held(match[3])};"
        return f"const{{{','.join(_renamed(match[1], ':'))}}}={_held(match[3])};"

    def passed_on(match: re.Match) -> str:
        for part in _parts(match[1]):
            inner, outer = part[0], part[-1]
            given.append(f"{outer}:{_held(match[2])}.{inner}")
        return ""

    def listed(match: re.Match) -> str:
        given.extend(f"{part[-1]}:{part[0]}" for part in _parts(match[1]))
        return ""

    def declared(match: re.Match) -> str:
        given.append(match[2])
        return f"{match[1]} {match[2]}"

    body = source
    for form, change in ((_IMPORT, looked_up), (_PASSED_ON, passed_on), (_LISTED, listed), (_DECLARED, declared)):
        body = form.sub(change, body)
    if left := _LEFT_OVER.search(_without_comments(body)):
        raise CannotJoin(f"{name}.mjs: `{left[0].strip()}` in a form that can't be joined")
    return body, given


def _without_comments(source: str) -> str:
    return re.sub(r"/\*.*?\*/", "", source, flags=re.S)


def _parts(names: str) -> list[list[str]]:
    return [re.split(r"\s+as\s+", part.strip()) for part in names.split(",") if part.strip()]


def _renamed(names: str, sign: str) -> list[str]:
    return [sign.join(part) for part in _parts(names)]


def _held(name: str) -> str:
    return "$" + name.replace("-", "_")
