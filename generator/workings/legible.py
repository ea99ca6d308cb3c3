"""From how far a station's sheet is read, and how large its number, name and rules must be.

The number tells a station from anywhere in the room that has it in sight. The name is needed by
those who carry something there. The rules are read where one stands to work.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import shapely

from generator.ground.survey import Survey, survey
from generator.ground.wording import _
from generator.ground.working import Input, Quantity, Working
from generator.reference import reference
from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings.floor.standing import Standing
from generator.workings.shown import given, tabled, worked_out
from generator.workings.sight import EYE_MM
from generator.workings.signage.laws import letter_mm
from generator.workings.signage.viewing import Viewing

_NEAR_M = 1.0
"""Where one stands to read the rules if no working side says: an assumption."""


@dataclass(frozen=True, slots=True)
class Legible:
    """From how far a station's sheet is read [m].

    ``room_m`` is from the farthest place of the floor that has it in sight; ``carried_m`` from
    the farthest station that takes from it or gives to it and sees it, 0 where none does;
    ``near_m`` from the far edge of its clear floor.
    """

    station: str
    room_m: float
    carried_m: float
    near_m: float

    @property
    def number_mm(self) -> float:
        """Least height of the number's digits [mm]."""
        return letter_mm(self.room_m)

    @property
    def name_mm(self) -> float:
        """Least height of the name's capitals [mm]."""
        return letter_mm(max(self.carried_m, self.near_m))

    @property
    def rules_mm(self) -> float:
        """Least height of the capitals of its rules [mm]."""
        return letter_mm(self.near_m)


@dataclass(frozen=True, slots=True)
class LegibleStudy:
    """Every station's distances by its id, and the ``survey``."""

    stations: Mapping[str, Legible]
    survey: Survey


def study(shop: Shop, standing: Standing) -> LegibleStudy:
    """From how far each station's sheet is read.

    Parameters
    ----------
    shop
        The shop.
    standing
        What stands on its floor.
    """
    viewing = Viewing(standing)
    made = {s.id: _legible(shop, viewing, s) for s in shop.stations_by_number}
    workings = tuple(w for each in made.values() for w in _workings(shop, each))
    return LegibleStudy(made, survey("legible", workings, ()))


def _legible(shop: Shop, viewing: Viewing, station: Station) -> Legible:
    own = f"stations/{station.id}"
    seen = viewing.seen_from(station.at, EYE_MM, own)
    room = viewing.farthest_m(seen, station.at, viewing.floor) or _NEAR_M
    carried = (
        math.dist(eye, station.at) / 1000
        for other in sorted(_shares_with(shop, station))
        for eye in viewing.eyes_at(other)
        if seen.covers(shapely.Point(eye))
    )
    return Legible(station.id, room, max(carried, default=0.0), _near_m(station))


def _near_m(station: Station) -> float:
    sides = [side.depth_mm / 1000 for side in station.working_sides if not side.service]
    return max(sides, default=_NEAR_M)


def _shares_with(shop: Shop, station: Station) -> set[str]:
    """Stations that something is carried to or from, whichever of the two wrote it down."""
    named = {h.station for h in (*station.takes_in, *station.gives) if h.station}
    naming = {
        other.id
        for other in shop.stations.values()
        if any(h.station == station.id for h in (*other.takes_in, *other.gives))
    }
    return (named | naming) - {station.id}


def _workings(shop: Shop, legible: Legible) -> tuple[Working, ...]:
    number, far = shop.stations[legible.station].number, max(legible.carried_m, legible.near_m)
    in_sight = given(_("farthest place in sight"), round(legible.room_m, 1), "m", worked_out())
    carries = _("farthest station that carries to or from it, and sees it")
    carrying = given(carries, round(far, 1), "m", worked_out())
    return (
        _working(f"legible.{legible.station}.number", in_sight, legible.number_mm,
                 _("Height of the number of station {n} on its sheet").format(n=number)),
        _working(f"legible.{legible.station}.name", carrying, legible.name_mm,
                 _("Height of the name of station {n} on its sheet").format(n=number)),
    )  # fmt: skip


def _working(id_: str, far: Input, high_mm: float, title: str) -> Working:
    divisor = reference().limit("sign-text-divisor")
    return Working(
        id_,
        f"stations/{id_.split('.')[1]}",
        title,
        _("height of capitals = distance / divisor"),
        (far, tabled(_("divisor"), divisor)),
        Quantity(round(high_mm, 1), "mm"),
        source=divisor.source_record,
    )
