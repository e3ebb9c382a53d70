"""Figures of a job that can't all be true: a comma that slipped, a metre for a millimetre."""

from collections.abc import Callable, Iterator, Mapping
from math import pi, sqrt
from typing import Any

from builder.check.job import Cable, Drum, Isolation, Job, Placement, Run, Supply, Trench
from builder.load.document import Document
from builder.load.problems import Problem

# Standards set a conductor's resistance and not its area: what is drawn may be a little less than its name.
_NAMED_FOR_MORE = 0.8
# No maker prints a bend of less than three diameters.
_TIGHTEST = 2
# Cable for alternating current carries a higher direct voltage, and never twice as much.
_MORE_ON_DC = 2
# A label's voltage and the nominal one differ by a few per cent.
_LABELS_DIFFER = 0.25
# Newtons on a square metre of conductor: well above what stretches copper for good.
_CONDUCTOR_BREAKS = 100e6
# A link stands at the peak of its feed, or is stepped up from it; nobody makes one of three times the feed.
_LINK_OVER_FEED = 3
# A mat or a plinth spreads a load, and not over three times its length.
_SPREADS = 3
# Nobody works in front of gear in less than this, in metres.
_SHOULDERS = 0.5
# Two rules for one cover differ, and not by this much.
_COVERS_DIFFER = 5

_Found = Iterator[tuple[tuple, str, str]]


def figure_faults(job: Job, document: Document, tables: Mapping[str, dict]) -> list[Problem]:
    """Every figure that another figure of the same job belies, where it stands."""
    densities = {row["metal"]: row["density"] for row in tables["metals"]["rows"]}
    cables = {cable.cable: cable for cable in job.cables}
    runs = {run.run: run for run in job.runs}
    belied: dict[str, Callable[[Any], _Found]] = {
        "cables": lambda cable: _cable(cable, densities),
        "drums": lambda drum: _drum(drum, cables.get(drum.cable)),
        "placements": _placement,
        "trenches": _trench,
        "isolations": _isolation,
        "runs": lambda run: _run(run, cables.get(run.cable)),
        "supplies": lambda supply: _supply(supply, runs),
    }
    return [
        document.problem((field, index, *where), "SHAPE-03", text, advice)
        for field, faults in belied.items() for index, item in enumerate(getattr(job, field)) for where, text, advice in faults(item)
    ]


def _cable(cable: Cable, densities: Mapping[str, float]) -> _Found:
    metal, circle = cable.cores * cable.area.si, pi / 4 * cable.diameter.si**2
    advice = "check area, cores, diameter and mass against the cable's own sheet"
    if metal * _NAMED_FOR_MORE > circle:
        yield ("diameter",), f"{cable.cores} × {cable.area.text} of metal do not go into a cable of {cable.diameter.text}", advice
    least = metal * densities[cable.conductor] * _NAMED_FOR_MORE
    if cable.mass.si < least:
        yield ("mass",), f"{cable.mass.text} is less than its {cable.conductor} weighs alone, {least:.3g} kg/m", advice
    if cable.mass.si > circle * max(densities.values()):
        yield ("mass",), f"{cable.mass.text} is more than solid copper of {cable.diameter.text} weighs", advice
    for field in ("maker_radius_pulling", "maker_radius_set"):
        radius = getattr(cable, field)
        if radius and radius.si < _TIGHTEST * cable.diameter.si:
            yield (field,), f"no cable of {cable.diameter.text} bends to {radius.text}", "the radius counts to the inside of the bend"

    pull = cable.maker_pulling_limit
    # Armour that is pulled on takes more than the conductors.
    if pull and cable.construction != "armoured" and pull.si > metal * _CONDUCTOR_BREAKS:
        yield ("maker_pulling_limit",), f"{pull.text} would tear {cable.cores} × {cable.area.text} of {cable.conductor}", ""


def _drum(drum: Drum, cable: Cable | None) -> _Found:
    if cable and drum.gross_mass and drum.gross_mass.si < drum.length.si * cable.mass.si:
        yield (("gross_mass",), f"{drum.length.text} of this cable weigh {drum.length.si * cable.mass.si:.3g} kg, and drum and cable together "
               f"{drum.gross_mass.text}", "check length and mass against the drum's label")


def _placement(placement: Placement) -> _Found:
    for bearing, along in (("bearing_length", "length"), ("bearing_width", "width")):
        given, whole = getattr(placement, bearing), getattr(placement, along)
        if given and given.si > _SPREADS * whole.si:
            yield (bearing,), f"gear of {whole.text} does not bear on {given.text}", f"check it against the {along}"
    if placement.working_space and placement.working_space.si < _SHOULDERS:
        yield ("working_space",), f"nobody works in {placement.working_space.text}", ""


def _trench(trench: Trench) -> _Found:
    local, cover = trench.local_cover, trench.cover
    if local and not 1 / _COVERS_DIFFER <= local.si / cover.si <= _COVERS_DIFFER:
        yield ("local_cover",), f"{local.text} by the local rule and {cover.text} by the drawing: one of the two has slipped", ""


def _isolation(isolation: Isolation) -> _Found:
    charged = isolation.charged_to
    if charged and isolation.system == "ac" and charged.si > _LINK_OVER_FEED * isolation.voltage.si:
        yield ("charged_to",), f"nothing fed with {isolation.voltage.text} charges to {charged.text}", ""


def _run(run: Run, cable: Cable | None) -> _Found:
    if cable and run.voltage.si > cable.rated_voltage.si * (_MORE_ON_DC if run.system == "dc" else 1):
        yield ("voltage",), f"this run stands at {run.voltage.text} and its cable is made for {cable.rated_voltage.text}", ""


def _supply(supply: Supply, runs: Mapping[str, Run]) -> _Found:
    for name in supply.runs:
        run = runs.get(name)
        if run and run.system == supply.system and not _near(run.voltage.si, supply.voltage.si):
            yield ("voltage",), f"this supply stands at {supply.voltage.text} and its run `{name}` at {run.voltage.text}", ""
    if supply.transformer_rating and supply.label_current and supply.system == "ac3":
        current = supply.transformer_rating.si / (sqrt(3) * supply.voltage.si)
        if not _near(current, supply.label_current.si):
            yield (("label_current",), f"{supply.transformer_rating.text} at {supply.voltage.text} are {current:.3g} A, and not "
                   f"{supply.label_current.text}", "check rating, voltage and current against the label")


def _near(one: float, other: float) -> bool:
    return abs(one - other) <= _LABELS_DIFFER * max(one, other)
