"""The environment's own account of its state: begun, ready, out of date, foreign."""

from pathlib import Path

import pytest

from builder.bootstrap.own_python import OwnPython


@pytest.fixture
def own(tmp_path: Path) -> OwnPython:
    """An environment that was made and finished, packages for the tests included."""
    folder = tmp_path / "clone"
    folder.mkdir()
    (folder / "pyproject.toml").write_text("[project]\n")
    own = OwnPython(folder)
    own.mark_begun()
    own.executable.parent.mkdir()
    own.executable.touch()
    own.mark_ready("test")
    return own


def test_finished_environment_is_ready_with_and_without_the_extra_packages(own):
    """What was installed on top includes what it stands on, and nothing else."""
    assert own.is_ready("test")
    assert own.is_ready(None)
    assert not own.is_ready("bench")


def test_begun_environment_is_ours_but_neither_ready_nor_kept(own):
    """A start cut off halfway is begun again, not trusted."""
    own.mark_unready()
    assert own.is_ours()
    assert not own.is_ready(None)
    assert not own.can_be_kept()


def test_changed_needs_make_it_unready_but_worth_keeping(own):
    """New packages are installed into what is there."""
    (own.root / "pyproject.toml").write_text("[project]\ndependencies = ['more']\n")
    assert not own.is_ready(None)
    assert own.can_be_kept()


def test_environment_whose_python_has_gone_is_not_kept(own):
    """An upgrade of the system's Python takes the old one away."""
    own.executable.unlink()
    assert not own.is_ready(None)
    assert not own.can_be_kept()


def test_moved_environment_is_not_kept(own):
    """Environments hold their own address, so a moved one is made anew."""
    moved = OwnPython(own.root.rename(own.root.with_name("moved")))
    assert not moved.is_ready(None)
    assert not moved.can_be_kept()


def test_environment_of_another_python_is_not_kept(own, monkeypatch):
    """Packages belong to one minor version."""
    monkeypatch.setattr("sys.version_info", type("Version", (), {"major": 3, "minor": 99}))
    assert not own.is_ready(None)
    assert not own.can_be_kept()


def test_folder_made_by_somebody_else_is_not_ours(tmp_path):
    """A .venv without our mark is left alone."""
    (tmp_path / ".venv").mkdir()
    assert not OwnPython(tmp_path).is_ours()
