"""What a supply may show."""

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.formulas.energising import full_load_current
from builder.formulas.mathematics import CannotTell
from builder.formulas.supply import inverter_current, voltage_band, voltage_drop_limit

G52 = (100, 0.00005, 0.005)


def test_label_rules_over_the_sum():
    """500 kVA at 400 V computes to 722 A and a label of 750 A rules, as does one of 700 A (practice)."""
    assert 722 == round(inverter_current(500e3, 400, None)["current"])
    for label in (750, 700):
        assert {"current": label, "ruled_by": "label"} == inverter_current(500e3, 400, label)


def test_inverter_without_label_or_rating_has_no_current():
    """Neither label nor sum is no current."""
    for rating, volts in ((None, 400), (500e3, None), (None, None)):
        with pytest.raises(CannotTell, match="Neither the label"):
            inverter_current(rating, volts, None)


@given(st.floats(1e3, 1e7), st.floats(100, 1000))
def test_inverter_and_transformer_are_reckoned_alike(rating, volts):
    """Power of three phases is one law for both."""
    assert full_load_current(rating, volts) == pytest.approx(inverter_current(rating, volts, None)["current"])
    assert rating == pytest.approx(3 * volts / sqrt(3) * inverter_current(rating, volts, None)["current"])


# IEC 60364-5-52, table G.52.1: 0.005 % for each metre beyond 100 m, no more than 0.5 %.
@pytest.mark.parametrize(("metres", "extra"), [(0, 0), (100, 0), (101, 0.005), (150, 0.25), (200, 0.5), (201, 0.5), (5000, 0.5)])
def test_long_wiring_is_allowed_what_the_annex_adds(metres, extra):
    """Nothing up to a hundred metres, half a per cent at most from two hundred on."""
    assert (5 + extra) / 100 == pytest.approx(voltage_drop_limit(0.05, metres, *G52))


@given(st.floats(0.01, 0.08), st.floats(0, 1000), st.floats(0, 100))
def test_longer_way_never_has_a_tighter_limit_nor_one_beyond_the_annex(base, metres, more):
    """The limit rises with length and stays within half a per cent of its base."""
    assert base <= voltage_drop_limit(base, metres, *G52) <= voltage_drop_limit(base, metres + more, *G52) <= base + 0.005 + 1e-12


@given(st.floats(10, 1000), st.floats(0, 0.3), st.floats(0, 0.3))
def test_nominal_always_lies_in_its_band(nominal, below, above):
    """Whatever the standard, the nominal voltage itself is as agreed."""
    band = voltage_band(nominal, below, above)
    assert band["lowest"] <= nominal <= band["highest"]
