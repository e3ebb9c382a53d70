"""The subset of formulas: what is outside is refused at its place, what is inside is taken."""

import ast

import pytest

from builder.compile.catalogue import FOLDER, read_catalogue
from builder.compile.refusal import Refused
from builder.compile.subset import functions_of, parse_formulas
from tests.compile.book import cases

HEAD = '"""Stage."""\n\nfrom builder.formulas.mathematics import cannot_tell, floor, sqrt\n\n\ndef f(x, rows):\n'
HEAD_LINES, INDENT = 6, 4
SIBLINGS = {"sibling": {"shared": 1}}


def said_of(source: str, lines: int = 0, columns: int = 0) -> list[str]:
    with pytest.raises(Refused) as refused:
        parse_formulas(source, SIBLINGS)
    return [f"{one.line - lines}:{one.column - columns}: {one.text}" for one in refused.value.refusals]


@pytest.mark.parametrize(("body", "said"), cases("refused_statements"))
def test_statement_outside_the_subset_is_refused_at_its_place(body: str, said: list[str]) -> None:
    """Everything that the two languages do not share is named with line, column and a sentence."""
    source = HEAD + "".join(f"{' ' * INDENT}{line}\n" for line in body.split("\n"))
    assert said == said_of(source, HEAD_LINES, INDENT)


@pytest.mark.parametrize(("source", "said"), cases("refused_files"))
def test_file_outside_the_subset_is_refused_at_its_place(source: str, said: list[str]) -> None:
    """Imports, constants, arguments and names are held to the subset too."""
    assert said == said_of(source + "\n")


def test_book_of_refusals_is_long() -> None:
    """At least forty-five constructs are refused by name."""
    assert len(cases("refused_statements")) >= 45


def test_text_that_is_not_python_is_refused() -> None:
    """A fault of form is a refusal with a line, and no traceback."""
    assert "7" == said_of(HEAD + "    return x +\n")[0].split(":")[0]
    assert ["1:1: this is not Python"] == said_of("\0")


@pytest.mark.parametrize("body", [
    "y = x\ny += 1\nreturn y", "return x ** 2 + 2 ** (x / 3)", "return -x if x < 0 else x", "return 0 < x < 1 and not x == 2",
    "total = 0\nfor row in rows:\n    total = total + row[\"a\"]\nreturn total",
    "found = []\nfor i in range(0, len(rows)):\n    found.append({\"a\": rows[i][\"a\"]})\nreturn {\"rows\": found}",
    "if x is None:\n    cannot_tell(\"No x is given.\")\nreturn max(x, 1, abs(x))",
    "for i in range(0, 3):\n    if x < i:\n        cannot_tell(\"Row \" + str(i + 1) + \" is too long.\")\nreturn str(floor(x))",
])
def test_statement_inside_the_subset_is_taken(body: str) -> None:
    """Arithmetic, conditions, loops over rows, rows built up and reasons are what formulas are made of."""
    source = HEAD + "".join(f"{' ' * INDENT}{line}\n" for line in body.split("\n"))
    assert {"f": 2} == functions_of(parse_formulas(source, SIBLINGS))


def test_formulas_of_the_project_are_all_inside_the_subset() -> None:
    """Every formula file of the project compiles, with its signatures."""
    catalogue = read_catalogue()
    assert {} == catalogue.refusals
    files = {path.stem for path in FOLDER.glob("*.py")} - {"__init__", "mathematics"}
    assert files == set(catalogue.modules)


def test_refused_file_is_named_and_the_others_are_read(tmp_path) -> None:
    """One faulty file does not hide what is wrong with another."""
    (tmp_path / "one.py").write_text("import os\n", encoding="utf-8")
    (tmp_path / "two.py").write_text("def f(x:\n", encoding="utf-8")
    assert ["one.py", "two.py"] == [path.name for path in read_catalogue(tmp_path).refusals]


def test_formula_of_two_files_is_refused(tmp_path) -> None:
    """A formula name means one formula."""
    text = ast.unparse(ast.parse((FOLDER / "lock_board.py").read_text(encoding="utf-8")))
    for name in ("one", "two"):
        (tmp_path / f"{name}.py").write_text(text, encoding="utf-8")
    [refusals] = read_catalogue(tmp_path).refusals.values()
    assert ["1:1: `locks_needed` is a formula of one.py too"] == [str(refusal) for refusal in refusals]
