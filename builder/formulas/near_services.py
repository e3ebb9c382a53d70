"""Other people's services: how near a machine may dig, what gap is left, where the tape lies."""

from builder.formulas.mathematics import cannot_tell, sqrt


def hand_digging_zone(service_width, tolerance, located_error):
    """
    Strip over a located service that is dug by hand or vacuum only.

        Z = w + 2 · (a + e)

    Inputs
      service_width : w [mm]  0 .. 5000     pipe, cable or duct bank, over everything
      tolerance     : a [mm]  0 .. 3000     on either side of its outside, by local rule
      located_error : e [mm]  0 .. 3000     by which its mark may be out; 0 once it has been seen
    Gives
      zone          : Z [mm]  0 .. 20000    3 figures, up      wider is safer
      each_side     : z [mm]  0 .. 10000    3 figures, up      from its middle
    Holds when
      The service runs straight between the places where it was found. Depth is never taken
      from a plan. Until it is seen it is only guessed at.
    Source
      softdig-tolerance-zone: rule on both sides and the pipe itself, worked
    """
    zone = service_width + 2 * (tolerance + located_error)
    return {"zone": zone, "each_side": zone / 2}


def digging_way(gap, located_error, hand_zone, watch_zone):
    """
    How the ground may be opened at this distance from a service.

        n = max(g - e, 0)

    Inputs
      gap           : g [mm]  0 .. 50000    clear, from its outside as marked to where the bucket goes
      located_error : e [mm]  0 .. 3000     by which it may lie nearer; 0 once it has been seen
      hand_zone     : h [mm]  0 .. 3000     from its outside, within which only hands or vacuum dig
      watch_zone    : w [mm]  0 .. 20000    from its outside, within which somebody watches the bucket
    Gives
      nearness      : n [mm]  0 .. 50000    3 figures, down      less than is there is safer
      way           : one of hand_or_vacuum, machine_watched, machine
    Holds when
      A service that has been located; one that has not is looked for by hand over the whole
      trench. The owner's letter may keep machines off further away, and forbid vacuum too.
    Source
      edison-hand-dig: 24 in on each side exposed by hand
      practice
    """
    if watch_zone < hand_zone:
        cannot_tell("The zone that is watched must reach at least as far as the one that is dug by hand.")
    nearness = max(gap - located_error, 0 * gap)
    way = "machine"
    # At the edge of a zone is inside it, noise of the arithmetic or not.
    if nearness <= watch_zone * (1 + 1e-9):
        way = "machine_watched"
    if nearness <= hand_zone * (1 + 1e-9):
        way = "hand_or_vacuum"
    return {"nearness": nearness, "way": way}


def service_gap(
    offset, service_depth, service_diameter, conduit_depth, conduit_diameter, located_error
):
    """
    Clear gap between a conduit and a service: level, upright and straight across.

        g = √(x² + y²) - (d + D) / 2 - e

    Inputs
      offset           : x [mm]  0 .. 50000    level, from middle to middle; 0 where they cross
      service_depth    : s [mm]  0 .. 10000    ground to its top
      service_diameter : D [mm]  1 .. 5000     over everything
      conduit_depth    : c [mm]  0 .. 10000    ground to its top
      conduit_diameter : d [mm]  1 .. 1200     outside
      located_error    : e [mm]  0 .. 3000     by which the service may lie nearer; 0 once it is seen
    Gives
      level_gap        : l [mm]  0 .. 50000    3 figures, down      as a plan shows it
      upright_gap      : u [mm]  0 .. 20000    3 figures, down      as a section shows it
      gap              : g [mm]  0 .. 60000    3 figures, down      less than is there is safer
    Holds when
      Round things, both measured from the same ground. y is the height between their middles.
      The owner's figure says which of the three gaps it means; where it does not, all count.
    Source
      derived: distance of two circles
    """
    reach = (service_diameter + conduit_diameter) / 2
    service_middle = service_depth + service_diameter / 2
    height = abs(conduit_depth + conduit_diameter / 2 - service_middle)
    return {
        "level_gap": max(offset - reach - located_error, 0),
        "upright_gap": max(height - reach - located_error, 0),
        "gap": max(sqrt(offset**2 + height**2) - reach - located_error, 0),
    }


def marker_tape_depth(cover, above, least_depth):
    """
    Depth of the marker tape below the finished ground.

        t = C - a

    Inputs
      cover       : C [mm]  50 .. 5000    finished ground to the top of the highest conduit
      above       : a [mm]  10 .. 2000    least, from the conduits up to the tape
      least_depth : m [mm]  0 .. 1000     shallower than this the tape does not last
    Gives
      depth       : t [mm]  0 .. 5000     3 figures, down      higher warns sooner
    Holds when
      One tape over the line; wide trenches have more beside each other.
    Source
      us-warning-ribbon: 12 in above the service
      uk-operator-depths: tape above low voltage and 11 kV
    """
    # Noise of the arithmetic is no missing depth.
    if cover - above < least_depth * (1 - 1e-9):
        cannot_tell(
            "The cover leaves no room for a tape this far above the conduits: ask what marks the line."
        )
    return cover - above
