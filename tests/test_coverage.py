"""Every hazard has a control and a hold, every line of a published order a step, and the tables say no more."""

from pathlib import Path

import pytest

from builder import coverage as module
from builder.coverage import FIRM, FOLDER, coverage, coverage_tables
from builder.load.problems import BadInput

WANTED = {
    "buried-services", "collapse", "pinch-and-rope", "manual-handling", "stored-energy", "back-feed", "arc", "shock",
    "wrong-phase", "loose-joint", "heat-and-fire", "lifting", "traffic", "water", "bad-air", "overhead-lines", "weather",
    "fall-from-height", "hot-work", "cell-gas-and-smoke", "bad-ground", "people-from-outside", "noise-and-dust", "machine-starts",
}


def test_no_hazard_of_the_trade_is_left_out() -> None:
    """What kills electrical crews from first dig to live is on the list."""
    assert WANTED == set(coverage().hazards)


def test_no_hazard_is_met_by_clothing_alone_or_without_a_hold() -> None:
    """Each has a control that does not hang on what people wear, and a point where the job stops."""
    bare = [name for name, hazard in coverage().hazards.items()
            if not hazard.holds or not any(getattr(hazard, level) for level in FIRM)]
    assert [] == bare


def test_the_document_is_what_the_command_prints() -> None:
    """Nobody can claim more than the steps bear."""
    text = (FOLDER / "README.md").read_text(encoding="utf-8")
    assert text.endswith(coverage_tables(coverage()))


@pytest.mark.parametrize(
    ("file", "old", "new", "said"),
    [
        ("hazards.yaml", "trenching/find-services/expose", "trenching/find-services/exposed", "there is no step"),
        ("hazards.yaml", "holds: [setting-up/brief/briefed]", "holds: [setting-up/brief/storm]", "is no hold"),
        ("hazards.yaml", "    procedure: [setting-up/brief/air-temperature, setting-up/brief/storm-plan, placing/set-it-down/wind-now]\n", "",
         "nothing but clothing stands against `weather`"),
        ("sequences.yaml", "[lock-out/lock-off/load-off]}\n      - {line: Isolate", "[lock-out/prove-dead/phase-to-phase]}\n      - {line: Isolate",
         "`Isolate` is worked before the line above it"),
        ("sequences.yaml", "source: nfpa-70e-eight-steps", "source: nfpa-70e-nine-steps", "no source is called"),
    ],
)
def test_a_slip_in_the_data_is_named_where_it_stands(
    file: str, old: str, new: str, said: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A step renamed, a hold that is none, an order turned round: file, line and what is wrong."""
    for path in FOLDER.glob("*.yaml"):
        text = path.read_text(encoding="utf-8")
        (tmp_path / path.name).write_text(text.replace(old, new) if path.name == file else text, encoding="utf-8")
    monkeypatch.setattr(module, "FOLDER", tmp_path)
    with pytest.raises(BadInput) as bad:
        coverage()
    assert any(said in problem.text and problem.line > 1 for problem in bad.value.problems)
