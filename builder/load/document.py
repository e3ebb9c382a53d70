"""YAML read into plain values, with the line and column of every key and value beside them."""

import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from builder.load.form import Slip, control_character, slip
from builder.load.problems import BadInput, Problem, path_shown

LARGEST_FILE = 5_000_000
DEEPEST = 60
_Loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_INTEGER = re.compile(r"[-+]?(0|[1-9][0-9]*)$")
_DECIMAL = re.compile(r"[-+]?(0|[1-9][0-9]*)\.[0-9]+([eE][-+]?[0-9]+)?$")
# A tag that says no more than what YAML has anyhow does no harm.
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
    if found := control_character(document.text):
        raise BadInput([_misformed(document, found)])
    reader = _Reader(document)
    try:
        reader.read()
    except yaml.MarkedYAMLError as error:
        raise BadInput([*reader.problems, _misformed(document, slip(document.text, error, reader.last))]) from None
    except yaml.YAMLError:
        raise BadInput([Problem(document.name, 1, 1, "YAML-01", "this can't be read as YAML")]) from None
    if reader.problems:
        raise BadInput(reader.problems)
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
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _misformed(document: Document, found: Slip) -> Problem:
    source = document.text.split("\n")[found.line - 1]
    return Problem(document.name, found.line, found.column, found.code, found.text, found.advice, source)


class _Reader:
    """
    Values and places out of the parser's events, one after the other.

    Composing the whole tree first would recurse as deep as the file says; here the depth is ours to bound.
    """

    def __init__(self, document: Document):
        self.document = document
        self.problems: list[Problem] = []
        self.last: yaml.Event | None = None
        self.events = yaml.parse(document.text, Loader=_Loader)

    def next(self) -> yaml.Event:
        self.last = next(self.events)
        return self.last

    def read(self) -> None:
        """Fill the document; raises yaml.YAMLError where the text is no YAML, BadInput where it is too deep."""
        documents = 0
        while not isinstance(event := self.next(), yaml.StreamEndEvent):
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    raise yaml.MarkedYAMLError(problem="found another document", problem_mark=event.start_mark)
            elif isinstance(event, yaml.NodeEvent):
                self.document.data = self.value(event, ())

    def refuse(self, path: Path_, code: str, text: str, advice: str = "", *, of_key: bool = False) -> None:
        self.problems.append(self.document.problem(path, code, text, advice, of_key=of_key))

    def value(self, event: yaml.NodeEvent, path: Path_) -> Any:
        self.document.values[path] = _place(event.start_mark, event.end_mark)
        if isinstance(event, yaml.AliasEvent):
            self.refuse(path, "YAML-03", "an alias repeats another part of the file", "write the lines out where they belong")
            return None
        if len(path) > DEEPEST:
            self.refuse(path, "FILE-02", f"nested deeper than {DEEPEST} levels")
            raise BadInput(self.problems)
        if event.tag is not None and event.tag not in _TAGS:
            self.refuse(path, "YAML-03", f"the tag `{event.tag}` is not allowed", "leave the tag out")
        if isinstance(event, yaml.ScalarEvent):
            return event.value if event.style in ("'", '"', "|", ">") else _scalar(event.value)
        found = self.mapping(path) if isinstance(event, yaml.MappingStartEvent) else self.sequence(path)
        self.document.values[path] = _place(event.start_mark, self.last.end_mark)
        return found

    def sequence(self, path: Path_) -> list:
        found: list[Any] = []
        while not isinstance(event := self.next(), yaml.SequenceEndEvent):
            found.append(self.value(event, (*path, len(found))))
        return found

    def mapping(self, path: Path_) -> dict[str, Any]:
        found: dict[str, Any] = {}
        while not isinstance(event := self.next(), yaml.MappingEndEvent):
            if not isinstance(event, yaml.ScalarEvent):
                self.refuse(path, "SHAPE-03", "a key must be a plain word")
                self.skip(event)
                self.skip(self.next())
                continue
            key = event.value
            here, first = (*path, key), self.document.keys.get((*path, key))
            self.document.keys[here] = Place(event.start_mark.line + 1, event.start_mark.column + 1, max(1, len(key)))
            if key == "<<":
                self.refuse(here, "YAML-03", "a merge key is not allowed", "write the lines out where they belong", of_key=True)
                self.skip(self.next())
            elif key in found:
                self.refuse(here, "YAML-02", f"`{key}` stands here twice", f"the first is in line {first.line}", of_key=True)
                self.skip(self.next())
            else:
                found[key] = self.value(self.next(), here)
        return found

    def skip(self, event: yaml.Event) -> None:
        """Pass over a value that has no place in the document."""
        depth = 0
        while True:
            depth += isinstance(event, yaml.CollectionStartEvent) - isinstance(event, yaml.CollectionEndEvent)
            if not depth:
                return
            if depth > DEEPEST:
                raise BadInput(self.problems)
            event = self.next()


def _place(start: yaml.Mark, end: yaml.Mark) -> Place:
    width = end.column - start.column if end.line == start.line else 1
    return Place(start.line + 1, start.column + 1, max(1, width))


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
