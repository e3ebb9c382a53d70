"""Walls of a trench cut back in steps, and how far from its edge heavy things stand."""

from builder.formulas.mathematics import cannot_tell, ceil


def bench_plan(depth, bottom_width, batter, first_rise, next_rise):
    """
    Steps that a trench wall is cut in instead of a plain batter, both sides alike.

        B = b + 2 · s · H · min(k - 1, 1)
        r = max(H - a, 0) / max(k - 1, 1)
        t = s · (a + r) · min(k - 1, 1)

    Inputs
      depth        : H [m]  0.05 .. 20           at the deepest place
      bottom_width : b [m]  0.05 .. 50
      batter       : s [1]  0 .. 5               horizontal for one vertical, that this soil asks for
      first_rise   : a [m]  0.2 .. 3 or none     highest upright part at the bottom; none where the soil takes no steps
      next_rise    : n [m]  0.2 .. 3 or none     highest upright part of every step above
    Gives
      steps        : k [1]  1 .. 100      whole, up      upright parts on each side
      rise         : r [m]  0 .. 3        3 figures, down      of each one above the first
      first_tread  : t [m]  0 .. 1000     3 figures, up      level part on top of the first
      next_tread   : u [m]  0 .. 1000     3 figures, up      level part on top of each other
      top_width    : B [m]  0 .. 1000     3 figures, up      keep this much ground free
    Holds when
      Firm soil that somebody competent has classed, dry and undisturbed. The upper edge of every
      step but the first lies no nearer than a plain batter would. Each step above the first rises
      by n at most; u is s · r. Below water, in filled or shaking ground nothing is cut in steps.
    Source
      us-excavation-appendix-b: table B-1 and figures, slopes and heights of steps
      derived: upper edges on the line of the batter
    """
    if first_rise is None or next_rise is None:
        cannot_tell("This soil may not be cut in steps: batter it plainly or support it.")
    if depth <= first_rise * (1 + 1e-9):
        return {"steps": 1, "rise": 0 * depth, "first_tread": 0 * depth, "next_tread": 0 * depth, "top_width": bottom_width}
    # Noise of the arithmetic is no further step.
    above = ceil((depth - first_rise) / next_rise - 1e-9)
    rise = (depth - first_rise) / above
    return {
        "steps": above + 1,
        "rise": rise,
        "first_tread": batter * (first_rise + rise),
        "next_tread": batter * rise if above > 1 else 0 * depth,
        "top_width": bottom_width + 2 * batter * depth,
    }


def pad_setback(depth, share, least):
    """
    Distance from the trench's edge to the pad of a crane or the wheels of a machine.

        a = max(k · H, m)

    Inputs
      depth    : H [m]  0.05 .. 20     of the trench, at the deepest place near the pad
      share    : k [1]  0 .. 5         of the depth, for this ground
      least    : m [m]  0 .. 20        however shallow the trench
    Gives
      distance : a [m]  0 .. 100       3 figures, up      further is safer
    Holds when
      Never less than m. From the edge to the near side of the pad or mat, with unsupported
      walls. Where the maker of the machine or an engineer says more, that counts. A filled-in
      trench counts as loose ground as deep as it was.
    Source
      fassi-ditches: twice the depth in loose or filled ground, two metres at least
      derived: load spreading at 45 degrees misses the trench at one depth
    """
    return max(share * depth, least)
