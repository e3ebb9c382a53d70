"""Lock-out: how long stored charge needs to drain before anyone measures."""

from builder.formulas.mathematics import cannot_tell, log


def discharge_waiting_time(capacitance, resistance, start_voltage, safe_voltage, label_time):
    """
    Time to wait before stored charge may be measured: the longer of label and sum.

        t = max(R · C · ln(U0 / U1), 0)

    Inputs
      capacitance   : C  [uF]   0.001 .. 1e8 or none    everything on the link together
      resistance    : R  [ohm]  0.1 .. 1e9 or none      that drains it when the source is off
      start_voltage : U0 [V]    1 .. 500000 or none     when the source is taken off
      safe_voltage  : U1 [V]    1 .. 200                that counts as drained
      label_time    : tl [s]    0 .. 86400 or none      maker's time on the label
    Gives
      waiting_time  : t  [s]    0 .. 1e9   3 figures, up      longer is safer
      ruled_by      : one of computed, label
    Holds when
      The drain resistor is whole: a broken one keeps the charge for days. Charge soaked into
      insulation can come back. A battery never drains. The end of the wait is no pass: it is
      when proving dead may begin.
    Source
      derived: capacitor emptying through a resistor
    """
    if capacitance is None or resistance is None or start_voltage is None:
        if label_time is None:
            cannot_tell(
                "Neither the maker's waiting time nor capacitance, resistance and voltage are given."
            )
        return {"waiting_time": label_time, "ruled_by": "label"}
    computed = 0
    if start_voltage > safe_voltage:
        computed = resistance * capacitance * log(start_voltage / safe_voltage)
    if label_time is not None and label_time >= computed:
        return {"waiting_time": label_time, "ruled_by": "label"}
    return {"waiting_time": computed, "ruled_by": "computed"}


def who_proves_dead(system, voltage, charged_to, limit_ac, limit_dc):
    """
    Who proves dead and earths here: the crew's own licensed people, or the operator.

    Inputs
      system     : one of ac, dc
      voltage    : U [V]  1 .. 500000            nominal, between phases or between poles
      charged_to : C [V]  1 .. 500000 or none    highest direct voltage that can stand on capacitors
      limit_ac   : A [V]  50 .. 1500             to which a crew tests alternating voltage
      limit_dc   : B [V]  50 .. 1500             to which it tests direct voltage
    Gives
      who        : one of crew, operator
    Holds when
      The limits are those where low voltage ends, or the site's own where they are lower. A
      charge is direct voltage whatever feeds it. Who operates the switch is another matter:
      an operator may switch at low voltage too.
    Source
      norway-low-voltage: low voltage ends at 1000 V a.c. and 1500 V d.c.
      practice
    """
    limit = limit_ac if system == "ac" else limit_dc
    if voltage > limit:
        return "operator"
    if charged_to is not None and charged_to > limit_dc:
        return "operator"
    return "crew"


def residual_voltage(pairs, limit_ac, limit_dc):
    """
    Whether all that is left between any two conductors, and to earth, counts as drained.

    Inputs
      pairs        : rows                   every pair of conductors, and each to earth
        .ac        : a [V]  0 .. 100000     read with the tester on alternating voltage
        .dc        : b [V]  0 .. 100000     read with it on direct voltage, whichever way round
      limit_ac     : A [V]  1 .. 50         that counts as drained
      limit_dc     : B [V]  1 .. 120        that counts as drained
    Gives
      highest_ac   : p [V]  0 .. 100000     3 figures, up
      highest_dc   : q [V]  0 .. 100000     3 figures, up
      worst_pair   : i [1]  1 .. 10000      whole, nearest      which of the list is furthest over or nearest below
      verdict      : one of drained, still_charged
    Holds when
      Tester proved on a known source before and after. Both functions on every pair: one that
      reads only the other sort shows nothing and means nothing. Drained is not yet earthed and
      locked; a battery is never drained.
    Source
      qld-works-code: 4.1, extra-low voltage, 50 V a.c. and 120 V d.c.
      practice
    """
    if len(pairs) == 0:
        cannot_tell("No pair of conductors has been read.")
    highest_ac = pairs[0]["ac"]
    highest_dc = pairs[0]["dc"]
    worst_pair = 1
    worst = max(pairs[0]["ac"] / limit_ac, pairs[0]["dc"] / limit_dc)
    for i in range(1, len(pairs)):
        highest_ac = max(highest_ac, pairs[i]["ac"])
        highest_dc = max(highest_dc, pairs[i]["dc"])
        share = max(pairs[i]["ac"] / limit_ac, pairs[i]["dc"] / limit_dc)
        if share > worst:
            worst = share
            worst_pair = i + 1
    return {
        "highest_ac": highest_ac,
        "highest_dc": highest_dc,
        "worst_pair": worst_pair,
        "verdict": "drained" if worst <= 1 else "still_charged",
    }
