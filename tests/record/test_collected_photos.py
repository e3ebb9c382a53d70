"""Photos that come with records: kept by their hash, looked at, and missed by name."""

import base64
import hashlib
from pathlib import Path

import pytest

from builder.record.album import Album
from builder.record.collect import FLAGGED, GOOD
from tests.record.phone import Phone, photo_map, photo_of, picture, record_text
from tests.record.test_collect import SHEET, Desk

STEP = {"sheet": SHEET, "step": "length-in-hand"}


@pytest.fixture
def desk(demo_folder: Path, tmp_path: Path) -> Desk:
    """A desk with the demo job's site."""
    return Desk(demo_folder, tmp_path)


def with_photos(desk: Desk, *pictures: bytes) -> Phone:
    """A phone that took these pictures at one step."""
    phone = desk.phone("Ana's phone")
    for number, data in enumerate(pictures):
        phone.tell("photo", **STEP, value=f"Bend {number}", photo=photo_of(data))
    return phone


def kept(desk: Desk) -> set[str]:
    return {path.name for path in (desk.out / "photos").iterdir()}


def test_photos_are_kept_by_their_hash_and_shown_on_the_board(desk: Desk) -> None:
    """Each lies beside the board under its name, and collecting twice changes nothing."""
    pictures = [picture(1), picture(2)]
    phone = with_photos(desk, *pictures)
    path = desk.put("ana.json", record_text(phone.entries, phone, photos=photo_map(*pictures)))
    assert GOOD == desk.collect(path), desk.said
    assert "ana.json  3 new, 2 photos" in desk.said
    assert {f"{hashlib.sha256(data).hexdigest()}.jpg" for data in pictures} == kept(desk)
    assert pictures[0] == (desk.out / "photos" / f"{hashlib.sha256(pictures[0]).hexdigest()}.jpg").read_bytes()
    assert all(f'src="photos/{name}"' in desk.board() for name in kept(desk))
    path.write_text(record_text(phone.entries, phone, photos=photo_map(*pictures), exported_at="later"))
    assert GOOD == desk.collect(path), desk.said
    assert 2 == len(kept(desk))


@pytest.mark.parametrize("photos_first", [False, True])
def test_photos_may_follow_in_a_file_of_their_own(desk: Desk, photos_first: bool) -> None:
    """Before the record or after it: what is missing is named as long as it is, and then no more."""
    phone = with_photos(desk, picture(1))
    record = desk.put("ana.json", record_text(phone.entries, phone))
    photos = desk.put("ana-photos-2.json", record_text([], phone, photos=photo_map(picture(1))))
    first, then = (photos, record) if photos_first else (record, photos)
    code = desk.collect(first)
    assert (GOOD if photos_first else FLAGGED) == code
    assert ("1 photo is missing" in desk.said) is not photos_first
    assert ("Photo missing" in desk.board()) is not photos_first
    assert GOOD == desk.collect(then), desk.said
    assert "missing" not in desk.said
    assert "Photo missing" not in desk.board()


def test_a_missing_photo_is_named_with_place_person_and_time(desk: Desk) -> None:
    """Whoever has to ask for it knows whom and for what."""
    phone = with_photos(desk, picture(1))
    assert FLAGGED == desk.collect(desk.put("ana.json", record_text(phone.entries, phone)))
    short = photo_of(picture(1))["sha256"][:12]
    line = next(line for line in desk.said.splitlines() if short in line)
    assert all(words in line for words in ("R1", "Ana Lind", "2026-03-04T10:00:01"))
    assert short in desk.board()


@pytest.mark.parametrize(("spoil", "reason"), [
    (lambda data: data[:7] + bytes([data[7] ^ 1]) + data[8:], "Its bytes are not those it is named after."),
    (lambda data: data[:-1], "It is cut short."),
    (lambda data: b"<svg onload='hurt()'/>", "It is no JPEG picture."),
])
def test_a_spoiled_photo_is_refused_by_name_and_missed(desk: Desk, spoil, reason: str) -> None:
    """A picture whose bytes were changed is never kept; the entry stays, and its photo is missing."""
    phone = with_photos(desk, picture(1))
    name = photo_of(picture(1))["sha256"]
    photos = {name: base64.b64encode(spoil(picture(1))).decode()}
    assert FLAGGED == desk.collect(desk.put("ana.json", record_text(phone.entries, phone, photos=photos)))
    assert f"Photo {name[:12]} can't be kept: {reason}" in desk.said
    assert "1 photo is missing" in desk.said
    assert not (desk.out / "photos").exists()
    assert 2 == len(desk.held())


def test_a_photo_that_is_not_what_its_entry_says_is_missed(desk: Desk) -> None:
    """Size and shape are signed as well: a picture of another shape under the right name can't stand for it."""
    phone = desk.phone("Ana's phone")
    phone.tell("photo", **STEP, value="", photo=photo_of(picture(1)) | {"width": 1600})
    assert FLAGGED == desk.collect(desk.put("ana.json", record_text(phone.entries, phone, photos=photo_map(picture(1)))))
    assert "1 photo is missing" in desk.said


def test_photos_of_a_damaged_file_are_saved(desk: Desk) -> None:
    """A file that was cut in its last photo gives up what is whole."""
    pictures = [picture(1), picture(2)]
    phone = with_photos(desk, *pictures)
    text = record_text(phone.entries, phone, photos=photo_map(*pictures))
    assert FLAGGED == desk.collect(desk.put("ana.json", text[:-12]))
    assert {f"{hashlib.sha256(picture(1)).hexdigest()}.jpg"} == kept(desk)
    assert "1 photo is missing" in desk.said


def test_a_photo_on_the_shelf_that_was_changed_is_missed_and_mended(tmp_path: Path) -> None:
    """What lies in the folder is looked at each time, and written again when it comes again."""
    album = Album(tmp_path / "photos")
    entry = {"photo": photo_of(picture(1))}
    name = entry["photo"]["sha256"]
    assert 1 == album.keep({name: picture(1)})
    assert 0 == album.keep({name: picture(1)})
    assert [] == album.missing([entry])
    album.path(name).write_bytes(picture(2))
    assert [entry] == album.missing([entry])
    assert 1 == album.keep({name: picture(1)})
    assert [] == album.missing([entry])
    assert [f"{name}.jpg"] == [path.name for path in album.folder.iterdir()]


def test_snags_say_what_they_wait_for_and_show_their_photos(desk: Desk) -> None:
    """The board shows an open snag with whom it waits for and the pictures of it, and no picture twice."""
    phone = desk.phone("Ana's phone")
    snag = phone.tell("snag", sheet=SHEET, value="Edge at the pit", waits_for="Bo <b>Rand</b>")
    phone.tell("photo", sheet=SHEET, value="<i>edge</i>", about=[snag.id], photo=photo_of(picture(3)))
    assert GOOD == desk.collect(desk.put("ana.json", record_text(phone.entries, phone, photos=photo_map(picture(3))))), desk.said
    board = desk.board()
    assert "Waits for Bo &lt;b&gt;Rand&lt;/b&gt;" in board
    assert "&lt;i&gt;edge&lt;/i&gt;" in board
    assert 1 == board.count("<img")


def test_a_signature_is_drawn_under_its_release(desk: Desk) -> None:
    """Name, licence number and strokes stand with the hold."""
    phone = desk.phone("Ana's phone")
    release = phone.tell("release", sheet=SHEET, step="ready-to-pull", value="supervisor")
    phone.tell("signed", sheet=SHEET, step="ready-to-pull", value="EW 4711", drawn="M10 20L300 150", about=[release.id])
    desk.collect(desk.put("ana.json", record_text(phone.entries, phone)))
    assert '<path d="M10 20L300 150"/>' in desk.board()
    assert "Ana Lind, licence EW 4711" in desk.board()
