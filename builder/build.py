"""The build: check everything, bind, render, and only then put the new site in the old one's place."""

import os
import shutil
import tempfile
from pathlib import Path

from builder.check.everything import checked_job
from builder.compile.modules import generated_modules
from builder.render import site_files


def build(job_path: Path, out: Path) -> dict[str, int]:
    """
    Build a job into the folder `out`.

    Gives counts: tasks, sheets, steps, files, bytes. Raises BadInput; nothing is written then.
    """
    data = checked_job(job_path)
    files = site_files(data, generated_modules(data))
    write_site(files, out)
    steps = {key: len(task["steps"]) for key, task in data["tasks"].items()}
    return {
        "tasks": len(data["tasks"]), "sheets": len(data["sheets"]),
        "steps": sum(steps[sheet["task"]] for sheet in data["sheets"]),
        "files": len(files), "bytes": sum(map(len, files.values())),
    }


class NotOurs(Exception):
    """The place where the site should go holds something that Pitslate did not build."""


def write_site(files: dict[str, bytes], out: Path) -> None:
    """
    Write every file into a fresh folder beside `out`, then swap the two: old or new, never mixed.

    Raises NotOurs where `out` is a file, or a folder of anything but an earlier site.
    """
    out = out.resolve()
    if out.exists() and not _is_ours(out):
        raise NotOurs(f"{out} is not a site that Pitslate built. Nothing was touched; name another place with --out.")
    out.parent.mkdir(parents=True, exist_ok=True)
    fresh = Path(tempfile.mkdtemp(prefix=f".{out.name}-", dir=out.parent))
    try:
        for folder in {fresh / Path(path).parent for path in files}:
            folder.mkdir(parents=True, exist_ok=True)
        for path, content in files.items():
            (fresh / path).write_bytes(content)
        fresh.chmod(0o755)
        _swap(fresh, out)
    finally:
        shutil.rmtree(fresh, ignore_errors=True)


def _is_ours(out: Path) -> bool:
    """Whether a folder may be replaced: it is empty, or carries the mark that every site carries."""
    return out.is_dir() and (not any(out.iterdir()) or all((out / mark).is_file() for mark in ("build.json", "service-worker.js")))


def _swap(fresh: Path, out: Path) -> None:
    if not out.exists():
        os.replace(fresh, out)
        return
    old = Path(tempfile.mkdtemp(prefix=f".{out.name}-old-", dir=out.parent))
    os.replace(out, old / "site")
    try:
        os.replace(fresh, out)
    except BaseException:
        os.replace(old / "site", out)
        raise
    finally:
        shutil.rmtree(old, ignore_errors=True)
