"""Faults: the loop that lets a fuse blow, the earth conductor that lives through it, the most that can flow."""

from builder.formulas.mathematics import sqrt


def loop_impedance_limit(voltage_to_earth, voltage_factor, rated_current, trip_multiple, site_factor):
    """
    Highest earth-fault loop impedance at which the breaker still trips at once.

        Z = U · c / (n · I)
        Z1 = s · Z

    Inputs
      voltage_to_earth : U [V]    50 .. 1000       nominal
      voltage_factor   : c [1]    0.8 .. 1         lowest voltage over nominal, by the code in force
      rated_current    : I [A]    0.5 .. 6300      of breaker, as marked or as set
      trip_multiple    : n [1]    1 .. 50          of that current at which it surely trips at once
      site_factor      : s [1]    0.5 .. 1         for conductors that are cold when tested
    Gives
      limit            : Z  [ohm] 0 .. 2000        3 figures, down      a maximum, conductors hot
      reading_limit    : Z1 [ohm] 0 .. 2000        3 figures, down      a maximum on the tester, conductors cold
    Holds when
      Breakers that trip at once. Fuses and slow breakers go by their maker's curve at the
      disconnection time asked for. A drive or inverter may feed less than its network.
    Source
      iet-table-41-3: 230 V over 5, 10 and 20 times rated current
      niceic-connections: 0.8 for a cold reading
    """
    limit = voltage_to_earth * voltage_factor / (trip_multiple * rated_current)
    return {"limit": limit, "reading_limit": limit * site_factor}


def earth_conductor_size(current, time, density, density_time):
    """
    Least earth conductor that takes a fault until it is cleared.

        S = I / k · √(t / t0)

    Inputs
      current      : I  [A]      1 .. 200000     of the fault, its highest
      time         : t  [s]      0.01 .. 5       until it is cleared at that current
      density      : k  [A/mm2]  10 .. 400       that this metal and insulation take for the time below
      density_time : t0 [s]      0.1 .. 5        that the table gives it for: one second
    Gives
      area         : S  [mm2]    0 .. 50000      3 figures, up      more is safer
    Holds when
      All heat stays in the conductor, so five seconds at most. The table's figure rules over
      the one worked out from the metal: they differ in the last digit. Above 300 mm2 the
      tables give less. Smaller than the code's least size it is never laid.
    Source
      linsley-adiabatic: 200 A for 0.4 s, worked
      certsure-pocket-guide-14: tables 43.1 and 54.2 to 54.5
    """
    return current / density * sqrt(time / density_time)


def transformer_fault_current(rating, voltage, impedance):
    """
    Most that a transformer feeds into a dead short at its own terminals.

        I = S / (√3 · U · z)

    Inputs
      rating    : S [kVA]  1 .. 1e6
      voltage   : U [V]    50 .. 50000     between lines, as on the label
      impedance : z [%]    0.5 .. 30       on the label
    Gives
      current   : I [A]    0 .. 1e9        4 figures, up      higher is safer for what must break or bear it
    Holds when
      The network behind it counts as endless, so this is the most. What makes a fuse blow is
      less: measure the loop for that. Motors and inverters feed in besides.
    Source
      electrical-installation-guide-faults: rated current over impedance
      holt-transformer-fault: 1000 kVA, 480 V, 5.75 %, worked
    """
    return rating / (sqrt(3) * voltage * impedance)


def dc_fault_current(voltage, string_resistance, strings, cable_resistance, trip_current):
    """
    Least current of a dead short on a battery's cable, against what its fuse needs to clear.

        I = U / (r / n + c)

    Inputs
      voltage           : U [V]     1 .. 5000          lowest at which the battery may stand
      string_resistance : r [mohm]  0.01 .. 1e6        inside one string, its highest, links counted
      strings           : n [1]     1 .. 1000          alike, in parallel
      cable_resistance  : c [mohm]  0 .. 1e6           out and back to the fault, hot
      trip_current      : F [A]     1 .. 1e6 or none   at which fuse or breaker clears in the time asked for
    Gives
      current           : I [A]     0 .. 1e8           3 figures, down      less is harder to clear
      verdict           : one of clears, does_not_clear, not_known
    Holds when
      Pole to pole, steady. For what must bear or break the fault the highest voltage and the
      lowest resistances count instead. A fuse is chosen by its maker's direct-current curve; one
      string of several may feed a fault by itself. An inverter's battery port adds nothing.
    Source
      battery-strings-thread: seven strings of 3800 A
      derived: Ohm's law round the loop
    """
    current = voltage / (string_resistance / strings + cable_resistance)
    verdict = "not_known"
    if trip_current is not None:
        verdict = "clears" if current >= trip_current else "does_not_clear"
    return {"current": current, "verdict": verdict}
