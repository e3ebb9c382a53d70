"""From station to station of a route: the way, the pull, and the friction between two pulls."""

from builder.formulas.bends import _through
from builder.formulas.mathematics import cannot_tell


def _segment_length(segment):
    """Length of one segment along its middle line."""
    if segment["shape"] == "straight":
        if segment["length"] is None:
            cannot_tell("A straight of the route gives no length.")
        return segment["length"]
    if segment["turn"] is None or segment["radius"] is None:
        cannot_tell("A bend of the route gives no turn or no radius.")
    return segment["turn"] * segment["radius"]


def _way_to(segments, from_end, station):
    """Way from the mouth to a station, in the direction of the pull."""
    count = len(segments)
    way = 0
    for i in range(0, count):
        if i < station:
            way = way + _segment_length(segments[count - 1 - i] if from_end else segments[i])
    return way


def _pull_between(segments, weight, grip, tension, from_end, since, until):
    """Pull when the head leaves station `until`, from the pull with which it left station `since`."""
    count = len(segments)
    pull = tension
    for i in range(0, count):
        if i >= since and i < until:
            segment = segments[count - 1 - i] if from_end else segments[i]
            reached = _through(segment, weight, grip, pull, from_end)
            pull = reached["leaving"]
    return pull


def _friction_between(segments, weight, occupancy, tension, from_end, since, until, measured):
    """Friction that leads from one pull to another, by halving; the nearest where none in the range does."""
    low = 0.01
    high = 1.5
    for _ in range(0, 60):
        middle = (low + high) / 2
        if _pull_between(segments, weight, middle * occupancy, tension, from_end, since, until) < measured:
            low = middle
        else:
            high = middle
    return high
