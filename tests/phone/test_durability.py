"""What the phone does when its storage, its clock or its browser lets it down: nothing confirmed is lost, and it says so."""

import re
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.phone.hands import DRAW, Phone

FULL = "Not saved: the phone is full. Your answer is still on this screen."
LENGTH = "length-in-hand"
# As browsers do: the request is taken, and the transaction fails when it should be written.
FILLED = """() => {
  window.full = true;
  const real = IDBObjectStore.prototype.add;
  IDBObjectStore.prototype.add = function add(...given) {
    const { transaction } = this;
    if (window.full) {
      Object.defineProperty(transaction, "error", { value: new DOMException("full", "QuotaExceededError") });
      queueMicrotask(() => transaction.abort());
    }
    return real.apply(this, given);
  };
}"""


def test_full_phone_keeps_the_answer_on_the_screen_and_says_what_to_do(phone: Phone):
    """With no room left nothing is shown as saved; with room again the same answer is saved by one more tap."""
    phone.open(DRAW)
    phone.page.evaluate(FILLED)
    phone.read(LENGTH, "40")
    expect(phone.step(LENGTH).locator("[data-part=refused]")).to_contain_text(FULL)
    expect(phone.step(LENGTH).locator("[name=reading]")).to_have_value("40")
    expect(phone.step(LENGTH).locator(".given")).to_have_count(0)
    phone.page.evaluate("window.full = false")
    phone.step(LENGTH).locator("form .act").click()
    expect(phone.step(LENGTH).locator(".given")).to_contain_text("40 m")
    assert ["device", "reading"] == [entry["kind"] for entry in phone.entries()]


def test_typed_reading_survives_leaving_and_a_killed_browser(browser, yard: str, tmp_path: Path):
    """What was typed and not saved is in its field again, marked as not saved, and in no entry."""
    phone = Phone(browser, yard, store=tmp_path)
    phone.open()
    phone.introduce("Ada Quill", "Pit one")
    phone.open(DRAW)
    phone.step(LENGTH).locator("[name=reading]").fill("41,5")
    phone.open()
    phone.open(DRAW)
    expect(phone.step(LENGTH).locator("[name=reading]")).to_have_value("41,5")
    phone.kill()
    phone = Phone(browser, yard, store=tmp_path)
    phone.open(DRAW)
    expect(phone.step(LENGTH).locator("[name=reading]")).to_have_value("41,5")
    expect(phone.step(LENGTH).locator(".unsaved")).to_have_text("Typed earlier and not saved yet. Save it or clear it.")
    assert 1 == len(phone.entries())
    phone.step(LENGTH).locator("form .act").click()
    expect(phone.step(LENGTH).locator(".given")).to_contain_text("41,5 m")
    expect(phone.step(LENGTH).locator(".unsaved")).to_have_count(0)
    phone.open(DRAW)
    expect(phone.step(LENGTH).locator(".given")).to_contain_text("41,5 m")
    expect(phone.step(LENGTH).locator("[name=reading]")).to_be_hidden()
    phone.context.close()


def test_words_of_a_snag_survive_leaving_the_page(phone: Phone):
    """They stand in the question again until they are saved; turning back forgets them."""
    ask = "Say what you found"
    for last in ("saved", "turned back"):
        phone.open(DRAW)
        phone.page.get_by_role("button", name="Snag", exact=True).click()
        expect(phone.dialog.get_by_label(ask)).to_have_value("")
        phone.dialog.get_by_label(ask).fill("Drum flange split.")
        phone.page.reload()
        phone.page.get_by_role("button", name="Snag", exact=True).click()
        expect(phone.dialog.get_by_label(ask)).to_have_value("Drum flange split.")
        expect(phone.dialog.locator(".unsaved")).to_be_visible()
        if last == "saved":
            phone.agree()
            expect(phone.page.locator(".snag")).to_contain_text("Drum flange split.")
        else:
            phone.dialog.get_by_role("button", name="Cancel").click()
    phone.page.get_by_role("button", name="Snag", exact=True).click()
    expect(phone.dialog.get_by_label(ask)).to_have_value("")


def test_second_page_of_the_phone_shows_what_the_first_saves(phone: Phone):
    """Two pages write one chain, and each shows the other's entries without being touched."""
    first = phone.page
    phone.open(DRAW)
    phone.new_page()
    phone.open(DRAW)
    first.locator("#step-clear form .act").click()
    expect(phone.step("clear")).to_have_attribute("data-state", "answered")
    phone.do("bends")
    expect(first.locator("#step-bends")).to_have_attribute("data-state", "answered")
    assert [0, 1, 2] == [entry["seq"] for entry in phone.entries()]


def test_emptied_phone_says_that_its_record_is_gone_and_goes_on_as_a_new_one(phone: Phone):
    """A database cleared behind the app's back is no fresh start: it is told, and the new chain names the lost one."""
    phone.open(DRAW)
    phone.do("clear")
    lost = phone.entries()[0]["dev"]
    phone.page.goto(phone.address + "build.json")
    phone.page.evaluate("""() => new Promise((done) => {
      indexedDB.deleteDatabase("pitslate-record-yard").onsuccess = done;
    })""")
    phone.open(DRAW)
    expect(phone.page.locator(".notice", has_text="not whole")).to_contain_text("has cleared this phone's record")
    expect(phone.step("clear")).to_have_attribute("data-state", "open")
    phone.introduce("Ada Quill", "Pit one again")
    assert [("device", lost)] == [(entry["kind"], entry["continues"]) for entry in phone.entries()]


@pytest.mark.parametrize(
    ("open_function", "words"),
    [
        ("() => { throw new DOMException('no', 'SecurityError'); }", "as in a private window"),
        ("() => { const request = {}; setTimeout(() => request.onblocked?.()); return request; }", "Close every other page of this job"),
        ("() => ({})", "storage does not answer"),
    ],
    ids=["private window", "held by another page", "stuck"],
)
def test_record_that_can_not_be_opened_is_told_with_what_to_do(phone: Phone, open_function: str, words: str):
    """A browser that keeps nothing, an older page in the way and a dead storage each have their own words."""
    phone.page.add_init_script(f"indexedDB.open; IDBFactory.prototype.open = {open_function};")
    phone.page.goto(phone.address + DRAW)
    expect(phone.page.locator(".notice", has_text="can't be opened")).to_contain_text(words)
    expect(phone.page.locator("[data-part=not-started]")).to_be_hidden()


def test_clock_set_back_is_told_and_changes_no_order(phone: Phone):
    """The sheet says which entry came with an earlier time; the answer given last stands."""
    phone.open(DRAW)
    phone.read(LENGTH, "40")
    expect(phone.step(LENGTH).locator(".given")).to_contain_text("40 m")
    phone.page.clock.set_fixed_time(datetime.now() - timedelta(days=1))
    phone.page.reload()
    expect(phone.page.locator(".notice", has_text="clock was set back")).to_contain_text("the order of the entries holds")
    phone.more(LENGTH, "Enter again")
    phone.read(LENGTH, "41")
    expect(phone.step(LENGTH).locator(".given")).to_contain_text("41 m")
    expect(phone.step(LENGTH).locator(".given")).to_contain_text("clock had been set back")
    expect(phone.step(LENGTH).locator(".earlier s")).to_have_text("40 m")


def test_browser_is_asked_to_keep_the_record_once_there_is_one(new_phone, yard: str):
    """A page opened to look around asks for nothing; after somebody says who they are it does."""
    phone = new_phone(yard)
    phone.page.add_init_script("""
      StorageManager.prototype.persist = async () => { sessionStorage.setItem("asked", "yes"); return false; };
      StorageManager.prototype.persisted = async () => false;
    """)
    phone.open()
    expect(phone.page.locator("[data-part=phone]")).to_contain_text("may clear this record")
    assert phone.page.evaluate("sessionStorage.getItem('asked')") is None
    phone.introduce("Ada Quill", "Pit one")
    phone.page.wait_for_function("sessionStorage.getItem('asked') === 'yes'")
    with phone.page.expect_download() as download:
        phone.page.get_by_role("button", name="Save a backup file").click()
    assert re.fullmatch(r"pitslate-yard-pit-one-[\d-]+\.json", download.value.suggested_filename)
    expect(phone.page.locator("[data-part=tally]")).to_contain_text("not sent")


def test_unsent_entries_are_named_on_every_page_until_sent(phone: Phone, tmp_path: Path):
    """Sheet and whole job both say how many entries have not left the phone, and stop once they have."""
    phone.open(DRAW)
    phone.do("clear")
    expect(phone.page.locator("[data-part=crew]")).to_contain_text("2 entries not sent")
    phone.sent_record(tmp_path)
    expect(phone.page.locator("[data-part=tally]")).not_to_contain_text("not sent")
    phone.open(DRAW)
    expect(phone.page.locator("[data-part=crew]")).not_to_contain_text("not sent")
