"""Where things stand on the floor, as points in millimetres of the room's axes."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from generator.shop.records.refs import Side
from generator.shop.records.room import Column, Door, Fixture
from generator.shop.records.stations import Station, WorkingSide

Point = tuple[float, float]
Ring = tuple[Point, ...]

_NORMAL: dict[Side, Point] = {
    "front": (0.0, -1.0),
    "back": (0.0, 1.0),
    "left": (-1.0, 0.0),
    "right": (1.0, 0.0),
}


@dataclass(frozen=True, slots=True)
class Frame:
    """A place and a turn: carries points of a thing's own frame onto the floor.

    Parameters
    ----------
    at
        Where the thing's own origin stands [mm].
    turn_deg
        Counter-clockwise turn [degrees].
    """

    at: Point
    turn_deg: float

    def place(self, point: Point) -> Point:
        """Carry a point from the thing's own frame onto the floor [mm]."""
        angle = math.radians(self.turn_deg)
        cos, sin = math.cos(angle), math.sin(angle)
        return (
            self.at[0] + point[0] * cos - point[1] * sin,
            self.at[1] + point[0] * sin + point[1] * cos,
        )

    def ring(self, points: Iterable[Point]) -> Ring:
        """Carry a ring of points onto the floor [mm]."""
        return tuple(self.place(point) for point in points)

    def direction(self, vector: Point) -> Point:
        """Turn a direction without moving it."""
        x, y = self.place(vector)
        return (x - self.at[0], y - self.at[1])


def frame_of(thing: Station | Column | Fixture) -> Frame:
    """The frame a thing is placed by: its centre and its turn."""
    return Frame(thing.at, thing.turn_deg)


def _rectangle(width: float, depth: float) -> Ring:
    x, y = width / 2, depth / 2
    return ((-x, -y), (x, -y), (x, y), (-x, y))


def footprint(thing: Station | Column | Fixture) -> Ring:
    """The outline of a thing on the floor, counter-clockwise [mm]."""
    own = getattr(thing, "outline", ()) or _rectangle(*thing.size)
    return frame_of(thing).ring(own)


def outward(station: Station, side: Side) -> Point:
    """The direction from a station out over one of its sides, as a unit vector."""
    return frame_of(station).direction(_NORMAL[side])


def side_middle(station: Station, side: Side) -> Point:
    """The middle of a side of a station's rectangle [mm]."""
    width, depth = station.size
    normal = _NORMAL[side]
    return frame_of(station).place((normal[0] * width / 2, normal[1] * depth / 2))


def clear_area(station: Station, working: WorkingSide) -> Ring:
    """The floor that must stay clear at a working side [mm]."""
    width, depth = station.size
    along = width if working.side in ("front", "back") else depth
    half = (working.width_mm or along) / 2
    normal = _NORMAL[working.side]
    edge = (normal[0] * width / 2, normal[1] * depth / 2)
    reach = (normal[0] * working.depth_mm, normal[1] * working.depth_mm)
    across = (-normal[1] * half, normal[0] * half)
    corners = (
        (edge[0] - across[0], edge[1] - across[1]),
        (edge[0] - across[0] + reach[0], edge[1] - across[1] + reach[1]),
        (edge[0] + across[0] + reach[0], edge[1] + across[1] + reach[1]),
        (edge[0] + across[0], edge[1] + across[1]),
    )
    return frame_of(station).ring(corners)


_ARM_MM = 300.0
"""How far in front of the working edge somebody's middle stands."""


def standing_place(station: Station) -> Point:
    """Where somebody stands to work: before the first side that is worked at [mm].

    A station without a working side (a rack that is only looked at) is stood at in front.
    """
    used = [w.side for w in station.working_sides if not w.service]
    side: Side = used[0] if used else "front"
    middle, normal = side_middle(station, side), outward(station, side)
    return (middle[0] + normal[0] * _ARM_MM, middle[1] + normal[1] * _ARM_MM)


def door_middle(door: Door) -> Point:
    """The middle of a door's opening [mm]."""
    return ((door.hinge[0] + door.latch[0]) / 2, (door.hinge[1] + door.latch[1]) / 2)


def distance_mm(start: Point, end: Point) -> float:
    """Straight distance between two points [mm]."""
    return math.dist(start, end)
