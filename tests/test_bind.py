"""What a phone is told of an item before anything is measured."""

import pytest

from builder.check.everything import checked_job
from builder.places import DEMO_JOB


@pytest.fixture(scope="module")
def items() -> dict:
    return checked_job(DEMO_JOB)["items"]


def test_a_trench_names_the_services_in_it(items: dict) -> None:
    """Each located service with its depth and how it was found; one that nobody has seen says so."""
    summary = items["trench"]["T1"]["summary"]
    assert "water 1.1 m deep, found by vacuum" in summary
    assert "drain depth unknown, on the plan only" in summary


def test_a_run_names_its_cable_and_its_way(items: dict) -> None:
    """Number, cable and bore stand on every sheet of a run."""
    assert items["run"]["R1"]["summary"].startswith("3 × Al 1 × 300 single · ")
