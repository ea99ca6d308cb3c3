"""Whether there is any timetable at all, asked where the answer is nearest."""

from __future__ import annotations

from dataclasses import replace

from generator.workings.sessions.bounds import Bounds
from generator.workings.sessions.demands import Demands
from generator.workings.sessions.solver import Answer, Model

_FAR_MIN = 30
"""Time to spare from which on it is worth looking at less of it first."""


def any_timetable(demands: Demands, slot_min: int, seed: int, work: float) -> Answer:
    """A timetable, or the proof that there is none, or neither.

    Where there is time to spare, a third of it is looked at first: a short horizon is searched
    sooner, and a timetable found there is one for the whole.
    """
    least = demands.opens + max(Bounds(demands, slot_min).finishes(), default=0)
    spare = demands.closes - least
    spent = 0.0
    if spare > _FAR_MIN:
        near = Model(demands, slot_min, least + spare // 3).fits(work / 2, seed)
        if near.lines:
            return near
        spent = near.work
    whole = Model(demands, slot_min, demands.closes).fits(work - spent, seed)
    return replace(whole, work=whole.work + spent)
