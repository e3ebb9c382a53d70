"""A new build waits until the crew takes it, comes whole or not at all, and never over an unsaved answer."""

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
    notice.get_by_role("button", name="Take them").click()
    expect(worker.step("clear")).to_contain_text("Sweep the route")
    assert second == worker.page.locator("html").get_attribute("data-build")
    expect(worker.page.locator("[data-part=sheet-notes]")).to_contain_text(f"begun on build {first}")
    expect(worker.step("bends")).to_have_attribute("data-state", "answered")


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
    spoiled = served_yard.site / "app" / "app.mjs"
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
    assert 1 == worker.page.evaluate("caches.keys().then((names) => names.length)")


def test_old_build_is_dropped_only_when_the_new_one_is_taken(worker: Phone, served_yard: Yard):
    """Both builds are kept while the new one waits, and one after it is taken."""
    served_yard.build("Sweep the route.")
    worker.open(DRAW)
    take = worker.page.locator(".notice").get_by_role("button", name="Take them")
    expect(take).to_be_visible()
    assert 2 == worker.page.evaluate("caches.keys().then((names) => names.length)")
    take.click()
    expect(worker.step("clear")).to_contain_text("Sweep the route")
    # The old one goes while the new worker takes over, which may still be under way when its page shows.
    assert 1 == worker.page.evaluate("""async () => {
      const until = performance.now() + 10_000;
      for (;;) {
        const { length } = await caches.keys();
        if (length === 1 || performance.now() > until) return length;
        await new Promise((done) => setTimeout(done, 50));
      }
    }""")


def test_page_never_works_with_the_data_of_another_build(new_phone, yard: str):
    """When page and data are of two builds, it loads both again once, and then says so and records nothing."""
    phone = new_phone(yard)
    loads = []
    phone.page.on("load", lambda: loads.append(phone.page.url))
    phone.context.route("**/build.json", lambda route: route.fulfill(json={"build": "0123456789ab"}))
    phone.page.goto(yard + DRAW)
    expect(phone.page.locator(".notice")).to_contain_text("of two builds")
    expect(phone.page.get_by_role("button")).to_have_count(0)
    assert 2 == len(loads)
