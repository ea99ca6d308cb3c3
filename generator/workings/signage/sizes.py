"""How large each sign must be where it hangs: from how far, in what light, on what paper."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import shapely
from shapely import Polygon

from generator.ground.paper import Paper, family_of, paper
from generator.reference import Value, reference
from generator.shop.records.room import LightReading
from generator.shop.shop import Shop
from generator.workings.footprint import Point, footprint
from generator.workings.light import reading_of
from generator.workings.signage import laws
from generator.workings.signage.faces import Spot
from generator.workings.signage.needs import Need
from generator.workings.signage.viewing import Viewing

Light = Literal["escape", "inside", "read", "unread"]
"""What lights it: the emergency lights, a lamp inside it, lamps that were read, or nobody knows."""

MARGIN_MM = 4.0
"""Kept white round a sign on its paper."""

_LIGHT_REACH_MM = 4000.0
"""A reading at a station no farther off than this tells of the light on a sign."""


@dataclass(frozen=True, slots=True)
class Size:
    """How large a sign must be.

    ``distance_m`` is from its farthest reader, None where nobody has it in sight. ``factor`` is
    the distance factor for its light, the darkest of the table where nobody has read the light.
    """

    shape: laws.Shape
    distance_m: float | None
    light: Light
    factor: Value
    reading: LightReading | None = None

    @property
    def across_mm(self) -> float | None:
        """Its width at the least [mm]."""
        if self.distance_m is None:
            return None
        return laws.across_mm(self.shape, self.distance_m, self.factor.low)

    @property
    def high_mm(self) -> float | None:
        """Its height at that width [mm]."""
        across = self.across_mm
        return None if across is None else laws.high_mm(self.shape, across)

    @property
    def letter_mm(self) -> float:
        """Height of capitals beside it [mm]; 0 where nobody has it in sight."""
        return laws.letter_mm(self.distance_m or 0.0)

    @property
    def least_letter_mm(self) -> float:
        return laws.least_letter_mm(self.distance_m or 0.0)

    def bears(self, across_mm: float) -> float:
        """From how far a sign of a width [mm] can be read in this light [m]."""
        return laws.read_from_m(self.shape, across_mm, self.factor.low)


class Sizes:
    """Works out sizes at one room's spots."""

    def __init__(self, shop: Shop, viewing: Viewing) -> None:
        self._shop, self._viewing = shop, viewing
        self._shapes = {id_: Polygon(footprint(s)) for id_, s in shop.stations.items()}
        self._seen: dict[tuple[Spot, float, str], Polygon] = {}
        self._far: dict[tuple[object, ...], float | None] = {}
        self._grounds: dict[tuple[str, ...], shapely.Geometry] = {}
        self._readings = {id_: reading_of(shop, id_) for id_ in shop.stations}

    def of(self, need: Need, code: str, spot: Spot, lower_mm: float, *, lit: bool = False) -> Size:
        """The size of a sign that a need asks for, at a spot."""
        distance = self._distance(need, spot, lower_mm)
        shape = laws.shape_of(code)
        if lit:
            return Size(shape, distance, "inside", reference().limit("sign-viewing-factor-lit"))
        if code[0] in "EF":
            factor = reference().limit("sign-viewing-factor-escape")
            return Size(shape, distance, "escape", factor)
        reading = self._reading(need, spot)
        factor_there = laws.factor_at(reading.reading_lx) if reading else None
        if factor_there is None:
            return Size(shape, distance, "unread", laws.darkest_factor(), reading)
        return Size(shape, distance, "read", factor_there, reading)

    def _distance(self, need: Need, spot: Spot, lower_mm: float) -> float | None:
        own = need.subject if need.subject.startswith("stations/") else ""
        key = (spot, lower_mm, own)
        whom = (*key, need.audience, need.stations, need.eyes)
        if whom not in self._far:
            if key not in self._seen:
                self._seen[key] = self._in_sight_of(spot, lower_mm, own)
            ground = self._ground(need, spot)
            self._far[whom] = self._viewing.farthest_m(self._seen[key], spot.at, ground)
        return self._far[whom]

    def _in_sight_of(self, spot: Spot, lower_mm: float, own: str) -> Polygon:
        """What has a sign in sight, or one edge of it where its middle stands behind a corner."""
        seen = (self._viewing.seen_from(p, lower_mm, own) for p in (spot.before, *spot.edges))
        return next((area for area in seen if area.area > 0), Polygon())

    def _ground(self, need: Need, spot: Spot) -> shapely.Geometry:
        """Where those stand who must read it."""
        if need.audience == "room":
            return self._viewing.floor
        if need.audience == "stations":
            if need.stations not in self._grounds:
                self._grounds[need.stations] = self._viewing.before_stations(need.stations)
            return self._grounds[need.stations]
        if need.audience == "eyes":
            return shapely.union_all([shapely.Point(eye).buffer(50.0) for eye in need.eyes])
        return self._viewing.before(spot.at)

    def _reading(self, need: Need, spot: Spot) -> LightReading | None:
        """At its own station, else at the nearest that has been read."""
        if need.subject.startswith("stations/"):
            return self._readings[need.subject.removeprefix("stations/")]
        return self._nearest(spot.at)

    def _nearest(self, at: Point) -> LightReading | None:
        here = shapely.Point(at)
        known = ((self._shapes[i].distance(here), i, r) for i, r in self._readings.items() if r)
        near = [row for row in known if row[0] <= _LIGHT_REACH_MM]
        return min(near, key=lambda row: row[:2])[2] if near else None


def least_paper(shop: Shop, size: Size) -> Paper | None:
    """The smallest sheet that bears a sign of a size, larger than the printer's if need be.

    None where no sheet of the family does, or where the size is not known.
    """
    across, high = size.across_mm, size.high_mm
    if across is None or high is None:
        return None
    room = (across + 2 * MARGIN_MM, high + 2 * MARGIN_MM)
    needed = Paper("", *room)
    return next((p for p in family_of(shop.shop.printer.largest) if p.holds(needed)), None)


def is_too_large(shop: Shop, sheet: Paper) -> bool:
    """Whether a sheet is larger than the shop's own printer takes."""
    return not paper(shop.shop.printer.largest).holds(sheet)
