"""
Who is who, and who may release what.

`assets/app/standing.mjs` says the same.
"""

import re

from builder.record.payload import Fields

# Blanks as both languages see them, among them those that no eye sees.
_BLANKS = re.compile(r"[\t-\r\x1c-\x20\x85\xa0\u1680\u2000-\u200d\u2028\u2029\u202f\u205f\u3000\ufeff]+")

# From least to most standing.
_STANDING = {"crew": 1, "leading-hand": 2, "licensed-worker": 3, "supervisor": 4}
# What takes a licence or a switching order takes one: no standing stands in for it.
_BY_THEMSELVES = ("licensed-worker", "operator")


def name_key(name: str) -> str:
    """A name as it is compared: case, blanks around it and the number of blanks within make no other person."""
    return _BLANKS.sub(" ", name).strip(" ").upper().lower()


def same_person(one: str, other: str) -> bool:
    """Whether two names are one person's."""
    return name_key(one) == name_key(other)


def listed_roles(job: dict, name: str) -> list[str]:
    """What the job lists a person as; nothing where it doesn't."""
    return [person["role"] for person in job.get("job", {}).get("people", []) if same_person(person["name"], name)]


def is_supervisor(job: dict, name: str) -> bool:
    """Whether the job lists a person as supervisor."""
    return "supervisor" in listed_roles(job, name)


def may_release(role: str, needed: str) -> bool:
    """Whether a role is enough for what a hold asks for."""
    if needed in _BY_THEMSELVES or role == "operator":
        return role == needed
    return _STANDING.get(role, 0) >= _STANDING[needed]


def counts_as_release(job: dict, entry: Fields, needed: str) -> bool:
    """Whether a release counts: its role is enough, and a person whom the job lists has that role there."""
    listed = listed_roles(job, entry["who"])
    return may_release(entry["value"], needed) and (not listed or any(may_release(role, needed) for role in listed))
