"""What a supply may show: its own full current, its band of voltage, the drop that is left to the cable."""

from builder.formulas.mathematics import cannot_tell, sqrt


def inverter_current(rating, voltage, label_current):
    """
    Full current of a three-phase inverter: its label's, else from rating and voltage.

        I = S / (√3 · U)

    Inputs
      rating        : S [kVA]  0.1 .. 1e5 or none
      voltage       : U [V]    50 .. 50000 or none     between lines, as on the label
      label_current : L [A]    0.1 .. 50000 or none    on the label, the highest it names
    Gives
      current       : I [A]    0 .. 1e6   4 figures, up      higher is safer for cable and joint
      ruled_by      : one of label, computed
    Holds when
      The label rules, also where it is less than the sum: makers cap it, or let it run over.
    Source
      galaxy-vxl-specifications: 500 kVA at 380, 400 and 415 V
      derived: power of three phases
    """
    if label_current is not None:
        return {"current": label_current, "ruled_by": "label"}
    if rating is None or voltage is None:
        cannot_tell("Neither the label's current nor rating and voltage are given.")
    return {"current": rating / (sqrt(3) * voltage), "ruled_by": "computed"}


def voltage_band(nominal, below, above):
    """
    Lowest and highest voltage at which a supply is as agreed.

        U1 = U · (1 - b)
        U2 = U · (1 + a)

    Inputs
      nominal : U [V]   10 .. 800000
      below   : b [%]   0 .. 30         of nominal, by the standard in force
      above   : a [%]   0 .. 30         of nominal, by the standard in force
    Gives
      lowest  : U1 [V]  0 .. 1e6        4 figures, up
      highest : U2 [V]  0 .. 2e6        4 figures, down
    Holds when
      Measured where the supply is handed over, under its usual load.
    Source
      iec-60038: low-voltage supply, ten per cent either way
    """
    return {"lowest": nominal * (1 - below), "highest": nominal * (1 + above)}


def voltage_drop_limit(base, length, free_length, per_length, most_extra):
    """
    Voltage drop allowed from the supply to the load, longer ways allowed a little more.

    Inputs
      base        : b [%]    0.1 .. 20       for this supply and this use
      length      : L [m]    0 .. 20000      of main wiring
      free_length : a [m]    0 .. 1000       up to which nothing is added
      per_length  : p [%/m]  0 .. 0.1        for each metre beyond
      most_extra  : e [%]    0 .. 5          that is ever added
    Gives
      limit       : q [%]    0 .. 25         3 figures, down      a maximum
    Holds when
      Each metre beyond the free length adds its share, up to the most. Motors that start, and
      the load's own maker, may ask for less.
    Source
      iec-60364-5-52-annex-g: table G.52.1, 0.005 % for each metre beyond 100 m, 0.5 % at most
    """
    extra = max(0, (length - free_length) * per_length)
    return base + min(extra, most_extra)
