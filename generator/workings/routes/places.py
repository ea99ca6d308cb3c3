"""Where walks begin and end: at working sides, at doors, before what hangs on the walls."""

from __future__ import annotations

import math
from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass
from itertools import takewhile

import numpy as np
import shapely
from shapely import LineString, Polygon

from generator.ground.wording import _
from generator.shop.records.refs import Side
from generator.shop.records.stations import Station, WorkingSide
from generator.workings.floor.ahead import Face
from generator.workings.floor.sides import face_of, side_name
from generator.workings.floor.standing import Opening, Standing, along, polygons_of, station_name
from generator.workings.footprint import Point, clear_area
from generator.workings.routes.freefloor import FreeFloor

_UNWRITTEN_DEPTH_MM = 600.0
"""Clear floor before a station that names no working side: it is looked at from its front."""

_SHOULDERS_MM = 600.0
"""How wide somebody is who steps from an aisle up to a bench."""

_ALONG_THE_SIDE = (0.0, -0.25, 0.25, -0.5, 0.5)
"""Where along a side somebody may stand, the middle first, in widths of what is left to stand."""


@dataclass(frozen=True, slots=True)
class Stand:
    """A side of a station where somebody stands.

    ``area`` is the clear floor of the side; ``spots`` are where along it the middle of somebody
    may be, the middle of the side first [mm]; ``shoulders_mm`` how wide they are there.
    """

    station: Station
    side: Side
    service: bool
    face: Face
    area: Polygon
    spots: tuple[Point, ...]
    shoulders_mm: float

    @property
    def name(self) -> str:
        """What a sentence calls it."""
        return _("the {side} of {station}").format(
            side=side_name(self.side), station=station_name(self.station)
        )


def stands_of(station: Station) -> tuple[Stand, ...]:
    """The sides of a station where somebody stands, its front where it names none."""
    sides = station.working_sides or (None,)
    return tuple(_stand(station, side) for side in sides)


def _stand(station: Station, side: WorkingSide | None) -> Stand:
    face = face_of(station, side.side if side else "front", side.width_mm if side else None)
    depth = side.depth_mm if side else _UNWRITTEN_DEPTH_MM
    shoulders = min(_SHOULDERS_MM, max(depth, 1.0), face.width_mm)
    return Stand(
        station,
        side.side if side else "front",
        side is not None and side.service,
        face,
        Polygon(clear_area(station, side) if side else face.strip(depth)),
        tuple(_spots(face, shoulders)),
        shoulders,
    )


def _spots(face: Face, shoulders_mm: float) -> Iterator[Point]:
    middle = along(face.middle, face.ahead, shoulders_mm / 2)
    across = (-face.ahead[1], face.ahead[0])
    left = face.width_mm - shoulders_mm
    yield from dict.fromkeys(along(middle, across, share * left) for share in _ALONG_THE_SIDE)


@dataclass(frozen=True, slots=True)
class Foot:
    """Where a walk sets foot on the free floor, and what is left from there to its end [mm].

    ``end`` is the end itself: where somebody stands, the middle of a door, a thing on the wall.
    """

    at: Point
    end: Point

    @property
    def rest_mm(self) -> float:
        return math.dist(self.at, self.end)


def feet_at_stand(standing: Standing, free: FreeFloor, stand: Stand) -> tuple[Foot, ...]:
    """Where walks to a working side end, none where its free floor does not lead up to it.

    Somebody as wide as the aisle stands half their width from the middle of the side. Where
    there is no room for that, the free floor must come up to the side's clear floor, and
    somebody of ordinary shoulders must get from there straight to the side. There may be two
    feet, equally near, at its two ends.
    """
    ideal = along(stand.face.middle, stand.face.ahead, free.width_mm / 2)
    if free.part_at(ideal) is not None and _is_clear(standing, stand.face.middle, ideal):
        return (Foot(ideal, ideal),)
    near = polygons_of(shapely.intersection(free.shape, stand.area.buffer(free.half_mm)))
    for spot in stand.spots:
        feet = sorted((Foot(_nearest(p, spot), spot) for p in near), key=lambda f: f.rest_mm)
        clear = [f for f in feet if _steps_are_clear(standing, f, stand.shoulders_mm)]
        if clear:
            return _equally_near(clear)
    return ()


def feet_at_door(free: FreeFloor, opening: Opening) -> tuple[Foot, ...]:
    """Where walks to a door end, none where something stands before it.

    The middle of the walker must come to the door straight from inside, somewhere along what
    is clear of it.
    """
    wanted = opening.inside(free.width_mm / 2)
    if free.part_at(wanted) is not None:
        return (Foot(wanted, opening.middle),)
    room = max(math.dist(*opening.ends) - free.width_mm, 0.0) / 2
    leaf = _unit(*opening.ends)
    line = LineString([along(wanted, leaf, -room), along(wanted, leaf, room)])
    pieces = shapely.get_parts(free.shape.intersection(line))
    found = pieces[~shapely.is_empty(pieces)]
    feet = (Foot(_nearest(piece, wanted), opening.middle) for piece in found)
    return _equally_near(sorted(feet, key=lambda foot: foot.rest_mm))


def _equally_near(feet: Sequence[Foot]) -> tuple[Foot, ...]:
    """The nearest of some feet in order, with those that are no farther by a millimetre."""
    return tuple(foot for foot in feet if foot.rest_mm <= feet[0].rest_mm + 1.0)


def feet_before(
    standing: Standing, free: FreeFloor, parts: Container[int], point: Point
) -> tuple[Foot, ...]:
    """Where walks to something on a wall end: the nearest free floor not behind a wall.

    Only some parts of the free floor count. Several feet where they are equally near, such as
    left and right of a basin; none where there is no such floor.
    """
    near = (foot for foot in _by_nearness(free, point) if free.part_at(foot.at) in parts)
    in_room = (f for f in near if _in_one_room(standing, point, f.at))
    first = next(in_room, None)
    if first is None:
        return ()
    return (first, *takewhile(lambda foot: foot.rest_mm <= first.rest_mm + 1.0, in_room))


def _by_nearness(free: FreeFloor, point: Point) -> Iterator[Foot]:
    """The nearest point of each piece of the edge of a free floor, the nearest first."""
    if free.part_at(point) is not None:
        yield Foot(point, point)
    start, step = free.edge
    away = np.asarray(point) - start
    share = np.clip(np.sum(away * step, axis=1) / np.sum(step * step, axis=1), 0, 1)
    nearest = start + step * share[:, None]
    order = np.argsort(np.hypot(*(nearest - np.asarray(point)).T), kind="stable")
    known: set[Point] = set()
    for x, y in map(nearest.__getitem__, order):
        if (about := (round(x, 2), round(y, 2))) not in known:
            known.add(about)
            yield Foot((float(x), float(y)), point)


def _nearest(shape: shapely.Geometry, point: Point) -> Point:
    _start, (x, y) = shapely.get_coordinates(
        shapely.shortest_line(shapely.Point(point), shape)
    ).tolist()
    return (x, y)


def _unit(start: Point, end: Point) -> Point:
    long = math.dist(start, end) or 1.0
    return ((end[0] - start[0]) / long, (end[1] - start[1]) / long)


def _is_clear(standing: Standing, start: Point, end: Point) -> bool:
    return bool(standing.grown_floor.covers(LineString([start, end])))


def _steps_are_clear(standing: Standing, foot: Foot, shoulders_mm: float) -> bool:
    half = max((shoulders_mm - 1.0) / 2, 0.5)
    swept = LineString([foot.at, foot.end]).buffer(half)
    return bool(standing.grown_floor.covers(swept))


_ON_THE_WALL_MM = 60.0


def _in_one_room(standing: Standing, point: Point, at: Point) -> bool:
    """Whether no wall stands between two points; the first may be in the wall's face."""
    line = LineString([point, at])
    beyond = line.difference(standing.room)
    return bool(beyond.length <= _ON_THE_WALL_MM)


def stands(standing: Standing) -> Iterator[Stand]:
    """Every side of every station where somebody stands, in file order."""
    for station in standing.shop.stations.values():
        yield from stands_of(station)
