"""
Every step of the libraries, on the phone: it stands there, takes what a good crew answers, shows it and keeps it.

One phone works sheets of the demo job by their own buttons and fields, from first dig to handing over. What other
sheets have to be finished for these comes from a scripted crew; with `--full` nothing but locks is left to it.
"""

import json
import re
from collections import Counter
from collections.abc import Iterator
from itertools import groupby
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from builder.quantity import unit
from tests.checklists.crew import Crew
from tests.checklists.order_of_work import Stretch, order_of_work
from tests.phone.hands import Phone

WORK = (Path(__file__).parent / "work_sheet.js").read_text(encoding="utf-8")
HOLDER = "Tobin Areth"
LINES = """() => [...document.querySelectorAll(".run > li")].map((line) => ({
  step: line.dataset.step, state: line.dataset.state, say: line.querySelector(".say").textContent, folded: !line.checkVisibility(),
}))"""


class OneOfThem:
    """
    A phone in a browser that works some sheets of the job, and a crew that works the rest.

    odd      what was not as it should be
    said     sheet → (kind, step, value, unit) that should be in the phone's store
    lines    sheet → its lines, as they stood when it was closed
    """

    def __init__(self, phone: Phone, crew: Crew):
        self.phone, self.crew = phone, crew
        self.sent = [0] * len(crew.phones)
        self.odd: list[str] = []
        self.said: dict[str, list[tuple]] = {}
        self.lines: dict[str, list[dict[str, Any]]] = {}
        phone.open()
        phone.introduce(HOLDER, "Pit phone")

    def entries(self) -> list[dict[str, Any]]:
        return self.phone.entries(self.crew.job["job"]["name"])

    def work(self, sheets: set[str]) -> None:
        """Works the whole job in its order: these sheets by hand, the others by the crew."""
        for sheet, stretches in groupby(order_of_work(self.crew.job), lambda stretch: stretch[0]):
            if sheet in sheets:
                for visit in self._visits(sheet, list(stretches)):
                    # Locks that a hold wants on or off are seen to by the crew, at the board.
                    self.crew.locks_first(self.crew.phones[0], *visit[0])
                    self.hear()
                    self.by_hand(sheet, visit)
            else:
                self.crew.work(stretches)

    def hear(self) -> None:
        """The phone has what the crew's phones have said since."""
        crew = self.crew
        crew.meet()
        fresh = [entry for phone, sent in zip(crew.phones, self.sent, strict=True) for entry in phone.entries[sent:]]
        self.sent = [len(phone.entries) for phone in crew.phones]
        if fresh:
            self.phone.hold(crew.job["job"]["name"], fresh)

    def _visits(self, sheet: str, stretches: list[Stretch]) -> Iterator[list[Stretch]]:
        """Stretches that are worked without going away to the lock board."""
        asked = self.crew.sheets[sheet].get("locks", {})
        visit: list[Stretch] = []
        for stretch in stretches:
            if visit and stretch[1] in asked:
                yield visit
                visit = []
            visit.append(stretch)
        yield visit

    def by_hand(self, sheet: str, stretches: list[Stretch]) -> None:
        """Works these stretches of one sheet on the phone, and closes it where its far end is among them."""
        page, told = self.phone.page, []
        for _, hold in stretches:
            gate = [step for step in self.crew.steps(sheet) if step["name"] == hold]
            told += [self._told(sheet, step) for step in (*self.crew.between(sheet, hold), *gate) if self.crew.applies(sheet, step)]
        task, item = self.crew.sheets[sheet]["task"], self.crew.sheets[sheet]["item"]
        self.phone.open(f"tasks/{task}.html#{item}")
        self.odd += [f"{sheet}: {one}" for one in page.evaluate(WORK, told)]
        said = self.said.setdefault(sheet, [])
        for step in told:
            kind = {"read": "reading", "hold": "release"}.get(step["kind"], "done")
            said.append((kind, step["name"], step["text"], step["ucum"]))
            said += [("photo", step["name"], "", None)] * step["photo"] + [("signed", step["name"], "EW 4711", None)] * step["signed"]
        if stretches[-1][1] is None:
            page.get_by_role("button", name="Close the sheet").click()
            self.phone.agree()
            expect(page.locator("[data-part=far-end]")).to_contain_text("Closed")
            said.append(("close", None, "", None))
            self.lines[sheet] = page.evaluate(LINES)
        last = self.entries()[-1]
        for phone in self.crew.phones:
            phone.seen[last["dev"]] = last["seq"]

    def _told(self, sheet: str, step: dict[str, Any]) -> dict[str, Any]:
        """What is answered to a step that applies."""
        text, ucum, who = "", None, HOLDER
        if step["kind"] == "read":
            text, ucum = self.crew.good(sheet, step), step["unit"] and unit(step["unit"]).ucum
            self.crew.given[sheet][step["name"]] = {"text": text, "unit": ucum}
        if step["kind"] == "hold":
            text, who = step["released_by"], self.crew.people[step["released_by"]]
        return {
            "name": step["name"], "kind": step["kind"], "text": text, "ucum": ucum, "who": who, "choice": bool(step.get("one_of")),
            "photo": step.get("photo") == "needed", "signed": bool(step.get("signed")), "accept": bool(step.get("accept")),
        }


def most_to_do(job: dict[str, Any]) -> set[str]:
    """Of each task the sheet on which most steps apply."""
    crew = Crew(job, "0" * 12)
    crew.work(order_of_work(job))
    applying = Counter({sheet: sum(crew.applies(sheet, step) for step in crew.steps(sheet)) for sheet in crew.sheets})
    largest = {crew.sheets[sheet]["task"]: sheet for sheet, _ in reversed(applying.most_common())}
    return set(largest.values())


@pytest.fixture(scope="module")
def worked(browser: Any, demo_folder: Path, demo_site: str, full: bool) -> Iterator[OneOfThem]:
    """The job worked to its end, one sheet of every task by hand, or all of them."""
    job, build = (json.loads((demo_folder / name).read_text(encoding="utf-8")) for name in ("job.json", "build.json"))
    phone = Phone(browser, demo_site)
    one = OneOfThem(phone, Crew(job, build["build"]))
    one.work(set(one.crew.sheets) if full else most_to_do(job))
    yield one
    phone.context.close()


def words(text: str) -> list[str]:
    """The words of a sentence, without what marks them."""
    return re.sub(r"[*_`]", "", text).split()


def test_every_step_takes_what_a_good_crew_answers_and_shows_it(worked: OneOfThem) -> None:
    """Done, looked at, read and released by its own controls; what was entered, who and the verdict stand there."""
    assert [] == worked.odd
    assert [] == worked.phone.faults


def test_what_the_screen_confirmed_is_in_the_store(worked: OneOfThem) -> None:
    """Every answer, photo, signature, release and closing, in the order in which it was given, and nothing besides."""
    stored: dict[str, list[tuple]] = {}
    for entry in worked.entries()[1:]:
        stored.setdefault(entry["sheet"], []).append((entry["kind"], entry["step"], entry["value"], entry["unit"]))
    assert worked.said == stored


def test_every_sentence_stands_on_its_page_and_what_does_not_apply_is_folded(worked: OneOfThem) -> None:
    """All steps of all tasks, in their order, in the words of the libraries; every sheet was worked to its far end."""
    job = worked.crew.job
    assert job["tasks"].keys() == {worked.crew.sheets[sheet]["task"] for sheet in worked.lines}
    for sheet, lines in worked.lines.items():
        steps = worked.crew.steps(sheet)
        assert [(step["name"], words(step["say"])) for step in steps] == [(line["step"], words(line["say"])) for line in lines]
        done = {step["name"]: "open" if step["kind"] == "hold" else "answered" for step in steps if worked.crew.applies(sheet, step)}
        assert {line["step"]: (done.get(line["step"], "not-applying"), line["step"] not in done) for line in lines} == {
            line["step"]: (line["state"], line["folded"]) for line in lines}, sheet


def test_the_phone_has_nothing_left_to_do_at_the_end(worked: OneOfThem) -> None:
    """With the rest of the crew's record, the whole job stands closed on the phone."""
    worked.hear()
    page, sheets = worked.phone.page, len(worked.crew.sheets)
    page.goto(worked.phone.address)
    expect(page.locator("[data-part=tally] span").first).to_have_text(f"{sheets} of {sheets} sheets closed")
    expect(page.locator("[data-part=bar]")).to_be_hidden()
