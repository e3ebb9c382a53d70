"""The builds that entries were made under: what each of them asked, kept beside the store."""

import json
import os
from functools import cache
from pathlib import Path
from typing import Any


class NoSite(Exception):
    """There is no built site where one was named."""


class Builds:
    """The current build, and every one that was seen by an earlier collect."""

    def __init__(self, site: Path, beside: Path):
        try:
            stamp = json.loads((site / "build.json").read_text(encoding="utf-8"))
            text = (site / "job.json").read_text(encoding="utf-8")
            self.build, self.current = stamp["build"], json.loads(text)
            self.name = self.current["job"]["name"]
        except (OSError, ValueError, KeyError, TypeError):
            raise NoSite(f"There is no built site in {site}. Build it first, or name its folder with --site.") from None
        self.folder = beside / "builds"
        self.job = cache(self._job)
        self._keep(text)

    def _keep(self, text: str) -> None:
        kept = self.folder / f"{self.build}.json"
        if kept.exists():
            return
        self.folder.mkdir(parents=True, exist_ok=True)
        fresh = kept.with_suffix(".new")
        fresh.write_text(text, encoding="utf-8")
        os.replace(fresh, kept)

    def _job(self, build: str) -> dict[str, Any] | None:
        """The job as this build asked it; None when the build is not known here."""
        if build == self.build:
            return self.current
        try:
            return json.loads((self.folder / f"{build}.json").read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return None
