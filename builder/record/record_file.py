"""The record file: what is refused when one comes in, and what can still be read of a damaged one."""

import json
import re
from dataclasses import dataclass, field
from typing import Any

from builder.record.chain import Entry
from builder.record.payload import is_count
from builder.words import say

FORMAT = "pitslate/record/1"
MOST_BYTES = 128 * 1024 * 1024
MOST_CHARACTERS = 32 * 1024 * 1024
MOST_ENTRIES = 50000

_KEYS = ("format", "job", "exported_at", "by", "heads", "entries", "asked")
_PHOTO = re.compile(r'"([0-9a-f]{64})":"([A-Za-z0-9+/]+={0,2})"')
_ENTRY = re.compile(
    r'\{"payload":"[^"\\]*(?:\\.[^"\\]*)*","id":"[0-9a-f]{64}","sig":"[A-Za-z0-9_-]{86}"\}', re.DOTALL
)


class Refused(Exception):
    """A file that is no record of this job; the message says why."""


@dataclass(frozen=True)
class RecordFile:
    """
    A record file as read.

    by        device that wrote the file
    heads     device → newest number and its id, as the file says
    asked     build → the part of job.json that the sheets of that build rest on
    photos    SHA-256 → base64, as the file has it; nothing is believed of it yet
    whole     False: damaged; `entries` are those that could be read
    reason    a sentence when not whole
    """

    job: str = ""
    by: str = ""
    heads: dict[str, tuple[int, str]] = field(default_factory=dict)
    entries: list[Entry] = field(default_factory=list)
    asked: dict[str, Any] = field(default_factory=dict)
    photos: dict[str, Any] = field(default_factory=dict)
    whole: bool = False
    reason: str = ""


def parse_record(data: bytes, job: str) -> RecordFile:
    """Read the bytes of a record file of this job. Raises Refused."""
    try:
        text = data.decode("utf-8").removeprefix("\ufeff")
    except UnicodeDecodeError as fault:
        return _salvaged(
            data.decode("utf-8", "replace"),
            f"The file is damaged at byte {fault.start}: not a character there.",
        )
    if len(text) > MOST_CHARACTERS:
        raise Refused("The file is larger than 32 MB. No phone of this app writes one so large.")
    try:
        file = _READ(text)
    except _Doubled as fault:
        return _salvaged(text, f"{say('record_why.file_changed')} (`{fault}` stands in it twice.)")
    except RecursionError:
        raise Refused("The file is nested deeper than any record. It is not one.") from None
    except ValueError as fault:
        where = f" at character {fault.pos}" if isinstance(fault, json.JSONDecodeError) else ""
        return _salvaged(text, f"The file is cut or damaged{where}.")
    if not isinstance(file, dict) or file.get("format") != FORMAT:
        raise Refused("The file is not a record, or comes from a newer app.")
    if not _in_form(file):
        raise Refused("The file says it is a record, but is not in the form of one.")
    if file["job"] != job:
        raise Refused(say("record_why.file_job", theirs=file["job"], job=job))
    if len(file["entries"]) > MOST_ENTRIES:
        raise Refused(say("record_why.file_long", most=MOST_ENTRIES))
    heads = {dev: (seq, head) for dev, (seq, head) in file["heads"].items()}
    entries = list(map(_as_entry, file["entries"]))
    return RecordFile(job, file["by"], heads, entries, file["asked"], file.get("photos", {}), True)


class _Doubled(ValueError):
    """A key that stands twice in one JSON object."""


def _without_doubles(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    mapping = dict(pairs)
    if len(mapping) < len(pairs):
        keys = [key for key, _ in pairs]
        raise _Doubled(next(key for key in keys if keys.count(key) > 1))
    return mapping


def _no_number(text: str) -> None:
    raise ValueError(f"{text} is no number")


_READ = json.JSONDecoder(object_pairs_hook=_without_doubles, parse_constant=_no_number).decode


def _in_form(file: dict[str, Any]) -> bool:
    return (
        tuple(file) in (_KEYS, (*_KEYS, "photos"))
        and all(isinstance(file[key], str) for key in ("job", "exported_at", "by"))
        and isinstance(file["entries"], list)
        and all(isinstance(part, dict) for part in (file["heads"], file["asked"], file.get("photos", {})))
        and all(
            isinstance(head, list) and len(head) == 2 and is_count(head[0]) and isinstance(head[1], str)
            for head in file["heads"].values()
        )
    )


def _as_entry(item: Any) -> Entry:
    """Something else in an entry's place becomes an entry that can't be accepted, so that it is kept and named."""
    if isinstance(item, dict) and len(item) == 3:
        entry = Entry(item.get("payload"), item.get("id"), item.get("sig"))
        if all(isinstance(text, str) for text in entry):
            return entry
    return Entry(json.dumps(item), "", "")


def _salvaged(text: str, reason: str) -> RecordFile:
    if len(text) > MOST_CHARACTERS or not text.startswith(f'{{"format":"{FORMAT}"'):
        raise Refused("The file is not a record.")
    entries = []
    for found in _ENTRY.finditer(text):
        if len(entries) == MOST_ENTRIES:
            break
        try:
            entries.append(Entry(**json.loads(found.group())))
        except ValueError:
            continue
    # A photo is as good as its name: what was cut is found out when it is looked at.
    photos = dict(_PHOTO.findall(text))
    return RecordFile(entries=entries, photos=photos, reason=f"{reason} {len(entries)} whole entries could be read.")
