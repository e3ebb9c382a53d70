"""
What the demo costs a phone: `python -m tests.bench.phone`.

Prints the size of the install by kind, compressed file by file, and the time of a cold start without
signal to a usable sheet with the processor slowed six times, beside a bare page from the same store.
"""

import gzip
import os
import statistics
import tempfile
from collections import Counter
from pathlib import Path

from playwright.sync_api import BrowserContext, sync_playwright

from builder.build import build
from builder.issue.address import LOOPBACK, listen
from builder.issue.serve import Server, serving
from builder.issue.shelf import Folder
from builder.places import DEMO_JOB
from tests.browser import launch_options

SLOWED, ROUNDS = 6, 7
SHEET = "tasks/cable-pulling/before-the-pull.html#R3"
USABLE = "[data-part=next]:not(:empty)"


def _sizes(site: Path) -> Counter:
    sizes: Counter = Counter()
    for path in site.rglob("*"):
        if path.is_file():
            kind = "scripts" if path.suffix in (".js", ".mjs") else path.suffix[1:]
            sizes[kind] += len(gzip.compress(path.read_bytes(), 9))
    return sizes


def _cold_start(context: BrowserContext, address: str, ready: str | None) -> float:
    """Milliseconds from asking for a page to its being usable, in a new page without network."""
    page = context.new_page()
    context.set_offline(True)
    context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
    page.goto(address, wait_until="commit")
    if ready:
        page.locator(ready).first.wait_for()
    took = page.evaluate("performance.now()")
    page.close()
    return took


def main() -> None:
    """Build, install, measure."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        site = Path(folder) / "site"
        build(DEMO_JOB, site)
        sizes = _sizes(site)
        print(f"install, compressed: {sum(sizes.values()) / 1000:.1f} kB of 200, scripts {sizes['scripts'] / 1000:.1f} kB of 60")
        print("  " + ", ".join(f"{kind} {size / 1000:.1f}" for kind, size in sizes.most_common()))
        browser = playwright.chromium.launch(**launch_options(os.environ))
        with serving(Server(listen(LOOPBACK, 0), Folder(site), {LOOPBACK})) as server:
            address = f"http://{LOOPBACK}:{server.port}/"
            context = browser.new_context(viewport={"width": 360, "height": 740})
            page = context.new_page()
            page.goto(address)
            page.evaluate("navigator.serviceWorker.ready.then(() => null)")
            page.close()
            sheet = [_cold_start(context, address + SHEET, USABLE) for _ in range(ROUNDS)]
            bare = [_cold_start(context, address + "build.json", None) for _ in range(ROUNDS)]
        browser.close()
    print(f"cold start without signal, processor slowed {SLOWED} times, median of {ROUNDS}: sheet usable after "
          f"{statistics.median(sheet):.0f} ms of 1000, a bare file from the same store {statistics.median(bare):.0f} ms")


if __name__ == "__main__":
    main()
