"""Direct-current arcs: an indication of their heat, for planning and never for clothing by itself."""

from builder.formulas.mathematics import cannot_tell, sqrt


def dc_arc_energy(voltage, fault_current, time, distance, enclosure_factor, burn_energy):
    """
    Heat of a direct-current arc at most power: an indication. The site's arc study rules.

        E = 0.005 · 4.184 · V · I · t / D² · f
        B = √(0.005 · 4.184 · V · I · t · f / b)

    Inputs
      voltage          : V [V]        50 .. 1000       highest that the string can stand at
      fault_current    : I [A]        100 .. 100000    of a dead short at that place
      time             : t [s]        0.01 .. 2        until it is cleared, or until somebody is away
      distance         : D [m]        0.3 .. 5         arc to face and chest
      enclosure_factor : f [1]        1 .. 10          of a box that throws the heat back; 1 in the open
      burn_energy      : b [cal/cm2]  0.1 .. 5         at which bare skin begins to burn
    Gives
      energy           : E [cal/cm2]  0 .. 1e5         2 figures, up      higher is safer
      boundary         : B [m]        0 .. 1000        2 figures, up      where bare skin begins to burn
    Holds when
      Half of the voltage stands across the arc and half of the short-circuit current flows in
      it. Voltages above the range have no answer here. It says nothing of blast, metal and
      noise. Nobody chooses clothing by it alone: without the site's own study the work is not
      done.
    Source
      doan-maximum-power: arc at half the voltage, as told by Electrical Contractor
      battery-arc-forum: 540 V battery, worked
    """
    # 0.005 is the print's figure for calories and square centimetres, 5 % above the exact one.
    heat = 0.005 * 4.184 * voltage * fault_current * time * enclosure_factor
    return {"energy": heat / distance**2, "boundary": sqrt(heat / burn_energy)}


def clothing_rating(label_energy, category_rating, highest_rating):
    """
    Least arc rating of clothing by what the label on the gear says.

    Inputs
      label_energy    : e [cal/cm2]  0.01 .. 1000 or none   on the label, at its working distance
      category_rating : c [cal/cm2]  1 .. 100 or none       of the category on the label, from the table
      highest_rating  : h [cal/cm2]  1 .. 200               that clothing is made for
    Gives
      rating          : r [cal/cm2]  0 .. 200   3 figures, up      higher is safer
      ruled_by        : one of energy, category
    Holds when
      The label is of this gear as it stands now, its protection not changed since. A label names
      energy or category; where it names both, the higher of the two counts. Every layer, hood,
      glove and shoe is rated. Beyond the highest rating no clothing is enough and the work is
      not done.
    Source
      nfpa-70e-clothing: least rating by category
      practice
    """
    if label_energy is None and category_rating is None:
        cannot_tell("The label gives neither energy nor category: without the site's study the work is not done.")
    rating = 0
    ruled_by = "category"
    if category_rating is not None:
        rating = category_rating
    if label_energy is not None and (category_rating is None or label_energy > category_rating):
        rating = label_energy
        ruled_by = "energy"
    # A label that is just the highest, in whatever unit, is not beyond it.
    if rating > highest_rating * (1 + 1e-9):
        cannot_tell("No clothing is made for this much: the work is not done while it is live.")
    return {"rating": rating, "ruled_by": ruled_by}
