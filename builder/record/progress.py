"""
Where every sheet stands: job, answers and acceptances brought together.

`assets/app/progress.mjs` says the same, word for word.
"""

from collections.abc import Callable, Set
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from builder.record.answers import Answer, Answers, SheetAnswers
from builder.record.boards import Boards
from builder.record.lock_blocks import lock_blocks
from builder.record.payload import Fields
from builder.record.sheet_state import Block, HoldState, SheetState, StepState
from builder.words import say


@dataclass(frozen=True)
class _View:
    """
    How a sheet is looked at.

    besides   ids of releases before which it is looked at
    closed    as something that a closed sheet rests on: releasing it again since takes nothing away
    at        id of the closing as of which the lock boards are looked at; None is now
    """

    besides: Set[str] = frozenset()
    closed: bool = False
    at: str | None = None


_NOW = _View()


@dataclass(frozen=True)
class _Basics:
    """Answers and acceptances of a sheet, before any hold is looked at."""

    sheet: dict
    steps: list[dict]
    said: SheetAnswers
    environment: Any
    states: dict[str, StepState]


class Progress:
    """
    Sheets are worked out when asked for, and only once.

    environment_for   (sheet, readings: step → {text, unit as UCUM, and what else was measured}) → an object with step(name), working(name)
                      and the `readings` that it could believe
    """

    def __init__(self, told: Answers, environment_for: Callable[[dict, dict], Any]):
        self.told, self.job, self.environment_for = told, told.job, environment_for
        self.sheet = cache(self._sheet)
        self._read = cache(self._read_basics)
        self._starting = cache(lambda name: frozenset(release["id"] for release in told.starting(name)))
        self.boards = cache(self._read_boards)
        self._holds: dict[tuple, HoldState] = {}
        self._closings: dict[tuple, _View | None] = {}
        self._resting: dict[str, bool] = {}
        self._dependents = _dependents(self.job["sheets"])
        self._covered = told.covered

    def sheets(self) -> list[SheetState]:
        """Every sheet, in the job's order."""
        return [self.sheet(sheet["id"]) for sheet in self.job["sheets"]]

    def _read_boards(self, at: str | None = None) -> Boards:
        return Boards(self.told, None if at is None else self.told.by_id[at])

    def _basics(self, name: str, view: _View) -> _Basics:
        # Of the releases before which it is looked at, a sheet knows those that start it again.
        return self._read(name, view.besides & self._starting(name))

    def _read_basics(self, name: str, besides: Set[str]) -> _Basics:
        sheet = self.told.sheets[name]
        steps = self.job["tasks"][sheet["task"]]["steps"]
        said = self.told.sheet(name, besides)
        readings = {
            step: {"text": given.answer["value"], "unit": given.answer["unit"]}
            for step, given in said.steps.items() if given.answer and given.answer["kind"] == "reading"
        } | said.measured
        environment = self.environment_for(sheet, readings)
        states = _in_turn(steps, {step["name"]: _state(step, said.steps[step["name"]], environment) for step in steps})
        return _Basics(sheet, steps, said, environment, states)

    def _hold(self, name: str, view: _View, hold: str) -> HoldState:
        asked = (name, view, hold)
        if asked not in self._holds:
            # A hold that is asked for while it is being worked out needs itself, and is not in force.
            self._holds[asked] = HoldState()
            self._holds[asked] = self._read_hold(name, view, hold)
        return self._holds[asked]

    def _read_hold(self, name: str, view: _View, hold: str) -> HoldState:
        basics = self._basics(name, view)
        given = basics.said.steps[hold]
        released = given.state == "answered"
        blocks: list[Block] = []
        for step in basics.steps:
            if step["name"] == hold:
                break
            blocks += self._blocks(name, view, step)
            answered = basics.states[step["name"]].state in ("answered", "aside")
            if released and answered and not self._is_seen(basics, step, given.heads):
                blocks.append(Block("step", name, step["name"], say("block.again", step=step["say"])))
            blocks += _snag_blocks(basics, (step["name"],))
        blocks += _gap_blocks(basics) + _snag_blocks(basics, (None, hold)) + self._stop_blocks(basics, hold)
        if given.state == "conflict":
            blocks.append(Block("conflict", name, hold, say("block.releases_differ", step=_step(basics.steps, hold)["say"])))
        if released and _step(basics.steps, hold).get("signed") and not _is_signed(given.answer, basics.said.signatures):
            blocks.append(Block("signature", name, hold, say("block.not_signed", step=_step(basics.steps, hold)["say"])))
        if asked := basics.sheet.get("locks", {}).get(hold):
            blocks += lock_blocks(asked, self.boards(view.at), (name, hold), given.heads if released else None)
        # What this hold ended by its release, it needed before and not after.
        if basics.sheet.get("ends", {}).get(hold):
            view = replace(view, besides=view.besides | {one["id"] for one in self.told.releases(name, hold)})
        for need in basics.sheet.get("needs", {}).get(hold, []):
            blocks += self._need_blocks(need, name, view, given.heads if released and not view.closed else None)
        return HoldState(released, released and not blocks, tuple(blocks))

    def _blocks(self, name: str, view: _View, step: dict) -> list[Block]:
        """What one step puts in the way of everything behind it."""
        def block(kind: str, place: str) -> list[Block]:
            return [Block(kind, name, step["name"], say(f"block.{place}", step=step["say"], reason=now.reason))]

        now = self._basics(name, view).states[step["name"]]
        if now.state == "not-applying":
            return []
        if now.state == "waiting":
            return block("step", "may_apply")
        if now.state == "conflict":
            return block("conflict", "differ")
        if step["kind"] == "hold":
            return [] if self._hold(name, view, step["name"]).in_force else block("hold", "not_released")
        if now.state in ("open", "shut"):
            return block("step", "not_answered")
        if now.verdict == "outside":
            return block("verdict", "outside")
        if now.verdict == "cant-tell":
            return block("verdict", "cant_tell")
        if now.lacks_photo:
            return block("photo", "no_photo")
        return []

    def _need_blocks(
        self, need: dict, name: str, view: _View, released_by: list[Fields] | None
    ) -> list[Block]:
        """What keeps a need from being met. A closed sheet stands as it was when it was closed."""
        closing = self._closing(need["sheet"], view.at)
        if closing:
            view = replace(closing, besides=view.besides | closing.besides)
        basics = self._basics(need["sheet"], view)
        title = self.job["tasks"][basics.sheet["task"]]["title"]

        def block(place: str) -> list[Block]:
            what = say(f"block.{place}", step=need["hold"] and _step(basics.steps, need["hold"])["say"])
            return [Block("need", need["sheet"], need["hold"], say("block.elsewhere", what=what, task=title, item=basics.sheet["item"]))]

        if need["hold"]:
            if basics.states[need["hold"]].state == "not-applying":
                return []
            if not self._hold(need["sheet"], view, need["hold"]).in_force:
                return block("not_in_force")
            if released_by and not self._covered(basics.said.steps[need["hold"]].heads, released_by):
                return block("released_again")
            return []
        # A hold that needs its own sheet needs the steps before it, which it looks at anyway.
        if need["sheet"] == name:
            return []
        if closing is None:
            return block("not_closed")
        if released_by and not self._all_covered(basics, released_by):
            return block("worked_again")
        return []

    def _left(self, name: str, view: _View) -> list[Block]:
        basics = self._basics(name, view)
        blocks = [block for step in basics.steps for block in self._blocks(name, view, step)]
        return blocks + _gap_blocks(basics) + _snag_blocks(basics) + self._stop_blocks(basics)

    def _stop_blocks(self, basics: _Basics, hold: str | None = None) -> list[Block]:
        """A pull that stands stopped: nothing behind its gate goes on before somebody says so."""
        names = [step["name"] for step in basics.steps]
        pull_day = self.job["tasks"][basics.sheet["task"]].get("pull_day")
        if not pull_day or (hold and names.index(hold) <= names.index(pull_day["after"])):
            return []
        return [
            Block("stop", basics.sheet["id"], None, say("block.stopped", who=stop["who"])) for stop in basics.said.stops
        ]

    def _all_covered(self, basics: _Basics, by: list[Fields]) -> bool:
        return all(
            basics.states[step["name"]].state == "not-applying" or self._is_seen(basics, step, by) for step in basics.steps
        )

    def _is_seen(self, basics: _Basics, step: dict, by: list[Fields]) -> bool:
        """Had one of these seen what stands at a step, and the photo where one is needed?"""
        said = basics.said.steps[step["name"]]
        photo_needed = _needs_photo(step, basics.states[step["name"]])
        return self._covered(said.heads, by) and (not photo_needed or self._covered(said.photos, by))

    def _closing(self, name: str, at: str | None = None) -> _View | None:
        """
        How a closed sheet is looked at: before the releases that started others again since. None: not closed.

        A sheet is closed when its closing left nothing open and has seen all that was said. What it says of locks
        was so when it was closed; a sheet of the point itself says how the point stands now.
        """
        if (name, at) not in self._closings:
            # A sheet that is asked about while its closing is worked out is not closed.
            self._closings[name, at] = None
            for close in self._basics(name, _NOW).said.closes:
                again = self.told.starting_again()
                later = frozenset(release["id"] for release in again if not self.told.past(release, close))
                of_point = self.told.sheets[name]["kind"] == "isolation"
                view = _View(later, closed=True, at=at if of_point else close["id"])
                if not self._left(name, view) and self._all_covered(self._basics(name, view), [close]):
                    self._closings[name, at] = view
                    break
        return self._closings[name, at]

    def _rests(self, name: str) -> bool:
        """A sheet that was started again rests while all that needs it is closed, or rests itself."""
        if name not in self._resting:
            # What is asked about while it is worked out hangs on itself alone.
            self._resting[name] = True
            said = self._basics(name, _NOW).said
            self._resting[name] = not said.begun and said.round > 1 and all(
                self._closing(other) is not None or self._rests(other) for other in self._dependents[name]
            )
        return self._resting[name]

    def _sheet(self, name: str) -> SheetState:
        closing = self._closing(name)
        view = closing or _NOW
        basics = self._basics(name, view)
        left = self._left(name, view)
        blocking = {block.step for block in left}
        following = next((step for step in basics.steps if step["name"] in blocking), None)
        holds = {
            step["name"]: self._hold(name, view, step["name"]) for step in basics.steps if step["kind"] == "hold"
        }
        return SheetState(
            sheet=name,
            state=_sheet_state(basics.said.begun, left, following, closing is not None, lambda: self._rests(name)),
            round=basics.said.round,
            next=following and following["name"],
            steps=_shown(basics, holds),
            holds=holds,
            snags=basics.said.snags,
            photos=basics.said.photos,
            signatures=basics.said.signatures,
            left=left,
            uncounted=basics.said.uncounted,
            environment=basics.environment,
            pulled=basics.said.measured,
            stops=basics.said.stops,
        )


def _shown(basics: _Basics, holds: dict[str, HoldState]) -> dict[str, StepState]:
    """Steps as the sheet shows them: shut behind a hold that is not in force."""
    shown, shut = {}, False
    for name, now in basics.states.items():
        applies = now.state != "not-applying"
        if shut and applies:
            now = replace(now, state="shut")
        if name in holds and applies and not holds[name].in_force:
            if now.state == "answered":
                now = replace(now, state="open")
            shut = True
        shown[name] = now
    return shown


def _in_turn(steps: list[dict], states: dict[str, StepState]) -> dict[str, StepState]:
    """A step that comes after others is shut until each of them that applies is answered, and not outside."""
    for step in steps:
        now, before = states[step["name"]], [states[name] for name in step.get("after", [])]
        passed = all(one.state in ("answered", "aside", "not-applying") and one.verdict in (None, "within") for one in before)
        if now.state != "not-applying" and not passed:
            states[step["name"]] = replace(now, state="shut", verdict=None, reason="")
    return states


def _state(step: dict, given: Answer, environment: Any) -> StepState:
    asked = environment.step(step["name"])
    said = (given.answer, given.heads, given.earlier, _needs_photo(step, given) and not given.photos)
    if asked["applies"] is False:
        return StepState("not-applying", None, asked["applies_reason"], *said)
    if asked["applies"] is None:
        return StepState("waiting", None, asked["applies_reason"], *said)
    if given.state != "answered" or step["kind"] != "read":
        return StepState(given.state, None, "", *said)
    if step["name"] not in environment.readings:
        reason = say("reading.not_believed", reading=given.answer["value"])
        return StepState(given.state, "cant-tell", reason, *said)
    return StepState(given.state, asked["verdict"], asked["reason"], *said)


def _needs_photo(step: dict, given: Answer | StepState) -> bool:
    """Set aside, a step asks for no photo."""
    return step.get("photo") == "needed" and given.state == "answered"


def _is_signed(release: Fields, signatures: list[Fields]) -> bool:
    """Signed by the person who released."""
    return any(one["about"] == [release["id"]] and one["who"] == release["who"] for one in signatures)


def _dependents(sheets: list[dict]) -> dict[str, list[str]]:
    """Sheet → the sheets that need it, its own apart."""
    dependents: dict[str, list[str]] = {sheet["id"]: [] for sheet in sheets}
    for sheet in sheets:
        for needs in sheet.get("needs", {}).values():
            for need in needs:
                if need["sheet"] != sheet["id"] and need["sheet"] in dependents:
                    dependents[need["sheet"]].append(sheet["id"])
    return dependents


def _sheet_state(begun: bool, left: list[Block], following: dict | None, closed: bool, rests: Callable[[], bool]) -> str:
    if not left:
        return "closed" if closed else "worked"
    if not begun:
        return "rests" if rests() else "not-started"
    return "held" if following and following["kind"] == "hold" else "in-hand"


def _snag_blocks(basics: _Basics, steps: tuple | None = None) -> list[Block]:
    """Open snags of these steps, or of all. None is the sheet as a whole, and any step that it has no more."""
    names = {step["name"] for step in basics.steps}
    return [
        Block("snag", basics.sheet["id"], snag.entry["step"], say("block.snag", who=snag.entry["who"], words=snag.entry["value"]))
        for snag in basics.said.snags if not snag.closed
        and (steps is None or (snag.entry["step"] if snag.entry["step"] in names else None) in steps)
    ]


def _gap_blocks(basics: _Basics) -> list[Block]:
    """Something was said here that can't be judged: the entries before it have not come."""
    if not basics.said.gaps:
        return []
    who = ", ".join(dict.fromkeys(entry["who"] for entry in basics.said.gaps))
    return [Block("step", basics.sheet["id"], None, say("block.gap", who=who))]


def _step(steps: list[dict], wanted: str) -> dict:
    return next(step for step in steps if step["name"] == wanted)
