"""
What collecting costs: `python -m tests.bench.collect [ENTRIES]`.

Records of the demo job are written first, a thousand entries each. Everything is a ratio to the bare cost of the
same bytes: parsing them as JSON and taking their SHA-256. Signatures are given apart, because each costs more
than all the rest of its entry. Each part runs in a fresh process. Seconds are those of the processors, all of
them added up, so that whatever else the machine does changes little.
"""

import argparse
import hashlib
import json
import multiprocessing
import resource
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from builder.build import build
from builder.places import DEMO_JOB
from builder.record.chain import public_key, signature_holds
from builder.record.collect import collect
from builder.record.incoming import incoming
from tests.record.phone import Phone, record_text

EACH = 1000
BUDGET_RATIO = 3
BUDGET_MEGABYTES = 1000
# Of this many entries one is a reading with its workings, on top of what is done and looked at.
READINGS = 10


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.collect", description=__doc__.strip().splitlines()[0])
    parser.add_argument("entries", type=int, nargs="?", default=100_000, help="entries in all (100000)")
    files = max(1, parser.parse_args().entries // EACH)
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch)
        site = folder / "site"
        build(DEMO_JOB, site)
        with multiprocessing.Pool() as pool:
            paths = pool.starmap(_write, [(folder, site, number) for number in range(files)])
        count = files * EACH
        size = sum(path.stat().st_size for path in paths)
        print(f"{count} entries in {files} records, {size / 1e6:.0f} MB")
        bare, _ = _alone(_bare, paths)
        print(f"bare, JSON and SHA-256 of the same bytes: {bare:.2f} s, {bare / count * 1e6:.1f} µs an entry")
        signature = _signature_seconds()
        print(f"signatures alone: {count * signature:.1f} s, {signature * 1e6:.0f} µs each, {count * signature / bare:.1f} times bare")
        judged, _ = _alone(_judge, paths)
        print(f"read and judged, signatures included: {judged:.1f} s, {judged / bare:.1f} times bare")
        whole, megabytes = _alone(_collect, paths, site, folder / "records")
        print(f"collected, worked out again and shown: {whole:.1f} s, {whole / bare:.1f} times bare, "
              f"without signatures {(whole - count * signature) / bare:.1f}; {megabytes:.0f} MB at most")
        again, _ = _alone(_collect, paths, site, folder / "records")
        print(f"the same again: {again:.1f} s, {again / bare:.1f} times bare")
        print(f"budget: {BUDGET_RATIO} times bare and {BUDGET_MEGABYTES} MB for 1000000 entries")
        return 0 if whole <= BUDGET_RATIO * bare and megabytes <= BUDGET_MEGABYTES else 1


def _write(folder: Path, site: Path, number: int) -> Path:
    job = json.loads((site / "job.json").read_text(encoding="utf-8"))
    stamp = json.loads((site / "build.json").read_text(encoding="utf-8"))["build"]
    phone = Phone(f"Phone {number}", job=job["job"]["name"], build=stamp)
    steps = [
        (sheet["id"], step) for sheet in job["sheets"] for step in job["tasks"][sheet["task"]]["steps"]
        if step["kind"] in ("do", "look")
    ]
    shown = {"verdict": "within", "working": {"needed": {"length": "45 m"}}}
    for entry in range(1, EACH):
        if entry % READINGS:
            sheet, step = steps[(number * EACH + entry) % len(steps)]
            phone.tell("done", sheet=sheet, step=step["name"])
        else:
            phone.tell("reading", sheet="cable-pulling/before-the-pull/R1", step="length-in-hand", value=f"{entry}", unit="m", shown=shown)
    path = folder / f"{number}.json"
    path.write_text(record_text(phone.entries, phone), encoding="utf-8")
    return path


def _bare(paths: list[Path]) -> None:
    for path in paths:
        data = path.read_bytes()
        hashlib.sha256(data).digest()
        for entry in json.loads(data)["entries"]:
            json.loads(entry["payload"])


def _judge(paths: list[Path]) -> None:
    for one in incoming(paths, "kiln-yard"):
        if any(each.verdict for each in one.examined):
            raise AssertionError(f"{one.path} holds something that is not good")


def _collect(paths: list[Path], site: Path, out: Path) -> None:
    collect(paths, site, None, out, lambda: datetime.now(UTC), lambda line: None)


def _signature_seconds() -> float:
    phone = Phone("Ana's phone")
    key = public_key(phone.key)
    began = time.process_time()
    for _ in range(2000):
        signature_holds(key, phone.entries[0])
    return (time.process_time() - began) / 2000


def _alone(work: Callable, *given: Any) -> tuple[float, float]:
    """Seconds that a piece of work takes in a process of its own, and the most memory it and its helpers held."""
    receive, send = multiprocessing.Pipe(duplex=False)
    process = multiprocessing.Process(target=_timed, args=(send, work, *given))
    process.start()
    answer = receive.recv()
    process.join()
    return answer


def _timed(send: Any, work: Callable, *given: Any) -> None:
    work(*given)
    own, helpers = resource.getrusage(resource.RUSAGE_SELF), resource.getrusage(resource.RUSAGE_CHILDREN)
    seconds = sum(used.ru_utime + used.ru_stime for used in (own, helpers))
    send.send((seconds, (own.ru_maxrss + helpers.ru_maxrss) / 1000))


if __name__ == "__main__":
    sys.exit(main())
