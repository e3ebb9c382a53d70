"""A job of any size, made up for measuring: as many sheets and steps as asked, with every kind of step."""

from dataclasses import dataclass
from pathlib import Path

import yaml

_TASKS = 10
_STEPS_PER_TASK = 40


@dataclass(frozen=True)
class BigJob:
    """What was written, and where."""

    path: Path
    sheets: int
    steps: int


def write_big_job(folder: Path, runs: int) -> BigJob:
    """A job with one library of ten tasks of forty steps, worked on each of `runs` runs."""
    _write(folder / "measured.yaml", _library())
    path = folder / "job.yaml"
    _write(path, _job(runs))
    return BigJob(path, runs * _TASKS, runs * _TASKS * _STEPS_PER_TASK)


def _write(path: Path, what: dict) -> None:
    path.write_text(yaml.safe_dump(what, sort_keys=False, allow_unicode=True), encoding="utf-8")


def _library() -> dict:
    return {
        "library": "measured",
        "title": "Made up for measuring",
        "order": 1,
        "for_each": "run",
        "cautions": {"hands": {"say": "Hands off the cable where it goes into conduit.", "basis": "practice"}},
        "tasks": [_task(number) for number in range(_TASKS)],
    }


def _task(number: int) -> dict:
    return {
        "task": f"part-{number}",
        "title": f"Part {number} of the pull",
        "cautions": ["hands"],
        "workings": {
            "needed": {
                "title": "Cable needed",
                "formula": "cable_length_needed",
                "with": {
                    "route_length": "walked",
                    "tail_start": "run.tail_start",
                    "tail_end": "run.tail_end",
                    "slack": "slack_agreed",
                },
            }
        },
        "steps": [_step(number, index) for index in range(_STEPS_PER_TASK)],
    }


def _step(number: int, index: int) -> dict:
    if index == 0:
        return _reading("walked", "Measure the route with the wheel, pit to pit.", "m", "1 to 2000")
    if index == 1:
        return _reading("slack-agreed", "Enter the extra length agreed, as a share of the route.", "1", "0 to 1")
    if index == _STEPS_PER_TASK - 1:
        return {
            "hold": f"part-{number}-released",
            "say": "Route proven, bends and numbers agreed, people placed, signals agreed.",
            "released_by": "supervisor",
        }
    say = f"Walk section {index} of part {number} from pit to pit, **both sides**, and look for sharp edges."
    why = f"An edge in section {index} cuts the jacket, and nobody sees it until the test."
    if index % 4 == 0:
        reading = _reading(f"section-{index}", f"Measure the cut length over section {index}.", "m", "1 to 2000")
        return reading | {"working": "needed", "accept": f"section_{index} >= needed.length"}
    return {("look" if index % 4 == 1 else "do"): f"section-{index}", "say": say, "why": why}


def _reading(name: str, say: str, unit: str, plausible: str) -> dict:
    return {
        "read": name,
        "say": say,
        "why": "Numbers from the plan are not the ground.",
        "unit": unit,
        "plausible": plausible,
    }


def _job(runs: int) -> dict:
    return {
        "job": "measured",
        "title": "Made up for measuring",
        "place": "Nowhere",
        "client": "Nobody",
        "practice": "iec",
        "libraries": ["measured"],
        "people": [{"name": "Ada Quill", "role": "supervisor"}, {"name": "Bo Tarn", "role": "crew"}],
        "cables": [_CABLE],
        "runs": [_run(number) for number in range(1, runs + 1)],
    }


_CABLE = {
    "cable": "AL300",
    "title": "Al 1 × 300",
    "conductor": "aluminium",
    "stranding": "stranded",
    "area": "300 mm2",
    "cores": 1,
    "construction": "unarmoured",
    "jacket": "pe",
    "insulation": "xlpe",
    "diameter": "29.5 mm",
    "mass": "1.24 kg/m",
    "rated_voltage": "1000 V",
}


def _run(number: int) -> dict:
    return {
        "run": f"R{number}",
        "title": f"Board {number}, conduit 1",
        "cable": "AL300",
        "number": 3,
        "arrangement": "cradled",
        "way": "conduit",
        "bore": "103 mm",
        "conduit": "pvc",
        "lubricated": True,
        "pulled_by": "winch",
        "route": [
            {"shape": "straight", "length": f"{20 + number} m", "slope": "0 deg"},
            {"shape": "bend_level", "turn": "60 deg", "radius": "1.5 m"},
            {"shape": "straight", "length": "46 m", "slope": "0 deg"},
        ],
        "tail_start": "2.5 m",
        "tail_end": "3.5 m",
        "load_current": "375 A",
        "system": "ac3",
        "voltage": "400 V",
        "grip": "eye",
        "isolations": [],
    }
