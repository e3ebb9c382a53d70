"""Torque and wrench."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.formulas.mathematics import CannotTell
from builder.formulas.termination import bolt_torque, wrench_range


def test_unknown_joint_asks_for_the_makers_figure():
    """A thread size fixes no torque: without maker, table or surface there is no number."""
    with pytest.raises(CannotTell, match="maker's torque for this joint is required"):
        bolt_torque(None, None, None, 20000, 0.010)


# Shigley and Mischke: zinc plated 0.20, anti-seize 0.12.
def test_grease_on_a_dry_figure_raises_the_pull_by_two_thirds():
    """The torque for a dry bolt pulls a greased one 1.67 times as hard."""
    dry = bolt_torque(None, None, 0.20, 20000, 0.010)["torque"]
    greased_pull = dry / bolt_torque(None, None, 0.12, 1, 0.010)["torque"]
    assert 5 / 3 == pytest.approx(greased_pull / 20000)


@given(st.floats(1, 500), st.floats(0, 0.2), st.floats(0, 0.2))
def test_setting_in_range_keeps_the_joint_within_its_tolerance(torque, error, tolerance):
    """At either end of the range, a wrench off either way stays inside the joint's tolerance."""
    if error > tolerance:
        with pytest.raises(CannotTell, match="not accurate enough"):
            wrench_range(torque, error, tolerance)
        return
    settings = wrench_range(torque, error, tolerance)
    reached = [settings[end] * (1 + side * error) for end in ("lowest", "highest") for side in (-1, 1)]
    assert torque * (1 - tolerance) * (1 - 1e-12) <= min(reached)
    assert max(reached) <= torque * (1 + tolerance) * (1 + 1e-12)
    assert settings["lowest"] <= settings["highest"] * (1 + 1e-12)
