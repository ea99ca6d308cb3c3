"""From how far a sign is read: the farthest place on the floor that has it in sight.

What is as high as an eye hides what is behind it, unless it ends below the sign. A straight line
never goes through a wall.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np
import numpy.typing as npt
import shapely
from shapely import MultiPolygon, Polygon

from generator.workings.floor.standing import Standing, polygons_of
from generator.workings.footprint import Point
from generator.workings.routes.places import stands_of
from generator.workings.routes.visibility import Scene
from generator.workings.sight import EYE_MM

COMING_UP_MM = 1500.0
"""How far before the clear floor of a station its signs are to be read: two steps, an assumption
that the shop's own assessment replaces."""

APPROACH_MM = 3000.0
"""How far before a thing on a wall its sign is to be read: an assumption."""

_HAIR_MM = 1.0
_LEAST_MM2 = 100.0


class Viewing:
    """What is in sight of what, in one room."""

    def __init__(self, standing: Standing) -> None:
        self._standing = standing
        self._open: dict[tuple[float, str], tuple[Polygon, ...]] = {}
        self.floor: MultiPolygon = MultiPolygon(standing.floor)

    def _free(self, over_mm: float, own: str) -> tuple[Polygon, ...]:
        """The room less what hides a sign over ``over_mm``; its own station hides none of its."""
        if (over_mm, own) not in self._open:
            hides = [
                thing.polygon
                for thing in self._standing.things
                if thing.height_mm >= EYE_MM and thing.height_mm > over_mm and thing.subject != own
            ]
            room = self._standing.room.difference(shapely.union_all(hides))
            self._open[over_mm, own] = polygons_of(room)
        return self._open[over_mm, own]

    def seen_from(self, point: Point, over_mm: float, own: str = "") -> Polygon:
        """Everything in sight of a sign; empty where it hangs in a wall or behind a tall thing."""
        spot = shapely.Point(point).buffer(_HAIR_MM)
        parts = self._free(over_mm, own)
        part = next((part for part in parts if part.contains(spot)), None)
        return Scene([part]).seen_from(point) if part is not None else Polygon()

    def clear(
        self, eyes: Sequence[Point], ends: Sequence[Point], over_mm: float, own: str = ""
    ) -> npt.NDArray[np.bool_]:
        """For each end whether any of the eyes has it in sight."""
        whole = MultiPolygon(self._free(over_mm, own)).buffer(_HAIR_MM, join_style="mitre")
        shapely.prepare(whole)
        seen = np.zeros(len(ends), dtype=np.bool_)
        for eye in eyes:
            seen |= shapely.covers(whole, shapely.linestrings([(eye, end) for end in ends]))
        return seen

    def farthest_m(self, seen: Polygon, point: Point, ground: shapely.Geometry) -> float | None:
        """From a sign to the farthest place of a ground that has it in sight [m].

        None where no place has.
        """
        met = shapely.intersection(seen, ground, grid_size=0.01)  # no sliver defeats it
        if met.area < _LEAST_MM2:
            return None
        corners = shapely.get_coordinates(met) - np.asarray(point)
        return float(np.hypot(*corners.T).max()) / 1000

    # --- grounds: where those stand who must read it

    def eyes_at(self, station: str) -> tuple[Point, ...]:
        """Where somebody stands to work at a station, once for each side."""
        stands = [s for s in stands_of(self._standing.shop.stations[station]) if not s.service]
        spots = (stand.spots[0] for stand in stands)
        inside = [s for s in spots if self._standing.room.contains(shapely.Point(s))]
        return tuple(inside)

    def before_stations(self, stations: Iterable[str]) -> shapely.Geometry:
        """The clear floor of some stations and two steps before it."""
        records = self._standing.shop.stations
        stands = [s for id_ in stations for s in stands_of(records[id_])]
        clear = shapely.union_all([s.area for s in stands if not s.service])
        return self.on_floor([clear.buffer(COMING_UP_MM)])

    def before(self, point: Point) -> shapely.Geometry:
        """The floor round a thing on a wall."""
        return self.on_floor([shapely.Point(point).buffer(APPROACH_MM)])

    def on_floor(self, shapes: Iterable[shapely.Geometry]) -> shapely.Geometry:
        """The bare floor within some shapes."""
        return self.floor.intersection(shapely.union_all(list(shapes)))


def apart_mm(one: Point, other: Point) -> float:
    """Straight distance between two points [mm]."""
    return math.dist(one, other)
