"""The kinds of entry, and what each one carries. `assets/app/entry-kinds.mjs` says the same."""

from math import inf
from typing import Literal, NamedTuple


class EntryKind(NamedTuple):
    """
    What an entry of one kind carries.

    step    whether it speaks of a step
    empty   its value may be empty
    about   how few and how many entries it speaks of
    keys    what it carries besides what every entry has
    """

    step: Literal["none", "named", "either"]
    empty: bool = False
    about: tuple[int, float] = (0, 0)
    keys: tuple[str, ...] = ()


KINDS = {
    "device": EntryKind("none", keys=("key", "continues")),
    # Answers to the steps of a sheet.
    "done": EntryKind("named", empty=True),
    "reading": EntryKind("named"),
    "aside": EntryKind("named"),
    "release": EntryKind("named"),
    "settle": EntryKind("named", about=(2, inf)),
    "close": EntryKind("none", empty=True),
    "withdraw": EntryKind("either", about=(1, 1)),
    # What stands beside the answers.
    "snag": EntryKind("either", keys=("waits_for",)),
    "snag-closed": EntryKind("either", about=(1, 1)),
    "note": EntryKind("either"),
    "photo": EntryKind("either", empty=True, about=(0, 1), keys=("photo",)),
    "signed": EntryKind("either", empty=True, about=(0, 1), keys=("drawn",)),
    # A pull while it runs.
    "measured": EntryKind("named"),
    "stop": EntryKind("none", empty=True),
    "go": EntryKind("none"),
    # The boards: locks on a point, and who is on site.
    "lock-on": EntryKind("none"),
    "absent": EntryKind("none", about=(1, 1)),
    "lock-off": EntryKind("none", empty=True, about=(1, 2)),
    "arrived": EntryKind("none", empty=True),
    "briefed": EntryKind("none"),
    "left": EntryKind("none", empty=True),
}
# Kinds that answer a step, settle between answers or take one back.
ANSWERING = ("done", "reading", "measured", "aside", "release", "withdraw", "settle")
# Kinds whose value is a number with a unit.
WITH_UNIT = ("reading", "measured")
# What only some kinds carry, entry 0 left out.
SOME_CARRY = ("waits_for", "photo", "drawn")
