"""Undoing: a further entry at one tap, with what was said still in sight."""

from playwright.sync_api import expect

from tests.phone.hands import DRAW, OFF, Phone


def test_one_tap_undoes_the_last_answer_and_leaves_it_struck_through(phone: Phone):
    """Undo adds an entry that names the answer; the step is open again and the answer is still there."""
    phone.open(DRAW)
    phone.do("clear")
    phone.step("clear").get_by_role("button", name="Undo").click()
    expect(phone.step("clear")).to_have_attribute("data-state", "open")
    expect(phone.step("clear").locator(".earlier s")).to_have_text("Done")
    expect(phone.step("clear").locator(".earlier")).to_contain_text("taken back: undone")
    expect(phone.step("clear")).to_be_focused()
    expect(phone.page.locator("[data-part=spoken]")).to_contain_text("Undone")
    [_, done, undone] = phone.entries()
    assert ("done", "withdraw", "clear") == (done["kind"], undone["kind"], undone["step"])
    assert 1 == len(undone["about"])


def test_undo_is_there_later_and_goes_back_step_by_step(phone: Phone):
    """After the page was left, the answer said last can be undone, and then the one before."""
    phone.open(DRAW)
    phone.do("clear")
    phone.do("bends")
    expect(phone.page.get_by_role("button", name="Undo")).to_have_count(1)
    phone.open()
    phone.open(DRAW)
    phone.step("bends").get_by_role("button", name="Undo").click()
    expect(phone.step("bends")).to_have_attribute("data-state", "open")
    phone.step("clear").get_by_role("button", name="Undo").click()
    expect(phone.step("clear")).to_have_attribute("data-state", "open")
    expect(phone.page.get_by_role("button", name="Undo")).to_have_count(0)


def test_release_is_taken_back_by_name_and_never_at_one_tap(phone: Phone):
    """A release was given by name: nothing undoes it, or what stood before it, with one touch."""
    phone.open(OFF)
    phone.do("open-it")
    phone.release("dead", "Ada Quill")
    expect(phone.step("dead").get_by_role("button", name="Take back")).to_be_visible()
    expect(phone.page.get_by_role("button", name="Undo")).to_have_count(0)


def test_closing_can_be_undone(phone: Phone):
    """A sheet closed too soon is opened again by the phone that closed it."""
    phone.open(OFF)
    phone.do("open-it")
    phone.release("dead", "Ada Quill")
    phone.page.get_by_role("button", name="Close the sheet").click()
    phone.agree()
    phone.page.locator("[data-part=far-end]").get_by_role("button", name="Undo").click()
    expect(phone.page.get_by_role("button", name="Close the sheet")).to_be_visible()
    assert ["close", "withdraw"] == [entry["kind"] for entry in phone.entries()[-2:]]
