"""Single figures of rules and makers against their print, typed again here."""

import pytest

from tests.published.lookups import asked
from tests.published.test_tables import TABLES, cell, value


# Peurifoy, table 4-1, upper ends of the printed ranges of swell in per cent.
@pytest.mark.parametrize(("soil", "swell"), [("sand-and-gravel", 15), ("topsoil", 25), ("loam", 35), ("common-earth", 45), ("clay", 60), ("rock", 80)])
def test_dug_soil_grows_by_the_upper_end_of_the_print(soil, swell):
    """The heap is given the most room that the textbook asks."""
    assert swell == cell("soils", "swell", soil=soil)


# ISO 6789, as Facom tells it: six per cent up to 10 N.m, four above.
@pytest.mark.parametrize(("largest", "error"), [("8 N.m", 6), ("10 N.m", 6), ("10.5 N.m", 4), ("300 N.m", 4)])
def test_wrench_in_date_errs_by_its_size(largest, error):
    """Small wrenches err more."""
    assert error / 100 == pytest.approx(asked("wrench-errors", "error", largest=largest))


# Fluke 28 II brochure p 2, Hioki 9277 manual p 32: measurement categories by place.
@pytest.mark.parametrize(("place", "category"), [("plugged-in-gear", 2), ("socket", 2), ("distribution-board", 3), ("fixed-motor", 3), ("feeder", 3), ("meter", 4), ("incoming-supply", 4)])
def test_place_asks_for_the_printed_category(place, category):
    """Nearer the supply the spike is stronger and the category higher."""
    assert category == cell("measurement-categories", "category", place=place)


def test_no_place_is_below_what_stands_behind_it():
    """What only practice places stands no lower than its print-made neighbours: the transformer as the service, the rest as a board."""
    assert cell("measurement-categories", "category", place="transformer-terminals") == cell("measurement-categories", "category", place="incoming-supply")
    for place in ("inverter-terminals", "battery-or-link"):
        assert cell("measurement-categories", "category", place=place) >= cell("measurement-categories", "category", place="distribution-board")


def test_joint_may_stand_half_over_the_lowest_like_it():
    """NETA ATS-2009 7.3.2: look into what is more than 50 % over the lowest."""
    assert 1.5 == value("termination-policy", "joint_resistance_spread")


def test_residual_device_trips_within_its_standard_s_time():
    """BS EN 61008-1: 300 ms at its rated residual current, without delay."""
    assert 300 == value("site-policy", "trip_time")


def test_warning_ribbon_lies_a_foot_above_and_is_not_cut_below_it():
    """NEC 300.5(D)(3): twelve inches."""
    assert 12 * 25.4 <= value("trenching-policy", "tape_above") <= 12 * 25.4 + 1


# 29 CFR 1910.146: below 19.5 % or above 23.5 % of oxygen the air is hazardous.
def test_air_holds_the_oxygen_that_the_rule_asks():
    """The edges themselves are still within."""
    assert (19.5, 23.5) == tuple(value("trenching-policy", name) for name in ("oxygen_lowest", "oxygen_highest"))


# Certsure pocket guide 4: brown, black, grey, blue and green-and-yellow. Trade pages of Australia: red, white, blue, black. EC&M on NEC 200.6 and 250.119: white, green.
@pytest.mark.parametrize(("practice", "neutral", "earth"), [("iec", "blue", "green-yellow"), ("au-nz", "black", "green-yellow"), ("us", "white", "green")])
def test_colours_are_those_of_the_practice(practice, neutral, earth):
    """Neutral and earth by practice; the code of the United States gives the phases none."""
    assert (neutral, earth) == tuple(cell("conductor-colours", column, practice=practice) for column in ("neutral", "earth"))
    assert {"iec": "brown-black-grey", "au-nz": "red-white-blue", "us": None}[practice] == cell("conductor-colours", "scheme", practice=practice)


def test_one_colour_is_a_phase_here_and_the_neutral_there():
    """Black is the neutral of one practice and a phase of another, blue likewise: a colour proves nothing."""
    neutrals = {row["neutral"] for row in TABLES["conductor-colours"]["rows"]}
    phases = {colour for row in TABLES["conductor-colours"]["rows"] for colour in (row["scheme"] or "").split("-")}
    assert {"black", "blue"} <= neutrals & phases


def test_extra_low_voltage_of_alternating_current_is_one_figure_for_all():
    """Queensland's 50 V is that of 29 CFR 1910.303 and of IEC 61140 too (both from memory), so one figure serves every practice."""
    assert 50 == value("lock-out-policy", "safe_voltage") == asked("touch-voltages", "voltage", current="ac", skin="dry")
