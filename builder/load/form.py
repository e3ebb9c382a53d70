"""Text that is no YAML: what is out of place and where, in words for somebody who never read a grammar."""

import re
from typing import NamedTuple

import yaml

# A key with its colon and no blank after it, perhaps behind a dash: `area:35 mm2`.
_CROWDED = re.compile(r"\s*(?:- )?[\w-]+:(?=[^\s/])")
_DASHED = re.compile(r"\s*-(?=[^\s-])")
_KEYED = re.compile(r"\s*(?:- +)*\{?[^\s:#'\"]+: +")
_COLON = "this text holds a colon: put it in quotes"
_COLUMN = "lines of one item begin in one column"
_NO_TEXT = re.compile(r"[^\t\n\x20-\x7e\x85\xa0-\ufffd\U00010000-\U0010ffff]")


class Slip(NamedTuple):
    """What is wrong with the form: line and column from 1, the sentence, what to do."""

    line: int
    column: int
    text: str
    advice: str = ""
    code: str = "YAML-01"


def control_character(text: str) -> Slip | None:
    """The first character that no text holds, if there is one."""
    if not (found := _NO_TEXT.search(text)):
        return None
    before = text[: found.start()]
    return Slip(before.count("\n") + 1, found.start() - before.rfind("\n"),
                f"the character U+{ord(found[0]):04X} stands here, which is no text", "delete it, and type the line anew")


def slip(text: str, error: yaml.MarkedYAMLError, last: yaml.Event | None) -> Slip:
    """What a reader of YAML stumbled over; `last` is what it had read before."""
    lines = text.split("\n")
    mark = error.problem_mark or error.context_mark
    row, column = min(mark.line, len(lines) - 1), mark.column
    line, context, problem = lines[row], error.context or "", error.problem or ""
    here, opened = line[column : column + 1], error.context_mark
    indent = line[: len(line) - len(line.lstrip())]
    if "\t" in indent or here == "\t":
        return Slip(row + 1, (indent if "\t" in indent else line).index("\t") + 1, "a tab stands here", "use blanks, and no tabs")
    if "quoted scalar" in context and "unexpected" in problem:
        return Slip(opened.line + 1, opened.column + 1, "the quote opened here is never closed")
    if "escape" in problem or "hexdec" in problem:
        return Slip(row + 1, column + 1, "a backslash means something else inside double quotes", "use single quotes")
    if "nesting depth" in problem:
        return Slip(row + 1, column + 1, "nested deeper than the reader goes", code="FILE-02")
    if "flow" in context:
        return _in_brackets(lines, row, column, opened)
    if "simple key" in context:
        return _no_key(lines, opened.line)
    if problem.startswith("mapping values"):
        return _colon(lines, row, column)
    if "cannot start any token" in problem:
        return Slip(row + 1, column + 1, f"no text begins with `{here}`: put it in quotes")
    if "another document" in problem:
        return Slip(row + 1, 1, "a second document begins here; a file holds one", "leave the line `---` out")
    if "entries are not allowed" in problem:
        return Slip(row + 1, column + 1, "a list begins on a line of its own", "put `- ` on the next line, or write `[one, two]`")
    if context in ("while parsing a block mapping", "while parsing a block collection"):
        return _block(lines, row, column, last)
    return Slip(row + 1, column + 1, "this can't be read as YAML")


def _in_brackets(lines: list[str], row: int, column: int, opened: yaml.Mark) -> Slip:
    def indent(of: int) -> int:
        return len(lines[of]) - len(lines[of].lstrip())

    rest = any(line.strip() for line in [lines[row][column:], *lines[row + 1 :]])
    if not rest or (row > opened.line and indent(row) <= indent(opened.line)):
        bracket = lines[opened.line][opened.column : opened.column + 1]
        return Slip(opened.line + 1, opened.column + 1, f"the bracket `{bracket}` opened here is never closed")
    if lines[row][column] == ":":
        return Slip(row + 1, column + 1, _COLON)
    return Slip(row + 1, column + 1, "a comma or the closing bracket is missing before this")


def _no_key(lines: list[str], row: int) -> Slip:
    if found := _CROWDED.match(lines[row]):
        return _blank(row, found)
    return Slip(row + 1, len(lines[row]) - len(lines[row].lstrip()) + 1, "this line has no `key:` before its text",
                "where it goes on from the line above, put it further in than that line's key")


def _colon(lines: list[str], row: int, column: int) -> Slip:
    """A colon where none can stand: in a text, or because the line before lacks its blank or its column."""
    line = lines[row]
    if (key := _KEYED.match(line)) and key.end() <= column:
        value = line[key.end() :].strip()
        advice = f"`{line[: key.end()].strip()} \"{value}\"`" if not set(value) & set("\"{}#") else ""
        return Slip(row + 1, key.end() + 1, _COLON, advice and f"write {advice}")
    above = row - 1
    while above > 0 and not lines[above].strip():
        above -= 1
    if above >= 0 and (found := _CROWDED.match(lines[above])):
        return _blank(above, found)
    start = len(line) - len(line.lstrip())
    if above >= 0 and ": " not in lines[above] and not lines[above].rstrip().endswith(":"):
        return _no_key(lines, above)
    return Slip(row + 1, start + 1, _COLUMN, "this line begins further in than the line above")


def _block(lines: list[str], row: int, column: int, last: yaml.Event | None) -> Slip:
    line = lines[row]
    if line[column : column + 1] in ("]", "}"):
        return Slip(row + 1, column + 1, f"the bracket `{line[column]}` closes nothing")
    if line[:column].rstrip()[-1:] in ("'", '"') and isinstance(last, yaml.ScalarEvent):
        start = last.start_mark
        if start.line < row:
            return Slip(start.line + 1, start.column + 1, f"the quote opened here is closed only in line {row + 1}",
                        "close it where its text ends")
        return Slip(row + 1, column + 1, "more text follows the closing quote", "put the whole text in one pair of quotes of the other kind")
    for at in (row, row - 1):
        if at >= 0 and (found := _DASHED.match(lines[at])):
            return Slip(at + 1, found.end(), "a blank is missing after the dash")
        if at >= 0 and (found := _CROWDED.match(lines[at])):
            return _blank(at, found)
    return Slip(row + 1, column + 1, _COLUMN, "move this line under the ones that it belongs to")


def _blank(row: int, found: re.Match) -> Slip:
    return Slip(row + 1, found.end(), "a blank is missing after the colon")
