"""Direct-current arcs: an indication of their heat, for planning and never for clothing by itself."""

from builder.formulas.mathematics import sqrt


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
