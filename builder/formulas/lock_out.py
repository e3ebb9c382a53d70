"""Lock-out: how long stored charge needs to drain before anyone measures."""

from builder.formulas.mathematics import cannot_tell, log


def discharge_waiting_time(capacitance, resistance, start_voltage, safe_voltage, label_time):
    """
    Time to wait before stored charge may be measured: the longer of label and sum.

        t = R · C · ln(U0 / U1)

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
