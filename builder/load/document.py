"""YAML read into plain values, with the line and column of every key and value beside them."""

import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from builder.load.problems import BadInput, Problem, path_shown

LARGEST_FILE = 5_000_000
DEEPEST = 60
_Loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_INTEGER = re.compile(r"[-+]?(0|[1-9][0-9]*)$")
_DECIMAL = re.compile(r"[-+]?(0|[1-9][0-9]*)\.[0-9]+([eE][-+]?[0-9]+)?$")
# What YAML itself gives to plain values; the scalars among them are read again by `_scalar`.
_TAGS = {f"tag:yaml.org,2002:{kind}" for kind in (
    "map", "seq", "str", "int", "float", "bool", "null", "timestamp", "merge", "value")}
_WORDS = {"true": True, "false": False, "null": None, "~": None, "": None}

Path_ = tuple[str | int, ...]


@dataclass(frozen=True)
class Place:
    """Where something stands: line and column from 1, and how many characters it takes."""

    line: int
    column: int
    width: int = 1


@dataclass
class Document:
    """One YAML file: plain values, and the place of each key and value by its path."""

    path: Path
    text: str
    data: Any = None
    values: dict[Path_, Place] = field(default_factory=dict)
    keys: dict[Path_, Place] = field(default_factory=dict)

    @property
    def name(self) -> str:
        """The file as the person would type it."""
        return path_shown(self.path)

    def place(self, path: Path_, *, of_key: bool = False) -> Place:
        """The place of a value (or its key), or of the nearest thing around it that exists."""
        while path:
            first, second = (self.keys, self.values) if of_key else (self.values, self.keys)
            if found := first.get(path) or second.get(path):
                return found
            path, of_key = path[:-1], True
        return Place(1, 1)

    def problem(self, path: Path_, code: str, text: str, advice: str = "", *, of_key: bool = False,
                offset: int = 0, width: int | None = None) -> Problem:
        """A problem at a path of this file; `offset` counts characters into a one-line value."""
        place = self.place(path, of_key=of_key)
        lines = self.text.splitlines()
        source = lines[place.line - 1] if place.line <= len(lines) else ""
        return Problem(self.name, place.line, place.column + offset, code, text, advice, source, width or place.width)


def read_document(path: Path) -> Document:
    """Read one YAML file.

    Gives a Document. Raises BadInput with every problem that the file's form has.
    """
    document = Document(path, _read_text(path))
    problems: list[Problem] = []
    try:
        root = yaml.compose(document.text, Loader=_Loader)
    except yaml.MarkedYAMLError as error:
        raise BadInput([_syntax_problem(document, error)]) from None
    except yaml.YAMLError as error:
        raise BadInput([Problem(document.name, 1, 1, "YAML-01", f"not readable as YAML: {error}")]) from None
    except ValueError as error:
        raise BadInput([Problem(document.name, 1, 1, "YAML-01", f"not readable as YAML: {error}")]) from None
    if root is not None:
        document.data = _value(document, root, (), problems, 0, set())
    if problems:
        raise BadInput(problems)
    return document


def _read_text(path: Path) -> str:
    name = path_shown(path)
    try:
        raw = path.read_bytes()
    except OSError as error:
        reason = error.strerror or "can't be read"
        raise BadInput([Problem(name, 1, 1, "FILE-01", f"can't read this file: {reason.lower()}")]) from None
    if len(raw) > LARGEST_FILE:
        raise BadInput([Problem(name, 1, 1, "FILE-02", f"the file has {len(raw)} bytes; the most is {LARGEST_FILE}")])
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        column = error.start - raw.rfind(b"\n", 0, error.start)
        raise BadInput([
            Problem(name, line, column, "FILE-02", "this byte is not UTF-8 text", "save the file as UTF-8")
        ]) from None
    _refuse_deep_nesting(name, text)
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _refuse_deep_nesting(name: str, text: str) -> None:
    """A page of brackets would exhaust the parser; nobody writes one by hand."""
    depth = 0
    for number, line in enumerate(text.split("\n"), 1):
        indent = len(line) - len(line.lstrip(" -?:"))
        depth = max(0, depth + line.count("[") + line.count("{") - line.count("]") - line.count("}"))
        if depth > DEEPEST or indent > 4 * DEEPEST:
            raise BadInput([Problem(name, number, 1, "FILE-02", f"nested deeper than {DEEPEST} levels")])


def _syntax_problem(document: Document, error: yaml.MarkedYAMLError) -> Problem:
    mark = error.problem_mark or error.context_mark
    said = " ".join(part for part in (error.context, error.problem) if part)
    lines = document.text.split("\n")
    line = min(mark.line, len(lines) - 1) if mark else 0
    advice = "use spaces: YAML has no tabs in its indentation" if "\t" in lines[line] else ""
    return Problem(document.name, line + 1, mark.column + 1 if mark else 1, "YAML-01",
                   f"not readable as YAML: {said}", advice, lines[line])


def _value(document: Document, node: yaml.Node, path: Path_, problems: list[Problem], depth: int, seen: set) -> Any:
    mark, end = node.start_mark, node.end_mark
    width = end.column - mark.column if end.line == mark.line else 1
    place = Place(mark.line + 1, mark.column + 1, max(1, width))
    document.values[path] = place
    if id(node) in seen:
        problems.append(document.problem(path, "YAML-03", "an alias repeats another part of the file",
                                         "write the lines out where they belong"))
        return None
    seen.add(id(node))
    if depth > DEEPEST:
        problems.append(document.problem(path, "FILE-02", f"nested deeper than {DEEPEST} levels"))
        return None
    if node.tag not in _TAGS:
        problems.append(document.problem(path, "YAML-03", f"the tag `{node.tag}` is not allowed", "leave the tag out"))
        return None
    if isinstance(node, yaml.MappingNode):
        return _mapping(document, node, path, problems, depth, seen)
    if isinstance(node, yaml.SequenceNode):
        return [_value(document, child, (*path, index), problems, depth + 1, seen)
                for index, child in enumerate(node.value)]
    return node.value if node.style in ("'", '"', "|", ">") else _scalar(node.value)


def _mapping(document: Document, node: yaml.MappingNode, path: Path_, problems: list[Problem], depth: int, seen: set):
    found: dict[str, Any] = {}
    for key_node, value_node in node.value:
        if not isinstance(key_node, yaml.ScalarNode):
            problems.append(document.problem(path, "SHAPE-03", "a key must be a plain word"))
            continue
        key = key_node.value
        mark = key_node.start_mark
        place = Place(mark.line + 1, mark.column + 1, max(1, len(key)))
        if key == "<<":
            document.keys[(*path, key)] = place
            problems.append(document.problem((*path, key), "YAML-03", "a merge key is not allowed",
                                             "write the lines out where they belong", of_key=True))
            continue
        if key in found:
            first = document.keys[(*path, key)]
            document.keys[(*path, key)] = place
            problems.append(document.problem((*path, key), "YAML-02", f"`{key}` stands here twice",
                                             f"the first is in line {first.line}", of_key=True))
            continue
        document.keys[(*path, key)] = place
        found[key] = _value(document, value_node, (*path, key), problems, depth + 1, seen)
    return found


def _scalar(text: str) -> Any:
    """Plain scalars: only true, false, null and decimal numbers are anything but text.

    YAML 1.1 reads `no` as false, `010` as eight and `12:30` as a number; people mean what they typed.
    """
    if text in _WORDS:
        return _WORDS[text]
    if _INTEGER.match(text) and len(text) < 16:
        return int(text)
    if _DECIMAL.match(text):
        return float(text)
    return text
