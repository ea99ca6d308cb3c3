"""Where the walk out would go if what closes the aisle were gone."""

from __future__ import annotations

import math
from itertools import product

import shapely

from generator.workings.footprint import Point
from generator.workings.routes.freefloor import FreeFloor
from generator.workings.routes.places import Foot, Stand, feet_at_door, feet_at_stand
from generator.workings.routes.reach import Ground, Reach
from generator.workings.routes.walks import Walks

_SIDEWAYS_MM = 250.0
"""Nobody gets through less, however they turn."""


def squeezed(ground: Ground, reach: Reach) -> tuple[Point, ...]:
    """The way to an exit of the widest body that gets there at all [mm].

    Where an aisle is closed there is no walk; this is where one would go. Empty where nobody
    gets through even sideways, or nothing narrows the way.
    """
    width = reach.width_mm
    if width is None or width < _SIDEWAYS_MM:
        return ()
    free = ground.free(width)
    starts = [*feet_at_stand(ground.standing, free, reach.stand)] or [_nearest(free, reach.stand)]
    return _shortest(free, starts, list(feet_at_door(free, reach.exit)))


def _nearest(free: FreeFloor, stand: Stand) -> Foot:
    """Where somebody sets out sideways who has no room to stand square before the side."""
    spot = stand.spots[0]
    ends = shapely.shortest_line(shapely.Point(spot), free.shape)
    x, y = shapely.get_coordinates(ends)[-1].tolist()
    return Foot((x, y), spot)


def _shortest(free: FreeFloor, starts: list[Foot], ends: list[Foot]) -> tuple[Point, ...]:
    """The shortest of the walks from any of some feet to any of others."""
    walks = Walks(free, [foot.at for foot in (*starts, *ends)])

    def length(pair: tuple[int, int]) -> float:
        one, other = starts[pair[0]], ends[pair[1]]
        return one.rest_mm + walks.length(pair[0], len(starts) + pair[1]) + other.rest_mm

    best = min(product(range(len(starts)), range(len(ends))), key=length, default=None)
    if best is None or not math.isfinite(length(best)):
        return ()
    line = walks.line(best[0], len(starts) + best[1])
    return (starts[best[0]].end, *line, ends[best[1]].end)
