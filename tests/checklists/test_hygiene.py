"""Nothing is said so often that nobody hears it, and nothing is asked that nobody uses."""

import re
from collections import Counter
from typing import Any

import pytest

from builder.check.everything import checked_job
from builder.places import DEMO_JOB


@pytest.fixture(scope="module")
def tasks() -> dict[str, dict[str, Any]]:
    """Every task of the libraries that the demo job works, which is all of them."""
    return checked_job(DEMO_JOB)["tasks"]


def test_no_caution_repeats_on_every_step(tasks):
    """What stands on more than a third of a task's steps belongs at its top, once."""
    worn = []
    for name, task in tasks.items():
        said = Counter(caution["name"] for step in task["steps"] for caution in step["cautions"])
        worn += [f"{name}: {caution} {times} times in {len(task['steps'])} steps" for caution, times in said.items()
                 if times > max(1, len(task["steps"]) / 3)]
    assert [] == worn


def _words_of(task: dict[str, Any]) -> set[str]:
    """Every name in the task's conditions, acceptances and workings."""
    texts = [step.get(key) or "" for step in task["steps"] for key in ("when", "accept")]
    texts += [str(text) for working in task["workings"].values() for text in working["with"].values()]
    return {word for text in texts for word in re.findall(r"[a-z][a-z0-9_]*", text)}


def test_every_reading_is_used_or_is_evidence(tasks):
    """A number that judges nothing, feeds nothing, opens nothing and may be left out isn't asked for."""
    idle = []
    for name, task in tasks.items():
        words = _words_of(task)
        idle += [f"{name}/{step['name']}" for step in task["steps"] if step["kind"] == "read"
                 and not step["accept"] and not step["must"] and step["name"].replace("-", "_") not in words]
    assert [] == idle


def test_every_working_is_shown_at_a_step(tasks):
    """A sum stands where somebody reads it, or feeds one that does."""
    hidden = []
    for name, task in tasks.items():
        shown = {working for step in task["steps"] for working in step["workings"]} | _words_of(task)
        shown |= {working.replace("_", "-") for working in shown} | set((task.get("pull_day") or {}).get("shows", {}))
        hidden += [f"{name}: {working}" for working in task["workings"] if working not in shown]
    assert [] == hidden
