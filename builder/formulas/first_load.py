"""First load: what a warm joint would be at full load, and how warm a part may be at this load."""

from builder.formulas.mathematics import exp, log


def rise_at_full_load(rise, load_current, full_current, exponent):
    """
    Rise in temperature that a part would have at full load, from the one seen at less.

        R = r · max(F / I, 1)^x

    Inputs
      rise         : r [K]  0 .. 300         over the air or over a like part, seen now
      load_current : I [A]  0.1 .. 1e5       at the time, steady for an hour or more
      full_current : F [A]  0.1 .. 1e5       that the part will have to carry
      exponent     : x [1]  1 .. 2.5         of the current; 2 is the cautious end
    Gives
      rise_at_full : R [K]  0 .. 1e5         3 figures, up      less is safer
    Holds when
      Never less than what is seen. Both currents flow in the same part in the same box with
      the same cooling. At a small part of the load the sum says little: look again at more.
    Source
      infraspection-tip: rise goes with the current's power of 1.6 to 2
    """
    return rise * exp(exponent * log(max(full_current / load_current, 1)))


def allowed_temperature(rated_rise, load_current, rated_current, exponent, air_temperature):
    """
    Highest temperature that a part may show at the load it carries now.

        T = R · min(I / F, 1)^x + t

    Inputs
      rated_rise      : R [K]     1 .. 200       that its standard or maker allows at full current
      load_current    : I [A]     0.1 .. 1e5     at the time, steady for an hour or more
      rated_current   : F [A]     0.1 .. 1e5     of the part
      exponent        : x [1]     1 .. 2.5       of the current; 2 is the cautious end
      air_temperature : t [degC]  -40 .. 60      round the gear
    Gives
      temperature     : T [degC]  -40 .. 300     3 figures, down      a maximum
    Holds when
      Load no higher than the rated current, else R counts as it stands. Insulation beside the
      part may stand less: the lower limit counts.
    Source
      infraspection-tip: highest temperature corrected for load and air
    """
    return air_temperature + rated_rise * exp(exponent * log(min(load_current / rated_current, 1)))
