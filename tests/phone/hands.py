"""What a pair of hands does on a phone."""

import contextlib
import json
import os
import signal
from pathlib import Path

from playwright.sync_api import Browser, Error, Page, expect

from builder.record.chain import Entry
from tests.browser import launch_options

DRAW = "tasks/drawing/draw.html#R1"
OFF = "tasks/switching/off.html#L1"


class Phone:
    """One browser store with one page open in it. Keeps the faults its pages met and the addresses they asked."""

    def __init__(self, browser: Browser, address: str, width: int = 360, store: Path | None = None, **screen):
        self.address = address
        self.faults: list[str] = []
        self.asked: list[str] = []
        screen |= {"viewport": {"width": width, "height": 740}, "has_touch": True, "accept_downloads": True}
        if store is None:
            self.context = browser.new_context(**screen)
        else:
            # A browser of its own that writes its store to disk, so that it can be closed and started again.
            self.context = browser.browser_type.launch_persistent_context(store, **launch_options(os.environ), **screen)
        self.context.set_default_timeout(20_000)
        self.context.on("request", lambda request: self.asked.append(request.url))
        self.page = self.new_page()

    def new_page(self) -> Page:
        """Another page, as after a cold start."""
        self.page = self.context.new_page()
        self.page.on("pageerror", lambda error: self.faults.append(str(error)))
        return self.page

    def kill(self) -> None:
        """Ends the browser of a phone with a store of its own as a dead battery does."""
        session = self.context.browser.new_browser_cdp_session()
        processes = session.send("SystemInfo.getProcessInfo")["processInfo"]
        number = next(process["id"] for process in processes if process["type"] == "browser")
        # On Windows, terminating is killing.
        os.kill(number, getattr(signal, "SIGKILL", signal.SIGTERM))
        with contextlib.suppress(Error):
            self.context.close()

    def open(self, path: str = "") -> None:
        """Opens a page of the job and waits until it can be used."""
        if self.page.url == self.address + path:
            # Going to where one is already would load nothing.
            self.page.reload()
        else:
            self.page.goto(self.address + path)
        # Where the whole job is over there is nothing next, and the count of its sheets says so.
        expect(self.page.locator("[data-part=next]:not(:empty), [data-part=tally] > span").first).to_be_attached()

    def installed(self) -> None:
        """Waits until every page is on the phone."""
        self.page.evaluate("navigator.serviceWorker.ready.then(() => null)")

    def introduce(self, name: str, phone: str) -> None:
        """Says who holds the phone, for the first time."""
        self.page.locator("[data-part=next]").click()
        self.dialog.get_by_text(name).click()
        self.dialog.get_by_label("What this phone is called").fill(phone)
        self.agree()
        expect(self.page.locator("[data-part=crew]")).to_contain_text(name)

    def unfold(self) -> None:
        """Opens all that is folded away and draws what is out of sight, so that every part has its place."""
        self.page.evaluate("""() => {
          for (const one of document.querySelectorAll("details")) one.open = true;
          for (const one of document.querySelectorAll(".step, .gate")) one.style.contentVisibility = "visible";
        }""")

    @property
    def dialog(self):
        return self.page.get_by_role("dialog")

    def agree(self) -> None:
        """Presses the button that agrees, and waits until the question is gone."""
        self.dialog.locator("[data-part=ask-yes]").click()
        expect(self.dialog).to_have_count(0)

    def step(self, name: str):
        return self.page.locator(f"#step-{name}")

    def do(self, name: str) -> None:
        """Answers a step that needs no more than a tap."""
        self.step(name).locator("form .act").click()
        expect(self.step(name)).to_have_attribute("data-state", "answered")

    def read(self, name: str, text: str) -> None:
        """Types a reading and presses its button."""
        self.step(name).locator("[name=reading]").fill(text)
        self.step(name).locator("form .act").click()

    def choose(self, name: str, value: str) -> None:
        self.step(name).locator(f"button[value={value}]").click()

    def more(self, name: str, button: str) -> None:
        """Opens what else may be done about a step, and does it."""
        expect(self.step(name).locator("form[aria-busy]")).to_have_count(0)
        more = self.step(name).locator("details.more")
        if more.get_attribute("open") is None:
            more.locator("summary").click()
        more.get_by_role("button", name=button, exact=True).click()

    def release(self, name: str, person: str) -> None:
        """Releases a hold, and waits until the gate says by whom: a page left sooner may leave without it."""
        self.step(name).get_by_role("button", name="Release this hold").click()
        self.dialog.get_by_text(person).click()
        self.agree()
        expect(self.step(name).locator("[data-part=answer] > .given").filter(has_text=person)).not_to_have_count(0)

    def work_up_to_ready(self) -> None:
        """Works the drawing sheet up to its hold."""
        self.open(DRAW)
        self.do("clear")
        self.do("bends")
        self.read("length-in-hand", "40")
        self.choose("feed-end", "start")
        self.read("drum-number", "D 17")
        expect(self.step("drum-number")).to_have_attribute("data-state", "answered")

    def entries(self, job: str = "yard") -> list[dict]:
        """This phone's entries, from its store."""
        return self.page.evaluate("""async (job) => {
          const open = indexedDB.open(`pitslate-record-${job}`);
          const base = await new Promise((done) => { open.onsuccess = () => done(open.result); });
          const all = base.transaction("chain").objectStore("chain").getAll();
          const rows = await new Promise((done) => { all.onsuccess = () => done(all.result); });
          base.close();
          return rows.map(({ payload }) => JSON.parse(payload));
        }""", job)

    def hold(self, job: str, entries: list[Entry]) -> None:
        """Entries of other phones lie in this phone's store as if they had been loaded, without the wait for it."""
        rows = [{"dev": said["dev"], "seq": said["seq"], **entry._asdict()} for entry in entries for said in [json.loads(entry.payload)]]
        self.page.evaluate("""async ([job, rows]) => {
          const open = indexedDB.open(`pitslate-record-${job}`);
          const base = await new Promise((done) => { open.onsuccess = () => done(open.result); });
          const writing = base.transaction(["brought", "heads"], "readwrite");
          for (const row of rows) {
            writing.objectStore("brought").put(row);
            writing.objectStore("heads").put({ dev: row.dev, seq: row.seq, id: row.id, whole: row.seq });
          }
          await new Promise((done) => { writing.oncomplete = done; });
          base.close();
        }""", [job, rows])

    def sent_record(self, folder: Path) -> Path:
        """Sends the record to the phone's downloads, as a phone without a share sheet does."""
        self.open()
        with self.page.expect_download() as download:
            self.page.get_by_role("button", name="Send the record").click()
        path = folder / download.value.suggested_filename
        download.value.save_as(path)
        return path

    def load_record(self, *paths: Path) -> str:
        """Loads other phones' records and gives what the screen says of them."""
        self.open()
        self.page.locator("[data-part=load]").set_input_files(paths)
        result = self.page.locator("[data-part=send-result]")
        expect(result).not_to_be_empty()
        return result.inner_text()
