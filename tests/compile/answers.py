"""Answers of the two languages laid beside each other."""

from typing import Any


def differences(expected: Any, found: Any, nearness: float = 0.0, where: str = "") -> list[str]:
    """Where two answers differ; numbers may do so by `nearness` of their size."""
    if isinstance(expected, dict) and isinstance(found, dict) and expected.keys() == found.keys():
        return [line for key in expected for line in differences(expected[key], found[key], nearness, f"{where}.{key}")]
    if isinstance(expected, list) and isinstance(found, list) and len(expected) == len(found):
        pairs = enumerate(zip(expected, found, strict=True))
        return [line for index, (a, b) in pairs for line in differences(a, b, nearness, f"{where}[{index}]")]
    if _is_number(expected) and _is_number(found):
        near = abs(expected - found) <= nearness * max(abs(expected), abs(found))
        return [] if near else [f"{where}: {expected!r} and {found!r}"]
    return [] if type(expected) is type(found) and expected == found else [f"{where}: {expected!r} and {found!r}"]


def only_named(expected: Any, found: Any) -> Any:
    """Of what was found, the part that the expectation names."""
    if isinstance(expected, dict) and isinstance(found, dict):
        return {key: only_named(expected[key], found.get(key)) for key in expected}
    if isinstance(expected, list) and isinstance(found, list) and len(expected) == len(found):
        return [only_named(a, b) for a, b in zip(expected, found, strict=True)]
    return found


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)
