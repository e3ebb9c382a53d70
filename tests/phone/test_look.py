"""What gloves, sun, night and old eyes ask of a page."""

from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.phone.hands import DRAW, OFF, Phone

TARGETS = (Path(__file__).parent / "targets.js").read_text()
CONTRAST = (Path(__file__).parent / "contrast.js").read_text()
PAGES = ["", "#place", "#now", "#plan", "locks.html", "site.html", OFF, DRAW]


@pytest.fixture(params=[(320, 1), (320, 2), (360, 1), (360, 2), (768, 1)], ids=lambda screen: f"{screen[0]}px-{screen[1]}x")
def busy_phone(request, new_phone, yard: str) -> Phone:
    """A phone of some width and text size, with answers of every kind on its sheets."""
    width, size = request.param
    phone = new_phone(yard, width=width)
    phone.page.add_init_script(f"""addEventListener("DOMContentLoaded", () => {{
      document.documentElement.style.fontSize = "{size * 100}%";
    }});""")
    return _with_answers(phone)


def test_controls_are_large_and_apart_and_nothing_runs_off_the_side(busy_phone: Phone):
    """Every control is at least 48 by 48 pixels and 12 from the next; the page never scrolls sideways."""
    for path in PAGES:
        busy_phone.open(path)
        _unfold(busy_phone)
        controls = busy_phone.page.evaluate(TARGETS)
        assert 3 < len(controls)
        assert [] == [one for one in controls if min(one["width"], one["height"]) < 48]
        assert [] == [one for one in controls if one["gap"] < 12]
        assert busy_phone.page.evaluate("document.documentElement.scrollWidth <= innerWidth")


SHIFT = """globalThis.shift = 0;
new PerformanceObserver((list) => list.getEntries().forEach((one) => { globalThis.shift += one.value; })).observe({ type: "layout-shift", buffered: true });"""


def test_nothing_moves_once_a_page_is_shown(new_phone, yard: str):
    """No part of any page changes its place by itself, from the first picture on; with feet and pounds too."""
    phone = _with_answers(new_phone(yard))
    phone.page.add_init_script(SHIFT)
    for units in ("customary", "metric"):
        phone.page.evaluate("units => localStorage.setItem('pitslate/yard/units', JSON.stringify(units))", units)
        for path in PAGES:
            phone.page.goto("about:blank")
            phone.open(path)
            phone.page.wait_for_timeout(300)
            assert 0 == phone.page.evaluate("shift"), path
        phone.open()


def test_controls_of_the_dialog_are_large_and_apart(phone: Phone):
    """The question who it is has targets for gloves as well."""
    phone.open(OFF)
    phone.page.get_by_role("button", name="Snag", exact=True).click()
    phone.dialog.get_by_text("Someone else").click()
    controls = phone.page.evaluate(TARGETS)
    assert 5 < len(controls)
    assert [] == [one for one in controls if min(one["width"], one["height"]) < 48 or one["gap"] < 12]


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_every_text_stands_out_seven_to_one(new_phone, yard: str, scheme: str):
    """Sun and night: no text has less than 7:1 against what lies behind it, in dialogs too."""
    phone = _with_answers(new_phone(yard, color_scheme=scheme))
    for path in PAGES:
        phone.open(path)
        _unfold(phone)
        texts = phone.page.evaluate(CONTRAST)
        assert 10 < len(texts)
        assert [] == [one for one in texts if one["ratio"] < 7]
    phone.open(OFF)
    phone.page.get_by_role("button", name="Snag", exact=True).click()
    assert [] == [one for one in phone.page.evaluate(CONTRAST) if one["ratio"] < 7]


def test_day_and_night_follow_the_phone_until_somebody_chooses(new_phone, yard: str):
    """The page is dark on a dark phone; the switch turns it, and the choice outlives the page."""
    phone = new_phone(yard, color_scheme="dark")
    phone.open()
    html = phone.page.locator("html")
    expect(html).to_have_attribute("data-light", "night")
    phone.page.get_by_role("button", name="Day or night").click()
    expect(html).to_have_attribute("data-light", "day")
    phone.open(DRAW)
    expect(html).to_have_attribute("data-light", "day")


def test_sheet_can_be_worked_by_keyboard_alone(phone: Phone):
    """Enter in the field saves the reading; the dialog opens on its words and Escape leaves it."""
    phone.open(DRAW)
    phone.step("length-in-hand").locator("[name=reading]").focus()
    phone.page.keyboard.type("40")
    phone.page.keyboard.press("Enter")
    expect(phone.step("length-in-hand").locator(".given")).to_contain_text("40 m")
    phone.page.get_by_role("button", name="Snag", exact=True).focus()
    phone.page.keyboard.press("Enter")
    expect(phone.dialog.get_by_label("Say what you found")).to_be_focused()
    phone.page.keyboard.press("Escape")
    expect(phone.dialog).to_have_count(0)


def test_what_is_saved_is_said_aloud(phone: Phone):
    """The live region speaks after a reading is saved, and says why one was refused."""
    phone.open(DRAW)
    spoken = phone.page.locator("[aria-live=polite]")
    phone.read("length-in-hand", "40")
    expect(spoken).to_contain_text("Saved on this phone.")
    phone.more("length-in-hand", "Enter again")
    phone.read("length-in-hand", "1e9")
    expect(spoken).to_contain_text("2000 m")


def test_every_field_and_step_has_a_name_that_can_be_heard(phone: Phone):
    """No form control is without a label, and each step is named by its own words."""
    phone.open(DRAW)
    nameless = phone.page.evaluate("""() => [...document.querySelectorAll("input, textarea, select")]
      .filter((field) => field.labels.length === 0).map((field) => field.outerHTML)""")
    assert [] == nameless
    expect(phone.page.get_by_role("listitem", name="Measure the cable in hand.")).to_be_attached()


def test_printed_sheet_has_lines_for_a_pen_and_no_buttons(phone: Phone):
    """On paper each step has its box or blank, and what only a screen can use is gone."""
    phone.open(DRAW)
    phone.do("clear")
    phone.page.emulate_media(media="print")
    expect(phone.step("bends").locator(".paper")).to_be_visible()
    expect(phone.step("clear").locator(".given")).to_be_visible()
    expect(phone.page.locator("button:visible")).to_have_count(0)
    expect(phone.page.locator("[data-part=stamp]")).to_be_visible()


def _with_answers(phone: Phone) -> Phone:
    phone.open()
    phone.introduce("Ada Quill", "Pit one")
    phone.open(OFF)
    phone.page.get_by_role("button", name="Snag", exact=True).click()
    phone.dialog.get_by_label("Say what you found").fill("No light in here")
    phone.agree()
    expect(phone.page.locator("main")).to_contain_text("No light in here")
    phone.open(DRAW)
    phone.do("clear")
    phone.read("length-in-hand", "30")
    expect(phone.step("length-in-hand").locator(".verdict")).to_be_visible()
    return phone


def _unfold(phone: Phone) -> None:
    phone.unfold()
