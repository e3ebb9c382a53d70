"""Insulation that is watched while the tester is on: how its reading climbs."""

from builder.formulas.mathematics import cannot_tell


def polarisation_index(one_minute, ten_minutes, meaningless_above):
    """
    Ten-minute reading over one-minute reading of one insulation test.

        p = b / a

    Inputs
      one_minute        : a [Mohm]  0.001 .. 1e7    after one minute
      ten_minutes       : b [Mohm]  0.001 .. 1e7    after ten minutes, tester on throughout
      meaningless_above : m [Mohm]  100 .. 1e7      one-minute reading from which the index says nothing
    Gives
      index             : p [1]     0 .. 1e10       3 figures, down      a minimum
    Holds when
      Windings and long cables, steady temperature and voltage. A falling reading is a fault
      under way: stop. An index far above its fellows is dry, brittle insulation.
    Source
      pi-trade-page: 500 and 2000 Mohm, worked
      ieee-43-quiz: nothing to be read from it above 5000 Mohm
    """
    if one_minute > meaningless_above:
        cannot_tell("The insulation is so high that the index says nothing: judge by the resistance itself.")
    return ten_minutes / one_minute


def absorption_ratio(half_minute, one_minute, meaningless_above):
    """
    One-minute reading over half-minute reading of one insulation test.

        q = b / a

    Inputs
      half_minute       : a [Mohm]  0.001 .. 1e7    after thirty seconds
      one_minute        : b [Mohm]  0.001 .. 1e7    after one minute, tester on throughout
      meaningless_above : m [Mohm]  100 .. 1e7      one-minute reading from which the ratio says nothing
    Gives
      ratio             : q [1]     0 .. 1e10       3 figures, down      a minimum
    Holds when
      As for the index, where ten minutes are not to be had. It sees less.
    Source
      pi-trade-page: sixty seconds over thirty
    """
    if one_minute > meaningless_above:
        cannot_tell("The insulation is so high that the ratio says nothing: judge by the resistance itself.")
    return one_minute / half_minute
