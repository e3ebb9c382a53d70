"""Where the browser can't keep a record, the page says what is missing and records nothing."""

from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from tests.phone.hands import DRAW

TAKEN_AWAY = {
    "delete Crypto.prototype.subtle": "can't sign",
    "delete window.indexedDB; Object.defineProperty(window, 'indexedDB', { value: undefined })": "no store",
    "delete Navigator.prototype.serviceWorker": "without signal",
}


@pytest.mark.parametrize("script", TAKEN_AWAY)
def test_missing_ability_is_named_and_nothing_can_be_entered(browser: Browser, yard: str, script: str):
    """Without signing, store or worker the sheet can be read, and no button pretends to record."""
    context = browser.new_context()
    page = context.new_page()
    page.add_init_script(script)
    page.goto(yard + DRAW)
    expect(page.locator("[data-part=notices] .notice")).to_contain_text("This phone can't keep a record here")
    expect(page.locator("[data-part=notices] .notice")).to_contain_text(TAKEN_AWAY[script])
    expect(page.locator("[data-part=plate]")).to_have_text("R1")
    expect(page.locator("#step-clear .say")).to_be_visible()
    expect(page.get_by_role("button")).to_have_count(0)
    context.close()


def test_address_without_https_says_so(browser: Browser, yard_folder: Path):
    """An address on the local network over http has no signing and no worker; the page names the address first."""
    context = browser.new_context()

    def from_folder(route) -> None:
        path = route.request.url.split("//", 1)[1].split("/", 1)[1].split("#")[0]
        route.fulfill(path=yard_folder / (path or "index.html"))

    context.route("http://pit.example/**", from_folder)
    page = context.new_page()
    page.goto("http://pit.example/" + DRAW)
    expect(page.locator("[data-part=notices] .notice")).to_contain_text("not opened from a safe address (https)")
    expect(page.get_by_role("button")).to_have_count(0)
    context.close()
