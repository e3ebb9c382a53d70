"""Before the drum's own sheet is at hand: what a cable is likely to measure, weigh and load a crane with."""

from builder.formulas.mathematics import cannot_tell, floor, pi, sin, sqrt


def cable_estimate(
    area,
    cores,
    packing,
    insulation_thickness,
    jacket_thickness,
    metal_density,
    insulation_density,
    jacket_density,
    filler_density,
    allowance,
):
    """
    Estimate of a cable's outside diameter and mass. Never a limit: the drum's sheet rules.

        d = (k · (√(4 · A / (π · p)) + 2 · i) + 2 · j) · (1 + a)

    Inputs
      area                 : A [mm2]    0.5 .. 2500      of metal in one core
      cores                : n [1]      1 .. 5           alike and round
      packing              : p [%]      50 .. 100        metal in the circle round a conductor
      insulation_thickness : i [mm]     0.2 .. 30        of one core
      jacket_thickness     : j [mm]     0.2 .. 20
      metal_density        : m [kg/m3]  1000 .. 12000    from the table of metals
      insulation_density   : x [kg/m3]  500 .. 3000
      jacket_density       : y [kg/m3]  500 .. 3000
      filler_density       : z [kg/m3]  0 .. 3000        between the cores; 0 where nothing fills
      allowance            : a [%]      0 .. 30          for tapes, lay and makers' ways
    Gives
      diameter             : d [mm]     0 .. 2000        2 figures, up      an estimate
      mass                 : M [kg/m]   0 .. 500         2 figures, up      an estimate
    Holds when
      No armour, no screen, no metal sheath, cores round and alike. k is the circle round the
      cores over one core, from geometry. Good enough to choose slings, crane and trailer by,
      and never for fill, tension or a bend.
    Source
      derived: circles packed in a circle, layers by density
      ls-vina-three-core: diameters and masses of three-core cables
    """
    if cores != floor(cores):
        cannot_tell("The number of cores must be a whole number.")
    conductor = sqrt(4 * area / (pi * packing))
    core = conductor + 2 * insulation_thickness
    round_all = _circle_round(cores) * core
    insulation = cores * pi * (conductor + insulation_thickness) * insulation_thickness
    filler = pi / 4 * (round_all**2 - cores * core**2)
    jacket = pi * (round_all + jacket_thickness) * jacket_thickness
    mass = (
        cores * area * metal_density
        + insulation * insulation_density
        + filler * filler_density
        + jacket * jacket_density
    )
    return {
        "diameter": (round_all + 2 * jacket_thickness) * (1 + allowance),
        "mass": mass * (1 + allowance),
    }


def drum_mass(mass_per_length, length, tare):
    """
    Mass that hangs on the crane: cable and drum.

        M = m · L + t

    Inputs
      mass_per_length : m [kg/m]  0.01 .. 500    of everything on the drum or in the coil
      length          : L [m]     0.1 .. 20000   still on it
      tare            : t [kg]    0 .. 50000     empty drum with its boards; 0 for a coil
    Gives
      load            : M [kg]    0 .. 2e7       3 figures, up      spindle, jacks and slings come besides
    Holds when
      Dry drum. A wooden drum that stood in the rain weighs more than its table says.
    Source
      derived: length times mass, and the drum
    """
    return mass_per_length * length + tare


def lowest_handling_temperature(maker_temperature, table_temperature, margin):
    """
    Lowest temperature of the jacket at which a cable is unrolled, bent or pulled.

        T = t + m

    Inputs
      maker_temperature : M [degC]  -60 .. 40 or none    from the cable's own sheet
      table_temperature : t [degC]  -60 .. 40 or none    for this jacket, from the table
      margin            : m [K]     0 .. 20              kept above the table's figure
    Gives
      temperature       : T [degC]  -60 .. 60            3 figures, up      warmer is safer
      ruled_by          : one of maker, table
    Holds when
      The whole cable has been that warm for a day and not only its skin: a drum from the cold
      yard is cold inside. The maker's figure stands before the table's and takes no margin.
    Source
      nexans-germany-laying: handling temperature
      classic-wire-handling: most cables over the previous 24 h
    """
    if maker_temperature is not None:
        return {"temperature": maker_temperature, "ruled_by": "maker"}
    if table_temperature is None:
        cannot_tell("The maker's lowest handling temperature is required: no table has this jacket.")
    return {"temperature": table_temperature + margin, "ruled_by": "table"}


def _circle_round(cores):
    """Circle round like circles that lie in a ring, over one of them."""
    if cores == 1:
        return 1
    return 1 + 1 / sin(pi / cores)
