"""
From tap to disk: `python -m tests.bench.append [TIMES]`.

How long one entry takes to be on the disk of a phone that holds 10,000 entries, its processor slowed six times.
"""

import argparse
import os
import statistics
import sys

from playwright.sync_api import sync_playwright

from builder.places import ASSETS
from tests.browser import launch_options
from tests.folder_server import FolderServer
from tests.record.conftest import open_store_page

ENTRIES = 10_000
SLOWED = 6
BUDGET_MILLISECONDS = 50


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.append", description=__doc__.strip().splitlines()[0])
    parser.add_argument("times", type=int, nargs="?", default=200, help="entries to time (200)")
    times = parser.parse_args().times
    server = FolderServer(ASSETS / "app")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(**launch_options(os.environ))
        context = browser.new_context(bypass_csp=True)
        page = open_store_page(context, server.url)
        context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
        taken = sorted(page.evaluate("([length, times]) => store.appendTimes('yard', length, times)", [ENTRIES, times]))
        browser.close()
    server.stop()
    late = taken[int(len(taken) * 0.95)]
    print(f"{times} entries into {ENTRIES}, processor slowed {SLOWED} times: "
          f"median {statistics.median(taken):.0f} ms, 95th percentile {late:.0f} ms, budget {BUDGET_MILLISECONDS} ms")
    return 0 if late <= BUDGET_MILLISECONDS else 1


if __name__ == "__main__":
    sys.exit(main())
