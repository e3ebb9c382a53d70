"""The days on site: who came and left, what was briefed, and who signed on to it. assets/app/site-day.mjs says the same."""

from collections.abc import Sequence
from typing import Any

from builder.record.boards import SITE, Boards
from builder.record.payload import Fields
from builder.record.standing import same_person

_SAID = {"arrived": "arrived", "briefed": "signed on to the briefing", "left": "left"}


def site_days(said: Sequence[Fields], boards: Boards) -> list[dict[str, Any]]:
    """Each day, the last first: its briefings with those who signed on, and all that was said by time."""
    on_site = [entry for entry in said if entry["sheet"] == SITE]
    back = {entry["about"][0] for entry in on_site if entry["kind"] == "withdraw"}
    listed = sorted((entry for entry in on_site if entry["kind"] in _SAID and entry["id"] not in back), key=lambda entry: entry["at"])
    days: dict[str, list[Fields]] = {}
    for entry in listed:
        days.setdefault(entry["at"][:10], []).append(entry)
    return [
        {"day": day, "briefings": briefings(entries, boards), "list": [_line(entry) for entry in entries]}
        for day, entries in sorted(days.items(), reverse=True)
    ]


def briefings(entries: Sequence[Fields], boards: Boards) -> list[dict[str, Any]]:
    """What was briefed, in the order in which it was first given, and who signed on to it."""
    found: dict[str, list[str]] = {}
    for entry in entries:
        # Behind a gap somebody may have taken it back: that is no sign-on to rely on.
        if entry["kind"] != "briefed" or entry["id"] in boards.told.early:
            continue
        signed = found.setdefault(entry["value"].strip(), [])
        if not any(same_person(one, entry["who"]) for one in signed):
            signed.append(entry["who"])
    return [{"words": words, "signed": signed} for words, signed in found.items()]


def here(boards: Boards) -> list[str]:
    """Everybody who has arrived and not left, with licence number and time."""
    return [", ".join(filter(None, (entry["who"], entry["value"] and f"licence {entry['value']}", f"since {entry['at']}"))) for entry in boards.zone()]


def _line(entry: Fields) -> str:
    return f"{entry['at'][11:16]} {entry['who']} {_SAID[entry['kind']]}"
