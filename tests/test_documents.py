"""The documents keep their promises: every command, code, verdict and unit that there is stands in them."""

import re
from pathlib import Path

import pytest

from builder.cli import _COMMANDS, GOOD, OURS, STOPPED, WRONG, WRONG_COMMAND
from builder.compile.formula_table import formula_table
from builder.load.problems import CODES
from builder.places import ROOT

DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_every_error_code_is_explained() -> None:
    """The table of codes in the developers' document is the one that the checker uses."""
    rows = dict(re.findall(r"^\| `([A-Z]+-\d+)` \| (.*) \|$", DEVELOPERS, re.M))
    assert CODES == rows


def test_every_code_that_the_source_uses_is_in_the_table() -> None:
    """No problem is ever reported under a code that nobody can look up."""
    sources = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "builder").rglob("*.py"))
    assert set(re.findall(r'"((?:FILE|YAML|SHAPE|NAME|UNIT|EXPR|WORK|HOLD|OVER|FORM)-\d\d)"', sources)) == set(CODES)


@pytest.mark.parametrize("command", sorted(_COMMANDS))
def test_every_command_is_in_the_readme(command: str) -> None:
    """A person can find every command without reading the source."""
    assert f"builder {command}" in README


@pytest.mark.parametrize("verdict", ["new", "known", "early", "forked", "broken", "foreign"])
def test_every_verdict_is_explained(verdict: str) -> None:
    """Each word that `collect` may say of an entry is in the developers' document."""
    assert f"| `{verdict}` |" in DEVELOPERS


def test_the_table_of_formulas_is_the_one_that_the_command_prints() -> None:
    """What each formula was checked against is never told by hand."""
    assert formula_table().strip() in DEVELOPERS


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md"])
def test_every_path_that_a_document_names_is_there(name: str) -> None:
    """A link or a path in the documents leads somewhere."""
    text = (ROOT / name).read_text(encoding="utf-8")
    named = re.findall(r"`((?:builder|checklists|assets|shared|tests)/[\w./-]*)`", text)
    named += re.findall(r"\]\(([\w./-]+)\)", text)
    missing = [path for path in named if not (ROOT / path).exists()]
    assert [] == missing
    assert named, Path(name)


@pytest.mark.parametrize("code", [GOOD, WRONG, WRONG_COMMAND, OURS, STOPPED])
def test_every_exit_code_is_explained(code: int) -> None:
    """What a command's exit code means can be looked up."""
    assert re.search(rf"^\| {code} \| \w", DEVELOPERS, re.M)
