"""A new build waits until the crew takes it, comes whole or not at all, and never over an unsaved answer."""

import hashlib
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import expect

from builder.build import build
from tests.folder_server import FolderServer
from tests.phone.conftest import YARD
from tests.phone.hands import DRAW, OFF, Phone


class Yard:
    """The yard job served from a folder that can be built again with other words."""

    def __init__(self, folder: Path):
        self._source = folder / "source"
        self._source.mkdir()
        for path in YARD.parent.glob("*.yaml"):
            shutil.copy(path, self._source)
        self.site = folder / "site"
        self.build("Clear the **route**.")
        self.server = FolderServer(self.site)

    def build(self, first_step: str) -> str:
        """Builds with these words for the first step, and gives the build's stamp."""
        drawing = (YARD.parent / "drawing.yaml").read_text()
        assert "Clear the **route**." in drawing
        (self._source / "drawing.yaml").write_text(drawing.replace("Clear the **route**.", first_step))
        build(self._source / YARD.name, self.site)
        return (self.site / "build.json").read_text().split('"build":"')[1][:12]


    def spoil_start(self) -> None:
        """Makes the served build one that arrives whole and fails to start."""
        app = self.site / "app" / "app.js"
        worker = self.site / "service-worker.js"
        good = app.read_bytes()
        app.write_bytes(b'throw new Error("made to fail");' + good)
        old, new = (hashlib.sha256(content).hexdigest() for content in (good, app.read_bytes()))
        assert old in worker.read_text()
        worker.write_text(worker.read_text().replace(old, new))


def take(phone: Phone) -> None:
    """Takes the new sheets that are offered."""
    phone.page.locator(".notice").get_by_role("button", name="Take them").click()


def close_off(phone: Phone) -> None:
    """Works the switching sheet to its end."""
    phone.open(OFF)
    phone.do("open-it")
    phone.release("dead", "Ada Quill")
    close(phone)


def finish_draw(phone: Phone) -> None:
    """Works what is left of the drawing sheet, and closes it."""
    phone.read("length-in-hand", "40")
    phone.choose("feed-end", "start")
    phone.read("drum-number", "D 17")
    expect(phone.step("drum-number")).to_have_attribute("data-state", "answered")
    phone.release("ready", "Ada Quill")
    phone.do("pull-it")
    close(phone)


def close(phone: Phone) -> None:
    phone.page.get_by_role("button", name="Close the sheet").click()
    phone.agree()
    expect(phone.page.locator("[data-part=far-end]")).to_contain_text("Closed")


@pytest.fixture
def served_yard(tmp_path: Path) -> Iterator[Yard]:
    served = Yard(tmp_path)
    yield served
    served.server.stop()


@pytest.fixture
def worker(new_phone, served_yard: Yard) -> Phone:
    """A phone with the first build installed and a sheet in hand."""
    phone = new_phone(served_yard.server.url)
    phone.open()
    phone.introduce("Ada Quill", "Pit one")
    phone.installed()
    phone.open(DRAW)
    phone.do("bends")
    return phone


def test_new_build_waits_until_it_is_taken(worker: Phone, served_yard: Yard):
    """The old words stay, page after page, until somebody takes the new sheets."""
    first = worker.page.locator("html").get_attribute("data-build")
    second = served_yard.build("Sweep the route.")
    assert first != second
    worker.open(DRAW)
    notice = worker.page.locator(".notice", has_text="New sheets are ready")
    expect(notice).to_contain_text("Sheets in hand: R1 Draw the cable in")
    worker.open(DRAW)
    expect(worker.step("clear")).to_contain_text("Clear the route")
    assert first == worker.page.locator("html").get_attribute("data-build")
    worker.open(OFF)
    notice.get_by_role("button", name="Take them").click()
    worker.page.wait_for_function("(old) => document.documentElement.dataset.build !== old", arg=first)
    assert second == worker.page.locator("html").get_attribute("data-build")


def test_sheet_in_hand_is_finished_under_the_build_it_was_begun_with(worker: Phone, served_yard: Yard):
    """After new sheets are taken it keeps its words, its entries keep their build, and once closed it is as all others."""
    first = worker.page.locator("html").get_attribute("data-build")
    second = served_yard.build("Sweep the route.")
    worker.open(DRAW)
    take(worker)
    worker.page.wait_for_url(f"**/builds/{first}/tasks/**")
    expect(worker.page.locator("[data-part=sheet-notes]")).to_contain_text(f"goes on under build {first}")
    expect(worker.step("clear")).to_contain_text("Clear the route")
    served_yard.server.stop()
    worker.do("clear")
    assert {first} == {entry["build"] for entry in worker.entries()}
    worker.page.get_by_role("link", name="Whole job").click()
    expect(worker.page.locator("html")).to_have_attribute("data-build", second)
    close_off(worker)
    assert second == worker.entries()[-1]["build"]
    worker.open(DRAW)
    worker.page.wait_for_url(f"**/builds/{first}/tasks/**")
    finish_draw(worker)
    assert {first} == {entry["build"] for entry in worker.entries() if entry["sheet"] == "drawing/draw/R1"}
    worker.open(DRAW)
    expect(worker.step("clear")).to_contain_text("Sweep the route")
    assert "builds/" not in worker.page.url


def test_build_that_does_not_start_twice_gives_way_to_the_one_before(worker: Phone, served_yard: Yard):
    """The page says so each time, the third start works again with what was saved, and the next build is taken as usual."""
    first = worker.page.locator("html").get_attribute("data-build")
    served_yard.build("Sweep the route.")
    served_yard.spoil_start()
    worker.open(OFF)
    worker.page.locator(".notice").get_by_role("button", name="Take them").click()
    for _ in range(2):
        expect(worker.page.locator("[data-part=not-started]")).to_be_visible()
        worker.page.wait_for_load_state("load")
        worker.page.reload()
    expect(worker.page.locator("html")).to_have_attribute("data-build", first)
    expect(worker.page.locator(".notice", has_text="went back")).to_be_visible()
    worker.open(DRAW)
    expect(worker.step("bends")).to_have_attribute("data-state", "answered")
    worker.faults.clear()
    third = served_yard.build("Brush the route.")
    worker.open(OFF)
    take(worker)
    expect(worker.page.locator("html")).to_have_attribute("data-build", third)
    expect(worker.page.locator("[data-part=next]")).not_to_be_empty()
    expect(worker.page.locator("[data-part=notices]")).to_be_empty()


def test_new_build_is_not_taken_over_an_unsaved_answer(worker: Phone, served_yard: Yard):
    """With a reading typed and not saved, taking the new sheets is refused and the reading stays."""
    served_yard.build("Sweep the route.")
    worker.open(DRAW)
    worker.step("length-in-hand").locator("[name=reading]").fill("40")
    notice = worker.page.locator(".notice", has_text="New sheets are ready")
    notice.get_by_role("button", name="Take them").click()
    expect(notice).to_contain_text("not saved yet")
    expect(worker.step("length-in-hand").locator("[name=reading]")).to_have_value("40")
    expect(worker.step("clear")).to_contain_text("Clear the route")


def test_taken_build_leaves_the_other_page_and_its_unsaved_answer_alone(worker: Phone, served_yard: Yard):
    """When one page takes the new sheets, a second page with a typed reading is not loaded again."""
    first_page = worker.page
    served_yard.build("Sweep the route.")
    worker.step("length-in-hand").locator("[name=reading]").fill("40")
    worker.new_page()
    worker.open(OFF)
    worker.page.locator(".notice").get_by_role("button", name="Take them").click()
    worker.page.wait_for_function("(old) => document.documentElement.dataset.build !== old",
                                  arg=first_page.locator("html").get_attribute("data-build"))
    expect(first_page.locator("#step-length-in-hand [name=reading]")).to_have_value("40")


@pytest.mark.parametrize("fault", ["missing", "wrong bytes", "short"])
def test_build_that_does_not_arrive_whole_leaves_the_old_one_whole(worker: Phone, served_yard: Yard, fault: str):
    """One file missing, changed or cut: the new build is not offered and every old page still opens."""
    served_yard.build("Sweep the route.")
    spoiled = served_yard.site / "app" / "app.js"
    content = spoiled.read_bytes()
    if fault == "missing":
        spoiled.unlink()
    else:
        spoiled.write_bytes(content[:-1] if fault == "short" else content[:-1] + b" ")
    outcome = worker.page.evaluate("""async () => {
      const registration = await navigator.serviceWorker.ready;
      const found = new Promise((done) => registration.addEventListener("updatefound", () => {
        const { installing } = registration;
        installing.addEventListener("statechange", () => done(installing.state));
      }));
      await registration.update();
      return found;
    }""")
    assert "redundant" == outcome
    served_yard.server.stop()
    worker.open(DRAW)
    expect(worker.step("clear")).to_contain_text("Clear the route")
    expect(worker.page.locator(".notice", has_text="New sheets")).to_have_count(0)
    assert 1 == builds_kept(worker)


def test_old_build_is_dropped_once_the_new_one_works_and_no_sheet_needs_it(worker: Phone, served_yard: Yard):
    """Both are kept while the new one waits and while a sheet begun with the old one is in hand; then one is."""
    served_yard.build("Sweep the route.")
    worker.open(DRAW)
    take(worker)
    worker.page.wait_for_url("**/builds/**")
    worker.open()
    expect(worker.page.locator("[data-part=tally]")).to_contain_text("0 of 2")
    assert 2 == builds_kept(worker)
    close_off(worker)
    worker.open(DRAW)
    worker.page.wait_for_url("**/builds/**")
    worker.do("clear")
    finish_draw(worker)
    worker.page.goto(worker.address)
    expect(worker.page.locator("[data-part=tally]")).to_contain_text("2 of 2")
    worker.page.wait_for_function("""async () => {
      const names = await caches.keys();
      return names.filter((name) => name !== "pitslate-ledger").length === 1;
    }""")


def builds_kept(phone: Phone) -> int:
    return phone.page.evaluate("caches.keys().then((names) => names.filter((name) => name !== 'pitslate-ledger').length)")


def test_page_never_works_with_the_data_of_another_build(new_phone, yard: str):
    """When page and data are of two builds, it loads both again once, and then says so and records nothing."""
    phone = new_phone(yard)
    phone.context.route("**/build.json", lambda route: route.fulfill(json={"build": "0123456789ab"}))
    phone.page.goto(yard + DRAW)
    expect(phone.page.locator("[data-part=notices]")).to_contain_text("of two builds")
    expect(phone.page.get_by_role("button")).to_have_count(0)
    assert 2 == phone.asked.count(yard + DRAW.partition("#")[0])
