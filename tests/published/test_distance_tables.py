"""Distances, clearances and markings of testers against their print, typed again here."""

import pytest

from builder.compile.arithmetic import Missing
from builder.formulas.approach import approach_distance
from builder.quantity import parse_quantity
from tests.published.lookups import asked
from tests.published.test_tables import TABLES, cell

# EN 50110-1, table A.1, as a tool maker prints it: kV against live working zone and vicinity in mm.
EN_50110 = {3: (60, 1120), 6: (90, 1120), 10: (120, 1150), 15: (160, 1160), 20: (220, 1220), 30: (320, 1320), 36: (380, 1380)}


def by_rule(rule: str, voltage: str, zone: str) -> float:
    """Distance in mm, as a sheet works it out from the two rows of the table."""
    ends = [asked("approach-distances", column, rule=rule, voltage=voltage)
            for column in ("from_voltage", f"from_{zone}", "to_voltage", f"to_{zone}")]
    return 1000 * approach_distance(parse_quantity(voltage).si, *ends)


@pytest.mark.parametrize("kilovolts", EN_50110)
def test_distances_of_the_european_table_come_out(kilovolts):
    """Every printed row comes out of the two ends that hold it."""
    assert EN_50110[kilovolts] == pytest.approx([by_rule("en-50110", f"{kilovolts} kV", zone) for zone in ("inner", "outer")])


@pytest.mark.parametrize(("voltage", "inner", "outer"), [("11 kV", 128, 1152), ("22 kV", 240, 1240), ("33 kV", 350, 1350)])
def test_voltages_between_the_rows_lie_on_a_straight_line(voltage, inner, outer):
    """The standard draws straight lines between its rows (hand)."""
    assert (inner, outer) == pytest.approx([by_rule("en-50110", voltage, zone) for zone in ("inner", "outer")])


def test_low_voltage_has_a_vicinity_and_no_distance_for_touch():
    """Up to 1000 V the vicinity begins at 300 mm; nothing is said of how near a hand may come, so nothing is read."""
    assert 300 == pytest.approx(by_rule("en-50110", "0.4 kV", "outer"))
    with pytest.raises(Missing, match="no figure for from inner"):
        by_rule("en-50110", "0.4 kV", "inner")


def test_no_line_is_drawn_from_low_to_high_voltage():
    """Just above 1000 V the distance is already that of 3 kV."""
    assert 1120 == pytest.approx(by_rule("en-50110", "1.1 kV", "outer"))


# 29 CFR 1910.333, table S-5: highest voltage of each step in kV against feet and inches.
OSHA = {0.75: 1, 2: 1.5, 15: 2, 37: 3, 87.5: 3.5, 121: 4, 140: 4.5}


@pytest.mark.parametrize("kilovolts", OSHA)
def test_distances_of_the_united_states_rule_are_those_printed(kilovolts):
    """Steps in feet, never less in metres than the print by more than its rounding."""
    assert OSHA[kilovolts] * 304.8 == pytest.approx(by_rule("osha-s5", f"{kilovolts} kV", "inner"), rel=0.007)


def test_contact_is_avoided_below_three_hundred_volts():
    """The rule gives no distance there, and neither does the table."""
    with pytest.raises(Missing, match="no figure"):
        by_rule("osha-s5", "0.23 kV", "inner")


def test_voltage_beyond_a_table_has_no_distance():
    """Above the last row nothing is read."""
    for rule, voltage in (("en-50110", "66 kV"), ("osha-s5", "220 kV"), ("nfpa-70e-ac", "66 kV")):
        with pytest.raises(Missing, match="no row for"):
            by_rule(rule, voltage, "inner")


@pytest.mark.parametrize("table", ["approach-distances"])
def test_rows_of_a_rule_join_on(table):
    """Each row begins where the one before ends, and its band is its own end."""
    for before, row in zip(TABLES[table]["rows"], TABLES[table]["rows"][1:], strict=False):
        assert row["voltage"] == row["to_voltage"]
        if row["rule"] == before["rule"]:
            assert before["to_voltage"] == row["from_voltage"]


# IEC 61439-1 table 1, as reproduced, and Bane NOR for enclosed gear: kV against mm.
CLEARANCES = {1.5: 0.5, 2.5: 1.5, 4: 3.0, 6: 5.5, 8: 8.0, 12: 14.0}


@pytest.mark.parametrize("kilovolts", CLEARANCES)
def test_clearances_are_those_printed(kilovolts):
    """Air between live parts by the impulse that the gear bears, and what lies between two rows takes the higher."""
    assert CLEARANCES[kilovolts] == cell("air-clearances", "enclosed", impulse=kilovolts)
    assert CLEARANCES[kilovolts] == pytest.approx(1000 * asked("air-clearances", "enclosed", impulse=f"{kilovolts - 0.1} kV"))


def test_impulse_above_the_table_has_no_clearance():
    """More than 12 kV is another standard's business."""
    with pytest.raises(Missing, match="no row"):
        asked("air-clearances", "enclosed", impulse="20 kV")


# IEC 61010-1 as CLOU prints it: volts to earth against kV of impulse in categories II, III and IV.
@pytest.mark.parametrize(("volts", "printed"), [(150, (1.5, 2.5, 4)), (300, (2.5, 4, 6)), (600, (4, 6, 8)), (1000, (6, 8, 12))])
def test_impulses_of_the_categories_are_those_printed(volts, printed):
    """A category more is a step more of impulse."""
    assert printed == tuple(cell("category-impulses", f"category_{number}", voltage=volts) for number in ("two", "three", "four"))


def test_same_impulse_is_not_the_same_tester():
    """1000 V of category III and 600 V of category IV bear one impulse; neither serves in the other's place."""
    assert cell("category-impulses", "category_three", voltage=1000) == cell("category-impulses", "category_four", voltage=600)


# IEC 60204-1 6.2.4, NEC 460.6, California 2893, DIN VDE 0100-410: volts and seconds.
@pytest.mark.parametrize(("gear", "volts", "seconds"), [("machine", 60, 5), ("open-plug-pins", 60, 1), ("low-voltage-capacitor", 50, 60),
                                                        ("high-voltage-capacitor", 50, 300), ("converter-ac", 50, 5), ("converter-dc", 120, 5)])
def test_residual_voltages_are_those_printed(gear, volts, seconds):
    """What gear has to drain to, and how soon, is as the standards have it."""
    assert (volts, seconds) == tuple(cell("residual-voltages", column, gear=gear) for column in ("voltage", "within"))


# NFPA 70E: categories 1 to 4 ask for 4, 8, 25 and 40 cal/cm2.
def test_clothing_is_rated_for_the_whole_of_its_band():
    """Each category's least rating is the top of its band."""
    assert [(1, 4), (2, 8), (3, 25), (4, 40)] == [(row["category"], row["rating"]) for row in TABLES["arc-clothing"]["rows"]]
    assert all(row["energy"] == row["rating"] for row in TABLES["arc-clothing"]["rows"])


def test_no_table_of_other_owners_decides_a_gap():
    """Gaps to services rest on weak sources throughout, so the owner's letter is asked for."""
    assert {3} == {row["grade"] for row in TABLES["service-gaps"]["rows"]}
