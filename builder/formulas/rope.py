"""Rope and its hitches: what it may take, how strong it must be, what a hitch has to hold."""

from builder.formulas.mathematics import cannot_tell, ceil, floor, pi, sin


def rope_working_load(breaking_load, factor):
    """
    Pull that a rope or grip may take in use.

        F = B / n

    Inputs
      breaking_load : B [N]  1 .. 1e7      average break of new rope, or of the grip
      factor        : n [1]  1 .. 20       breaking load over working load
    Gives
      working_load  : F [N]  0 .. 1e7      3 figures, down      less is safer
    Holds when
      New, unspliced and dry; knots and hitches take away up to half of a rope.
    Source
      hubbell-kellems: W-44, breaking load over five for pulling grips
    """
    return breaking_load / factor


def rope_break_needed(tension, factor):
    """
    Least breaking load to read on the rope's tag before this pull.

        B = n · T

    Inputs
      tension       : T [N]  0 .. 1e7      highest of the pull, or the winch's own where it can reach that
      factor        : n [1]  1 .. 20       breaking load over working load
    Gives
      breaking_load : B [N]  0 .. 2e8      3 figures, up      more is safer
    Holds when
      New, unspliced and dry; knots and hitches take away up to half of a rope. A winch pulls
      what it can and not what the sheet says, unless it is set to stop.
    Source
      ecm-pulling-basics: p 2, breaking load four times the puller's rating
    """
    return factor * tension


def hitch_points(tension, load_per_hitch, least_hitches, uneven_share, hitch_limit):
    """
    Hitches of a rope along the cables, and what one of them may have to hold.

        n = max(k, T / a)

    Inputs
      tension        : T [N]  1 .. 1e6      pull at the head
      load_per_hitch : a [N]  1 .. 1e5      to aim at for each hitch
      least_hitches  : k [1]  1 .. 50       however light the pull
      uneven_share   : u [%]  1 .. 100      of the whole pull that the worst hitch may take
      hitch_limit    : b [N]  1 .. 1e6      that one hitch may be trusted with
    Gives
      count          : n [1]  1 .. 1e6      whole, up
      equal_load     : e [N]  0 .. 1e6      3 figures, up      lower bound: hitches never share equally
      worst_load     : f [N]  0 .. 1e6      3 figures, up      judged by this one
      attachment     : one of hitches, grip
    Holds when
      An easy pull, hitches taped and staggered. The load can end on the last hitch, and
      cables have broken there: where the worst hitch would hold more than it may, use a
      pulling grip or an eye.
    Source
      milliken-hitches: half-hitches for easy pulls only, all load ends on the last
    """
    if least_hitches != floor(least_hitches):
        cannot_tell("The least number of hitches must be a whole number.")
    # Noise of the arithmetic is no further hitch.
    count = max(least_hitches, ceil(tension / load_per_hitch - 1e-9))
    equal_load = tension / count
    worst_load = max(equal_load, uneven_share * tension)
    return {
        "count": count,
        "equal_load": equal_load,
        "worst_load": worst_load,
        "attachment": "hitches" if worst_load <= hitch_limit else "grip",
    }


def jacket_limit(diameter, jacket_thickness, jacket_stress):
    """
    Pull that the jacket alone bears under a basket grip or hitches.

        F = π · k · t · (D - t)

    Inputs
      diameter         : D [mm]    1 .. 300     over everything
      jacket_thickness : t [mm]    0.2 .. 20
      jacket_stress    : k [N/mm2] 0.1 .. 50    that its compound bears, from the table
    Gives
      limit            : F [N]     0 .. 1e6     3 figures, down      less is safer
    Holds when
      One cable, jacket tight on what is under it, grip as long as the table's rule wants. The
      grip's own limit, the conductors' and the maker's stand beside it: the least counts.
    Source
      mesc-catalogue: p 71, grip by the strength of the jacket
    """
    if 2 * jacket_thickness >= diameter:
        cannot_tell("The jacket is as thick as the cable: check both.")
    return pi * jacket_stress * jacket_thickness * (diameter - jacket_thickness)


def anchor_legs(force, first_angle, second_angle):
    """
    Pull in each of two slings that hold a sheave.

        A = F · sin(b) / sin(a + b)
        B = F · sin(a) / sin(a + b)

    Inputs
      force        : F [N]    0 .. 2e7     on the sheave, from the rope, its own weight counted
      first_angle  : a [deg]  0 .. 85      between that force and the first sling
      second_angle : b [deg]  0 .. 85      between that force and the second sling, on the other side
    Gives
      first_leg    : A [N]    0 .. 1e9     3 figures, up      on sling and anchor
      second_leg   : B [N]    0 .. 1e9     3 figures, up      on sling and anchor
    Holds when
      Both slings in one plane with the force, one on either side of it. The wider they spread
      the more each has to hold: near a right angle to the force both are pulled without end.
    Source
      greenlee-hook-sheave: p 6, worked manhole example
      derived: balance of three forces in a plane
    """
    if first_angle + second_angle <= 0:
        cannot_tell("Both slings lie in the line of the force: count it as one sling.")
    spread = sin(first_angle + second_angle)
    return {"first_leg": force * sin(second_angle) / spread, "second_leg": force * sin(first_angle) / spread}
