"""A job file and a record made to hurt: their words stay words, nothing of theirs runs, and nobody else is asked."""

import json
import shutil
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
import yaml
from playwright.sync_api import expect

from builder.build import build
from builder.load.document import read_document
from builder.load.problems import BadInput
from tests.phone.conftest import YARD
from tests.phone.hands import DRAW, OFF, Phone
from tests.record.phone import Phone as Forger
from tests.record.phone import record_text

RUN = "window.hurt=1"
HOSTILE = (
    f"<script>{RUN}</script><img src=x onerror={RUN}><svg onload={RUN}></svg> ]]> --> </title></textarea></script> "
    f"\" onfocus=\"{RUN}\" ' onclick='{RUN}' javascript:{RUN} [a](javascript:{RUN}) "
    f"![b](http://elsewhere.invalid/b.png) <http://elsewhere.invalid/> \u202e\u2066 end"
)
# Braces are a language of their own in a job's words; in a record they are nothing at all.
TYPED = HOSTILE + f" {{{{7*7}}}} ${{{RUN}}} %s"
# Where a supervisor writes words of their own.
WORDED = {"title", "place", "client", "say", "why", "where"}
# Names that mean something to JavaScript itself.
NAMES = ["__proto__", "constructor", "prototype", "toString", "hasOwnProperty"]


def _made_hostile(what: Any) -> Any:
    if isinstance(what, list):
        return [_made_hostile(one) for one in what]
    if not isinstance(what, dict):
        return what
    return {key: f"{value} {HOSTILE}" if key in WORDED and isinstance(value, str) else _made_hostile(value)
            for key, value in what.items()}


class _Markup(HTMLParser):
    """Collects what would run or load in a page."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, dict]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        harmful = [name for name in given if name.startswith("on")] or any((value or "").startswith("javascript:") for value in given.values())
        addresses = [given[name] for name in ("src", "href") if given.get(name)]
        if tag in ("img", "iframe", "object", "embed", "base") or harmful or any("//" in address for address in addresses):
            self.found.append((tag, given))
        if tag == "script" and "src" not in given:
            self.found.append((tag, given))


@pytest.fixture(scope="session")
def hostile_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The yard job with something hostile in every field of words."""
    source = tmp_path_factory.mktemp("hostile")
    for path in YARD.parent.glob("*.yaml"):
        (source / path.name).write_text(yaml.safe_dump(_made_hostile(read_document(path).data), sort_keys=False, allow_unicode=True))
    try:
        build(source / YARD.name, source / "site")
    except BadInput as refused:
        pytest.fail("\n".join(map(str, refused.problems)))
    return source / "site"


def test_hostile_job_file_becomes_no_markup(hostile_folder: Path):
    """No page holds an element, a handler or an address that a job file's words brought in; the data is still data."""
    pages = sorted(hostile_folder.rglob("*.html"))
    for page in pages:
        markup = _Markup()
        markup.feed(page.read_text())
        assert [] == markup.found, page
    assert HOSTILE in json.loads((hostile_folder / "job.json").read_text())["job"]["title"]
    assert HOSTILE in json.loads((hostile_folder / "manifest.webmanifest").read_text())["name"]
    assert {"index.html", "draw.html", "off.html", "locks.html", "site.html"} == {page.name for page in pages}


def test_hostile_job_file_runs_nothing_and_asks_nobody(new_phone, hostile_folder: Path, serve_folder):
    """Every page opens, is worked and printed with the words shown as written."""
    phone = new_phone(serve_folder(hostile_folder).url)
    phone.open()
    phone.introduce("Ada Quill", HOSTILE[:40])
    for path in (DRAW, OFF, ""):
        phone.open(path)
        expect(phone.page.locator("h1")).to_contain_text(f"<script>{RUN}</script>")
        unharmed(phone)
    phone.open(DRAW)
    phone.do("clear")
    phone.read("length-in-hand", "40")
    for summary in phone.page.locator("details.working summary").all():
        summary.click()
    phone.page.emulate_media(media="print")
    unharmed(phone)


def _hostile_record(build_stamp: str) -> str:
    """A record, well signed, whose every word is hostile; and one entry at every name that JavaScript knows."""
    forger = Forger(TYPED, build=build_stamp)
    draw = "drawing/draw/R1"
    told = {"who": TYPED, "value": TYPED}
    forger.tell("done", sheet=draw, step="clear", **told | {"value": ""})
    forger.tell("aside", sheet=draw, step="bends", **told)
    forger.tell("reading", sheet=draw, step="drum-number", shown={"verdict": None, "working": {}}, **told)
    forger.tell("reading", sheet=draw, step="length-in-hand", unit="m", **told)
    snag = forger.tell("snag", sheet=draw, step=None, **told | {"waits_for": TYPED})
    forger.tell("snag", sheet=draw, step=TYPED, **told)
    forger.tell("snag-closed", sheet=draw, step=None, about=[snag.id], **told)
    forger.tell("note", sheet="site", step=None, **told)
    forger.tell("arrived", sheet="site", **told)
    forger.tell("lock-on", sheet="locks/L1", **told)
    forger.tell("lock-on", sheet=f"locks/{TYPED}", **told)
    for name in NAMES:
        forger.tell("release", sheet=draw, step="ready", who="Ada Quill", value=name)
        forger.tell("reading", sheet=draw, step="feed-end", who="Ada Quill", value=name)
        for kind in ("done", "snag", "note"):
            forger.tell(kind, sheet=draw, step=name, **told)
            forger.tell(kind, sheet=name, step=name, **told)
        forger.tell("lock-on", sheet=f"locks/{name}", **told)
        forger.tell("note", sheet=f"drawing/draw/{name}", step=None, **told)
    for text in ('{"__proto__":{"polluted":1},"v":1}', "[" * 500 + "]" * 500, '{"v":1,"kind":"constructor"}'):
        forger.entries.append(forger.sign(text))
    return record_text(forger.entries, forger, asked={name: {} for name in NAMES})


def test_hostile_record_runs_nothing_and_asks_nobody(new_phone, yard: str, tmp_path: Path):
    """What can be read is shown as words, what can't is kept aside, and JavaScript's own objects are as they were."""
    phone = new_phone(yard)
    phone.open()
    phone.introduce("Ben Tarn", "Pit two")
    path = tmp_path / "hostile.json"
    path.write_text(_hostile_record(phone.page.locator("html").get_attribute("data-build")))
    assert "kept aside" in phone.load_record(path)
    deep = tmp_path / "deep.json"
    deep.write_text('{"format":"pitslate/record/1","job":' + "[" * 300_000)
    assert "no whole" in phone.load_record(deep) or "deep.json" in phone.page.locator("[data-part=send-result]").inner_text()
    for place in (DRAW, OFF, ""):
        phone.open(place)
        unharmed(phone)
    phone.open(DRAW)
    expect(phone.step("drum-number").locator(".given")).to_contain_text("<script>")
    expect(phone.page.locator(".snag").first).to_contain_text("<script>")
    phone.do("on-rollers") if phone.step("on-rollers").is_visible() else None
    phone.step("drum-number").locator("summary").first.click()
    unharmed(phone)
    shutil.copy(phone.sent_record(tmp_path), tmp_path / "again.json")
    assert "already here" in phone.load_record(tmp_path / "again.json")


def test_key_of_a_phone_can_not_be_taken_out(phone: Phone):
    """The browser refuses to give the signing key to anybody, the app included."""
    told = phone.page.evaluate("""async () => {
      const open = indexedDB.open("pitslate-record-yard");
      const base = await new Promise((done) => { open.onsuccess = () => done(open.result); });
      const get = base.transaction("device").objectStore("device").get("this phone");
      const { privateKey } = await new Promise((done) => { get.onsuccess = () => done(get.result); });
      base.close();
      const taken = await Promise.all(["jwk", "pkcs8"].map((form) => crypto.subtle.exportKey(form, privateKey).then(() => "taken", (fault) => fault.name)));
      return [privateKey.type, privateKey.extractable, privateKey.usages, taken];
    }""")
    assert ["private", False, ["sign"], ["InvalidAccessError"] * 2] == told


def test_whole_sheet_asks_only_the_address_that_the_job_came_from(phone: Phone, tmp_path: Path):
    """Installing, working, sending and loading a record: every request goes to the one server."""
    phone.installed()
    phone.work_up_to_ready()
    phone.load_record(phone.sent_record(tmp_path))
    assert len(phone.asked) > 10
    assert {True} == {url.startswith((phone.address, f"blob:{phone.address}")) for url in phone.asked}


def test_page_refuses_script_from_words(phone: Phone):
    """Even code that forgot itself can't turn words into markup, a string into code, or load from elsewhere."""
    refused = phone.page.evaluate("""async (elsewhere) => {
      const tried = {
        markup: () => { document.body.innerHTML = "<b>x</b>"; },
        worker: () => navigator.serviceWorker.register("other.js"),
        elsewhere: () => fetch(elsewhere),
      };
      const names = [];
      for (const [name, attempt] of Object.entries(tried)) {
        try { await attempt(); } catch { names.push(name); }
      }
      return names;
    }""", "http://elsewhere.invalid/")
    assert ["markup", "worker", "elsewhere"] == refused


def unharmed(phone: Phone) -> None:
    """Nothing ran, and nothing is on the page that could."""
    assert phone.page.evaluate("window.hurt") is None
    assert [] == phone.page.evaluate("Object.keys(Object.prototype)")
    assert phone.page.evaluate("({}).polluted") is None
    assert 0 == phone.page.locator("img, iframe, body script, [onclick], [onfocus], [onerror], [onload]").count()
