"""A browser killed while it writes: every entry that the screen had confirmed is there afterwards."""

import contextlib
import os
import random
import signal
from pathlib import Path
from typing import Any

from playwright.sync_api import Error

from builder.record.merge import Held, merge
from builder.record.record_file import parse_record
from tests.browser import launch_options
from tests.record.conftest import open_store_page

JOB = "yard"


def _opened(browser: Any, folder: Path) -> Any:
    return browser.browser_type.launch_persistent_context(str(folder), bypass_csp=True, **launch_options(os.environ))


def _killed_in_mid_write(browser: Any, folder: Path, address: str, after: int) -> list[list]:
    """Start writing, kill the browser `after` milliseconds after its first entry; gives what it had confirmed."""
    context = _opened(browser, folder)
    confirmed: list[list] = []
    page = open_store_page(context, address)
    page.expose_function("saved", lambda entry: confirmed.append(entry))
    page.evaluate("void store.untilKilled('yard')")
    while not confirmed:
        page.wait_for_timeout(5)
    page.wait_for_timeout(after)
    processes = context.browser.new_browser_cdp_session().send("SystemInfo.getProcessInfo")["processInfo"]
    number = next(process["id"] for process in processes if process["type"] == "browser")
    # On Windows, terminating is killing.
    os.kill(number, getattr(signal, "SIGKILL", signal.SIGTERM))
    with contextlib.suppress(Error):
        context.close()
    return confirmed


def test_a_killed_browser_loses_nothing_confirmed(
    browser: Any, app_modules: str, tmp_path: Path, full: bool
) -> None:
    """After each kill the record opens, its chain holds, and it goes on where it was."""
    seed = random.randrange(2**32)
    chance = random.Random(seed)
    print(f"seed {seed}")
    kills = 20 if full else 3
    everything: list[list] = []
    for _ in range(kills):
        everything += _killed_in_mid_write(browser, tmp_path, app_modules, chance.randrange(400))
        context = _opened(browser, tmp_path)
        given = open_store_page(context, app_modules).evaluate("store.told('yard', [])")
        context.close()
        merged = merge(Held(), parse_record(given["text"].encode(), JOB).entries, JOB)
        held = {fields["id"] for fields in merged.said}
        assert [] == [entry for entry in everything if entry[1] not in held]
        assert {"new"} == {one.verdict for one in merged.verdicts}
    print(f"{kills} kills, {len(everything)} entries confirmed, none lost")
