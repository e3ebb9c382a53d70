"""
Get into a Python that has everything the project needs.

Kept light: every start of every command passes here, so what only an installation needs is
imported when there is something to install.
"""

import os
import sys
from pathlib import Path

from builder.bootstrap.own_python import OwnPython


class Stopped(Exception):
    """The command cannot start; the text says what is wrong and what to do."""


def enter(root: str, module: str, words: list[str], extra: str | None = None) -> None:
    """
    Return if this Python can run `module`; else run it in the project's own environment and exit.

    `extra` names a set of packages of pyproject.toml that the module needs on top.
    """
    own = OwnPython(Path(root))
    if not own.is_ready(extra):
        from builder.bootstrap.installation import has_packages, prepare

        if not (own.is_this_one() and own.is_ours()) and has_packages(own.root, extra):
            return
        prepare(own, extra)
    elif own.is_this_one():
        return
    _run_again(own.executable, ["-P", os.path.join(root, module), *words])


def _run_again(python: Path, arguments: list[str]) -> None:
    """Hand over to the environment's Python; its exit code becomes ours."""
    sys.stdout.flush()
    sys.stderr.flush()
    command = [str(python), *arguments]
    if os.name != "nt":
        os.execv(python, command)

    # Windows has no exec that keeps the console, so wait; Ctrl-C reaches both, and the child answers it.
    import subprocess

    with subprocess.Popen(command) as child:
        while True:
            try:
                sys.exit(child.wait())
            except KeyboardInterrupt:
                continue
