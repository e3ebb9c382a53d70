"""Digging, drums, slings and metals against their print, typed again here."""

from math import pi, radians

import pytest

from builder.compile.arithmetic import Missing
from builder.formulas.cable_make import cable_estimate
from builder.formulas.placing import ground_pressure, sling_leg_load
from builder.formulas.route import route_tension
from tests.published.lookups import asked
from tests.published.test_tables import TABLES, cell, value

# Ashley Sling: angle from the horizontal against the load factor.
SLINGS = {90: 1, 85: 1.004, 80: 1.015, 75: 1.035, 70: 1.064, 65: 1.104, 60: 1.155, 55: 1.221, 50: 1.305, 45: 1.414, 40: 1.555, 35: 1.742, 30: 2}


@pytest.mark.parametrize("degrees", SLINGS)
def test_sling_factors_of_the_printed_table_come_out(degrees):
    """Every printed factor comes out to its third decimal; two of them are cut and not rounded."""
    assert SLINGS[degrees] == pytest.approx(sling_leg_load(1, 1, radians(degrees))["factor"], abs=0.0015)


# Crane Rigger Mats: load on a mat of 1.74 m square in t against t/m2, for one whole load on one pad.
MATS = {30.5: 10.2, 31.7: 10.6, 39.7: 13.2, 43.5: 14.5, 49.4: 16.5, 47.0: 15.7, 56.5: 18.8, 59.8: 19.9, 63.7: 21.2, 65.0: 21.7, 74.0: 24.7, 79.9: 26.6, 81.6: 27.2}


@pytest.mark.parametrize("tonnes", MATS)
def test_ground_pressures_of_the_mat_table_come_out(tonnes):
    """Printed pressures in tonnes come out within the rounding of the mat to three square metres."""
    assert MATS[tonnes] * 9.80665 == pytest.approx(ground_pressure(tonnes * 1000, 1, 1.74, 1.74) / 1000, rel=0.016)


# Saransk cable works, wooden drums: flange in mm against empty mass in kg.
@pytest.mark.parametrize(("drum", "flange", "tare"), [("10", 1000, 80), ("12", 1220, 110), ("12a", 1220, 130), ("14", 1400, 155), ("16a", 1600, 295),
                                                      ("18", 1800, 520), ("20", 2000, 805)])
def test_drums_are_those_printed(drum, flange, tare):
    """Flange and tare by the number of the drum."""
    assert (flange, tare) == (cell("drum-tares", "flange", drum=drum), cell("drum-tares", "tare", drum=drum))


# LS-VINA, three copper cores unarmoured: conductor in mm, overall in mm, kg/km. Walls come from the shipped table.
@pytest.mark.parametrize(("area", "conductor", "overall", "mass"), [(16, 4.65, 18, 660), (25, 5.9, 22, 1000), (35, 6.9, 24, 1310)])
def test_estimate_with_shipped_figures_comes_near_the_printed_cable(area, conductor, overall, mass):
    """With the table's walls and densities the estimate is within a tenth of the drum's sheet, and says no more than that."""
    def policy(name):
        return value("cable-estimate-policy", name)

    walls = [asked("cable-walls", wall, area=f"{area} mm2") for wall in ("insulation", "jacket")]
    packing = area / (pi / 4 * conductor**2)
    found = cable_estimate(area * 1e-6, 3, packing, *walls, cell("metals", "density", metal="copper"), policy("insulation_density"),
                           policy("jacket_density"), policy("filler_density"), policy("allowance") / 100)
    assert overall == pytest.approx(1000 * found["diameter"], rel=0.1)
    assert mass == pytest.approx(1000 * found["mass"], rel=0.1)
    assert policy("packing") / 100 <= packing


# Cable metals 2017 and AlCircle: aluminium carries twice the current of copper for its mass; trade rule, 0.6 for its area.
def test_aluminium_against_copper_by_mass_and_by_area():
    """Twice the conductance of copper per kilogram and about 0.6 of it per square millimetre (practice)."""
    by_area = cell("metals", "resistivity", metal="copper") / cell("metals", "resistivity", metal="aluminium")
    by_mass = by_area * cell("metals", "density", metal="copper") / cell("metals", "density", metal="aluminium")
    assert 0.61 == pytest.approx(by_area, abs=0.005)
    assert 2.0 == pytest.approx(by_mass, rel=0.01)


@pytest.mark.parametrize("area", [95, 240, 500])
def test_conductor_tables_show_the_same_ratio_of_metals(area):
    """The standard's greatest resistances of both metals differ as the metals do, within their makers' tolerances."""
    copper, aluminium = (cell("conductors", "resistance", conductor=metal, stranding="stranded", area=area) for metal in ("copper", "aluminium"))
    assert 0.61 == pytest.approx(copper / aluminium, abs=0.015)


# 29 CFR 1926.652: five feet and twenty feet, 1.5 across for one down. NT regulation 306: one and a half metres.
# DIN 4124, in the glossary of BfGA: 1.25 m, 45 degrees in loose or soft soil, down to 5 m.
@pytest.mark.parametrize(("practice", "support_from", "batter", "design_from"), [("us", 5 * 0.3048, 1.5, 20 * 0.3048), ("iec", 1.25, 1, 5), ("au-nz", 1.5, None, None)])
def test_walls_are_supported_from_the_printed_depths(practice, support_from, batter, design_from):
    """Printed depths in metres; the Australian regulation gives no slope."""
    assert support_from == pytest.approx(asked("trench-walls", "support_from", practice=practice))
    for column, printed in (("batter", batter), ("design_from", design_from)):
        assert printed == cell("trench-walls", column, practice=practice)


# 29 CFR 1926.651: ladder from 4 ft, within 25 ft, spoil 2 ft off; Indiana Constructors: air tested below 4 ft.
# Norway 21-5: ways out below 1.0 m, toe of the heap 1.0 m off. Edison: 24 in by hand; WEL Networks: 0.6 m.
@pytest.mark.parametrize(("table", "column", "printed"), [
    ("trench-ways-out", "ladder_from", {"us": 4 * 0.3048, "iec": 1, "au-nz": None}),
    ("trench-ways-out", "travel", {"us": 25 * 0.3048, "iec": None, "au-nz": None}),
    ("spoil-setbacks", "setback", {"us": 2 * 0.3048, "iec": 1, "au-nz": None}),
    ("trench-air-tests", "test_from", {"us": 4 * 0.3048, "iec": None, "au-nz": None}),
    ("hand-digging-zones", "tolerance", {"us": 24 * 25.4, "iec": None, "au-nz": 600}),
])
def test_digging_rules_are_those_printed_for_their_own_practice(table, column, printed):
    """Each practice has its own print or nothing: none is filled from another."""
    assert printed == {practice: figure and pytest.approx(figure, abs=1e-3) for practice in printed for figure in [cell(table, column, practice=practice)]}


def test_plan_alone_locates_nothing():
    """A service known from a plan only has no error to reckon with: it has to be found."""
    with pytest.raises(Missing, match="no figure for error"):
        asked("located-errors", "error", located_by="plan")
    assert 0 == asked("located-errors", "error", located_by="vacuum") == asked("located-errors", "error", located_by="hand")


# NSW regulation 51: 5 % of the lower limit. United States confined-space definition 10 %, excavation rule 20 %.
def test_flammable_gas_is_held_to_the_tightest_of_three_rules():
    """Five per cent of the lower limit."""
    assert 5 == value("trenching-policy", "flammable_highest") == min(5, 10, 20)


# Seven makers print from 10 to 50 N·m for one thread.
def test_one_thread_has_many_torques():
    """M10 spreads at least fourfold over the joints of the table, so a thread alone fixes none; and none of the rows decides."""
    torques = [row["torque"] for row in TABLES["joint-torques"]["rows"] if row["thread"] == "M10" and row["torque"] is not None]
    assert max(torques) >= 4 * min(torques)
    assert {3} == {row["grade"] for row in TABLES["joint-torques"]["rows"] if row["basis"] == "published"}


# CommScope conduit manual p 69: factor of a bend by angle and friction.
COMMSCOPE = {15: (1.20, 1.17, 1.14, 1.11, 1.08, 1.04), 30: (1.44, 1.37, 1.30, 1.23, 1.17, 1.08), 45: (1.73, 1.60, 1.48, 1.37, 1.27, 1.13),
             60: (2.08, 1.87, 1.68, 1.52, 1.37, 1.17), 75: (2.50, 2.19, 1.92, 1.69, 1.48, 1.22), 90: (3.00, 2.57, 2.19, 1.87, 1.60, 1.27)}


@pytest.mark.parametrize("degrees", COMMSCOPE)
def test_bend_factors_of_the_conduit_manual_come_out(degrees):
    """Thirty-six printed factors come out to their second decimal, within the cutting of a few."""
    def factor(friction):
        bend = {"shape": "bend_level", "turn": radians(degrees), "radius": 1, "length": None, "slope": None}
        return route_tension([bend], 0.1, friction, 1, 1000, "single", None)["tension"] / 1000

    assert COMMSCOPE[degrees] == pytest.approx([factor(friction) for friction in (0.7, 0.6, 0.5, 0.4, 0.3, 0.15)], abs=0.011)


# Nexans Germany: PVC handled from 5 degrees (sign unclear in the print). Classic Wire: most cables from -10 over a day.
@pytest.mark.parametrize(("jacket", "degrees"), [("pvc", 5), ("pe", -10), ("rubber", -10)])
def test_lowest_handling_temperatures_are_those_printed(jacket, degrees):
    """Of two readings of an unclear print the warmer stands."""
    assert degrees == cell("lowest-temperatures", "pulling", jacket=jacket)


# 29 CFR 1926 subpart P appendix B, table B-1, and its steps in feet: batter, first, next.
@pytest.mark.parametrize(("soil_class", "batter", "first", "following"), [("stable-rock", 0, None, None), ("a", 0.75, 4, 5), ("b", 1, 4, 4), ("c", 1.5, None, None)])
def test_slopes_and_steps_by_class_of_soil_are_those_printed(soil_class, batter, first, following):
    """Slope as printed, steps in feet and never higher."""
    assert batter == cell("trench-batters", "batter", soil_class=soil_class)
    for column, feet in (("first_rise", first), ("next_rise", following)):
        found = cell("trench-batters", column, soil_class=soil_class)
        assert found is None if feet is None else feet * 0.3048 - 1e-3 <= found <= feet * 0.3048


# Fassi: loose or filled ground twice the depth, two metres at least.
def test_pad_beside_loose_ground_keeps_twice_the_depth():
    """Loose as printed; firm ground is practice and keeps no less at the least."""
    assert (2, 2) == (cell("pad-setbacks", "share", ground="loose"), cell("pad-setbacks", "least", ground="loose"))
    assert cell("pad-setbacks", "least", ground="firm") >= 2


# NEC table 300.5, column 3, as adopted: plastic conduit in inches.
@pytest.mark.parametrize(("surface", "inches"), [("open-ground", 18), ("footway", 18), ("road", 24), ("under-slab", None), ("farm", None), ("rock", None)])
def test_american_cover_is_that_of_the_printed_table(surface, inches):
    """Plastic conduit by what lies on it; what the table has no line for, or only for a certain slab, is asked for."""
    assert (inches and pytest.approx(inches * 25.4)) == cell("cover-depths", "cover", practice="us", surface=surface)


# Common Ground Alliance 2.12 and 49 CFR 192.325: twelve inches from gas.
def test_gap_to_gas_is_a_foot_and_the_owner_decides():
    """Both prints say a foot; the owner's letter still rules."""
    assert (304.8, 304.8, 3) == tuple(cell("service-gaps", column, service="gas") for column in ("level", "upright", "grade"))


# NEC chapter 9 table 1, handbook and course: 53, 31 and 40 per cent. Whitfield's 45 % is of the United Kingdom and only where no factors serve.
@pytest.mark.parametrize(("number", "percent"), [(1, 53), (2, 31), (3, 40), (9, 40)])
def test_american_conduit_is_filled_as_printed_and_no_other_borrows_it(number, percent):
    """One, two and more cables have each their own figure; where the countries differ the sheet asks."""
    assert percent / 100 == pytest.approx(asked("conduit-fill-limits", "fill", practice="us", number=str(number)))
    for practice in ("iec", "au-nz"):
        with pytest.raises(Missing, match="no figure"):
            asked("conduit-fill-limits", "fill", practice=practice, number=str(number))
