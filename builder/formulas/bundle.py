"""Cables side by side: what they weigh, how they lie in a conduit and press on each other."""

from builder.formulas.mathematics import cannot_tell, floor, sqrt


def pulled_mass(cables):
    """
    Mass and weight of everything that is pulled together, for each metre.

    Inputs
      cables            : rows                     each kind of cable in the pull
        .mass           : m [kg/m]  0.01 .. 100    of one cable, from its sheet
        .number         : n [1]     1 .. 60        of this kind
    Gives
      mass_per_length   : M [kg/m]  0 .. 6000      3 figures, up
      weight_per_length : W [N/m]   0 .. 60000     3 figures, up      mass times gravity, once
    Holds when
      Everything in the pull is listed, the earth conductor too. Rope is left out.
    Source
      derived: sum of masses; standard gravity 9.80665 m/s2 is exact by definition
    """
    if len(cables) == 0:
        cannot_tell("No cable is listed for this pull.")
    mass = 0
    for cable in cables:
        if cable["number"] != floor(cable["number"]):
            cannot_tell("The number of cables must be a whole number.")
        mass = mass + cable["mass"] * cable["number"]
    return {"mass_per_length": mass, "weight_per_length": mass * 9.80665}


def conduit_fill(cables, bore):
    """
    Part of the conduit's bore that the cables take up.

    Inputs
      cables      : rows                    each kind of cable in the conduit
        .diameter : d [mm]  1 .. 300        measured over everything
        .number   : n [1]   1 .. 200        of this kind
      bore        : D [mm]  5 .. 1200       inside diameter
    Gives
      fill        : f [%]   0 .. 100        3 figures, up
    Holds when
      Cables already in the conduit are listed with the new ones.
    Source
      derived: circle areas added up and divided by the area of the bore
    """
    if len(cables) == 0:
        cannot_tell("No cable is listed for this conduit.")
    squares = 0
    for cable in cables:
        if cable["number"] != floor(cable["number"]):
            cannot_tell("The number of cables must be a whole number.")
        if cable["diameter"] >= bore:
            cannot_tell("A cable is as thick as the bore or thicker: check both diameters.")
        squares = squares + cable["number"] * cable["diameter"] ** 2
    if squares > bore**2:
        cannot_tell("The cables have more area than the bore: check diameters and numbers.")
    return squares / bore**2


def jam_ratio(diameter, bore, bend_ovality):
    """
    Bore over cable diameter, straight and with the bore widened in the bends.

        j = D / d
        k = o · D / d

    Inputs
      diameter         : d [mm]  1 .. 300      of one of three like cables, measured
      bore             : D [mm]  5 .. 1200     inside diameter
      bend_ovality     : o [1]   1 .. 1.3      how much wider a bend is than the straight
    Gives
      ratio            : j [1]   0 .. 1200     4 figures, nearest
      ratio_with_bends : k [1]   0 .. 1600     4 figures, nearest
    Holds when
      Three loose cables of one size. Published bands differ at both edges, so a value of
      either ratio inside a band is a warning.
    Source
      anixter-seven-tips: jam ratio with 1.05 for bends
      sec-tes-p-104-05: 5.3, plain ratio
    """
    return {"ratio": bore / diameter, "ratio_with_bends": bend_ovality * bore / diameter}


def conduit_clearance(arrangement, diameter, bore):
    """
    Free height from the top of the highest cable to the crown of the conduit.

    Inputs
      arrangement : one of single, cradled, triangular, diamond
      diameter    : d [mm]  1 .. 300       of one cable
      bore        : D [mm]  5 .. 1200      inside diameter
    Gives
      clearance   : c [mm]  0 .. 1200      3 figures, down     less than is there is safer
    Holds when
      Like cables, a round bore, cables lying at the bottom. A pulling head takes some of it.
    Source
      sec-tes-p-104-05: 5.4, single and triangular
      derived: circle geometry for cradled and diamond
    """
    room = _room(arrangement, diameter, bore)
    if arrangement == "single":
        clearance = room
    elif arrangement == "cradled":
        clearance = room - diameter**2 / room
    elif arrangement == "triangular":
        lean = sqrt(1 - (diameter / room) ** 2)
        # From bore centre: half the room, less the lower cables' height, less the triangle's.
        clearance = bore / 2 + room * lean / 2 - (sqrt(3) / 2 + 1 / 2) * diameter
    else:
        clearance = room - 2 * diameter**2 / room
    return max(clearance, 0)


def occupancy_factor(arrangement, diameter, bore, mixed_factor):
    """
    How much harder the cables press on the conduit because they wedge each other apart.

    Inputs
      arrangement  : one of single, cradled, triangular, diamond, mixed
      diameter     : d [mm]  1 .. 300      of one cable
      bore         : D [mm]  5 .. 1200     inside diameter
      mixed_factor : m [1]   1 .. 3 or none   for four or more cables in no set order
    Gives
      factor       : w [1]   1 .. 100      4 figures, up      higher is safer
    Holds when
      Like cables. Three loose cables count as cradled unless they are tied in a triangle:
      of the two it presses harder. Four lie as a diamond only while the side cables press on
      the lowest one; beyond that, and for unlike cables, they count as mixed.
    Source
      derived: balance of forces on round cables in a round bore
      cabledatasheet-sidewall: single, triangular, cradled, mixed
    """
    if arrangement == "mixed":
        if mixed_factor is None:
            cannot_tell("No factor is given for cables in no set order.")
        return mixed_factor
    spread = diameter / _room(arrangement, diameter, bore)
    if arrangement == "single":
        return 1
    if arrangement == "triangular":
        return 1 / sqrt(1 - spread**2)
    if arrangement == "cradled":
        return 1 + 4 / 3 * spread**2
    if spread**2 < 1 / 8:
        cannot_tell(
            "The conduit is too wide for four cables to stay in a diamond: count them as mixed."
        )
    return 1 + 2 * spread**2


def bend_share(arrangement, occupancy):
    """
    Part of the bundle's pull that presses the worst cable against a bend.

    Inputs
      arrangement : one of single, cradled, triangular, diamond, mixed
      occupancy   : w [1]  1 .. 100     occupancy factor of the same bundle
    Gives
      share       : s [1]  0 .. 100     4 figures, up      higher is safer
    Holds when
      Like cables. Mixed takes the whole wall force on one cable, which no order can exceed.
    Source
      cabledatasheet-sidewall: single, cradled
      derived: balance of forces for triangular and diamond; upper bound for mixed
    """
    if arrangement == "single":
        return 1
    if arrangement == "cradled":
        # The middle one of the three: the side cables press with a third each and wedge it down.
        return occupancy - 2 / 3
    if arrangement == "triangular":
        return occupancy / 2
    if arrangement == "diamond":
        return max(occupancy - 1, 1 / 2)
    return occupancy


def _room(arrangement, diameter, bore):
    """Bore less cable diameter, where that many cables fit at all."""
    room = bore - diameter
    if room <= 0:
        cannot_tell("The cable is as thick as the bore or thicker: check both diameters.")
    if (arrangement == "cradled" or arrangement == "triangular") and room < 2 / sqrt(3) * diameter:
        cannot_tell("Three cables of this diameter do not fit in the bore.")
    if arrangement == "diamond" and room < sqrt(2) * diameter:
        cannot_tell("Four cables of this diameter do not fit in the bore.")
    return room
