"""Where escape plans hang, and the ways out of whoever stands before each."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely
from shapely import Polygon

from generator.ground.finding import Finding, Severity
from generator.ground.wording import _, ngettext
from generator.ground.working import Quantity, Verdict, Working
from generator.shop.records.room import EscapePlan
from generator.shop.shop import Shop
from generator.workings.floor.standing import Standing, along
from generator.workings.footprint import Point, footprint
from generator.workings.part import Part
from generator.workings.routes import Journey, RouteStudy
from generator.workings.routes.journeys import door_path
from generator.workings.routes.places import feet_before
from generator.workings.routes.walks import Walks
from generator.workings.shown import at_station
from generator.workings.signage.faces import Faces, Spot
from generator.workings.signage.viewing import apart_mm

_READER_MM = 600.0
"""How far before the wall its reader stands."""

_BODY_MM = 600.0
_REACH_MM = 2500.0
_LOWEST_MM = 1100.0
"""What is higher than this hides a plan behind it."""

_FROM_OTHERS_MM = 450.0


@dataclass(frozen=True, slots=True)
class EscapePlanPlace:
    """A place at which an escape plan hangs.

    ``record`` is what the shop has written of it, None where the place is laid here: by every
    exit, and where the way out is longest. ``name`` says where in words. ``ways`` are the walks
    to every exit, the shortest first.
    """

    id: str
    spot: Spot
    height_mm: float
    name: str
    record: EscapePlan | None
    ways: tuple[Journey, ...]

    @property
    def turn_deg(self) -> float:
        """How far the plan is turned, counter-clockwise, for up on it to be ahead of its reader."""
        ahead = math.degrees(math.atan2(-self.spot.into[1], -self.spot.into[0]))
        return round((90.0 - ahead) % 360.0, 6)

    @property
    def reader(self) -> Point:
        """Where its reader stands [mm]."""
        return along(self.spot.at, self.spot.into, _READER_MM)

    @property
    def signed(self) -> bool:
        """Whether a competent person has signed it off, with a date."""
        return bool(self.record and self.record.signed and self.record.signed_by)


def places(
    standing: Standing, faces: Faces, routes: RouteStudy, taken: Sequence[Spot]
) -> tuple[EscapePlanPlace, ...]:
    """Every place of an escape plan: those the shop has written, else those laid here.

    Parameters
    ----------
    standing, faces, routes
        The room, what can be hung on, and how people get about.
    taken
        Where something hangs already.
    """
    found = list(_written(standing, faces) or _laid(standing, faces, routes, taken))
    walks = _Ways(standing, routes, [spot.at for _id, spot, *_rest in found])
    return tuple(
        EscapePlanPlace(id_, spot, height, name, record, walks.of(n))
        for n, (id_, spot, height, name, record) in enumerate(found)
    )


_Found = tuple[str, Spot, float, str, EscapePlan | None]


def _written(standing: Standing, faces: Faces) -> list[_Found]:
    plans = standing.shop.room.escape_plans
    found: list[_Found] = []
    for id_, plan in plans.items():
        spot = faces.spot_of(plan.at)
        found.append((id_, spot, plan.height_mm, _near(standing, spot), plan))
    return found


def _near(standing: Standing, spot: Spot) -> str:
    """A spot in words: by a door that is near, else by the nearest station."""
    for opening in standing.openings.values():
        if apart_mm(opening.middle, spot.at) <= _REACH_MM:
            return _("by {door}").format(door=opening.door.name)
    stations = standing.shop.stations
    here = shapely.Point(spot.at)
    near = min(stations, key=lambda id_: Polygon(footprint(stations[id_])).distance(here))
    return _("by {station}").format(station=at_station(standing.shop, near))


def _laid(
    standing: Standing, faces: Faces, routes: RouteStudy, taken: Sequence[Spot]
) -> Iterator[_Found]:
    kept = list(taken)
    for id_, opening in standing.exits.items():
        spot = _bare(standing, faces, opening.middle, kept)
        if spot is not None:
            kept.append(spot)
            yield id_, spot, 1500.0, _near(standing, spot), None
    far = max(
        (way for way in routes.escape.ways if way.nearest),
        key=lambda way: round(way.exits[0].length_mm, 3),
        default=None,
    )
    if far is not None:
        station = far.stand.station
        spot = _bare(standing, faces, station.at, kept)
        if spot is not None:
            name = _("where the way out is longest, by {station}").format(
                station=at_station(standing.shop, station.id)
            )
            yield station.id, spot, 1500.0, name, None


def _bare(standing: Standing, faces: Faces, near: Point, taken: Sequence[Spot]) -> Spot | None:
    """The nearest bare stretch of wall before which somebody can stand."""
    floor = standing.grown_floor
    high = [thing.polygon for thing in standing.things if thing.height_mm > _LOWEST_MM]
    hidden = shapely.union_all(high).buffer(1.0)
    swings = shapely.union_all([o.swing for o in standing.openings.values() if o.swing])

    def in_swing(spot: Spot) -> bool:
        reader = shapely.Point(along(spot.at, spot.into, _READER_MM))
        return bool(shapely.dwithin(swings, reader, _BODY_MM / 2))

    spots = faces.spots_near(shapely.Point(near).buffer(1.0), 2 * _REACH_MM)
    fit = (
        spot
        for spot in spots
        if spot.kind == "wall"
        and not in_swing(spot)
        and not hidden.contains(shapely.Point(spot.before))
        and floor.contains(shapely.Point(along(spot.at, spot.into, _READER_MM)))
        and all(apart_mm(spot.at, other.at) >= _FROM_OTHERS_MM for other in taken)
    )
    return min(fit, key=lambda spot: (round(apart_mm(spot.at, near)), spot.at), default=None)


class _Ways:
    """The walks from some places on walls to every exit."""

    def __init__(self, standing: Standing, routes: RouteStudy, at: Sequence[Point]) -> None:
        journeys = routes.journeys
        parts = routes.ground.home_parts(journeys.free)
        self._starts = [feet_before(standing, journeys.free, parts, point)[:1] for point in at]
        self._doors = [
            (door_path(id_), str(opening.door.name), foot)
            for id_, opening in standing.exits.items()
            for foot in journeys.feet(door_path(id_))
        ]
        self._at = at
        points = [foot.at for feet in self._starts for foot in feet]
        self._first_door = len(points)
        points += [foot.at for _path, _name, foot in self._doors]
        self._walks = Walks(journeys.free, points)
        self._walks.look_from(range(self._first_door, len(points)))

    def of(self, number: int) -> tuple[Journey, ...]:
        """The walks from one place, the shortest to each exit, the nearest exit first."""
        if not self._starts[number]:
            return ()
        start = sum(len(feet) for feet in self._starts[:number])
        best: dict[str, Journey] = {}
        for n, (path, name, foot) in enumerate(self._doors):
            end = self._first_door + n
            length = self._walks.length(start, end) + foot.rest_mm
            if math.isfinite(length) and (path not in best or length < best[path].length_mm):
                line = (*self._walks.line(start, end), foot.end)
                best[path] = Journey(f"plan/{number}", path, "", name, line, length)
        return tuple(sorted(best.values(), key=lambda walk: round(walk.length_mm, 3)))


def told(shop: Shop, plans: Sequence[EscapePlanPlace]) -> Part:
    """The walks from each plan, and which are not signed off."""
    workings = tuple(w for plan in plans for w in _workings(plan))
    return Part(workings, tuple(_findings(shop, plans)), len(plans))


def _workings(plan: EscapePlanPlace) -> Iterator[Working]:
    for key, walk in zip(("nearest", "second"), plan.ways, strict=False):
        title = _("Walk from the escape plan {place} to {exit}")
        yield Working(
            f"signage.escape-plan-{key}.{plan.id}",
            f"room/escape_plans/{plan.id}" if plan.record else "room",
            title.format(place=plan.name, exit=walk.end),
            _("the shortest walk around everything that stands in the way"),
            (),
            Quantity(round(walk.length_mm / 1000, 2), "m"),
            Verdict.INFORMS,
        )


def _findings(shop: Shop, plans: Sequence[EscapePlanPlace]) -> Iterator[Finding]:
    room = shop.room
    unsigned = [plan for plan in plans if not plan.signed]
    if unsigned:
        says = ngettext(
            "The escape plan {places} is not signed off and says draft.",
            "{n} escape plans are not signed off and say draft: {places}.",
            len(unsigned),
        )
        mend = _("Have a competent person check them on the spot; then write where each hangs, "
                 "`signed` and `signed_by` under `escape_plans` of the room.")  # fmt: skip
        yield Finding(
            "signage.escape-plan",
            Severity.ASK,
            room.origin_of("escape_plans") if room.escape_plans else room.origin,
            says.format(n=len(unsigned), places="; ".join(plan.name for plan in unsigned)),
            mend,
            subject="room",
            asks="fire",
        )
    for plan in plans:
        if not plan.ways:
            yield _no_way(shop, plan)


def _no_way(shop: Shop, plan: EscapePlanPlace) -> Finding:
    says = _("From the escape plan {place} no exit is reached through an aisle wide enough.")
    return Finding(
        "signage.escape-plan-no-way",
        Severity.STOP,
        plan.record.origin if plan.record else shop.room.origin_of("doors"),
        says.format(place=plan.name),
        _("Clear the way first: a plan cannot show what is not there."),
        subject="room",
    )
