"""The supervisor's guide keeps its promises: its files pass the checker, its tables are complete."""

import re
import types
import typing
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel
from pydantic.fields import FieldInfo

from builder.check import job as jobs
from builder.check import library as libraries
from builder.check import overlay as overlays
from builder.check.everything import checked_job
from builder.check.job import Measured, WordOf
from builder.check.library import Role
from builder.check.placed import placed_tasks
from builder.check.references import refers_to
from builder.check.scope import table_kinds, task_scope
from builder.check.shape import shaped
from builder.check.tables import as_data, read_sources, read_tables
from builder.compile.catalogue import formula_signatures
from builder.compile.expression import check_expression
from builder.compile.kinds import Scope
from builder.compile.language import FUNCTIONS
from builder.compile.refusal import Refused
from builder.load.document import read_document
from builder.load.problems import BadInput
from builder.places import CHECKLISTS, SOURCES, TABLES
from builder.quantity import units
from builder.record.standing import may_release

GUIDE = (CHECKLISTS / "README.md").read_text(encoding="utf-8")
FILES = dict(re.findall(r"^```yaml\n# (\S+\.yaml)\n(.*?)^```", GUIDE, re.M | re.S))
EXPRESSIONS = re.findall(r"^```text\n(.*?)^```", GUIDE, re.M | re.S)
CALLED = re.findall(r"`([^`\n]+)`", re.sub(r"^```.*?^```", "", GUIDE, flags=re.M | re.S))
PARTS_OF_A_JOB = [
    part for part in vars(jobs).values()
    if isinstance(part, type) and issubclass(part, libraries.Part) and part.__module__ == jobs.__name__
]
ROLES = typing.get_args(Role)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The guide's own job, with its library and overlay beside it."""
    for name, text in FILES.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    return tmp_path


def test_the_guide_s_job_library_and_overlay_pass_the_checker(folder: Path) -> None:
    """What a supervisor copies out of the guide works as it stands, and does what the guide says."""
    data = checked_job(folder / "job.yaml")
    sheets = {sheet["id"]: sheet for sheet in data["sheets"]}
    assert "haul-road/shut-the-road/T1" in sheets
    assert [{"sheet": "trenching/find-services/T1", "hold": "services-found"}] == sheets["haul-road/shut-the-road/T1"]["needs"]["road-is-ours"]
    assert {"house"} == {step["added_by"] for step in data["tasks"]["trenching/open-trench"]["steps"] if step["name"] == "gas-watch"}
    asked = {step["name"]: step for step in data["tasks"]["haul-road/shut-the-road"]["steps"]}
    assert ("needed", True) == (asked["barrier"]["photo"], asked["road-shut"]["signed"])
    assert not {"photo", "signed"} & asked["detour"].keys()
    values = data["tables"]["trenching-policy"]["values"]
    assert {"surround", "bedding"} <= {name for name, value in values.items() if "changed" in value}


def test_the_guide_s_library_with_locks_passes_the_checker(folder: Path) -> None:
    """Locks on, proved in order, locks off: worked for a point that the job gains."""
    point = ("isolations:\n  - {isolation: lamps, title: Yard lamps, where: Gate, of: supply, system: ac, voltage: 230 V, "
             "lock_points: 1, can_be_made_dead: true}\n")
    job = (folder / "job.yaml").read_text(encoding="utf-8").replace("haul-road]", "haul-road, lamp-feeder]") + point
    (folder / "job.yaml").write_text(job, encoding="utf-8")
    data = checked_job(folder / "job.yaml")
    [sheet] = [one for one in data["sheets"] if one["item"] == "lamps"]
    assert {"may-change": {"want": "on", "points": ["lamps"]}, "lit": {"want": "off", "points": ["lamps"]}} == sheet["locks"]
    assert ["tester", "dead"] == next(step["after"] for step in data["tasks"][sheet["task"]]["steps"] if step["name"] == "tester-again")


@pytest.mark.parametrize(("old", "new", "code"), [
    ("length: 24 m", "length: 24", "UNIT-01"), ("length: 24 m", "length: 24 kg", "UNIT-02"), ("    because: Crushed", "    x: Crushed", "SHAPE-01"),
    ("    agreed_by: Ada Quill\n", "", "OVER-02"), ("plate_width >= ", "plate_with >= ", "EXPR-02"),
])
def test_a_slip_in_the_guide_s_files_is_found(folder: Path, old: str, new: str, code: str) -> None:
    """The checker really looks at them: one wrong word, and it speaks."""
    path = next(path for path in folder.iterdir() if old in path.read_text(encoding="utf-8"))
    path.write_text(path.read_text(encoding="utf-8").replace(old, new, 1), encoding="utf-8")
    with pytest.raises(BadInput) as bad:
        checked_job(folder / "job.yaml")
    assert code in {problem.code for problem in bad.value.problems}


def _scope(folder: Path) -> Scope:
    document = read_document(folder / "haul-road.yaml")
    task = placed_tasks(shaped(document, libraries.Library), document)[0]
    sources, _ = read_sources(SOURCES)
    tables = {name: as_data(placed, sources) for name, placed in read_tables(TABLES, sources)[0].items()}
    return task_scope(task, table_kinds(tables), formula_signatures())


def _lines(block: str) -> Iterator[str]:
    yield from (line.split("   ")[0].strip() for line in block.splitlines() if line.strip())


def test_every_expression_of_the_guide_is_one(folder: Path) -> None:
    """Each line of the first list is in the language and names what its task knows; none of the second is."""
    scope = _scope(folder)
    good, bad = EXPRESSIONS
    for line in _lines(good):
        check_expression(line, scope)
    for line in _lines(bad):
        with pytest.raises(Refused):
            check_expression(line, scope)


def test_every_function_of_the_language_is_in_the_guide() -> None:
    """Nobody has to find a function in the source."""
    assert [] == [name for name in FUNCTIONS if f"{name}(" not in EXPRESSIONS[0]]


def _takes(info: FieldInfo) -> str:
    """What a field takes, as the guide's tables put it."""
    parts = [*info.metadata, info.annotation]
    if word_of := next((part for part in parts if isinstance(part, WordOf)), None):
        return f"`{word_of.key}` of table `{word_of.table}`"
    annotation = info.annotation
    if typing.get_origin(annotation) in (typing.Union, types.UnionType):
        annotation = next(one for one in typing.get_args(annotation) if one is not type(None))
    if typing.get_origin(annotation) is typing.Annotated:
        parts, annotation = [*parts, *annotation.__metadata__], typing.get_args(annotation)[0]
    if measured := next((part for part in parts if isinstance(part, Measured)), None):
        return f"like `{measured.symbol}`" if measured.symbol != "1" else "number or `%`"
    if typing.get_origin(annotation) is list:
        inner = typing.get_args(annotation)[0]
        if target := refers_to([inner]):
            return f"names: {target}"
        return f"list: {inner.__name__.lower()}" if isinstance(inner, type) and issubclass(inner, BaseModel) else "list of names"
    if target := refers_to(parts):
        return f"name: {target}"
    if typing.get_origin(annotation) is typing.Literal:
        return ", ".join(f"`{word}`" for word in typing.get_args(annotation))
    return {bool: "`true`, `false`", int: "whole number"}.get(annotation, "text")


def field_rows(part: type[BaseModel]) -> list[tuple[str, str, str]]:
    """Field, what it takes, and whether it must be there."""
    return [(f"`{name}`", _takes(info), "yes" if info.is_required() else "") for name, info in part.model_fields.items()]


@pytest.mark.parametrize("part", PARTS_OF_A_JOB, ids=lambda part: part.__name__)
def test_every_field_of_a_job_is_in_the_guide(part: type[BaseModel]) -> None:
    """Field by field: what it takes and whether it must be there, as the model has it, and what it is for."""
    section = re.search(rf"^\*\*{part.__name__}\*\*.*?\n\n((?:\|.*\n)+)", GUIDE, re.M)
    rows = [[cell.strip() for cell in row.strip("|").split(" | ")] for row in section[1].splitlines()[2:]]
    assert field_rows(part) == [tuple(row[:3]) for row in rows]
    assert all(row[3].rstrip(" |") for row in rows)


@pytest.mark.parametrize("module", [libraries, overlays], ids=["library", "overlay"])
def test_every_key_of_libraries_and_overlays_is_in_the_guide(module: Any) -> None:
    """Each key that a library or an overlay may have is told in the guide's text."""
    parts = [part for part in vars(module).values() if isinstance(part, type) and issubclass(part, libraries.Part)]
    keys = {info.alias or name for part in parts for name, info in part.model_fields.items()}
    told = {word for called in CALLED for word in re.findall(r"[a-z_]+", called)}
    assert set() == keys - told


def test_the_guide_says_who_may_release_what() -> None:
    """The table of roles is the one that the record is judged by."""
    rows = dict(re.findall(r"^\| `([a-z-]+)` \| ((?:`[a-z-]+`(?:, )?)+) \|$", GUIDE, re.M))
    expected = {asked: [role for role in ROLES if may_release(role, asked)] for asked in ROLES}
    assert expected == {asked: re.findall(r"`([a-z-]+)`", rows[asked]) for asked in ROLES}


def test_every_unit_is_in_the_guide() -> None:
    """The list of units is the one that the reader of quantities knows, by what they measure."""
    rows = dict(re.findall(r"^\| ([a-z ]+) \| (`[^|]+`) \|$", GUIDE.split("## Units")[1], re.M))
    expected: dict[str, list[str]] = {}
    for symbol, of in units().items():
        expected.setdefault(str(of.dimension), []).append(symbol)
    assert expected == {kind: re.findall(r"`([^`]+)`", symbols) for kind, symbols in rows.items()}
