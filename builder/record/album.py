"""The photos that were collected: files beside the board, each named by its SHA-256."""

import hashlib
import os
import tempfile
from collections.abc import Iterable
from pathlib import Path

from builder.record.payload import Fields
from builder.record.photo import NoPhoto, photo_size


class Album:
    """A folder of photos. Nothing in it is taken away."""

    def __init__(self, folder: Path):
        self.folder = folder

    def path(self, sha256: str) -> Path:
        """Where a photo lies, or would lie."""
        return self.folder / f"{sha256}.jpg"

    def keep(self, photos: dict[str, bytes]) -> int:
        """Write photos, each whole or not at all; gives how many were not here before."""
        fresh = {name: data for name, data in photos.items() if self._bytes(name) != data}
        if fresh:
            self.folder.mkdir(parents=True, exist_ok=True)
        for name, data in fresh.items():
            handle, unfinished = tempfile.mkstemp(dir=self.folder, prefix=".unfinished-")
            with os.fdopen(handle, "wb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
            Path(unfinished).chmod(0o644)
            os.replace(unfinished, self.path(name))
        return len(fresh)

    def missing(self, said: Iterable[Fields]) -> list[Fields]:
        """Entries whose photo has not come, or is not the picture that they describe."""
        return [entry for entry in said if "photo" in entry and not self._holds(entry["photo"])]

    def _holds(self, photo: dict) -> bool:
        data = self._bytes(photo["sha256"])
        try:
            described = (len(data), *photo_size(data)) == (photo["bytes"], photo["width"], photo["height"])
        except NoPhoto:
            return False
        return described and hashlib.sha256(data).hexdigest() == photo["sha256"]

    def _bytes(self, sha256: str) -> bytes:
        try:
            return self.path(sha256).read_bytes()
        except OSError:
            return b""
