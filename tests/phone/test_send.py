"""The record leaves a phone by whatever way it has, and comes in on another; what differs is shown."""

from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.phone.hands import DRAW, Phone

TEXT_ONLY = "(given) => given.files.every(({ type }) => type === 'text/plain')"
ANY = "() => true"


@pytest.mark.parametrize(
    ("can_share", "share", "name", "words"),
    [
        (ANY, "async () => {}", ".txt", "handed over"),
        (TEXT_ONLY, "async () => {}", ".txt", "handed over"),
        (ANY, "async () => { throw new DOMException('', 'AbortError'); }", ".txt", "Not sent"),
    ],
)
def test_record_goes_to_the_share_sheet_as_every_phone_takes_it(phone: Phone, can_share, share, name, words):
    """As `.txt`, since many phones refuse `.json`; turning back at the share sheet sends nothing and says so."""
    phone.page.add_init_script(f"""
      navigator.canShare = {can_share};
      navigator.share = (given) => {{ window.given = given.files[0].name; return ({share})(); }};
    """)
    phone.open()
    phone.page.get_by_role("button", name="Send the record").click()
    expect(phone.page.locator("[data-part=send-result]")).to_contain_text(words)
    assert phone.page.evaluate("window.given").endswith(name)


def test_record_goes_to_the_downloads_where_sharing_is_denied(phone: Phone, tmp_path: Path):
    """A share sheet that fails is not the end: the file is downloaded, and holds every entry."""
    phone.page.add_init_script("""
      navigator.canShare = () => true;
      navigator.share = async () => { throw new DOMException("", "NotAllowedError"); };
    """)
    path = phone.sent_record(tmp_path)
    assert path.name.startswith("pitslate-yard-pit-one-")
    assert 1 == path.read_text().count('"payload"')


def test_record_that_took_longer_than_a_tap_lasts_asks_for_another(phone: Phone):
    """A share sheet opens only at a tap: when that ran out while the record was made ready, one more is asked for."""
    phone.page.add_init_script("""
      Object.defineProperty(navigator, "userActivation", { value: { isActive: false }, configurable: true });
      navigator.canShare = () => true;
      navigator.share = async (given) => { window.given = given.files[0].name; };
    """)
    phone.open()
    phone.page.get_by_role("button", name="Send the record").click()
    expect(phone.page.locator("[data-part=send-result]")).to_contain_text("ready to leave")
    assert phone.page.evaluate("window.given") is None
    phone.page.evaluate("navigator.userActivation.isActive = true")
    phone.page.get_by_role("button", name="Hand it over now").click()
    expect(phone.page.locator("[data-part=send-result]")).to_contain_text("handed over")
    assert phone.page.evaluate("window.given").endswith(".txt")


def test_record_is_copied_where_nothing_else_works(phone: Phone):
    """Without a share sheet and without downloads the record is on the clipboard."""
    phone.page.add_init_script("""
      URL.createObjectURL = () => { throw new Error("no downloads here"); };
      navigator.clipboard.writeText = async (text) => { window.copied = text; };
    """)
    phone.open()
    phone.page.get_by_role("button", name="Send the record").click()
    expect(phone.page.locator("[data-part=send-result]")).to_contain_text("copied")
    assert phone.page.evaluate("window.copied").startswith('{"format":"pitslate/record/1"')


def test_record_loaded_on_another_phone_shows_its_answers_and_their_phone(phone: Phone, new_phone, yard, tmp_path: Path):
    """What was done on one phone stands on the other with name and phone, and loading twice adds nothing."""
    phone.open(DRAW)
    phone.do("clear")
    path = phone.sent_record(tmp_path)
    other = new_phone(yard)
    other.open()
    other.introduce("Ben Tarn", "Pit two")
    assert "2 new" in other.load_record(path)
    assert "2 already here" in other.load_record(path)
    other.open(DRAW)
    expect(other.step("clear").locator(".given")).to_contain_text("Ada Quill")
    expect(other.step("clear").locator(".given")).to_contain_text("on Pit one")


def test_answers_that_did_not_know_of_each_other_are_settled_by_a_named_person(phone: Phone, new_phone, yard, tmp_path):
    """Both readings are shown, none wins, and after a named person chose the other one stays in sight."""
    other = new_phone(yard)
    other.open()
    other.introduce("Ben Tarn", "Pit two")
    other.open(DRAW)
    other.read("length-in-hand", "41")
    phone.open(DRAW)
    phone.read("length-in-hand", "40")
    expect(other.step("length-in-hand").locator(".given")).to_contain_text("41 m")
    assert "Answers differ at one step" in phone.load_record(other.sent_record(tmp_path))
    phone.page.get_by_role("link", name="Measure the cable in hand.").click()
    step = phone.step("length-in-hand")
    expect(step).to_have_attribute("data-state", "conflict")
    expect(step.locator(".side")).to_have_count(2)
    expect(step.locator(".side", has_text="41 m")).to_contain_text("on Pit two")
    expect(step.locator(".side", has_text="40 m")).to_contain_text("on this phone")
    expect(step.locator(".side .verdict")).to_have_count(2)
    expect(phone.step("ready").locator(".blocks")).to_contain_text("Answers differ")
    step.locator(".side", has_text="41 m").get_by_role("button", name="This one stands").click()
    phone.agree()
    expect(step).to_have_attribute("data-state", "answered")
    expect(step.locator(".given")).to_contain_text("41 m")
    expect(step.locator(".earlier s")).to_contain_text(["40 m"])


@pytest.mark.parametrize("text", ["", "not a record", '{"format":"pitslate/record/1"}', '{"format":"pitslate/record/9"}'])
def test_file_that_is_no_record_is_refused_in_words(phone: Phone, tmp_path: Path, text: str):
    """What can't be loaded is named with the reason, and nothing on the phone changes."""
    path = tmp_path / "other.json"
    path.write_text(text)
    assert "other.json was not loaded." in phone.load_record(path)
    assert 1 == len(phone.entries())


def test_hostile_words_in_a_record_stay_words(phone: Phone, new_phone, yard, tmp_path: Path):
    """Markup in a name, a reading or a snag is shown as typed and never run."""
    hostile = '<img src=x onerror="window.hurt=1"><script>window.hurt=1</script>'
    phone.open(DRAW)
    phone.read("drum-number", hostile)
    expect(phone.step("drum-number").locator(".given")).to_contain_text(hostile)
    phone.page.get_by_role("button", name="Snag", exact=True).click()
    phone.dialog.get_by_label("Say what you found").fill(hostile)
    phone.dialog.get_by_text("Someone else").click()
    phone.dialog.get_by_label("Name", exact=True).fill(hostile[:80])
    phone.agree()
    expect(phone.page.locator(".snag")).to_contain_text(hostile)
    path = phone.sent_record(tmp_path)
    other = new_phone(yard)
    other.open()
    other.introduce("Ben Tarn", hostile[:40])
    other.load_record(path)
    other.open(DRAW)
    expect(other.page.locator(".snag")).to_contain_text(hostile)
    for hands in (phone, other):
        hands.open()
        assert hands.page.evaluate("window.hurt") is None
        assert 0 == hands.page.locator("img, body script").count()
