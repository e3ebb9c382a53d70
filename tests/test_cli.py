"""The command line: its exit codes, and what it says when the command, the files or we are wrong."""

import shutil
from pathlib import Path

import pytest

from builder import cli
from builder.check import everything
from builder.compile import catalogue
from builder.places import ROOT

SMALL = ROOT / "tests" / "check"


@pytest.fixture
def small_job(tmp_path: Path) -> Path:
    """The small job with its libraries, in a folder of its own."""
    for name in ("small_job.yaml", "locking.yaml", "joining.yaml", "firm.yaml"):
        shutil.copy(SMALL / name, tmp_path / name)
    return tmp_path / "small_job.yaml"


def test_a_job_without_fault_ends_with_0(small_job: Path, capsys: pytest.CaptureFixture) -> None:
    """The check says what it counted."""
    assert 0 == cli.main(["check", str(small_job)])
    assert "A small job: 3 tasks, 3 sheets" in capsys.readouterr().out


def test_a_job_that_is_not_there_ends_with_1(tmp_path: Path, capsys: pytest.CaptureFixture) -> None:
    """The file is named, as a fault of what was asked for."""
    assert 1 == cli.main(["check", str(tmp_path / "none.yaml")])
    said = capsys.readouterr().err
    assert "none.yaml:1:1: error FILE-01: can't read this file: no such file or directory" in said
    assert "Nothing was written." in said


def test_a_formula_outside_the_subset_ends_with_1(
    small_job: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture,
) -> None:
    """Whoever adds a formula is told file, line and column, and not that the builder failed."""
    formulas = tmp_path / "formulas"
    shutil.copytree(catalogue.FOLDER, formulas, ignore=shutil.ignore_patterns("__pycache__"))
    with (formulas / "rope.py").open("a", encoding="utf-8") as rope:
        rope.write("\n\nwhile True:\n    pass\n")
    line = (formulas / "rope.py").read_text(encoding="utf-8").split("\n").index("while True:") + 1
    monkeypatch.setattr(catalogue, "FOLDER", formulas)
    catalogue.formulas.cache_clear()
    try:
        assert 1 == cli.main(["check", str(small_job)])
    finally:
        catalogue.formulas.cache_clear()
    assert f"rope.py:{line}:1: error FORM-01: " in capsys.readouterr().err


@pytest.mark.parametrize("words", [["fly"], [], ["issue", "--port", "99999999"], ["issue", "--phones", "0"], ["issue", "--port", "http"]])
def test_a_command_that_is_none_ends_with_2(words: list[str], capsys: pytest.CaptureFixture) -> None:
    """An unknown command, none at all, and a port that no computer has."""
    with pytest.raises(SystemExit) as ended:
        cli.main(words)
    assert 2 == ended.value.code
    if "issue" in words:
        assert f"`{words[-1]}` is no port: a port is a whole number from 1 to 65535" in capsys.readouterr().err


def test_a_place_that_can_not_be_written_ends_with_2(small_job: Path, capsys: pytest.CaptureFixture) -> None:
    """The site can't go below a file; the path is named."""
    assert 2 == cli.main(["build", str(small_job), "--out", str(small_job / "site")])
    said = capsys.readouterr().err
    assert "small_job.yaml" in said
    assert "Traceback" not in said


def test_a_fault_of_ours_ends_with_3(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture) -> None:
    """A fault in the program is not blamed on the file."""
    def broken(_: Path) -> dict:
        raise ZeroDivisionError("a sum of ours")

    monkeypatch.setattr(everything, "checked_job", broken)
    assert 3 == cli.main(["check"])
    assert "it is not your file's fault: ZeroDivisionError: a sum of ours" in capsys.readouterr().err
