"""The computer that issues a job: its name, its addresses, its clock, its terminal, its own folder."""

import os
import socket
import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from builder.issue.address import local_addresses


@dataclass(frozen=True)
class Computer:
    """What issuing to phones has to know of the computer it runs on."""

    name: str
    addresses: list[str]
    own_folder: Path
    clock: Callable[[], datetime]
    encoding: str | None = None
    colours: bool = False


def this_computer() -> Computer:
    """The computer we run on."""
    return Computer(
        name=socket.gethostname().split(".")[0] or "computer",
        addresses=local_addresses(),
        own_folder=own_folder(sys.platform, os.environ, Path.home()),
        clock=lambda: datetime.now(UTC),
        encoding=sys.stdout.encoding,
        colours=_has_colours(),
    )


def own_folder(platform: str, environ: Mapping[str, str], home: Path) -> Path:
    """
    Where a user's own things are kept, by the custom of each system.

    Inputs
      platform  as sys.platform
      environ   the environment's variables
      home      the user's home folder
    """
    if platform == "win32":
        return Path(environ.get("LOCALAPPDATA") or home / "AppData" / "Local") / "Pitslate"
    if platform == "darwin":
        return home / "Library" / "Application Support" / "Pitslate"
    return Path(environ.get("XDG_DATA_HOME") or home / ".local" / "share") / "pitslate"


def _has_colours() -> bool:
    if os.name == "nt":
        os.system("")  # runs nothing, but wakes the console's understanding of colours
    return sys.stdout.isatty() and os.environ.get("TERM") != "dumb"
