"""The board: one static page that shows where the job stands, for an office wall and a supervisor's eye."""

import os
import shutil
from collections import Counter
from collections.abc import Callable, Sequence
from datetime import datetime
from functools import cache, partial
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from builder.places import ASSETS, TEMPLATES
from builder.record.answers import Answers
from builder.record.builds import Builds
from builder.record.chain import Entry
from builder.record.clocks import doubtful
from builder.record.evidence import photo_words, photos_by_sheet, photos_of, shown_photo, signature_of
from builder.record.heads import called, phone_names
from builder.record.in_words import item_words, sheet_of, sheet_words, step_words
from builder.record.lock_words import is_board, locks_shown
from builder.record.merge import Aside, Standing
from builder.record.payload import Fields
from builder.record.progress import Progress
from builder.record.recompute import Difference, environment_for
from builder.record.sheet_state import HoldState, SheetState
from builder.record.site_day import here, site_days
from builder.record.still_open import still_open
from builder.record.verify import NO_KEY

STATES = {
    "not-started": "Not started", "in-hand": "In hand", "held": "Held", "worked": "Worked, not closed", "closed": "Closed",
    "rests": "Over, until it is wanted again",
}
_MOST_KEPT = 200
_MOST_DAYS = 7


def write_board(
    out: Path, builds: Builds, told: Answers, stands: Standing, differences: Sequence[Difference],
    kept: Sequence[Aside | Entry], missing: Sequence[Fields], now: datetime,
) -> tuple[Path, list[str]]:
    """Write `board.html` and its stylesheet into `out`; gives the page's path, and what it says is still open."""
    job = told.job
    progress = Progress(told, environment_for(job))
    states = progress.sheets()
    said = list(told.by_id.values())
    names = phone_names(said)
    show = partial(shown_photo, missing=frozenset(entry["photo"]["sha256"] for entry in missing))
    look = {"conflicts": list(_conflicts(job, states, names)), "snags": list(_snags(job, states, show)), "missing": missing, "differences": differences}
    left = still_open(states, progress.boards(), look)
    page = _template().render(
        job=job["job"], build=builds.build, now=now.strftime("%Y-%m-%d %H:%M %Z").strip(),
        left=left, tallies=_tallies(states), stages=_stages(job, states), holds=_holds(job, states),
        conflicts=look["conflicts"], snags=look["snags"],
        photos=list(photos_by_sheet(job, states, show)), missing=[photo_words(job, entry) for entry in missing],
        locks=locks_shown(progress.boards(), names), here=here(progress.boards()), days=site_days(said, progress.boards())[:_MOST_DAYS],
        differences=[
            {"where": sheet_words(job, one.sheet), "step": step_words(job, one.sheet, one.step), "say": one.say} for one in differences
        ],
        uncounted=[*_uncounted(job, states, names), *_elsewhere(told)], kept=[_kept(one) for one in kept[:_MOST_KEPT]],
        kept_count=len(kept), phones=_phones(said, stands, doubtful(said, now)),
    )
    _write(out / "board.html", page)
    shutil.copyfile(ASSETS / "style" / "board.css", out / "board.css")
    return out / "board.html", left


@cache
def _template() -> Any:
    templates = Environment(
        loader=FileSystemLoader(TEMPLATES), autoescape=True, undefined=StrictUndefined,
        trim_blocks=True, lstrip_blocks=True,
    )
    return templates.get_template("board.html.j2")


def _write(path: Path, text: str) -> None:
    fresh = path.with_suffix(".new")
    fresh.write_text(text, encoding="utf-8")
    os.replace(fresh, path)


def _tallies(states: Sequence[SheetState]) -> list[dict[str, Any]]:
    counted = Counter(state.state for state in states)
    return [{"state": state, "words": words, "count": counted[state]} for state, words in STATES.items()]


def _stages(job: dict, states: Sequence[SheetState]) -> list[dict[str, Any]]:
    """Sheets by trade stage, in the order that the job is worked."""
    stages: dict[str, dict[str, Any]] = {}
    by_sheet = {state.sheet: state for state in states}
    tasks = sorted(job["sheets"], key=lambda sheet: job["tasks"][sheet["task"]]["order"])
    for sheet in tasks:
        task, state = job["tasks"][sheet["task"]], by_sheet[sheet["id"]]
        stage = stages.setdefault(task["library"], {"title": task["library_title"], "sheets": []})
        following = next((step["say"] for step in task["steps"] if step["name"] == state.next), "")
        stage["sheets"].append({
            "id": sheet["id"], "task": task["title"], "item": item_words(job, sheet), "state": state.state,
            "words": STATES[state.state], "round": state.round, "next": following,
            "marks": [_mark(step, state) for step in task["steps"]],
        })
    return list(stages.values())


def _mark(step: dict, state: SheetState) -> dict[str, str]:
    """One step on the conduit: laid, set aside, out ahead, shut off, or a gate."""
    now = state.steps[step["name"]]
    mark = {"answered": "laid", "aside": "aside", "not-applying": "none", "conflict": "odd"}.get(now.state, "ahead")
    if now.lacks_photo or (now.state == "answered" and now.verdict in ("outside", "cant-tell")):
        mark = "odd"
    if step["kind"] == "hold" and mark != "none":
        mark = "gate-open" if state.holds[step["name"]].in_force else "gate"
    return {"mark": mark, "say": step["say"]}


def _holds(job: dict, states: Sequence[SheetState]) -> list[dict[str, Any]]:
    holds = []
    for state in states:
        task = job["tasks"][sheet_of(job, state.sheet)["task"]]
        for step in task["steps"]:
            if step["kind"] == "hold" and state.steps[step["name"]].state != "not-applying":
                hold = state.holds[step["name"]]
                holds.append({
                    "where": sheet_words(job, state.sheet), "say": step["say"], **_gate(state, hold),
                    "by": step["released_by"], "who": _released_by(state, step["name"]),
                    "signature": signature_of(state.steps[step["name"]].answer, state),
                    "blocks": [{"where": sheet_words(job, block.sheet), "say": block.say, "sheet": block.sheet} for block in hold.blocks],
                })
    # First what was released and no longer holds, then what waits for nothing but its releaser.
    return sorted(holds, key=lambda hold: (hold["mark"] != "shut", not hold["who"], len(hold["blocks"])))


def _gate(state: SheetState, hold: HoldState) -> dict[str, str]:
    """How a hold stands, by its looks and in words. On a sheet that rests nobody waits for it."""
    if hold.in_force:
        return {"mark": "open", "words": "In force"}
    if state.state == "rests":
        return {"mark": "over", "words": STATES["rests"]}
    return {"mark": "shut", "words": "Released, but blocked" if hold.released else "Not released"}


def _released_by(state: SheetState, hold: str) -> str:
    answer = state.steps[hold].answer
    return f"{answer['who']}, {answer['value']}, {answer['at']}" if answer else ""


def _conflicts(job: dict, states: Sequence[SheetState], names: dict[str, str]) -> Any:
    for state in states:
        for name, step in state.steps.items():
            if len({(head["kind"], head["value"], head["unit"]) for head in step.heads}) > 1:
                yield {"where": sheet_words(job, state.sheet), "step": step_words(job, state.sheet, name), "answers": [_answer(head, names) for head in step.heads]}


def _answer(entry: Fields, names: dict[str, str]) -> str:
    value = " ".join(part for part in (entry["value"], entry["unit"]) if part)
    return f"{entry['kind']} {value}".strip() + f" ({entry['who']}, {called(entry['dev'], names)}, {entry['at']})"


def _snags(job: dict, states: Sequence[SheetState], show: Callable[[Fields], dict]) -> Any:
    for state in states:
        for snag in state.snags:
            if not snag.closed:
                entry = snag.entry
                yield {"where": sheet_words(job, state.sheet), "step": step_words(job, state.sheet, entry["step"]), "say": entry["value"],
                       "who": entry["who"], "at": entry["at"], "waits_for": entry["waits_for"], "photos": photos_of(entry, state, show)}


def _uncounted(job: dict, states: Sequence[SheetState], names: dict[str, str]) -> Any:
    for state in states:
        for entry in state.uncounted:
            yield {"where": sheet_words(job, state.sheet), "step": step_words(job, state.sheet, entry["step"]), "say": _answer(entry, names)}


def _elsewhere(told: Answers) -> Any:
    """Sheets that the job no longer has, with how much was said to each."""
    for sheet, said in told.by_sheet.items():
        if sheet is not None and sheet not in told.sheets and not is_board(sheet, told.job):
            yield {"where": sheet, "step": None, "say": f"{len(said)} entries, and this build has no such sheet"}


def _kept(one: Aside | Entry) -> dict[str, str]:
    entry, verdict, reason = one if isinstance(one, Aside) else (one, "early", NO_KEY)
    return {"id": entry.id[:12] or "no id", "verdict": verdict, "reason": reason, "text": entry.payload[:200]}


def _phones(said: Sequence[Fields], stands: Standing, doubts: dict[str, str]) -> list[dict[str, Any]]:
    """Each phone with its head in short form, which paper can witness."""
    names = phone_names(said)
    phones: dict[str, dict[str, Any]] = {}
    for entry in said:
        phone = phones.setdefault(entry["dev"], {"name": called(entry["dev"], names), "dev": entry["dev"][:8], "count": 0, "notes": []})
        phone["count"] += 1
        phone |= {"seq": entry["seq"], "head": entry["id"][:12], "at": entry["at"]}
        for note in (stands.early.get(entry["id"]), stands.forked.get(entry["id"]), doubts.get(entry["id"])):
            if note and note not in phone["notes"] and len(phone["notes"]) < 5:
                phone["notes"].append(note)
    return list(phones.values())
