"""Locks and tags for everybody who works behind an isolation."""

from builder.formulas.mathematics import cannot_tell, floor


def locks_needed(points, people, way):
    """
    Locks to have in hand before anybody starts, each with its tag.

    Inputs
      points : p [1]  1 .. 500     that must be held open, sources of stored energy counted too
      people : m [1]  1 .. 500     who work behind them
      way    : one of each_point, lock_box
    Gives
      locks  : n [1]  1 .. 3e5     whole, up
      tags   : t [1]  1 .. 3e5     whole, up      one with every lock
    Holds when
      Each point: everybody locks every point. Lock box: one lock on each point, their keys in
      the box, and everybody's own lock on the box. Nobody works on another's lock.
    Source
      group-lock-out: ten people and five points, both ways worked
      derived: one lock for each point and person, or for each point and each person
    """
    if points != floor(points) or people != floor(people):
        cannot_tell("The numbers of points and people must be whole numbers.")
    locks = points + people
    if way == "each_point":
        locks = points * people
    return {"locks": locks, "tags": locks}
