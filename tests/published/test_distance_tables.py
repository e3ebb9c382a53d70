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


# NFPA 70E, 130.4, in a facility manual and in courses: highest voltage of each step in kV against feet, vicinity and inner.
NFPA = {"nfpa-70e-ac": {0.15: (3.5, None), 0.75: (3.5, 1), 15: (5, 26 / 12), 36: (6, None)}, "nfpa-70e-dc": {1: (3.5, 1)}}


@pytest.mark.parametrize(("rule", "kilovolts"), [(rule, kilovolts) for rule, steps in NFPA.items() for kilovolts in steps])
def test_distances_of_the_united_states_print_are_never_cut_below_its_feet(rule, kilovolts):
    """Feet and inches rule; in metres no more than three millimetres are put on, and none is taken off. Touch has no distance, nor has what prints differ on."""
    for zone, feet in zip(("outer", "inner"), NFPA[rule][kilovolts], strict=True):
        if feet is None:
            with pytest.raises(Missing, match="no figure"):
                by_rule(rule, f"{kilovolts} kV", zone)
        else:
            assert feet * 304.8 - 1e-6 <= by_rule(rule, f"{kilovolts} kV", zone) <= feet * 304.8 + 4


def test_voltage_beyond_a_table_has_no_distance():
    """Above the last row nothing is read."""
    for rule, voltage in (("en-50110", "66 kV"), ("nfpa-70e-ac", "66 kV")):
        with pytest.raises(Missing, match="no row for"):
            by_rule(rule, voltage, "inner")


@pytest.mark.parametrize("table", ["approach-distances"])
def test_rows_of_a_rule_join_on(table):
    """Each row begins where the one before ends, and its band is its own end."""
    for before, row in zip(TABLES[table]["rows"], TABLES[table]["rows"][1:], strict=False):
        assert row["voltage"] == row["to_voltage"]
        if row["rule"] == before["rule"]:
            assert before["to_voltage"] == row["from_voltage"]


# Bane NOR for enclosed gear to 6 kV, its footnote for pollution degree 3 at 1.5 kV (0.5 mm in cleaner air); IEC 61439-1 table 1,
# as reproduced, above: kV against mm.
CLEARANCES = {1.5: 0.8, 2.5: 1.5, 4: 3.0, 6: 5.5, 8: 8.0, 12: 14.0}


@pytest.mark.parametrize("kilovolts", CLEARANCES)
def test_clearances_are_those_printed(kilovolts):
    """Air between live parts by the impulse that the gear bears, and what lies between two rows takes the higher."""
    assert CLEARANCES[kilovolts] == cell("air-clearances", "enclosed", impulse=kilovolts)
    assert CLEARANCES[kilovolts] == pytest.approx(1000 * asked("air-clearances", "enclosed", impulse=f"{kilovolts - 0.1} kV"))


def test_impulse_above_the_table_has_no_clearance():
    """More than 12 kV is another standard's business."""
    with pytest.raises(Missing, match="no row"):
        asked("air-clearances", "enclosed", impulse="20 kV")


def test_no_table_of_other_owners_decides_a_gap():
    """Gaps to services rest on weak sources throughout, so the owner's letter is asked for."""
    assert {3} == {row["grade"] for row in TABLES["service-gaps"]["rows"]}
