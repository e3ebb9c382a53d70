"""Digging: how deep, how wide, how much comes out and how much room the heap takes."""

from builder.formulas.mathematics import cannot_tell, floor, sqrt, tan


def trench_depth(cover, conduit_diameter, layers, layer_gap, bedding):
    """
    Depth to dig so that the top layer of conduits keeps its cover.

        H = C + n · d + (n - 1) · g + b

    Inputs
      cover            : C [mm]  0 .. 3000    ground to the top of the highest conduit
      conduit_diameter : d [mm]  5 .. 1200    outside, or of the cable if buried direct
      layers           : n [1]   1 .. 20      conduits above each other
      layer_gap        : g [mm]  0 .. 1000    clear, between one layer and the next
      bedding          : b [mm]  0 .. 1000    below the lowest conduit
    Gives
      depth            : H [m]   0 .. 60      3 figures, up      deeper keeps the cover
    Holds when
      Cover is measured from the finished ground. Ground that will be cut down later counts
      from its later level.
    Source
      derived: the layers added up
    """
    if layers != floor(layers):
        cannot_tell("The number of layers must be a whole number.")
    return cover + layers * conduit_diameter + (layers - 1) * layer_gap + bedding


def trench_digging(length, depth, bottom_width, batter, swell):
    """
    Top width of a trench with battered sides, and what comes out of it.

        B = b + 2 · s · H
        V = L · H · (b + B) / 2
        V2 = V · (1 + e)

    Inputs
      length       : L [m]  0.1 .. 100000   along the trench
      depth        : H [m]  0.05 .. 20
      bottom_width : b [m]  0.05 .. 50
      batter       : s [1]  0 .. 5          horizontal for one vertical, 0 for upright sides
      swell        : e [%]  0 .. 150        growth of the soil when dug
    Gives
      top_width    : B [m]   0 .. 1000      3 figures, up      keep this much ground free
      bank_volume  : V [m3]  0 .. 1e9       3 figures, up      as it lies in the ground
      loose_volume : V2 [m3] 0 .. 1e9       3 figures, up      as it lies in the heap
    Holds when
      Both sides have the same batter, the bottom is level and the ends are cut upright.
      A batter is no permission to work unsupported: soil, water and loads beside the trench
      decide that, and a competent person.
    Source
      derived: area of a trapezium, times length, times swell
    """
    top_width = bottom_width + 2 * batter * depth
    bank_volume = length * depth * (bottom_width + top_width) / 2
    return {
        "top_width": top_width,
        "bank_volume": bank_volume,
        "loose_volume": bank_volume * (1 + swell),
    }


def spoil_heap(loose_volume, length, repose):
    """
    Room that the spoil takes when it lies as a ridge along the trench.

        B = √(4 · V / (L · tan(r)))
        H = B · tan(r) / 2

    Inputs
      loose_volume : V [m3]  0.001 .. 1e9    after swelling
      length       : L [m]   0.1 .. 100000   of the heap, along the trench
      repose       : r [deg] 5 .. 60         slope at which the soil comes to rest
    Gives
      base_width   : B [m]   0 .. 1e5        3 figures, up
      height       : H [m]   0 .. 1e5        3 figures, up
    Holds when
      One ridge with a sharp top, its ends not counted. The set-back from the edge is added
      to the width. Wet soil runs flatter: watch the heap, not the table.
    Source
      derived: area of a triangle with both sides at the angle of repose
    """
    base_width = sqrt(4 * loose_volume / (length * tan(repose)))
    return {"base_width": base_width, "height": base_width * tan(repose) / 2}
