"""What somebody who watches over others can see from where they stand, and what they cannot.

Walls, columns and whatever is as high as an eye hide what is behind. A machine is in sight as
far as the clear floor of its station is, where whoever works there stands.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import shapely
from shapely import MultiPolygon, Polygon

from generator.ground.finding import Finding, Severity
from generator.ground.wording import _
from generator.ground.working import Quantity, Verdict, Working
from generator.shop.records.machines import Machine
from generator.shop.records.stations import Station
from generator.workings.floor.lengths import capital, square_metres
from generator.workings.floor.standing import TOUCHING_MM, Standing, polygons_of, station_name
from generator.workings.footprint import Point
from generator.workings.part import Part
from generator.workings.routes.places import stands_of
from generator.workings.routes.visibility import Scene
from generator.workings.sight import EYE_MM

_MOVING_KINDS = frozenset({
    "granulator", "shredder", "spin-dryer", "band-saw", "belt-sander", "pillar-drill",
    "platen-press", "screw-injector", "plunger-injector", "extruder",
})  # fmt: skip
_LEAST_MM2 = 1.0  # a station beyond the walls has no clear floor to be seen
_PARTLY = 0.95
"""Less of a machine's clear floor in sight than this is only partly in sight."""


@dataclass(frozen=True, slots=True)
class View:
    """What is seen of one hot or moving machine: the clear floor of its station, in mm²."""

    machine: Machine
    area_mm2: float
    seen_mm2: float

    @property
    def hidden(self) -> bool:
        """Whether nothing of it is in sight (less than a hundredth counts as nothing)."""
        return self.seen_mm2 < 0.01 * self.area_mm2

    @property
    def partly(self) -> bool:
        return not self.hidden and self.seen_mm2 < _PARTLY * self.area_mm2


@dataclass(frozen=True, slots=True)
class Outlook:
    """What is seen from a station: from each place where somebody stands, and together.

    ``views`` are the hot and moving machines of other stations.
    """

    station: Station
    eyes: tuple[Point, ...]
    seen: tuple[Polygon, ...]
    together: MultiPolygon
    views: tuple[View, ...]

    @property
    def area_m2(self) -> float:
        """The floor in sight [m²]."""
        return self.together.area / 1e6


class Watching:
    """Lines of sight over one shop.

    Parameters
    ----------
    standing
        The room with everything in it; what is lower than an eye hides nothing.
    """

    def __init__(self, standing: Standing) -> None:
        self._standing = standing
        self._known: dict[str, Outlook | None] = {}

    @cached_property
    def _open(self) -> tuple[Polygon, ...]:
        tall = [t.polygon for t in self._standing.things if t.height_mm >= EYE_MM]
        return polygons_of(self._standing.room.difference(shapely.union_all(tall)))

    def from_station(self, id_: str) -> Outlook | None:
        """What is seen from a station, None where nobody can stand there."""
        if id_ not in self._known:
            self._known[id_] = self._look(self._standing.shop.stations[id_])
        return self._known[id_]

    def _look(self, station: Station) -> Outlook | None:
        eyes = tuple(self._eyes(station))
        if not eyes:
            return None
        seen = tuple(self.seen_from(eye) for eye in eyes)
        together = MultiPolygon(polygons_of(shapely.union_all(seen)))
        views = tuple(self._views(station, together))
        return Outlook(station, eyes, seen, together, views)

    def _eyes(self, station: Station) -> Iterator[Point]:
        for stand in stands_of(station):
            spots = (s for s in stand.spots if self._part(s) is not None)
            spot = next(spots, None)
            if spot and not stand.service:
                yield spot

    def _part(self, point: Point) -> Polygon | None:
        spot = shapely.Point(point).buffer(TOUCHING_MM)
        return next((part for part in self._open if part.contains(spot)), None)

    def seen_from(self, eye: Point) -> Polygon:
        """The floor in sight of a point; empty where the point is in a wall or a tall thing."""
        part = self._part(eye)
        return Scene([part]).seen_from(eye) if part else Polygon()

    def _views(self, station: Station, seen: MultiPolygon) -> Iterator[View]:
        for machine in self._standing.shop.machines.values():
            watched = machine.is_hot or machine.moves or machine.kind in _MOVING_KINDS
            if watched and machine.station != station.id:
                area = self._clear_floor(machine.station)
                if area.area > _LEAST_MM2:
                    yield View(machine, area.area, area.intersection(seen).area)

    def _clear_floor(self, id_: str) -> MultiPolygon:
        sides = [s.area for s in stands_of(self._standing.shop.stations[id_]) if not s.service]
        floor = shapely.intersection(shapely.union_all(sides), self._standing.room)
        return MultiPolygon(polygons_of(floor))


@dataclass(frozen=True, slots=True)
class Watched:
    """The outlook of every station that supervises."""

    outlooks: tuple[Outlook, ...]
    part: Part


def study(standing: Standing, watching: Watching) -> Watched:
    """Find which hot or moving machines no supervising station has in sight."""
    watchers = [s for s in standing.shop.stations.values() if s.supervises]
    looks = (watching.from_station(s.id) for s in watchers)
    outlooks = tuple(look for look in looks if look)
    workings = tuple(w for look in outlooks for w in _workings(look))
    best = _best_views(outlooks)
    findings = tuple(_finding(view, outlooks) for view in best if view.hidden or view.partly)
    if not watchers and standing.shop.machines:
        findings = (_nobody(standing),)
    return Watched(outlooks, Part(workings, findings, len(best)))


def _best_views(outlooks: Sequence[Outlook]) -> list[View]:
    """For each machine the view from where most of it is seen; a watcher sees their own."""
    own = {look.station.id for look in outlooks}
    best: dict[str, View] = {}
    for view in (v for look in outlooks for v in look.views):
        if view.machine.station not in own:
            known = best.get(view.machine.id, view)
            best[view.machine.id] = max(known, view, key=lambda v: v.seen_mm2)
    return list(best.values())


def _workings(look: Outlook) -> Iterator[Working]:
    hidden = [view for view in look.views if view.hidden]
    yield Working(
        f"routes.sight.{look.station.id}",
        f"stations/{look.station.id}",
        _("Floor in sight from {station}").format(station=station_name(look.station)),
        _("the floor to which a straight line leads from where somebody stands, past walls, "
          "columns and whatever is as high as an eye"),
        (),
        Quantity(round(look.area_m2, 2), "m²"),
        Verdict.INFORMS,
    )  # fmt: skip
    yield Working(
        f"routes.sight-machines.{look.station.id}",
        f"stations/{look.station.id}",
        _("Hot or moving machines out of sight from {station}").format(
            station=station_name(look.station)
        ),
        _("machines none of whose clear floor is in sight"),
        (),
        Quantity(len(hidden), _("machines")),
        Verdict.INFORMS,
    )


def _finding(view: View, outlooks: Sequence[Outlook]) -> Finding:
    watchers = _(" and ").join(station_name(look.station) for look in outlooks)
    names = {
        "machine": view.machine.name,
        "watchers": watchers,
        "area": square_metres(view.area_mm2),
        "hidden": square_metres(view.area_mm2 - view.seen_mm2),
    }
    if view.hidden or names["hidden"] == names["area"]:
        says = _("{machine} is out of sight from {watchers}: nothing of its {area} is seen.")
    else:
        says = _("{machine} is only partly in sight from {watchers}: {hidden} of {area} are not.")
    return Finding(
        "routes.out-of-sight",
        Severity.FIX if view.hidden else Severity.NOTE,
        view.machine.origin_of("station"),
        capital(says.format(**names)),
        _("Have somebody stand where they see it while it runs, or lower what hides it."),
        subject=f"machines/{view.machine.id}",
        working=f"routes.sight.{outlooks[0].station.id}",
    )


def _nobody(standing: Standing) -> Finding:
    return Finding(
        "routes.nobody-watches",
        Severity.NOTE,
        standing.shop.room.origin,
        _("No station is written down as one from which somebody watches over others."),
        _("Write `supervises: true` at the station where they stand."),
        subject="room",
    )
