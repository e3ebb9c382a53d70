"""
Make the project's own environment and install what pyproject.toml asks for.

Safe to cut off anywhere: the next start sees that it was not finished and begins again.
"""

import contextlib
import importlib.metadata
import importlib.util
import os
import re
import shutil
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO

from builder.bootstrap.enter import Stopped
from builder.bootstrap.own_python import OwnPython
from builder.bootstrap.trouble import cause

_PIP = "-m pip install --disable-pip-version-check --no-input --no-user --retries 2 --progress-bar off"


def has_packages(root: Path, extra: str | None) -> bool:
    """Whether this Python already has every package that pyproject.toml asks for."""
    project = tomllib.loads((root / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    asked = project["dependencies"] + (project["optional-dependencies"][extra] if extra else [])
    try:
        for requirement in asked:
            importlib.metadata.version(re.match(r"[\w.-]+", requirement)[0])
    except importlib.metadata.PackageNotFoundError:
        return False
    return True


def prepare(own: OwnPython, extra: str | None) -> None:
    """Make the environment, or bring it up to date; Stopped when that cannot be done."""
    try:
        with _only_one(own.lock):
            if not own.is_ready(extra):
                if not own.can_be_kept():
                    _make(own)
                _install(own, extra)
    except KeyboardInterrupt:
        raise Stopped("\nStopped. Run the same command to go on.") from None
    except OSError as error:
        raise Stopped(
            f"Nothing can be written at {error.filename or own.root}: {error.strerror}.\n"
            "  Clone the project into a folder of your own and run it there."
        ) from None


def _make(own: OwnPython) -> None:
    if own.folder.exists() and not own.is_ours():
        raise Stopped(
            f"{own.folder} is in the way: it was not made by this command, so it stays untouched.\n"
            "  Move it away, or run the command with the Python inside it after `pip install -e .` there."
        )
    if not (importlib.util.find_spec("venv") and importlib.util.find_spec("ensurepip")):
        raise Stopped(
            "This Python came without venv and pip, which the first start needs.\n"
            "  On Debian or Ubuntu: sudo apt install python3-venv. Elsewhere: install Python from python.org."
        )
    _say(f"Making {own.folder} for the packages of this project; nothing outside it changes.")
    if own.folder.exists():
        shutil.rmtree(own.folder)
    own.mark_begun()
    _work(own, [sys.executable, "-m", "venv", str(own.folder)], "Python could not make an environment: ")


def _install(own: OwnPython, extra: str | None) -> None:
    _say("Installing those packages, this once. It takes about half a minute.")
    own.mark_unready()
    what = f"{own.root}[{extra}]" if extra else str(own.root)
    command = [str(own.executable), *_PIP.split(), "--editable", what]
    _work(own, command, "The packages could not be installed: ")
    own.mark_ready(extra)


def _work(own: OwnPython, command: list[str], failure: str) -> None:
    """Run one step, its chatter in a log; Stopped, with the cause, if it fails."""
    with own.log.open("w", encoding="utf-8") as chatter:
        # The lock stays open in the child: if only this process is killed, the next start waits for it.
        code = subprocess.call(
            command, stdin=subprocess.DEVNULL, stdout=chatter, stderr=subprocess.STDOUT, close_fds=False
        )
    if code != 0:
        said = own.log.read_text(encoding="utf-8", errors="replace")
        raise Stopped(f"{failure}{cause(said)}\n  What the installer said: {own.log}")


@contextlib.contextmanager
def _only_one(path: Path) -> Iterator[None]:
    """Hold the lock; wait while another start holds it."""
    with path.open("a+b") as file:
        if not _lock(file, wait=False):
            _say("Another start is still installing; waiting for it.")
            _lock(file, wait=True)
        yield


if os.name == "nt":
    import msvcrt
    import time

    def _lock(file: BinaryIO, *, wait: bool) -> bool:
        while True:
            try:
                file.seek(0)
                msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
                return True
            except OSError:
                if not wait:
                    return False
                time.sleep(0.5)
else:
    import fcntl

    def _lock(file: BinaryIO, *, wait: bool) -> bool:
        os.set_inheritable(file.fileno(), True)
        try:
            fcntl.flock(file, fcntl.LOCK_EX | (0 if wait else fcntl.LOCK_NB))
        except BlockingIOError:
            return False
        return True


def _say(line: str) -> None:
    print(line, file=sys.stderr, flush=True)
