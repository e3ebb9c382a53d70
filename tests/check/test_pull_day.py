"""How a task has its pull watched, held against what the screen needs: each slip at its place."""

from pathlib import Path

import pytest

from builder.check.everything import checked_job
from builder.check.library import Library
from builder.check.placed import placed_tasks
from builder.check.pull_day import pull_day_faults
from builder.check.shape import shaped
from builder.load.document import read_document
from builder.places import CHECKLISTS, DEMO_JOB

LIBRARY = CHECKLISTS / "cable-pulling.yaml"
SLIPS = [
    ("      call: call\n", "      call: cal\n", "NAME-02", "no working `cal`"),
    ("      call: call\n", "      call: team\n", "WORK-01", "worked out by `pull_call`"),
    ("      after: go\n", "      after: gone\n", "NAME-02", "no hold `gone`"),
    ("unit: kN, plausible: 0.02 to 200", "unit: kX, plausible: 0.02 to 200", "UNIT-01", "kX"),
    ("unit: kN, plausible: 0.02 to 200", "unit: m, plausible: 0.02 to 200", "UNIT-02", "`m` is no unit of this"),
    ("plausible: 0.02 to 200}", "plausible: 200 to 0.02}", "SHAPE-03", "200"),
    ("plausible: 1 to 60, when", "plausible: some, when", "SHAPE-03", "some"),
    ("shows: {team:", "shows: {teams:", "NAME-02", "no working `teams`"),
    ("        stop: {say: Stop", "        halt: {say: Stop", "SHAPE-02", "no word for `stop`"),
    ("        slack: {say: Give rope", "        grease: {say: Slack", "NAME-01", "already a word of the radio"),
    ("      - do: keep-moving\n", "      - do: station-3\n", "NAME-03", "measured on the pull itself"),
]


@pytest.mark.parametrize(("written", "instead", "code", "words"), SLIPS, ids=[f"{code} {words}" for *_, code, words in SLIPS])
def test_slip_in_a_pull_day_is_told(written: str, instead: str, code: str, words: str, tmp_path: Path) -> None:
    """Names, units, ranges and words that are missing or taken are each one problem with its code."""
    text = LIBRARY.read_text(encoding="utf-8")
    assert 1 <= text.count(written)
    slipped = tmp_path / LIBRARY.name
    slipped.write_text(text.replace(written, instead), encoding="utf-8")
    document = read_document(slipped)
    problems = [problem for task in placed_tasks(shaped(document, Library), document) for problem in pull_day_faults(task)]
    assert [code] == [problem.code for problem in problems]
    assert words in problems[0].shown().splitlines()[0]


def test_firm_says_its_own_words_on_the_radio(tmp_path: Path) -> None:
    """An overlay rewords what the radio and the screen say, and nothing else of the word."""
    job = tmp_path / "job.yaml"
    job.write_text(DEMO_JOB.read_text(encoding="utf-8").replace("overlays: [firm.yaml]", "overlays: [words.yaml]"), encoding="utf-8")
    (tmp_path / "words.yaml").write_text(
        "overlay: words\ntitle: Our words\nchanges:\n  - reword: cable-pulling/pull/stop\n    say: Hold\n", encoding="utf-8")
    plain, ours = (checked_job(path)["tasks"]["cable-pulling/pull"]["pull_day"]["radio"] for path in (DEMO_JOB, job))
    assert {**plain, "stop": {**plain["stop"], "say": "Hold"}} == ours
