"""Room round heavy gear: past its open doors, to draw it out again, and under the hook."""

from builder.formulas.mathematics import cannot_tell, sqrt


def door_aisle(clear_width, door_width, opposite_door_width):
    """
    Way that is left past doors standing open square to the gear.

        w = max(g - a - b, 0)

    Inputs
      clear_width         : g [m]  0 .. 50    from the closed gear to what stands across the aisle
      door_width          : a [m]  0 .. 5     widest door or drawn-out tray; 0 where it slides or lifts off
      opposite_door_width : b [m]  0 .. 5     of gear on the other side; 0 for a wall
    Gives
      way                 : w [m]  0 .. 50    3 figures, down      more is safer
    Holds when
      Doors opened by a right angle, handles counted. Doors on both sides are counted open at
      once: people leave in a hurry. How wide the way must be is the code's word.
    Source
      derived: widths taken off
    """
    return max(clear_width - door_width - opposite_door_width, 0 * clear_width)


def take_out_gap(gear_depth, machine_length, play):
    """
    Free ground in front of gear so that a machine can draw it straight out again.

        G = u + l + s

    Inputs
      gear_depth     : u [m]  0.1 .. 20    of the gear, in the way it is drawn
      machine_length : l [m]  0 .. 20      of the truck up to the face of its forks; 0 where a crane lifts
      play           : s [m]  0 .. 5       behind the machine
    Gives
      gap            : G [m]  0 .. 50      3 figures, up      more is safer
    Holds when
      Straight, level ground that bears the machine with the gear on it. The maker's gap is for
      air and cables and seldom enough for this. A truck that turns on the spot needs its own
      turning gap besides.
    Source
      derived: lengths added up
    """
    return gear_depth + machine_length + play


def hook_height(lifted_over, load_height, sling_length, point_spacing, play):
    """
    Height of the hook over the ground when a load is lifted over something.

        H = o + c + h + √(L² - (d / 2)²)

    Inputs
      lifted_over   : o [m]  0 .. 100     highest thing on the way, over the same ground
      load_height   : h [m]  0 .. 20      of the load, up to its lifting points
      sling_length  : L [m]  0.1 .. 50    of one leg, to the bearing of the hook
      point_spacing : d [m]  0 .. 50      between the lifting points furthest apart
      play          : c [m]  0 .. 10      between that thing and the load
    Gives
      height        : H [m]  0 .. 250     3 figures, up      more is needed by no block and no swing
    Holds when
      Legs alike, hook over the middle. The block, the rope's stop and the roof above come on
      top. Overhead lines have distances of their own.
    Source
      ashley-slings: leg of 120 in over a height of 96 in
      derived: sides of a right-angled triangle
    """
    if sling_length <= point_spacing / 2:
        cannot_tell("The legs of the sling are too short to reach over the load.")
    return lifted_over + play + load_height + sqrt(sling_length**2 - (point_spacing / 2) ** 2)
