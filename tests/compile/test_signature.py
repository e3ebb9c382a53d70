"""The docstring of a formula: what it takes and gives, or what is wrong with it and where."""

import ast

import pytest

from builder.compile.refusal import Refused
from builder.compile.signature import Signature, signatures_of
from tests.compile.book import cases


def signature(docstring: str, head: str = "def drain(capacitance, resistance):\n") -> Signature:
    lines = "".join(f"    {line}\n" if line else "\n" for line in docstring.split("\n"))
    doc = f'    """\n{lines}    """\n' if docstring else ""
    [found] = signatures_of(ast.parse(f"{head}{doc}    return 1\n"), "lock_out").values()
    return found


@pytest.mark.parametrize(("docstring", "said"), cases("wrong_docstrings"))
def test_wrong_docstring_is_refused_at_its_line(docstring: str, said: list[str]) -> None:
    """Every slip in a signature is named with its line."""
    with pytest.raises(Refused) as refused:
        signature(docstring)
    assert said == [str(one) for one in refused.value.refusals]


def test_signature_carries_what_the_page_shows() -> None:
    """Summary, displayed lines, ranges in unit and SI, words, rows, rounding and sources come out whole."""
    found = signature("""Time to drain,
and what it leaves.

    t = R · C

Inputs
  capacitance : C [uF]  0.001 .. 1e6 or none    of the link,
                                                all of it
  way         : one of slow, very-fast
  steps       : rows                            in order
    .at       : a [degC] -40 .. 60
Gives
  time        : t [s]   0 .. 1e6   3 figures, up      longer is safer
  people      : n [1]   0 .. 100   whole, up
  resistance  : R [ohm] 0 .. 1     2 figures, down
Holds when
  One core,
  screen earthed.
Source
  the-book: p 12,
    second line
  memory: the factor
  practice""", "def drain(capacitance, way, steps):\n")
    data = found.data()
    assert "Time to drain, and what it leaves." == data["summary"]
    assert (["t = R · C"], ["C", "R"]) == (data["lines"], data["symbols"])
    assert {"name": "capacitance", "kind": "number", "optional": True, "about": "of the link, all of it", "symbol": "C",
            "unit": "uF", "low": 0.001, "high": 1e6, "low_si": 0.001 * 1e-6, "high_si": 1e6 * 1e-6} == data["inputs"][0]
    assert ["slow", "very-fast"] == data["inputs"][1]["one_of"]
    assert (-40.0, 233.14999999999998) == (data["inputs"][2]["columns"][0]["low"], data["inputs"][2]["columns"][0]["low_si"])
    assert [(3, "up", "longer is safer"), (0, "up", ""), (2, "down", "")] == [
        (part["figures"], part["side"], part["about"]) for part in data["gives"]]
    assert "One core, screen earthed." == data["holds_when"]
    assert [{"basis": "published", "key": "the-book", "where": "p 12, second line"},
            {"basis": "memory", "where": "the factor"}, {"basis": "practice", "where": ""}] == data["source"]


def test_symbol_told_of_under_holds_when_may_stand_in_a_line() -> None:
    """A line may name what the formula looks up itself, when the docstring says what it is."""
    found = signature("""Pressure.

    p = s · C / R

Inputs
  capacitance : C [uF]  1 .. 2
  resistance  : R [ohm] 1 .. 2
Gives
  time        : t [s]   0 .. 1   3 figures, up
Holds when
  s is the share of the worst cable.
Source
  practice""")
    assert ["C", "R", "s"] == found.data()["symbols"]
