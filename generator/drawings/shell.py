"""The room's walls as they are drawn: faces, openings, and which way is out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import shapely
from shapely import LineString, MultiPolygon, Polygon
from shapely.geometry.polygon import orient

from generator.drawings.ink import Point
from generator.shop.records.room import Door, Room, Window


@dataclass(frozen=True, slots=True)
class Wall:
    """One straight wall by its inner face, the room on its left.

    ``along`` and ``out`` are unit vectors: from start to end, and out of the room.
    """

    start: Point
    end: Point

    @property
    def length(self) -> float:
        return math.dist(self.start, self.end)

    @property
    def along(self) -> Point:
        length = self.length or 1.0
        return (self.end[0] - self.start[0]) / length, (self.end[1] - self.start[1]) / length

    @property
    def out(self) -> Point:
        x, y = self.along
        return y, -x

    def place(self, along: float, out: float = 0.0) -> Point:
        """The point so far along the wall and so far out of the room [mm]."""
        (x, y), (u, v) = self.start, self.along
        return x + u * along + v * out, y + v * along - u * out

    def station_of(self, point: Point) -> float:
        """How far along the wall a point stands [mm]."""
        (x, y), (u, v) = self.start, self.along
        return (point[0] - x) * u + (point[1] - y) * v

    def distance(self, point: Point) -> float:
        """From a point to the wall's inner face [mm]."""
        t = min(max(self.station_of(point), 0.0), self.length)
        return math.dist(point, self.place(t))


class Shell:
    """The walls of a room, worked out once for any number of drawings."""

    def __init__(self, room: Room) -> None:
        self.room = room
        self.thickness = room.wall_mm
        self.floor = orient(Polygon(room.outline))
        ring = list(self.floor.exterior.coords)
        self.inner: tuple[Point, ...] = tuple((x, y) for x, y in ring[:-1])
        self.walls = tuple(
            Wall((ax, ay), (bx, by))
            for (ax, ay), (bx, by) in pairwise(ring)
            if (ax, ay) != (bx, by)
        )

    @cached_property
    def outer(self) -> tuple[Point, ...]:
        """The outer face of the walls."""
        grown = self.floor.buffer(self.thickness, join_style="mitre")
        return tuple((x, y) for x, y in grown.exterior.coords[:-1])

    @cached_property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least x and y, greatest x and y of the outer faces [mm]."""
        x0, y0, x1, y1 = Polygon(self.outer).bounds
        return x0, y0, x1, y1

    def wall_of(self, *points: Point) -> Wall:
        """The wall nearest to the points."""
        return min(self.walls, key=lambda wall: sum(wall.distance(p) for p in points))

    def opening(self, start: Point, end: Point) -> tuple[Point, ...]:
        """The hole a door or a window makes in its wall, as a ring [mm]."""
        wall = self.wall_of(start, end)
        a, b = sorted((wall.station_of(start), wall.station_of(end)))
        out = self.thickness
        return wall.place(a), wall.place(b), wall.place(b, out), wall.place(a, out)

    @cached_property
    def masonry(self) -> tuple[tuple[tuple[Point, ...], tuple[tuple[Point, ...], ...]], ...]:
        """What is cut through when the plan is drawn: rings with their holes [mm]."""
        things: list[Door | Window] = [*self.room.doors.values(), *self.room.windows.values()]
        openings = [Polygon(self.opening(*ends_of(thing))) for thing in things]
        solid = Polygon(self.outer).difference(self.floor)
        solid = solid.difference(shapely.union_all(openings)) if openings else solid
        parts = solid.geoms if isinstance(solid, MultiPolygon) else [solid]
        return tuple(
            (_ring(part.exterior), tuple(_ring(hole) for hole in part.interiors))
            for part in parts
            if isinstance(part, Polygon) and part.area > 1
        )


def ends_of(thing: Door | Window) -> tuple[Point, Point]:
    """The two jambs of a door or a window [mm]."""
    if isinstance(thing, Door):
        return thing.hinge, thing.latch
    return thing.start, thing.end


def _ring(line: LineString) -> tuple[Point, ...]:
    return tuple((x, y) for x, y in list(line.coords)[:-1])
