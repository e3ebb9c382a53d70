"""Where a value comes from, and whether a person may decide by it."""

from collections.abc import Iterable, Mapping
from typing import Any

from builder.compile.showing import words
from builder.words import say

# The weakest first: a working is no firmer than the weakest value in it.
WEAKEST_FIRST = ("memory", "practice", "derived", "published", "agreed", "job", "reading", "library")
# A source of this grade is a forum, a mirror or an exam question.
WEAK_GRADE = 3


# What a working stands on, in one word, the weakest first: a guess, a table, the maker's data, or no more than what
# was drawn, measured and read for this job.
STANDS_WEAKEST_FIRST = ("estimate", "table", "maker", "job")
# A working ruled by one of these is the maker's number, whatever else went into it.
_MAKERS_RULE = ("maker", "label")


def from_job(where: str, kind: str, field: str) -> dict[str, Any]:
    """A value that the job file gives; what it tells of a cable, a label or in a maker's field is the maker's."""
    makers = kind == "cables" or field == "cables" or field.startswith(("maker_", "label_"))
    return {"from": "job", "where": where, "source": None, "basis": "job", "stands": "maker" if makers else "job", "unconfirmed": []}


def from_reading(where: str) -> dict[str, Any]:
    """A reading of this sheet."""
    return {"from": "reading", "where": where, "source": None, "basis": "reading", "stands": "job", "unconfirmed": []}


def from_library(text: str) -> dict[str, Any]:
    """A value written out in the library."""
    return {"from": "library", "where": text, "source": None, "basis": "library", "stands": "job", "unconfirmed": []}


def from_table(table: Mapping[str, Any], entry: Mapping[str, Any], column: str, called: str, sources: Mapping[str, Any]) -> dict[str, Any]:
    """A value of a table: what an overlay put there, or what its row rests on."""
    changed = entry.get("changed", {}).get(column)
    if changed:
        return {"from": "overlay", "where": f"{changed['agreed_by']}: {changed['because']}", "source": None, "basis": "agreed",
                "stands": "table", "unconfirmed": []}
    source, basis = entry.get("source"), entry["basis"]
    grade = entry.get("grade") or sources.get(source, {}).get("grade")
    figure = say("origin.figure", table=table["title"], figure=words(called).lower())
    unconfirmed = []
    if basis == "memory":
        unconfirmed = [say("origin.from_memory", figure=figure)]
    elif grade == WEAK_GRADE:
        unconfirmed = [say("origin.weak_source", figure=figure)]
    where = f"{table['title']}, {entry['where']}" if entry.get("where") else table["title"]
    return {"from": "table", "where": where, "source": source, "basis": basis,
            "stands": "estimate" if unconfirmed else "table", "unconfirmed": unconfirmed}


def together(origins: Iterable[Mapping[str, Any]]) -> dict[str, Any]:
    """One origin for a value that rests on several."""
    found = list(origins)
    if not found:
        return from_library("")
    return {
        "from": found[0]["from"],
        "where": "; ".join(dict.fromkeys(origin["where"] for origin in found)),
        "source": next((origin["source"] for origin in found if origin["source"]), None),
        "basis": weakest(origin["basis"] for origin in found),
        "stands": _weakest_stand(found),
        "unconfirmed": list(dict.fromkeys(sentence for origin in found for sentence in origin["unconfirmed"])),
    }


def of_working(
    asked: Mapping[str, Any], signature: Mapping[str, Any], inputs: list[dict[str, Any]], ruled_by: str | None, sources: Mapping[str, Any],
) -> dict[str, Any]:
    """The origin of a working's outputs: its formula and every input that decides, together."""
    title = asked["title"]
    doubts = [*formula_unconfirmed(title, signature, sources), *(sentence for found in inputs for sentence in found["unconfirmed"])]
    bases = [*(source["basis"] for source in signature["source"]), *(found["basis"] for found in inputs)]
    if ruled_by in _MAKERS_RULE:
        stands = "maker"
    elif doubts or asked["formula"].endswith("_estimate"):
        stands = "estimate"
    else:
        stands = _weakest_stand(inputs)
    return {"from": "working", "where": title, "source": None, "basis": weakest(bases), "stands": stands,
            "unconfirmed": list(dict.fromkeys(doubts))}


def _weakest_stand(found: Iterable[Mapping[str, Any]]) -> str:
    return min((origin["stands"] for origin in found), key=STANDS_WEAKEST_FIRST.index, default="job")


def weakest(bases: Iterable[str]) -> str:
    """The weakest of several bases."""
    return min(bases, key=WEAKEST_FIRST.index)


def formula_source(signature: Mapping[str, Any], sources: Mapping[str, Any]) -> str:
    """What a formula rests on, in one line."""
    parts = []
    for source in signature["source"]:
        if source["basis"] == "published":
            named = sources.get(source["key"], {}).get("title", source["key"])
        else:
            named = say(f"origin.{source['basis']}")
        parts.append(f"{named}: {source['where']}" if source["where"] else named)
    return "; ".join(parts)


def formula_unconfirmed(title: str, signature: Mapping[str, Any], sources: Mapping[str, Any]) -> list[str]:
    """A sentence where nothing that a formula rests on is firm."""
    for source in signature["source"]:
        weak = sources.get(source.get("key"), {}).get("grade") == WEAK_GRADE
        if source["basis"] != "memory" and not weak:
            return []
    return [say("origin.no_firm_source", working=title)]
