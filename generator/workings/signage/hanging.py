"""Where each sign hangs: beside the thing, on a bare face, in sight of whoever must read it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import shapely
from shapely import LineString, Polygon

from generator.reference import reference
from generator.shop.records.refs import Side
from generator.shop.records.room import Door, HungSign
from generator.shop.records.stations import Station
from generator.workings.floor.standing import Standing, along
from generator.workings.footprint import Point, footprint, outward, side_middle
from generator.workings.routes import RouteStudy
from generator.workings.routes.journeys import door_path
from generator.workings.signage.faces import Faces, Spot
from generator.workings.signage.needs import Need
from generator.workings.signage.viewing import Viewing, apart_mm

REACH_MM = 2500.0
"""How far from a station its signs may hang: an assumption. The nearest bare face in sight of
whoever works there is taken."""

SAME_PLACE_MM = 600.0
"""Signs nearer to each other than this are one place on the list."""

_APART_MM = 380.0
"""Nothing else hangs nearer than this to a sign's middle."""

_OVER_MM = 50.0
"""How far over what stands before it a sign's lower edge is."""

_OVER_EQUIPMENT_MM = 250.0
_SAME_WAY = 0.5
"""Two spots whose directions differ by less look the same way."""

_SLANT = 0.3
"""A sign is not read more aslant than this (cosine), some 72° off its front."""


@dataclass(frozen=True, slots=True)
class Hanging:
    """Where something hangs: the spot, and its lower edge over the floor [mm]."""

    spot: Spot
    lower_mm: float


def eye_level_mm() -> tuple[float, float]:
    """Heights at which signs hang near a hazard [mm]."""
    value = reference().limit("sign-mounting-other")
    return value.low * 1000, value.high * 1000


def exit_level_mm() -> tuple[float, float]:
    """Heights of the lower edge of an exit sign [mm]."""
    value = reference().limit("sign-mounting-exit")
    return value.low * 1000, value.high * 1000


class Hanger:
    """Finds places for signs, one after the other, none over another.

    Parameters
    ----------
    standing, viewing, faces
        The room, what is in sight in it, and what can be hung on.
    routes
        How people get about, for where one comes in; None takes the straight way.
    """

    def __init__(
        self, standing: Standing, viewing: Viewing, faces: Faces, routes: RouteStudy | None
    ) -> None:
        self._standing, self._viewing, self._faces = standing, viewing, faces
        self._routes = routes
        room = standing.shop.room
        hung = [e.at for e in room.equipment.values()] + [s.at for s in room.signs.values()]
        self._taken = [faces.spot_of(at) for at in hung]

    def hang(self, needs: Sequence[Need], beside: Sequence[HungSign]) -> Hanging:
        """Where what a subject still needs hangs; ``beside`` is what already hangs for it."""
        noun, _slash, id_ = needs[0].subject.partition("/")
        if noun == "stations":
            found = self._at_station(self._standing.shop.stations[id_], beside)
        elif needs[0].rule == "exit":
            found = self._over_door(self._standing.shop.room.doors[id_.split("/")[1]])
        else:
            found = self._at_thing(needs[0])
        self._taken.append(found.spot)
        return found

    # --- at a station

    def _at_station(self, station: Station, beside: Sequence[HungSign]) -> Hanging:
        shape = Polygon(footprint(station))
        eyes = self._viewing.eyes_at(station.id)
        spots = [s for s in self._faces.spots_near(shape, REACH_MM) if self._is_bare(s)]
        low, _high = eye_level_mm()
        best = self._best(spots, eyes, low, f"stations/{station.id}", [s.at for s in beside])
        if best is None:
            return Hanging(_post(station), low)
        return Hanging(best, self._over(best, station, low))

    def _best(
        self,
        spots: Sequence[Spot],
        eyes: Sequence[Point],
        over_mm: float,
        own: str,
        beside: Sequence[Point] = (),
    ) -> Spot | None:
        """The spot nearest to what already hangs, else to an eye, of those in sight."""
        if not spots or not eyes:
            return None
        seen = self._viewing.clear(eyes, [s.before for s in spots], over_mm, own)
        near = beside or eyes
        fit = [s for s, ok in zip(spots, seen, strict=True) if ok and _faces_one(s, eyes)]
        return min(fit, key=lambda s: _rank(s, near), default=None)

    def _is_bare(self, spot: Spot) -> bool:
        return all(
            apart_mm(spot.at, taken.at) >= _APART_MM
            for taken in self._taken
            if math.dist(spot.into, taken.into) < _SAME_WAY
        )

    def _over(self, spot: Spot, station: Station, low: float) -> float:
        """The lower edge: over the station where that stands between the face and the reader."""
        before = LineString([spot.before, along(spot.at, spot.into, REACH_MM)])
        hidden = before.intersects(Polygon(footprint(station)))
        return max(low, station.height_mm + _OVER_MM) if hidden else low

    # --- at a thing on a wall

    def _over_door(self, door: Door) -> Hanging:
        """Over the door, or on the wall beside it where the ceiling is too low."""
        low, high = exit_level_mm()
        middle = ((door.hinge[0] + door.latch[0]) / 2, (door.hinge[1] + door.latch[1]) / 2)
        spot = self._faces.spot_of(middle)
        return Hanging(spot, min(max(low, door.clear_height_mm + _OVER_MM), high))

    def _at_thing(self, need: Need) -> Hanging:
        low, _high = eye_level_mm()
        if need.rule == "closed-zone":
            return Hanging(self._at_zone(need), low)
        if need.rule == "entrance":
            return Hanging(self._inside_door(need), low)
        if need.rule == "exit-ahead":
            return Hanging(self._near(need.at or (0.0, 0.0), need.eyes), exit_level_mm()[0])
        spot = self._faces.spot_of(need.at or (0.0, 0.0))
        return Hanging(spot, max(low, self._height_of(need) + _OVER_EQUIPMENT_MM))

    def _height_of(self, need: Need) -> float:
        """How high the thing itself hangs, 0 for what has no height."""
        id_ = need.subject.rpartition("/")[2]
        thing = self._standing.shop.room.equipment.get(id_)
        return thing.height_mm if thing else 0.0

    def _inside_door(self, need: Need) -> Spot:
        """On the wall one has before one's eyes coming in, within a few steps."""
        at = need.at or (0.0, 0.0)
        spot = self._faces.spot_of(at)
        return self._near(along(at, spot.into, 900.0), (along(at, spot.into, 300.0),))

    def _at_zone(self, need: Need) -> Spot:
        """By the border of a zone, where the walk from the door crosses it."""
        zone = Polygon(self._standing.shop.room.zones[need.subject.rpartition("/")[2]].outline)
        entry, eye = self._entry(zone)
        return self._near(entry, (eye,))

    def _entry(self, zone: Polygon) -> tuple[Point, Point]:
        """Where one comes into a zone, and where one is a step and a half before."""
        walk = self._walk_to(zone)
        inside = shapely.get_coordinates(zone.representative_point())[0].tolist()
        line = LineString(walk) if len(walk) > 1 else LineString([self._door(), tuple(inside)])
        crossed = shapely.get_coordinates(line.intersection(zone.boundary)).tolist()
        far = min((line.project(shapely.Point(p)) for p in crossed), default=line.length)
        points = [line.interpolate(max(far - back, 0.0)) for back in (0.0, 1200.0)]
        (ax, ay), (bx, by) = (shapely.get_coordinates(p)[0].tolist() for p in points)
        return (ax, ay), (bx, by)

    def _door(self) -> Point:
        opening = next(iter(self._standing.openings.values()))
        return opening.inside(300.0)

    def _walk_to(self, zone: Polygon) -> tuple[Point, ...]:
        """The walk from the first door to the nearest station in a zone."""
        if self._routes is None:
            return ()
        journeys, door = self._routes.journeys, door_path(next(iter(self._standing.openings)))
        sides = [
            side
            for station in self._standing.shop.stations.values()
            if zone.covers(shapely.Point(station.at))
            for side in journeys.sides_of(station.id)
        ]
        walk = journeys.between([door], sides) if sides else None
        return walk.line if walk else ()

    def _near(self, point: Point, eyes: Sequence[Point]) -> Spot:
        """The nearest bare spot to a point, in sight of the eyes where there are any."""
        around = shapely.Point(point).buffer(1.0)
        for reach in (REACH_MM, 3 * REACH_MM):
            spots = [s for s in self._faces.spots_near(around, reach) if self._is_bare(s)]
            best = self._best(spots, eyes or (point,), eye_level_mm()[0], "", (point,))
            if best is not None:
                return best
        return Spot(point, (0.0, -1.0), "post")


def _post(station: Station) -> Spot:
    """At the middle of the side that is worked at, on a stand: no face is near."""
    side: Side = next((w.side for w in station.working_sides if not w.service), "front")
    return Spot(side_middle(station, side), outward(station, side), "post", station.id)


def _rank(spot: Spot, near: Iterable[Point]) -> tuple[float, Point]:
    return round(min(apart_mm(spot.at, point) for point in near)), spot.at


def _faces_one(spot: Spot, eyes: Iterable[Point]) -> bool:
    """Whether a spot looks at one of the eyes, and not only past it."""
    for eye in eyes:
        away = (eye[0] - spot.at[0], eye[1] - spot.at[1])
        long = math.hypot(*away)
        if long and (away[0] * spot.into[0] + away[1] * spot.into[1]) / long >= _SLANT:
            return True
    return False
