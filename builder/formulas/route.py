"""The route: its length, and the pull along it from either end."""

from builder.formulas.bends import _through
from builder.formulas.bundle import bend_share
from builder.formulas.mathematics import cannot_tell
from builder.formulas.stations import _segment_length


def route_length(segments):
    """
    Length of the route, bends counted along their arc.

    Inputs
      segments  : rows                             in the order listed
        .shape  : one of straight, bend_level, sag_rising, crest_rising, sag_falling, crest_falling
        .length : L [m]    0.01 .. 5000 or none    of a straight
        .turn   : a [deg]  0.1 .. 360 or none      of a bend
        .radius : R [m]    0.05 .. 100 or none     of a bend, to its middle line
    Gives
      length    : S [m]    0 .. 1e6    4 figures, up
    Holds when
      Lengths are measured along the slope and bends end where straights begin.
    Source
      derived: straights and arcs added up
    """
    if len(segments) == 0:
        cannot_tell("The route has no segment.")
    length = 0
    for segment in segments:
        length = length + _segment_length(segment)
    return length


def bend_radius_under_pull(tension, sidewall_limit, arrangement, occupancy):
    """
    Least inside radius at which this pull stays within the limit on side pressure.

        R = s · T / p

    Inputs
      tension        : T [N]     0 .. 1e6      leaving the bend
      sidewall_limit : p [kN/m]  0.5 .. 30     of the drum, or the lowest published
      arrangement    : one of single, cradled, triangular, diamond, mixed
      occupancy      : w [1]     1 .. 100      occupancy factor of the bundle
    Gives
      radius         : R [mm]    0 .. 1e9      3 figures, up      wider is safer
    Holds when
      s is the part of the pull that presses the worst cable. The cable's own least radius
      still counts.
    Source
      general-cable-sidewall: 300 lbf/ft on 2 ft carries 600 lbf
    """
    return tension * bend_share(arrangement, occupancy) / sidewall_limit


def sidewall_pressure(tension, radius, arrangement, occupancy):
    """
    Pressure of the worst cable against the inside of a bend.

        P = s · T / R

    Inputs
      tension     : T [N]     0 .. 1e7       leaving the bend
      radius      : R [m]     0.02 .. 100    to the inside of the bend
      arrangement : one of single, cradled, triangular, diamond, mixed
      occupancy   : w [1]     1 .. 100       occupancy factor of the bundle
    Gives
      pressure    : P [kN/m]  0 .. 1e7       3 figures, up      a maximum
    Holds when
      s is the part of the pull that presses the worst cable; the weight in the bend is left out.
    Source
      commscope-conduit: p 71, tension over radius
      cabledatasheet-sidewall: share of the worst cable
    """
    return tension * bend_share(arrangement, occupancy) / radius


def route_tension(
    segments, weight_per_length, friction, occupancy, feed_tension, arrangement, bore
):
    """
    Pull at every station from either end of the route, and the end to feed from.

    Inputs
      segments          : rows                             in the order listed
        .shape          : one of straight, bend_level, sag_rising, crest_rising, sag_falling, crest_falling
        .length         : L [m]    0.01 .. 5000 or none    of a straight, along its slope
        .slope          : q [deg]  -90 .. 90 or none       of a straight, rising in the order listed
        .turn           : a [deg]  0.1 .. 360 or none      of a bend; 90 at most up or down
        .radius         : R [m]    0.05 .. 100 or none     of a bend, to its middle line
      weight_per_length : W [N/m]  0.1 .. 60000            of everything pulled together
      friction          : f [1]    0.01 .. 1.5             between cable and conduit or rollers
      occupancy         : w [1]    1 .. 100                occupancy factor of the bundle
      feed_tension      : T0 [N]   0 .. 100000             that the drum or feeding hands hold back
      arrangement       : one of single, cradled, triangular, diamond, mixed
      bore              : D [mm]   5 .. 1200 or none       inside diameter; none on rollers
    Gives
      tension_from_start    : T1 [N]   0 .. 1e9   3 figures, up      pull at the end, fed from the start
      tension_from_end      : T2 [N]   0 .. 1e9   3 figures, up      pull at the start, fed from the end
      better_feed           : one of start, end
      tension               : T [N]    0 .. 1e9   3 figures, up      of the better direction
      braking               : one of needed, not_needed
      braking_from_start    : one of needed, not_needed
      braking_from_end      : one of needed, not_needed
      largest_bend_pressure : P [kN/m] 0 .. 1e9   3 figures, up      of the better direction
      worst_bend            : k [1]    0 .. 10000    whole, up       station of that bend, 0 without bends
      stations              : rows                                   in the order listed
        .station            : i [1]    1 .. 10000    whole, up
        .from_start         : A [N]    0 .. 1e9   3 figures, up      leaving it, fed from the start
        .from_end           : B [N]    0 .. 1e9   3 figures, up      leaving it, fed from the end
        .bend_pressure      : C [kN/m] 0 .. 1e9   3 figures, up      better direction; 0 on a straight
    Holds when
      The pull does not stop: friction is higher at each new start. Where the cable would run
      by itself its pull is counted as none and braking at the drum is called for; the pull
      before that place is then as much higher as the brake holds. In bends up and down the
      cable may lie on either wall and the wall it presses is worked out along the arc.
    Source
      derived: equilibrium of cable on each segment, with contact on either wall
      commscope-conduit: pp 44 and 71, route with every intermediate pull
    """
    count = len(segments)
    if count == 0:
        cannot_tell("The route has no segment.")
    grip = friction * occupancy
    forward = _pull_along(segments, weight_per_length, grip, feed_tension, False)
    backward = _pull_along(segments, weight_per_length, grip, feed_tension, True)
    from_start = forward[count - 1]["leaving"]
    from_end = backward[0]["leaving"]
    better = forward
    better_feed = "start"
    if from_end < from_start:
        better = backward
        better_feed = "end"
    share = bend_share(arrangement, occupancy)
    largest = 0
    worst_bend = 0
    stations = []
    for i in range(0, count):
        pressure = 0
        if segments[i]["shape"] != "straight":
            inside = segments[i]["radius"]
            if bore is not None:
                inside = inside - bore / 2
            if inside <= 0:
                cannot_tell("A bend of the route is tighter than its conduit is wide.")
            pressure = max(better[i]["entering"], better[i]["leaving"]) * share / inside
            if pressure > largest or worst_bend == 0:
                largest = pressure
                worst_bend = i + 1
        stations.append(
            {
                "station": i + 1,
                "from_start": forward[i]["leaving"],
                "from_end": backward[i]["leaving"],
                "bend_pressure": pressure,
            }
        )
    return {
        "tension_from_start": from_start,
        "tension_from_end": from_end,
        "better_feed": better_feed,
        "tension": min(from_start, from_end),
        "braking": _braking(better),
        "braking_from_start": _braking(forward),
        "braking_from_end": _braking(backward),
        "largest_bend_pressure": largest,
        "worst_bend": worst_bend,
        "stations": stations,
    }


def _pull_along(segments, weight, grip, feed_tension, from_end):
    """Pull entering and leaving each segment in the order listed, for one direction of travel."""
    count = len(segments)
    travelled = []
    tension = feed_tension
    for i in range(0, count):
        segment = segments[count - 1 - i] if from_end else segments[i]
        reached = _through(segment, weight, grip, tension, from_end)
        travelled.append(
            {
                "entering": tension,
                "leaving": reached["leaving"],
                "shortfall": reached["shortfall"],
            }
        )
        tension = reached["leaving"]
    listed = []
    for i in range(0, count):
        row = travelled[count - 1 - i] if from_end else travelled[i]
        listed.append(
            {
                "entering": row["entering"],
                "leaving": row["leaving"],
                "shortfall": row["shortfall"],
            }
        )
    return listed


def _braking(rows):
    """Whether the cable runs by itself somewhere on the way."""
    for row in rows:
        if row["shortfall"] > 0:
            return "needed"
    return "not_needed"
