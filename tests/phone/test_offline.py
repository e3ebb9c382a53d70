"""One visit with signal, and from then on every page opens without it."""

from pathlib import Path

from playwright.sync_api import expect

from tests.folder_server import FolderServer
from tests.phone.hands import DRAW, OFF, Phone


def test_every_page_opens_after_one_visit_and_no_signal(browser, yard_folder: Path, tmp_path: Path):
    """With the server gone and the browser started anew, each page of the job opens and can be used."""
    server = FolderServer(yard_folder)
    phone = Phone(browser, server.url, store=tmp_path)
    phone.open()
    phone.installed()
    phone.context.close()
    server.stop()
    phone = Phone(browser, server.url, store=tmp_path)
    for file in sorted(yard_folder.rglob("*.html")):
        phone.page.goto(server.url + file.relative_to(yard_folder).as_posix())
        expect(phone.page.locator("[data-part=crew]")).to_be_attached()
        expect(phone.page.locator("[data-part=notices]")).to_be_empty()
    phone.page.goto(server.url + "tasks/gone/from-an-older-build.html")
    expect(phone.page).to_have_url(server.url)
    phone.context.close()
    assert [] == phone.faults


def test_cold_start_opens_the_sheet_last_worked_with_its_answers(browser, yard_folder: Path, tmp_path: Path):
    """After a cold start without signal the sheet last worked is there, and so is every answer shown as saved."""
    server = FolderServer(yard_folder)
    phone = Phone(browser, server.url, store=tmp_path)
    phone.open()
    phone.introduce("Ada Quill", "Pit one")
    phone.installed()
    phone.open(DRAW)
    phone.read("length-in-hand", "40")
    expect(phone.step("length-in-hand").locator(".given")).to_contain_text("40 m")
    phone.context.close()
    server.stop()
    phone = Phone(browser, server.url, store=tmp_path)
    phone.page.goto(server.url)
    expect(phone.page).to_have_url(server.url + DRAW)
    expect(phone.step("length-in-hand").locator(".given")).to_contain_text("40 m")
    phone.do("clear")
    phone.page.get_by_role("link", name="Whole job").click()
    expect(phone.page.locator("[data-part=tally]")).to_contain_text("0 of 2 sheets closed")
    phone.context.close()


def test_phone_says_truthfully_whether_it_works_without_signal(phone: Phone):
    """The job page says ready only once the worker holds every page."""
    facts = phone.page.locator("[data-part=phone]")
    phone.installed()
    expect(facts).to_contain_text("Ready. Every page opens without signal.")


def test_phone_says_what_the_browser_answered_about_keeping_the_record(new_phone, yard: str):
    """Promised, refused and silent each have their own words."""
    said = {"true": "has promised", "false": "may clear", "nothing": "does not say"}
    answers = {"true": "async () => true", "false": "async () => false", "nothing": "async () => { throw Error() }"}
    for answer, function in answers.items():
        phone = new_phone(yard)
        phone.page.add_init_script(f"StorageManager.prototype.persist = StorageManager.prototype.persisted = {function};")
        phone.open()
        expect(phone.page.locator("[data-part=phone]")).to_contain_text(said[answer])


def test_item_in_the_address_chooses_the_sheet(phone: Phone):
    """A page without an item offers its sheets; choosing one opens it."""
    phone.page.goto(phone.address + OFF.split("#")[0])
    phone.page.get_by_role("link", name="L1 Board feeder").click()
    expect(phone.page.locator("[data-part=plate]")).to_have_text("L1")
    expect(phone.step("open-it")).to_be_visible()

