"""What lies straight ahead of a face, and how far off."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from shapely import Polygon

from generator.workings.floor.standing import (
    TOUCHING_MM,
    Standing,
    Thing,
    along,
    points_of,
    polygons_of,
)
from generator.workings.footprint import Point, Ring

_LEAST_MM = 0.01  # what only touches the strip has no depth in it


@dataclass(frozen=True, slots=True)
class Face:
    """A straight edge that looks one way: its middle, the unit vector ahead, its width [mm]."""

    middle: Point
    ahead: Point
    width_mm: float

    def strip(self, length_mm: float, inset_mm: float = 0.0) -> Ring:
        """The floor straight ahead, as wide as the face less an inset at each end [mm]."""
        half = self.width_mm / 2 - inset_mm
        across = (-self.ahead[1], self.ahead[0])
        right = along(self.middle, across, -half)
        left = along(self.middle, across, half)
        return (
            right,
            left,
            along(left, self.ahead, length_mm),
            along(right, self.ahead, length_mm),
        )

    def distance_mm(self, points: Iterable[Point]) -> float:
        """How far ahead the nearest of some points is [mm]."""
        x0, y0 = self.middle
        return min((x - x0) * self.ahead[0] + (y - y0) * self.ahead[1] for x, y in points)


@dataclass(frozen=True, slots=True)
class Ahead:
    """The first thing ahead of a face (None for a wall) and how far off it is [mm]."""

    free_mm: float
    thing: Thing | None
    hit: Polygon
    """The part of it that stands ahead."""


def look_ahead(standing: Standing, face: Face, passing: Iterable[str] = ()) -> Ahead:
    """Look straight ahead of a face until something stands there.

    Parameters
    ----------
    standing
        The room with everything in it.
    face
        Where to look from. What only touches the strip ahead from the side is not ahead.
    passing
        Records to look through, such as the station whose face it is.
    """
    inset = min(TOUCHING_MM, face.width_mm / 4)
    strip = Polygon(face.strip(_across(standing), inset))
    things = [t for t in standing.near(strip) if t.subject not in set(passing)]
    pieces = [(strip.intersection(thing.polygon), thing) for thing in things]
    beyond = (strip.difference(standing.room), None)
    found = [
        Ahead(max(face.distance_mm(points_of(part)), 0.0), thing, part)
        for piece, thing in (*pieces, beyond)
        for part in polygons_of(piece)
        if part.area > _LEAST_MM * face.width_mm
    ]
    return min(found, key=lambda ahead: (round(ahead.free_mm, 3), ahead.thing is None))


def _across(standing: Standing) -> float:
    """Farther than anything in the room is from anything else [mm]."""
    x0, y0, x1, y1 = standing.room.bounds
    return (x1 - x0) + (y1 - y0)
