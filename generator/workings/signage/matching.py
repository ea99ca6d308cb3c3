"""What hangs, held against what is needed: which sign answers which need."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np
import shapely
from shapely import LinearRing, LineString, Point, Polygon

from generator.reference import reference
from generator.shop.records.room import HungSign
from generator.shop.shop import Shop
from generator.workings.footprint import Point as Position
from generator.workings.footprint import footprint
from generator.workings.signage.faces import Faces
from generator.workings.signage.needs import Need
from generator.workings.signage.viewing import Viewing, apart_mm

AT_A_THING_MM = 1200.0
"""A sign hangs at a thing on a wall when it is no farther from it than this."""

AT_A_STATION_MM = 2000.0
AT_A_BORDER_MM = 1500.0
"""A sign by the open border of a zone is met on the way in, and counts for all in it."""

BY_THE_DOOR_MM = 3000.0

_BY_A_WALL_MM = 200.0
_REACH = {"entrance": BY_THE_DOOR_MM, "exit-ahead": BY_THE_DOOR_MM}


class Matching:
    """Which hung signs answer a need."""

    def __init__(self, shop: Shop, faces: Faces, viewing: Viewing) -> None:
        self._shop, self._faces, self._viewing = shop, faces, viewing
        self._borders: dict[str, shapely.Geometry] = {}
        self._by_walls = LinearRing(shop.room.outline).buffer(_BY_A_WALL_MM)

    def answered(self, needs: tuple[Need, ...]) -> Mapping[Need, tuple[str, ...]]:
        """For each need the ids of what hangs for it, none where it is missing."""
        return {need: tuple(self._for(need)) for need in needs}

    def _for(self, need: Need) -> Iterator[str]:
        for id_, hung in self._shop.room.signs.items():
            if hung.sign in need.codes and self._belongs(need, hung):
                yield id_

    def against(self, needs: tuple[Need, ...], hung: HungSign) -> tuple[Need, ...]:
        """What is asked for where a sign hangs and cannot be obeyed together with it."""
        barred = {
            other
            for row in reference().sign_contradictions
            for code, other in (row.codes, row.codes[::-1])
            if code == hung.sign
        }
        near = (need for need in needs if need.code in barred and need.stations)
        return tuple(need for need in near if self._belongs(need, hung))

    def _belongs(self, need: Need, hung: HungSign) -> bool:
        if need.subject.startswith("stations/"):
            return self._at_station(need.subject.removeprefix("stations/"), hung)
        if need.subject.startswith("room/zones/"):
            return self._at_border(need.subject.removeprefix("room/zones/"), hung)
        reach = _REACH.get(need.rule, AT_A_THING_MM)
        if need.at is None or apart_mm(need.at, hung.at) > reach:
            return False
        return not need.eyes or self._seen(need.eyes, hung)

    def _seen(self, eyes: tuple[Position, ...], hung: HungSign) -> bool:
        end = self._faces.spot_of(hung.at).before
        return bool(np.any(self._viewing.clear(eyes, [end], hung.height_mm)))

    def _at_station(self, id_: str, hung: HungSign) -> bool:
        """Near the station and in sight of whoever works there, or at the border of its zone."""
        station = self._shop.stations[id_]
        near = Polygon(footprint(station)).distance(Point(hung.at)) <= AT_A_STATION_MM
        if near and self._in_sight(id_, hung):
            return True
        return hung.sign[0] != "W" and self._at_border(station.zone, hung)

    def _in_sight(self, id_: str, hung: HungSign) -> bool:
        eyes = self._viewing.eyes_at(id_)
        end = self._faces.spot_of(hung.at).before
        own = f"stations/{id_}"
        return bool(eyes and np.any(self._viewing.clear(eyes, [end], hung.height_mm, own)))

    def _at_border(self, id_: str, hung: HungSign) -> bool:
        border, here = self._border(id_), self._faces.spot_of(hung.at).before
        if not shapely.dwithin(border, Point(here), AT_A_BORDER_MM):
            return False
        line = shapely.shortest_line(Point(here), border)
        _start, (x, y) = shapely.get_coordinates(line).tolist()
        return bool(np.any(self._viewing.clear([here], [(x, y)], hung.height_mm)))

    def _border(self, id_: str) -> shapely.Geometry:
        """The border of a zone where it is open, without what runs along a wall."""
        if id_ not in self._borders:
            outline = self._shop.room.zones[id_].outline
            ring = LinearRing(outline) if outline else LineString()
            self._borders[id_] = ring.difference(self._by_walls)
        return self._borders[id_]
