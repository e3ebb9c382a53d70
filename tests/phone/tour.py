"""
The pictures of the README, taken from the running demo: `python -m tests.phone.tour`.

Works the start of one sheet as a crew would, and writes assets/tour/*.png.
"""

import os
import tempfile
from pathlib import Path

import yaml
from playwright.sync_api import Locator, expect, sync_playwright

from builder.build import build
from builder.issue.address import LOOPBACK, listen
from builder.issue.serve import Server, serving
from builder.issue.shelf import Folder
from builder.places import ASSETS, DEMO_JOB, ROOT
from tests.browser import launch_options
from tests.phone.hands import Phone

TOUR = ASSETS / "tour"
READINGS = yaml.safe_load((ROOT / "tests/checklists/readings.yaml").read_text(encoding="utf-8"))
TASK, RUN = "cable-pulling/before-the-pull", "R3"
SNAG = "Drum flange split on the far side."


def _work(phone: Phone) -> None:
    """Answers every step of the sheet that is open, up to its hold."""
    for step in phone.page.locator("li.step").all():
        if not step.is_visible():
            continue
        name, kind = step.get_attribute("data-step"), step.get_attribute("data-kind")
        if kind != "read":
            phone.do(name)
            continue
        good = READINGS[TASK][name]["good"]
        text = good if isinstance(good, str) else good[RUN]
        if step.locator("[name=reading]").count():
            phone.read(name, text)
        else:
            phone.choose(name, text)
        expect(step).to_have_attribute("data-state", "answered")


def _picture(phone: Phone, name: str, at: Locator | None = None, above: int = 24) -> None:
    """What the phone shows, scrolled so that `at` stands near the top."""
    if at is not None:
        at.evaluate("(element, above) => window.scrollTo(0, element.getBoundingClientRect().top + scrollY - above)", above)
    phone.page.wait_for_timeout(400)
    phone.page.screenshot(path=TOUR / f"{name}.png")


def take(address: str, playwright) -> None:
    browser = playwright.chromium.launch(**launch_options(os.environ))
    phone = Phone(browser, address, device_scale_factor=2)
    phone.open()
    phone.introduce("Ilse Brandrup", "Ilse's phone")
    phone.open(f"tasks/{TASK}.html#{RUN}")
    _work(phone)
    _picture(phone, "sheet", phone.step("length-in-hand"))
    plot = phone.step("feed-end").locator("details[data-working=pull]")
    plot.locator("summary").click()
    _picture(phone, "working", plot)
    phone.page.locator("[data-part=sheet-snag]").click()
    phone.dialog.get_by_role("textbox").fill(SNAG)
    phone.agree()
    _picture(phone, "hold", phone.page.locator("li.gate").first)
    phone.open()
    _picture(phone, "job")
    browser.close()


def main() -> None:
    """Build the demo, serve it on this computer, take the pictures."""
    TOUR.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        site = Path(folder) / "site"
        build(DEMO_JOB, site)
        server = Server(listen(LOOPBACK, 0), Folder(site), {LOOPBACK})
        with serving(server):
            take(f"http://{LOOPBACK}:{server.port}/", playwright)
    print(f"{len(list(TOUR.glob('*.png')))} pictures in {TOUR.relative_to(ROOT)}")


if __name__ == "__main__":
    main()
