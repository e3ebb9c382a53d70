"""Table cells against their print, typed again here, or against a derivation of their own."""

import re
from math import pi, sin

import pint
import pytest
import yaml

from builder.formulas.energising import conductor_resistance, full_load_current
from builder.formulas.pulling import roller_load
from builder.formulas.route import route_tension
from builder.formulas.termination import bolt_preload
from builder.places import ROOT
from tests.published.lookups import asked

TABLES = {path.stem: yaml.safe_load(path.read_text(encoding="utf-8")) for path in (ROOT / "checklists" / "tables").glob("*.yaml")}
SOURCES = yaml.safe_load((ROOT / "checklists" / "sources.yaml").read_text(encoding="utf-8"))
MEASURE = pint.UnitRegistry()


def cell(table: str, column: str, **keys):
    """The one cell of a table whose row has these keys."""
    found = [row[column] for row in TABLES[table]["rows"] if all(row[name] == value for name, value in keys.items())]
    assert len(found) == 1
    return found[0]


def value(table: str, name: str) -> float:
    """A named value in its own unit."""
    return float(str(TABLES[table]["values"][name]["value"]).split()[0])


def parts(table: str) -> list[dict]:
    """Rows or named values: whatever carries a source and a basis."""
    return TABLES[table].get("rows") or list(TABLES[table]["values"].values())


@pytest.mark.parametrize("table", sorted(TABLES))
def test_every_value_says_where_it_comes_from(table):
    """Published names a listed publication, a place and a grade no better than it; the rest names none."""
    for part in parts(table):
        if part["basis"] == "published":
            assert part["where"]
            assert part["grade"] >= SOURCES[part["source"]]["grade"]
        else:
            assert "source" not in part


def test_every_listed_publication_is_used():
    """A publication stands in the list only if a table, formula, worked example or library rests on it."""
    folders = (ROOT / "checklists", ROOT / "builder" / "formulas")
    written = "\n".join(
        path.read_text(encoding="utf-8")
        for folder in folders
        for path in sorted(folder.rglob("*"))
        if path.suffix in (".yaml", ".py") and path.name != "sources.yaml"
    )
    assert set() == {key for key in SOURCES if not re.search(rf"(?<![a-z0-9-]){key}(?![a-z0-9-])", written)}


@pytest.mark.parametrize("table", sorted(name for name in TABLES if "rows" in TABLES[name]))
def test_bands_rise_and_the_open_one_is_last(table):
    """The first band that is wide enough is the right one, and an open band hides none after it."""
    for key, kind in TABLES[table]["keys"].items():
        if not kind.get("up_to"):
            continue
        others = [name for name in TABLES[table]["keys"] if name != key]
        groups: dict = {}
        for row in TABLES[table]["rows"]:
            groups.setdefault(tuple(row[name] for name in others), []).append(row[key])
        for bands in groups.values():
            ends = [float("inf") if end == "none" else end for end in bands]
            assert sorted(set(ends)) == ends


# S&C of a coarse thread, ASME B1.13M and ISO 898-1: nominal stress area from diameter and pitch. Inch threads, ASME B1.1: 0.9743 over the threads.
@pytest.mark.parametrize("row", TABLES["threads"]["rows"], ids=lambda row: row["thread"])
def test_stress_area_is_that_of_the_thread(row):
    """Printed areas are π/4 · (d - 0.938194 p)², for inch threads π/4 · (d - 0.9743 p)², to their three figures."""
    part = 0.938194 if row["thread"].startswith("M") else 0.9743
    assert pi / 4 * (row["diameter"] - part * row["pitch"]) ** 2 == pytest.approx(row["stress_area"], rel=0.004)


# Inch threads in square inches, typed again from Fastenal's sheet: its third figure may differ by one.
@pytest.mark.parametrize(("thread", "square_inches"), [("1/4-20", 0.0318), ("5/16-18", 0.0525), ("3/8-16", 0.0775), ("1/2-13", 0.142), ("5/8-11", 0.226), ("3/4-10", 0.335)])
def test_inch_stress_areas_are_those_printed(thread, square_inches):
    """Of two prints that part in the last figure the lesser area stands."""
    area = cell("threads", "stress_area", thread=thread)
    assert square_inches * 645.16 == pytest.approx(area, rel=0.004)
    assert area <= square_inches * 645.16


# EN ISO 898-1, proof loads of coarse threads in N, typed again from the table: 4.6, 8.8, 10.9.
PROOF = {
    "M6": (4520, 11600, 16700), "M8": (8240, 21200, 30400), "M10": (13000, 33700, 48100), "M12": (19000, 48900, 70000),
    "M14": (25900, 66700, 95500), "M16": (35300, 91000, 130000), "M18": (43200, 115000, 159000),
    "M20": (55100, 147000, 203000), "M22": (68200, 182000, 252000), "M24": (79400, 212000, 293000),
}


@pytest.mark.parametrize("thread", PROOF)
def test_proof_loads_of_the_standard_come_out(thread):
    """Area times proof stress gives the printed proof load, to its three figures."""
    diameter = cell("threads", "diameter", thread=thread)
    area = cell("threads", "stress_area", thread=thread) * 1e-6
    stresses = (225, 600 if diameter > 16 else 580, 830)
    assert PROOF[thread] == pytest.approx([bolt_preload(area, stress * 1e6, 1) for stress in stresses], rel=0.007)


# Shigley and Mischke 8-8, single values, typed again.
@pytest.mark.parametrize(("surface", "factor"), [("plain-black", 0.30), ("zinc-plated", 0.20), ("lubricated", 0.18),
                                                 ("cadmium-plated", 0.16), ("anti-seize", 0.12)])
def test_nut_factors_are_those_printed(surface, factor):
    """A nut factor is as the textbook has it."""
    assert factor == cell("nut-factors", "nut_factor", surface=surface)


# Southwire tables 1 and 2, lbf per circular mil; the conversion is pint's and not ours.
@pytest.mark.parametrize(("metal", "kind", "printed"), [("copper", "stranded", 0.008), ("copper", "solid", 0.008),
                                                        ("aluminium", "stranded", 0.006), ("aluminium", "solid", 0.002)])
def test_stress_per_circular_mil_is_converted_downwards(metal, kind, printed):
    """The cell in N/mm² is the printed stress, and never above it."""
    exact = (printed * MEASURE.force_pound / MEASURE.circular_mil).to("N/mm**2").magnitude
    assert 0.995 * exact <= cell("conductor-stress", "stress", family="circular_mil", metal=metal, stranding=kind) <= exact


# Nexans Belgium, HUBER+SUHNER p 147 and HELUKABEL print 50 and 30 N/mm2.
def test_families_of_stress_differ_as_published():
    """Square-millimetre limits lie 29 % under circular-mil ones for copper and 43 % for aluminium."""
    ratio = {
        metal: cell("conductor-stress", "stress", family="square_millimetre", metal=metal, stranding="stranded")
        / cell("conductor-stress", "stress", family="circular_mil", metal=metal, stranding="stranded")
        for metal in ("copper", "aluminium")
    }
    assert {"copper": 1 - 0.29, "aluminium": 1 - 0.43} == pytest.approx(ratio, abs=0.005)


def test_no_figure_stands_for_flexible_aluminium():
    """Nobody publishes a pull for flexible aluminium, so the table gives none and asks for the maker's."""
    cells = [row["stress"] for row in TABLES["conductor-stress"]["rows"] if (row["metal"], row["stranding"]) == ("aluminium", "flexible")]
    assert [None, None] == cells


# IEWC, ICEA-sponsored study: 300 lbf per foot of radius.
def test_side_pressure_is_the_lowest_published_and_rounded_down():
    """Until the drum's figure is given the limit is 300 lbf/ft, never more."""
    exact = (300 * MEASURE.force_pound / MEASURE.foot).to("kN/m").magnitude
    assert 0.995 * exact <= value("pulling-policy", "sidewall_limit") <= exact


# IEWC: 1000 lbf per basket grip. Southwire: 10 000 lbf for a pulling device.
@pytest.mark.parametrize(("grip", "printed"), [("basket", 1000), ("eye", 10000)])
def test_attachment_limits_are_converted_downwards(grip, printed):
    """The cell in kN is the printed limit, and never above it."""
    exact = (printed * MEASURE.force_pound).to("kN").magnitude
    assert 0.995 * exact <= cell("attachment-limits", "limit", family="circular_mil", grip=grip) <= exact


# Saudi Electricity TES-P-104.05, table 05-03, upper end of each range, typed again: rollers, dry, lubricated.
@pytest.mark.parametrize(("jacket", "printed"), [("pe", (0.2, 0.4, 0.25)), ("pvc", (0.2, 0.6, 0.35))])
def test_friction_is_the_upper_end_of_the_owner_standard(jacket, printed):
    """Friction by jacket and way is the worst that the owner standard prints."""
    assert printed == tuple(cell("friction", "friction", jacket=jacket, way=way) for way in ("rollers", "dry", "lubricated"))


# HUBER+SUHNER catalogue p 147, class 1 or 2 normal, bands up to 8, 12, 20 mm and over, typed again.
@pytest.mark.parametrize(("diameter", "printed"), [(8, 4), (12, 5), ("none", 6)])
def test_flexible_cable_bends_as_printed(diameter, printed):
    """Multiples for flexible cable follow the printed bands."""
    assert printed == cell("bending-multiples", "setting", construction="flexible", diameter=diameter)


# IEC 60228, ohm/km at 20 degrees, typed again from a second reproduction: class 2 copper, class 5 copper, class 2 aluminium.
OHMS = {
    16: (1.15, 1.21, 1.91), 25: (0.727, 0.780, 1.20), 35: (0.524, 0.554, 0.868), 50: (0.387, 0.386, 0.641),
    70: (0.268, 0.272, 0.443), 95: (0.193, 0.206, 0.320), 120: (0.153, 0.161, 0.253), 150: (0.124, 0.129, 0.206),
    185: (0.0991, 0.106, 0.164), 240: (0.0754, 0.0801, 0.125), 300: (0.0601, 0.0641, 0.100), 400: (0.0470, 0.0486, 0.0778),
    500: (0.0366, 0.0384, 0.0605), 630: (0.0283, 0.0287, 0.0469),
}


@pytest.mark.parametrize("area", OHMS)
def test_conductor_resistances_are_those_of_the_standard(area):
    """Copper stranded and flexible and aluminium stranded are as the standard has them."""
    kinds = [("copper", "stranded"), ("copper", "flexible"), ("aluminium", "stranded")]
    assert OHMS[area] == tuple(cell("conductors", "resistance", conductor=metal, area=area, stranding=kind) for metal, kind in kinds)


# The same, small sizes, typed again from a cable-sizing trade page: solid and stranded copper alike, flexible copper, and aluminium of 10 mm2.
SMALL_OHMS = {1.5: (12.1, 13.3), 2.5: (7.41, 7.98), 4: (4.61, 4.95), 6: (3.08, 3.30), 10: (1.83, 1.91)}


@pytest.mark.parametrize("area", SMALL_OHMS)
def test_small_conductors_are_those_of_the_standard(area):
    """Earth and control cores: a solid wire and a strand of one size have one limit."""
    printed, flexible = SMALL_OHMS[area]
    assert (printed, printed, flexible) == tuple(cell("conductors", "resistance", conductor="copper", area=area, stranding=kind) for kind in ("solid", "stranded", "flexible"))


def test_smallest_aluminium_conductor_is_that_of_the_standard():
    """Class 1 and class 2 aluminium of 10 mm2 have 3.08 ohm/km (Kabelmetal Indonesia, tables A.1 and A.2)."""
    assert (3.08, 3.08) == tuple(cell("conductors", "resistance", conductor="aluminium", area=10, stranding=kind) for kind in ("solid", "stranded"))


# NEC chapter 9 table 8, class B strand, uncoated copper and aluminium, ohm per 1000 ft at 75 degrees, typed again from SFASoft's print of it.
OHMS_PER_KFT = {26.24: (0.491, 0.808), 41.74: (0.308, 0.508), 52.62: (0.245, 0.403), 66.36: (0.194, 0.319), 83.69: (0.154, 0.253), 105.6: (0.122, 0.201),
                133.1: (0.0967, 0.159), 167.8: (0.0766, 0.126), 211.6: (0.0608, 0.1), 250: (0.0515, 0.0847), 300: (0.0429, 0.0707), 350: (0.0367, 0.0605),
                400: (0.0321, 0.0529), 500: (0.0258, 0.0424), 600: (0.0214, 0.0353), 700: (0.0184, 0.0303), 750: (0.0171, 0.0282), 1000: (0.0129, 0.0212)}


@pytest.mark.parametrize("kcmil", OHMS_PER_KFT)
def test_american_conductors_give_the_printed_ohms_when_warm(kcmil):
    """Found by its size in kcmil and warmed to 75 degrees, each row is the printed figure, rounded up."""
    zero = 273.15 + value("conductor-policy", "zero")
    for metal, printed in zip(("copper", "aluminium"), OHMS_PER_KFT[kcmil], strict=True):
        cold = asked("conductors", "resistance", conductor=metal, stranding="stranded", area=f"{kcmil} kcmil")
        warm = conductor_resistance(cold, 293.15, 348.15, zero) * 304.8
        assert printed <= warm * (1 + 1e-9) <= printed * 1.001


# Resistivity of electrical copper and aluminium, ohm mm2 per km at 20 degrees (cable metals, 2017).
@pytest.mark.parametrize("row", TABLES["conductors"]["rows"], ids=lambda row: f"{row['conductor']} {row['stranding']} {row['area']}")
def test_conductor_resistance_fits_its_metal_and_area(row):
    """No cell is below what the metal and the nominal area allow by more than lay and tolerance, nor far above."""
    ideal = {"copper": 17.241, "aluminium": 28.264}[row["conductor"]] / row["area"]
    most = 1.16 if row["basis"] == "published" else 1.16 * 1.06
    assert 1.0 <= row["resistance"] / ideal <= most


# IEC 60228 temperature factors, R at 20 degrees over R at t, typed again.
@pytest.mark.parametrize(("degrees", "factor"), [(5, 1.064), (10, 1.042), (15, 1.020), (25, 0.980), (30, 0.962), (40, 0.926),
                                                 (50, 0.893), (60, 0.862), (70, 0.833), (75, 0.820), (80, 0.806), (90, 0.781), (100, 0.758)])
def test_temperature_factors_of_the_conductor_standard_come_out(degrees, factor):
    """Zero at -230 degrees gives the printed factors to their third decimal."""
    zero = 273.15 + value("conductor-policy", "zero")
    assert factor == pytest.approx(conductor_resistance(1, degrees + 273.15, 293.15, zero), abs=0.0006)


# Schneider, currents at the no-load voltages 237 V and 410 V, typed again.
CURRENTS = {100: (244, 141), 160: (390, 225), 250: (609, 352), 315: (767, 444), 400: (974, 563), 500: (1218, 704), 630: (1535, 887),
            800: (1949, 1127), 1000: (2436, 1408), 1250: (3045, 1760), 1600: (3898, 2253), 2000: (4872, 2816), 2500: (6090, 3520),
            3150: (7673, 4436)}


@pytest.mark.parametrize("rating", CURRENTS)
def test_transformer_currents_of_the_printed_table_come_out(rating):
    """Current at the voltage stated is as printed, to the ampere."""
    assert CURRENTS[rating] == pytest.approx([full_load_current(rating * 1e3, volts) for volts in (237, 410)], abs=1.1)


def test_transformer_current_depends_on_the_voltage_stated():
    """1000 kVA is 1408, 1443 or 1391 A by the voltage that is meant (Schneider table at 410 V; hand)."""
    assert [1408, 1443, 1391] == [round(full_load_current(1e6, volts)) for volts in (410, 400, 415)]


# Greenlee 6000-series p 15: pull 6500 lbf, angle between the parts of the rope against the printed resultant.
GREENLEE = {180: 0, 150: 3380, 135: 5005, 120: 6500, 90: 9165, 60: 11245, 45: 12025, 30: 12545, 0: 13000}


@pytest.mark.parametrize("between", GREENLEE)
def test_sheave_resultants_of_the_printed_table_come_out(between):
    """Turn is 180 degrees less the angle between the parts of the rope; the print uses two decimals."""
    turn = (180 - between) * pi / 180
    assert GREENLEE[between] == pytest.approx(roller_load(6500, turn)["force"], rel=0.0071, abs=1e-9)


# Crosby tackle-block factors by angle between lines, typed again.
CROSBY = {0: 2.00, 10: 1.99, 20: 1.97, 30: 1.93, 40: 1.87, 50: 1.81, 60: 1.73, 70: 1.64, 80: 1.53, 90: 1.41, 100: 1.29, 110: 1.15,
          120: 1.00, 130: 0.84, 140: 0.68, 150: 0.52, 160: 0.35, 170: 0.17, 180: 0.00}


@pytest.mark.parametrize("between", CROSBY)
def test_block_factors_of_the_printed_table_come_out(between):
    """Factors come out to the printed decimal; three cells of the print are cut and not rounded."""
    assert CROSBY[between] == pytest.approx(roller_load(1, (180 - between) * pi / 180)["force"], abs=0.0095)


def test_roller_block_and_sling_angles_agree_only_at_ninety_degrees():
    """The angle of a turn, between lines and from the horizontal give one load at 90 degrees and no other."""
    def by_turn(degrees):
        return roller_load(1, degrees * pi / 180)["force"]

    def by_sling(degrees):
        return 1 / sin(degrees / 2 * pi / 180)

    assert by_turn(90) == pytest.approx(by_turn(180 - 90)) == pytest.approx(by_sling(90))
    assert by_turn(60) != pytest.approx(by_turn(180 - 60), rel=0.1)


# Nexans medium-voltage installation sheet, factor of a bend by angle and friction; 1.88 of the print at 90 and 0.4 is 1.87.
BENDS = {30: (1.14, 1.17, 1.23), 45: (1.22, 1.27, 1.37), 60: (1.30, 1.37, 1.52), 90: (1.48, 1.60, 1.87)}


@pytest.mark.parametrize("degrees", BENDS)
def test_bend_factors_of_the_printed_table_come_out(degrees):
    """A light cable through a level bend is pulled up by the printed factor."""
    def factor(friction):
        bend = {"shape": "bend_level", "turn": degrees * pi / 180, "radius": 1, "length": None, "slope": None}
        return route_tension([bend], 0.1, friction, 1, 1000, "single", None)["tension"] / 1000

    assert BENDS[degrees] == pytest.approx([factor(friction) for friction in (0.25, 0.3, 0.4)], abs=0.0051)


# CommScope conduit manual pp 44 and 71: route A to H, each station rounded to whole pounds with 1.48 and 2.19.
def test_route_of_the_handbook_comes_out_with_its_own_rounding():
    """Rounded as the print rounds, every station of the printed route comes out exactly."""
    stations, pull = [], 0.0
    for length, factor in ((100, 1), (0, 1.48), (80, 1), (0, 2.19), (75, 1), (0, 1.48), (70, 1)):
        added = 0.0
        if length:
            straight = {"shape": "straight", "length": length, "slope": 0, "turn": None, "radius": None}
            added = route_tension([straight], 0.144, 0.5, 1, 0, "single", None)["tension"]
        pull = round(pull * factor + added)
        stations.append(pull)
    assert [7, 10, 16, 35, 40, 59, 64] == stations


# HSE pushing and pulling guideline: 20 kgf to start, 10 kgf to keep moving, for a man.
def test_force_of_one_person_is_the_guideline():
    """One person is counted with 200 N to start and 100 N to keep moving, rounded to ten newtons."""
    assert (200, 100) == pytest.approx((value("pulling-policy", "person_start"), value("pulling-policy", "person_sustained")))
    assert [200, 100] == [round(kilograms * 9.80665, -1) for kilograms in (20, 10)]
