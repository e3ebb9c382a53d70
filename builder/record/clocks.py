"""What a phone's clock claims: a label, never an order. A doubtful one is marked and changes nothing else."""

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

from builder.record.payload import Fields

# No phone can have written an entry before this form of entry was thought of.
_EARLIEST = datetime(2025, 1, 1, tzinfo=UTC)
# A phone may be in the wrong zone, and the desk's own clock may be off.
_AHEAD = timedelta(days=1)
_BACK = timedelta(hours=1)


def doubtful(said: Iterable[Fields], now: datetime) -> dict[str, str]:
    """Id → what is odd about its time, of entries in order."""
    doubts = {}
    device, before = None, None
    for entry in said:
        if entry["dev"] != device:
            device, before = entry["dev"], None
        at = _time(entry["at"])
        if at is None:
            doubts[entry["id"]] = f"`{entry['at']}` is no date."
            continue
        if at < _EARLIEST:
            doubts[entry["id"]] = f"{entry['at']} is too long ago."
        elif at > now + _AHEAD:
            doubts[entry["id"]] = f"{entry['at']} has not come yet."
        elif before and at < before - _BACK:
            doubts[entry["id"]] = f"{entry['at']} is before the entry that came before it."
        before = at
    return doubts


def _time(text: str) -> datetime | None:
    try:
        # The ends of the calendar can't be brought to UTC.
        return datetime.fromisoformat(text).astimezone(UTC)
    except (ValueError, OverflowError):
        return None
