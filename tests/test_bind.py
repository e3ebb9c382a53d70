"""What a phone is told of an item before anything is measured."""

from types import SimpleNamespace as _Named

import pytest

from builder.bind import related
from builder.check.everything import checked_job
from builder.check.job import Job
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
    """Number, cable and bore stand on every sheet of a run, and whatever else goes in with it."""
    assert items["run"]["R1"]["summary"].startswith("4 × Al 1 × 300 single + 1 × Cu 1 × 95 single, the protective conductor · ")


def test_what_a_site_must_have_every_item_waits_for() -> None:
    """No item names its site: a need on a site's sheet is looked for on every site of the job."""
    job = Job.model_construct(sites=[_Named(site="yard"), _Named(site="mill")], runs=[])
    assert (["yard", "mill"], False) == related(job, "run", _Named(run="R1"), "site")


def test_a_site_is_given_back_when_every_supply_is() -> None:
    """A site's own sheets look at every item of the job."""
    job = Job.model_construct(sites=[_Named(site="yard")], supplies=[_Named(supply="S1"), _Named(supply="S2")])
    assert (["S1", "S2"], False) == related(job, "site", _Named(site="yard"), "supply")


def test_cable_waits_for_the_drum_that_it_is_cut_from() -> None:
    """A drum names its runs; a run finds the drum from the other side."""
    job = Job.model_construct(drums=[_Named(drum="D1", runs=["R1", "R2"]), _Named(drum="D2", runs=[])])
    assert (["D1"], False) == related(job, "run", _Named(run="R2"), "drum")
