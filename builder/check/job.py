"""A job: the place, the people, and the items that get worked on."""

from functools import cache
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field
from pydantic_core import PydanticCustomError

from builder.check.library import Language, Part, Role
from builder.check.names import ItemName, Name
from builder.quantity import Quantity, UnknownUnit, parse_quantity, unit


@cache
def measured(symbol: str, least: str = "positive") -> Any:
    """The type of a field that takes any unit of the same dimension as `symbol`: `positive`, from `zero`, or `any`."""
    wanted = unit(symbol)

    def parsed(given: object) -> Quantity:
        if isinstance(given, Quantity):
            return given
        if isinstance(given, bool) or not isinstance(given, str | int | float):
            raise PydanticCustomError("measure", "expected a number with a unit, such as `1 {unit}`", {"unit": symbol})
        if symbol != "1" and not isinstance(given, str):
            raise PydanticCustomError("measure", "`{given}` has no unit; expected one like `{given} {unit}`",
                                      {"given": str(given), "unit": symbol})
        try:
            found = parse_quantity(str(given))
        except UnknownUnit as error:
            raise PydanticCustomError("measure", "{why}", {"why": str(error)}) from None
        except ValueError as error:
            raise PydanticCustomError("measure", "{why}; expected a number with a unit, such as `1 {unit}`",
                                      {"why": str(error), "unit": symbol}) from None
        if found.unit.dimension != wanted.dimension:
            raise PydanticCustomError("dimension", "`{given}` is in {found}; this takes a value in {unit}",
                                      {"given": str(given), "found": found.unit.symbol, "unit": symbol})
        if (least == "positive" and found.si <= 0) or (least == "zero" and found.si < 0):
            raise PydanticCustomError("measure", "`{given}` can't be: it must be more than nothing" if least == "positive"
                                      else "`{given}` can't be less than nothing", {"given": str(given)})
        return found

    return Annotated[Quantity, BeforeValidator(parsed), Measured(symbol)]


class Measured:
    """Marks a field as a quantity, for the expressions that will use it."""

    def __init__(self, symbol: str):
        self.symbol = symbol


class Refers:
    """Marks a field as the name of something else in the job."""

    def __init__(self, to: str):
        self.to = to


class WordOf:
    """Marks a field as a word that a table's key knows; a mistyped one would quietly find no row."""

    def __init__(self, table: str, key: str):
        self.table, self.key = table, key


def _reference(to: str) -> Any:
    return Annotated[ItemName, Refers(to)]


Metre = measured("m")
MetreFromZero = measured("m", "zero")
Millimetre = measured("mm")
Newton = measured("N")
Volt = measured("V")
Ampere = measured("A")
Ratio = measured("1")
System = Literal["ac3", "ac1", "dc"]


class Person(Part):
    name: str
    role: Role


class Cable(Part):
    cable: ItemName
    title: str
    conductor: Literal["copper", "aluminium"]
    stranding: Literal["stranded", "flexible", "solid"]
    area: measured("mm2")
    cores: int = Field(ge=1)
    construction: Literal["unarmoured", "armoured", "screened", "flexible"]
    jacket: Literal["pvc", "pe", "rubber"]
    insulation: Literal["xlpe", "pvc", "rubber"]
    diameter: Millimetre
    mass: measured("kg/m")
    rated_voltage: Volt
    maker_radius_pulling: Millimetre | None = None
    maker_radius_set: Millimetre | None = None
    maker_pulling_limit: Newton | None = None
    maker_sidewall_limit: measured("N/m") | None = None


class Site(Part):
    """The place as a whole, or one part of it where a crew works; what holds for a site holds for every item."""

    site: ItemName
    title: str
    muster_point: str
    overhead_lines: bool
    public_access: bool
    vehicles: bool
    confined_space: bool
    hot_work: bool


class Drum(Part):
    """Cable as it comes: on a drum or as a coil, and the runs that are cut from it."""

    drum: ItemName
    title: str
    cable: _reference("cable")
    package: Literal["drum", "coil"]
    length: Metre
    gross_mass: measured("kg") | None = None
    runs: list[_reference("run")] = []


class Placement(Part):
    """Heavy gear that is set down and must one day be taken out again."""

    placement: ItemName
    title: str
    gear: Literal["transformer", "switchboard", "inverter", "battery", "generator"]
    mass: measured("kg")
    length: Metre
    width: Metre
    bearing_length: Metre | None = None
    bearing_width: Metre | None = None
    ground_bears: measured("kPa") | None = None
    brought_by: Literal["crane", "fork-truck", "skates"]
    sling_legs: int | None = Field(default=None, ge=1, le=4)
    machine_width: Metre | None = None
    turning_radius: Metre | None = None
    load_reach: Metre | None = None
    maker_gap: Metre | None = None
    working_space: Metre | None = None
    door_swing: MetreFromZero | None = None
    outdoors: bool
    isolations: list[_reference("isolation")] = []


class Service(Part):
    service: Name
    kind: Literal["electricity", "gas", "water", "sewer", "drain", "telecom", "fuel", "unknown"]
    depth: MetreFromZero | None = None
    offset: MetreFromZero | None = None
    located_by: Literal["plan", "detector", "hand", "vacuum"]


class Trench(Part):
    trench: ItemName
    title: str
    length: Metre
    cover: Metre
    bottom_width: Metre
    batter: measured("1", "zero")
    soil: Annotated[str, WordOf("soils", "soil")]
    conduit_diameter: Millimetre
    layers: int = Field(ge=1)
    surface: Annotated[str, WordOf("cover-depths", "surface")]
    road_crossing: bool
    services: list[Service] = []
    local_cover: Metre | None = None


class Segment(Part):
    shape: Literal["straight", "bend_level", "sag_rising", "crest_rising", "sag_falling", "crest_falling"]
    length: Metre | None = None
    slope: measured("deg", "any") | None = None
    turn: measured("deg") | None = None
    radius: Metre | None = None


class Pulled(Part):
    """Another cable drawn in by the same pull."""

    cable: _reference("cable")
    number: int = Field(ge=1)


class Run(Part):
    run: ItemName
    title: str
    trench: _reference("trench") | None = None
    cable: _reference("cable")
    number: int = Field(ge=1)
    also: list[Pulled] = []
    arrangement: Literal["single", "cradled", "triangular", "diamond", "mixed"]
    way: Literal["conduit", "tray", "rollers"]
    bore: Millimetre | None = None
    conduit: str | None = None
    lubricated: bool
    pulled_by: Literal["hand", "winch"]
    route: list[Segment] = Field(min_length=1)
    tail_start: MetreFromZero
    tail_end: MetreFromZero
    load_current: Ampere
    system: System
    voltage: Volt
    grip: Literal["hitches", "basket", "eye"]
    rope_break: Newton | None = None
    isolations: list[_reference("isolation")] = []


class Box(Part):
    """A lock box: it holds the keys of the locks on several points, and everybody's own lock hangs on the box."""

    lock_box: ItemName
    title: str
    where: str


class Isolation(Part):
    isolation: ItemName
    title: str
    where: str
    of: Literal["supply", "back-feed", "generator", "inverter", "battery", "capacitor"]
    system: Literal["ac", "dc"]
    voltage: Volt
    lock_points: int = Field(ge=1)
    can_be_made_dead: bool
    operated_by: Literal["crew", "operator"] = "crew"
    charged_to: Volt | None = None
    capacitance: measured("uF") | None = None
    discharge_resistance: measured("ohm") | None = None
    label_time: measured("s") | None = None
    tester_voltage: Volt | None = None
    lock_box: _reference("lock_box") | None = None


class Joint(Part):
    joint: ItemName
    title: str
    run: _reference("run")
    end: Literal["start", "end"]
    kind: Annotated[str, WordOf("joint-torques", "joint")]
    thread: Annotated[str, WordOf("threads", "thread")]
    property_class: str
    bolts: int = Field(ge=1)
    maker_torque: measured("N.m") | None = None
    wrench_error: Ratio | None = None
    metal: Literal["aluminium-copper", "copper-copper", "aluminium-aluminium"]
    isolations: list[_reference("isolation")] = []


class Supply(Part):
    supply: ItemName
    title: str
    feeds: Literal["board", "drive", "inverter", "battery"] = "board"
    system: System
    voltage: Volt
    joints: list[_reference("joint")] = []
    runs: list[_reference("run")] = []
    isolations: list[_reference("isolation")] = []
    transformer_rating: measured("kVA") | None = None
    label_current: Ampere | None = None
    load_current: Ampere | None = None
    # After `isolations`: the field by which a supply and its isolations belong together is the first that names them.
    stay_locked: list[_reference("isolation")] = []
    placements: list[_reference("placement")] = []


class Job(Part):
    """One job file."""

    job: Name
    title: str
    place: str
    client: str
    practice: Literal["au-nz", "iec", "us"]
    language: Language = "en"
    libraries: list[str] = Field(min_length=1)
    overlays: list[str] = []
    people: list[Person] = []
    sites: list[Site] = []
    cables: list[Cable] = []
    drums: list[Drum] = []
    placements: list[Placement] = []
    trenches: list[Trench] = []
    runs: list[Run] = []
    lock_boxes: list[Box] = []
    isolations: list[Isolation] = []
    joints: list[Joint] = []
    supplies: list[Supply] = []


# kind → (the job's list of them, their model)
KINDS: dict[str, tuple[str, type[Part]]] = {
    "cable": ("cables", Cable),
    "site": ("sites", Site),
    "drum": ("drums", Drum),
    "placement": ("placements", Placement),
    "trench": ("trenches", Trench),
    "run": ("runs", Run),
    "lock_box": ("lock_boxes", Box),
    "isolation": ("isolations", Isolation),
    "joint": ("joints", Joint),
    "supply": ("supplies", Supply),
}
