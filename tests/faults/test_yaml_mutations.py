"""The project's own files, spoiled at random: each builds, or says where it is wrong; nothing ever falls over."""

import random
import shutil
from pathlib import Path

import pytest

from builder.check import everything
from builder.check.everything import checked_job
from builder.load.problems import BadInput
from builder.places import CHECKLISTS

SIGNS = "\t:-[]{}#&*!|>'\"%@`,?= \n0123456789abcxyz_°ΩÀ\u200b"


def _spoiled(text: str, chance: random.Random) -> str:
    """One slip of the kind that hands and editors make."""
    lines = text.split("\n")
    at = chance.randrange(len(lines))
    kind = chance.randrange(7)
    if kind == 0:
        del lines[at]
    elif kind == 1:
        lines.insert(at, lines[chance.randrange(len(lines))])
    elif kind == 2:
        lines[at] = " " * chance.randrange(9) + lines[at].lstrip()
    elif kind == 3:
        other = chance.randrange(len(lines))
        lines[at], lines[other] = lines[other], lines[at]
    elif kind == 4 and lines[at]:
        place = chance.randrange(len(lines[at]))
        lines[at] = lines[at][:place] + chance.choice(SIGNS) + lines[at][place + 1 :]
    elif kind == 5 and lines[at]:
        place = chance.randrange(len(lines[at]))
        lines[at] = lines[at][:place] + chance.choice(SIGNS) + lines[at][place:]
    else:
        return "\n".join(lines)[: chance.randrange(len(text)) + 1]
    return "\n".join(lines)


def test_a_spoiled_file_is_built_or_named_with_its_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, full: bool
) -> None:
    """Every problem has a file, a line and a column of that file; no other exception ever comes out."""
    seed = random.randrange(2**32)
    print(f"seed {seed}")
    chance = random.Random(seed)
    folder = tmp_path / "checklists"
    shutil.copytree(CHECKLISTS, folder)
    monkeypatch.setattr(everything, "CHECKLISTS", folder)
    monkeypatch.setattr(everything, "TABLES", folder / "tables")
    monkeypatch.setattr(everything, "SOURCES", folder / "sources.yaml")
    files = sorted(path for path in folder.rglob("*.yaml"))
    refused = 0
    for number in range(2000 if full else 25):
        path = chance.choice(files)
        before = path.read_text(encoding="utf-8")
        path.write_text(_spoiled(before, chance), encoding="utf-8")
        try:
            checked_job(folder / "demo" / "job.yaml")
        except BadInput as bad:
            refused += 1
            for problem in bad.problems:
                lines = Path(problem.file).read_text(encoding="utf-8").split("\n")
                assert 1 <= problem.line <= len(lines) + 1, (number, path.name, problem)
                assert problem.column >= 1, (number, path.name, problem)
                assert problem.text, (number, path.name, problem)
        except Exception as fault:
            pytest.fail(f"mutation {number} of {path.name}, seed {seed}: {type(fault).__name__}: {fault}")
        finally:
            path.write_text(before, encoding="utf-8")
    assert refused > 0, "not one of the slips was noticed"
