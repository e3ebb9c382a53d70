"""People in a trench: when its walls must be supported, and how they get out."""

from builder.formulas.mathematics import ceil


def wall_support(depth, heap_height, heap_distance, setback, support_from, design_from):
    """
    Depth that counts for the walls, and what it asks for at least.

    Inputs
      depth         : H [m]  0.05 .. 30            at the deepest place
      heap_height   : h [m]  0 .. 20               spoil beside the trench; 0 where there is none
      heap_distance : a [m]  0 .. 100              trench edge to the toe of the heap
      setback       : b [m]  0 .. 20               that keeps a heap from counting
      support_from  : s [m]  0.3 .. 10             depth from which walls are supported or battered
      design_from   : e [m]  1 .. 30 or none       depth beyond which an engineer designs the support
    Gives
      counted_depth : D [m]  0 .. 60   3 figures, up
      walls         : one of looked_at, supported, designed
    Holds when
      A heap inside its set-back counts with its height, one that keeps its distance does not.
      In a shallower trench a competent person still looks: soft, wet, cracked, shaken or
      dug-before ground needs support at any depth, and so does a trench that people kneel in.
    Source
      us-excavation-rule: 1926.651(j) and 652, set-back and depth
      spoil-counts-as-depth: heap inside the set-back counted with the depth, worked
    """
    counted_depth = depth
    # One metre written in feet is still one metre: noise of the arithmetic brings no heap nearer.
    if heap_distance < setback * (1 - 1e-9):
        counted_depth = depth + heap_height
    walls = "looked_at"
    # At the depth itself the rule holds: noise of the arithmetic must not lift anyone past it.
    if counted_depth >= support_from * (1 - 1e-9):
        walls = "supported"
    if design_from is not None and counted_depth > design_from:
        walls = "designed"
    return {"counted_depth": counted_depth, "walls": walls}


def ways_out(length, travel):
    """
    Ladders or ramps, evenly set, so that nobody is further from one than allowed.

        n = L / (2 · t)
        S = L / n

    Inputs
      length  : L [m]  0.1 .. 10000    of trench that stands open with people in it
      travel  : t [m]  0.5 .. 100      furthest that anybody may be from a way out
    Gives
      count   : n [1]  1 .. 1e5        whole, up
      spacing : S [m]  0 .. 200        3 figures, down      from one to the next, half of it at each end
    Holds when
      One trench without a wall, box or pipe across it: each part of it needs a way out of its
      own. In a shield the ladder stands inside the shield.
    Source
      us-excavation-rule: 1926.651(c)(2), 25 ft of travel
      derived: each way out serves its travel to both sides
    """
    # Noise of the arithmetic is no further ladder, and the shortest trench has one.
    count = max(1, ceil(length / (2 * travel) - 1e-9))
    return {"count": count, "spacing": length / count}
