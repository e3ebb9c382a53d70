"""Expressions of a library: what may be written, what kind it has, and what is said of everything else."""

import pytest

from builder.compile.expression import check_expression, fits, kind_of_part, misfit, parse_expression
from builder.compile.kinds import Number, Rows, Table, Truth, Word, number_in
from builder.compile.language import limits_of
from builder.compile.refusal import Refused
from builder.compile.signature import Part
from builder.load.problems import CODES
from tests.compile.book import cases
from tests.compile.scope import TASK


@pytest.mark.parametrize(("text", "said"), cases("wrong_expressions"))
def test_wrong_expression_is_refused_with_column_and_advice(text: str, said: list[str]) -> None:
    """Unknown names, mixed dimensions, unfit kinds and foreign constructs are each named at their column."""
    with pytest.raises(Refused) as refused:
        check_expression(text, TASK)
    assert said == [
        f"{one.line}:{one.column} {one.code}: {one.text}{f' | {one.advice}' if one.advice else ''}" for one in refused.value.refusals
    ]
    assert all(one.code in CODES for one in refused.value.refusals)


@pytest.mark.parametrize(("text", "kind"), [
    ("length_in_hand >= needed.length", Truth()),
    ("run.way == \"conduit\" and not run.lubricated", Truth()),
    ("run.way in (\"conduit\", \"tray\") or run.title not in (\"a\", \"b\")", Truth()),
    ("winding - air", number_in("K")),
    ("air + rise", number_in("degC")),
    ("rise + air", number_in("degC")),
    ("winding - rise > air", Truth()),
    ("run.bore", number_in("mm")),
    ("run.number * run.cable.mass * length_in_hand > quantity(\"3 t\")", Truth()),
    ("pull * length_in_hand > torque", Truth()),
    ("sqrt(run.bore ** 2) < length_in_hand", Truth()),
    ("turn / 2 < quantity(\"90 deg\")", Truth()),
    ("pull > table.policy.force / 2", Truth()),
    ("first_given(run.bore, quantity(\"100 mm\"))", number_in("mm")),
    ("given(run.bore)", Truth()),
    ("run.way if run.lubricated else \"tray\"", Word(("conduit", "tray"))),
    ("table.bends(construction=run.cable.construction, diameter=run.cable.diameter).pulling", Number()),
    ("table.policy.soil == \"clay\"", Truth()),
    ("max(length_in_hand, needed.length) < 3 * needed.length", Truth()),
    ("quantity(\"1 m\") <= length_in_hand <= quantity(\"1,5 km\")", Truth()),
    ("abs(run.number - 3) ** 2 <= 1", Truth()),
    ("needed.ruled_by == \"a\"", Truth()),
    ("true_enough == 1", None),
])
def test_expression_has_its_kind(text: str, kind: object) -> None:
    """Dimensions are carried through sums, products, roots, differences of temperatures and tables."""
    if kind is None:
        with pytest.raises(Refused):
            check_expression(text, TASK)
        return
    found = check_expression(text, TASK)[1]
    assert kind.dimension == found.dimension if isinstance(kind, Number) else kind == found


def test_expression_tells_the_names_it_uses() -> None:
    """First names are known without a scope, so that workings can be put in order."""
    text = "first_given(run.bore, needed.length) > table.bends(construction=\"armoured\", diameter=air_gap).pulling"
    assert {"run", "needed", "table", "air_gap"} == parse_expression(text).names


def test_same_text_is_read_once() -> None:
    """A job binds twenty thousand steps: each distinct text is parsed once."""
    assert parse_expression("run.number > 2") is parse_expression("run.number > 2")


def test_limits_are_the_comparisons_that_all_must_hold() -> None:
    """Both sides and chains give limits, turned so that the name stands on the left; `or` gives none."""
    limits = limits_of(parse_expression("a >= needed.length and 3 > a and 1 < a <= b and (a > 9 or a < 2) and a in (\"x\", \"y\")"))
    assert [("a", ">=", ("needed", "length")), ("a", "<", None), ("a", ">", None), ("a", "<=", None), ("b", ">=", None)] == [
        (limit.name, limit.op, limit.of) for limit in limits]


def test_expression_nested_too_deep_is_refused() -> None:
    """No text, however long, brings the reader down."""
    for text in ("(" * 3000 + "1" + ")" * 3000, "-" * 5000 + "1", "1" + " + 1" * 5000, "not " * 500 + "True"):
        with pytest.raises(Refused) as refused:
            parse_expression(text)
        assert "EXPR-01" == refused.value.refusals[0].code


def test_working_input_takes_its_kind_and_no_other() -> None:
    """What feeds a formula is held against the signature: dimension, words and columns."""
    length = Part("length", "number", unit="m")
    segments = kind_of_part(Part("segments", "rows", columns=[length, Part("slope", "number", unit="deg", optional=True)]))
    assert fits(number_in("mm"), kind_of_part(length))
    assert not fits(Number(), kind_of_part(length))
    assert fits(Rows({"length": number_in("ft"), "other": Truth()}), segments)
    assert not fits(Rows({"slope": number_in("deg")}), segments)
    assert not fits(Rows({"length": number_in("m"), "slope": number_in("m")}), segments)
    assert not fits(Word(("a",)), Word(("b", "c")))
    assert not fits(Truth(), number_in("m"))
    assert ("UNIT-03", "`length` takes length (m) and is given time (s)") == misfit("`length`", number_in("m"), number_in("s"))
    assert ("EXPR-03", "`way` takes b, c and is given a") == misfit("`way`", Word(("b", "c")), Word(("a",)))
    assert ("EXPR-03", "`length` takes length (m) and is given a table") == misfit("`length`", number_in("m"), Table({}, {}))
