"""
The https address under which each job was issued last.

A phone keeps its record under the address it first opened. Another address is another place to it,
with an empty record, so whoever issues a job must be told when its address has changed.
"""

import json
from pathlib import Path


def changed_from(folder: Path, job: str, address: str) -> str | None:
    """Note the job's address; gives the former one if it was another."""
    file = folder / "addresses.json"
    try:
        addresses = json.loads(file.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        addresses = {}
    former = addresses.get(job)
    if former == address:
        return None
    file.write_text(json.dumps(addresses | {job: address}, indent=1), encoding="utf-8")
    return former
