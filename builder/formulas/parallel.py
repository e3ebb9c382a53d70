"""Legs in parallel and sources put together: even lengths, shares of the current, what flows at closing."""

from builder.formulas.mathematics import cannot_tell


def leg_spread(legs):
    """
    How even the legs of one phase or pole are in length.

        s = (b - a) / a

    Inputs
      legs      : rows                      of one phase or pole
        .length : L [m]  0.1 .. 20000       cut length in use, from palm to palm
    Gives
      shortest  : a [m]  0 .. 20000         4 figures, down
      longest   : b [m]  0 .. 20000         4 figures, up
      spread    : s [%]  0 .. 1e7           3 figures, up      less is safer
    Holds when
      Every leg has the same conductor. Even legs share evenly only if they are laid alike too.
    Source
      derived: longest over shortest
    """
    _two_at_least(len(legs))
    shortest = legs[0]["length"]
    longest = shortest
    for leg in legs:
        shortest = min(shortest, leg["length"])
        longest = max(longest, leg["length"])
    return {"shortest": shortest, "longest": longest, "spread": (longest - shortest) / shortest}


def leg_currents(legs, current):
    """
    Current of each leg when legs in parallel share by their resistance.

        i = I · (1 / r) / g

    Inputs
      legs          : rows                        of one phase or pole
        .resistance : r [mohm]  0.001 .. 1e6      whole leg with its joints, at its temperature
      current       : I [A]     0.01 .. 50000     of all legs together
    Gives
      largest       : m [A]     0 .. 50000        3 figures, up      leg that carries most
      uneven        : u [%]     0 .. 1e6          3 figures, up      how much that is above an even share
      hardest       : k [1]     1 .. 10000        whole, nearest      which of the list it is
      shares        : rows                        in the order listed
        .current    : i [A]     0 .. 50000        3 figures, up
    Holds when
      Direct current. g is the sum of 1 / r over all legs. Alternating current shares by how
      the legs lie as well: three pairs side by side have been found at 742, 441 and 550 A.
      There a clamp on each leg decides.
    Source
      parallel-legs-forum: unequal shares of alternating current
      current-divider-example: 30 A over 4 and 2 ohm, worked
      derived: one voltage across all legs
    """
    _two_at_least(len(legs))
    conductance = 0
    for leg in legs:
        conductance = conductance + 1 / leg["resistance"]
    shares = []
    largest = 0
    hardest = 1
    for i in range(0, len(legs)):
        share = current / legs[i]["resistance"] / conductance
        shares.append({"current": share})
        if share > largest:
            largest = share
            hardest = i + 1
    return {
        "largest": largest,
        "uneven": max(largest * len(legs) / current - 1, 0),
        "hardest": hardest,
        "shares": shares,
    }


def circulating_current(voltage_difference, first_resistance, second_resistance, cable_resistance):
    """
    Current between two sources at the moment they are put in parallel.

        I = u / (a + b + c)

    Inputs
      voltage_difference : u [V]     0 .. 2000     across the open switch, read with a meter
      first_resistance   : a [mohm]  0 .. 1e5      inside the one source, its least
      second_resistance  : b [mohm]  0 .. 1e5      inside the other, its least
      cable_resistance   : c [mohm]  0 .. 1e5      out and back between them
    Gives
      current            : I [A]     0 .. 1e7      3 figures, up      higher is safer
    Holds when
      Direct current, steady, without precharge. The maker's figure for the voltage across the
      switch rules: this shows why it is so small.
    Source
      battery-paralleling-notes: 5 V across 10 mohm, worked
      derived: Ohm's law round the loop
    """
    loop = first_resistance + second_resistance + cable_resistance
    if loop <= 0:
        cannot_tell("Without any resistance in the loop there is no answer: ask the maker for the inside resistance.")
    return voltage_difference / loop


def _two_at_least(count):
    """The count, where there is anything to share."""
    if count < 2:
        cannot_tell("Legs in parallel are two at least: list every leg.")
    return count
