"""Torque, wrench, strip length, and the joint that stands out."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.formulas.mathematics import CannotTell
from builder.formulas.termination import bolt_torque, joint_outlier, strip_length, wrench_range


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


def test_strip_without_maker_or_barrel_has_no_answer():
    """A lug whose barrel nobody measured has no strip length."""
    with pytest.raises(CannotTell, match="depth of the barrel"):
        strip_length(None, None, 0.1, 0.002)


@given(st.floats(0.005, 0.2), st.floats(0, 0.3), st.floats(0, 0.02))
def test_conductor_reaches_the_stop_of_a_pressed_barrel(barrel, growth, allowance):
    """What is bared goes at least as deep as the barrel is before and after the press."""
    length = strip_length(None, barrel, growth, allowance)["length"]
    assert length >= max(barrel, barrel * (1 + growth))


def alike(*ohms: float) -> dict:
    """The verdict on joints of these micro-ohms, by the factor of the acceptance specification."""
    return joint_outlier([{"resistance": value * 1e-6} for value in ohms], 1.5)


# ANSI/NETA acceptance tests, 7.3.2: investigate what differs from the lowest of similar joints by more than half of it.
def test_joints_are_held_against_the_lowest_and_not_the_mean():
    """Half more than the lowest is the limit; half more than the mean would let through what is twice the lowest."""
    found = alike(10, 19, 20)
    assert "stands_out" == found["verdict"]
    assert 20e-6 < 1.5 * (10 + 19 + 20) / 3 * 1e-6
    assert 15e-6 == pytest.approx(found["limit"])


@given(st.lists(st.floats(1, 1000), min_size=2, max_size=12))
def test_worst_joint_is_named_and_no_good_one_is_blamed(ohms):
    """The station named is the highest reading, and it stands out exactly where it is above the limit."""
    found = alike(*ohms)
    assert max(ohms) * 1e-6 == pytest.approx(found["highest"])
    assert max(ohms) == ohms[int(found["worst"]) - 1]
    assert (found["highest"] > found["limit"]) == (found["verdict"] == "stands_out")


@given(st.lists(st.floats(1, 1000), min_size=2, max_size=8), st.floats(1.01, 3), st.floats(1.0, 2))
def test_narrower_spread_never_excuses_a_joint(ohms, spread, wider):
    """What stands out under a wide spread stands out under a narrow one."""
    joints = [{"resistance": value * 1e-6} for value in ohms]
    if "stands_out" == joint_outlier(joints, spread * wider)["verdict"]:
        assert "stands_out" == joint_outlier(joints, spread)["verdict"]


def test_single_joint_has_nothing_to_stand_out_from():
    """One reading is no comparison."""
    with pytest.raises(CannotTell, match="two like joints"):
        alike(20)
