"""The indication of a d.c. arc, against the circuit that feeds it."""

from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from builder.check.tables import as_data, read_sources, read_tables
from builder.compile.caller import call
from builder.compile.catalogue import signature_data
from builder.compile.lookup import Lookup
from builder.formulas.arc import clothing_rating, dc_arc_energy
from builder.formulas.mathematics import CannotTell
from builder.places import ROOT

CALORIE_PER_SQUARE_CENTIMETRE = 4.184e4


@pytest.mark.parametrize(("volts", "amperes"), [(125, 3000), (540, 4225), (998.4, 12000)])
def test_printed_figure_lies_just_above_the_most_power_that_a_source_gives(volts, amperes):
    """The arc's greatest power over a sphere, found by trying every arc voltage, is 5 % below the print (Doan's assumption)."""
    resistance = volts / amperes
    best = minimize_scalar(lambda arc: -arc * (volts - arc) / resistance, bounds=(0, volts), method="bounded", options={"xatol": 1e-9 * volts})
    exact = -best.fun * 0.2 / (4 * pi * 0.457**2)
    printed = dc_arc_energy(volts, amperes, 0.2, 0.457, 1, 1.2 * CALORIE_PER_SQUARE_CENTIMETRE)["energy"]
    assert volts / 2 == pytest.approx(best.x, rel=1e-4)
    assert 1.0 <= printed / exact <= 1.06


@given(st.floats(50, 1000), st.floats(100, 5e4), st.floats(0.01, 1), st.floats(0.3, 2), st.floats(1, 2))
def test_more_volts_amperes_or_time_or_less_distance_is_never_less_heat(volts, amperes, seconds, metres, more):
    """Each change for the worse raises energy and boundary."""
    burn = 1.2 * CALORIE_PER_SQUARE_CENTIMETRE
    here = dc_arc_energy(volts, amperes, seconds, metres, 1, burn)
    for worse in (dc_arc_energy(volts * more, amperes, seconds, metres, 1, burn), dc_arc_energy(volts, amperes * more, seconds, metres, 1, burn),
                  dc_arc_energy(volts, amperes, seconds * more, metres, 1, burn), dc_arc_energy(volts, amperes, seconds, metres, more, burn)):
        assert worse["energy"] >= here["energy"]
        assert worse["boundary"] >= here["boundary"]
    assert dc_arc_energy(volts, amperes, seconds, metres / more, 1, burn)["energy"] >= here["energy"]


def test_energy_at_the_boundary_is_the_one_that_burns():
    """Standing at the boundary, bare skin just begins to burn."""
    burn = 1.2 * CALORIE_PER_SQUARE_CENTIMETRE
    boundary = dc_arc_energy(540, 4225, 2, 0.46, 1, burn)["boundary"]
    assert burn == pytest.approx(dc_arc_energy(540, 4225, 2, boundary, 1, burn)["energy"])


def test_string_above_the_range_needs_the_sites_study():
    """312 cells at 3.65 V stand above 1000 V: there is no number, and the formula says that the study rules."""
    signature = signature_data()["dc_arc_energy"]
    inputs = {"voltage": 312 * 3.65, "fault_current": 12000.0, "time": 0.2, "distance": 0.457, "enclosure_factor": 3.0,
              "burn_energy": 1.2 * CALORIE_PER_SQUARE_CENTIMETRE}
    with pytest.raises(CannotTell, match=r"Voltage is 1138\.8 V; this formula holds from 50 to 1000 V"):
        call(dc_arc_energy, signature, inputs)
    assert "site's arc study rules" in signature["summary"]
    assert "without the site's own study the work is not done" in signature["holds_when"]


# NFPA 70E, arc-flash clothing categories.
@pytest.mark.parametrize(("category", "calories"), [("1", 4), ("2", 8), ("3", 25), ("4", 40)])
def test_clothing_ends_at_forty_calories(category, calories):
    """Each category has its rating in the table; the highest is the most that clothing is made for."""
    sources, _ = read_sources(ROOT / "checklists" / "sources.yaml")
    tables, _ = read_tables(ROOT / "checklists" / "tables", sources)
    lookup = Lookup({"tables": {"arc-categories": as_data(tables["arc-categories"], sources)}}, {"task": None}, {})
    rating = lookup.cell("arc_categories", {"category": lambda _: category}, "rating")
    assert calories * CALORIE_PER_SQUARE_CENTIMETRE == pytest.approx(rating)


@given(st.none() | st.floats(0.1, 60), st.none() | st.sampled_from([4.0, 8.0, 25.0, 40.0]))
def test_clothing_is_rated_for_all_that_the_label_says(energy, category):
    """The rating covers energy and category both; a label that says neither, or too much, dresses nobody."""
    said = [part for part in (energy, category) if part is not None]
    if not said or max(said) > 40:
        with pytest.raises(CannotTell, match="not done"):
            clothing_rating(energy, category, 40)
    else:
        assert max(said) == clothing_rating(energy, category, 40)["rating"]
