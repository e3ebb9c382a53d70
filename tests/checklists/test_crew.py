"""The demo job from first dig to handing over, by three phones: the board is clear when the last thing is settled, not before."""

import re
from html import unescape
from pathlib import Path
from typing import Any

import pytest

from builder.compile.evaluate import plausible
from builder.record.answers import Answers
from builder.record.collect import GOOD
from builder.record.entry_kinds import KINDS
from builder.record.progress import Progress
from builder.record.recompute import environment_for
from tests.checklists.crew import Crew
from tests.checklists.order_of_work import order_of_work
from tests.record.phone import Phone
from tests.record.test_collect import Desk

OVER = ("Closed", "Over, until it is wanted again")
CONFLICT, SNAG = "Answers that differ (1)", "Open snags (1)"


class Story:
    """The crew's work, and what the desk's board shows at each of its moments."""

    def __init__(self, site: Path, folder: Path):
        self.desk = Desk(site, folder)
        self.crew = Crew(self.desk.job, self.desk.build)
        self.boards: dict[str, str] = {}
        self.blocked: dict[str, set[str]] = {}

    def collect(self, moment: str, *phones: Phone) -> None:
        """The desk collects what these phones hold: nothing odd about it, and everything worked out again agrees."""
        files = [self.desk.put(f"{len(self.boards)}-{number}.json", self.crew.record(phone)) for number, phone in enumerate(phones)]
        assert GOOD == self.desk.collect(*files), self.desk.said
        self.boards[moment] = self.desk.board()

    def look_behind(self, moment: str, sheet: str, hold: str) -> None:
        """Keeps the kinds of what stands in the way of a hold."""
        progress = Progress(Answers(self.desk.job, self.desk.held()), environment_for(self.desk.job))
        self.blocked[moment] = {block.kind for block in progress.sheet(sheet).holds[hold].blocks}

    def line(self, moment: str) -> str:
        """The board's one line on what is open."""
        return unescape(re.search(r'<p class="left">(.*?)</p>', self.boards[moment])[1])

    def open_on(self, moment: str) -> dict[str, list[str]]:
        """Whatever a board shows as open, read off its parts."""
        board = self.boards[moment]
        tallies = re.findall(r"<li class=\"[\w-]+\"><strong>(\d+)</strong> (.*?)</li>", board)
        shown = {
            "sheets": [words for count, words in tallies if count != "0" and words not in OVER],
            "gates": re.findall(r'<li class="shut">\s*<p><strong>.*?</strong> · .*?</p>\s*<p>(.*?)</p>', board),
            "look": re.findall(r"<h3>((?:Answers|Open snags|Photos that|Does not agree|Kept)[^<]*)</h3>", board),
            "locks": re.findall(r"Locks still on: [1-9]\d*", board),
            "people": re.findall(r"<li>([^<]*, since [^<]*)</li>", board),
        }
        return {part: list(map(unescape, found)) for part, found in shown.items() if found}

    def differ(self, phone: Phone, sheet: str, step: dict[str, Any]) -> str:
        """A phone that knows of no other reads something else; gives the entry's id."""
        task, given = self.desk.job["tasks"][self.crew.sheets[sheet]["task"]], self.crew.given[sheet][step["name"]]
        number = float(given["text"].replace(",", "."))
        texts = [f"{other:.2f}" for other in (number * 1.1, number * 0.9, number + 1)]
        text = next(one for one in texts if float(one) != number and "reason" not in plausible(task, step["name"], one))
        return self.crew.tell(phone, "reading", sheet, step["name"], value=text, unit=given["unit"]).id

    def settle(self, phone: Phone, sheet: str, step: dict[str, Any], answers: list[str]) -> str:
        """The supervisor says which of these answers stands: the first."""
        who = self.crew.people["supervisor"]
        return self.crew.tell(phone, "settle", sheet, step["name"], value=answers[0], about=answers, who=who).id

    def number(self, sheet: str, hold: str | None) -> dict[str, Any] | None:
        """The first number read in front of a hold after which nothing else is asked again: a tester settled late wants all tested anew."""
        steps = self.crew.between(sheet, hold)
        again = {name for step in self.crew.steps(sheet) for name in step.get("after", [])}
        return next((step for step in steps if step.get("unit") and step["name"] in self.crew.given[sheet] and step["name"] not in again), None)


@pytest.fixture(scope="module")
def story(demo_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Story:
    """The job worked to its end, collected at every moment that counts."""
    story = Story(demo_folder, tmp_path_factory.mktemp("crew"))
    order = order_of_work(story.desk.job)
    last, _ = order[-1]
    story.crew.sign_on()
    begun = [stretch for stretch in order if stretch[0] != last]
    half = len(begun) // 2
    story.crew.work(begun[:half])
    half += _two_read_one_thing(story, begun[half:])
    story.crew.work(begun[half:])
    _last_sheet(story, [stretch for stretch in order if stretch[0] == last])
    return story


def _two_read_one_thing(story: Story, ahead: list) -> int:
    """Works on to a number that a second phone reads too, and past the gate behind it; gives how many stretches."""
    crew = story.crew
    for worked, (sheet, hold) in enumerate(ahead, 1):
        crew.answer(sheet, hold)
        second, _ = crew.others(crew.phone_of(sheet))
        if step := hold and story.number(sheet, hold):
            other = story.differ(second, sheet, step)
            story.collect("halfway", *crew.phones)
            story.look_behind("halfway", sheet, hold)
            crew.meet()
            story.settle(second, sheet, step, [crew.said[sheet, step["name"]].id, other])
        crew.finish(sheet, hold)
        if step:
            return worked
    raise AssertionError("No number is read in the second half of the job.")


def _last_sheet(story: Story, stretches: list) -> None:
    """The last sheet, with a number that two phones read, a snag that waits for somebody, and a hold."""
    crew = story.crew
    *first, (sheet, hold), end = stretches
    crew.work(first)
    crew.meet()
    crew.answer(sheet, hold)
    crew.sign_off()
    worker, (second, third) = crew.phone_of(sheet), crew.others(crew.phone_of(sheet))
    step, waits_for = story.number(sheet, hold), crew.people["licensed-worker"]
    other = story.differ(second, sheet, step)
    snag = crew.find_snag(third, sheet, crew.between(sheet, hold)[-1]["name"], "A lid is loose at the gate", waits_for)
    story.collect("all but the end", *crew.phones)
    story.look_behind("all but the end", sheet, hold)
    crew.meet()
    stands = story.settle(worker, sheet, step, [crew.said[sheet, step["name"]].id, other])
    story.collect("conflict settled", worker)
    crew.tell(second, "snag-closed", sheet, value="Bolted down", about=[snag.id], who=waits_for)
    story.collect("snag closed", second)
    crew.finish(sheet, hold)
    story.collect("hold released", worker)
    crew.finish(*end)
    story.collect("closed", worker)
    # Third has heard of nothing since the snag.
    late = crew.find_snag(third, sheet, crew.between(sheet, hold)[-1]["name"], "A drum was left behind the fence", waits_for)
    story.collect("a snag from a late phone", third)
    crew.tell(third, "snag-closed", sheet, value="Fetched", about=[late.id], who=waits_for)
    story.collect("late snag closed", third)
    other = story.differ(third, sheet, step)
    story.collect("an answer from a late phone", third)
    crew.meet()
    story.settle(worker, sheet, step, [stands, other])
    story.collect("late answer settled", worker)
    crew.finish(sheet, hold)
    crew.finish(*end)
    story.collect("closed again", worker)


# What the board shows of each moment after the last sheet was worked: what needs a look, whether a gate is shut, and
# whether a sheet is open.
MOMENTS = {
    "all but the end": ([CONFLICT, SNAG], True, True),
    "conflict settled": ([SNAG], True, True),
    "snag closed": ([], True, True),
    "hold released": ([], False, True),
    "closed": ([], False, False),
    "a snag from a late phone": ([SNAG], True, True),
    "late snag closed": ([], False, False),
    "an answer from a late phone": ([CONFLICT], True, True),
    "late answer settled": ([], True, True),
    "closed again": ([], False, False),
}


@pytest.mark.parametrize("moment", MOMENTS)
def test_the_board_shows_what_is_open_until_it_is_settled(story: Story, moment: str) -> None:
    """Conflict, snag and hold each stand there until their own last word, and nothing else does."""
    look, shut, unfinished = MOMENTS[moment]
    shown = story.open_on(moment)
    assert look == shown.pop("look", [])
    assert (shut, unfinished) == (len(shown.pop("gates", [])) == 1, len(shown.pop("sheets", [])) == 1)
    assert {} == shown


def test_the_line_at_the_top_says_nothing_is_open_exactly_then(story: Story) -> None:
    """The one line agrees with all the rest of the board at every moment, from halfway on."""
    assert len(MOMENTS) + 1 == len(story.boards)
    for moment in story.boards:
        assert (story.open_on(moment) == {}) == (story.line(moment) == "Nothing is open."), moment
    assert "Still open: 1 sheet, 1 hold, 1 step where answers differ, 1 snag." == story.line("all but the end")
    assert "Still open: 1 sheet." == story.line("hold released")


def test_two_phones_that_differ_shut_the_gate_behind_the_reading(story: Story) -> None:
    """Neither had heard of the other: the desk sees it, and it stands in the way until the supervisor has settled it."""
    assert [CONFLICT] == story.open_on("halfway")["look"]
    assert "conflict" in story.blocked["halfway"]
    assert {"conflict", "snag"} == story.blocked["all but the end"]


def test_the_crew_worked_every_sheet_between_them(story: Story) -> None:
    """Every sheet was closed, each phone worked its third, and every kind of entry but slips of the finger is among them."""
    held = story.desk.held()
    closed = {entry["sheet"]: entry["dev"] for entry in held if entry["kind"] == "close"}
    assert {sheet["id"] for sheet in story.desk.job["sheets"]} == closed.keys()
    assert {phone.dev for phone in story.crew.phones} == set(closed.values())
    assert KINDS.keys() - {"aside", "withdraw", "note"} == {entry["kind"] for entry in held}


def test_an_absent_owner_s_lock_came_off_by_three_names_and_is_told(story: Story) -> None:
    """The board goes on naming it: that owner must be told before they work there again."""
    taken = [entry for entry in story.desk.held() if entry["kind"] == "lock-off" and len(entry["about"]) == 2]
    assert taken
    assert len(taken) == story.boards["closed"].count("was taken off without")
    assert "counts for nothing:" not in story.boards["closed"]
