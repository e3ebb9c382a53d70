"""Heads: the newest entry of each phone, and what they tell about a record that came in."""

from collections.abc import Iterable, Mapping, Sequence

from builder.record.payload import Fields
from builder.record.record_file import RecordFile


def phone_names(said: Iterable[Fields]) -> dict[str, str]:
    """Device → the name its phone was given."""
    return {entry["dev"]: entry["value"] for entry in said if entry["seq"] == 0}


def called(dev: str, names: Mapping[str, str]) -> str:
    """A phone's name, or the short form of its device."""
    return names.get(dev, dev[:8])


def older(file: RecordFile, said: Sequence[Fields], heads: Mapping[str, tuple[int, str]]) -> list[str]:
    """A sentence when the phone's own record is shorter than it was before."""
    claimed = file.heads.get(file.by, (-1, ""))[0]
    if not file.whole or file.by not in heads or claimed >= heads[file.by][0]:
        return []
    return [f"{called(file.by, phone_names(said))}: this file is older than what came before. "
            f"It ends at entry {claimed}, and entry {heads[file.by][0]} had come."]


def not_in_file(file: RecordFile, said: Sequence[Fields]) -> list[str]:
    """A sentence for each phone whose newest entry the file names but does not hold."""
    names = phone_names(said)
    newest = {entry["dev"]: entry["seq"] for entry in said}
    return [
        f"{called(dev, names)}: the file says it goes up to entry {seq}, but that entry is not in it."
        for dev, (seq, _) in sorted(file.heads.items()) if seq > newest.get(dev, -1)
    ]
