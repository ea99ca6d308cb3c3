"""The walk out: to the nearest exit, to a second one, and how long there is only one way to go.

Walks are measured as they are walked, around what stands in the way.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.wording import _
from generator.ground.working import Quantity, Verdict, Working
from generator.shop.shop import Shop
from generator.workings.figures import Figure, figure
from generator.workings.floor.lengths import metres
from generator.workings.floor.standing import station_name
from generator.workings.footprint import Point
from generator.workings.part import Part
from generator.workings.routes.journeys import Journey, Journeys
from generator.workings.routes.places import Stand

ANOTHER_DIRECTION_DEG = 45.0
"""Ways that part by this much or more lead in different directions (a convention of fire
guides)."""


@dataclass(frozen=True, slots=True)
class WayOut:
    """The ways out from one side.

    ``exits`` are the walks to every exit it reaches, the shortest first; ``one_way_mm`` is how
    far of the first there is only one direction to go.
    """

    stand: Stand
    exits: tuple[Journey, ...]
    one_way_mm: float

    @property
    def nearest(self) -> Journey | None:
        return self.exits[0] if self.exits else None

    @property
    def second(self) -> Journey | None:
        return self.exits[1] if len(self.exits) > 1 else None

    @property
    def dead_end(self) -> bool:
        """Whether there is only one direction all the way."""
        return self.nearest is not None and self.one_way_mm >= self.nearest.length_mm - 1.0


@dataclass(frozen=True, slots=True)
class Escape:
    """The ways out of every side that is worked at."""

    ways: tuple[WayOut, ...]
    part: Part


@dataclass(frozen=True, slots=True)
class _Limits:
    """The longest walks: with one direction to go, and with more, by how the risk is classed."""

    one: Figure
    one_higher: Figure
    more: Figure
    more_higher: Figure


def study(shop: Shop, journeys: Journeys, stands: Sequence[Stand]) -> Escape:
    """Measure the ways out."""
    ways = tuple(_way_out(journeys, stand) for stand in stands)
    limits = _Limits(
        figure(shop, "exit-travel-one-direction"),
        figure(shop, "exit-travel-one-direction-higher-risk"),
        figure(shop, "exit-travel-alternatives"),
        figure(shop, "exit-travel-alternatives-higher-risk"),
    )
    worst = [_worst(way for way in ways if way.stand.station.id == id_) for id_ in shop.stations]
    shown = [way for way in worst if way]
    workings = [w for way in shown for w in _station_workings(way)]
    judged = list(_judged(shown, limits))
    findings = [f for working in judged for f in _findings(shop, working, limits)]
    return Escape(ways, Part((*workings, *judged), tuple(findings)))


def _way_out(journeys: Journeys, stand: Stand) -> WayOut:
    walks = journeys.to_exits(stand)
    if not walks:
        return WayOut(stand, (), 0.0)
    return WayOut(stand, walks, _one_way(journeys, walks))


def _one_way(journeys: Journeys, walks: Sequence[Journey]) -> float:
    """How far along the shortest way out one goes until another exit lies another way.

    Asked at every bend: the straight step along this way, and the one towards the other exit.
    """
    first, others = walks[0], walks[1:]
    gone = 0.0
    for here, ahead in pairwise(first.line):
        onward = journeys.heads_for(here, first)
        for other in others:
            apart = _apart_deg(here, onward, journeys.heads_for(here, other))
            if apart >= ANOTHER_DIRECTION_DEG - 1e-6:
                return gone
        gone += math.dist(here, ahead)
    return first.length_mm


def _apart_deg(here: Point, one: Point, other: Point) -> float:
    first = math.atan2(one[1] - here[1], one[0] - here[0])
    second = math.atan2(other[1] - here[1], other[0] - here[0])
    turn = abs(first - second) % math.tau
    return math.degrees(min(turn, math.tau - turn))


def _worst(ways: Iterable[WayOut]) -> WayOut | None:
    """The side of a station from which the nearest exit is farthest."""
    known = [way for way in ways if way.nearest]
    return max(known, key=lambda way: way.exits[0].length_mm, default=None)


# --- shown ---------------------------------------------------------------------------------------


def _station_workings(way: WayOut) -> Iterator[Working]:
    station = way.stand.station
    named = (("nearest", _("Walk from {station} to the nearest exit, {exit}")),
             ("second", _("Walk from {station} to the second exit, {exit}")))  # fmt: skip
    for (key, title), walk in zip(named, way.exits, strict=False):
        yield Working(
            f"routes.exit-{key}.{station.id}",
            f"stations/{station.id}",
            title.format(station=station_name(station), exit=walk.end),
            _("the shortest walk around everything that stands in the way, from the side that "
              "is farthest from it"),
            (),
            _m(walk.length_mm),
        )  # fmt: skip
    yield Working(
        f"routes.one-way.{station.id}",
        f"stations/{station.id}",
        _("Of that, with only one direction to go, from {station}").format(
            station=station_name(station)
        ),
        _("how far along that walk until another exit lies off by 45° or more"),
        (),
        _m(way.one_way_mm),
    )


def _m(length_mm: float) -> Quantity:
    return Quantity(math.floor(length_mm / 10 + 0.5 + 1e-6) / 100, "m")


def _judged(shown: Sequence[WayOut], limits: _Limits) -> Iterator[Working]:
    """The farthest walk of the whole room, and the longest with only one direction."""
    one = max(shown, key=lambda way: way.one_way_mm, default=None)
    far = max(shown, key=lambda way: way.exits[0].length_mm, default=None)
    if one:
        title = _("Longest walk with only one direction to go, from {station}")
        yield _judge("routes.one-way", title, one, one.one_way_mm, (limits.one, limits.one_higher))
    if far:
        title = _("Longest walk to the nearest exit, from {station}")
        length = far.exits[0].length_mm
        yield _judge("routes.travel", title, far, length, (limits.more, limits.more_higher))


def _judge(
    id_: str, title: str, way: WayOut, length_mm: float, limits: tuple[Figure, Figure]
) -> Working:
    normal, higher = limits
    length = _m(length_mm)
    verdict = normal.verdict(length.value <= normal.value)
    if verdict is Verdict.HOLDS and length.value > higher.value:
        verdict = Verdict.UNANSWERED
    return Working(
        id_,
        f"stations/{way.stand.station.id}",
        title.format(station=station_name(way.stand.station)),
        _("the longest of the walks from every side that is worked at"),
        (higher.as_input,),
        length,
        verdict,
        normal.quantity,
        normal.origin,
        Quantity(round(normal.value - length.value, 2), "m"),
        normal.caution or _("How the risk is classed is for a competent person to say."),
    )


def _findings(shop: Shop, working: Working, limits: _Limits) -> Iterator[Finding]:
    normal = limits.one if working.id == "routes.one-way" else limits.more
    origin: Origin = shop.room.origin_of("doors")
    says = _("{title}: {length}.").format(
        title=working.title, length=metres(working.result.value * 1000)
    )
    if normal.lent_by:
        yield normal.question(working.id, origin, says, "fire", working.subject)
    elif working.verdict is Verdict.UNANSWERED:
        yield Finding(
            working.id, Severity.ASK, origin, says,
            _("That is within the limit for normal risk, not for higher risk: ask which it is."),
            subject=working.subject, working=working.id, asks="fire",
        )  # fmt: skip
    elif working.verdict is Verdict.FAILS:
        yield Finding(
            working.id, Severity.STOP, origin,
            _("{says} At most {limit} are allowed for.").format(
                says=says, limit=metres(normal.value * 1000)),
            _("Shorten the way, or have another exit made."),
            subject=working.subject, working=working.id,
        )  # fmt: skip
