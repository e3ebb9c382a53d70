"""The other engine goes dead while a sheet is worked: all that its screen had confirmed is there afterwards."""

import json
import os
import random
import shutil
import signal
import time
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread
from typing import Any

import pytest

from tests.webkit import NO_WEBKIT, killable_webkit, screen, webkit_is_here

SCRIPTS = [Path(__file__).with_name(name) for name in ("enter_again.js", "webkit_work.js")]
SECONDS = 60


class _Handler(SimpleHTTPRequestHandler):
    """Serves the site, and takes down what the page tells."""

    told: list[tuple[str, Any]]
    extensions_map = SimpleHTTPRequestHandler.extensions_map | {".mjs": "text/javascript"}

    def do_POST(self) -> None:
        self.told.append(tuple(json.loads(self.rfile.read(int(self.headers["Content-Length"])))))
        self.send_response(204)
        self.end_headers()

    def log_message(self, *_: Any) -> None:
        """Nobody reads it."""


@contextmanager
def _served(site: Path) -> Iterator[tuple[str, list[tuple[str, Any]]]]:
    """An address, and what is told to it."""
    told: list[tuple[str, Any]] = []
    handler = type("Handler", (_Handler,), {"told": told})
    with ThreadingHTTPServer(("127.0.0.1", 0), partial(handler, directory=str(site))) as server:
        Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}/", told
        server.shutdown()


def _until_saved(told: list[tuple[str, Any]]) -> None:
    end = time.monotonic() + SECONDS
    while not any(kind in ("saved", "fault") for kind, _ in told):
        assert time.monotonic() < end, "the page never got as far as saving a reading"
        time.sleep(0.02)


def test_killed_webkit_has_all_that_its_screen_had_confirmed(yard_folder: Path, tmp_path: Path, full: bool) -> None:
    """After each of many kills of browser, page and network process the app opens, nothing is missing and nothing complains."""
    if not os.environ.get("CI") and not webkit_is_here():
        pytest.skip(NO_WEBKIT)
    seed = random.randrange(2**32)
    chance = random.Random(seed)
    print(f"seed {seed}")
    site = tmp_path / "site"
    shutil.copytree(yard_folder, site)
    for script in SCRIPTS:
        shutil.copy(script, site)
    loaded = "".join(f'<script src="{script.name}"></script>' for script in SCRIPTS)
    (site / "work.html").write_text(f'<!doctype html><title>Work</title><iframe width="400" height="700"></iframe>{loaded}')
    confirmed: list[str] = []
    with screen() as display, _served(site) as (address, told):
        for kill in range((100 if full else 5) + 1):
            told.clear()
            browser = killable_webkit(address + "work.html", display, tmp_path / "home")
            try:
                _until_saved(told)
                time.sleep(chance.random() / 2)
            finally:
                os.killpg(browser.pid, signal.SIGKILL)
                browser.wait()
            [start] = [value for kind, value in told if kind == "start"]
            assert [] == [value for kind, value in told if kind == "fault"]
            assert [] == [value for value in confirmed if value not in start["held"]]
            assert ("", kill > 0) == (start["notices"], "Ada Quill" in start["crew"])
            confirmed += [value for kind, value in told if kind == "saved"]
    print(f"{kill} kills, {len(confirmed)} readings confirmed, none lost")
