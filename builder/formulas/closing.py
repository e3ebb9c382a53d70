"""Closing onto a live bus: what stands across the open switch, and how little of it is allowed."""

from builder.formulas.mathematics import cannot_tell, cos, sqrt


def voltage_across_switch(bus_voltage, incoming_voltage, angle):
    """
    Alternating voltage that stands across an open switch between two live sides.

        u = √(a² + b² - 2 · a · b · cos(d))
        q = u / a

    Inputs
      bus_voltage      : a [V]    1 .. 50000     of the live bus, between the same two points
      incoming_voltage : b [V]    1 .. 50000     of what comes on
      angle            : d [deg]  0 .. 180       between them, off the synchroscope
    Gives
      difference       : u [V]    0 .. 100000    3 figures, up      less is safer
      ratio            : q [%]    0 .. 1e7       3 figures, up      of the bus
    Holds when
      Both at one frequency, on one earth, phases proved to be in the same order. A lamp or a
      meter across one pole reads u of the two voltages to neutral, less than between two phases
      by the root of three. Whoever runs the supply says what may be closed.
    Source
      derived: third side of a triangle of two voltages and the angle between them
    """
    difference = sqrt(max(bus_voltage**2 + incoming_voltage**2 - 2 * bus_voltage * incoming_voltage * cos(angle), 0))
    return {"difference": difference, "ratio": difference / bus_voltage}


def closing_difference(allowed_current, maker_difference, first_resistance, second_resistance, cable_resistance):
    """
    Direct voltage across an open switch at which two sources may just be put in parallel.

        u = I · (a + b + c)

    Inputs
      allowed_current   : I [A]     0.1 .. 1e5 or none     that both sources and the switch bear at closing
      maker_difference  : m [V]     0.001 .. 2000 or none  across the switch, by the maker
      first_resistance  : a [mohm]  0 .. 1e5 or none       inside the one source, its least
      second_resistance : b [mohm]  0 .. 1e5 or none       inside the other, its least
      cable_resistance  : c [mohm]  0 .. 1e5 or none       out and back between them
    Gives
      difference        : u [V]     0 .. 1e7   3 figures, down      less is safer
      ruled_by          : one of maker, computed
    Holds when
      Direct current, without precharge, poles proved alike. The maker's figure rules also where
      it is more than the sum. A precharge brings the difference down and is no reason for more.
    Source
      battery-paralleling-notes: 5 V across 10 mohm, worked
      derived: Ohm's law round the loop
    """
    if maker_difference is not None:
        return {"difference": maker_difference, "ruled_by": "maker"}
    if allowed_current is None or first_resistance is None or second_resistance is None or cable_resistance is None:
        cannot_tell("Neither the maker's voltage difference nor the current and the resistances are given.")
    return {
        "difference": allowed_current * (first_resistance + second_resistance + cable_resistance),
        "ruled_by": "computed",
    }
