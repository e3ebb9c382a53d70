"""Many photos on one phone: files that a share sheet takes, and nothing dropped without a word."""

from collections.abc import Callable

from builder.record.collect import GOOD
from tests.record.test_collect import Desk
from tests.record.test_collected_photos import desk  # noqa: F401 - the same desk


def test_thirty_photos_leave_in_files_that_a_share_sheet_takes_and_all_arrive(new_store: Callable) -> None:
    """
    The entries and what fits in the first file, the rest in a second; either may come first, and twice adds nothing.

    With one of them left behind the others come in, and what is missing is counted. A file that was cut gives up
    what is whole.
    """
    given = new_store()("handedOn", "yard", 30, 600 * 1024, [[0, 1, 0], [1, 0]])
    first, second = given["files"]
    here, there = first["photos"], second["photos"]
    assert (31, 0, 30) == (first["entries"], second["entries"], here + there)
    assert second["file"] == first["file"].removesuffix(".json") + "-photos-2.json"
    assert all(file["characters"] < 13_000_000 for file in given["files"])
    assert {"came": [[here, 0, there], [there, 0, 0], [0, 0, 0]], "held": 30} == given["came"][0]
    assert {"came": [[there, 0, 0], [here, 0, 0]], "held": 30} == given["came"][1]
    assert {"came": [[here - 1, 0, there + 1]], "held": here - 1} == given["cut"]


def test_photos_of_a_phone_are_good_at_the_desk(desk: Desk, new_store: Callable) -> None:  # noqa: F811
    """What a real browser wrote is collected without a flag."""
    name = desk.job["job"]["name"]
    files = new_store()("photographed", name, 2, 1000)
    code = desk.collect(*(desk.put(file["name"], file["text"]) for file in files))
    assert "2 photos" in desk.said
    assert "missing" not in desk.said
    assert code == GOOD or "is not known here" in desk.said
