"""
Who may release what.

`assets/app/standing.mjs` says the same.
"""

from builder.record.payload import Fields

# From least to most standing. A switching operator releases what asks for one, and nothing else.
_STANDING = {"crew": 1, "leading-hand": 2, "licensed-worker": 3, "supervisor": 4}


def may_release(role: str, needed: str) -> bool:
    """Whether a role is enough for what a hold asks for."""
    if "operator" in (role, needed):
        return role == needed
    return _STANDING.get(role, 0) >= _STANDING[needed]


def counts_as_release(job: dict, entry: Fields, needed: str) -> bool:
    """Whether a release counts: its role is enough, and a person whom the job lists has that role there."""
    listed = [person["role"] for person in job.get("job", {}).get("people", []) if person["name"] == entry["who"]]
    return may_release(entry["value"], needed) and (not listed or any(may_release(role, needed) for role in listed))
