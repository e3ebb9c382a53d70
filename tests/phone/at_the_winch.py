"""The demo job as far as the winch: a record in which everything before one pull is done and released."""

import json
from pathlib import Path

from builder.record.entry_kinds import SOME_CARRY
from tests.checklists import test_whole_job as whole
from tests.record.phone import Phone, photo_map, photo_of, picture, record_text

PULL = "cable-pulling/pull"


def record_before_the_pull(site: Path, run: str, folder: Path) -> Path:
    """Writes the record of a phone that has worked the demo in `site` up to the gate of one run's pull, gate open."""
    job, build = (json.loads((site / name).read_text(encoding="utf-8")) for name in ("job.json", "build.json"))
    crew = whole.Phone(job)
    for task in whole.BEFORE_GIVING_BACK[:whole.BEFORE_GIVING_BACK.index(PULL)]:
        crew.work(task)
    crew.work(PULL, run)
    gate = job["tasks"][PULL]["pull_day"]["after"]
    last = next(at for at, entry in enumerate(crew.entries) if entry["sheet"] == f"{PULL}/{run}" and entry["step"] == gate)
    phone = Phone("Office phone", "kiln-yard", build["build"])
    written: dict[str, str] = {}
    for entry in crew.entries[1:last + 1]:
        given = {key: entry[key] for key in ("who", "sheet", "step", "value", "unit", *SOME_CARRY) if key in entry}
        if entry["kind"] == "photo":
            given["photo"] = photo_of(picture(1))
        told = phone.tell(entry["kind"], **given, about=[written[one] for one in entry["about"]])
        written[entry["id"]] = told.id
    path = folder / f"office-{run}.json"
    path.write_text(record_text(phone.entries, phone, photos=photo_map(picture(1))), encoding="utf-8")
    return path
