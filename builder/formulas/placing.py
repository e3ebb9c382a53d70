"""Setting down heavy gear: slings, ground, and the gap a machine needs."""

from builder.formulas.mathematics import cannot_tell, floor, sin, sqrt


def sling_leg_load(mass, legs, angle):
    """
    Load of one leg of a sling, by its angle from the horizontal.

        f = 1 / sin(a)
        M1 = f · M / n

    Inputs
      mass     : M [kg]   0.1 .. 1e6     of the load, lifting beam and hooks counted
      legs     : n [1]    1 .. 4         that surely carry; two at most for a stiff load
      angle    : a [deg]  30 .. 90       of the flattest leg, from the horizontal
    Gives
      factor   : f  [1]   1 .. 2         4 figures, up      higher is safer
      leg_load : M1 [kg]  0 .. 1e6       3 figures, up      against the working load of one leg
    Holds when
      Hook above the middle of the load, legs alike. Below 30 degrees there is no answer and no
      lift. A choke hitch, an edge or a hook that is loaded on its tip take more off.
    Source
      ashley-slings: 1200 lb on each leg, 120 in long, 96 in high, worked
      us-netting-slings: no lift below 30 degrees
    """
    if legs != floor(legs):
        cannot_tell("The number of legs must be a whole number.")
    factor = 1 / sin(angle)
    return {"factor": factor, "leg_load": factor * mass / legs}


def ground_pressure(mass, worst_share, pad_length, pad_width):
    """
    Pressure on the ground under the pad that carries most.

        p = M · h · 9.80665 / (l · b)

    Inputs
      mass        : M [kg]   1 .. 1e6      machine and load, rigging counted
      worst_share : h [%]    1 .. 100      of it that one pad may have to carry
      pad_length  : l [m]    0.05 .. 20    of pad or mat, as far as it is stiff
      pad_width   : b [m]    0.05 .. 20    the same, across
    Gives
      pressure    : p [kPa]  0 .. 1e7      3 figures, up      against what the ground may bear
    Holds when
      Level pad, evenly bedded, away from trench, pit, pipe and slope. What the ground may bear
      is the site's word and not a table's.
    Source
      grove-load-bearing: 25 t on ground for 40 t/m2, worked
      cica-outrigger-mats: share of the worst outrigger
      derived: weight over area; standard gravity 9.80665 m/s2 is exact by definition
    """
    return mass * worst_share * 9.80665 / (pad_length * pad_width)


def passage_width(machine_width, load_width, side_room):
    """
    Gap that a machine needs to go straight through.

        G = w + 2 · s

    Inputs
      machine_width : m [m]  0.3 .. 20    tyres, mirrors and outriggers as they drive
      load_width    : l [m]  0 .. 20      across the way; 0 without a load
      side_room     : s [m]  0 .. 5       on either side
    Gives
      gap           : G [m]  0 .. 40      3 figures, up
    Holds when
      w is the wider of the two. Straight, level ground. Where people walk there too, their way
      comes on top.
    Source
      same-day-aisles: half a metre on either side
      derived: widths added up
    """
    return max(machine_width, load_width) + 2 * side_room


def turning_gap(turning_radius, load_reach, load_width, side_room):
    """
    Gap that a fork truck needs to turn square with its load.

        G = r + √(x² + (b / 2)²) + 2 · s

    Inputs
      turning_radius : r [m]  0.5 .. 20    outer, of the truck, from its sheet
      load_reach     : x [m]  0 .. 20      front axle to the far end of the load
      load_width     : b [m]  0 .. 20      across the forks
      side_room      : s [m]  0 .. 5       on either side
    Gives
      gap            : G [m]  0 .. 100     3 figures, up
    Holds when
      A truck that carries its load before the front axle and turns on the spot. A long load
      that swings is walked through first.
    Source
      toyota-aisle-guide: aisle of a counterbalanced truck
      fork-aisle-example: two trucks worked
    """
    return turning_radius + sqrt(load_reach**2 + (load_width / 2) ** 2) + 2 * side_room
