"""The same job under each practice: what its own figures say, and what it asks the crew for instead of borrowing."""

from pathlib import Path
from typing import Any

import pytest
import yaml

from builder.check.everything import checked_job
from builder.compile.evaluate import Environment
from builder.places import CHECKLISTS, DEMO_JOB
from tests.checklists.worked_sheets import worked

PRACTICES = ("au-nz", "iec", "us")
KEYED = [path for path in sorted((CHECKLISTS / "tables").glob("*.yaml")) if "\n  practice: {one_of" in path.read_text(encoding="utf-8")]


@pytest.fixture(scope="module", params=PRACTICES)
def job(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """The demo as it would be in that part of the world, its firm's own changes left out."""
    text = DEMO_JOB.read_text(encoding="utf-8")
    assert "practice: iec\n" in text and "overlays: [firm.yaml]\n" in text
    here = tmp_path_factory.mktemp("job") / "job.yaml"
    text = text.replace("practice: iec\n", f"practice: {request.param}\n").replace("overlays: [firm.yaml]\n", "")
    here.write_text(text, encoding="utf-8")
    return checked_job(here)


def test_the_demo_is_bound_under_each_practice(job: dict[str, Any]) -> None:
    """Every library speaks every practice: nothing is left to ask of the files."""
    assert 100 < len(job["sheets"])


def test_what_a_practice_does_not_have_is_asked_for(job: dict[str, Any]) -> None:
    """Under any practice a good crew is within, or is told that nobody here has the figure; never outside by a borrowed one."""
    strange = []
    for sheet in job["sheets"]:
        environment = Environment(job, sheet, worked(job, sheet))
        for step in job["tasks"][sheet["task"]]["steps"]:
            state = environment.step(step["name"])
            asked = state["verdict"] == "cant-tell" and "local figure" in state["reason"]
            if state["verdict"] not in (None, "within") and not asked:
                strange.append(f"{sheet['id']} {step['name']}: {state['reason']}")
    assert [] == strange


@pytest.mark.parametrize("path", KEYED, ids=lambda path: path.stem)
def test_a_table_by_practice_has_rows_for_each(path: Path) -> None:
    """A practice without a figure says so in a row of its own: nobody forgot it."""
    table = yaml.safe_load(path.read_text(encoding="utf-8"))
    assert set(PRACTICES) == {row["practice"] for row in table["rows"]}


@pytest.mark.parametrize("path", KEYED, ids=lambda path: path.stem)
def test_no_row_of_one_practice_rests_on_another(path: Path) -> None:
    """A figure of one set never stands in a second under the same words of the same print."""
    rows = yaml.safe_load(path.read_text(encoding="utf-8"))["rows"]
    prints = {}
    for row in rows:
        if row.get("source"):
            prints.setdefault((row["source"], row["where"]), set()).add(row["practice"])
    assert [] == [where for where, practices in prints.items() if len(practices) > 1]
