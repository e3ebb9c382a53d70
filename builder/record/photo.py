"""
A photo: a JPEG picture, named by the SHA-256 of its bytes.

`assets/app/photo.mjs` says the same, word for word.
"""

import base64
import hashlib
import re
from typing import Any

MOST_BYTES = 2 * 1024 * 1024
_MOST_POINTS = 4096
_BASE64 = re.compile(r"[A-Za-z0-9+/]+={0,2}")
# Markers C0 to CF begin a frame, but for the tables C4 and CC and the reserved C8.
_FRAMES = set(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}


class NoPhoto(Exception):
    """Why something is no photo; the message is a sentence."""


def photo_size(data: bytes) -> tuple[int, int]:
    """Width and height of a JPEG, read from its first frame. Raises NoPhoto."""
    if len(data) > MOST_BYTES:
        raise NoPhoto("It is larger than 2 MB.")
    if data[:2] != b"\xff\xd8":
        raise NoPhoto("It is no JPEG picture.")
    if data[-2:] != b"\xff\xd9":
        raise NoPhoto("It is cut short.")
    at = 2
    while at + 9 <= len(data) and data[at] == 0xFF:
        if data[at + 1] in _FRAMES:
            height, width = (int.from_bytes(data[begin:begin + 2]) for begin in (at + 5, at + 7))
            if not width or not height:
                break
            if max(width, height) > _MOST_POINTS:
                raise NoPhoto("It is more than 4096 points wide or high.")
            return width, height
        at += 2 + int.from_bytes(data[at + 2:at + 4])
    raise NoPhoto("It is no JPEG picture.")


def open_photo(name: str, text: Any) -> bytes:
    """The bytes of a photo as it stands in a record file, looked at. Raises NoPhoto."""
    if not isinstance(text, str) or len(text) % 4 or not _BASE64.fullmatch(text):
        raise NoPhoto("It is not written the way photos are written.")
    data = base64.b64decode(text)
    photo_size(data)
    if hashlib.sha256(data).hexdigest() != name:
        raise NoPhoto("Its bytes are not those it is named after.")
    return data
