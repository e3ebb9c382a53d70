"""The last sheet of the demo job on three phones in browsers: two differ, one finds a snag, all merge, and the desk sees it end."""

import json
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest
from playwright.sync_api import expect

from builder.record.collect import GOOD, collect
from tests.checklists.crew import Crew
from tests.checklists.order_of_work import order_of_work
from tests.phone.hands import Phone
from tests.record.phone import Phone as Signing

SNAG = "A lid is loose at the gate"


class Yard:
    """Three phones that hold all that a crew has said up to the last sheet, and the desk that collects from them."""

    def __init__(self, site: Path, address: str, new_phone: Callable[..., Phone], folder: Path):
        self.site, self.folder = site, folder
        self.job, build = (json.loads((site / name).read_text(encoding="utf-8")) for name in ("job.json", "build.json"))
        self.crew = Crew(self.job, build["build"])
        order = order_of_work(self.job)
        self.sheet = order[-1][0]
        self.stretches = [stretch for stretch in order if stretch[0] == self.sheet]
        self.crew.work(stretch for stretch in order if stretch[0] != self.sheet)
        self.people = self.crew.people
        self.phones: list[Phone] = []
        self.files = 0
        self.crew.meet()
        office = self._file(self.crew.record(self.crew.phones[0]))
        self.said = self.collected(office)
        for name in self.crew.names[:3]:
            self.phones.append(self._begun(new_phone(address), name, self.crew.phones))

    def _begun(self, phone: Phone, name: str, crew: list[Signing]) -> Phone:
        phone.open()
        phone.introduce(name, f"{name.split()[0]}'s own")
        phone.hold(self.job["job"]["name"], [entry for one in crew for entry in one.entries])
        return phone

    def _file(self, text: str) -> Path:
        self.files += 1
        path = self.folder / f"{self.files}.json"
        path.write_text(text, encoding="utf-8")
        return path

    def collected(self, *paths: Path) -> str:
        """The line that the desk prints of what is open."""
        said: list[str] = []
        assert GOOD == collect(paths, self.site, None, self.folder / "desk", lambda: datetime.now(UTC), said.append), said
        return next(line for line in said if line.startswith(("Still open", "Nothing is open")))

    def sent(self, phone: Phone) -> Path:
        """A record file, under a name of its own."""
        return self._file(phone.sent_record(self.folder).read_text(encoding="utf-8"))

    def open(self, phone: Phone) -> None:
        task, _, item = self.sheet.rpartition("/")
        phone.open(f"tasks/{task}.html#{item}")

    def answer(self, phone: Phone, step: dict) -> None:
        """One step of the last sheet, as a good crew answers it."""
        if step["kind"] != "read":
            phone.do(step["name"])
        elif step["one_of"]:
            phone.choose(step["name"], self.crew.good(self.sheet, step))
        else:
            phone.read(step["name"], self.crew.good(self.sheet, step))
        expect(phone.step(step["name"])).to_have_attribute("data-state", "answered")


@pytest.fixture
def yard(demo_folder: Path, demo_site: str, new_phone: Callable[..., Phone], tmp_path: Path) -> Yard:
    return Yard(demo_folder, demo_site, new_phone, tmp_path)


def test_the_last_hold_snag_and_conflict_are_settled_between_three_phones(yard: Yard) -> None:
    """Released, read twice, found wrong, merged, settled by name, closed: the desk names what is left after each."""
    one, two, three = yard.phones
    (_, first), (_, last), _ = yard.stretches
    steps = {step["name"]: step for step in yard.crew.steps(yard.sheet)}
    between = yard.crew.between(yard.sheet, last)
    number = next(step for step in between if step.get("unit"))
    supervisor, waits_for = yard.people["supervisor"], yard.people["licensed-worker"]

    yard.open(one)
    for step in yard.crew.between(yard.sheet, first):
        yard.answer(one, step)
    one.release(first, yard.people[steps[first]["released_by"]])
    begun = yard.sent(one)
    for phone in (two, three):
        phone.load_record(begun)
        yard.open(phone)
    two.read(number["name"], str(int(yard.crew.good(yard.sheet, number)) + 1))
    expect(two.step(number["name"])).to_have_attribute("data-state", "answered")
    three.more(between[-1]["name"], "Snag here")
    three.dialog.get_by_label("Say what you found").fill(SNAG)
    three.dialog.get_by_label("Who it waits for").select_option(label=waits_for)
    three.agree()
    expect(three.step(between[-1]["name"]).locator(".snag")).to_contain_text(SNAG)
    yard.open(one)
    for step in between:
        yard.answer(one, step)

    files = [yard.sent(phone) for phone in yard.phones]
    assert "Still open: 1 sheet, 1 hold, 1 step where answers differ, 1 snag." == yard.collected(*files)
    for phone, others in ((one, files[1:]), (two, files[::2]), (three, files[1::-1])):
        phone.load_record(*others)
        yard.open(phone)
        expect(phone.step(number["name"])).to_have_attribute("data-state", "conflict")
        expect(phone.step(between[-1]["name"]).locator(".snag")).to_contain_text(SNAG)
        expect(phone.step(last)).to_have_attribute("data-state", "shut")

    three.step(number["name"]).locator(".side", has_text=yard.crew.names[0]).get_by_role("button").click()
    three.dialog.get_by_text(supervisor).click()
    three.agree()
    expect(three.step(number["name"])).to_have_attribute("data-state", "answered")
    settled = yard.sent(three)
    assert "Still open: 1 sheet, 1 hold, 1 snag." == yard.collected(settled)

    two.load_record(settled)
    yard.open(two)
    two.step(between[-1]["name"]).get_by_role("button", name="Close this snag").click()
    two.dialog.get_by_label("What was done about it").fill("Bolted down")
    two.dialog.locator(".person", has_text=waits_for).click()
    two.agree()
    expect(two.step(between[-1]["name"]).locator(".snag")).to_contain_text("Closed: Bolted down")
    closed = yard.sent(two)
    assert "Still open: 1 sheet, 1 hold." == yard.collected(closed)

    one.load_record(closed)
    yard.open(one)
    one.release(last, yard.people[steps[last]["released_by"]])
    expect(one.step(last)).to_have_attribute("data-state", "open")
    assert "Still open: 1 sheet." == yard.collected(yard.sent(one))
    yard.open(one)
    one.page.get_by_role("button", name="Close the sheet").click()
    one.agree()
    expect(one.page.locator("[data-part=far-end]")).to_contain_text("Closed")
    end = yard.sent(one)
    assert "Nothing is open." == yard.collected(end)

    sheets = len(yard.job["sheets"])
    for phone in (two, three):
        phone.load_record(end)
        expect(phone.page.locator("[data-part=tally] span").first).to_have_text(f"{sheets} of {sheets} sheets closed")
        expect(phone.page.locator("[data-part=snags]")).to_have_text("No open snags.")
