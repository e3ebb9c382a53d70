"""One segment of a route: what pull leaves it, with the cable on either wall of a bend."""

from builder.formulas.mathematics import asinh, atan, cannot_tell, cos, exp, sin, sinh


def _through(segment, weight, grip, tension, from_end):
    """Pull leaving one segment, and what is short of none where the cable runs by itself."""
    shape = segment["shape"]
    if shape == "straight":
        if segment["length"] is None or segment["slope"] is None:
            cannot_tell("A straight of the route gives no length or no slope.")
        slope = -segment["slope"] if from_end else segment["slope"]
        return _kept(tension + weight * segment["length"] * (sin(slope) + grip * cos(slope)))
    if segment["turn"] is None or segment["radius"] is None:
        cannot_tell("A bend of the route gives no turn or no radius.")
    turn = segment["turn"]
    # Weight of a piece of bundle as long as the radius: the measure of every pull in the bend.
    scale = weight * segment["radius"]
    pull = tension / scale
    if shape == "bend_level":
        return _kept(scale * sinh(grip * turn + asinh(pull)))
    if cos(turn) < 0:
        cannot_tell("A bend up or down turns by 90 degrees at most: list it as two bends.")
    # Met from the other end, a bend that rose falls.
    rising = (shape == "sag_rising" or shape == "crest_rising") != from_end
    if shape == "crest_rising" or shape == "crest_falling":
        return _kept(scale * _over_crest(pull, turn, grip, rising))
    if rising:
        return _kept(scale * _up_sag(pull, turn, grip))
    return _down_sag(pull, turn, grip, scale)


def _kept(pull):
    """A pull that is never less than none; the rest is what a brake has to hold."""
    return {"leaving": max(pull, 0), "shortfall": max(-pull, 0)}


def _over_crest(pull, turn, grip, rising):
    """Pull leaving a crest, where tension and weight press on the same wall all along."""
    grown = exp(grip * turn)
    square = grip**2
    if rising:
        weight_part = 2 * grip * grown * sin(turn) + (1 - square) * (1 - grown * cos(turn))
    else:
        weight_part = 2 * grip * sin(turn) - (1 - square) * (grown - cos(turn))
    return pull * grown + weight_part / (1 + square)


def _up_sag(pull, turn, grip):
    """Pull leaving a sag from level to rising: the cable may lie first and lift off once."""
    if pull >= 1:
        return _in_sag(pull, 0, turn, grip)
    if _in_sag(pull, 0, turn, -grip) <= cos(turn):
        return _in_sag(pull, 0, turn, -grip)
    lies = 0
    lifted = turn
    for _ in range(0, 60):
        middle = (lies + lifted) / 2
        if _in_sag(pull, 0, middle, -grip) <= cos(middle):
            lies = middle
        else:
            lifted = middle
    return _in_sag(cos(lies), lies, turn, grip)


def _down_sag(pull, turn, grip, scale):
    """Pull leaving a sag from falling to level: the cable may ride first and lie down once."""
    start = -turn
    lain = start
    if pull >= cos(turn):
        if _in_sag(pull, start, 0, grip) >= 1:
            return _kept(scale * _in_sag(pull, start, 0, grip))
        lain = 0
        rides = start
        for _ in range(0, 60):
            middle = (rides + lain) / 2
            if _in_sag(pull, start, middle, grip) >= cos(middle):
                rides = middle
            else:
                lain = middle
        pull = cos(lain)
    # Steeper than this the cable slides by itself.
    slides_until = -atan(grip)
    shortfall = 0
    if lain < slides_until:
        slid = _kept(scale * _in_sag(pull, lain, slides_until, -grip))
        pull = slid["leaving"] / scale
        shortfall = slid["shortfall"]
        lain = slides_until
    return {"leaving": scale * _in_sag(pull, lain, 0, -grip), "shortfall": shortfall}


def _in_sag(pull, start, end, grip):
    """
    Pull at the angle `end` of a sag, from the pull at `start`, both in weights of a radius.

    Positive grip where the cable rides on the inner wall, negative where it lies on the outer.
    """
    square = grip**2
    at_start = ((square - 1) * cos(start) - 2 * grip * sin(start)) / (1 + square)
    at_end = ((square - 1) * cos(end) - 2 * grip * sin(end)) / (1 + square)
    return at_end + (pull - at_start) * exp(grip * (end - start))
