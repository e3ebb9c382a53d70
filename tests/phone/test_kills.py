"""A phone that goes dead while a sheet is worked: all that its screen had confirmed is there afterwards."""

import random
from pathlib import Path

from playwright.sync_api import expect

from builder.record.merge import Held, merge
from builder.record.record_file import parse_record
from tests.phone.hands import DRAW, Phone

ENTER_AGAIN = Path(__file__).with_name("enter_again.js").read_text(encoding="utf-8")


def test_killed_phone_has_all_that_its_screen_had_confirmed(browser, yard: str, tmp_path: Path, full: bool) -> None:
    """After each of many kills at random moments the app opens, shows the last reading, and its chain is whole."""
    seed = random.randrange(2**32)
    chance = random.Random(seed)
    print(f"seed {seed}")
    store = tmp_path / "store"
    phone = Phone(browser, yard, store=store)
    phone.open()
    phone.introduce("Ada Quill", "Pit one")
    confirmed: list[str] = []
    kills = 200 if full else 10
    for _ in range(kills):
        before = len(confirmed)
        phone.page.expose_function("saved", lambda value: confirmed.append(value))
        phone.open(DRAW)
        phone.page.evaluate(f"() => {{ {ENTER_AGAIN} enterAgain(() => document, window.saved); }}")
        while len(confirmed) == before:
            phone.page.wait_for_timeout(5)
        phone.page.wait_for_timeout(chance.randrange(300))
        phone.kill()
        phone = Phone(browser, yard, store=store)
        phone.open(DRAW)
        expect(phone.page.locator("[data-part=notices]")).to_be_empty()
        held = [entry["value"] for entry in phone.entries()]
        assert [] == [value for value in confirmed if value not in held]
        expect(phone.step("drum-number").locator(".given")).to_contain_text(held[-1])
    record = parse_record(phone.sent_record(tmp_path).read_bytes(), "yard")
    assert {"new"} == {one.verdict for one in merge(Held(), record.entries, "yard").verdicts}
    phone.context.close()
    print(f"{kills} kills, {len(confirmed)} readings confirmed, none lost")


def test_killed_phone_has_what_was_typed_and_who_held_it(browser, yard: str, tmp_path: Path) -> None:
    """Half a second after the last letter the phone dies: the answer stands in its field, named as not saved, and the person too."""
    phone = Phone(browser, yard, store=tmp_path / "store")
    phone.open()
    phone.introduce("Ada Quill", "Pit one")
    phone.open(DRAW)
    phone.step("drum-number").locator("[name=reading]").press_sequentially("D 17")
    phone.page.wait_for_timeout(500)
    phone.kill()
    phone = Phone(browser, yard, store=tmp_path / "store")
    phone.open(DRAW)
    expect(phone.step("drum-number").locator("[name=reading]")).to_have_value("D 17")
    expect(phone.step("drum-number").locator(".unsaved")).to_be_visible()
    expect(phone.page.locator("[data-part=crew]")).to_contain_text("Ada Quill")
    phone.step("drum-number").locator("form .act").click()
    expect(phone.step("drum-number")).to_have_attribute("data-state", "answered")
    phone.page.wait_for_timeout(500)
    phone.kill()
    phone = Phone(browser, yard, store=tmp_path / "store")
    phone.open(DRAW)
    expect(phone.step("drum-number").locator(".given")).to_contain_text("D 17")
    expect(phone.page.locator(".unsaved")).to_have_count(0)
    phone.context.close()
