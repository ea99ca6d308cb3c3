"""The order in which the places of signs are walked: from the door, always to the nearest next."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import numpy as np
import shapely

from generator.shop.shop import Shop
from generator.workings.footprint import Point, door_middle
from generator.workings.routes import RouteStudy
from generator.workings.routes.journeys import door_path
from generator.workings.routes.walks import Walks

Length = Callable[[int, int], float]


def in_walking_order(
    shop: Shop, routes: RouteStudy | None, places: Sequence[Point]
) -> tuple[int, ...]:
    """The numbers of places in the order they are walked.

    Parameters
    ----------
    shop
        The shop; the walk starts at its first door.
    routes
        Its free floor; without it the walk goes straight.
    places
        Where one looks up at a wall [mm].
    """
    doors = tuple(shop.room.doors)
    start = door_middle(shop.room.doors[doors[0]])
    feet = _feet(routes, start, places)
    length = _walked(routes, feet) if routes else _straight([start, *places])
    return nearest_next(len(places), length)


def nearest_next(count: int, length: Length) -> tuple[int, ...]:
    """Numbers from 0, each time the nearest to the one before; 0 of ``length`` is the start."""
    left, here, order = set(range(1, count + 1)), 0, []
    while left:
        here = min(left, key=lambda other: (round(length(here, other), 1), other))
        left.discard(here)
        order.append(here - 1)
    return tuple(order)


def _straight(points: Sequence[Point]) -> Length:
    return lambda one, other: math.dist(points[one], points[other])


def _feet(routes: RouteStudy | None, start: Point, places: Sequence[Point]) -> list[Point]:
    """The nearest free floor before each place, and inside the door."""
    if routes is None:
        return [start, *places]
    free = routes.journeys.free.shape
    at_door = routes.journeys.feet(door_path(next(iter(routes.ground.shop.room.doors))))
    first = at_door[0].at if at_door else _onto(free, start)
    return [first, *(_onto(free, place) for place in places)]


def _onto(free: shapely.Geometry, point: Point) -> Point:
    if shapely.is_empty(free):
        return point
    line = shapely.shortest_line(shapely.Point(point), free)
    _start, (x, y) = shapely.get_coordinates(line).tolist()
    return (x, y)


def _walked(routes: RouteStudy, feet: Sequence[Point]) -> Length:
    """Lengths of real walks; where no walk leads, the straight way counts tenfold."""
    walks = Walks(routes.journeys.free, feet)
    walks.look_from(range(len(feet)))
    straight = _straight(feet)

    def length(one: int, other: int) -> float:
        walk = walks.length(one, other)
        return walk if np.isfinite(walk) else 10 * straight(one, other)

    return length
