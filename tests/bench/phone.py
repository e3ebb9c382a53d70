"""
What the demo costs a phone: `python -m tests.bench.phone`.

Prints the size of the install by kind, compressed file by file; then, without signal and with the processor slowed
six times: requests and time of a cold start to a usable sheet, the longest task and the layout shift of it, and the
time from a tap to its entry on disk and on the screen, with an empty record and with one of 10,000 entries. Beside
them, in the same run, a bare page from the same kind of store that only writes one IndexedDB row: the floor.
"""

import gzip
import os
import statistics
import tempfile
from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, sync_playwright

from builder.build import build
from builder.places import DEMO_JOB
from tests.browser import launch_options
from tests.folder_server import FolderServer

SLOWED, ROUNDS, TAPS, ENTRIES = 6, 7, 60, 10_000
SHEET = "tasks/cable-pulling/before-the-pull.html#R3"

BARE = {
    "index.html": '<!doctype html><meta charset="utf-8"><title>Bare</title><p data-part="next"></p><script src="bare.js"></script>',
    "bare.js": """
const policy = trustedTypes.createPolicy("pitslate", { createScriptURL: (text) => text });
navigator.serviceWorker.register(policy.createScriptURL("service-worker.js"));
const open = indexedDB.open("bare", 1);
open.onupgradeneeded = () => open.result.createObjectStore("rows", { autoIncrement: true });
globalThis.write = () => new Promise((done) => {
  const transaction = open.result.transaction("rows", "readwrite", { durability: "strict" });
  transaction.objectStore("rows").add({ text: "one row" });
  transaction.oncomplete = done;
});
open.onsuccess = () => write().then(() => { document.querySelector("p").textContent = "written"; });
""",
    "service-worker.js": """
addEventListener("install", (event) => event.waitUntil(caches.open("bare").then((cache) => cache.addAll(["index.html", "bare.js"]))));
addEventListener("fetch", (event) => event.respondWith(caches.match(event.request)));
""",
}

# Told from inside the page, so that watching it costs the page nothing to speak of.
WATCH = """(() => {
  const seen = globalThis.seen = { usable: null, longest: 0, shift: 0 };
  const watcher = new MutationObserver(() => {
    if (!document.querySelector("[data-part=next]")?.firstChild) return;
    seen.usable = performance.now();
    watcher.disconnect();
  });
  watcher.observe(document, { childList: true, subtree: true });
  new PerformanceObserver((list) => list.getEntries().forEach((task) => { seen.longest = Math.max(seen.longest, task.duration); }))
    .observe({ type: "longtask", buffered: true });
  new PerformanceObserver((list) => list.getEntries().forEach((one) => { seen.shift += one.hadRecentInput ? 0 : one.value; }))
    .observe({ type: "layout-shift", buffered: true });
})()"""

# One tap after the other on "Done" and then "Undo" of the first step; each is timed to disk and to the screen.
TAP = """async (times) => {
  const step = [...document.querySelectorAll("li.step")].find((line) => line.dataset.kind !== "read" && line.dataset.state === "open" && !line.querySelector("form").hidden);
  const until = (holds) => new Promise((done) => {
    const channel = new MessageChannel();
    channel.port1.onmessage = () => (holds() ? done() : channel.port2.postMessage(0));
    channel.port2.postMessage(0);
  });
  let written = 0;
  const real = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function transaction(stores, mode, options) {
    const given = real.call(this, stores, mode, options);
    if (mode === "readwrite") given.addEventListener("complete", () => { written = performance.now(); });
    return given;
  };
  const taken = [];
  for (let number = 0; number < times; number += 1) {
    const state = step.dataset.state;
    const button = state === "open" ? step.querySelector("form .act") : step.querySelector(".undo");
    const began = performance.now();
    written = 0;
    button.click();
    await until(() => written && step.dataset.state !== state && !step.querySelector("form[aria-busy]"));
    taken.push([written - began, performance.now() - began]);
    await new Promise((rest) => setTimeout(rest, 800));
  }
  return taken;
}"""

BARE_TAP = """async (times) => {
  const taken = [];
  for (let number = 0; number < times; number += 1) {
    const began = performance.now();
    await write();
    taken.push([performance.now() - began, performance.now() - began]);
  }
  return taken;
}"""

# What another phone did on every other sheet of the job, over and over; the sheet that is open keeps a step to tap.
FILL = r"""async (count) => {
  const { job, sheets, tasks } = await (await fetch("../../job.json")).json();
  const { build } = document.documentElement.dataset;
  const dev = "f".repeat(32);
  const open = indexedDB.open(`pitslate-record-${job.name}`);
  const base = await new Promise((done) => { open.onsuccess = () => done(open.result); });
  const id = (seq) => String(seq).padStart(64, "0");
  const here = `${/tasks\/(.*)\.html/.exec(location.pathname)[1]}/${location.hash.slice(1)}`;
  const lines = sheets.filter((sheet) => sheet.id !== here).flatMap((sheet) => tasks[sheet.task].steps.filter((step) => step.kind !== "hold").map((step) => [sheet, step]));
  const transaction = base.transaction(["brought", "heads"], "readwrite");
  for (let seq = 0; seq < count; seq += 1) {
    const [sheet, step] = lines[seq * 7919 % lines.length];
    const read = step.kind === "read";
    const payload = JSON.stringify({
      v: 1, dev, seq, prev: seq ? id(seq - 1) : null, seen: {}, at: "2026-03-04T10:00:00+10:00", who: job.people[0].name, job: job.name, build,
      kind: seq === 0 ? "device" : read ? "reading" : "done", sheet: seq ? sheet.id : null, step: seq ? step.name : null,
      value: seq === 0 ? "Another phone" : read ? step.one_of[0] ?? (step.text ? "as found" : String(step.plausible[0])) : "",
      unit: null, shown: null, about: [], ...(seq ? {} : { key: "A".repeat(87), continues: null }),
    });
    transaction.objectStore("brought").put({ dev, seq, id: id(seq), sig: "A".repeat(86), payload });
  }
  transaction.objectStore("heads").put({ dev, seq: count - 1, id: id(count - 1), whole: count - 1 });
  await new Promise((done, refused) => { transaction.oncomplete = done; transaction.onabort = () => refused(transaction.error); });
  base.close();
}"""


def _sizes(site: Path) -> Counter:
    sizes: Counter = Counter()
    for path in site.rglob("*"):
        if path.is_file():
            kind = "scripts" if path.suffix in (".js", ".mjs") else path.suffix[1:]
            sizes[kind] += len(gzip.compress(path.read_bytes(), 9))
    return sizes


def _started(context: BrowserContext, address: str) -> tuple[Any, dict]:
    """A new page without network, once it can be used; and what was seen of its start."""
    page = context.new_page()
    page.add_init_script(WATCH)
    # A desktop browser opens pages of its own beside a new one; they are no part of a phone's start.
    page.wait_for_timeout(1500)
    context.set_offline(True)
    requests: list[str] = []
    page.on("request", lambda request: requests.append(request.url))
    context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
    page.goto(address, wait_until="commit")
    while page.evaluate("seen.usable") is None:
        page.wait_for_timeout(200)
    # What comes later than this is no part of the start.
    page.wait_for_timeout(1500)
    return page, page.evaluate("seen") | {"requests": len(requests)}


def _measure(context: BrowserContext, address: str, tap: str) -> str:
    """Cold starts and taps of one page, in one line."""
    starts = []
    for _ in range(ROUNDS):
        page, seen = _started(context, address)
        starts.append(seen)
        page.close()
    page, _ = _started(context, address)
    taps = page.evaluate(tap, TAPS)
    page.close()
    context.set_offline(False)
    disk, screen = (sorted(column) for column in zip(*taps, strict=True))
    usable, longest = (statistics.median(seen[what] for seen in starts) for what in ("usable", "longest"))
    return (f"usable after {usable:.0f} ms, {starts[-1]['requests']} requests, longest task {longest:.0f} ms, "
            f"layout shift {max(seen['shift'] for seen in starts):.3f}; tap to disk {_spread(disk)}, to screen {_spread(screen)}")


def _spread(taken: Sequence[float]) -> str:
    return f"{statistics.median(taken):.0f} ms (95th percentile {taken[int(len(taken) * 0.95)]:.0f})"


def _write(folder: Path, files: dict[str, str]) -> Path:
    folder.mkdir()
    for name, text in files.items():
        (folder / name).write_text(text)
    return folder


def _introduce(context: BrowserContext, address: str) -> None:
    """Install, and say who holds the phone."""
    page = context.new_page()
    page.goto(address + SHEET)
    page.evaluate("navigator.serviceWorker.ready.then(() => null)")
    page.locator("[data-part=next]").click()
    page.get_by_role("dialog").locator("label.person").first.click()
    page.get_by_role("dialog").get_by_label("What this phone is called").fill("Measured")
    page.locator("[data-part=ask-yes]").click()
    page.get_by_role("dialog").wait_for(state="detached")
    page.close()


def main() -> None:
    """Build, install, measure."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        site = Path(folder) / "site"
        build(DEMO_JOB, site)
        sizes = _sizes(site)
        print(f"install, compressed: {sum(sizes.values()) / 1000:.1f} kB of 200, scripts {sizes['scripts'] / 1000:.1f} kB of 60")
        print("  " + ", ".join(f"{kind} {size / 1000:.1f}" for kind, size in sizes.most_common()))
        browser = playwright.chromium.launch(**launch_options(os.environ))
        print(f"cold start without signal and {TAPS} taps, processor slowed {SLOWED} times, median of {ROUNDS}; "
              "budgets: usable 1000 ms, tap to disk 50 ms at the 95th percentile")
        bare, served = FolderServer(_write(Path(folder) / "bare", BARE)), FolderServer(site)
        context = browser.new_context(viewport={"width": 360, "height": 740})
        page = context.new_page()
        page.goto(bare.url + "index.html")
        page.evaluate("navigator.serviceWorker.ready.then(() => null)")
        page.close()
        print(f"  bare page that writes one row: {_measure(context, bare.url + 'index.html', BARE_TAP)}")
        _introduce(context, served.url)
        print(f"  sheet, empty record: {_measure(context, served.url + SHEET, TAP)}", flush=True)
        page = context.new_page()
        page.goto(served.url + SHEET)
        page.evaluate(FILL, ENTRIES)
        page.close()
        print(f"  sheet, {ENTRIES} entries: {_measure(context, served.url + SHEET, TAP)}")
        browser.close()
        bare.stop()
        served.stop()


if __name__ == "__main__":
    main()
