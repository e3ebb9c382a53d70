"""
Every working and acceptance again, from the raw readings, held against what the phone showed.

A reading carries what its screen said: `shown: {verdict, working: {working: {output: text}}}`, an empty
working where the phone could not tell. Here the same is worked out from the readings that the phone held at
that moment.
"""

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from math import inf
from typing import Any, NamedTuple

from builder.compile.believed import believable
from builder.compile.catalogue import signature_data
from builder.compile.evaluate import Environment
from builder.compile.pull_readings import is_measured, pull_reading
from builder.record.answers import Answers
from builder.record.entry_kinds import ANSWERING, WITH_UNIT
from builder.record.payload import Fields
from builder.record.pull_day import measured_in


class Difference(NamedTuple):
    """What does not agree about one reading, as a sentence."""

    id: str
    sheet: str
    step: str
    say: str


def environment_for(job: dict) -> Callable[[dict, dict], Environment]:
    """For `Progress`: a sheet's environment from its readings as typed; what can't be believed is left out."""
    def environment(sheet: dict, readings: Mapping[str, Mapping[str, Any]]) -> Environment:
        task = job["tasks"][sheet["task"]]
        steps = {step["name"]: step for step in task["steps"]}
        believed = {}
        for name, reading in readings.items():
            if name not in steps:
                # A wrong one is kept: without it the pull would look the better.
                believed[name] = pull_reading(task["pull_day"], name, reading)
                continue
            read = believable(task, steps[name], reading["text"], reading["unit"])
            if "reason" not in read:
                believed[name] = read
        return Environment(job, sheet, believed)

    return environment


def shown(environment: Environment, step: dict) -> dict[str, Any]:
    """What a screen says beside a reading of this step."""
    return {"verdict": environment.step(step["name"])["verdict"], "working": _texts(environment, step["workings"])}


def shown_on_pull(environment: Environment, pull_day: dict) -> dict[str, Any]:
    """What the pull's screen says once something was measured."""
    return {"verdict": None, "working": _texts(environment, [pull_day["call"]])}


def _texts(environment: Environment, workings: Sequence[str]) -> dict[str, dict[str, str]]:
    working = {}
    for name in workings:
        worked = environment.working(name)
        outputs = {} if worked["cannot_tell"] else worked["outputs"]
        working[name] = {output: value["text"] for output, value in outputs.items()}
    return working


class Recomputing:
    """The readings of a job, worked out again with the job as it was built when they were taken."""

    def __init__(self, job: dict, told: Answers):
        self.job, self.told = job, told
        self.environment_for = environment_for(job)
        formulas = signature_data()
        self.unknown = {
            name: missing for name, task in job["tasks"].items()
            if (missing := [work["formula"] for work in task["workings"].values() if work["formula"] not in formulas])
        }

    def differences(self, sheet_name: str, build: str) -> Iterator[Difference]:
        """What does not agree on this sheet, among the readings taken under this build."""
        sheet = self.told.sheets.get(sheet_name)
        said = self.told.by_sheet.get(sheet_name, [])
        readings = [entry for entry in said if entry["kind"] in WITH_UNIT and entry["build"] == build]
        if not readings:
            return
        steps = {step["name"]: step for step in self.job["tasks"][sheet["task"]]["steps"]} if sheet else {}
        seen = _Seen(self.told, sheet_name)
        for entry in readings:
            step = steps.get(entry["step"])
            measured = entry["kind"] == "measured"
            if not self.told.counts(entry) if measured else step is None or step["kind"] != "read":
                say = "The sheets of its build have no such reading to take."
            elif sheet["task"] in self.unknown:
                say = f"Can't tell: formula `{self.unknown[sheet['task']][0]}` is not known here any more."
            else:
                say = self._difference(sheet, step, entry, seen)
            if say:
                yield Difference(entry["id"], sheet_name, entry["step"], say)

    def _difference(self, sheet: dict, step: dict | None, entry: Fields, seen: "_Seen") -> str:
        task = self.job["tasks"][sheet["task"]]
        given = {"text": entry["value"], "unit": entry["unit"]}
        if step is None:
            refused = pull_reading(task["pull_day"], entry["step"], given).get("refused")
        else:
            refused = believable(task, step, entry["value"], entry["unit"]).get("reason")
        if refused:
            return f"The reading `{entry['value']}` can't be believed. {refused}"
        if entry["shown"] is None:
            return ""
        if step is None:
            again = shown_on_pull(self.environment_for(sheet, seen.by(entry)), task["pull_day"])
        else:
            again = shown(self.environment_for(sheet, seen.by(entry) | {step["name"]: given}), step)
        return _compared(task, entry["shown"], again)


def _compared(task: dict, claimed: dict[str, Any], again: dict[str, Any]) -> str:
    if claimed["verdict"] != again["verdict"]:
        return f"The phone showed {_verdict(claimed)}; worked out again it is {_verdict(again)}."
    for name in sorted(claimed["working"].keys() | again["working"].keys()):
        phone, desk = claimed["working"].get(name), again["working"].get(name)
        if phone != desk:
            title = task["workings"].get(name, {}).get("title", name)
            return f"The phone showed “{title}” as {_outputs(phone)}; worked out again it is {_outputs(desk)}."
    return ""


def _verdict(showing: dict[str, Any]) -> str:
    return {None: "no verdict", "cant-tell": "can't tell"}.get(showing["verdict"], showing["verdict"])


def _outputs(outputs: dict[str, str] | None) -> str:
    if outputs is None:
        return "nothing"
    return ", ".join(f"{name.replace('_', ' ')} {text}" for name, text in outputs.items()) or "can't tell"


class _Seen:
    """The readings of a sheet as the phone that wrote an entry held them."""

    def __init__(self, told: Answers, sheet: str):
        self.told, self.sheet = told, sheet
        self.steps: dict[str, dict[str, list[Fields]]] = defaultdict(lambda: defaultdict(list))
        for entry in told.by_sheet[sheet]:
            if told.counts(entry) and entry["step"] is not None and entry["kind"] in ANSWERING:
                self.steps[entry["step"]][entry["dev"]].append(entry)
        self.numbers = {
            (step, dev): [entry["seq"] for entry in said]
            for step, by_dev in self.steps.items() for dev, said in by_dev.items()
        }

    def by(self, entry: Fields) -> dict[str, dict[str, Any]]:
        """Step → {text, unit} of the readings that stood before this entry; what is measured on a pull, with it."""
        started = [release for release in self.told.starting(self.sheet) if self.told.past(release, entry)]
        readings: dict[str, dict[str, Any]] = {}
        for step in self.steps:
            if is_measured(step):
                continue
            said = [
                one for one in self._held(step, entry) if all(self.told.past(release, one) for release in started)
            ]
            answer = self.told.answer(said).answer
            if answer and answer["kind"] == "reading":
                readings[step] = {"text": answer["value"], "unit": answer["unit"]}
        measured = [
            one for step, by_dev in self.steps.items() if is_measured(step) for said in by_dev.values() for one in said
            if (one is entry or self.told.past(one, entry)) and all(self.told.past(release, one) for release in started)
        ]
        return readings | measured_in(self.told, sorted(measured, key=lambda one: (one["dev"], one["seq"], one["id"])))

    def _answers_over(self, entry: Fields) -> bool:
        """Whether nothing that its device said before it can still stand: a settle may choose it again."""
        if entry["kind"] == "withdraw":
            taken_back = self.told.by_id.get(entry["about"][0])
            return taken_back is not None and taken_back["kind"] in ANSWERING
        return entry["kind"] != "settle"

    def _held(self, step: str, entry: Fields) -> list[Fields]:
        """What can still stand: of each device its newest answer held, and all that settles and withdrawals name."""
        held = {}
        for dev, known in (*entry["seen"].items(), (entry["dev"], entry["seq"] - 1)):
            said = self.steps[step].get(dev)
            if said is None:
                continue
            forked = self.told.forks.get(dev, inf)
            for one in reversed(said[:bisect_right(self.numbers[step, dev], known)]):
                if self.told.past(one, entry):
                    held[one["id"]] = one
                    if self._answers_over(one) and one["seq"] < forked:
                        break
        named = [one for entry_held in held.values() for one in entry_held["about"]]
        while named:
            one = self.told.by_id.get(named.pop())
            if one and one["id"] not in held and one["step"] == step and self.told.past(one, entry):
                held[one["id"]] = one
                named.extend(one["about"])
        return sorted(held.values(), key=lambda one: (one["dev"], one["seq"], one["id"]))
