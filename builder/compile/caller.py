"""Calling a formula: inputs held against its signature, outputs too, a reason where there is no answer."""

import math
from collections.abc import Callable, Mapping
from typing import Any

from builder.compile.arithmetic import ALIKE, NO_ANSWER, NO_NUMBER
from builder.compile.showing import amount, one_of, range_text, words
from builder.formulas.mathematics import CannotTell
from builder.words import say


def call(function: Callable, signature: Mapping[str, Any], given: Mapping[str, Any]) -> dict[str, Any]:
    """
    A formula's outputs by name, in SI.

    signature: as `Signature.data()`. given: input name → number in SI, word, list of rows, or None
    where there is none. Raises CannotTell with a sentence wherever there is no answer.
    """
    arguments = [_taken(part, given.get(part["name"]), words(part["name"])) for part in signature["inputs"]]
    try:
        result = function(*arguments)
    except NO_NUMBER:
        raise CannotTell(NO_ANSWER) from None
    gives = signature["gives"]
    if not isinstance(result, dict):
        result = {gives[0]["name"]: result}
    return {part["name"]: _given_back(part, result[part["name"]], words(part["name"])) for part in gives}


def _taken(part: Mapping[str, Any], value: Any, called: str) -> Any:
    if value is None:
        if part["optional"]:
            return None
        raise CannotTell(say("formula.not_given", called=called))
    kind = part["kind"]
    if kind == "number":
        if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
            raise CannotTell(say("formula.no_number", called=called))
        if not _within(part, value):
            raise CannotTell(say("formula.out_of_range", called=called, amount=amount(value, part["unit"]), range=range_text(part)))
        return float(value)
    if kind == "word":
        if value not in part["one_of"]:
            raise CannotTell(say("formula.other_word", called=called, word=value, words=one_of(part["one_of"])))
        return value
    if not value:
        raise CannotTell(say("formula.nothing_listed", called=called))
    return [
        {column["name"]: _taken(column, row.get(column["name"]), _in_row(called, number, column))
         for column in part["columns"]}
        for number, row in enumerate(value, 1)
    ]


def _in_row(called: str, number: int, column: Mapping[str, Any]) -> str:
    return say("formula.row", called=called, row=number, column=words(column["name"]).lower())


def _given_back(part: Mapping[str, Any], value: Any, called: str) -> Any:
    kind = part["kind"]
    if kind == "rows":
        return [{column["name"]: _given_back(column, row[column["name"]], called) for column in part["columns"]} for row in value]
    if kind == "word":
        return value
    if isinstance(value, complex) or not math.isfinite(value):
        raise CannotTell(NO_ANSWER)
    if not _within(part, value):
        raise CannotTell(say("formula.untrusted", called=called, amount=amount(value, part["unit"]), range=range_text(part)))
    return float(value) + 0.0  # no minus zero


def _within(part: Mapping[str, Any], value: float) -> bool:
    low, high = part["low_si"], part["high_si"]
    return low - ALIKE * abs(low) <= value <= high + ALIKE * abs(high)
