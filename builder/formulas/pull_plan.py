"""Before a pull is planned in full: how far a straight may be, what one bend adds, a quick sum, grips."""

from builder.formulas.mathematics import ceil, exp


def longest_straight(allowed_tension, feed_tension, weight_per_length, friction, occupancy):
    """
    Longest level straight that a pull stays within its limit on.

        L = max(A - T0, 0) / (W · f · w)

    Inputs
      allowed_tension   : A [N]    1 .. 1e8          on the bundle, or what a crew keeps up
      feed_tension      : T0 [N]   0 .. 100000       that the drum or feeding hands hold back
      weight_per_length : W [N/m]  0.1 .. 60000      of everything pulled together
      friction          : f [1]    0.01 .. 1.5
      occupancy         : w [1]    1 .. 100          occupancy factor of the bundle
    Gives
      length            : L [m]    0 .. 1e10         3 figures, down      less is safer
    Holds when
      Level and straight, no bend. A bend anywhere takes most of it: then the pull is worked out
      along the route.
    Source
      commscope-conduit: p 68, longest pull, 340 lbf on 0.144 lbf/ft
      iewc-pulling: permissible pulling length
    """
    return max(allowed_tension - feed_tension, 0 * allowed_tension) / (weight_per_length * friction * occupancy)


def belt_tension(tension, friction, occupancy, turn):
    """
    Pull leaving a bend by the simple sum, the cable's weight left out.

        F = T · exp(f · w · a)

    Inputs
      tension   : T [N]    0 .. 1e7         entering the bend
      friction  : f [1]    0.01 .. 1.5
      occupancy : w [1]    1 .. 100         occupancy factor of the bundle
      turn      : a [deg]  0 .. 360         of the bend
    Gives
      leaving   : F [N]    0 .. 1e12        3 figures, up      less than is there where the cable is slack
    Holds when
      The pull entering is five times the weight of cable as long as the radius, or more. A bend
      at the drum with nothing pulled yet comes out as none and is not: the full sum counts.
    Source
      commscope-conduit: pp 69 and 71, pull times the bend's multiplier
    """
    return tension * exp(friction * occupancy * turn)


def quick_tension(length, turns, weight_per_length, friction, occupancy, feed_tension):
    """
    Pull at the end of a level route by the quick sum, every bend counted at the far end.

        T = (T0 + L · W · f · w) · exp(f · w · a)

    Inputs
      length            : L [m]    0.01 .. 20000     of all straights together
      turns             : a [deg]  0 .. 1440         of all bends together
      weight_per_length : W [N/m]  0.1 .. 60000      of everything pulled together
      friction          : f [1]    0.01 .. 1.5
      occupancy         : w [1]    1 .. 100          occupancy factor of the bundle
      feed_tension      : T0 [N]   0 .. 100000       that the drum or feeding hands hold back
    Gives
      tension           : T [N]    0 .. 1e30         2 figures, up      never less than the simple sum bend by bend
    Holds when
      A level route whose bends are short beside its straights. For a first look with pencil and
      paper; the full sum along the route decides.
    Source
      ieee-1185-annex-c: equation C.1, all bends at the end
    """
    grip = friction * occupancy
    return (feed_tension + length * weight_per_length * grip) * exp(grip * turns)


def grip_points(tension, cables, uneven_share, grip_limit):
    """
    Pulling grips side by side, and what the worst of them may have to hold.

        e = T / n
        f = max(T / n, u · T)

    Inputs
      tension      : T [N]  1 .. 1e6      pull at the head
      cables       : n [1]  1 .. 60       each in a grip of its own, on one rope
      uneven_share : u [%]  1 .. 100      of the whole pull that the worst grip may take
      grip_limit   : g [N]  1 .. 1e6      working load of one grip on this cable
    Gives
      equal_load   : e [N]  0 .. 1e6      3 figures, up      lower bound: grips share evenly only over an equaliser
      worst_load   : f [N]  0 .. 1e6      3 figures, up      judged by this one
      least_grips  : k [1]  1 .. 1e6      whole, up      that would do if they shared evenly
      verdict      : one of holds, too_much
    Holds when
      Grips of the cable's size, laced and taped, with a swivel. Staggered grips pass the conduit
      one after the other and each is slack for a while. Never more than the conductors allow.
    Source
      iewc-pulling: 1000 lbf for each basket grip
      milliken-hitches: what is staggered does not share evenly
    """
    equal_load = tension / cables
    worst_load = max(equal_load, uneven_share * tension)
    return {
        "equal_load": equal_load,
        "worst_load": worst_load,
        "least_grips": max(1, ceil(tension / grip_limit - 1e-9)),
        "verdict": "holds" if worst_load <= grip_limit * (1 + 1e-9) else "too_much",
    }
