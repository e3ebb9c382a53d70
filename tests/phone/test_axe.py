"""axe-core finds nothing to say about any page, in any state, by day or by night."""

from collections.abc import Callable
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from tests.phone.hands import DRAW, OFF, Phone

TAGS = [f"wcag{version}{level}" for version in ("2", "21", "22") for level in ("a", "aa", "aaa")]
OPTIONS = {"runOnly": {"type": "tag", "values": [*TAGS, "best-practice"]}}


def _button(name: str) -> Callable[[Phone], None]:
    return lambda phone: phone.page.get_by_role("button", name=name, exact=True).first.click()


def _answers(phone: Phone) -> None:
    """Every kind of answer on one sheet, one taken back, one set aside, a snag open and one closed."""
    phone.do("clear")
    phone.step("clear").get_by_role("button", name="Undo").click()
    phone.more("bends", "Not on this job")
    phone.dialog.get_by_label("Why").fill("Straight tray")
    phone.agree()
    phone.read("length-in-hand", "30")
    phone.choose("feed-end", "start")
    for words in ("Handle cracked", "No light"):
        phone.more("drum-number", "Snag here")
        phone.dialog.get_by_label("Say what you found").fill(words)
        phone.agree()
    phone.step("drum-number").get_by_role("button", name="Close this snag").first.click()
    phone.dialog.get_by_label("What was done about it").fill("New handle")
    phone.agree()
    phone.page.get_by_role("button", name="Show the one step that does not apply here").click()


def _ready(phone: Phone) -> None:
    phone.do("open-it")


def _closed(phone: Phone) -> None:
    phone.release("dead", "Ada Quill")
    phone.page.get_by_role("button", name="Close the sheet").click()
    phone.agree()


def _refused(phone: Phone) -> None:
    phone.more("length-in-hand", "Enter again")
    phone.read("length-in-hand", "1e9")


def _release_asked(phone: Phone) -> None:
    phone.step("dead").get_by_role("button", name="Release this hold").click()
    phone.dialog.get_by_text("Someone else").click()
    phone.dialog.locator("[data-part=ask-yes]").click()


def _take_back(phone: Phone) -> None:
    phone.do("clear")
    phone.more("clear", "Take back")


def _looked_for(phone: Phone) -> None:
    """A lock on, whose owner was looked for; another that came off."""
    board = phone.page.locator("[data-point=L1]")
    for number in ("1", "2"):
        board.get_by_role("button", name="Put a lock on").click()
        phone.dialog.get_by_label("Number on the lock").fill(number)
        phone.agree()
        expect(board.locator(".lock")).to_have_count(int(number))
    board.get_by_role("button", name="Take it off", exact=True).first.click()
    phone.agree()
    board.locator("summary").click()
    board.get_by_role("button", name="Owner not here").click()
    phone.dialog.get_by_text("Ben Tarn").click()
    phone.dialog.get_by_label("What was done").fill("Radio and phone")
    phone.agree()
    expect(board.get_by_text("Owner looked for")).to_be_visible()


def _as_it_opens(phone: Phone) -> None:
    """Nothing is touched."""


# One phone goes through all of them, each on top of what was said before.
STATES = {
    "job by stage": ("", _as_it_opens),
    "job by place": ("#place", _as_it_opens),
    "what can be done now": ("#now", _as_it_opens),
    "plan": ("#plan", _as_it_opens),
    "search": ("", lambda phone: phone.page.get_by_label("Find a word").fill("e")),
    "who it is": ("", _button("Change who")),
    "sheet without an item": (DRAW.split("#")[0], _as_it_opens),
    "sheet with every kind of answer": (DRAW, _answers),
    "refused reading": (DRAW, _refused),
    "gate with nothing in its way": (OFF, _ready),
    "lock to be put on": ("locks.html", _button("Put a lock on")),
    "lock board": ("locks.html", _looked_for),
    "lock taken off without its owner": ("locks.html", _button("Take it off without its owner")),
    "snag": (DRAW, _button("Snag")),
    "release refused": (OFF, _release_asked),
    "closed sheet": (OFF, _closed),
    "taking back": (DRAW, _take_back),
}


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_reports_nothing_in_any_state(new_phone, yard: str, scheme: str):
    """Every state of job page, sheet and dialog passes every rule, levels A to AAA."""
    phone = new_phone(yard, color_scheme=scheme)
    phone.open()
    assert [] == _reported(phone)
    phone.page.locator("[data-part=next]").click()
    assert [] == _reported(phone)
    phone.dialog.get_by_role("button", name="Cancel").click()
    phone.introduce("Ada Quill", "Pit one")
    for state, (path, prepare) in STATES.items():
        phone.page.goto("about:blank")
        phone.page.goto(phone.address + path)
        expect(phone.page.locator("[data-part=next]:not(:empty), [data-part=sheet][hidden]")).to_have_count(1)
        prepare(phone)
        assert (state, []) == (state, _reported(phone))


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_reports_nothing_on_any_page_of_the_demo(new_phone, demo_site: str, demo_folder: Path, scheme: str):
    """Each page that the demo has, opened for the first item that it serves, passes every rule."""
    phone = new_phone(demo_site, color_scheme=scheme)
    phone.open()
    phone.introduce("Ilse Brandrup", "Pit two")
    pages = sorted(str(path.relative_to(demo_folder)) for path in demo_folder.rglob("*.html"))
    assert 10 < len(pages)
    for path in pages:
        phone.page.goto(demo_site + path)
        first = phone.page.locator("[data-part=items] a").first
        if first.count():
            phone.page.goto(f"{demo_site}{path}{first.get_attribute('href')}")
        expect(phone.page.locator("[data-part=crew]").first).to_contain_text("Ilse Brandrup")
        assert (path, []) == (path, _reported(phone))


def _reported(phone: Phone) -> list[str]:
    """What axe has to say, with everything unfolded."""
    phone.unfold()
    phone.page.evaluate("Promise.all(document.getAnimations().map((one) => one.finished.catch(() => null))).then(() => null)")
    found = Axe().run(phone.page, options=OPTIONS).response
    assert 10 < len(found["passes"])
    return [f"{rule['id']}: {node['html'][:160]} {node['failureSummary'][:200]}" for rule in found["violations"] for node in rule["nodes"]]
