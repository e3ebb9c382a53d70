"""Inputs for a formula, made from its signature: corners, beyond the ends, missing, and many in between."""

import math
from collections.abc import Iterator, Mapping
from random import Random
from typing import Any

from builder.quantity import to_si, unit


def input_sets(signature: Mapping[str, Any], count: int, random: Random) -> Iterator[dict[str, Any]]:
    """`count` sets of inputs: the corners first, then believable ones with now and then an absurd one."""
    made = 0
    for made, corner in enumerate(_corners(signature, random), 1):
        yield corner
        if made == count:
            return
    for _ in range(count - made):
        whole = _whole(random)
        yield {part["name"]: _value(part, random, 0.02, whole) for part in signature["inputs"]}


def _whole(random: Random) -> float:
    """How likely a number is whole: now and then all of them, or a list of counted things would hardly ever be one."""
    return 1 if random.random() < 0.5 else 0.5


def _corners(signature: Mapping[str, Any], random: Random) -> Iterator[dict[str, Any]]:
    for part in signature["inputs"]:
        for value in _ends(part, random):
            whole = _whole(random)
            others = {other["name"]: _value(other, random, 0, whole) for other in signature["inputs"]}
            yield others | {part["name"]: value}


def _ends(part: Mapping[str, Any], random: Random) -> list[Any]:
    if part["kind"] == "number":
        low, high = part["low"], part["high"]
        step = (high - low) * 1e-6
        return [None, *(to_si(number, unit(part["unit"])) for number in (low, high, low - step, high + step))]
    if part["kind"] == "word":
        return [None, "no-such-word", *part["one_of"]]
    row = {column["name"]: _value(column, random, absurd=0) for column in part["columns"]}
    ends = [row | {column["name"]: value} for column in part["columns"] for value in _ends(column, random)]
    return [None, [], *([row, end] for end in ends)]


def _value(part: Mapping[str, Any], random: Random, absurd: float, whole: float = 0.5) -> Any:
    if random.random() < (0.15 if part["optional"] else absurd):
        return None
    if part["kind"] == "rows":
        return [
            {column["name"]: _value(column, random, absurd, whole) for column in part["columns"]} for _ in range(random.randint(1, 6))
        ]
    if part["kind"] == "word":
        return random.choice(part["one_of"])
    low, high = part["low"], part["high"]
    number = _between(low, high, random)
    if random.random() < absurd:
        number = random.choice((low - abs(number) - 1, high + abs(number) + 1, 0.0, -number))
    elif random.random() < whole and low <= round(number) <= high:
        number = float(round(number))
    else:
        number = float(f"{number:.5g}")  # as many figures as anyone types
    return to_si(number, unit(part["unit"]))


def _between(low: float, high: float, random: Random) -> float:
    # Over many powers of ten, each is as likely as the next; sums want the ordinary sizes too.
    least = low if low > 0 else high * 1e-6
    if high / least > 100 and low >= 0 and random.random() < 0.7:
        return math.exp(random.uniform(math.log(least), math.log(high)))
    return random.uniform(low, high)
