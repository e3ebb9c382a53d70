"""A lug against its conductor: whether bore and depth are those that the press wants."""

from builder.formulas.mathematics import cannot_tell


def lug_fit(bore, conductor_diameter, least_play, most_play):
    """
    How a bare conductor sits in the barrel of a lug before it is pressed.

        p = max(B - d, 0)

    Inputs
      bore               : B [mm]  1 .. 100            inside of the barrel, measured or from its maker
      conductor_diameter : d [mm]  0.5 .. 100          over the strands as they lie
      least_play         : a [mm]  0 .. 20             that it takes to get every strand in
      most_play          : b [mm]  0.1 .. 50 or none   that the press still closes, by the lug's maker
    Gives
      play               : p [mm]  0 .. 100            3 figures, nearest
      verdict            : one of fits, too_loose, too_tight
    Holds when
      Round barrel and round conductor. No strand is ever cut off to make it go in, and none is
      doubled back to fill up. Class and area on the lug still have to be the conductor's: fine
      strands are thicker and need a lug made for them.
    Source
      practice
    """
    if most_play is None:
        cannot_tell("The lug's maker says how much play its press closes: ask for that figure.")
    play = bore - conductor_diameter
    verdict = "fits"
    # Noise of the arithmetic keeps no strand out.
    if play > most_play + 1e-9 * bore:
        verdict = "too_loose"
    if play < least_play - 1e-9 * bore:
        verdict = "too_tight"
    return {"play": max(play, 0 * play), "verdict": verdict}
