"""Locks counted one by one."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.formulas.lock_board import locks_needed
from builder.formulas.mathematics import CannotTell


@given(st.integers(1, 30), st.integers(1, 30))
def test_locks_are_those_that_get_hung(points, people):
    """Hung one by one, every person's lock on every point, or one per point and one per person on the box."""
    hung = sum(1 for _point in range(points) for _person in range(people))
    boxed = len([*range(points), *range(people)])
    assert hung == locks_needed(points, people, "each_point")["locks"]
    assert boxed == locks_needed(points, people, "lock_box")["locks"]


@given(st.integers(1, 100), st.integers(1, 100), st.sampled_from(["each_point", "lock_box"]))
def test_one_more_person_never_needs_fewer_locks(points, people, way):
    """Nobody works on another's lock, so a person more is a lock more at least; every lock has its tag."""
    more = locks_needed(points, people + 1, way)
    assert more["locks"] >= locks_needed(points, people, way)["locks"] + 1
    assert more["tags"] == more["locks"]


def test_half_a_person_has_no_answer():
    """People and points come whole."""
    with pytest.raises(CannotTell, match="whole numbers"):
        locks_needed(2, 1.5, "lock_box")
