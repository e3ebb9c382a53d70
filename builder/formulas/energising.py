"""Before and at switch-on: insulation, conductor resistance, transformer current, voltage drop."""

from builder.formulas.mathematics import exp, log, sqrt


def insulation_minimum(minimum, reference_temperature, temperature, doubling):
    """
    Insulation resistance that a test at this temperature must reach.

        Rt = R0 · 2^((t0 - t) / k)

    Inputs
      minimum               : R0 [Mohm]  0.001 .. 1e7    at the reference temperature
      reference_temperature : t0 [degC]  -20 .. 100      that the minimum is stated for
      temperature           : t  [degC]  -40 .. 150      of the insulation when tested
      doubling              : k  [K]     2 .. 40         fall in temperature that doubles resistance
    Gives
      resistance            : Rt [Mohm]  0 .. 1e12       3 figures, up      a minimum
    Holds when
      The insulation follows a doubling rule, which is a rule of thumb: windings, oil and
      cable compounds each have curves of their own. Take the maker's curve where there is one.
    Source
      tester-manual-doubling: factor 2 for 10 degrees, with example
    """
    return minimum * exp(log(2) * (reference_temperature - temperature) / doubling)


def conductor_resistance(resistance, reference_temperature, temperature, zero_temperature):
    """
    Resistance of a conductor at another temperature.

        Rt = R0 · (t - tz) / (t0 - tz)

    Inputs
      resistance            : R0 [ohm/km]  0.001 .. 100     at the reference temperature
      reference_temperature : t0 [degC]    0 .. 100         20 in the conductor standard
      temperature           : t  [degC]    -40 .. 250       of the conductor
      zero_temperature      : tz [degC]    -260 .. -180     where the straight line meets zero
    Gives
      resistance_now        : Rt [ohm/km]  0 .. 1000        4 figures, up      higher is safer
    Holds when
      Copper or aluminium in its usual range of temperature; direct current. Thick conductors
      have a few per cent more on alternating current.
    Source
      iec-60228: temperature factors 250 / (230 + t)
    """
    return (
        resistance
        * (temperature - zero_temperature)
        / (reference_temperature - zero_temperature)
    )


def continuity_expected(outgoing, returning, length, spread):
    """
    Resistance that a continuity test should read, and the band round it.

        R = (a + b) · L
        R1 = R · (1 - s)
        R2 = R · (1 + s)

    Inputs
      outgoing  : a [ohm/km]  0.001 .. 100    of the conductor tested, at its temperature now
      returning : b [ohm/km]  0 .. 100        of the one it comes back by; 0 with leads taken off the reading
      length    : L [m]       0.1 .. 20000    one way
      spread    : s [%]       1 .. 50         either way, for length, temperature and leads
    Gives
      expected  : R  [ohm]    0 .. 1e6        3 figures, nearest
      lowest    : R1 [ohm]    0 .. 1e6        3 figures, up      less is a path beside it, or another cable
      highest   : R2 [ohm]    0 .. 1e6        3 figures, down      more is a bad joint, or more cable
    Holds when
      The resistance of the leads has been taken off. Conductors in parallel are tested one by
      one.
    Source
      forum-continuity: 22 m of 2.5 and 1.5 mm2, worked
      derived: Ohm's law over both conductors
    """
    expected = (outgoing + returning) * length
    return {
        "expected": expected,
        "lowest": expected * (1 - spread),
        "highest": expected * (1 + spread),
    }


def full_load_current(rating, voltage):
    """
    Rated line current of a three-phase transformer at the voltage stated.

        I = S / (√3 · U)

    Inputs
      rating  : S [kVA]  0.1 .. 1e6
      voltage : U [V]    10 .. 800000    between lines, as on the label and not the nominal
    Gives
      current : I [A]    0 .. 1e8        4 figures, nearest
    Holds when
      Three phases, equally loaded. Printed tables often use the no-load voltage, so their
      figure differs from one at the nominal voltage.
    Source
      schneider-transformer-currents: currents at 410 V and 237 V
    """
    return rating / (sqrt(3) * voltage)


def voltage_drop_three_phase(current, length, resistance, reactance, power_factor, voltage):
    """
    Voltage drop between lines along a three-phase cable.

        u = √3 · I · L · (r · p + x · √(1 - p²))
        q = u / U

    Inputs
      current      : I [A]       0.01 .. 20000
      length       : L [m]       0.1 .. 20000    one way
      resistance   : r [ohm/km]  0.001 .. 100    of one conductor, at its working temperature
      reactance    : x [ohm/km]  0 .. 2          of one conductor
      power_factor : p [1]       0.05 .. 1       lagging
      voltage      : U [V]       10 .. 40000     between lines
    Gives
      drop         : u [V]       0 .. 1e7        3 figures, up      higher is safer
      drop_ratio   : q [%]       0 .. 100        3 figures, up
    Holds when
      Equal load on the phases and a drop that is small beside the voltage.
    Source
      electrical-installation-guide-drop: three-phase balanced
    """
    reactive = sqrt(1 - power_factor**2)
    drop = sqrt(3) * current * length * (resistance * power_factor + reactance * reactive)
    return {"drop": drop, "drop_ratio": drop / voltage}


def voltage_drop_dc(current, length, resistance, voltage):
    """
    Voltage drop along both conductors of a direct-current cable.

        u = 2 · I · L · r
        q = u / U

    Inputs
      current    : I [A]       0.01 .. 20000
      length     : L [m]       0.1 .. 20000    one way
      resistance : r [ohm/km]  0.001 .. 100    of one conductor, at its working temperature
      voltage    : U [V]       1 .. 5000       between the poles
    Gives
      drop       : u [V]       0 .. 1e7        3 figures, up      higher is safer
      drop_ratio : q [%]       0 .. 100        3 figures, up
    Holds when
      Outgoing and return conductors are alike. Also single-phase cables with no reactance
      worth counting.
    Source
      derived: Ohm's law over both conductors
    """
    drop = 2 * current * length * resistance
    return {"drop": drop, "drop_ratio": drop / voltage}
