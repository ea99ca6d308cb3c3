"""What stands on the floor, and the floor that is left between it.

Everything that has to do with room to move starts here: each station, fixture and column as a
polygon that knows its record, the walls, the doors, and the bare floor. Things nearer to each
other or to a wall than half a millimetre touch.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import shapely
from shapely import MultiPolygon, Polygon, STRtree
from shapely.geometry.polygon import orient

from generator.ground.origin import Origin
from generator.ground.wording import _
from generator.shop.records.room import Column, Door, Fixture
from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings.footprint import Point, footprint

TOUCHING_MM = 0.5
"""Nearer than this counts as touching: no slit so narrow is floor."""

_ROUNDING_MM = 0.01
"""How far a worked point may lie off the line it was worked out on."""


@dataclass(frozen=True, slots=True)
class Thing:
    """Something with an outline on the floor.

    ``subject`` is its record's path (``stations/granulator``), ``name`` what a sentence calls
    it, ``height_mm`` how high it stands (a column: to the ceiling).
    """

    subject: str
    name: str
    record: Station | Fixture | Column
    polygon: Polygon
    height_mm: float
    origin: Origin

    @property
    def is_station(self) -> bool:
        return isinstance(self.record, Station)


@dataclass(frozen=True, slots=True)
class Opening:
    """A door as it is walked through.

    Parameters
    ----------
    door
        Its record.
    middle
        The middle of what is left clear with the leaf open, on the inner face of the wall [mm].
    ends
        The two ends of that clear opening: at the latch, and at the leaf [mm].
    inward
        Unit vector into the room.
    swing
        What the leaf sweeps in the room, None where it opens out or slides.
    """

    door: Door
    middle: Point
    ends: tuple[Point, Point]
    inward: Point
    swing: Polygon | None

    def inside(self, away_mm: float) -> Point:
        """The point straight inside the middle of the opening [mm]."""
        return along(self.middle, self.inward, away_mm)


def along(start: Point, direction: Point, length_mm: float) -> Point:
    """The point a length from ``start`` in a direction given as a unit vector [mm]."""
    return (start[0] + direction[0] * length_mm, start[1] + direction[1] * length_mm)


class Standing:
    """The room with everything that stands in it.

    Parameters
    ----------
    shop
        A shop without data faults, so its walls close and cross nowhere.
    """

    def __init__(self, shop: Shop) -> None:
        self.shop = shop
        self.room = orient(Polygon(shop.room.outline))
        self.things = tuple(_things(shop))
        self.by_subject = {thing.subject: thing for thing in self.things}
        self._tree = STRtree([thing.polygon for thing in self.things])

    @cached_property
    def floor(self) -> tuple[Polygon, ...]:
        """The bare floor: the room less what stands in it, in separate parts."""
        bare = self.room.difference(shapely.union_all([t.polygon for t in self.things]))
        half = TOUCHING_MM / 2
        opened = bare.buffer(-half, join_style="mitre").buffer(half, join_style="mitre")
        return polygons_of(opened)

    @cached_property
    def grown_floor(self) -> MultiPolygon:
        """The bare floor with a hair's breadth around, for questions about points on its edge."""
        return prepared(
            MultiPolygon(self.floor).buffer(_ROUNDING_MM, join_style="mitre", quad_segs=1)
        )

    @cached_property
    def openings(self) -> dict[str, Opening]:
        """Every door by id."""
        return {id_: _opening(door, self.room) for id_, door in self.shop.room.doors.items()}

    @cached_property
    def exits(self) -> dict[str, Opening]:
        """The doors that are ways out in an emergency, by id."""
        return {id_: o for id_, o in self.openings.items() if o.door.exit}

    def near(self, shape: shapely.Geometry) -> list[Thing]:
        """The things that meet a shape, in file order."""
        return [self.things[i] for i in sorted(self._tree.query(shape, predicate="intersects"))]

    def at_all(self, points: Sequence[Point]) -> list[Thing | None]:
        """The thing on whose outline each point lies, a station first; None for a wall."""
        found: list[Thing | None] = [None] * len(points)
        if not points:
            return found
        spots = shapely.points(points)
        pairs = self._tree.query(spots, predicate="dwithin", distance=TOUCHING_MM)
        for spot, number in sorted(pairs.T.tolist(), key=lambda pair: -pair[1]):
            found[spot] = self.things[number]
        return found

    def name_of(self, thing: Thing | None) -> str:
        """What a sentence calls a thing, or the wall."""
        return thing.name if thing else _("the wall")


def prepared(shape: shapely.Geometry) -> MultiPolygon:
    """The same shape, made quick to ask."""
    whole = MultiPolygon(polygons_of(shape))
    shapely.prepare(whole)
    return whole


def polygons_of(shape: shapely.Geometry) -> tuple[Polygon, ...]:
    """The polygons of a shape, outlines counter-clockwise, holes clockwise; lines are dropped."""
    parts = shapely.get_parts(shape)
    return tuple(orient(p) for p in parts if isinstance(p, Polygon) and not p.is_empty)


def points_of(shape: shapely.Geometry) -> list[Point]:
    """All corners of a shape [mm]."""
    return [(x, y) for x, y in shapely.get_coordinates(shape).tolist()]


def station_name(station: Station) -> str:
    """What a sentence calls a station."""
    return _("station {number} ({name})").format(number=station.number, name=station.name)


def _things(shop: Shop) -> Iterator[Thing]:
    for id_, station in shop.stations.items():
        yield _thing(f"stations/{id_}", station_name(station), station, station.height_mm)
    for id_, fixture in shop.room.fixtures.items():
        yield _thing(f"room/fixtures/{id_}", str(fixture.name), fixture, fixture.height_mm)
    for id_, column in shop.room.columns.items():
        name = _("the column `{id}`").format(id=id_)
        yield _thing(f"room/columns/{id_}", name, column, shop.room.ceiling_mm)


def _thing(subject: str, name: str, record: Station | Fixture | Column, height: float) -> Thing:
    polygon = orient(Polygon(footprint(record)))
    return Thing(subject, name, record, polygon, height, record.origin_of("at"))


def _opening(door: Door, room: Polygon) -> Opening:
    width = math.dist(door.hinge, door.latch)
    leaf = ((door.hinge[0] - door.latch[0]) / width, (door.hinge[1] - door.latch[1]) / width)
    inward = _inward(door, leaf, room)
    clear = min(door.clear_width_mm, width)
    swing = _swing(door, leaf, inward, width) if door.opens == "in" else None
    ends = (door.latch, along(door.latch, leaf, clear))
    return Opening(door, along(door.latch, leaf, clear / 2), ends, inward, swing)


_PROBE_MM = 100.0  # jambs may lie 50 mm off the wall


def _inward(door: Door, leaf: Point, room: Polygon) -> Point:
    middle = ((door.hinge[0] + door.latch[0]) / 2, (door.hinge[1] + door.latch[1]) / 2)
    normal = (-leaf[1], leaf[0])
    back = (-normal[0], -normal[1])
    inside = room.contains(shapely.Point(along(middle, normal, _PROBE_MM)))
    return normal if inside else back


_SWING_STEPS = 16


def _swing(door: Door, leaf: Point, inward: Point, width: float) -> Polygon:
    """The quarter circle a leaf sweeps, from shut to square with the wall."""
    angles = [math.pi / 2 * step / _SWING_STEPS for step in range(_SWING_STEPS + 1)]
    arc = [
        along(along(door.hinge, leaf, -width * math.cos(a)), inward, width * math.sin(a))
        for a in angles
    ]
    return orient(Polygon([door.hinge, *arc]))
