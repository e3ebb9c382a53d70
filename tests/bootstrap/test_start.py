"""The first start of a clone, with a project that needs no package from outside."""

import os
import shutil
import signal
import subprocess
import sys
import time
import zipfile
from pathlib import Path

import pytest

from builder.bootstrap.own_python import OwnPython
from builder.places import ROOT

# A project of one module. Its build backend is a file of its own, so that installing it needs no network.
PROJECT = """
[build-system]
requires = []
build-backend = "backend"
backend-path = ["."]

[project]
name = "small"
version = "1"
requires-python = ">=3.11"
dependencies = [{needs}]
optional-dependencies = {{ more = [] }}
"""
BACKEND = '''
"""Builds a wheel with nothing in it but the record of what was asked."""
import pathlib, time, tomllib, zipfile

def build_editable(folder, config_settings=None, metadata_directory=None):
    while pathlib.Path("wait").exists():
        time.sleep(0.05)
    needs = tomllib.loads(pathlib.Path("pyproject.toml").read_text())["project"]["dependencies"]
    name = "small-1-py3-none-any.whl"
    with zipfile.ZipFile(pathlib.Path(folder, name), "w") as wheel:
        lines = ["Metadata-Version: 2.1", "Name: small", "Version: 1"] + ["Requires-Dist: " + need for need in needs]
        wheel.writestr("small-1.dist-info/METADATA", "\\n".join(lines) + "\\n")
        wheel.writestr("small-1.dist-info/WHEEL", "Wheel-Version: 1.0\\nRoot-Is-Purelib: true\\nTag: py3-none-any\\n")
        wheel.writestr("small-1.dist-info/RECORD", "")
    return name
'''
MAIN = """
import os, sys
root = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
sys.path.insert(0, root)
from builder.bootstrap.enter import Stopped, enter
try:
    enter(root, "small", sys.argv[1:])
except Stopped as stopped:
    sys.exit(str(stopped))
print("inside" if os.path.join(root, ".venv") == sys.prefix else "outside", *sys.argv[1:])
sys.exit(7)
"""


class Clone:
    """A small project that starts the way ours does."""

    def __init__(self, folder: Path):
        self.folder = folder
        self.own = OwnPython(folder)
        (folder / "small").mkdir(parents=True)
        (folder / "small" / "__main__.py").write_text(MAIN)
        (folder / "builder").mkdir()
        (folder / "builder" / "__init__.py").write_text("")
        shutil.copytree(ROOT / "builder" / "bootstrap", folder / "builder" / "bootstrap")
        (folder / "backend.py").write_text(BACKEND)
        self.ask_for('"missing-from-every-python"', wheel=True)

    def ask_for(self, needs: str, *, wheel: bool) -> None:
        """Set what the project needs; `wheel` puts such a package where the installer looks."""
        (self.folder / "pyproject.toml").write_text(PROJECT.format(needs=needs))
        if wheel:
            _empty_wheel(self.folder / "wheels", needs.strip('"'))

    def begin(self, *words: str, **environ: str) -> subprocess.Popen:
        """Start it in a group of its own, with no package registry but the folder of wheels."""
        return subprocess.Popen(
            [sys.executable, str(self.folder / "small"), *words],
            env={**os.environ, "PIP_NO_INDEX": "1", "PIP_FIND_LINKS": (self.folder / "wheels").as_uri(), **environ},
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            start_new_session=True,
        )

    def start(self, *words: str, **environ: str) -> tuple[int, str, str]:
        """Run it to the end; gives the exit code and what it said."""
        process = self.begin(*words, **environ)
        out, err = process.communicate(timeout=120)
        return process.returncode, out, err

    def wait_for_installer(self) -> None:
        """Until the environment is there and the installer is at work in it."""
        limit = time.monotonic() + 60
        while not (self.own.log.exists() and "Obtaining" in self.own.log.read_text()):
            assert time.monotonic() < limit, "the installer never began"
            time.sleep(0.05)


def _empty_wheel(folder: Path, name: str) -> None:
    folder.mkdir(exist_ok=True)
    plain = name.replace("-", "_")
    with zipfile.ZipFile(folder / f"{plain}-1-py3-none-any.whl", "w") as wheel:
        wheel.writestr(f"{plain}-1.dist-info/METADATA", f"Metadata-Version: 2.1\nName: {name}\nVersion: 1\n")
        wheel.writestr(f"{plain}-1.dist-info/WHEEL", "Wheel-Version: 1.0\nRoot-Is-Purelib: true\nTag: py3-none-any\n")
        wheel.writestr(f"{plain}-1.dist-info/RECORD", "")


@pytest.fixture
def clone(tmp_path: Path) -> Clone:
    """A fresh clone, nothing installed."""
    return Clone(tmp_path / "a clone")


def test_first_start_installs_and_second_start_goes_straight_in(clone):
    """Both run the command inside the environment and pass its words and exit code on."""
    code, out, err = clone.start("check", "my job.yaml")
    assert (7, "inside check my job.yaml\n") == (code, out)
    assert "Making" in err
    assert "Installing" in err
    assert (7, "inside again\n", "") == clone.start("again")


def test_changed_needs_are_installed_into_the_environment_that_is_there(clone):
    """A new line in pyproject.toml is noticed, and the environment is not made anew."""
    clone.start()
    clone.ask_for('"another-missing-one"', wheel=True)
    code, out, err = clone.start()
    assert (7, "inside\n") == (code, out)
    assert "Installing" in err
    assert "Making" not in err


def test_missing_package_is_said_in_plain_words_and_mended_by_the_next_start(clone):
    """No traceback, a log to look into, and a second try that works once there is a registry."""
    clone.ask_for('"not-to-be-had"', wheel=False)
    code, out, err = clone.start()
    assert (1, "") == (code, out)
    assert "the package registry could not be reached" in err
    assert "Traceback" not in err
    clone.ask_for('"not-to-be-had"', wheel=True)
    assert clone.start()[0] == 7


@pytest.mark.skipif(os.name == "nt", reason="Windows has no process groups to kill like this")
def test_start_killed_in_mid_install_is_mended_by_the_next_one(clone):
    """Everything dies at once, as when the battery does."""
    (clone.folder / "wait").touch()
    first = clone.begin()
    clone.wait_for_installer()
    os.killpg(first.pid, signal.SIGKILL)
    first.communicate()
    assert not clone.own.is_ready(None)
    (clone.folder / "wait").unlink()
    assert (7, "inside\n") == clone.start()[:2]


@pytest.mark.skipif(os.name == "nt", reason="Windows ends the installer together with its console")
def test_start_waits_for_an_installer_whose_parent_was_killed(clone):
    """Two installers never write into one environment."""
    (clone.folder / "wait").touch()
    first = clone.begin()
    clone.wait_for_installer()
    first.kill()
    first.communicate()
    second = clone.begin()
    assert "waiting for it" in second.stderr.readline()
    (clone.folder / "wait").unlink()
    out, _ = second.communicate(timeout=120)
    assert (7, "inside\n") == (second.returncode, out)


@pytest.mark.skipif(os.name == "nt", reason="the console's Ctrl-C cannot be sent to one process there")
def test_ctrl_c_in_mid_install_ends_in_one_sentence(clone):
    """No traceback from us or from the installer."""
    (clone.folder / "wait").touch()
    first = clone.begin()
    clone.wait_for_installer()
    os.killpg(first.pid, signal.SIGINT)
    _, err = first.communicate(timeout=60)
    assert "Stopped. Run the same command to go on." in err
    assert "Traceback" not in err


def test_environment_made_by_somebody_else_stays_untouched(clone):
    """A .venv that was there before is not ours to change."""
    (clone.folder / ".venv").mkdir()
    (clone.folder / ".venv" / "mine").touch()
    code, _, err = clone.start()
    assert code == 1
    assert "was not made by this command" in err
    assert [clone.folder / ".venv" / "mine"] == list((clone.folder / ".venv").iterdir())


def test_python_that_has_everything_is_used_as_it_is(clone):
    """Nothing is made when nothing is missing."""
    clone.ask_for('"pytest"', wheel=False)
    assert (7, "outside\n", "") == clone.start()


def test_python_without_venv_is_told_what_to_install(clone, tmp_path):
    """Debian's Python comes without these two unless asked."""
    (tmp_path / "sitecustomize.py").write_text("import sys; sys.modules['ensurepip'] = None\n")
    code, _, err = clone.start(PYTHONPATH=str(tmp_path))
    assert code == 1
    assert "sudo apt install python3-venv" in err
    assert "Traceback" not in err
