"""What is kept apart: wet from electrical, dusty from hot, visitors from what moves or burns.

The tables hold no distances for the first two: what the shop has is measured, and asked about.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import shapely
from shapely import LineString, Polygon

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.wording import _
from generator.ground.working import Quantity, Verdict, Working
from generator.shop.records.room import Outlet, WaterPoint, Zone
from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings.floor.guards import ARM_MM
from generator.workings.floor.lengths import capital, falls_short, metres, mm, whole_mm
from generator.workings.floor.sides import face_of
from generator.workings.floor.standing import Standing, points_of, station_name
from generator.workings.footprint import Point
from generator.workings.part import Part

_DUSTY_KINDS = frozenset({"granulator", "shredder", "band-saw", "belt-sander"})


@dataclass(frozen=True, slots=True)
class Apart:
    """How far apart two things are that should be: ``line`` joins them where they are nearest."""

    one: str
    other: str
    distance_mm: float
    line: tuple[Point, Point]


@dataclass(frozen=True, slots=True)
class Zones:
    """What is measured between zones.

    ``wet`` is each water point with the outlet or board nearest to it, ``dusty`` the nearest
    dusty and hot stations with no wall between (None without both), ``visitors`` each
    visitors' zone with the nearest unguarded hot surface or moving part.
    """

    wet: tuple[Apart, ...]
    dusty: Apart | None
    visitors: tuple[Apart, ...]
    part: Part


def study(standing: Standing) -> Zones:
    """Measure what is kept apart."""
    wet, wet_part = _wet(standing.shop)
    dusty, dusty_part = _dusty(standing)
    visitors, visitors_part = _visitors(standing)
    parts = (wet_part, dusty_part, visitors_part)
    whole = Part(
        tuple(w for part in parts for w in part.workings),
        tuple(f for part in parts for f in part.findings),
        sum(part.checks for part in parts),
        sum(part.unanswered for part in parts),
    )
    return Zones(wet, dusty, visitors, whole)


def _between(one: str, a: shapely.Geometry, other: str, b: shapely.Geometry) -> Apart:
    (ax, ay), (bx, by) = shapely.get_coordinates(shapely.shortest_line(a, b)).tolist()
    return Apart(one, other, float(shapely.distance(a, b)), ((ax, ay), (bx, by)))


def _outline(zone: Zone) -> Polygon:
    return Polygon(zone.outline)


# --- wet from electrical -----------------------------------------------------------------------


def _wet(shop: Shop) -> tuple[tuple[Apart, ...], Part]:
    electric = list(_electric(shop))
    nearest = tuple(_nearest_electric(id_, tap, electric) for id_, tap in shop.room.water.items())
    workings = tuple(_apart_working(f"floor.apart.water.{n}", "room", a) for n, a in
                     enumerate(nearest, 1))  # fmt: skip
    zones = {id_: z for id_, z in shop.room.zones.items() if z.kind == "wet" and z.outline}
    findings = tuple(_wet_question(shop, id_, zone) for id_, zone in zones.items())
    asked = tuple(finding for finding in findings if finding)
    return nearest, Part(workings, asked, len(zones), len(asked))


def _electric(shop: Shop) -> Iterator[tuple[str, Point]]:
    yield _("the distribution board"), shop.room.supply.panel
    for circuit in shop.room.circuits.values():
        for id_, outlet in circuit.outlets.items():
            name = _("the outlet `{id}` of {circuit}").format(id=id_, circuit=circuit.name)
            yield name, outlet.at


def _nearest_electric(id_: str, tap: WaterPoint, electric: list[tuple[str, Point]]) -> Apart:
    name = _("the water point `{id}`").format(id=id_)
    at = shapely.Point(tap.at)
    found = (_between(name, at, other, shapely.Point(p)) for other, p in electric)
    return min(found, key=lambda apart: round(apart.distance_mm, 3))


def _apart_working(id_: str, subject: str, apart: Apart) -> Working:
    return Working(
        id_,
        subject,
        _("From {one} to {other}").format(one=apart.one, other=apart.other),
        _("straight distance on the plan where they are nearest"),
        (),
        Quantity(whole_mm(apart.distance_mm), "mm"),
        Verdict.INFORMS,
    )


def _wet_question(shop: Shop, id_: str, zone: Zone) -> Finding | None:
    """What is electrical inside a wet zone, for the electrician."""
    area = _outline(zone).buffer(1.0)
    inside = [
        (name, outlet)
        for circuit in shop.room.circuits.values()
        for name, outlet in circuit.outlets.items()
        if area.intersects(shapely.Point(outlet.at))
    ]
    if not inside:
        return None
    says = _("Inside “{zone}”, where it is wet, hang outlets: {outlets}.").format(
        zone=zone.name, outlets=", ".join(_hung(*each) for each in inside)
    )
    return Finding(
        "floor.apart.wet",
        Severity.ASK,
        zone.origin,
        says,
        _("Ask whether place, height and enclosure of each are right there."),
        subject=f"room/zones/{id_}",
        asks="electrician",
    )


def _hung(id_: str, outlet: Outlet) -> str:
    return _("`{id}` at {height}").format(id=id_, height=mm(outlet.height_mm))


# --- dusty from hot ----------------------------------------------------------------------------


def _dusty(standing: Standing) -> tuple[Apart | None, Part]:
    """The nearest dusty and hot stations with no wall between; the same one where it is both."""
    shop = standing.shop
    hot = [s for s in shop.stations.values() if any(m.is_hot for m in shop.machines_at(s.id))]
    dusty = [s for s in shop.stations.values() if _makes_dust(shop, s)]
    room = standing.room.buffer(1.0)
    pairs = [(d, h) for d in dusty for h in hot]
    found = [apart for pair in pairs for apart in _stations_apart(standing, room, *pair)]
    if not found:
        return None, Part(checks=bool(pairs))
    nearest = min(found, key=lambda apart: round(apart.distance_mm, 3))
    working = _apart_working("floor.apart.dusty", "room", nearest)
    origin = min(s.origin_of("at") for s in dusty)
    return nearest, Part((working,), (_dusty_question(nearest, origin),), 1, 1)


def _makes_dust(shop: Shop, station: Station) -> bool:
    kinds = {machine.kind for machine in shop.machines_at(station.id)}
    return bool(kinds & _DUSTY_KINDS)


def _stations_apart(
    standing: Standing, room: Polygon, one: Station, other: Station
) -> Iterator[Apart]:
    """From each corner of either station straight to the other, where no wall is between."""
    shapes = [standing.by_subject[f"stations/{s.id}"].polygon for s in (one, other)]
    for here, there in (shapes, shapes[::-1]):
        for corner in points_of(here):
            apart = _between(station_name(one), shapely.Point(corner), station_name(other), there)
            if room.covers(LineString(apart.line)):
                yield apart


def _dusty_question(apart: Apart, origin: Origin) -> Finding:
    says = _("The nearest dusty and hot places, {one} and {other}, are {distance} apart.").format(
        one=apart.one, other=apart.other, distance=metres(apart.distance_mm)
    )
    return Finding(
        "floor.apart.dusty",
        Severity.ASK,
        origin,
        says,
        _("Ask whether that is enough for the dust there, or whether they need a wall between."),
        subject="room",
        working="floor.apart.dusty",
        asks="fire",
    )


# --- visitors from what moves or burns ---------------------------------------------------------


def _visitors(standing: Standing) -> tuple[tuple[Apart, ...], Part]:
    zones = [(id_, z) for id_, z in standing.shop.room.zones.items() if z.visitors and z.outline]
    dangers = list(_dangers(standing))
    found = [(id_, zone, _nearest_danger(zone, dangers)) for id_, zone in zones if dangers]
    workings = tuple(_visitors_working(id_, apart) for id_, _zone, apart in found)
    near = tuple(
        _visitors_finding(id_, zone, apart)
        for id_, zone, apart in found
        if falls_short(apart.distance_mm, ARM_MM)
    )
    return tuple(apart for _id, _zone, apart in found), Part(workings, near)


def _dangers(standing: Standing) -> Iterator[tuple[str, shapely.Geometry]]:
    """Unguarded hot surfaces, by their station, and the floor that moving parts sweep."""
    for machine in standing.shop.machines.values():
        station = standing.shop.stations[machine.station]
        shape = standing.by_subject[f"stations/{station.id}"].polygon
        for surface in machine.hot_surfaces:
            if not surface.guarded:
                yield (
                    _("“{where}” of {machine}").format(where=surface.where, machine=machine.name),
                    shape,
                )
        for moves in machine.moves:
            swept = Polygon(face_of(station, moves.side).strip(moves.reach_mm))
            name = _("“{what}” of {machine}").format(what=moves.what, machine=machine.name)
            yield name, swept


def _nearest_danger(zone: Zone, dangers: Iterable[tuple[str, shapely.Geometry]]) -> Apart:
    name = f"“{zone.name}”"
    found = (_between(name, _outline(zone), danger, shape) for danger, shape in dangers)
    return min(found, key=lambda apart: round(apart.distance_mm, 3))


def _visitors_working(id_: str, apart: Apart) -> Working:
    near = falls_short(apart.distance_mm, ARM_MM)
    return Working(
        f"floor.apart.visitors.{id_}",
        f"room/zones/{id_}",
        _("From visitors in {one} to {other}").format(one=apart.one, other=apart.other),
        _("straight distance on the plan from the zone's border to the station or the moving part"),
        (),
        Quantity(whole_mm(apart.distance_mm), "mm"),
        Verdict.FAILS if near else Verdict.HOLDS,
        Quantity(ARM_MM, "mm"),
        caution=_("As far as an arm of 14 years and over reaches. Children are not in the table."),
    )


def _visitors_finding(id_: str, zone: Zone, apart: Apart) -> Finding:
    says = _("Visitors in {one} are {distance} from {other}: an arm reaches {arm}.").format(
        one=apart.one, distance=mm(apart.distance_mm), other=apart.other, arm=mm(ARM_MM)
    )
    return Finding(
        "floor.apart.visitors",
        Severity.FIX,
        zone.origin_of("outline"),
        capital(says),
        _("Move the line, guard the place, or put something between."),
        subject=f"room/zones/{id_}",
        working=f"floor.apart.visitors.{id_}",
    )
