"""
The project's own Python environment, `.venv` beside the project: where it is, whether it is ready.

Two files inside tell its state, so that a start cut off halfway is noticed by the next one.
"""

import hashlib
import os
import sys
from pathlib import Path


class OwnPython:
    """The environment that belongs to the project at `root`."""

    def __init__(self, root: Path):
        self.root = root
        self.folder = root / ".venv"
        self.lock = root / ".venv.lock"
        self.log = self.folder / "pitslate-install.log"
        # Written first: says that the folder is ours to remake.
        self._made_for = self.folder / "pitslate-made-for"

    @property
    def executable(self) -> Path:
        if os.name == "nt":
            return self.folder / "Scripts" / "python.exe"
        return self.folder / "bin" / "python"

    def is_this_one(self) -> bool:
        return Path(sys.prefix).resolve() == self.folder.resolve()

    def is_ours(self) -> bool:
        """Whether this command made the folder, finished or not."""
        return self._made_for.exists()

    def is_ready(self, extra: str | None) -> bool:
        """Whether everything that pyproject.toml asks for now was installed to the end."""
        return _text(self._stamp(extra)) == self._wanted() and self.executable.exists()

    def can_be_kept(self) -> bool:
        """Whether it was finished once, by this kind of Python, in this folder: at most out of date."""
        finished = self.executable.exists() and any(self.folder.glob("pitslate-ready*"))
        return finished and _text(self._made_for) == self._maker()

    def mark_begun(self) -> None:
        self.folder.mkdir()
        self._made_for.write_text(self._maker(), encoding="utf-8")

    def mark_unready(self) -> None:
        for stamp in self.folder.glob("pitslate-ready*"):
            stamp.unlink()

    def mark_ready(self, extra: str | None) -> None:
        """Also ready without the extra packages, which come on top."""
        for included in {None, extra}:
            self._stamp(included).write_text(self._wanted(), encoding="utf-8")

    def _stamp(self, extra: str | None) -> Path:
        return self.folder / (f"pitslate-ready-{extra}" if extra else "pitslate-ready")

    def _wanted(self) -> str:
        asked = (self.root / "pyproject.toml").read_bytes()
        return hashlib.sha256(asked + self._maker().encode()).hexdigest()

    def _maker(self) -> str:
        kind = f"{sys.implementation.name} {sys.version_info.major}.{sys.version_info.minor}"
        return f"{kind} for {self.root.resolve()}"


def _text(path: Path) -> str | None:
    try:
        return path.read_text(encoding="utf-8")
    except OSError:
        return None
