"""The call for a pull while it runs, from all that was measured so far."""

from builder.formulas.bends import _through
from builder.formulas.bundle import bend_share
from builder.formulas.mathematics import cannot_tell, floor
from builder.formulas.stations import _friction_between, _pull_between, _segment_length, _way_to


def pull_call(
    segments,
    readings,
    weight_per_length,
    friction,
    occupancy,
    feed_tension,
    feed_end,
    arrangement,
    bore,
    sidewall_limit,
    allowed_tension,
    allowed_by,
    margin,
    force_per_person,
    reading_error,
):
    """
    The call for the pull as it stands, before any limit is reached.

        S = A2 · (1 - m)

    Inputs
      segments          : rows                             in the order listed
        .shape          : one of straight, bend_level, sag_rising, crest_rising, sag_falling, crest_falling
        .length         : L [m]    0.01 .. 5000 or none    of a straight, along its slope
        .slope          : q [deg]  -90 .. 90 or none       of a straight, rising in the order listed
        .turn           : a [deg]  0.1 .. 360 or none      of a bend; 90 at most up or down
        .radius         : R [m]    0.05 .. 100 or none     of a bend, to its middle line
      readings          : rows                             by station, the mouth being 0
        .station        : k [1]    0 .. 60 or none         that the head had reached
        .tension        : T [N]    0 .. 1e6 or none        on the gauge there, steady, with the cable moving
        .people         : n [1]    0 .. 200 or none        on the rope there, where no gauge is
        .length         : x [m]    0 .. 20000 or none      of cable gone in
        .known          : j [1]    0 .. 60 or none         highest station read before this was read
      weight_per_length : W [N/m]  0.1 .. 60000            of everything pulled together
      friction          : f [1]    0.01 .. 1.5             that was planned with
      occupancy         : w [1]    1 .. 100                occupancy factor of the bundle
      feed_tension      : T0 [N]   0 .. 100000             planned for the drum; one measured at the mouth stands before it
      feed_end          : one of start, end
      arrangement       : one of single, cradled, triangular, diamond, mixed
      bore              : D [mm]   5 .. 1200 or none       inside diameter; none on rollers
      sidewall_limit    : p [kN/m] 0.5 .. 100 or none      of the drum, or the lowest published
      allowed_tension   : A [N]    1 .. 1e8                by conductor, attachment, tightest bend and rope
      allowed_by        : one of conductor, maker, attachment, sidewall, rope
      margin            : m [%]    1 .. 90                 kept below every limit
      force_per_person  : b [N]    10 .. 1000              most that one person pulls, for an estimate
      reading_error     : e [%]    0 .. 50                 by which readings differ without meaning anything
    Gives
      call              : one of go_on, ease_it, stop, not_measured, cant_tell
      because           : one of within, arrived, later_too_much, next_too_much, too_much, held, nothing_measured, counted_people, falls, below_any, out_of_order, length_falls, passed_unread
      where             : k1 [1]   0 .. 10000    whole, up      station that this speaks of
      feeds_from        : one of start, end
      reached           : k2 [1]   0 .. 10000    whole, up      newest station with a reading
      pull_now          : T1 [N]   0 .. 1e9      3 figures, up      measured or estimated there, else planned
      limit_here        : A2 [N]   0 .. 1e8      3 figures, down    least of all from the station before to the next one
      stop_at           : S [N]    0 .. 1e8      3 figures, down    on the gauge, until the next station; less is safer
      met               : f1 [1]   0 .. 1.5      3 figures, up      over the whole way behind; 0 where nothing is measured yet
      reckoned_with     : f2 [1]   0.01 .. 1.5   3 figures, up      the highest of planned, met, and met on the last stretch
      friction_from     : one of planned, way, stretch
      next_tension      : T2 [N]   0 .. 1e9      3 figures, up      expected at the next station
      tension_at_end    : T3 [N]   0 .. 1e9      3 figures, up      expected when the head arrives
      highest_tension   : T4 [N]   0 .. 1e9      3 figures, up      expected anywhere from here on
      limit             : A1 [N]   0 .. 1e8      3 figures, down    that the pull comes nearest to from here on
      ruled_by          : one of conductor, maker, attachment, sidewall, rope
      ruled_at          : k3 [1]   0 .. 10000    whole, up          station of that limit
      stations          : rows                                      in the order in which the head reaches them
        .station        : i [1]    1 .. 10000    whole, up
        .shape          : one of straight, bend_level, sag_rising, crest_rising, sag_falling, crest_falling
        .way            : x1 [m]   0 .. 1e6      4 figures, nearest   from the mouth to here
        .planned        : P [N]    0 .. 1e9      3 figures, up
        .expected       : E [N]    0 .. 1e9      3 figures, up      from here on; behind the head what was planned
        .limit          : B [N]    0 .. 1e8      3 figures, down
    Holds when
      Gauge at the head, or a gauge at the winch with the rope's own friction in it, which only
      calls sooner. One friction along the way ahead. Stop is called where the pull, or the one
      expected at the next station, comes to the margin; ease it, where a later one does. People
      counted on the rope give an estimate: it can call a stop and never says go on.
    Source
      derived: the pull along the route, forwards and backwards
      general-cable-sidewall: pressure limit times radius
      commscope-conduit: pp 44 and 71, pulls from station to station
      practice
    """
    count = len(segments)
    from_end = feed_end == "end"
    feed = feed_tension
    head = 0
    newest = -1
    pull = 0
    gauged = False
    last = -1
    last_pull = 0
    earlier = -1
    earlier_pull = 0
    doubt = "none"
    where = 0
    for row in readings:
        if row["station"] is not None:
            station = row["station"]
            _station_is_real(station, count)
            if station <= newest or (row["known"] is not None and row["known"] > station):
                doubt = "out_of_order"
                where = station
            newest = max(newest, station)
            gauged = row["tension"] is not None
            if row["tension"] is not None:
                pull = row["tension"]
                earlier = last
                earlier_pull = last_pull
                last = station
                last_pull = pull
                if station == 0:
                    feed = pull
            elif row["people"] is not None:
                pull = row["people"] * force_per_person
            else:
                cannot_tell("A station has neither pull nor people.")
            head = max(head, _way_to(segments, from_end, station))
    reached = max(newest, 0)
    for row in readings:
        if row["station"] is None and row["length"] is not None:
            # Less than the way to a station that the head had already reached.
            if row["known"] is not None and row["known"] > 0 and row["length"] < _way_to(segments, from_end, row["known"]) * (1 - reading_error):
                doubt = "length_falls"
                where = row["known"]
            head = max(head, row["length"])
    if doubt == "none" and gauged and reached < count and head > _way_to(segments, from_end, reached + 1) * (1 + reading_error):
        doubt = "passed_unread"
        where = reached + 1

    met = 0
    reckoned_with = friction
    friction_from = "planned"
    held = False
    low = 0.01
    high = 1.5
    if last > 0:
        met = _friction_between(segments, weight_per_length, occupancy, feed, from_end, 0, last, last_pull)
        if met > reckoned_with:
            reckoned_with = met
            friction_from = "way"
        since = max(earlier, 0)
        before = feed if earlier < 0 else earlier_pull
        least = before * (1 - reading_error)
        most = before * (1 + reading_error)
        held = last_pull * (1 - reading_error) > _pull_between(segments, weight_per_length, high * occupancy, most, from_end, since, last)
        if doubt == "none" and last_pull * (1 + reading_error) < _pull_between(segments, weight_per_length, low * occupancy, least, from_end, since, last):
            doubt = "falls" if earlier > 0 else "below_any"
            where = last
        # On the last stretch no more than what the gauge's own error leaves over.
        stretch = _friction_between(segments, weight_per_length, occupancy, most, from_end, since, last, last_pull * (1 - reading_error))
        if stretch > reckoned_with:
            reckoned_with = stretch
            friction_from = "stretch"

    planned = feed
    ahead = last_pull if gauged else _pull_between(segments, weight_per_length, reckoned_with * occupancy, feed, from_end, 0, reached)
    if newest < 0 or gauged:
        pull = ahead
    highest = ahead
    next_tension = ahead
    limit = allowed_tension
    ruled_by = allowed_by
    ruled_at = reached
    nearest = ahead / allowed_tension
    line = allowed_tension
    crossed = 0
    way = 0
    stations = []
    for i in range(0, count):
        segment = segments[count - 1 - i] if from_end else segments[i]
        by_plan = _through(segment, weight_per_length, friction * occupancy, planned, from_end)
        planned = by_plan["leaving"]
        way = way + _segment_length(segment)
        here = _limit_of(segment, bore, sidewall_limit, arrangement, occupancy, allowed_tension)
        # A bend is held to its limit by the pull that goes into it as well as by the one that comes out.
        worst = ahead
        if i >= reached:
            reckoned = _through(segment, weight_per_length, reckoned_with * occupancy, ahead, from_end)
            worst = max(ahead, reckoned["leaving"])
            ahead = reckoned["leaving"]
            highest = max(highest, worst)
            if i == reached:
                next_tension = ahead
            if crossed == 0 and worst >= here * (1 - margin) * (1 - 1e-9):
                crossed = i + 1
        if i >= reached - 1 and i <= reached:
            line = min(line, here)
        if i >= reached - 1 and worst / here > nearest:
            nearest = worst / here
            limit = here
            ruled_by = "sidewall" if here < allowed_tension else allowed_by
            ruled_at = i + 1
        stations.append(
            {
                "station": i + 1,
                "shape": segment["shape"],
                "way": way,
                "planned": planned,
                "expected": ahead if i >= reached else planned,
                "limit": here,
            }
        )

    stop_at = line * (1 - margin)
    call = "go_on"
    because = "arrived" if reached == count else "within"
    if newest >= 0 and pull >= stop_at * (1 - 1e-9):
        call = "stop"
        because = "too_much"
        where = reached
    elif held:
        call = "stop"
        because = "held"
        where = last
    elif doubt != "none":
        call = "cant_tell"
        because = doubt
    elif crossed == reached + 1:
        call = "stop"
        because = "next_too_much"
        where = crossed
    elif not gauged:
        call = "not_measured"
        because = "nothing_measured" if newest < 0 else "counted_people"
        where = reached
    elif crossed > 0:
        call = "ease_it"
        because = "later_too_much"
        where = crossed
    else:
        where = reached
    return {
        "call": call,
        "because": because,
        "where": where,
        "feeds_from": feed_end,
        "reached": reached,
        "pull_now": pull,
        "limit_here": line,
        "stop_at": stop_at,
        "met": met,
        "reckoned_with": reckoned_with,
        "friction_from": friction_from,
        "next_tension": next_tension,
        "tension_at_end": ahead,
        "highest_tension": highest,
        "limit": limit,
        "ruled_by": ruled_by,
        "ruled_at": ruled_at,
        "stations": stations,
    }


def _limit_of(segment, bore, sidewall_limit, arrangement, occupancy, allowed_tension):
    """Most pull on one segment: what is allowed everywhere, or less where a bend presses."""
    if segment["shape"] == "straight":
        return allowed_tension
    if sidewall_limit is None:
        cannot_tell("The route has a bend and no limit on side pressure is given.")
    inside = segment["radius"]
    if bore is not None:
        inside = inside - bore / 2
    if inside <= 0:
        cannot_tell("A bend of the route is tighter than its conduit is wide.")
    return min(allowed_tension, sidewall_limit * inside / bend_share(arrangement, occupancy))


def _station_is_real(station, count):
    """Nothing where the route has that station; a reason where it has not."""
    if station != floor(station):
        cannot_tell("The number of a station must be a whole number.")
    if station > count:
        cannot_tell("The route has fewer stations than that: count again.")
    return station
