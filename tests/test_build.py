"""The build: the same bytes for the same input, and the old site or the new one, never a mixture."""

import hashlib
import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from markupsafe import escape

from builder import build as building
from builder.build import NotOurs, build, write_site
from builder.load.problems import BadInput
from builder.places import DEMO_JOB, ROOT
from builder.policy import CONTENT_POLICY


def _hashes(folder: Path) -> dict[str, str]:
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*")) if path.is_file()
    }


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo job, built once for this module."""
    out = tmp_path_factory.mktemp("built") / "site"
    build(DEMO_JOB, out)
    return out


@pytest.mark.parametrize(
    "surroundings",
    [{"PYTHONHASHSEED": "1", "TZ": "UTC"}, {"PYTHONHASHSEED": "77", "TZ": "Asia/Kathmandu", "LC_ALL": "C"}],
    ids=["seed 1 in UTC", "seed 77 in Kathmandu"],
)
def test_the_same_job_builds_the_same_bytes(surroundings: dict[str, str], site: Path, tmp_path: Path) -> None:
    """Hash seed, time zone and locale leave no trace in what is shipped."""
    command = [sys.executable, "-m", "builder.cli", "build", str(DEMO_JOB), "--out", str(tmp_path / "again")]
    subprocess.run(command, cwd=ROOT, env={**os.environ, **surroundings}, check=True, capture_output=True)
    assert _hashes(site) == _hashes(tmp_path / "again")


def test_one_page_per_task_however_many_items(site: Path) -> None:
    """The page count follows the libraries and not the job."""
    data = json.loads((site / "job.json").read_bytes())
    pages = {path.relative_to(site / "tasks").with_suffix("").as_posix() for path in (site / "tasks").rglob("*.html")}
    assert set(data["tasks"]) == pages
    assert len(data["sheets"]) > len(pages)


def test_every_page_forbids_everything_but_its_own_origin(site: Path) -> None:
    """The policy stands on every page, and no page needs what it forbids."""
    for page in site.rglob("*.html"):
        html = page.read_text(encoding="utf-8")
        assert f'content="{escape(CONTENT_POLICY)}"' in html, page
        assert not re.search(r"<script(?![^>]*\ssrc=)", html), page
        assert not re.search(r"<style|\sstyle=|\son[a-z]+=", html), page
        assert not re.search(r"(?:src|href)=\"(?:https?:)?//", html), page


def test_the_worker_lists_every_file_with_its_hash(site: Path) -> None:
    """What the phone keeps is exactly what was built: a file missing from the list would be missing in the pit."""
    worker = (site / "service-worker.js").read_text(encoding="utf-8")
    listed = dict(re.findall(r'\[\s*"([^"]+)",\s*"([0-9a-f]{64})"\s*\]', worker))
    assert {path: digest for path, digest in _hashes(site).items() if path != "service-worker.js"} == listed


def test_every_page_carries_the_stamp_of_its_build(site: Path) -> None:
    """A page says which build it belongs to, so that no two builds mix unseen."""
    stamp = json.loads((site / "build.json").read_bytes())["build"]
    assert re.fullmatch(r"[0-9a-f]{12}", stamp)
    for page in site.rglob("*.html"):
        assert f'data-build="{stamp}"' in page.read_text(encoding="utf-8"), page


def test_a_wrong_job_writes_nothing(site: Path, tmp_path: Path) -> None:
    """The last good site stays as it is when the job has an error."""
    out = tmp_path / "site"
    shutil.copytree(site, out)
    job = tmp_path / "job.yaml"
    job.write_text("job: x\n", encoding="utf-8")
    with pytest.raises(BadInput):
        build(job, out)
    assert _hashes(site) == _hashes(out)
    assert ["job.yaml", "site"] == sorted(path.name for path in tmp_path.iterdir())


@pytest.mark.parametrize("kept", ["notes.txt", "build.json", "site.py"])
def test_what_pitslate_did_not_build_is_never_replaced(kept: str, site: Path, tmp_path: Path) -> None:
    """A folder of somebody's own, one that only looks like a site, and a file: each stays as it is, byte for byte."""
    out = tmp_path / "mine"
    if kept == "site.py":
        out.write_text("mine", encoding="utf-8")
    else:
        out.mkdir()
        (out / kept).write_text("mine", encoding="utf-8")
    with pytest.raises(NotOurs, match="Nothing was touched"):
        build(DEMO_JOB, out)
    assert "mine" == (out if kept == "site.py" else out / kept).read_text(encoding="utf-8")
    assert ["mine"] == [path.name for path in tmp_path.iterdir()]


def test_an_empty_folder_and_an_earlier_site_are_replaced(site: Path, tmp_path: Path) -> None:
    """Building again into the same place works."""
    out = tmp_path / "site"
    out.mkdir()
    build(DEMO_JOB, out)
    build(DEMO_JOB, out)
    assert _hashes(site) == _hashes(out)


class _Killed(BaseException):
    """Stands for the process being killed: nothing may catch it as an ordinary fault."""


def test_a_build_killed_at_any_write_leaves_the_old_site(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """At each write and at the swap: what is there is the old site or the new, never mixed."""
    marks = {"build.json": b"{}", "service-worker.js": b""}
    old = marks | {"a.txt": b"old", "b/c.txt": b"old"}
    new = marks | {"a.txt": b"new", "b/c.txt": b"new", "d.txt": b"new"}
    out = tmp_path / "site"
    real_write, real_replace = Path.write_bytes, os.replace
    moments = 0
    for moment in range(50):
        shutil.rmtree(out, ignore_errors=True)
        write_site(old, out)
        left = [moment]

        def strike(left: list[int] = left) -> None:
            if left[0] == 0:
                raise _Killed
            left[0] -= 1

        def write(path: Path, content: bytes, strike=strike) -> int:
            strike()
            return real_write(path, content)

        def replace(source, target, strike=strike) -> None:
            # Putting the old site back is the answer to the stroke, not part of the work that is struck.
            if Path(source).name != "site":
                strike()
            real_replace(source, target)

        with monkeypatch.context() as patch:
            patch.setattr(Path, "write_bytes", write)
            patch.setattr(building.os, "replace", replace)
            try:
                write_site(new, out)
                killed = False
            except _Killed:
                killed = True
        if not killed:
            break
        moments += 1
        assert old == {path: (out / path).read_bytes() for path in old}, f"killed at moment {moment}"
        assert not (out / "d.txt").exists()
    assert 6 == moments, "five writes and the move can be struck"
