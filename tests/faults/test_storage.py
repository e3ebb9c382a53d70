"""The nth call of the phone's storage fails, at every n: nothing that was shown as saved is lost."""

from collections.abc import Callable

import pytest

from tests.record.phone import Phone, record_text

JOB = "yard"
FULL = "Not saved: the phone is full"
NO_ANSWER = "Not saved: this phone's storage does not answer"


@pytest.mark.parametrize("for_good", [False, True], ids=["once", "for good"])
@pytest.mark.parametrize(("way", "name", "refusal"), [
    ("throws", "UnknownError", NO_ANSWER), ("throws", "InvalidStateError", NO_ANSWER), ("throws", "QuotaExceededError", FULL),
    ("gives up", "AbortError", NO_ANSWER), ("gives up", "QuotaExceededError", FULL),
])
def test_a_storage_that_fails_loses_nothing_shown(
    new_store: Callable, way: str, name: str, refusal: str, for_good: bool
) -> None:
    """
    At each point of a record's life: what was shown as saved is there, whole and in one chain, and it goes on.

    A handle that the browser dropped is opened again once, so that a single fault of that kind is not even seen.
    """
    other = Phone("Bo's phone")
    other.tell("snag", sheet="S", value="Edge at the pit")
    fault = {"way": way, "name": name, "forGood": for_good}
    given = new_store()("faults", record_text(other.entries, other), JOB, fault)
    print(f"{given['points']} points of failure")
    assert [] == given["wrong"]
    assert ([refusal] if for_good or refusal == FULL else []) == given["refusals"]
    assert given["points"] > 30
