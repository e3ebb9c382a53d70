"""What phone and desk take for a photo, and what they refuse."""

import base64
from collections.abc import Callable
from typing import Any

import pytest

from builder.record.photo import MOST_BYTES, NoPhoto, open_photo, photo_size
from tests.record.conftest import vectors

PHOTOS = vectors("photos.json")["photos"]


@pytest.mark.parametrize("vector", PHOTOS, ids=lambda vector: vector["title"])
def test_desk_looks_at_a_photo(vector: dict[str, Any]) -> None:
    """Its size, or why it is none, at the desk."""
    if vector["reason"] is None:
        assert tuple(vector["size"]) == photo_size(open_photo(vector["name"], vector["text"]))
        assert base64.b64decode(vector["text"]) == open_photo(vector["name"], vector["text"])
    else:
        with pytest.raises(NoPhoto) as fault:
            open_photo(vector["name"], vector["text"])
        assert vector["reason"] == str(fault.value)


def test_phone_looks_at_photos_alike(in_page: Callable) -> None:
    """Size or reason of every one, on the phone."""
    assert [{"size": vector["size"], "reason": vector["reason"]} for vector in PHOTOS] == in_page("photos", PHOTOS)


def test_a_photo_is_not_as_large_as_one_likes(in_page: Callable) -> None:
    """More than 2 MB is refused by its size alone, on both sides."""
    text = base64.b64encode(b"\xff\xd8" + bytes(MOST_BYTES - 1)).decode()
    with pytest.raises(NoPhoto, match="larger than 2 MB"):
        open_photo("0" * 64, text)
    assert [{"size": None, "reason": "It is larger than 2 MB."}] == in_page("photos", [{"name": "0" * 64, "text": text}])
