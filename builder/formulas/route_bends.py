"""Each bend of the route for itself: whether it is wide enough for this cable and this pull."""

from builder.formulas.bundle import bend_share
from builder.formulas.mathematics import cannot_tell
from builder.formulas.route import _pull_along


def bends_wide_enough(
    segments,
    weight_per_length,
    friction,
    occupancy,
    feed_tension,
    feed_end,
    arrangement,
    bore,
    least_radius,
    sidewall_limit,
):
    """
    Radius of each bend against what the cable asks for and what the pull there asks for.

        r = R - D / 2
        n = s · T / p

    Inputs
      segments          : rows                             in the order listed
        .shape          : one of straight, bend_level, sag_rising, crest_rising, sag_falling, crest_falling
        .length         : L [m]    0.01 .. 5000 or none    of a straight, along its slope
        .slope          : q [deg]  -90 .. 90 or none       of a straight, rising in the order listed
        .turn           : a [deg]  0.1 .. 360 or none      of a bend; 90 at most up or down
        .radius         : R [m]    0.05 .. 100 or none     of a bend, to its middle line
      weight_per_length : W [N/m]  0.1 .. 60000            of everything pulled together
      friction          : f [1]    0.01 .. 1.5
      occupancy         : w [1]    1 .. 100                occupancy factor of the bundle
      feed_tension      : T0 [N]   0 .. 100000             that the drum or feeding hands hold back
      feed_end          : one of start, end                from which the cable is fed
      arrangement       : one of single, cradled, triangular, diamond, mixed
      bore              : D [mm]   5 .. 1200 or none       inside of the conduit; none on rollers or tray
      least_radius      : m [mm]   1 .. 20000              of this cable while it is pulled, to the inside
      sidewall_limit    : p [kN/m] 0.5 .. 100              of the drum, or the lowest published
    Gives
      verdict           : one of wide_enough, too_tight
      tight_bends       : k [1]    0 .. 10000    whole, up       that are too tight
      worst_bend        : i [1]    0 .. 10000    whole, up       station that is furthest from wide enough; 0 without bends
      worst_share       : u [%]    0 .. 1e9      3 figures, up   of its radius that this bend would need; 100 is just enough
      bends_in_all      : c [1]    0 .. 10000    whole, up       on the route
      tightest          : g [m]    0 .. 100      3 figures, down   inside of the tightest bend; without bends the least radius m
      bends             : rows                                   in the order listed
        .station        : j [1]    1 .. 10000    whole, up
        .inside         : r [m]    0 .. 100      3 figures, down   to the inside of the bend
        .needed         : n [m]    0 .. 1e9      3 figures, up     by the cable or by the pull there, the greater
    Holds when
      T is the greater of the pulls entering and leaving, s the part of it that presses the worst
      cable; n is never less than m. The pull runs without a stop. Without a conduit the radius is
      that of the rollers' row.
    Source
      general-cable-sidewall: pressure limit times radius, 300 lbf/ft on 2 ft carries 600 lbf
      derived: the pull along the route, bend by bend
    """
    if len(segments) == 0:
        cannot_tell("The route has no segment.")
    pulled = _pull_along(segments, weight_per_length, friction * occupancy, feed_tension, feed_end == "end")
    share = bend_share(arrangement, occupancy)
    tight_bends = 0
    worst_bend = 0
    worst_share = 0
    bends_in_all = 0
    tightest = least_radius
    bends = []
    for i in range(0, len(segments)):
        if segments[i]["shape"] != "straight":
            inside = segments[i]["radius"]
            if bore is not None:
                inside = inside - bore / 2
            if inside <= 0:
                cannot_tell("A bend of the route is tighter than its conduit is wide.")
            bends_in_all = bends_in_all + 1
            if bends_in_all == 1 or inside < tightest:
                tightest = inside
            needed = max(least_radius, max(pulled[i]["entering"], pulled[i]["leaving"]) * share / sidewall_limit)
            # Just wide enough is wide enough, noise of the arithmetic or not.
            if needed > inside * (1 + 1e-9):
                tight_bends = tight_bends + 1
            if needed / inside > worst_share:
                worst_share = needed / inside
                worst_bend = i + 1
            bends.append({"station": i + 1, "inside": inside, "needed": needed})
    return {
        "verdict": "too_tight" if tight_bends > 0 else "wide_enough",
        "tight_bends": tight_bends,
        "worst_bend": worst_bend,
        "worst_share": worst_share,
        "bends_in_all": bends_in_all,
        "tightest": tightest,
        "bends": bends,
    }
