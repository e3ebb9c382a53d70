"""Several conduits in one trench: how wide, what goes back in, how much ground the work takes."""

from builder.formulas.mathematics import cannot_tell, floor, pi


def trench_width(conduit_diameter, side_by_side, gap, side_room):
    """
    Width at the bottom for conduits side by side, held apart by spacers.

        W = n · d + (n - 1) · g + 2 · s

    Inputs
      conduit_diameter : d [mm]  5 .. 1200    outside
      side_by_side     : n [1]   1 .. 30      conduits beside each other in the widest layer
      gap              : g [mm]  0 .. 1000    clear, between one conduit and the next
      side_room        : s [mm]  0 .. 2000    clear, from the outer conduit to the trench wall
    Gives
      width            : W [m]   0 .. 80      3 figures, up      wider leaves room to tamp
    Holds when
      Like conduits. Spacers keep the gap while the trench is filled. Shores and boxes take
      their own thickness besides.
    Source
      derived: diameters, gaps and both sides added up
    """
    if side_by_side != floor(side_by_side):
        cannot_tell("The number of conduits side by side must be a whole number.")
    return side_by_side * conduit_diameter + (side_by_side - 1) * gap + 2 * side_room


def conduit_stack(conduit_diameter, side_by_side, layers, gap, surround, length):
    """
    Stack of conduits held by spacers: how wide, how high, and what it takes to surround it.

        W = n · d + (n - 1) · g + 2 · s
        H = m · d + (m - 1) · g + 2 · s
        V = L · (W · H - n · m · π · d² / 4)

    Inputs
      conduit_diameter : d [mm]  5 .. 1200      outside
      side_by_side     : n [1]   1 .. 30        in each layer
      layers           : m [1]   1 .. 30        above each other
      gap              : g [mm]  0 .. 1000      clear, that the spacer keeps both ways
      surround         : s [mm]  0 .. 1000      sand or concrete all round the stack
      length           : L [m]   0.1 .. 20000   along the trench
    Gives
      width            : W [m]   0 .. 80        3 figures, up
      height           : H [m]   0 .. 80        3 figures, up
      surround_volume  : V [m3]  0 .. 1e8       3 figures, up      in place, conduits taken off
    Holds when
      Like conduits, every place of the stack filled. Formwork, shores and room to tamp come on
      top. In wet concrete empty conduits float: they are tied down and filled in lifts.
    Source
      duct-bank-concrete: three by three of 4 in, worked
      price-guide-concrete: cubic yards for 100 ft of duct bank
      derived: diameters, gaps and both sides added up
    """
    if side_by_side != floor(side_by_side) or layers != floor(layers):
        cannot_tell("The numbers of conduits and layers must be whole numbers.")
    width = side_by_side * conduit_diameter + (side_by_side - 1) * gap + 2 * surround
    height = layers * conduit_diameter + (layers - 1) * gap + 2 * surround
    conduits = side_by_side * layers * pi / 4 * conduit_diameter**2
    return {"width": width, "height": height, "surround_volume": length * (width * height - conduits)}


def backfill_volumes(length, depth, bottom_width, batter, cover, surround, conduits):
    """
    Stone-free bed and surround, and fill above it, once they lie tamped in the trench.

        z = H - C + a
        V1 = L · z · (b + s · z) - Q
        V2 = L · (H - z) · (b + s · (H + z))

    Inputs
      length          : L [m]   0.1 .. 100000    along the trench
      depth           : H [m]   0.05 .. 20
      bottom_width    : b [m]   0.05 .. 50
      batter          : s [1]   0 .. 5           horizontal for one vertical, 0 for upright sides
      cover           : C [m]   0 .. 20          ground to the top of the highest conduit
      surround        : a [m]   0 .. 2           stone-free above the highest conduit
      conduits        : rows                     all that lie in the trench
        .diameter     : d [mm]  5 .. 1200        outside
        .number       : n [1]   1 .. 200
    Gives
      conduit_volume  : Q  [m3]  0 .. 1e6        3 figures, nearest
      surround_volume : V1 [m3]  0 .. 1e9        3 figures, up      bed and surround, conduits taken off
      fill_volume     : V2 [m3]  0 .. 1e9        3 figures, up      from the surround to the ground
      filled_volume   : V3 [m3]  0 .. 1e9        3 figures, up      both together
      surround_height : z  [m]   0 .. 20         3 figures, nearest      bottom to top of the surround
    Holds when
      Both sides have the same batter and the ends are upright. Volumes are tamped, in place:
      what is ordered or dug for them is more.
    Source
      derived: area of a trapezium up to the surround and above it, conduits taken off
      trench-backfill-example: whole trench less its pipe, worked
    """
    if len(conduits) == 0:
        cannot_tell("No conduit is listed for this trench.")
    # Noise of the arithmetic puts nothing above the ground.
    if cover > depth * (1 + 1e-9):
        cannot_tell("The cover is more than the depth: check both.")
    if surround > cover * (1 + 1e-9):
        cannot_tell("The surround reaches above the ground: check surround and cover.")
    squares = 0
    for conduit in conduits:
        if conduit["number"] != floor(conduit["number"]):
            cannot_tell("The number of conduits must be a whole number.")
        squares = squares + conduit["number"] * conduit["diameter"] ** 2
    height = min(depth - cover + surround, depth)
    conduit_volume = length * pi / 4 * squares
    zone = length * height * (bottom_width + batter * height)
    if conduit_volume > zone:
        cannot_tell("The conduits have more room than the trench below the surround: check the numbers.")
    fill = length * (depth - height) * (bottom_width + batter * (depth + height))
    return {
        "conduit_volume": conduit_volume,
        "surround_volume": zone - conduit_volume,
        "fill_volume": fill,
        "filled_volume": zone - conduit_volume + fill,
        "surround_height": height,
    }


def fill_needed(in_place, shrinkage, swell):
    """
    Ground to dig, and loose heap, for so much fill that lies tamped.

        V = F / (1 - k)
        V2 = V · (1 + e)

    Inputs
      in_place     : F [m3]  0 .. 1e9     tamped in the trench
      shrinkage    : k [%]   0 .. 40      lost from the ground by tamping
      swell        : e [%]   0 .. 150     growth of the soil when dug
    Gives
      bank_volume  : V [m3]  0 .. 1e10    3 figures, up      as it lies in the ground
      loose_volume : V2 [m3] 0 .. 1e10    3 figures, up      as it lies in the heap or on the truck
    Holds when
      One soil throughout. Wet soil tamps to less.
    Source
      estimating-haul: 500 compacted from 526 in the ground
      navy-soil-states: sand in place, loose and compacted
    """
    bank_volume = in_place / (1 - shrinkage)
    return {"bank_volume": bank_volume, "loose_volume": bank_volume * (1 + swell)}


def working_strip(top_width, setback, heap_width, passage):
    """
    Ground that has to be free across the line: trench, set-back, heap and a way past.

        B = w + a + h + p

    Inputs
      top_width  : w [m]  0.05 .. 1000    of the trench, between its edges
      setback    : a [m]  0 .. 50         trench edge to the toe of the heap
      heap_width : h [m]  0 .. 1e5        at its base; 0 where the spoil is carted off
      passage    : p [m]  0 .. 50         for machine or people on the other side
    Gives
      strip      : B [m]  0 .. 2e5        3 figures, up
    Holds when
      Heap on one side only. Nothing else stands, drives or is stacked inside the set-back.
    Source
      derived: widths added up
    """
    return top_width + setback + heap_width + passage
