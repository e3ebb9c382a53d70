"""Read and judge record files, with every processor when there is much to read."""

import os
from collections import deque
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from pathlib import Path
from typing import Any, NamedTuple

from builder.record.payload import Fields
from builder.record.photo import NoPhoto, open_photo
from builder.record.record_file import MOST_BYTES, RecordFile, Refused, parse_record
from builder.record.verify import Examined, examine

# What merging looks at; the rest stays in the payload, and is not carried from process to process.
_LOOKED_AT = ("id", "dev", "seq", "prev", "sheet")
# Starting further processes takes about as long as judging this many bytes.
_MUCH = 1_000_000


class Incoming(NamedTuple):
    """
    A file that came in: what it is, its entries judged one by one, or why it is refused.

    photos   SHA-256 → bytes, of those that are what they are named after
    spoiled  a sentence for each of the others
    """

    path: Path
    file: RecordFile | None
    examined: list[Examined]
    refused: str
    photos: dict[str, bytes] = {}
    spoiled: list[str] = []


def incoming(paths: Sequence[Path], job: str) -> Iterator[Incoming]:
    """Every file in the order given; at most a few are in memory at a time."""
    workers = min(os.cpu_count() or 1, len(paths))
    if workers < 2 or sum(map(_size, paths)) < _MUCH:
        yield from (read(path, job) for path in paths)
        return
    with ProcessPoolExecutor(workers) as pool:
        ahead: deque = deque()
        for path in paths:
            ahead.append(pool.submit(read, path, job))
            if len(ahead) > 2 * workers:
                yield ahead.popleft().result()
        while ahead:
            yield ahead.popleft().result()


def read(path: Path, job: str) -> Incoming:
    """One file, judged."""
    try:
        if path.stat().st_size > MOST_BYTES:
            raise Refused("The file is far larger than any record.")
        file = parse_record(path.read_bytes(), job)
    except OSError as fault:
        return Incoming(path, None, [], f"The file can't be read: {fault.strerror or fault}.")
    except Refused as fault:
        return Incoming(path, None, [], str(fault))
    examined = [one._replace(fields=_looked_at(one.fields)) for one in examine(file.entries, job, {})]
    return Incoming(path, replace(file, entries=[], asked={}, photos={}), examined, "", *_photos(file.photos))


def _photos(given: dict[str, Any]) -> tuple[dict[str, bytes], list[str]]:
    photos, spoiled = {}, []
    for name, text in given.items():
        try:
            photos[name] = open_photo(name, text)
        except NoPhoto as fault:
            spoiled.append(f"Photo {name[:12]} can't be kept: {fault}")
    return photos, spoiled


def _looked_at(fields: Fields | None) -> Fields | None:
    if not fields or fields["seq"] == 0:
        return fields
    return {key: fields[key] for key in _LOOKED_AT}


def _size(path: Path) -> int:
    try:
        return path.stat().st_size
    except OSError:
        return 0
