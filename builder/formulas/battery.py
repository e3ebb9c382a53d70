"""A battery by its label: voltage, energy, what it gives at a load and for how long."""

from builder.formulas.mathematics import cannot_tell, floor


def battery_energy(cells, cell_voltage, capacity, strings):
    """
    Voltage and energy of like cells in series, strings in parallel.

        U = n · u
        E = n · u · q · s

    Inputs
      cells        : n [1]    1 .. 2000      in series in one string
      cell_voltage : u [V]    0.5 .. 5       nominal, of one cell; at full charge for the highest
      capacity     : q [Ah]   0.01 .. 1e5    of one cell
      strings      : s [1]    1 .. 1000      alike, in parallel
    Gives
      voltage      : U [V]    0 .. 1e4       4 figures, up      higher is safer for people and gear
      energy       : E [kWh]  0 .. 1e9       3 figures, nearest      nominal
    Holds when
      Like cells. At full charge the voltage stands well above nominal; what may be used of the
      energy is the maker's word.
    Source
      cfr-watt-hours: watt-hours are volts times ampere-hours
      derived: voltages in series, charges in parallel
    """
    if cells != floor(cells) or strings != floor(strings):
        cannot_tell("The numbers of cells and strings must be whole numbers.")
    voltage = cells * cell_voltage
    return {"voltage": voltage, "energy": voltage * capacity * strings}


def current_at_power(power, voltage):
    """
    Direct current that a power draws.

        I = P / U

    Inputs
      power   : P [kW]  0.001 .. 1e5    at the battery, losses of the inverter counted
      voltage : U [V]   1 .. 5000       lowest at which that power is still drawn
    Gives
      current : I [A]   0 .. 1e8        3 figures, up      higher is safer
    Holds when
      Power is constant, so the current rises as the battery empties: take the lowest voltage.
    Source
      derived: power over voltage
    """
    return power / voltage


def discharge_rate(current, capacity, rated_time):
    """
    Rate at which a battery is emptied, and how long it lasts at it.

        C = I · r / q
        t = q / I

    Inputs
      current    : I [A]   0.01 .. 1e6    drawn or fed in
      capacity   : q [Ah]  0.01 .. 1e6    on the label, of all strings together
      rated_time : r [h]   0.5 .. 100     that a rate of one empties it in: an hour
    Gives
      rate       : C [1]   0 .. 1e8       3 figures, up      higher is harder on it
      time       : t [h]   0 .. 1e8       3 figures, down      from full to empty, nothing kept back
    Holds when
      Steady current. The maker's highest rates for charging and discharging are two figures and
      fall with cold. At high rates a battery gives less than its label.
    Source
      c-rate-vocabulary: 5 Ah, C and C/5 and 2C
    """
    return {"rate": current * rated_time / capacity, "time": capacity / current}


def battery_run_time(energy, usable, power, efficiency):
    """
    Time that a battery feeds a load.

        t = E · u · e / P

    Inputs
      energy     : E [kWh]  0.001 .. 1e7    as on the label, less what age has taken
      usable     : u [%]    1 .. 100        of it that the maker lets out
      power      : P [kW]   0.001 .. 1e6    of the load
      efficiency : e [%]    50 .. 100       of inverter and cables
    Gives
      time       : t [h]    0 .. 1e9        2 figures, down      less is safer
    Holds when
      A steady load. Cold, age and a high rate each take some away.
    Source
      derived: energy over power
    """
    return energy * usable * efficiency / power
