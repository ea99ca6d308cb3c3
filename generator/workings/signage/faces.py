"""Where a sign can hang: bare faces of walls, columns and tall furniture."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Literal

import numpy as np
import numpy.typing as npt
from shapely import Polygon
from shapely.geometry.polygon import orient

from generator.shop.records.room import Door, Window
from generator.shop.shop import Shop
from generator.workings.floor.standing import Standing, along
from generator.workings.footprint import Point, distance_mm

Kind = Literal["wall", "column", "furniture", "post"]

TALL_ENOUGH_MM = 1700.0
"""Furniture from this height up bears a sign at eye level on its side: an assumption."""

_STEP_MM = 100.0
_FROM_A_CORNER_MM = 200.0
_FROM_AN_OPENING_MM = 100.0
_ON_A_FACE_MM = 450.0
_OFF_THE_FACE_MM = 20.0
_HAND_MM = 50.0


@dataclass(frozen=True, slots=True)
class Face:
    """One straight upright face; ``into`` is the unit vector off it into the room."""

    start: Point
    end: Point
    into: Point
    kind: Kind
    subject: str = ""

    @property
    def length(self) -> float:
        return math.dist(self.start, self.end)

    def at(self, far: float) -> Point:
        """The point so far along it [mm]."""
        return along(self.start, self._along, far)

    def far(self, point: Point) -> float:
        """How far along it a point lies, kept between its ends [mm]."""
        (x, y), (u, v) = self.start, self._along
        return min(max((point[0] - x) * u + (point[1] - y) * v, 0.0), self.length)

    def distance(self, point: Point) -> float:
        """From a point to the face [mm]."""
        return distance_mm(point, self.at(self.far(point)))

    @property
    def _along(self) -> Point:
        return (
            (self.end[0] - self.start[0]) / self.length,
            (self.end[1] - self.start[1]) / self.length,
        )


@dataclass(frozen=True, slots=True)
class Spot:
    """A place on a face, and which way it looks."""

    at: Point
    into: Point
    kind: Kind
    subject: str = ""

    @property
    def before(self) -> Point:
        """Just off the face, where lines of sight end [mm]."""
        return along(self.at, self.into, _OFF_THE_FACE_MM)

    @property
    def edges(self) -> tuple[Point, Point]:
        """The same a hand's breadth to either side, as far as a small sign reaches [mm]."""
        across = (-self.into[1], self.into[0])
        left, right = (along(self.before, across, far) for far in (-_HAND_MM, _HAND_MM))
        return left, right


class Faces:
    """Every face of a room on which something can hang."""

    def __init__(self, standing: Standing) -> None:
        self.walls = tuple(_walls(standing.room))
        self.all = (*self.walls, *_things(standing))
        self._openings = tuple(_openings(standing.shop))

    def spot_of(self, point: Point) -> Spot:
        """The spot that something hung at a point hangs on: the nearest face."""
        near = min(self.all, key=lambda face: round(face.distance(point), 3))
        if near.distance(point) > _ON_A_FACE_MM:
            return Spot(point, near.into, "post")
        return Spot(near.at(near.far(point)), near.into, near.kind, near.subject)

    def spots_near(self, shape: Polygon, reach_mm: float) -> Iterator[Spot]:
        """Spots on bare faces no farther from a shape's box than ``reach_mm``."""
        x0, y0, x1, y1 = shape.bounds
        low, high = (x0 - reach_mm, y0 - reach_mm), (x1 + reach_mm, y1 + reach_mm)
        within = ((self._at >= low) & (self._at <= high)).all(axis=1)
        return (self._spots[n] for n in np.flatnonzero(within))

    @cached_property
    def _spots(self) -> tuple[Spot, ...]:
        """Every spot of every bare face."""
        return tuple(
            Spot(at, face.into, face.kind, face.subject)
            for face in self.all
            for at in map(face.at, _steps(face))
            if not self._is_open(face, at)
        )

    @cached_property
    def _at(self) -> npt.NDArray[np.float64]:
        return np.asarray([spot.at for spot in self._spots], dtype=np.float64).reshape(-1, 2)

    def _is_open(self, face: Face, point: Point) -> bool:
        if face.kind != "wall":
            return False
        return any(_between(point, *ends) for ends in self._openings)


def _steps(face: Face) -> Iterator[float]:
    """Distances along a face that are far enough from its ends; its middle where it is short."""
    room = face.length - 2 * _FROM_A_CORNER_MM
    if room < 0 or face.kind != "wall":
        yield face.length / 2
        return
    for step in range(int(room // _STEP_MM) + 1):
        yield _FROM_A_CORNER_MM + step * _STEP_MM


def _walls(room: Polygon) -> Iterator[Face]:
    ring = list(orient(room).exterior.coords)
    for start, end in pairwise(ring):
        if math.dist(start, end) > 1.0:
            yield Face(*_ends(start, end), _left_of(start, end), "wall")


def _things(standing: Standing) -> Iterator[Face]:
    """The sides of columns and of what is tall, each looking away from it."""
    for thing in standing.things:
        if thing.height_mm < TALL_ENOUGH_MM:
            continue
        kind: Kind = "column" if thing.subject.startswith("room/columns") else "furniture"
        for start, end in pairwise(list(orient(thing.polygon).exterior.coords)):
            right = _left_of(end, start)
            yield Face(*_ends(start, end), right, kind, thing.subject)


def _ends(start: tuple[float, ...], end: tuple[float, ...]) -> tuple[Point, Point]:
    return (start[0], start[1]), (end[0], end[1])


def _left_of(start: tuple[float, ...], end: tuple[float, ...]) -> Point:
    long = math.dist(start, end)
    return -(end[1] - start[1]) / long, (end[0] - start[0]) / long


def _openings(shop: Shop) -> Iterator[tuple[Point, Point]]:
    things: Iterable[Door | Window] = (*shop.room.doors.values(), *shop.room.windows.values())
    for thing in things:
        if isinstance(thing, Door):
            yield thing.hinge, thing.latch
        else:
            yield thing.start, thing.end
    supply = shop.room.supply
    half, (x, y) = supply.panel_width_mm / 2, supply.panel
    yield (x - half, y), (x + half, y)
    yield (x, y - half), (x, y + half)


def _between(point: Point, start: Point, end: Point) -> bool:
    """Whether a point of a wall lies in an opening, or too near its edge."""
    face = Face(start, end, (0.0, 0.0), "wall")
    return face.length > 0 and face.distance(point) < _FROM_AN_OPENING_MM
