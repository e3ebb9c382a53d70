"""
How long a build takes: `python -m tests.bench.build [--times N]`.

Each build runs in a fresh process, and the median counts. Beside it, the demo job, and the same
text as plain pages through a general-purpose site generator (`pip install -e .[bench]`; left out,
and said so, when it is not there).
"""

import argparse
import importlib.util
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import yaml

from builder.places import DEMO_JOB, ROOT
from tests.bench.big_job import BigJob, write_big_job

RUNS = 50
BUDGET_SECONDS = 1.0
DEMO_BUDGET_SECONDS = 0.7
BUDGET_RATIO = 5


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.build", description=__doc__.strip().splitlines()[0])
    parser.add_argument("--times", type=int, default=5, help="builds of each kind (5)")
    times = parser.parse_args().times
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch)
        big = write_big_job(folder, RUNS)
        site = folder / "site"
        big_seconds = _median_seconds(_build(big.path, site), times)
        demo_seconds = _median_seconds(_build(DEMO_JOB, folder / "demo"), times)
        pages = _pages(site)
        print(f"{big.sheets} sheets, {big.steps} bound steps, {len(pages)} pages, medians of {times} cold processes")
        held = [
            _verdict("build", big_seconds, BUDGET_SECONDS),
            _verdict("demo", demo_seconds, DEMO_BUDGET_SECONDS),
        ]
        print(f"build to demo: {big_seconds / demo_seconds:.2f}")
        held += _against_generator(folder, big, pages, big_seconds, times)
    return 0 if all(held) else 1


def _verdict(name: str, seconds: float, budget: float) -> bool:
    held = seconds <= budget
    print(f"{name}: {seconds / budget:.2f} of its budget{'' if held else '  OVER'}")
    return held


def _against_generator(folder: Path, big: BigJob, pages: list[Path], seconds: float, times: int) -> list[bool]:
    """As many pages of as much text as ours; and, as a count, one page for each sheet."""
    if importlib.util.find_spec("mkdocs") is None:
        print("site generator: not installed, so not measured (pip install -e .[bench])")
        return []
    text = _library_text(big)
    same = _median_seconds(_generate(folder / "same", _dealt(text, len(pages))), times)
    print(f"site generator, {len(pages)} pages of the same text: {same / seconds:.2f} times ours")
    per_sheet = _median_seconds(_generate(folder / "sheets", text * (big.sheets // len(text))), 1)
    ratio = per_sheet / seconds
    print(
        f"site generator, {big.sheets} pages, one a sheet: {ratio:.1f} times ours{'' if ratio >= BUDGET_RATIO else '  UNDER'}"
    )
    return [ratio >= BUDGET_RATIO]


def _build(job: Path, out: Path) -> list[str]:
    return [sys.executable, "-m", "builder.cli", "build", str(job), "--out", str(out)]


def _pages(site: Path) -> list[Path]:
    return sorted(site.rglob("*.html"))


def _library_text(big: BigJob) -> list[str]:
    """Each task of the library as Markdown: what a page for one sheet has to show."""
    library = yaml.safe_load((big.path.parent / "measured.yaml").read_text(encoding="utf-8"))
    return [
        f"# {task['title']}\n\n"
        + "".join(f"- {step['say']}\n\n    {step.get('why', '')}\n\n" for step in task["steps"])
        for task in library["tasks"]
    ]


def _dealt(text: list[str], pages: int) -> list[str]:
    """The text over exactly so many pages; those that go beyond it get its first page again."""
    return [text[index] if index < len(text) else text[0] for index in range(pages)]


def _generate(folder: Path, pages: list[str]) -> list[str]:
    """The command that renders these pages."""
    (folder / "docs").mkdir(parents=True)
    for index, page in enumerate(pages):
        name = "index" if index == 0 else f"page-{index}"
        (folder / "docs" / f"{name}.md").write_text(page, encoding="utf-8")
    (folder / "mkdocs.yml").write_text("site_name: measured\nplugins: []\n", encoding="utf-8")
    return [sys.executable, "-m", "mkdocs", "build", "--quiet", "--config-file", str(folder / "mkdocs.yml")]


def _median_seconds(command: list[str], times: int) -> float:
    return statistics.median(_seconds(command) for _ in range(times))


def _seconds(command: list[str]) -> float:
    begun = time.perf_counter()
    subprocess.run(command, check=True, cwd=ROOT, stdout=subprocess.DEVNULL)
    return time.perf_counter() - begun


if __name__ == "__main__":
    sys.exit(main())
