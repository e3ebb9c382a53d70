"""Estimate of a cable against layers, printed cables and the scales."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builder.compile.catalogue import signature_data
from builder.formulas.cable_make import cable_estimate, drum_mass, lowest_handling_temperature
from builder.formulas.mathematics import CannotTell


def estimate(**changed):
    """A copper cable with thin walls, with what the test changes."""
    given = {"area": 70e-6, "cores": 4, "packing": 0.9, "insulation_thickness": 1.1e-3, "jacket_thickness": 2e-3, "metal_density": 8890,
             "insulation_density": 920, "jacket_density": 1450, "filler_density": 1300, "allowance": 0, **changed}
    return cable_estimate(*given.values())


# IEC 60502-1, annex A, fictitious diameter over laid-up cores, from memory: one to five cores.
@pytest.mark.parametrize(("cores", "factor"), [(1, 1.00), (2, 2.00), (3, 2.16), (4, 2.42), (5, 2.70)])
def test_circle_round_the_cores_is_that_of_the_standard(cores, factor):
    """Bare geometry gives the standard's assembly factor to a hundredth."""
    rods = estimate(area=pi / 4 * 1e-4, cores=cores, packing=1, insulation_thickness=0, jacket_thickness=0)
    assert factor == pytest.approx(rods["diameter"] / 0.01, abs=0.008)


def test_layers_of_one_core_add_up():
    """A rod in two tubes weighs what rod and tubes weigh (hand)."""
    one = estimate(area=pi / 4 * 1e-4, cores=1, packing=1, insulation_thickness=2e-3, jacket_thickness=1e-3)
    tubes = pi / 4 * ((14e-3**2 - 10e-3**2) * 920 + (16e-3**2 - 14e-3**2) * 1450)
    assert pi / 4 * 1e-4 * 8890 + tubes == pytest.approx(one["mass"])
    assert 0.016 == pytest.approx(one["diameter"])


@given(st.floats(1e-6, 6e-4), st.integers(1, 5), st.floats(0.6, 1))
def test_more_metal_is_never_lighter_or_thinner(area, cores, packing):
    """Area, looser packing and allowance only ever add."""
    here = estimate(area=area, cores=cores, packing=packing)
    for more in (estimate(area=area * 1.2, cores=cores, packing=packing), estimate(area=area, cores=cores, packing=packing * 0.9),
                 estimate(area=area, cores=cores, packing=packing, allowance=0.05)):
        assert more["diameter"] > here["diameter"]
        assert more["mass"] > here["mass"]


def test_estimate_says_that_it_is_one():
    """Summary, outputs and conditions all say that the drum's sheet rules and that no limit may rest on it."""
    signature = signature_data()["cable_estimate"]
    assert "Never a limit" in signature["summary"]
    assert all("an estimate" == part["about"] and 2 == part["figures"] for part in signature["gives"])
    assert "never for fill, tension or a bend" in signature["holds_when"]


def test_half_a_core_and_six_cores_have_no_answer():
    """Cores come whole, and six round a ring leave room for a seventh: the signature stops at five."""
    with pytest.raises(CannotTell, match="whole number"):
        estimate(cores=2.5)
    assert 5 == next(part["high"] for part in signature_data()["cable_estimate"]["inputs"] if part["name"] == "cores")


@given(st.floats(0.05, 20), st.floats(1, 2000), st.floats(0, 5000))
def test_drum_on_the_scales_is_never_lighter_than_its_cable(mass, length, tare):
    """Cable and drum are weighed together, and half the cable gone leaves the drum whole."""
    whole = drum_mass(mass, length, tare)
    assert whole >= mass * length
    assert (whole + tare) / 2 == pytest.approx(drum_mass(mass, length / 2, tare))


@given(st.none() | st.floats(230, 300), st.none() | st.floats(230, 300), st.floats(0, 20))
def test_makers_temperature_stands_and_the_table_takes_its_margin(maker, table, margin):
    """The maker's own figure rules as it is; the table's is never asked for less than itself."""
    if maker is None and table is None:
        with pytest.raises(CannotTell, match="maker's lowest"):
            lowest_handling_temperature(maker, table, margin)
    else:
        found = lowest_handling_temperature(maker, table, margin)
        assert found["temperature"] == (maker if maker is not None else table + margin)
