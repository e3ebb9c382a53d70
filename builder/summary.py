"""One line that says which item this is, in the values that its file gives and the words of the job's language."""

from typing import Any

from builder.check.job import Job
from builder.words import named, say


def summary(kind: str, item: Any, job: Job) -> str:
    """What stands under an item's title."""
    def told(place: str, /, **values: Any) -> str:
        return say(f"summary.{place}", job.language, **values)

    def word(name: str) -> str:
        return named(name, job.language)

    match kind:
        case "trench":
            parts = [item.length.text, told("cover", depth=item.cover.text)]
            parts += [told("under_road")] if item.road_crossing else []
            parts += [f"{word(one.kind)} {_where(one, told, word)}" for one in item.services]
        case "run":
            way = " ".join(([item.bore.text] if item.bore else []) + ([item.conduit] if item.conduit else []) + [word(item.way)])
            parts = [" + ".join(f"{one.number} × {_cable(one, job)}" for one in (item, *item.also)), way]
        case "lock_box":
            parts = [item.where]
        case "site":
            parts = [told("muster", place=item.muster_point)]
        case "drum":
            runs = told("for_runs", runs=", ".join(item.runs)) if item.runs else told("for_no_run")
            parts = [told("of_cable", length=item.length.text, cable=_cable(item, job)), runs]
        case "placement":
            size = f"{item.length.text} × {item.width.text}"
            parts = [word(item.gear), item.mass.text, size, told("brought_by", means=word(item.brought_by))]
        case "isolation":
            parts = [f"{item.voltage.text} {told(item.system)}", item.where]
        case "joint":
            metals = item.metal.split("-")
            parts = [f"{item.bolts} × {item.thread} {item.property_class}",
                     told("metals", one=word(metals[0]), other=word(metals[1])), told("end_of", end=word(item.end), run=item.run)]
        case _:
            parts = [f"{item.voltage.text} {told('dc' if item.system == 'dc' else 'ac')}"]
    return " · ".join(parts)


def _cable(item: Any, job: Job) -> str:
    return next(one.title for one in job.cables if one.cable == item.cable)


def _where(service: Any, told: Any, word: Any) -> str:
    """Where a service was found to lie; what nobody has seen is said to be only on the plan."""
    depth = told("deep", depth=service.depth.text) if service.depth else told("depth_unknown")
    return told("on_plan", depth=depth) if service.located_by == "plan" else told("found_by", depth=depth, means=word(service.located_by))
