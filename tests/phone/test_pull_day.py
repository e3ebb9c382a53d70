"""The pull day on the demo job: a pull watched from the winch, from the gate to the stop."""

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest
from playwright.sync_api import expect

from builder.record.collect import GOOD, collect
from tests.folder_server import FolderServer
from tests.phone.at_the_winch import record_before_the_pull
from tests.phone.hands import Phone
from tests.phone.test_customary import left_in_metric
from tests.phone.test_look import CONTRAST, TARGETS

PAGE = "pull-day/cable-pulling/pull.html#"


class Winch:
    """A phone at the winch of one run, and what a leading hand does with it."""

    def __init__(self, phone: Phone, run: str):
        self.phone, self.page, self.run = phone, phone.page, run

    def open(self, path: str | None = None) -> None:
        self.page.goto(self.phone.address + (path if path is not None else PAGE + self.run))
        expect(self.page.locator("[data-part=call] .word")).to_be_visible()

    def read(self, station: int, value: str) -> None:
        """Two taps: the field, and save. The station is the one that the screen proposes."""
        expect(self.page.locator("#station")).to_have_value(str(station))
        self.enter(value)
        expect(self.page.locator("[data-part=stations] li").nth(station)).to_have_attribute("data-read", "")

    def enter(self, value: str) -> None:
        self.page.locator("#pull-value").fill(value)
        self.page.locator("[data-part=reading] .act").click()

    def says(self, call: str, *words: str) -> None:
        """The call by its shape, and what is announced at once to those who hear the page."""
        expect(self.page.locator("[data-part=call]")).to_have_attribute("data-call", call)
        for text in words:
            expect(self.page.locator("[data-part=called]")).to_contain_text(text)


@pytest.fixture
def winch(new_phone: Callable[..., Phone], demo_folder: Path, serve_folder: Callable[[Path], FolderServer], tmp_path: Path) -> Callable[..., Winch]:
    """Gives a phone that has loaded the office's record, with the gate of the run's pull open or, without it, shut."""
    def at(run: str, *, gate: bool = True, **screen) -> Winch:
        phone = new_phone(serve_folder(demo_folder).url, **screen)
        phone.open()
        phone.introduce("Ilse Brandrup", "Winch phone")
        if gate:
            phone.load_record(record_before_the_pull(demo_folder, run, tmp_path))
        winch = Winch(phone, run)
        winch.open()
        return winch

    return at


def test_gate_is_shut_until_everybody_is_in_place(winch: Callable) -> None:
    """Before the gate nothing can be entered, the way to it is shown, and a stop can be called all the same."""
    here = winch("R3", gate=False)
    here.says("shut", "Nothing moves")
    expect(here.page.locator("[data-part=reading]")).to_be_hidden()
    here.page.locator("[data-part=stop]").click()
    here.says("stop", "Ilse Brandrup called stop")


def test_quiet_pull_goes_on_to_the_end(winch: Callable) -> None:
    """Readings as planned say go at every station, and the last that the head is through."""
    here = winch("R3")
    here.says("not_measured", "Stop at 2.4 kN on the gauge")
    for station, value in enumerate(["0.05", "0.09", "0.16", "0.23", "0.4", "0.53", "0.7", "1.3"]):
        here.read(station, value)
        here.says("go_on")
    here.says("go_on", "The head is through")


def test_more_friction_than_planned_stops_the_pull_before_its_limit(winch: Callable, demo_folder: Path, tmp_path: Path) -> None:
    """The forecast crosses the line first, then the stop comes a station early; a person and a reason are needed to go on."""
    here = winch("R3")
    for station, value in enumerate(["0.06", "0.11", "0.25"]):
        here.read(station, value)
    here.says("go_on")
    here.page.locator("#station").select_option("4")
    here.enter("1.2")
    here.says("ease_it", "side pressure in a bend")
    here.read(5, "1.9")
    here.says("stop", "Stop here. Station 6")
    here.page.locator("[data-part=stop]").click()
    here.says("stop", "Ilse Brandrup called stop")
    here.page.locator("[data-part=go]").click()
    here.phone.dialog.locator("[data-part=ask-yes]").click()
    expect(here.phone.dialog.locator("[data-part=ask-refused]")).to_contain_text("why it may go on")
    here.phone.dialog.get_by_role("textbox").fill("Greased at the last pit")
    here.phone.agree()
    expect(here.page.locator("[data-part=notes]")).to_contain_text("Gone on: Greased at the last pit")
    record = here.phone.sent_record(tmp_path)
    said: list[str] = []
    assert GOOD == collect([record], demo_folder, None, tmp_path / "desk", lambda: datetime.now(UTC), said.append), said


def test_pull_over_the_line_is_a_stop_at_once(winch: Callable) -> None:
    """A gauge beyond the stop line needs no friction and no forecast."""
    here = winch("R3")
    here.enter("2.5")
    here.says("stop", "The pull is at 2.5 kN, and the line is at 2.4 kN")


def test_pull_is_watched_in_feet_and_pounds(winch: Callable, demo_folder: Path, tmp_path: Path) -> None:
    """Typed in pounds and feet, judged in newton and metres, drawn in both at the axes; the limit line rounds down; the desk agrees."""
    here = winch("R3")
    here.phone.open()
    here.page.get_by_role("button", name="Read feet and pounds as well").click()
    expect(here.page.get_by_role("button", name="Metric only")).to_be_visible()
    here.open()
    here.says("not_measured", "Stop at 2.4 kN (539.5 lbf) on the gauge")
    expect(here.page.locator("[data-part=reading] .unit")).to_have_text("lbf")
    here.read(0, "12")
    here.read(1, "21")
    here.says("go_on")
    expect(here.page.locator("[data-part=stations] li").nth(1)).to_contain_text("(21 lbf)")
    here.page.locator("#length-value").fill("40")
    here.page.locator("[data-part=length] .act").click()
    expect(here.page.locator("[data-figure=length]")).to_contain_text("12.192 m (40 ft)")
    assert {"lbf", "ft"} == set(here.page.locator("svg.plot .measure").all_text_contents())
    assert [] == left_in_metric(here.phone)
    record = here.phone.sent_record(tmp_path)
    said: list[str] = []
    assert GOOD == collect([record], demo_folder, None, tmp_path / "desk", lambda: datetime.now(UTC), said.append), said


def test_what_contradicts_or_can_be_no_pull_is_told(winch: Callable) -> None:
    """Absurd values are asked again; a station entered behind a later one gives no call until it is taken back."""
    here = winch("R3")
    here.enter("9999")
    expect(here.page.locator("#pull-refused")).to_contain_text("can't be right")
    here.page.locator("#station").select_option("2")
    here.enter("0.2")
    here.says("go_on")
    here.page.locator("#station").select_option("1")
    here.enter("0.15")
    here.says("cant_tell", "Station 1 was entered after one that lies behind it", "Stop until it is told")
    here.page.locator("[data-part=stations] li").nth(1).get_by_role("button").click()
    here.phone.dialog.get_by_label("Why").fill("Wrong station")
    here.phone.agree()
    here.says("go_on")


def test_phone_closed_in_mid_pull_opens_on_the_pull_again(winch: Callable) -> None:
    """After the browser was closed the pull's screen comes back by itself, with every reading and the stop."""
    here = winch("R3")
    here.read(0, "0.06")
    here.read(1, "0.11")
    here.page.locator("[data-part=stop]").click()
    here.says("stop", "called stop")
    here.page.close()
    here.page = here.phone.new_page()
    here.open("")
    expect(here.page).to_have_url(here.phone.address + PAGE + "R3")
    here.says("stop", "called stop")
    expect(here.page.locator("[data-part=stations] li[data-read]")).to_have_count(2)


def test_hand_pull_without_a_gauge_is_an_estimate_and_never_a_go(winch: Callable) -> None:
    """Counted people are shown as an estimate; the call stays that nothing is measured, and turns to stop at the line."""
    here = winch("R4")
    here.page.get_by_text("People on the rope", exact=True).first.click()
    here.page.locator("#station").select_option("1")
    here.enter("3")
    here.says("not_measured", "0.6 kN is an estimate")
    expect(here.page.locator("[data-figure=estimate]")).to_contain_text("0.6 kN")
    expect(here.page.locator("[data-part=shows]")).to_contain_text("Hitches on the head")
    here.enter("7")
    here.says("stop", "The pull is at 1.4 kN")


def test_pull_that_stands_stopped_holds_up_the_sheet(winch: Callable) -> None:
    """The next gate behind the pull says who stopped it, and waits until somebody says to go on."""
    here = winch("R3")
    here.page.locator("[data-part=stop]").click()
    here.says("stop", "called stop")
    here.page.goto(here.phone.address + "tasks/cable-pulling/pull.html#R3")
    expect(here.phone.step("hurt-cable")).to_contain_text("The pull stands stopped by Ilse Brandrup")


def test_screen_is_kept_lit_or_the_page_says_that_it_is_not(winch: Callable) -> None:
    """Where the browser has no way to keep the screen on, the page says so and does without."""
    here = winch("R3")
    expect(here.page.locator("[data-part=awake]")).to_have_text("The screen stays on.")
    here.page.add_init_script("Object.defineProperty(Navigator.prototype, 'wakeLock', { get: () => undefined });")
    here.page.reload()
    expect(here.page.locator("[data-part=awake]")).to_contain_text("can't keep its screen on")


@pytest.mark.parametrize(("width", "size", "scheme"), [(320, 1, "light"), (320, 2, "dark"), (360, 1, "dark"), (412, 2, "light")])
def test_pull_screen_is_large_and_stands_out(winch: Callable, width: int, size: int, scheme: str) -> None:
    """Targets for gloves, 7:1 by day and night, nothing off the side; the stop and the word fill the width."""
    here = winch("R3", width=width, color_scheme=scheme)
    here.read(0, "0.06")
    here.page.locator("[data-part=stop]").click()
    here.says("stop", "called stop")
    here.page.evaluate(f"document.documentElement.style.fontSize = '{size * 100}%'")
    here.page.locator("[data-part=go]").wait_for()
    controls = here.page.evaluate(TARGETS)
    assert [] == [one for one in controls if min(one["width"], one["height"]) < 48 or one["gap"] < 12]
    assert [] == [one for one in here.page.evaluate(CONTRAST) if one["ratio"] < 7]
    assert [] == here.page.evaluate("""() => document.documentElement.scrollWidth <= innerWidth ? []
      : [...document.querySelectorAll("body *")].filter((one) => one.getBoundingClientRect().right > innerWidth).map((one) => one.outerHTML.slice(0, 120))""")
    word = here.page.locator("[data-part=call] .word").bounding_box()
    assert word["width"] >= 0.5 * width


def test_pull_can_be_entered_by_keyboard_alone(winch: Callable) -> None:
    """Enter in the field saves the reading."""
    here = winch("R3")
    here.page.locator("#pull-value").focus()
    here.page.keyboard.type("0.06")
    here.page.keyboard.press("Enter")
    here.says("go_on")
