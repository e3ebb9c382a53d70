"""
How the two languages compare over generated inputs, and how fast each is: `python -m tests.bench.formulas`.

Prints the sets of inputs compared and the largest relative difference between Python and the
browser, then workings per second and the time for the pull along a route of sixty segments in each.
"""

import argparse
import os
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random
from typing import Any

from playwright.sync_api import sync_playwright

from builder.compile.catalogue import signature_data
from tests.browser import launch_options
from tests.compile.calls import CALLED_ON_PHONE, asked_of_phone, called_here
from tests.compile.inputs import input_sets
from tests.compile.page import write_page
from tests.compile.vectors import vector_job
from tests.folder_server import FolderServer

LEAST = 100_000
# What two libraries may differ by, of the size of the number.
NEARNESS = 1e-12
SEGMENTS = 60
ROUTE_CALLS = 200

TIMED_ON_PHONE = f"""async (asked) => {{
  const called = {CALLED_ON_PHONE};
  await called(asked);
  const start = performance.now();
  await called(asked);
  return (performance.now() - start) / 1000;
}}"""


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.formulas", description=__doc__.strip().splitlines()[0])
    parser.add_argument("--sets", type=int, default=-(-LEAST // len(signature_data())), help=f"sets of inputs for each formula ({LEAST} in all)")
    parser.add_argument("--seed", type=int, default=1, help="seed of the inputs (1)")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as scratch, sync_playwright() as playwright:
        folder = Path(scratch)
        write_page(folder, vector_job())
        server = FolderServer(folder)
        chromium = playwright.chromium.launch(**launch_options(os.environ))
        page = chromium.new_page()
        page.goto(server.url)
        unlike = _compare(page.evaluate, asked.sets, asked.seed)
        _time_a_route(page.evaluate)
        chromium.close()
        server.stop()
    return 1 if unlike else 0


def _compare(phone: Callable, count: int, seed: int) -> int:
    sets = answered = unlike = 0
    here_seconds = there_seconds = largest = 0.0
    for name, signature in sorted(signature_data().items()):
        given = list(input_sets(signature, count, Random(f"{seed} {name}")))
        start = time.perf_counter()
        here = [called_here(name, one) for one in given]
        here_seconds += time.perf_counter() - start
        there = phone(CALLED_ON_PHONE, asked_of_phone(name, given))
        there_seconds += phone(TIMED_ON_PHONE, asked_of_phone(name, given))
        sets += len(given)
        answered += sum("outputs" in one for one in here)
        unlike += sum(_said(a) != _said(b) for a, b in zip(here, there, strict=True))
        largest = max([largest, *(gap for a, b in zip(here, there, strict=True) for gap in _gaps(a, b))])
    print(f"{sets} sets of inputs for {len(signature_data())} formulas, seed {seed}: {answered} with an answer, {sets - answered} without")
    print(f"largest relative difference {largest:.2e}; {unlike} said otherwise on the phone")
    print(f"workings per second: {sets / here_seconds:,.0f} in Python, {sets / there_seconds:,.0f} in the browser")
    return unlike + (largest > NEARNESS)


def _said(answer: dict[str, Any]) -> Any:
    return answer.get("texts", answer.get("cannot_tell"))


def _gaps(a: Any, b: Any) -> Iterator[float]:
    """Relative differences of all numbers in two answers."""
    if isinstance(a, dict) and isinstance(b, dict):
        for key in a.keys() & b.keys():
            yield from _gaps(a[key], b[key])
    elif isinstance(a, list) and isinstance(b, list):
        for one, other in zip(a, b, strict=False):
            yield from _gaps(one, other)
    elif isinstance(a, float) and isinstance(b, int | float) and a != b:
        yield abs(a - b) / max(abs(a), abs(b))


def _time_a_route(phone: Callable) -> None:
    shapes = ("bend_level", "sag_rising", "crest_rising", "sag_falling", "crest_falling")
    straight = {"length": 4.0, "slope": 0.05, "turn": None, "radius": None}
    bend = {"length": None, "slope": None, "turn": 0.3, "radius": 1.5}
    route = [
        {"shape": "straight", **straight} if place % 2 == 0 else {"shape": shapes[place // 2 % len(shapes)], **bend}
        for place in range(SEGMENTS)
    ]
    given = {"segments": route, "weight_per_length": 20.0, "friction": 0.2, "occupancy": 1.0, "feed_tension": 0.0,
             "arrangement": "single", "bore": 0.1}
    here = []
    for _ in range(ROUTE_CALLS):
        start = time.perf_counter()
        answer = called_here("route_tension", given)
        here.append(time.perf_counter() - start)
    if "outputs" not in answer:
        raise SystemExit(f"the route of the measurement has no answer: {answer['cannot_tell']}")
    there = phone(TIMED_ON_PHONE, asked_of_phone("route_tension", [given] * ROUTE_CALLS)) / ROUTE_CALLS
    print(f"pull along {SEGMENTS} segments: {sorted(here)[ROUTE_CALLS // 2] * 1000:.2f} ms in Python, {there * 1000:.2f} ms in the browser")


if __name__ == "__main__":
    raise SystemExit(main())
