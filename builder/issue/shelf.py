"""
What a server may hand out: the files of a folder, or a few pages held in memory.

A shelf finds by the path of a request and finds nothing outside itself.
"""

from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import Protocol
from urllib.parse import unquote

# Named here, not left to the system: its table differs between computers, and a module served
# under a wrong type does not start.
_TYPES = {
    ".html": "text/html; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".mjs": "text/javascript; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".webmanifest": "application/manifest+json",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".ico": "image/vnd.microsoft.icon",
    ".woff2": "font/woff2",
    ".txt": "text/plain; charset=utf-8",
    ".pdf": "application/pdf",
    ".crt": "application/x-x509-ca-cert",
}
_UNKNOWN = "application/octet-stream"


@dataclass(frozen=True)
class Served:
    """One thing handed out."""

    body: bytes
    type: str


class Shelf(Protocol):
    """Anything that can be asked for a path."""

    def find(self, path: str) -> Served | None: ...


class Folder:
    """The files of one folder; `/` is its index.html, and no folder is ever listed."""

    def __init__(self, folder: Path):
        self._folder = folder

    def find(self, path: str) -> Served | None:
        name = _inner_path(path)
        if name is None:
            return None
        try:
            # Resolved at each request: a new build swaps the folder under a running server.
            top = self._folder.resolve(strict=True)
            file = (top / name).resolve(strict=True)
            if not file.is_relative_to(top) or not file.is_file():
                return None
            return Served(file.read_bytes(), media_type(name))
        except (OSError, ValueError):
            return None


class Pages:
    """A few bodies held in memory, by name; `/` is index.html."""

    def __init__(self, pages: dict[str, bytes]):
        self._pages = pages

    def find(self, path: str) -> Served | None:
        name = _inner_path(path)
        if name not in self._pages:
            return None
        return Served(self._pages[name], media_type(name))


def media_type(name: str) -> str:
    return _TYPES.get(PurePosixPath(name).suffix.lower(), _UNKNOWN)


def _inner_path(path: str) -> str | None:
    """The name inside the shelf that a request path means; None for a path that tries anything else."""
    path = path.split("?", 1)[0].split("#", 1)[0]
    try:
        name = unquote(path, errors="strict")
    except UnicodeDecodeError:
        return None
    if not name.startswith("/") or any(sign in name for sign in "\\:\0"):
        return None
    if name.endswith("/"):
        name += "index.html"
    parts = name[1:].split("/")
    if any(part == "" or part.startswith(".") for part in parts):
        return None
    return "/".join(parts)
