"""Pulling: how much cable, how far it may bend, how hard it may be pulled, and by whom."""

from builder.formulas.bundle import bend_share
from builder.formulas.mathematics import cannot_tell, ceil, floor, pi, sin


def cable_length_needed(route_length, tail_start, tail_end, slack):
    """
    Cable to have in hand before the pull.

        L = r · (1 + s) + a + b

    Inputs
      route_length : r [m]  0.1 .. 20000    along the route, bends counted along their arc
      tail_start   : a [m]  0 .. 200        to make off at the start
      tail_end     : b [m]  0 .. 200        to make off at the end
      slack        : s [%]  0 .. 50         of the route, for measuring and pulling
    Gives
      length       : L [m]  0 .. 40000      4 figures, up      too long can be cut
    Holds when
      Tails include what the pulling head spoils and is cut off.
    Source
      derived: lengths added up
    """
    return route_length * (1 + slack) + tail_start + tail_end


def minimum_bending_radius(diameter, multiple, maker_radius, pressure_radius):
    """
    Smallest radius to the inside of a bend.

        R = n · d

    Inputs
      diameter        : d  [mm]  1 .. 300               over everything
      multiple        : n  [1]   1 .. 40 or none        of the diameter, from the table
      maker_radius    : R1 [mm]  5 .. 20000 or none     from the cable's own sheet
      pressure_radius : R2 [mm]  0 .. 1e6 or none       least for the pressure of this pull
    Gives
      radius          : R  [mm]  0 .. 1e6   3 figures, up      wider is safer
      ruled_by        : one of maker, table, pressure
    Holds when
      The maker's radius stands before the table's; side pressure in the pull may ask for
      more than either. A radius for setting is not enough for pulling: ask for the right one.
    Source
      nexans-netherlands-bending: multiple times outside diameter, worked
    """
    radius = 0
    ruled_by = "maker"
    if maker_radius is not None:
        radius = maker_radius
    elif multiple is not None:
        radius = multiple * diameter
        ruled_by = "table"
    else:
        cannot_tell("The maker's bending radius is required: no table has this cable.")
    if pressure_radius is not None and pressure_radius > radius:
        radius = pressure_radius
        ruled_by = "pressure"
    return {"radius": radius, "ruled_by": ruled_by}


def allowed_tension(
    area,
    conductors,
    cables,
    sharing,
    stress,
    stress_family,
    maker_limit,
    attachment_limit,
    attachment_family,
    sidewall_limit,
    smallest_radius,
    arrangement,
    occupancy,
    rope_limit,
):
    """
    Greatest pull on the whole bundle, and what sets it.

        T1 = k · A · n · c
        T2 = F · m · c

    Inputs
      area              : A [mm2]    0.1 .. 3000               of one conductor; the smallest if they differ
      conductors        : n [1]      1 .. 10000                gripped, screens and armour not counted
      cables            : m [1]      1 .. 60                   in the pull
      sharing           : c [%]      10 .. 100                 part of them that carries, from the table
      stress            : k [N/mm2]  1 .. 100 or none          on the conductors, from the table
      stress_family     : one of circular_mil, square_millimetre
      maker_limit       : F [N]      1 .. 1e6 or none          the maker's greatest pull on one cable
      attachment_limit  : a [N]      1 .. 1e6 or none          of grip, sleeve or eye
      attachment_family : one of circular_mil, square_millimetre, maker
      sidewall_limit    : p [kN/m]   0.5 .. 30 or none         of the drum, or the lowest published
      smallest_radius   : R [m]      0.01 .. 100 or none       inside of the tightest bend; none if straight
      arrangement       : one of single, cradled, triangular, diamond, mixed
      occupancy         : w [1]      1 .. 100                  occupancy factor of the bundle
      rope_limit        : r [N]      1 .. 1e6 or none          working load of the rope
    Gives
      tension           : T [N]      0 .. 1e8                  3 figures, down      less is safer
      conductor_tension : T1 [N]     0 .. 1e9                  3 figures, down      by conductors or maker
      ruled_by          : one of conductor, maker, attachment, sidewall, rope
    Holds when
      Pulled by the conductors through an eye, or by a grip with its own limit given. Every
      limit comes from one family of rules or from the maker: the families differ by 29 % for
      copper and 43 % for aluminium, so mixing them means nothing.
    Source
      southwire-tensions: tables 1 and 2, circular-mil family and sharing above three
      nexans-belgium-pulling: square-millimetre family
      general-cable-sidewall: pressure limit times radius
    """
    if conductors != floor(conductors) or cables != floor(cables):
        cannot_tell("The numbers of conductors and of cables must be whole numbers.")
    by_rule = maker_limit is None and attachment_limit is not None and attachment_family != "maker"
    if by_rule and attachment_family != stress_family:
        cannot_tell(
            "The limits on conductors and attachment come from two families of rules: use one."
        )
    tension = 0
    ruled_by = "maker"
    if maker_limit is not None:
        tension = maker_limit * cables * sharing
    elif stress is not None:
        tension = stress * area * conductors * sharing
        ruled_by = "conductor"
    else:
        cannot_tell("The maker's pulling limit is required: no table has this conductor.")
    conductor_tension = tension
    if attachment_limit is not None and attachment_limit < tension:
        tension = attachment_limit
        ruled_by = "attachment"
    if smallest_radius is not None:
        if sidewall_limit is None:
            cannot_tell("The route has a bend and no limit on side pressure is given.")
        by_bend = sidewall_limit * smallest_radius / bend_share(arrangement, occupancy)
        if by_bend < tension:
            tension = by_bend
            ruled_by = "sidewall"
    if rope_limit is not None and rope_limit < tension:
        tension = rope_limit
        ruled_by = "rope"
    return {"tension": tension, "conductor_tension": conductor_tension, "ruled_by": ruled_by}


def pulling_team(tension, start_force, sustained_force, most_people):
    """
    People to pull by hand: for a steady pull, or for heaves where those would be too many.

        n = max(T / b, 1)
        m = max(T / a, 1)

    Inputs
      tension         : T [N]  0 .. 1e6     pull at the head
      start_force     : a [N]  10 .. 500    of one person, for a moment
      sustained_force : b [N]  10 .. 500    of one person, kept up
      most_people     : p [1]  1 .. 100     who find room and footing on the rope
    Gives
      way             : one of hand, heaves, winch
      people          : k [1]  1 .. 1e5     whole, up      needed on the rope for that way
      people_steady   : n [1]  1 .. 1e5     whole, up      who keep it moving without a rest
      people_to_start : m [1]  1 .. 1e5     whole, up      who can just start it
    Holds when
      Good footing, rope between knuckle and shoulder height, 20 m or less in one go. The
      forces are a guideline and not a limit. Heaves are short pulls with a rest between;
      friction is higher at each new start. Nobody stands in line with a loaded rope or
      inside its bight.
    Source
      hse-push-pull: force of one person to start and to keep moving
    """
    if most_people != floor(most_people):
        cannot_tell("The number of people must be a whole number.")
    # Noise of the arithmetic is no further person.
    steady = max(1, ceil(tension / sustained_force - 1e-9))
    to_start = max(1, ceil(tension / start_force - 1e-9))
    way = "hand"
    people = max(steady, to_start)
    if people > most_people:
        way = "heaves"
        people = to_start
    if people > most_people:
        way = "winch"
        people = steady
    return {
        "way": way,
        "people": people,
        "people_steady": steady,
        "people_to_start": to_start,
    }


def roller_load(tension, turn):
    """
    Force of a rope on the roller or sheave that turns it.

        F = 2 · T · sin(a / 2)

    Inputs
      tension   : T [N]    0 .. 1e7      on both sides of the roller
      turn      : a [deg]  0 .. 180      by which the rope changes direction
    Gives
      force     : F [N]    0 .. 2e7      3 figures, up      on roller, sling and anchor
      direction : b [deg]  0 .. 90       3 figures, nearest      from either part of the rope, to the inside
    Holds when
      The roller turns freely; its own weight comes on top. The angle is the one by which the
      rope is turned. Block tables count the angle between the two parts of the rope, sling
      tables from the horizontal: take 180 degrees less the first.
    Source
      greenlee-sheaves: resultant table
      crosby-block-loads: factors for single-line blocks
    """
    return {"force": 2 * tension * sin(turn / 2), "direction": (pi - turn) / 2}
