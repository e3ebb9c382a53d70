"""A job as a whole: what fits is bound, and every fault across its files is named in one go."""

import re
import shutil
from pathlib import Path

import pytest

from builder.check.everything import checked_job
from builder.load.problems import BadInput

HERE = Path(__file__).parent
FILES = ("small_job.yaml", "locking.yaml", "joining.yaml", "firm.yaml")
BOOK = (HERE / "wrong_edits.txt").read_text(encoding="utf-8")
CASES = [
    pytest.param(edit, [line[3:].rstrip(" |") for line in said.splitlines()], id=title)
    for title, edit, said in re.findall(r"^== (.*)\n(.*)\n((?:-- .*\n)+)", BOOK, re.M)
]


@pytest.fixture
def small_job(tmp_path: Path) -> Path:
    """The small job with its own libraries, in a folder of its own."""
    for name in FILES:
        shutil.copy(HERE / name, tmp_path / name)
    return tmp_path / "small_job.yaml"


def _edited(job: Path, edit: str) -> Path:
    name, _, change = edit.partition(": ")
    old, new = (part.replace("\\n", "\n") for part in change.split(" => "))
    path = job.parent / name
    text = path.read_text(encoding="utf-8")
    assert 1 == text.count(old), f"`{old}` must stand once in {name}"
    path.write_text(text.replace(old, new), encoding="utf-8")
    return job


@pytest.mark.parametrize(("edit", "said"), CASES)
def test_each_wrong_edit_is_named_where_it_stands(edit: str, said: list[str], small_job: Path) -> None:
    """One slip in one file gives exactly its own problems, with place and advice."""
    with pytest.raises(BadInput) as bad:
        checked_job(_edited(small_job, edit))
    found = [
        f"{Path(one.file).name}:{one.line}:{one.column}: error {one.code}: {one.text}"
        + (f" | {one.advice}" if " | " in wanted else "")
        for one, wanted in zip(bad.value.problems, [*said, *[""] * len(bad.value.problems)], strict=False)
    ]
    assert said == found


def test_faults_of_several_files_are_told_in_one_go(small_job: Path) -> None:
    """A fault in the job, one in a library and one in an overlay all appear in the same report."""
    _edited(small_job, "small_job.yaml: run: R1\\n    end: start => run: R9\\n    end: start")
    _edited(small_job, "locking.yaml: cautions: [stored] => cautions: [storred]")
    _edited(small_job, "firm.yaml: after: clean => after: cleen")
    with pytest.raises(BadInput) as bad:
        checked_job(small_job)
    assert {"small_job.yaml", "locking.yaml", "firm.yaml"} == {Path(one.file).name for one in bad.value.problems}


def test_a_task_becomes_a_sheet_for_each_item_with_its_interlocks(small_job: Path) -> None:
    """Joining waits for the isolation that its joint names; giving back waits for the joints that name the isolation."""
    sheets = {sheet["id"]: sheet for sheet in checked_job(small_job)["sheets"]}
    assert {"locking/lock/L1", "locking/give-back/L1", "joining/join/J1"} == set(sheets)
    assert {"may-start": [{"sheet": "locking/lock/L1", "hold": "proved-dead"}]} == sheets["joining/join/J1"]["needs"]
    assert {"locks-off": [{"sheet": "joining/join/J1", "hold": None}]} == sheets["locking/give-back/L1"]["needs"]
    assert {"proved-dead": [{"sheet": "locking/give-back/L1", "hold": "locks-off"}]} == sheets["locking/lock/L1"]["ends"]


def test_an_overlay_adds_and_rewords_and_says_so(small_job: Path) -> None:
    """The added step stands after its neighbour and names its overlay; the base file is untouched."""
    before = (small_job.parent / "joining.yaml").read_bytes()
    data = checked_job(small_job)
    steps = data["tasks"]["joining/join"]["steps"]
    assert ["may-start", "clean", "flat", "wrench-set", "marked"] == [step["name"] for step in steps]
    assert "firm" == steps[2]["added_by"]
    reworded = data["tasks"]["locking/lock"]["steps"][0]
    assert ("Open it and look at the blades.", "firm") == (reworded["say"], reworded["reworded_by"])
    assert before == (small_job.parent / "joining.yaml").read_bytes()


def test_values_are_bound_in_si_and_references_stay_names(small_job: Path) -> None:
    """35 N·m, 46 mm and 5.2 kg/m arrive as SI numbers; the run and cable as references."""
    data = checked_job(small_job)
    assert 35.0 == data["items"]["joint"]["J1"]["values"]["maker_torque"]
    assert {"ref": ["run", "R1"]} == data["items"]["joint"]["J1"]["values"]["run"]
    run = data["items"]["run"]["R1"]["values"]
    assert {"ref": ["cables", "cu-95"]} == run["cable"]
    assert [{"mass": 5.2, "diameter": pytest.approx(0.046), "area": pytest.approx(95e-6), "number": 1, "cores": 4}] == run["cables"]


def test_a_task_is_made_only_for_items_that_it_is_for(small_job: Path) -> None:
    """A `when` over the job's own data decides whether an item gets the sheet at all."""
    _edited(small_job, "joining.yaml: - task: join => - task: join\\n    when: joint.bolts > 8")
    _edited(small_job, "locking.yaml: needs: [joining.join] => needs: [joining.join if any]")
    assert {"locking/lock/L1", "locking/give-back/L1"} == {sheet["id"] for sheet in checked_job(small_job)["sheets"]}


def test_a_library_of_ours_that_the_job_leaves_out_asks_nothing_if_any(small_job: Path) -> None:
    """What has not been set up as a stage of its own can't be waited for; a library that nobody has is still a slip."""
    _edited(small_job, "joining.yaml: needs: [locking.proved-dead] => needs: [locking.proved-dead, setting-up.site-safe if any]")
    assert {"may-start": [{"sheet": "locking/lock/L1", "hold": "proved-dead"}]} == next(
        sheet["needs"] for sheet in checked_job(small_job)["sheets"] if sheet["id"] == "joining/join/J1")
    _edited(small_job, "joining.yaml: setting-up.site-safe if any => seting-up.site-safe if any")
    with pytest.raises(BadInput) as bad:
        checked_job(small_job)
    assert ["no library of this job is called `seting-up`"] == [one.text for one in bad.value.problems]


@pytest.mark.parametrize(("practice", "said"), [("iec", "Earth the palm."), ("us", "Ground the palm.")])
def test_a_term_is_said_as_the_crew_of_the_practice_says_it(practice: str, said: str, small_job: Path) -> None:
    """One library, read by crews who call the same thing by other names."""
    _edited(small_job, f"small_job.yaml: practice: iec => practice: {practice}")
    _edited(small_job, "joining.yaml: say: Set the wrench. => say: \"{Earth} the palm.\"")
    steps = checked_job(small_job)["tasks"]["joining/join"]["steps"]
    assert said == next(step["say"] for step in steps if step["name"] == "wrench-set")


def test_a_hold_that_asks_for_locks_knows_the_points_of_its_item(small_job: Path) -> None:
    """The joint's isolation is looked at, with its box known to the boards; a joint that names none is refused."""
    _edited(small_job, "joining.yaml: needs: [locking.proved-dead] => locks: on")
    _edited(small_job, "small_job.yaml: isolations:\\n  - isolation: L1 => lock_boxes:\\n  - {lock_box: B1, title: Box, where: Door}\\nisolations:\\n  - isolation: L1")
    _edited(small_job, "small_job.yaml: lock_points: 1 => lock_points: 1\\n    lock_box: B1")
    data = checked_job(small_job)
    assert {"B1": {"kind": "lock_box", "box": None}, "L1": {"kind": "isolation", "box": "B1"}} == data["points"]
    assert {"may-start": {"want": "on", "points": ["L1"]}} == next(sheet["locks"] for sheet in data["sheets"] if sheet["item"] == "J1")
    _edited(small_job, "small_job.yaml: metal: copper-copper\\n    isolations: [L1] => metal: copper-copper")
    with pytest.raises(BadInput) as bad:
        checked_job(small_job)
    assert ["`J1` names no isolation whose locks this hold could look at"] == [one.text for one in bad.value.problems]
