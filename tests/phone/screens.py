"""
Every screen as a phone shows it, to be looked at: `python -m tests.phone.screens FOLDER [NAME…]`.

Works parts of the demo, then takes each screen whole at 320, 360 and 412 px, by day and by night, and at 320 px
with text of twice the size. Nothing of it is kept in the project.
"""

import os
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import expect, sync_playwright

from builder.build import build
from builder.issue.address import LOOPBACK, listen
from builder.issue.serve import Server, serving
from builder.issue.shelf import Folder
from builder.places import DEMO_JOB
from tests.browser import launch_options
from tests.phone.at_the_winch import record_before_the_pull
from tests.phone.hands import Phone

LOOKS = [(width, scheme, 1) for width in (320, 360, 412) for scheme in ("light", "dark")]
LOOKS += [(320, scheme, 2) for scheme in ("light", "dark")]
PULL_DAY = "pull-day/cable-pulling/pull.html#R4"
SERVICES, PULL, LOCKS = (
    "tasks/trenching/find-services.html#T1", "tasks/cable-pulling/before-the-pull.html#R3", "tasks/lock-out/lock-off.html#hv-switch",
)


def _begun(phone: Phone) -> None:
    """A sheet with an answer within, one outside, one taken back, and a snag."""
    phone.open(PULL)
    phone.read("length-in-hand", "40")
    expect(phone.step("length-in-hand").locator(".verdict")).to_be_visible()
    phone.open(SERVICES)
    for step in phone.page.locator("li.step[data-kind=do], li.step[data-kind=look]").all()[:3]:
        phone.do(step.get_attribute("data-step"))
    phone.page.get_by_role("button", name="Snag", exact=True).click()
    phone.dialog.get_by_role("textbox").fill("Water main is not where the plan says.")
    phone.agree()


def _locked(phone: Phone) -> None:
    """Two locks on a box; one of their owners in the zone, and somebody without a lock."""
    phone.open("locks.html#kiln-box")
    board = phone.page.locator("[data-point=kiln-box]")
    for number, who in ("41", "Tobin Areth"), ("42", "Pella Oxmoor"):
        board.get_by_role("button", name="Put a lock on").click()
        phone.dialog.get_by_text(who).click()
        phone.dialog.get_by_label("Number on the lock").fill(number)
        phone.agree()
        expect(board.locator(".lock", has_text=who)).to_be_visible()
    for who in ("Pella Oxmoor", "Davin Quarle"):
        phone.page.get_by_role("button", name="Somebody goes in").click()
        phone.dialog.get_by_text(who).click()
        phone.agree()
        expect(phone.page.locator("[data-part=zone]")).to_contain_text(who)


def _asks(button: str) -> Callable[[Phone], None]:
    return lambda phone: phone.page.get_by_role("button", name=button, exact=True).first.click()


def _at_the_winch(phone: Phone) -> None:
    """A pull that is on its way, watched in feet and pounds."""
    with tempfile.TemporaryDirectory() as folder:
        build(DEMO_JOB, Path(folder) / "site")
        phone.load_record(record_before_the_pull(Path(folder) / "site", "R4", Path(folder)))
    phone.open()
    phone.page.get_by_role("button", name="Read feet and pounds as well").click()
    expect(phone.page.get_by_role("button", name="Metric only")).to_be_visible()
    phone.page.goto(phone.address + PULL_DAY)
    for station, pull in enumerate(("14", "25", "56")):
        phone.page.locator("#station").select_option(str(station))
        phone.page.locator("#pull-value").fill(pull)
        phone.page.locator("[data-part=reading] .act").click()
        expect(phone.page.locator("[data-part=stations] li").nth(station)).to_have_attribute("data-read", "")
    phone.unfold()


def _nothing(phone: Phone) -> None:
    """The screen as it opens."""


def _all_open(phone: Phone) -> None:
    phone.unfold()


SCREENS: dict[str, tuple[str, Callable[[Phone], None]]] = {
    "job": ("", _nothing),
    "place": ("#place", _nothing),
    "now": ("#now", _nothing),
    "plan": ("#plan", _nothing),
    "found": ("", lambda phone: phone.page.get_by_label("Find a word").fill("drum")),
    "who": ("", _asks("Change who")),
    "sheet": (SERVICES, _nothing),
    "sheet-open": (PULL, _all_open),
    "snag": (SERVICES, _asks("Snag")),
    "gate": (LOCKS, _nothing),
    "locks": ("locks.html", _nothing),
    "lock-on": ("locks.html", _asks("Put a lock on")),
    "lock-absent": ("locks.html", _asks("Owner not here")),
    "site": ("site.html", _nothing),
    "pull": ("", _at_the_winch),
    "customary": (PULL, _all_open),
}


@contextmanager
def demo_phone() -> Iterator[Phone]:
    """A phone with the demo on it."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        site = Path(folder) / "site"
        build(DEMO_JOB, site)
        with serving(Server(listen(LOOPBACK, 0), Folder(site), {LOOPBACK})) as server:
            browser = playwright.chromium.launch(**launch_options(os.environ))
            yield Phone(browser, f"http://{LOOPBACK}:{server.port}/")
            browser.close()


def take(phone: Phone, folder: Path, wanted: list[str]) -> int:
    """Takes the wanted screens, or all. Gives how many pictures."""
    taken = 0
    for name, (path, prepare) in SCREENS.items():
        if wanted and name not in wanted:
            continue
        phone.open(path)
        prepare(phone)
        for width, scheme, size in LOOKS:
            phone.page.set_viewport_size({"width": width, "height": 740})
            phone.page.emulate_media(color_scheme=scheme, reduced_motion="reduce")
            phone.page.evaluate("size => { document.documentElement.style.fontSize = size; }", f"{size * 100}%")
            asking = phone.dialog.count() > 0
            phone.page.screenshot(path=folder / f"{name}-{width}-{scheme}-{size}.png", full_page=not asking)
            taken += 1
        phone.page.goto("about:blank")
    return taken


def main() -> None:
    """Build the demo, work it, take the pictures."""
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    with demo_phone() as phone:
        phone.open()
        phone.introduce("Ilse Brandrup", "Ilse's phone")
        _begun(phone)
        _locked(phone)
        print(f"{take(phone, folder, sys.argv[2:])} pictures in {folder}")


if __name__ == "__main__":
    main()
