"""Near live parts: how far to keep away, and whether a tester is made for the place."""

from builder.formulas.mathematics import cannot_tell


def approach_distance(voltage, from_voltage, from_distance, to_voltage, to_distance):
    """
    Distance to keep from live parts, between two rows of the table in force.

        D = d1 + (d2 - d1) · (U - u1) / (u2 - u1)

    Inputs
      voltage       : U  [kV]  0.001 .. 1200    nominal, between lines
      from_voltage  : u1 [kV]  0 .. 1200        of the row below
      from_distance : d1 [m]   0 .. 20          at that voltage
      to_voltage    : u2 [kV]  0.01 .. 1200     of the row above
      to_distance   : d2 [m]   0 .. 20          at that voltage
    Gives
      distance      : D  [m]   0 .. 20          3 figures, up      further is safer
    Holds when
      The table is the one in force on this site and counts bare parts as live until proved
      dead. Tools and what is carried count with the body. A table in steps gives both rows the
      same distance.
    Source
      en-50110-distances: rows, and straight lines between them
      derived: straight line through two rows
    """
    if to_voltage <= from_voltage:
        cannot_tell("The two rows are in the wrong order.")
    if voltage < from_voltage or voltage > to_voltage:
        cannot_tell("The voltage does not lie between the two rows.")
    return from_distance + (to_distance - from_distance) * (voltage - from_voltage) / (to_voltage - from_voltage)


def instrument_suits(rated_voltage, rated_category, circuit_voltage, circuit_category):
    """
    Whether a tester's own marking covers the circuit it is put on.

    Inputs
      rated_voltage    : u [V]  10 .. 50000    marked beside the category, on tester and leads, the lower
      rated_category   : c [1]  2 .. 4         marked on tester and leads, the lower
      circuit_voltage  : U [V]  1 .. 50000     highest that can stand between the probes or to earth
      circuit_category : k [1]  2 .. 4         of the place, from the table
    Gives
      verdict          : one of suits, voltage_too_low, category_too_low
    Holds when
      Voltage and category are read from one line of the marking: a tester for 1000 V in one
      category is often one for 600 V in the next. Leads, probes and fuses are those that
      belong to it. A string at full charge stands above its label.
    Source
      hioki-categories: higher-numbered places ask for higher-numbered testers
      practice
    """
    if rated_category < circuit_category:
        return "category_too_low"
    if rated_voltage < circuit_voltage:
        return "voltage_too_low"
    return "suits"
