"""Photos from the camera: made small, kept under their hash, shown, handed on, and missed by name."""

import base64
import hashlib
import json
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import expect

from builder.build import build
from builder.record.photo import MOST_BYTES, photo_size
from tests.folder_server import FolderServer
from tests.phone.hands import Phone

JOB = Path(__file__).parent / "evidence_job.yaml"
DIG = "tasks/evidence/dig.html#T1"
WHERE = b"Exif\0\0 48.137 N 11.575 E"
# Noise in every point, as gravel and leaves make it: the hardest picture to write small.
PICTURE = """([width, height, seed, busy]) => {
  const canvas = Object.assign(document.createElement("canvas"), { width, height });
  const field = canvas.getContext("2d");
  field.fillStyle = `hsl(${seed * 67} 60% 50%)`;
  field.fillRect(0, 0, width, height);
  if (busy) {
    const points = field.createImageData(width, height);
    for (let at = 0, state = seed + 1; at < points.data.length; at += 1) {
      state = (state * 1103515245 + 12345) % 2147483648;
      points.data[at] = at % 4 === 3 ? 255 : state >> 16;
    }
    field.putImageData(points, 0, 0);
  }
  return canvas.toDataURL("image/jpeg", 0.9).split(",")[1];
}"""

# The phone is full when the photo is written, when its entry is, or only when both should be on disk.
FULL = """(at) => {
  const [put, add] = [IDBObjectStore.prototype.put, IDBObjectStore.prototype.add];
  const full = () => new DOMException("made to fail", "QuotaExceededError");
  IDBObjectStore.prototype.put = function (value, ...rest) {
    if (this.name === "photos" && at === "the photo") throw full();
    if (this.name === "photos" && at === "the end") {
      Object.defineProperty(this.transaction, "error", { value: full() });
      setTimeout(() => this.transaction.abort());
    }
    return put.call(this, value, ...rest);
  };
  IDBObjectStore.prototype.add = function (value, ...rest) {
    if (at === "the entry") throw full();
    return add.call(this, value, ...rest);
  };
  window.room = () => { [IDBObjectStore.prototype.put, IDBObjectStore.prototype.add] = [put, add]; };
}"""

# Photos of another phone, each as large as a busy one.
MANY = """async (count) => {
  const open = indexedDB.open("pitslate-record-weir");
  const base = await new Promise((done) => { open.onsuccess = () => done(open.result); });
  for (let number = 0; number < count; number += 1) {
    const bytes = new Uint8Array(600 * 1024).fill(number);
    bytes.set([0xFF, 0xD8, 0xFF, 0xC0, 0, 11, 8, 0, 48, 0, 64, 1, 1, 0x11, 0]);
    bytes.set([0xFF, 0xD9], bytes.length - 2);
    const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
    const sha256 = Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("");
    const writing = base.transaction("photos", "readwrite");
    writing.objectStore("photos").put({ sha256, size: bytes.length, bytes });
    await new Promise((done) => { writing.oncomplete = done; });
  }
  base.close();
}"""


@pytest.fixture(scope="session")
def weir(tmp_path_factory: pytest.TempPathFactory, serve_folder: Callable[[Path], FolderServer]) -> str:
    """The address of a job that asks for photos and a signature."""
    folder = tmp_path_factory.mktemp("weir") / "site"
    build(JOB, folder)
    return serve_folder(folder).url


@pytest.fixture
def phone(new_phone: Callable[..., Phone], weir: str) -> Phone:
    """A phone with that job's sheet open and Ada Quill holding it."""
    phone = new_phone(weir)
    phone.open()
    phone.introduce("Ada Quill", "Pit one")
    phone.open(DIG)
    return phone


def jpeg(phone: Phone, seed: int = 1, width: int = 2000, height: int = 1500, busy: bool = False) -> dict:
    """A camera's file: a picture, and where it was taken written beside it."""
    data = base64.b64decode(phone.page.evaluate(PICTURE, [width, height, seed, busy]))
    beside = b"\xff\xe1" + (len(WHERE) + 2).to_bytes(2) + WHERE
    return {"name": f"{seed}.jpg", "mimeType": "image/jpeg", "buffer": data[:2] + beside + data[2:]}


def take(phone: Phone, step: str, picture: dict, caption: str = "") -> None:
    """Takes a photo at a step and keeps it."""
    phone.step(step).locator("input[type=file]").first.set_input_files(picture)
    phone.dialog.get_by_role("textbox").fill(caption)
    phone.agree()


def stored(phone: Phone) -> dict[str, bytes]:
    """The photos in this phone's store, by name."""
    rows = phone.page.evaluate("""async () => {
      const open = indexedDB.open("pitslate-record-weir");
      const base = await new Promise((done) => { open.onsuccess = () => done(open.result); });
      const all = base.transaction("photos").objectStore("photos").getAll();
      const rows = await new Promise((done) => { all.onsuccess = () => done(all.result); });
      base.close();
      return rows.map(({ sha256, bytes }) => {
        let text = "";
        for (let at = 0; at < bytes.length; at += 8192) text += String.fromCharCode(...bytes.subarray(at, at + 8192));
        return [sha256, btoa(text)];
      });
    }""")
    return {name: base64.b64decode(text) for name, text in rows}


def test_a_photo_is_made_small_kept_by_its_hash_and_shown(phone: Phone) -> None:
    """Longest side 1600, nothing of what the camera wrote beside it, under the SHA-256 of its bytes; and the step is finished."""
    phone.do("service")
    expect(phone.step("service")).to_have_attribute("data-shown", "photo")
    expect(phone.step("may-dig").locator(".blocks")).to_contain_text("No photo yet: See the gas pipe laid bare.")
    picture = jpeg(phone)
    assert WHERE in picture["buffer"]
    take(phone, "service", picture, "Pipe <b>bare</b>")
    expect(phone.step("service")).to_have_attribute("data-shown", "done")
    expect(phone.step("may-dig").locator(".blocks")).not_to_contain_text("No photo yet")
    entry = phone.entries("weir")[-1]
    assert ("photo", "service", "Pipe <b>bare</b>") == (entry["kind"], entry["step"], entry["value"])
    [(name, data)] = stored(phone).items()
    assert {"sha256": name, "bytes": len(data), "width": 1600, "height": 1200} == entry["photo"]
    assert name == hashlib.sha256(data).hexdigest()
    assert (1600, 1200) == photo_size(data)
    assert WHERE not in data
    phone.open(DIG)
    image = phone.step("service").locator(".thumb img")
    expect(image).to_have_js_property("naturalWidth", 1600)
    image.click()
    expect(phone.dialog).to_contain_text("Pipe <b>bare</b>")
    expect(phone.dialog.locator("img.large")).to_have_js_property("naturalWidth", 1600)


def test_a_busy_picture_is_made_plainer_until_it_travels(phone: Phone) -> None:
    """Even noise in every point ends well under what a record takes."""
    take(phone, "fence", jpeg(phone, busy=True))
    expect(phone.step("fence").locator(".thumb")).to_have_count(1)
    [data] = stored(phone).values()
    assert len(data) < MOST_BYTES / 2


def test_a_photo_taken_back_counts_no_more_and_stays_in_the_record(phone: Phone) -> None:
    """The step asks for one again; the entry is there, and the bytes too."""
    phone.do("service")
    take(phone, "service", jpeg(phone))
    phone.step("service").locator(".thumb").click()
    phone.dialog.get_by_role("button", name="Take back").click()
    phone.dialog.get_by_label("Why").fill("wrong pipe")
    phone.agree()
    expect(phone.step("service")).to_have_attribute("data-shown", "photo")
    assert ["photo", "withdraw"] == [entry["kind"] for entry in phone.entries("weir")[-2:]]
    assert 1 == len(stored(phone))


def test_what_is_no_picture_is_said_and_not_kept(phone: Phone) -> None:
    """A file that this phone can't read as a picture is refused in words."""
    phone.step("fence").locator("[data-part=photos] input[type=file]").set_input_files(
        {"name": "x.jpg", "mimeType": "image/jpeg", "buffer": b"<svg onload=alert(1)>"})
    expect(phone.page.locator("[data-part=notices]")).to_contain_text("can't read it as a picture")
    assert {} == stored(phone)


@pytest.mark.parametrize("at", ["the photo", "the entry", "the end"])
def test_a_full_phone_keeps_the_photo_on_the_screen_until_there_is_room(phone: Phone, at: str) -> None:
    """Neither photo nor entry is there, the screen says so and keeps both; with room again the same tap saves them."""
    picture = jpeg(phone)
    before = phone.entries("weir")
    phone.page.evaluate(FULL, at)
    phone.step("fence").locator("[data-part=photos] input[type=file]").set_input_files(picture)
    phone.dialog.get_by_role("textbox").fill("North side")
    phone.dialog.locator("[data-part=ask-yes]").click()
    expect(phone.dialog.locator("[data-part=ask-refused]")).to_contain_text("the phone is full")
    expect(phone.dialog.locator("img.large")).to_be_visible()
    expect(phone.dialog.get_by_role("textbox")).to_have_value("North side")
    assert (before, {}) == (phone.entries("weir"), stored(phone))
    phone.page.evaluate("window.room()")
    phone.agree()
    expect(phone.step("fence").locator(".thumb")).to_have_count(1)
    assert 1 == len(stored(phone))


def test_photos_travel_with_the_record_and_a_spoiled_one_is_named(phone: Phone, new_phone, weir: str, tmp_path: Path) -> None:
    """What was changed on the way is refused and missed by place, name and time; the honest file then brings it."""
    take(phone, "fence", jpeg(phone), "North side")
    path = phone.sent_record(tmp_path)
    record = json.loads(path.read_text())
    [name] = record["photos"]
    data = base64.b64decode(record["photos"][name])
    middle = len(data) // 2
    record["photos"][name] = base64.b64encode(data[:middle] + bytes([data[middle] ^ 1]) + data[middle + 1:]).decode()
    spoiled = tmp_path / "spoiled.json"
    spoiled.write_text(json.dumps(record, ensure_ascii=False, separators=(",", ":")))
    other = new_phone(weir)
    other.open()
    other.introduce("Ben Tarn", "Pit two")
    said = other.load_record(spoiled)
    assert "A photo was not kept. Its bytes are not those it is named after." in said
    assert "One photo is missing." in said
    expect(other.page.locator("[data-part=send-result] a")).to_contain_text("T1 Dig and show Ada Quill")
    other.open(DIG)
    expect(other.step("fence").locator(".thumb")).to_have_text("Photo missing")
    said = other.load_record(path)
    assert "one new photo" in said
    assert "missing" not in said
    other.open(DIG)
    expect(other.step("fence").locator(".thumb img")).to_have_js_property("naturalWidth", 1600)
    assert stored(phone) == stored(other)


def test_photos_that_do_not_fit_leave_in_a_second_file(phone: Phone, new_phone, weir: str, tmp_path: Path) -> None:
    """It has a button of its own, and both files together bring every photo, whichever is loaded first."""
    take(phone, "fence", jpeg(phone))
    phone.page.evaluate(MANY, 24)
    phone.open()
    paths: list[Path] = []
    for button in ("Send the record", "Save pitslate-weir"):
        with phone.page.expect_download() as download:
            phone.page.get_by_role("button", name=button).click()
        paths.append(tmp_path / download.value.suggested_filename)
        download.value.save_as(paths[-1])
    other = new_phone(weir)
    other.open()
    other.introduce("Ben Tarn", "Pit two")
    other.page.locator("[data-part=load]").set_input_files(paths[::-1])
    expect(other.page.locator("[data-part=send-result]")).to_contain_text(f"From {paths[0].name}")
    expect(other.page.locator("[data-part=send-result]")).not_to_contain_text("missing")
    assert 25 == len(stored(phone))
    assert stored(phone) == stored(other)
