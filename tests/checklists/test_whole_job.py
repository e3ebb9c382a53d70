"""The whole demo job on one phone: the interlocks let it through in the right order, and in no other."""

from copy import deepcopy
from typing import Any

import pytest

from builder.check.everything import checked_job
from builder.compile.evaluate import Environment, plausible
from builder.places import DEMO_JOB
from builder.quantity import unit
from builder.record.answers import Answers
from builder.record.progress import Progress
from tests.checklists.worked_sheets import READINGS

BEFORE_GIVING_BACK = (
    "setting-up/permissions", "setting-up/make-safe", "setting-up/brief",
    "receiving/drum-in", "receiving/cut-to-run", "receiving/gear-in",
    "placing/ready-the-place", "placing/set-it-down", "placing/guard-it",
    "trenching/find-services", "trenching/open-trench", "trenching/lay-conduit", "trenching/bury-and-prove",
    "lock-out/lock-off", "lock-out/prove-dead", "lock-out/cells-stay-live",
    "cable-pulling/conduit", "cable-pulling/open-route", "cable-pulling/before-the-pull", "cable-pulling/pull",
    "cable-pulling/prove-the-pull",
    "termination/before-making-off", "termination/make-off", "termination/bolt-up", "termination/check-the-joint",
    "testing/look-it-over", "testing/dead-tests", "testing/put-it-back", "termination/close-the-links", "testing/prove-protection", "lock-out/keep-it-locked",
)
OF_THE_BOARD = ("hv-switch", "kiln-feeder", "standby-set")
# Who hangs a lock on a box, or where there is none on the point; and who holds the lock whose key lies in the box.
CREW, HOLDER = ("Ilse Brandrup", "Tobin Areth", "Pella Oxmoor"), "Davin Quarle"
LIVE = ("energisation/switch-on", "energisation/prove-live", "energisation/first-load")
SWITCH_ON = ("energisation/switch-on/kiln-board", "clear-to-switch-on")


class Phone:
    """Entries of one phone that says, sheet by sheet, what a good crew would."""

    def __init__(self, job: dict[str, Any]):
        self.job, self.entries = job, []
        self.say("device", None, None, "phone")

    def say(
        self, kind: str, sheet: str | None, step: str | None, value: str = "", ucum: str | None = None, about=(), who: str | None = None,
    ) -> str:
        """One entry more; a release is signed by whom the job lists in that role."""
        people = {person["role"]: person["name"] for person in self.job["job"]["people"]}
        seq = len(self.entries)
        entry = {
            "id": f"e{seq}", "v": 1, "dev": "d", "seq": seq, "prev": f"e{seq - 1}" if seq else None, "seen": {},
            "at": "2026-01-01T00:00:00+00:00", "who": who or (people[value] if kind == "release" else "Ilse Brandrup"), "job": "kiln-yard", "build": "b",
            "kind": kind, "sheet": sheet, "step": step, "value": value, "unit": ucum, "about": list(about),
        }
        self.entries.append(entry)
        return entry["id"]

    def work(self, task: str, item: str | None = None, but: tuple[str, str] | None = None) -> None:
        """Answer and release every step that applies, `but` one hold of one sheet."""
        for sheet in self.job["sheets"]:
            if sheet["task"] == task and item in (None, sheet["item"]):
                self._work_sheet(sheet, but)

    def _work_sheet(self, sheet: dict, but: tuple[str, str] | None) -> None:
        readings: dict[str, Any] = {}
        task = self.job["tasks"][sheet["task"]]
        for step in task["steps"]:
            if not Environment(self.job, sheet, readings).step(step["name"])["applies"]:
                continue
            if (sheet["id"], step["name"]) == but:
                continue
            if step.get("photo") == "needed":
                self.say("photo", sheet["id"], step["name"])
            if step["kind"] == "hold":
                self.release(sheet["id"], step)
            elif step["kind"] == "read":
                good = READINGS[sheet["task"]][step["name"]]["good"]
                text = good if isinstance(good, str) else good[sheet["item"]]
                self.say("reading", sheet["id"], step["name"], text, unit(step["unit"]).ucum if step["unit"] else None)
                readings[step["name"]] = {"text": text, **plausible(task, step["name"], text)}
            else:
                self.say("done", sheet["id"], step["name"])
                if step["name"] == "hasp-and-locks":
                    self.lock(sheet["item"])
                if step["name"] == "locks-come-off":
                    self.unlock(sheet["item"])
        if but is None or but[0] != sheet["id"]:
            self.say("close", sheet["id"], None)

    def release(self, sheet: str, step: dict) -> None:
        """The hold of a sheet, signed where it asks for that."""
        release = self.say("release", sheet, step["name"], step["released_by"])
        if step.get("signed"):
            self.say("signed", sheet, step["name"], about=[release], who=self.entries[-1]["who"])

    def lock(self, item: str) -> None:
        """The crew's locks go on a point: on its box where it has one, with the holder's on the point itself."""
        box = self.job["points"][item]["box"]
        if box is None or not self._locks(box):
            for number, who in enumerate(CREW):
                self.say("lock-on", f"locks/{box or item}", None, f"{item} {number}", who=who)
        if box:
            self.say("lock-on", f"locks/{item}", None, f"{item} key", who=HOLDER)

    def unlock(self, item: str) -> None:
        """Everybody takes their own lock off, the box's first."""
        for place in (self.job["points"][item]["box"], item):
            for lock in self._locks(place) if place else []:
                self.say("lock-off", f"locks/{place}", None, about=[lock["id"]], who=lock["who"])

    def _locks(self, place: str) -> list[dict[str, Any]]:
        return [lock.entry for lock in self.progress().boards().point(place).on]

    def progress(self) -> Progress:
        return Progress(Answers(self.job, self.entries), self._environment)

    def _environment(self, sheet: dict, given: dict[str, dict]) -> Environment:
        task = self.job["tasks"][sheet["task"]]
        believed = {step: {"text": one["text"], **plausible(task, step, one["text"])} for step, one in given.items()}
        return Environment(self.job, sheet, {step: one for step, one in believed.items() if "reason" not in one})

    def blocks(self, sheet: str, hold: str) -> list[str]:
        return [block.say for block in self.progress().sheet(sheet).holds[hold].blocks]


@pytest.fixture(scope="module")
def job() -> dict[str, Any]:
    return checked_job(DEMO_JOB)


@pytest.fixture(scope="module")
def tested(job: dict[str, Any]) -> Phone:
    """Everything is made off and tested; every lock is still on. Not to be written to: copy it first."""
    phone = Phone(job)
    for task in BEFORE_GIVING_BACK:
        phone.work(task)
    return phone


@pytest.fixture
def phone(tested: Phone) -> Phone:
    """A phone of one's own, with everything tested and locked."""
    own = Phone(tested.job)
    own.entries = deepcopy(tested.entries)
    return own


@pytest.fixture
def given_back(phone: Phone) -> Phone:
    """The same with every lock of the kiln board given back; its neighbours stay locked."""
    for item in OF_THE_BOARD:
        phone.work("lock-out/give-back", item)
    return phone


def test_nothing_is_stuck_before_the_locks_go_back(tested: Phone) -> None:
    """Worked in the order of the trade, no sheet waits for anything."""
    progress = tested.progress()
    left = [(sheet["id"], block.say) for sheet in tested.job["sheets"] if sheet["task"] in BEFORE_GIVING_BACK
            for block in progress.sheet(sheet["id"]).left]
    assert [] == left


def test_no_switching_on_while_a_lock_is_on(tested: Phone) -> None:
    """With every lock still on, each isolation of the supply stands in the way."""
    blocks = tested.blocks(*SWITCH_ON)
    assert 3 == len([say for say in blocks if "Give the locks back" in say])
    assert 3 == len([say for say in blocks if "is on kiln-box" in say])


def test_locks_can_be_given_back_one_after_the_other(given_back: Phone) -> None:
    """The first lock that comes off doesn't take away what the second needs."""
    progress = given_back.progress()
    out = [item for item in OF_THE_BOARD if not progress.sheet(f"lock-out/give-back/{item}").holds["locks-given-back"].in_force]
    assert [] == out


def test_nothing_comes_off_before_the_work_is_finished(job: dict[str, Any]) -> None:
    """While a joint is in hand the give-back sheet doesn't open: earths, people and locks stay where they are."""
    phone = Phone(job)
    for task in BEFORE_GIVING_BACK:
        phone.work(task, but=("termination/check-the-joint/J1", "joint-proved"))
    assert [] != phone.blocks("lock-out/give-back/kiln-feeder", "may-come-off")
    shown = phone.progress().sheet("lock-out/give-back/kiln-feeder").steps
    assert {"shut"} == {shown[step].state for step in ("people-out", "earths-off", "locks-come-off", "locks-given-back")}


def test_earths_come_off_after_people_are_out(tested: Phone) -> None:
    """In front of the count of earths stands a hold that waits for the count of people."""
    steps = [step["name"] for step in tested.job["tasks"]["lock-out/give-back"]["steps"]]
    order = ("may-come-off", "people-out", "earths-may-come-off", "earths-off", "locks-come-off", "locks-given-back")
    assert sorted(order, key=steps.index) == list(order)


def test_nobody_works_on_once_the_locks_may_come_off(phone: Phone) -> None:
    """From the moment that locks may come off the point counts as live, earths still on or not."""
    phone.say("release", "lock-out/give-back/kiln-feeder", "may-come-off", "supervisor")
    standing = phone.progress()
    assert not standing.sheet("lock-out/prove-dead/kiln-feeder").holds["safe-to-work"].in_force
    assert not standing.sheet("lock-out/lock-off/kiln-feeder").holds["locks-on"].in_force


def test_a_lock_about_to_go_on_stops_switching_on(given_back: Phone) -> None:
    """The first word of locking off takes the giving back out of force, before any lock hangs."""
    given_back.say("release", "lock-out/lock-off/kiln-feeder", "off-begins", "leading-hand")
    assert 1 == len(given_back.blocks(*SWITCH_ON))


def test_locked_again_is_proved_dead_again(phone: Phone) -> None:
    """New locks on a point make nothing dead: the proof of the old ones is gone."""
    phone.say("release", "lock-out/lock-off/kiln-feeder", "locks-on", "leading-hand")
    assert not phone.progress().sheet("lock-out/prove-dead/kiln-feeder").holds["safe-to-work"].in_force


@pytest.mark.parametrize(
    ("sheet", "hold"),
    [("termination/check-the-joint/J1", "joint-proved"), ("cable-pulling/prove-the-pull/R1", "cable-accepted")],
)
def test_a_joint_or_cable_proved_again_is_tested_again(sheet: str, hold: str, phone: Phone) -> None:
    """What was made again after the tests takes the tests with it, for its own supply and for no other."""
    phone.say("release", sheet, hold, "licensed-worker")
    standing = phone.progress()
    for task, tested in (("dead-tests", "hands-may-go-back"), ("put-it-back", "dead-tests-in")):
        assert not standing.sheet(f"testing/{task}/kiln-board").holds[tested].in_force
        assert standing.sheet(f"testing/{task}/battery-link").holds[tested].in_force


def test_when_every_lock_is_back_the_supply_can_be_switched_on(given_back: Phone) -> None:
    """Joints and tests keep standing when the locks that they were made behind are given back."""
    assert [] == given_back.blocks(*SWITCH_ON)


def _all_live(given_back: Phone) -> None:
    """The board with its neighbour locked, then the drive, then the battery side."""
    stages = {"kiln-board": (), "pump-drive": ("drive-switch", "drive-panel"), "battery-link": ("battery-switch", "battery-strings")}
    for supply, points in stages.items():
        for item in points:
            given_back.work("lock-out/give-back", item)
        for task in LIVE:
            given_back.work(task, supply)


def test_the_site_is_given_back_last_of_all(given_back: Phone) -> None:
    """From first dig to the gate shut: with every supply live and handed over, only locks that are off wait for a next time."""
    _all_live(given_back)
    assert [] != given_back.blocks("handing-over/leave-the-site/yard", "work-is-over")
    given_back.work("handing-over/papers")
    given_back.work("handing-over/leave-the-site")
    left = [sheet for sheet in given_back.progress().sheets() if sheet.left]
    assert {"lock-out/lock-off", "lock-out/prove-dead", "lock-out/cells-stay-live"} == {sheet.sheet.rpartition("/")[0] for sheet in left}
    assert {("rests", True)} == {(sheet.state, sheet.round > 1) for sheet in left}


def test_a_lock_put_on_again_stops_switching_on(given_back: Phone) -> None:
    """Locking one isolation again takes its giving back out of force, and the joints stay proved."""
    given_back.work("lock-out/lock-off", "kiln-feeder")
    assert any("locks off" in say and "kiln-feeder" in say for say in given_back.blocks(*SWITCH_ON))
    assert [] == given_back.blocks("termination/check-the-joint/J1", "joint-proved")


def test_after_a_second_round_of_locks_the_supply_can_be_switched_on(given_back: Phone) -> None:
    """Locked, proved dead and given back a second time: who shares its box looks again, and no more than that."""
    for task in ("lock-out/lock-off", "lock-out/prove-dead", "lock-out/keep-it-locked", "lock-out/give-back"):
        given_back.work(task, "kiln-feeder")
    assert [] != given_back.blocks(*SWITCH_ON)
    for item in ("hv-switch", "standby-set"):
        given_back.say("release", f"lock-out/give-back/{item}", "locks-given-back", "supervisor")
    assert [] == given_back.blocks(*SWITCH_ON)


def test_the_board_goes_live_while_the_battery_side_is_in_hand(job: dict[str, Any]) -> None:
    """With drive and battery still locked and their joints open, the kiln board can go on, and they can't."""
    phone = Phone(job)
    later = [sheet["id"] for sheet in job["sheets"] if sheet["item"] in ("R4", "J7", "J8", "pump-drive", "battery-link")]
    for task in BEFORE_GIVING_BACK:
        for sheet in job["sheets"]:
            if sheet["task"] == task and sheet["id"] not in later:
                phone.work(task, sheet["item"])
    for item in OF_THE_BOARD:
        phone.work("lock-out/give-back", item)
    assert [] == phone.blocks(*SWITCH_ON)
    assert [] != phone.blocks("energisation/switch-on/pump-drive", "clear-to-switch-on")
    assert [] != phone.blocks("energisation/switch-on/battery-link", "clear-to-switch-on")
    assert phone.progress().sheet("lock-out/prove-dead/drive-switch").holds["safe-to-work"].in_force


def test_locks_given_back_shut_a_joint_still_in_hand(job: dict[str, Any]) -> None:
    """A joint that isn't proved is shut when its lock goes back, and keeps the lock from counting as back."""
    phone = Phone(job)
    for task in BEFORE_GIVING_BACK:
        phone.work(task, but=("termination/check-the-joint/J1", "joint-proved"))
    phone.work("lock-out/give-back", "kiln-feeder")
    assert [] != phone.blocks("termination/check-the-joint/J1", "clear-to-look")
    assert [] != phone.blocks("lock-out/give-back/kiln-feeder", "locks-given-back")
    assert [] != phone.blocks(*SWITCH_ON)


def test_a_release_that_was_wrong_takes_down_what_rests_on_it(given_back: Phone) -> None:
    """Proved-dead withdrawn, even after the locks are back: joint, tests and switching on fall."""
    release = next(entry for entry in given_back.entries if entry["kind"] == "release"
                   and entry["sheet"] == "lock-out/prove-dead/kiln-feeder" and entry["step"] == "safe-to-work")
    given_back.say("withdraw", release["sheet"], release["step"], "wrong cubicle", about=[release["id"]])
    assert [] != given_back.blocks("termination/before-making-off/J1", "clear-to-start")
    assert [] != given_back.blocks(*SWITCH_ON)


def test_a_snag_on_a_proved_joint_stops_switching_on(given_back: Phone) -> None:
    """What is found wrong on a joint reaches the switch."""
    given_back.say("snag", "termination/make-off/J1", "crimp", "cracked barrel")
    assert [] != given_back.blocks(*SWITCH_ON)


def test_an_outside_reading_on_one_joint_stops_switching_on(given_back: Phone) -> None:
    """A joint resistance entered again and outside reaches the switch."""
    given_back.say("reading", "termination/check-the-joint/J1", "highest-joint", "40", "uOhm")
    assert [] != given_back.blocks(*SWITCH_ON)


def test_a_lock_alone_stops_switching_on(given_back: Phone) -> None:
    """A lock entered on the board and on no sheet shuts the gate, and its coming off asks for another look."""
    switch_on = next(step for step in given_back.job["tasks"]["energisation/switch-on"]["steps"] if step["name"] == SWITCH_ON[1])
    given_back.release(SWITCH_ON[0], switch_on)
    given_back.say("lock-on", "locks/kiln-feeder", None, "7", who="Pella Oxmoor")
    assert "Lock 7 of Pella Oxmoor is on kiln-feeder" in given_back.blocks(*SWITCH_ON)
    given_back.unlock("kiln-feeder")
    assert [] != given_back.blocks(*SWITCH_ON)
    given_back.say("release", "lock-out/give-back/kiln-feeder", "locks-given-back", "supervisor")
    given_back.release(SWITCH_ON[0], switch_on)
    assert given_back.progress().sheet(SWITCH_ON[0]).holds[SWITCH_ON[1]].in_force


def test_a_neighbour_whose_locks_are_gone_stops_switching_on(given_back: Phone) -> None:
    """The drive behind the board is still in hand: without a lock on its switch the board doesn't go live."""
    given_back.unlock("drive-switch")
    assert ["drive-switch must stay locked, and no lock is on it"] == given_back.blocks(*SWITCH_ON)


def test_locks_that_go_without_being_given_back_shut_the_work_behind_them(tested: Phone) -> None:
    """At the end of a shift everybody takes their lock home: nothing behind the point is safe to work on."""
    phone = Phone(tested.job)
    for task in BEFORE_GIVING_BACK:
        phone.work(task, but=("termination/check-the-joint/J8", "joint-proved"))
    assert [] == phone.blocks("termination/check-the-joint/J8", "clear-to-look")
    phone.unlock("drive-switch")
    assert [] != phone.blocks("termination/check-the-joint/J8", "clear-to-look")
    phone.lock("drive-switch")
    assert [] != phone.blocks("termination/check-the-joint/J8", "clear-to-look")


def test_locks_that_take_turns_leave_the_work_open(tested: Phone) -> None:
    """Who comes hangs a lock on before who goes takes theirs off: safe to work stays safe to work."""
    phone = Phone(tested.job)
    phone.entries = deepcopy(tested.entries)
    phone.say("lock-on", "locks/drive-switch", None, "77", who="Maren Tolvik")
    for lock in phone._locks("drive-switch")[:-1]:
        phone.say("lock-off", "locks/drive-switch", None, about=[lock["id"]], who=lock["who"])
    assert phone.progress().sheet("lock-out/prove-dead/drive-switch").holds["safe-to-work"].in_force


def test_the_tester_proved_late_proves_nothing(tested: Phone) -> None:
    """Proved once more after the point was tested, the tester wants the point tested again."""
    phone = Phone(tested.job)
    phone.entries = deepcopy(tested.entries)
    phone.say("reading", "lock-out/prove-dead/kiln-feeder", "tester-first", "230", "V")
    shown = phone.progress().sheet("lock-out/prove-dead/kiln-feeder").steps
    assert ["open", "shut"] == [shown[step].state for step in ("phase-to-earth", "tester-again")]


def test_the_whole_job_goes_live_stage_by_stage(given_back: Phone) -> None:
    """From first dig to live, every gate on the way open, and no lock left on any point."""
    _all_live(given_back)
    progress = given_back.progress()
    assert {"closed"} == {progress.sheet(sheet["id"]).state for sheet in given_back.job["sheets"] if sheet["task"] in LIVE}
    assert [] == [lock for point in progress.boards().points() for lock in point.on]
