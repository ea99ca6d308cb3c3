"""Whether the floor that somebody needs to work is clear: at working sides, service sides and
the distribution board."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import shapely

from generator.ground.finding import Finding, Severity
from generator.ground.wording import _
from generator.ground.working import Quantity, Verdict, Working
from generator.reference import reference
from generator.shop.records.refs import Side
from generator.shop.records.room import Supply
from generator.shop.records.stations import Station, WorkingSide
from generator.workings.figures import Figure, figure
from generator.workings.floor.ahead import Ahead, Face, look_ahead
from generator.workings.floor.lengths import capital, falls_short, mm, whole_mm
from generator.workings.floor.standing import Standing, station_name
from generator.workings.footprint import Point, Ring, clear_area, outward, side_middle
from generator.workings.part import Part
from generator.workings.shown import own


def side_name(side: Side) -> str:
    """What a sentence calls a side of a station."""
    return {"front": _("front"), "back": _("back"), "left": _("left"), "right": _("right")}[side]


@dataclass(frozen=True, slots=True)
class SideRoom:
    """The clear floor at one working side.

    ``area`` is what must be clear, ``ahead`` the first thing that stands before the side.
    """

    station: Station
    side: WorkingSide
    area: Ring
    ahead: Ahead

    @property
    def needed_mm(self) -> float:
        return self.side.depth_mm

    @property
    def free_mm(self) -> float:
        return self.ahead.free_mm

    @property
    def blocked(self) -> bool:
        return falls_short(self.free_mm, self.needed_mm)


@dataclass(frozen=True, slots=True)
class BoardRoom:
    """The clear floor before the distribution board: what must be clear, and what is ahead."""

    area: Ring
    needed_mm: float
    ahead: Ahead

    @property
    def blocked(self) -> bool:
        return falls_short(self.ahead.free_mm, self.needed_mm)


@dataclass(frozen=True, slots=True)
class Sides:
    """Every working side, and the board."""

    sides: tuple[SideRoom, ...]
    board: BoardRoom
    part: Part


def study(standing: Standing) -> Sides:
    """Measure the clear floor at every working side and before the board."""
    sides = tuple(_sides(standing))
    board, board_part = _board(standing)
    workings = [_working(room) for room in sides]
    findings = [_blocked(standing, room) for room in sides if room.blocked]
    short, checks = _short_sides(standing)
    part = Part(
        (*workings, *board_part.workings), (*findings, *short, *board_part.findings), checks
    )
    return Sides(sides, board, part)


def face_of(station: Station, side: Side, width_mm: float | None = None) -> Face:
    """A side of a station's rectangle as a face."""
    along = station.size[0] if side in ("front", "back") else station.size[1]
    return Face(side_middle(station, side), outward(station, side), width_mm or along)


def _sides(standing: Standing) -> Iterator[SideRoom]:
    for id_, station in standing.shop.stations.items():
        for side in station.working_sides:
            face = face_of(station, side.side, side.width_mm)
            ahead = look_ahead(standing, face, passing=[f"stations/{id_}"])
            yield SideRoom(station, side, clear_area(station, side), ahead)


def _working(room: SideRoom) -> Working:
    station, side = room.station, room.side
    return Working(
        f"floor.side.{station.id}.{side.side}",
        f"stations/{station.id}",
        _("Clear floor at the {side} of {station}").format(
            side=side_name(side.side), station=station_name(station)
        ),
        _("how far it is straight out from the side, over its width, to the first thing there"),
        (own(_("Clear depth needed"), side, "depth_mm"),),
        Quantity(whole_mm(room.free_mm), "mm"),
        Verdict.FAILS if room.blocked else Verdict.HOLDS,
        Quantity(room.needed_mm, "mm"),
        side.origin_of("depth_mm"),
        Quantity(whole_mm(room.free_mm - room.needed_mm), "mm"),
    )


def _blocked(standing: Standing, room: SideRoom) -> Finding:
    station, side = room.station, room.side
    says = _(
        "At the {side} of {station}, {free} are clear up to {thing}; {needed} are needed."
    ).format(
        side=side_name(side.side),
        station=station_name(station),
        free=mm(room.free_mm),
        thing=standing.name_of(room.ahead.thing),
        needed=mm(room.needed_mm),
    )
    mend = _("Make {short} more room there.").format(short=mm(room.needed_mm - room.free_mm))
    return Finding(
        "floor.service-blocked" if side.service else "floor.side-blocked",
        Severity.FIX,
        side.origin,
        says,
        mend,
        subject=f"stations/{station.id}",
        working=f"floor.side.{station.id}.{side.side}",
    )


# --- depths written against the table ----------------------------------------------------------


def _short_sides(standing: Standing) -> tuple[list[Finding], int]:
    """Sides of machines that are given less floor than the table's; the maker's manual wins."""
    shop = standing.shop
    front = figure(shop, "machine-clearance-front")
    serviced = figure(shop, "machine-clearance-serviced")
    sides = [
        (station, side, serviced if side.service else front)
        for id_, station in shop.stations.items()
        if shop.machines_at(id_)
        for side in station.working_sides
    ]
    found = [_short(*each) for each in sides if each[1].depth_mm < each[2].value]
    return found, len(sides)


def _short(station: Station, side: WorkingSide, needed: Figure) -> Finding:
    says = _("{station} is given {depth} at its {side}; the table asks for {needed}.").format(
        station=station_name(station),
        depth=mm(side.depth_mm),
        side=side_name(side.side),
        needed=mm(needed.value),
    )
    return Finding(
        "floor.side-short",
        Severity.FIX if side.service else Severity.NOTE,
        side.origin_of("depth_mm"),
        capital(says),
        _("Look it up in the maker's manual, which wins, or give it more room."),
        subject=f"stations/{station.id}",
    )


# --- the distribution board --------------------------------------------------------------------


def inward_from_wall(standing: Standing, point: Point) -> Point:
    """The unit vector into the room from the wall nearest to a point."""
    ring = standing.room.exterior.coords
    walls = [shapely.LineString(ring[n : n + 2]) for n in range(len(ring) - 1)]
    nearest = min(range(len(walls)), key=lambda n: walls[n].distance(shapely.Point(point)))
    (ax, ay), (bx, by) = walls[nearest].coords
    long = math.hypot(bx - ax, by - ay)
    return (-(by - ay) / long, (bx - ax) / long)


def _board(standing: Standing) -> tuple[BoardRoom, Part]:
    supply = standing.shop.room.supply
    width, depth = _board_needs(standing, supply)
    face = Face(
        supply.panel,
        inward_from_wall(standing, supply.panel),
        max(width.value, supply.panel_width_mm),
    )
    room = BoardRoom(face.strip(depth.value), depth.value, look_ahead(standing, face))
    working = Working(
        "floor.board",
        "room/supply",
        _("Clear floor before the distribution board"),
        _("how far it is from the board, over the clear width, to the first thing there"),
        (width.as_input, own(_("Width of the board"), supply, "panel_width_mm")),
        Quantity(whole_mm(room.ahead.free_mm), "mm"),
        depth.verdict(not room.blocked),
        depth.quantity,
        depth.origin,
        Quantity(whole_mm(room.ahead.free_mm - depth.value), "mm"),
        depth.caution,
    )
    return room, Part((working,), tuple(_board_findings(standing, room, depth, face.width_mm)))


_LOW_VOLTAGE_V = 150.0  # to earth; above it the table asks for more depth


def _board_needs(standing: Standing, supply: Supply) -> tuple[Figure, Figure]:
    """Clear width and depth before the board, by the voltage to earth."""
    high = reference().supply(supply.profile).to_neutral.high > _LOW_VOLTAGE_V
    depth = "panel-clear-depth-high" if high else "panel-clear-depth"
    return figure(standing.shop, "panel-clear-width"), figure(standing.shop, depth)


def _board_findings(
    standing: Standing, room: BoardRoom, depth: Figure, width_mm: float
) -> Iterator[Finding]:
    supply = standing.shop.room.supply
    thing = standing.name_of(room.ahead.thing)
    says = _("Over {width} before the distribution board, {free} are clear up to {thing}.").format(
        width=mm(width_mm), free=mm(room.ahead.free_mm), thing=thing
    )
    subject = "room/supply"
    if depth.lent_by:
        yield depth.question("floor.board", supply.origin_of("panel"), says, "electrician", subject)
    elif room.blocked:
        yield Finding(
            "floor.board",
            Severity.FIX,
            supply.origin_of("panel"),
            _("{says} {needed} are needed.").format(says=says, needed=mm(depth.value)),
            _("Move {thing} away from the board; nothing is kept before it.").format(thing=thing),
            subject=subject,
            working="floor.board",
        )
