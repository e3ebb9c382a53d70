"""Room, joints, tails, warmth and closing against their print, typed again here."""

from math import radians, sqrt

import pytest

from builder.compile.arithmetic import Missing
from builder.formulas.closing import voltage_across_switch
from builder.formulas.first_load import allowed_temperature
from tests.published.lookups import asked
from tests.published.test_tables import MEASURE, TABLES, cell, value

# WAC 296-24-95703, table S-1: voltage to earth against feet for conditions A, B and C.
S1 = {"150 V": (3.0, 3.0, 3.0), "600 V": (3.0, 3.5, 4.0)}


@pytest.mark.parametrize("voltage", S1)
def test_working_space_of_the_united_states_is_as_printed(voltage):
    """Depth by what stands across the aisle, in feet, and never rounded below."""
    found = [asked("working-spaces", "front", practice="us", facing=facing, voltage=voltage) for facing in ("nothing-earthed", "earthed", "live")]
    for feet, metres in zip(S1[voltage], found, strict=True):
        assert feet * 0.3048 - 1e-9 <= metres <= feet * 0.3048 + 1e-3


def test_working_space_above_600_volts_is_asked_for():
    """Table S-1 ends at 600 V, and so does ours."""
    with pytest.raises(Missing):
        asked("working-spaces", "front", practice="us", facing="earthed", voltage="700 V")


# AS/NZS 3000:2018 clause 2.10.2.2 as a controls maker tells it.
@pytest.mark.parametrize("facing", ["nothing-earthed", "earthed", "live"])
def test_switchboard_of_the_southern_code_keeps_a_metre_and_a_way_past_its_doors(facing):
    """One metre before a closed board and 0.6 m past an open door."""
    assert [1.0, 0.6] == [asked("working-spaces", column, practice="au-nz", facing=facing, voltage="400 V") for column in ("front", "past_doors")]


# Schneider engineering data, NEC tables 312.6(B) and 312.6(A), one wire per terminal: size against inches ahead and aside.
BENDING = {"4/0": (7, 4), "250": (8.5, 4.5), "350": (12, 5), "500": (14, 6), "600": (15, 8), "750": (17, 8), "1000": (20, 10)}


@pytest.mark.parametrize("size", BENDING)
def test_bending_space_is_as_printed(size):
    """Room for one conductor in inches; 4/0 AWG is 211.6 kcmil."""
    area = 211.6 if size == "4/0" else float(size)
    assert BENDING[size] == (cell("terminal-bending-spaces", "ahead", area=area), cell("terminal-bending-spaces", "aside", area=area))


def test_conductor_between_two_sizes_takes_the_larger_room():
    """120 mm² is 237 kcmil and asks for the room of 250 (EC&M code quiz: 4/0 alone 7 in)."""
    assert [8.5 * 0.0254, 7 * 0.0254] == pytest.approx([asked("terminal-bending-spaces", "ahead", area=area) for area in ("120 mm2", "107 mm2")])


# American wire gauge by its law: 0.005 in at 36 AWG, 39 even steps to 0.46 in at 4/0.
@pytest.mark.parametrize(("gauge", "area"), [(8, 16.51), (6, 26.24), (4, 41.74), (3, 52.62), (2, 66.36), (1, 83.69), (0, 105.6), (-1, 133.1), (-2, 167.8), (-3, 211.6)])
def test_areas_of_the_bending_table_are_those_of_the_wire_gauge(gauge, area):
    """Circular mils are the square of the diameter in thousandths."""
    diameter = 5 * 92 ** ((36 - gauge) / 39)
    assert area == pytest.approx(diameter**2 / 1000, rel=1e-3)
    assert 1 == len([row for row in TABLES["terminal-bending-spaces"]["rows"] if row["area"] == area])


# Schneider Compact NS p C-25.
@pytest.mark.parametrize(("voltage", "millimetres"), [("400 V", 8), ("600 V", 8), ("690 V", 14), ("1000 V", 14)])
def test_air_between_bars_is_the_makers(voltage, millimetres):
    """The band holds the voltage, and above the last one there is none."""
    assert millimetres / 1000 == pytest.approx(asked("bar-clearances", "gap", voltage=voltage))


# LS-VINA, compacted copper conductors in mm; HELUKABEL by a university's table, coarse strands.
@pytest.mark.parametrize(("area", "diameter"), [(16, 4.65), (25, 5.9), (35, 6.9), (150, 13.8), (185, 15.3), (240, 17.5), (300, 20.5)])
def test_printed_conductors_go_into_the_remembered_barrels(area, diameter):
    """A conductor as printed is no thicker than remembered, and that one goes into its barrel."""
    row = next(row for row in TABLES["lug-barrels"]["rows"] if row["area"] == area)
    assert diameter <= row["thickest_stranded"] < row["bore"]
    assert {"memory"} == {row["basis"] for row in TABLES["lug-barrels"]["rows"]}


# IEC 60694, table 3: highest temperature and rise over air of 40 degrees.
RISES = {"bolted-bare": (90, 50), "bolted-tinned": (105, 65), "bolted-silvered": (115, 75), "terminal-bare": (90, 50), "terminal-coated": (105, 65),
         "touched-in-use": (70, 30), "not-touched": (80, 40)}


@pytest.mark.parametrize("part", RISES)
def test_rises_of_the_printed_table_come_out(part):
    """At full current in air of 40 degrees the printed temperature is just allowed."""
    temperature, rise = RISES[part]
    assert rise == asked("rise-limits", "rise", part=part)
    assert temperature + 273.15 == pytest.approx(allowed_temperature(rise, 100, 100, value("first-load-policy", "exponent"), 313.15))


# Queensland code of practice for works 4.1; IEC glossary, extra-low voltage.
def test_drained_is_extra_low_voltage():
    """50 V a.c. and 120 V d.c.; with wet skin half of it, remembered and never decided by."""
    assert [50, 120] == [asked("touch-voltages", "voltage", current=current, skin="dry") for current in ("ac", "dc")]
    assert {"memory"} == {row["basis"] for row in TABLES["touch-voltages"]["rows"] if row["skin"] == "wet"}


# NFPA 70E, in a catalogue and a legal explainer.
def test_clothing_of_a_category_is_rated_as_printed():
    """Categories 1 to 4 ask for 4, 8, 25 and 40 cal/cm²."""
    assert {"1": 4, "2": 8, "3": 25, "4": 40} == {row["category"]: row["rating"] for row in TABLES["arc-categories"]["rows"]}


# ABB 670 series: voltage difference 0.10 to 0.15, closing angle 15 degrees.
def test_closing_limits_are_the_narrow_end_of_the_relay_makers():
    """At both limits together under a third of the voltage stands across the switch (hand: √(1 + 0.81 - 1.8 · cos 15°))."""
    assert (10, 15) == tuple(value("closing-limits", name) for name in ("voltage", "angle"))
    across = voltage_across_switch(1, 0.9, radians(15))["ratio"]
    assert sqrt(1 + 0.81 - 1.8 * 0.9659258) == pytest.approx(across, abs=1e-6)
    assert across < 1 / 3


# MESC p 71: 0.7 kgf/mm² for PVC, PE and neoprene.
@pytest.mark.parametrize("jacket", ["pvc", "pe", "rubber"])
def test_jacket_stress_is_converted_downwards(jacket):
    """The cell in N/mm² is the printed stress, and never above it."""
    exact = (0.7 * MEASURE.kilogram_force / MEASURE.millimeter**2).to("N/mm**2").magnitude
    assert 0.995 * exact <= cell("jacket-stresses", "stress", jacket=jacket) <= exact


# Classic Wire: 15 degrees, 60 F, for 24 hours.
def test_cold_cable_is_warmed_for_a_day():
    """A day at fifteen degrees, and no margin taken where the print has none."""
    assert ("24 h", "15 degC", "0 K") == tuple(TABLES["handling-policy"]["values"][name]["value"] for name in ("warm_for", "warm_at", "margin"))


# Electrochemistry vocabulary: the C of 5 Ah is 5 A; Titan Lithium: 0.9 for the inverter; Portable Mentor: half of a lead-acid battery.
def test_battery_figures_are_those_printed():
    """A rate of one is an hour; what of a battery is let out is the maker's word and decided by nobody else's print."""
    assert ("1 h", "90 %") == tuple(TABLES["battery-policy"]["values"][name]["value"] for name in ("rated_time", "efficiency"))
    assert (50, 3) == (cell("battery-shares", "usable", chemistry="lead-acid"), cell("battery-shares", "grade", chemistry="lead-acid"))
