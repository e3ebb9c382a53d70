"""A conductor in the barrel of its lug."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.formulas.lug import lug_fit
from builder.formulas.mathematics import CannotTell


@given(st.floats(0.001, 0.05), st.floats(0.0005, 0.05), st.floats(0, 0.002), st.floats(0.0001, 0.01))
def test_play_outside_its_limits_is_never_a_fit(bore, conductor, least, most):
    """A fit has at least the play that lets the strands in, and no more than the press closes."""
    found = lug_fit(bore, conductor, least, most)
    if found["verdict"] == "fits":
        assert least - 1e-9 <= bore - conductor <= most + 1e-9
    if conductor > bore:
        assert "too_tight" == found["verdict"]
        assert 0 == found["play"]


@given(st.floats(0.005, 0.04), st.floats(0, 0.003), st.floats(0, 0.01))
def test_thicker_conductor_is_never_looser(bore, play, more):
    """Pushing in a thicker conductor never turns a tight barrel into a fitting one."""
    order = {"too_loose": 0, "fits": 1, "too_tight": 2}
    thin = lug_fit(bore, bore - play, 0.0002, 0.0014)["verdict"]
    thick = lug_fit(bore, bore - play + more, 0.0002, 0.0014)["verdict"]
    assert order[thick] >= order[thin]


def test_without_the_makers_figure_nothing_fits():
    """How much the press closes is the lug maker's word."""
    with pytest.raises(CannotTell, match="how much play its press closes"):
        lug_fit(0.0155, 0.0145, 0.0002, None)
