"""Photos and signatures as the board shows them."""

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from builder.record.in_words import sheet_words, step_words
from builder.record.payload import Fields
from builder.record.sheet_state import SheetState


def shown_photo(entry: Fields, missing: frozenset[str]) -> dict[str, Any]:
    """One photo: where it lies beside the board, None where it has not come."""
    sha256 = entry["photo"]["sha256"]
    return {"file": None if sha256 in missing else f"photos/{sha256}.jpg", "caption": entry["value"], "who": entry["who"], "at": entry["at"]}


def photo_words(job: dict, entry: Fields) -> str:
    """Which photo an entry means: where, by whom, when."""
    where = filter(None, (sheet_words(job, entry["sheet"]), step_words(job, entry["sheet"], entry["step"])))
    return f"{', '.join(where)}: {entry['who']}, {entry['at']}, photo {entry['photo']['sha256'][:12]}"


def photos_by_sheet(job: dict, states: Sequence[SheetState], show: Callable[[Fields], dict]) -> Iterator[dict[str, Any]]:
    """Sheets that have photos, with what each one shows; those of open snags stand with their snag."""
    for state in states:
        open_snags = {snag.entry["id"] for snag in state.snags if not snag.closed}
        photos = [show(entry) | {"step": step_words(job, state.sheet, entry["step"])}
                  for entry in state.photos if not open_snags.intersection(entry["about"])]
        if photos:
            yield {"sheet": state.sheet, "where": sheet_words(job, state.sheet), "photos": photos}


def photos_of(entry: Fields, state: SheetState, show: Callable[[Fields], dict]) -> list[dict[str, Any]]:
    """Photos of a snag."""
    return [show(photo) for photo in state.photos if photo["about"] == [entry["id"]]]


def signature_of(entry: Fields | None, state: SheetState) -> dict[str, str] | None:
    """The signature under a release: by whom, the licence number, and the strokes, which may be none."""
    for one in state.signatures:
        if entry and one["about"] == [entry["id"]]:
            return {"who": one["who"], "licence": one["value"], "drawn": one["drawn"]}
    return None
