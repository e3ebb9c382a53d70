"""The lock board on the phone: own locks on and off, somebody else's never, and the gate that waits for them."""

from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Locator, expect

from builder.build import build
from tests.phone.hands import Phone

LIVE, OFF = "tasks/feeder/live.html#S1", "tasks/feeder/off.html#L1"


@pytest.fixture(scope="module")
def lock_yard(tmp_path_factory: pytest.TempPathFactory, serve_folder: Callable) -> str:
    """The address of the lock yard."""
    folder = tmp_path_factory.mktemp("lock-yard") / "site"
    build(Path(__file__).parent / "lock_yard.yaml", folder)
    return serve_folder(folder).url


class Hand:
    """A phone held by one of the crew, at the lock board."""

    def __init__(self, phone: Phone, name: str, called: str):
        self.phone = phone
        phone.open()
        phone.introduce(name, called)

    def board(self, point: str = "L1") -> Locator:
        self.phone.open("locks.html")
        return self.phone.page.locator(f"[data-point={point}]")

    def put_on(self, number: str, who: str | None = None, point: str = "L1") -> None:
        """Hangs a lock on a point."""
        self.board(point).get_by_role("button", name="Put a lock on").click()
        if who:
            self.phone.dialog.get_by_text(who).click()
        self.phone.dialog.get_by_label("Number on the lock").fill(number)
        self.agree()

    def agree(self) -> None:
        """Agrees, and waits until it is said to be saved."""
        self.phone.page.locator("[aria-live=polite]").evaluate("(spoken) => { spoken.textContent = ''; }")
        self.phone.agree()
        expect(self.phone.page.locator("[aria-live=polite]")).to_have_text("Saved on this phone.")

    def press(self, button: str, who: str, point: str = "L1") -> Locator:
        """Answers one of the questions about the first lock of a point, as somebody; gives the question."""
        self.board(point).get_by_role("button", name=button, exact=True).first.click()
        self.phone.dialog.locator(".person", has_text=who).click()
        return self.phone.dialog

    def gate(self, sheet: str = LIVE, hold: str = "may-close") -> Locator:
        self.phone.open(sheet)
        return self.phone.step(hold)


@pytest.fixture
def ada(new_phone: Callable[..., Phone], lock_yard: str) -> Hand:
    """Ada Quill, supervisor, with a phone."""
    return Hand(new_phone(lock_yard), "Ada Quill", "Pit one")


@pytest.fixture
def ben(new_phone: Callable[..., Phone], lock_yard: str) -> Hand:
    """Ben Tarn, crew, with another."""
    return Hand(new_phone(lock_yard), "Ben Tarn", "Pit two")


def test_a_known_person_hangs_a_second_lock_with_two_taps(ben: Hand):
    """The number of the lock that came off last stands there already: put a lock on, it is on."""
    ben.put_on("7")
    ben.press("Take it off", "Ben Tarn")
    ben.agree()
    expect(ben.board().locator("[data-part=point-state]")).to_have_text("No lock is on.")
    ben.board().get_by_role("button", name="Put a lock on").click()
    ben.agree()
    expect(ben.board().locator(".lock")).to_contain_text("7 Ben Tarn")
    expect(ben.board().locator("[data-part=point-state]")).to_have_text("One lock is on.")
    expect(ben.board().locator("summary")).to_have_text("One lock came off")


def test_energising_waits_until_the_last_lock_is_off(ben: Hand):
    """Each lock is named at the gate, with the way to it; the gate is ready when both have come off."""
    ben.put_on("7")
    ben.put_on("9", "Cleo Marsh")
    gate = ben.gate()
    expect(gate.locator(".blocks li")).to_have_text(["Lock 7 of Ben Tarn is on L1", "Lock 9 of Cleo Marsh is on L1"])
    gate.locator(".blocks a").first.click()
    expect(ben.phone.page.locator("[data-point=L1]")).to_be_in_viewport()
    ben.press("Take it off", "Ben Tarn")
    ben.agree()
    expect(ben.gate().locator(".blocks li")).to_have_text(["Lock 9 of Cleo Marsh is on L1"])
    ben.press("Take it off", "Cleo Marsh")
    ben.agree()
    expect(ben.gate().get_by_role("button", name="Release this hold")).to_be_visible()


def test_another_phone_takes_nobody_s_lock_off_but_by_the_procedure(ada: Hand, ben: Hand, tmp_path: Path):
    """The lock comes over with the record; a supervisor alone is refused, one person twice is refused, and three do it."""
    ben.put_on("7")
    ada.phone.load_record(ben.phone.sent_record(tmp_path))
    ada.press("Take it off", "Ada Quill").locator("[data-part=ask-yes]").click()
    expect(ada.phone.dialog).to_contain_text("Only Ben Tarn takes it off.")
    ada.press("Owner not here", "Cleo Marsh").get_by_label("What was done").fill("Radio, phone, walked the shed")
    ada.agree()
    expect(ada.board().locator(".lock")).to_contain_text("Owner looked for: Radio, phone, walked the shed")
    expect(ada.gate().locator(".blocks li")).to_have_text(["Lock 7 of Ben Tarn is on L1"])
    ada.press("Take it off without its owner", "Cleo Marsh").locator("[data-part=ask-yes]").click()
    expect(ada.phone.dialog).to_contain_text("It takes a third person")
    ada.press("Take it off without its owner", "Ada Quill")
    ada.agree()
    expect(ada.board().locator("[data-part=gone]")).to_contain_text("Tell Ben Tarn before they work here again.")
    expect(ada.gate().get_by_role("button", name="Release this hold")).to_be_visible()


def test_an_owner_who_has_signed_on_is_looked_for_behind_the_lock(ben: Hand):
    """Whoever is in the zone is not absent."""
    ben.put_on("7", "Cleo Marsh")
    ben.phone.page.get_by_role("button", name="Somebody goes in").click()
    ben.phone.dialog.get_by_text("Cleo Marsh").click()
    ben.agree()
    ben.press("Owner not here", "Ben Tarn").get_by_label("What was done").fill("Called once")
    ben.phone.dialog.locator("[data-part=ask-yes]").click()
    expect(ben.phone.dialog).to_contain_text("Find them first")


def test_the_zone_names_who_has_no_lock_and_lets_nobody_leave_one_behind(ben: Hand):
    """Nobody signed on is said and not read as nobody there; who goes in without a lock stands first."""
    zone = ben.phone.page.locator("[data-part=zone]")
    ben.board()
    expect(zone).to_contain_text("That says nothing about who is in there.")
    ben.put_on("7")
    for name in ("Ben Tarn", "Cleo Marsh"):
        ben.phone.page.get_by_role("button", name="Somebody goes in").click()
        ben.phone.dialog.get_by_text(name).click()
        ben.agree()
    expect(zone).to_contain_text("In the zone: 2. Locks on: 1. Without a lock: 1.")
    expect(zone.locator("li")).to_contain_text(["Cleo Marsh has no lock on", "Ben Tarn 7 · L1"])
    ben.phone.page.get_by_role("button", name="Somebody is out").click()
    ben.phone.dialog.get_by_text("Ben Tarn").click()
    ben.phone.dialog.locator("[data-part=ask-yes]").click()
    expect(ben.phone.dialog).to_contain_text("Take your lock 7 off L1 first.")


def test_one_number_does_not_hang_in_two_places(ada: Hand, ben: Hand, tmp_path: Path):
    """On one phone it is refused; on two that had not heard of each other it is said plainly."""
    ben.put_on("7")
    ben.board("L2").get_by_role("button", name="Put a lock on").click()
    ben.phone.dialog.locator("[data-part=ask-yes]").click()
    expect(ben.phone.dialog).to_contain_text("Lock 7 of Ben Tarn is on L1 already.")
    ada.put_on("7", point="L2")
    ada.phone.load_record(ben.phone.sent_record(tmp_path))
    ada.board()
    expect(ada.phone.page.locator("[data-part=lock-notes]")).to_contain_text("Lock 7 is on more than once: L1 (Ben Tarn), L2 (Ada Quill)")


def test_a_point_proved_dead_falls_with_its_last_lock(ada: Hand):
    """Proved in turn, released behind a lock; the lock goes and the gate is shut, another lock and it wants a new look."""
    ada.phone.open(OFF)
    expect(ada.phone.step("dead")).to_contain_text("Not yet. First: Prove the tester.")
    ada.phone.do("tester")
    ada.phone.do("dead")
    expect(ada.phone.step("locked").locator(".blocks")).to_contain_text("No lock is on L1")
    ada.put_on("1")
    ada.gate(OFF, "locked")
    ada.phone.release("locked", "Ada Quill")
    expect(ada.phone.step("locked")).to_have_attribute("data-state", "open")
    ada.press("Take it off", "Ada Quill")
    ada.agree()
    expect(ada.gate(OFF, "locked")).to_have_attribute("data-state", "shut")
    ada.put_on("1")
    gate = ada.gate(OFF, "locked")
    expect(gate).to_contain_text("can't be shown to have been on L1 all the time")
    expect(gate.get_by_role("button", name="Release this hold")).to_be_visible()


def test_the_board_works_without_signal_and_by_keyboard(ben: Hand):
    """Cold, without a network, a lock goes on with the keys of a keyboard, and it is said aloud."""
    ben.phone.installed()
    ben.phone.context.set_offline(True)
    ben.board("B1").get_by_role("button", name="Put a lock on").focus()
    page = ben.phone.page
    page.keyboard.press("Enter")
    page.keyboard.type("12")
    page.keyboard.press("Enter")
    expect(page.locator("[aria-live=polite]")).to_have_text("Saved on this phone.")
    expect(page.locator("[data-point=B1] .lock")).to_contain_text("12 Ben Tarn")
    expect(page.get_by_role("region", name="Box at the door")).to_contain_text("Holds the keys of: L2")
    ben.phone.open()
    expect(page.locator("[data-part=locks-tally]")).to_have_text("One lock on")


def test_what_was_entered_wrong_is_taken_back_by_those_who_may(ben: Hand):
    """A lock that came off by mistake is on again; an owner who is found is no longer absent; only the owner undoes a lock."""
    def back(button: str, who: str) -> None:
        ben.press(button, who).get_by_role("textbox").fill("Wrong lock")

    ben.put_on("7", "Cleo Marsh")
    ben.press("Take it off", "Cleo Marsh")
    ben.agree()
    ben.board().locator("summary").click()
    ben.phone.page.get_by_role("button", name="It hangs there still").click()
    ben.phone.dialog.locator(".person", has_text="Cleo Marsh").click()
    ben.phone.dialog.get_by_role("textbox").fill("Took the one beside it")
    ben.agree()
    expect(ben.board().locator("[data-part=point-state]")).to_have_text("One lock is on.")
    ben.press("Owner not here", "Ben Tarn").get_by_label("What was done").fill("Called")
    ben.agree()
    back("Owner was found", "Ada Quill")
    ben.agree()
    expect(ben.board().get_by_role("button", name="Owner not here")).to_be_visible()
    back("Entered by mistake", "Ben Tarn")
    ben.phone.dialog.locator("[data-part=ask-yes]").click()
    expect(ben.phone.dialog).to_contain_text("Only one of these can take this back: Cleo Marsh.")
    ben.phone.dialog.locator(".person", has_text="Cleo Marsh").click()
    ben.agree()
    expect(ben.board().locator("[data-part=point-state]")).to_have_text("No lock is on.")
