"""Many photos on one phone: files that a share sheet takes, and nothing dropped without a word."""

import json
from collections.abc import Callable

from builder.record.collect import GOOD
from builder.record.photo import open_photo
from builder.record.record_file import parse_record
from tests.record.test_collect import Desk
from tests.record.test_collected_photos import desk  # noqa: F401 - the same desk

JOB = "yard"
SIZE = 600 * 1024


def test_thirty_photos_leave_in_two_files_and_all_arrive(new_store: Callable) -> None:
    """Each file within its size, the entries in the first; the desk finds thirty good photos in them."""
    files = new_store()("photographed", JOB, 30, SIZE)
    assert 2 == len(files)
    assert all(len(file["text"]) < 13_000_000 for file in files)
    assert [31, 0] == [len(json.loads(file["text"])["entries"]) for file in files]
    assert [False, True] == [file["name"].endswith("-photos-2.json") for file in files]
    photos = {name: text for file in files for name, text in parse_record(file["text"].encode(), JOB).photos.items()}
    assert 30 == len([open_photo(name, text) for name, text in photos.items()])


def test_what_has_not_come_is_counted_and_either_file_may_come_first(new_store: Callable) -> None:
    """With the first file alone some photos are missing; with both none is, in either order, and twice adds nothing."""
    first, second = (file["text"] for file in new_store()("photographed", JOB, 30, SIZE))
    here = len(json.loads(first)["photos"])
    assert {"came": [[here, 0, 30 - here], [30 - here, 0, 0], [0, 0, 0]], "held": 30} == new_store()("broughtPhotos", JOB, [first, second, first])
    assert {"came": [[30 - here, 0, 0], [here, 0, 0]], "held": 30} == new_store()("broughtPhotos", JOB, [second, first])


def test_a_record_cut_in_its_photos_gives_up_the_whole_ones(new_store: Callable) -> None:
    """Entries and every photo before the cut come in; the rest is missing."""
    [file] = new_store()("photographed", JOB, 3, SIZE)
    assert {"came": [[2, 0, 1]], "held": 2} == new_store()("broughtPhotos", JOB, [file["text"][:-SIZE // 2]])


def test_photos_of_a_phone_are_good_at_the_desk(desk: Desk, new_store: Callable) -> None:  # noqa: F811
    """What a real browser wrote is collected without a flag."""
    name = desk.job["job"]["name"]
    files = new_store()("photographed", name, 2, 1000)
    code = desk.collect(*(desk.put(file["name"], file["text"]) for file in files))
    assert "2 photos" in desk.said
    assert "missing" not in desk.said
    assert code == GOOD or "is not known here" in desk.said
