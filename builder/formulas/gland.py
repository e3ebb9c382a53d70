"""At the gland plate: height for a tail to bend, air between lugs, single cores through steel."""

from builder.formulas.mathematics import sqrt


def tail_height(bend_radius, diameter, offset, straight_at_gland, straight_at_lug):
    """
    Height from gland plate to lug that a tail needs to swing sideways in two even bends.

        h = a + b + √(s · (4 · R - s))

    Inputs
      bend_radius       : r [mm]  1 .. 5000      least of this cable once set, to the inside of the bend
      diameter          : d [mm]  1 .. 300       of the tail, over everything that is bent
      offset            : s [mm]  0 .. 5000      sideways, from the gland's middle to the lug's
      straight_at_gland : a [mm]  0 .. 1000      that the gland wants before the first bend
      straight_at_lug   : b [mm]  0 .. 1000      before the barrel of the lug
    Gives
      height            : h [mm]  0 .. 30000     3 figures, up      more is easier on the tail
    Holds when
      R is r + d / 2, to the middle of the tail. Two bends of one radius, one way and back, in
      one plane. Further sideways than 2 · R the tail runs level between them and h grows no
      more. A tail never starts to bend inside its gland.
    Source
      reverse-curve-thread: radius of two even bends from length and offset
      derived: two arcs that meet with one tangent
    """
    middle = bend_radius + diameter / 2
    swing = min(offset, 2 * middle)
    return straight_at_gland + straight_at_lug + sqrt(max(swing * (4 * middle - swing), 0 * swing**2))


def lug_gap(pitch, palm_width, play):
    """
    Air left between the palms of lugs side by side.

        g = max(p - w - 2 · s, 0)

    Inputs
      pitch      : p [mm]  1 .. 2000    middle to middle of two neighbouring bolts
      palm_width : w [mm]  1 .. 500     of the wider lug, with nut and washer where they stand out
      play       : s [mm]  0 .. 50      by which each lug may sit turned or out of the middle
    Gives
      gap        : g [mm]  0 .. 2000    3 figures, down      more is safer
    Holds when
      Lugs alike, bare. Sleeves and barriers are a maker's matter: without them the air is all
      there is. To earthed metal the same is measured from the lug's edge.
    Source
      derived: widths taken off
    """
    return max(pitch - palm_width - 2 * play, 0 * pitch)


def single_core_entry(system, entry, current, ferrous_from):
    """
    Whether single cores may go through a plate as they do.

    Inputs
      system       : one of ac, dc
      entry        : one of together, apart_in_steel, apart_slotted, apart_in_other_metal
      current      : I [A]  0 .. 50000    of one core at full load
      ferrous_from : f [A]  0 .. 5000     from which steel between the cores counts
    Gives
      verdict      : one of suits, steel_between
    Holds when
      Together: all cores of a circuit, the neutral too, through one hole. Slotted: one cut joins
      all the holes. Other metal: aluminium, brass or plastic, its glands and locknuts too.
      Steel round one core alone heats with alternating current, and never cools by itself.
    Source
      nec-300-20: individual conductors through metal with magnetic properties
    """
    if system == "ac" and entry == "apart_in_steel" and current >= ferrous_from:
        return "steel_between"
    return "suits"
