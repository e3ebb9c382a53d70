"""Which Python is new enough, and that the project says so in one voice."""

import ast
import tomllib

import pytest

from builder.bootstrap.oldest_python import OLDEST, refusal
from builder.places import ROOT


@pytest.mark.parametrize("version", [(3, 11), (3, 11, 0), (3, 12, 4), (4, 0)])
def test_new_enough_python_is_not_refused(version):
    """From 3.11 on."""
    assert refusal(version) is None


@pytest.mark.parametrize("version", [(2, 7, 18), (3, 6), (3, 10, 13)])
def test_older_python_is_refused_with_both_versions(version):
    """The owner learns what is wanted and what is there."""
    said = refusal(version)
    assert "needs Python 3.11 or newer" in said
    assert f"this is Python {version[0]}.{version[1]}" in said


def test_project_file_asks_for_the_same_python():
    """pyproject.toml and the first sentence on the screen agree."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert project["requires-python"] == f">={OLDEST[0]}.{OLDEST[1]}"


@pytest.mark.parametrize(
    "file",
    [
        "builder/__init__.py",
        "builder/__main__.py",
        "builder/bootstrap/__init__.py",
        "builder/bootstrap/oldest_python.py",
        "tests/__init__.py",
        "tests/__main__.py",
    ],
)
def test_what_an_old_python_reads_has_nothing_that_it_cannot(file):
    """No f-string, annotation, or later syntax before the refusal is said."""
    tree = ast.parse((ROOT / file).read_text(encoding="utf-8"), feature_version=(3, 4))
    newer = (ast.JoinedStr, ast.AnnAssign, ast.NamedExpr, ast.AsyncFunctionDef, ast.Starred)
    assert [] == [node.lineno for node in ast.walk(tree) if isinstance(node, newer)]
