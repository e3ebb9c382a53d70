"""The pull while it runs: friction as it turns out, what is still to come, and when to stop."""

from builder.formulas.bends import _through
from builder.formulas.mathematics import cannot_tell, floor
from builder.formulas.stations import _friction_between, _pull_between


def friction_met(
    segments,
    weight_per_length,
    occupancy,
    feed_tension,
    feed_end,
    stations_passed,
    measured_tension,
):
    """
    Friction that the pull at a passed station speaks for.

    Inputs
      segments          : rows                             in the order listed
        .shape          : one of straight, bend_level, sag_rising, crest_rising, sag_falling, crest_falling
        .length         : L [m]    0.01 .. 5000 or none    of a straight, along its slope
        .slope          : q [deg]  -90 .. 90 or none       of a straight, rising in the order listed
        .turn           : a [deg]  0.1 .. 360 or none      of a bend; 90 at most up or down
        .radius         : R [m]    0.05 .. 100 or none     of a bend, to its middle line
      weight_per_length : W [N/m]  0.1 .. 60000            of everything pulled together
      occupancy         : w [1]    1 .. 100                occupancy factor of the bundle
      feed_tension      : T0 [N]   0 .. 100000             that the drum or feeding hands hold back
      feed_end          : one of start, end
      stations_passed   : k [1]    1 .. 10000              segments that the head has left behind
      measured_tension  : T [N]    1 .. 1e6                at the head, steady, with the cable moving
    Gives
      friction          : f [1]    0.01 .. 1.5             3 figures, up      higher is safer
    Holds when
      Gauge at the head, or its reading less what the bare rope takes. One friction along the
      whole way. The reading is a steady one: the jerk of a start says nothing about the way.
      More pull than any friction accounts for means that something holds the cable.
    Source
      derived: the pull along the route read backwards, by halving
      commscope-conduit: pp 68 and 69, pulls of a known friction
    """
    _stations_are_real(segments, stations_passed)
    from_end = feed_end == "end"
    # The range of friction that the pull along a route is worked out for.
    if measured_tension < _pull_between(segments, weight_per_length, 0.01 * occupancy, feed_tension, from_end, 0, stations_passed):
        cannot_tell("The gauge shows less than the cable takes without friction: check the gauge, the feed end and the station.")
    if measured_tension > _pull_between(segments, weight_per_length, 1.5 * occupancy, feed_tension, from_end, 0, stations_passed):
        cannot_tell("No friction accounts for this pull: stop, and find what holds the cable.")
    return _friction_between(segments, weight_per_length, occupancy, feed_tension, from_end, 0, stations_passed, measured_tension)


def pull_forecast(
    segments,
    weight_per_length,
    friction,
    occupancy,
    feed_end,
    stations_passed,
    measured_tension,
):
    """
    Pull still to come, from the one measured now and the friction met so far.

    Inputs
      segments          : rows                             in the order listed
        .shape          : one of straight, bend_level, sag_rising, crest_rising, sag_falling, crest_falling
        .length         : L [m]    0.01 .. 5000 or none    of a straight, along its slope
        .slope          : q [deg]  -90 .. 90 or none       of a straight, rising in the order listed
        .turn           : a [deg]  0.1 .. 360 or none      of a bend; 90 at most up or down
        .radius         : R [m]    0.05 .. 100 or none     of a bend, to its middle line
      weight_per_length : W [N/m]  0.1 .. 60000            of everything pulled together
      friction          : f [1]    0.01 .. 1.5             met so far, or planned where that is higher
      occupancy         : w [1]    1 .. 100                occupancy factor of the bundle
      feed_end          : one of start, end
      stations_passed   : k [1]    1 .. 10000              segments that the head has left behind
      measured_tension  : T [N]    0 .. 1e6                at the head, steady, with the cable moving
    Gives
      tension_at_end    : T1 [N]   0 .. 1e9                3 figures, up      when the head arrives
      highest_tension   : T2 [N]   0 .. 1e9                3 figures, up      anywhere from here on
    Holds when
      As for the friction met, and the way ahead is no rougher than the way behind: mud, a
      crushed conduit or dried lubricant ahead shows on the gauge and not here.
    Source
      derived: the pull along the route, begun at the station reached
      commscope-conduit: pp 44 and 71, pulls from station to station
    """
    _stations_are_real(segments, stations_passed)
    count = len(segments)
    from_end = feed_end == "end"
    tension = measured_tension
    highest = measured_tension
    for i in range(0, count):
        if i >= stations_passed:
            segment = segments[count - 1 - i] if from_end else segments[i]
            reached = _through(segment, weight_per_length, friction * occupancy, tension, from_end)
            tension = reached["leaving"]
            highest = max(highest, tension)
    return {"tension_at_end": tension, "highest_tension": highest}


def stop_call(measured_tension, forecast_tension, allowed_tension, margin):
    """
    Pull at which to stop, and the call for the pull as it is now.

        S = A · (1 - m)

    Inputs
      measured_tension : T [N]  0 .. 1e7    on the gauge now
      forecast_tension : F [N]  0 .. 1e9    highest still to come
      allowed_tension  : A [N]  1 .. 1e8    from the sheet before the pull
      margin           : m [%]  1 .. 90     kept below it, for the gauge and the next start
    Gives
      stop_at          : S [N]  0 .. 1e8    3 figures, down      less is safer
      call             : one of go_on, ease_it, stop
    Holds when
      Ease it: the pull is still allowed and will not be at the far end. Stop the cable where
      it stands well, grease it, feed it by hand or take a bend out, and measure again. Stop:
      the margin is reached.
    Source
      practice
    """
    stop_at = allowed_tension * (1 - margin)
    call = "go_on"
    if forecast_tension > stop_at:
        call = "ease_it"
    # At the margin is over it, noise of the arithmetic or not.
    if measured_tension >= stop_at * (1 - 1e-9):
        call = "stop"
    return {"stop_at": stop_at, "call": call}


def _stations_are_real(segments, stations_passed):
    """Nothing where the route has that many stations; a reason where it has not."""
    if len(segments) == 0:
        cannot_tell("The route has no segment.")
    if stations_passed != floor(stations_passed):
        cannot_tell("The number of stations passed must be a whole number.")
    if stations_passed > len(segments):
        cannot_tell("The route has fewer stations than that: count again.")
    return stations_passed
