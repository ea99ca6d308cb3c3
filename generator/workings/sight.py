"""What can be seen from where: a straight line that no wall, column or tall thing crosses.

Walks around obstacles are another subject. Nothing here says that a thing in sight is near, only
that it can be seen.
"""

from __future__ import annotations

from dataclasses import dataclass

from shapely import LineString, Polygon, STRtree
from shapely.prepared import PreparedGeometry, prep

from generator.shop.records.room import Column, Equipment, Fixture
from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings.footprint import Point, distance_mm, footprint, standing_place

EYE_MM = 1500.0
"""Eye height that hides what stands behind: a seated or short adult's [mm]. An assumption."""

_GRAZE_MM = 1.0
"""A line that only touches a corner is not hidden by it."""

_ON_THE_WALL_MM = 400.0
"""Equipment is drawn on the wall's face or just behind it; a line of sight ends this near it."""


@dataclass(frozen=True, slots=True)
class Seen:
    """A piece of equipment in sight, with the straight distance to it [m]."""

    equipment: Equipment
    straight_m: float


class Sight:
    """Lines of sight in one room.

    Parameters
    ----------
    shop
        The shop; stations and fixtures of eye height or more hide what is behind them.
    """

    def __init__(self, shop: Shop) -> None:
        room = Polygon(shop.room.outline)
        self._room: PreparedGeometry[Polygon] = prep(room.buffer(1.0))
        tall = [s for s in shop.stations.values() if s.height_mm >= EYE_MM]
        fixed = [f for f in shop.room.fixtures.values() if f.height_mm >= EYE_MM]
        screens: list[Station | Column | Fixture] = [*shop.room.columns.values(), *fixed, *tall]
        self._screens = [Polygon(footprint(screen)) for screen in screens]
        self._tree = STRtree(self._screens)

    def clear(self, start: Point, end: Point) -> bool:
        """Whether nothing stands on the straight line between two points [mm]."""
        line = LineString([start, _short_of(start, end)])
        if not self._room.covers(line):
            return False
        return not any(
            self._screens[i].intersection(line).length > _GRAZE_MM
            for i in self._tree.query(line, predicate="intersects")
        )

    def from_station(self, station: Station, things: tuple[Equipment, ...]) -> tuple[Seen, ...]:
        """The things in sight of whoever works at a station, nearest first."""
        eye = standing_place(station)
        seen = [
            Seen(thing, distance_mm(eye, thing.at) / 1000)
            for thing in things
            if self.clear(eye, thing.at)
        ]
        return tuple(sorted(seen, key=lambda s: (s.straight_m, s.equipment.id)))


def _short_of(start: Point, end: Point) -> Point:
    length = distance_mm(start, end)
    if length <= _ON_THE_WALL_MM:
        return start
    share = (length - _ON_THE_WALL_MM) / length
    return (start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share)
