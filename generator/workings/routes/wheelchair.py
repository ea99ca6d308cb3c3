"""Whether a wheelchair gets from an exit to every working side, and can turn there.

A wheelchair's route has a least width; a short pinch may be narrower. A circle to turn in must
fit on the route where it touches the side's clear floor.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely

from generator.ground.finding import Finding, Severity
from generator.ground.wording import _, ngettext
from generator.ground.working import Quantity, Working
from generator.shop.shop import Shop
from generator.workings.figures import Figure, figure
from generator.workings.floor.lengths import falls_short, mm, whole_mm
from generator.workings.floor.standing import Opening, points_of, station_name
from generator.workings.footprint import Point
from generator.workings.part import Part
from generator.workings.routes.gaps import Gap, Way
from generator.workings.routes.places import Stand, feet_at_stand
from generator.workings.routes.reach import Ground

_OVERLAP_MM = 1.0
"""How far a turning circle must reach into a side's clear floor: touching it is not at it."""


@dataclass(frozen=True, slots=True)
class Wheeled:
    """How a wheelchair gets to one side.

    ``width_mm`` is the narrowest place of the widest way (None: nothing narrows it, 0: there is
    no way), ``gap`` that place, ``pinch_mm`` how long the way is narrower than a route should
    be, ``reached`` whether it is a route all the same, ``turn`` the middle of a turning circle
    at the side, None where none fits.
    """

    stand: Stand
    width_mm: float | None
    gap: Gap | None
    pinch_mm: float
    reached: bool
    turn: Point | None


@dataclass(frozen=True, slots=True)
class Wheelchair:
    """A wheelchair's ways from the exits it can use, and the circle it turns in [mm]."""

    exits: tuple[Opening, ...]
    sides: tuple[Wheeled, ...]
    circle_mm: float
    part: Part


@dataclass(frozen=True, slots=True)
class _Needs:
    route: Figure
    pinch: Figure
    pinch_length: Figure
    circle: Figure

    @property
    def least_mm(self) -> float:
        """The narrowest pinch; a shop's own width below the table's is its own pinch too."""
        return min(self.route.value, self.pinch.value)


def study(ground: Ground) -> Wheelchair:
    """Find how a wheelchair gets about."""
    shop = ground.shop
    needs = _Needs(
        figure(shop, "wheelchair-route", "wheelchair_mm"),
        figure(shop, "wheelchair-pinch"),
        figure(shop, "wheelchair-pinch-length"),
        figure(shop, "turning-circle"),
    )
    exits = tuple(o for o in ground.exits.values() if _level(o, needs))
    goals = frozenset[int]().union(*(ground.door_cells(opening) for opening in exits))
    sides = tuple(_wheeled(ground, stand, goals, needs) for stand in ground.worked_at)
    workings = (*_workings(shop, sides), *_judged(sides, needs))
    findings = tuple(_findings(ground, exits, sides, needs))
    return Wheelchair(exits, sides, needs.circle.value, Part(workings, findings))


def _level(opening: Opening, needs: _Needs) -> bool:
    door = opening.door
    return door.step_mm == 0 and not falls_short(door.clear_width_mm, needs.least_mm)


def _wheeled(ground: Ground, stand: Stand, goals: frozenset[int], needs: _Needs) -> Wheeled:
    way = ground.narrows.widest(ground.start_cells(stand, needs.least_mm), goals)
    gap = way.narrowest if way else None
    width = 0.0 if way is None else gap.width_mm if gap else None
    pinch = _longest_pinch(ground, way, needs.route.value) if way else 0.0
    wide = way is not None and (gap is None or gap.lets_pass(needs.route.value))
    short = pinch <= needs.pinch_length.value + 1.0
    squeezes = gap is not None and gap.lets_pass(needs.least_mm) and short
    reached = _has_floor(ground, stand, needs) and (wide or squeezes)
    turn = _turn(ground, stand, needs) if reached else None
    return Wheeled(stand, width, gap, pinch, reached, turn)


def _has_floor(ground: Ground, stand: Stand, needs: _Needs) -> bool:
    """Whether there is floor to be at a side: a wide way past it is not a way to it."""
    return bool(feet_at_stand(ground.standing, ground.free(needs.least_mm), stand))


def _longest_pinch(ground: Ground, way: Way, route_mm: float) -> float:
    """The longest stretch of a way that is narrower than a route should be [mm].

    It runs from the first narrow gap to the last before a place where a wheelchair's route
    would fit again.
    """
    free = ground.free(route_mm)
    longest, start = 0.0, None
    for gap, cell in zip(way.gaps, way.cells[1:], strict=True):
        if gap.lets_pass(route_mm):
            start = None
            continue
        start = start or gap.middle
        longest = max(longest, math.dist(start, gap.middle))
        if free.shape.intersects(ground.narrows.cells[cell]):
            start = None
    return longest


def _turn(ground: Ground, stand: Stand, needs: _Needs) -> Point | None:
    """The middle of a turning circle that touches a side's clear floor."""
    circles = ground.free(needs.circle.value)
    if not circles.shape.dwithin(stand.area, circles.half_mm - _OVERLAP_MM):
        return None
    line = shapely.shortest_line(circles.shape, stand.area)
    return points_of(line)[0]


# --- shown ---------------------------------------------------------------------------------------


def _workings(shop: Shop, sides: Sequence[Wheeled]) -> Iterator[Working]:
    for id_, station in shop.stations.items():
        found = [side for side in sides if side.stand.station.id == id_]
        if not found:
            continue
        worst = min(found, key=_wide)
        yield Working(
            f"routes.wheelchair.{id_}",
            f"stations/{id_}",
            _("Widest wheelchair route to {station}").format(station=station_name(station)),
            _("the narrowest gap on the widest way from an exit without a step"),
            (),
            Quantity(whole_mm(_wide(worst)), "mm"),
        )


def _judged(sides: Sequence[Wheeled], needs: _Needs) -> Iterator[Working]:
    """The narrowest of all, held against the figures."""
    if not sides:
        return
    worst = min(sides, key=_wide)
    yield Working(
        "routes.wheelchair",
        f"stations/{worst.stand.station.id}",
        _("Narrowest wheelchair route, to {station}").format(
            station=station_name(worst.stand.station)
        ),
        _("the narrowest of the widest ways; a short pinch may be narrower than a route, and "
          "where a route ends a turning circle must fit"),
        (needs.pinch.as_input, needs.pinch_length.as_input, needs.circle.as_input),
        Quantity(whole_mm(_wide(worst)), "mm"),
        needs.route.verdict(all(side.reached and side.turn for side in sides)),
        needs.route.quantity,
        needs.route.origin,
        Quantity(whole_mm(_wide(worst) - needs.route.value), "mm"),
        needs.route.caution,
    )  # fmt: skip


def _wide(side: Wheeled) -> float:
    return 2 * side.stand.area.length if side.width_mm is None else side.width_mm


def _findings(
    ground: Ground, exits: Sequence[Opening], sides: Sequence[Wheeled], needs: _Needs
) -> Iterator[Finding]:
    shop = ground.shop
    if ground.exits and not exits:
        yield Finding(
            "routes.wheelchair-exit",
            Severity.FIX,
            shop.room.origin_of("doors"),
            _("No exit is without a step and {width} wide, so none is for a wheelchair.").format(
                width=mm(needs.least_mm)
            ),
            _("Ramp a step or widen a door, or say plainly that there is no such way out."),
            subject="room",
        )
        return
    lost = _numbers(side for side in sides if not side.reached)
    tight = _numbers(side for side in sides if side.reached and side.turn is None)
    says = " ".join(_sentences(lost, tight, needs))
    if needs.route.lent_by:
        whole = says or _("A wheelchair reaches every working side and can turn there.")
        origin = shop.room.origin_of("doors")
        yield needs.route.question("routes.wheelchair", origin, whole, "landlord", "room")
    elif says:
        yield Finding(
            "routes.wheelchair",
            Severity.FIX,
            shop.room.origin_of("doors"),
            says,
            _("Widen the ways named on the plan, or bring that work to where a wheelchair gets."),
            subject="room",
        )


def _numbers(sides: Iterator[Wheeled]) -> list[int]:
    return sorted({side.stand.station.number for side in sides})


def _sentences(lost: Sequence[int], tight: Sequence[int], needs: _Needs) -> Iterator[str]:
    if lost:
        says = ngettext(
            "No wheelchair route {width} wide leads to station {numbers}.",
            "No wheelchair route {width} wide leads to stations {numbers}.",
            len(lost),
        )
        yield says.format(width=mm(needs.route.value), numbers=", ".join(map(str, lost)))
    if tight:
        says = ngettext(
            "A circle of {circle} to turn in does not fit at station {numbers}.",
            "A circle of {circle} to turn in does not fit at stations {numbers}.",
            len(tight),
        )
        yield says.format(circle=mm(needs.circle.value), numbers=", ".join(map(str, tight)))
