"""Lugs and bolted joints: strip, torque, a wrench good enough for it, and the joint that stands out."""

from builder.formulas.mathematics import cannot_tell


def bolt_preload(stress_area, proof_stress, fraction):
    """
    Clamping pull of a bolt tightened to part of its proof stress.

        F = A · S · c

    Inputs
      stress_area  : A [mm2]  1 .. 6000        of the thread
      proof_stress : S [MPa]  50 .. 1500       of the property class
      fraction     : c [%]    1 .. 100         of proof stress that is used
    Gives
      preload      : F [N]    0 .. 1e7         3 figures, nearest
    Holds when
      Steel bolts. Stainless classes state no proof stress; take the maker's figure.
    Source
      iso-898-1: proof loads
    """
    return stress_area * proof_stress * fraction


def bolt_torque(maker_torque, table_torque, nut_factor, preload, diameter):
    """
    Torque for a joint: the maker's figure, else the table's for this joint, else worked out.

        M = K · F · d

    Inputs
      maker_torque : M1 [N.m]  0.1 .. 5000 or none    on the joint, lug or terminal
      table_torque : M2 [N.m]  0.1 .. 5000 or none    for this kind of joint and thread
      nut_factor   : K  [1]    0.05 .. 0.6 or none    for this surface and grease
      preload      : F  [N]    1 .. 1e7 or none       wanted in the bolt
      diameter     : d  [mm]   1 .. 200 or none       of the thread
    Gives
      torque       : M  [N.m]  0 .. 10000   3 figures, nearest
      ruled_by     : one of maker, table, computed
    Holds when
      Thread and surface are as the figure assumes. A nut factor is not a friction
      coefficient, and grease on a joint whose figure is for dry threads overloads the bolt.
    Source
      shigley-mischke: 8-8, torque from nut factor
    """
    if maker_torque is not None:
        return {"torque": maker_torque, "ruled_by": "maker"}
    if table_torque is not None:
        return {"torque": table_torque, "ruled_by": "table"}
    if nut_factor is None or preload is None or diameter is None:
        cannot_tell("The maker's torque for this joint is required: no table has this joint.")
    return {"torque": nut_factor * preload * diameter, "ruled_by": "computed"}


def wrench_range(torque, wrench_error, joint_tolerance):
    """
    Settings at which a wrench of this accuracy keeps the joint inside its tolerance.

        M1 = M · (1 - j) / (1 - e)
        M2 = M · (1 + j) / (1 + e)

    Inputs
      torque          : M [N.m]  0.1 .. 5000    wanted
      wrench_error    : e [%]    0 .. 50        from its calibration, either way
      joint_tolerance : j [%]    0 .. 50        on the torque, either way
    Gives
      lowest          : M1 [N.m] 0 .. 10000     3 figures, up
      highest         : M2 [N.m] 0 .. 10000     3 figures, down
    Holds when
      The wrench turns the joint with its setting times one plus or minus its error, and is
      used inside its marked range.
    Source
      derived: both errors at their worst together
    """
    if wrench_error > joint_tolerance:
        cannot_tell("This wrench is not accurate enough for the joint: take a better one.")
    return {
        "lowest": torque * (1 - joint_tolerance) / (1 - wrench_error),
        "highest": torque * (1 + joint_tolerance) / (1 + wrench_error),
    }


def strip_length(maker_length, barrel_depth, growth, allowance):
    """
    Insulation to take off for a lug: the maker's figure, else the barrel and how it grows.

        L = b · (1 + g) + a

    Inputs
      maker_length : m [mm]  2 .. 500 or none    printed for this lug
      barrel_depth : b [mm]  2 .. 400 or none    measured with a wire, to the stop
      growth       : g [%]   0 .. 30             of the barrel's length under the press
      allowance    : a [mm]  0 .. 20             between insulation and barrel once it is pressed
    Gives
      length       : L [mm]  0 .. 600   3 figures, nearest
      ruled_by     : one of maker, barrel
    Holds when
      The conductor goes in to the stop. Too little and it is not home, too much and bare metal
      shows beside the lug.
    Source
      burndy-stripping: length of the contact, and more where the press draws the barrel out
      practice
    """
    if maker_length is not None:
        return {"length": maker_length, "ruled_by": "maker"}
    if barrel_depth is None:
        cannot_tell("Neither the maker's strip length nor the depth of the barrel is given.")
    return {"length": barrel_depth * (1 + growth) + allowance, "ruled_by": "barrel"}


def joint_outlier(joints, spread):
    """
    Highest of like joints against the lowest of them.

        m = k · l

    Inputs
      joints        : rows                        like joints, measured alike on one day
        .resistance : r [uohm]  0.01 .. 1e6       across the joint
      spread        : k [1]     1.01 .. 10        highest over lowest that still counts as alike
    Gives
      lowest        : l [uohm]  0 .. 1e6          3 figures, down
      highest       : h [uohm]  0 .. 1e6          3 figures, up
      limit         : m [uohm]  0 .. 1e7          3 figures, down      a maximum
      worst         : i [1]     1 .. 10000        whole, nearest      which of the list is the highest
      verdict       : one of alike, stands_out
    Holds when
      Two joints at least, of one kind and size, the same length measured over. Joints that are
      all bad are alike too: hold them against the maker's figure where there is one.
    Source
      neta-ats-cables: more than half as much again as the lowest of similar joints
    """
    if len(joints) < 2:
        cannot_tell("A joint can only stand out among others: measure two like joints at least.")
    lowest = joints[0]["resistance"]
    highest = lowest
    worst = 1
    for i in range(1, len(joints)):
        resistance = joints[i]["resistance"]
        lowest = min(lowest, resistance)
        if resistance > highest:
            highest = resistance
            worst = i + 1
    limit = spread * lowest
    return {
        "lowest": lowest,
        "highest": highest,
        "limit": limit,
        "worst": worst,
        "verdict": "alike" if highest <= limit else "stands_out",
    }
