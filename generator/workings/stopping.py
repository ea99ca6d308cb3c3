"""Can whoever works at a machine see and reach what stops it?

Held from every side of its station that is worked at: the emergency stop must be in reach, and
whatever takes the power must be in sight, so that nobody turns on what somebody else has opened.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import shapely
from shapely import Polygon

from generator.ground.finding import Finding, Severity
from generator.ground.survey import Survey, survey
from generator.ground.wording import _
from generator.reference import reference
from generator.shop.records.machines import Machine
from generator.shop.records.room import Equipment
from generator.shop.shop import Shop
from generator.workings.floor.lengths import metres
from generator.workings.footprint import Point, footprint, outward
from generator.workings.routes.places import Stand, stands_of
from generator.workings.sight import Sight

_STEP_MM = 600.0
"""A step aside [mm]."""


@dataclass(frozen=True, slots=True)
class From:
    """A stop or an isolator as it is from one side of a station [mm]."""

    stand: Stand
    thing: Equipment
    distance_mm: float
    in_sight: bool


@dataclass(frozen=True, slots=True)
class StoppingStudy:
    """Every stop and isolator from every working side, by machine."""

    views: dict[str, tuple[From, ...]]
    survey: Survey

    def furthest(self, machine: str, thing: str) -> From | None:
        """A thing from the working side it is worst seen or furthest from."""
        rows = [v for v in self.views.get(machine, ()) if v.thing.id == thing]
        return max(rows, key=lambda v: (not v.in_sight, v.distance_mm), default=None)


def study(shop: Shop) -> StoppingStudy:
    """Look at what stops each machine from wherever somebody works at it.

    Parameters
    ----------
    shop
        The shop. A machine without a drive of its own needs no stop and is left out.
    """
    eyes = _Eyes(shop)
    driven = [machine for machine in shop.machines.values() if machine.electric]
    views = {m.id: tuple(_views(shop, eyes, m)) for m in driven}
    found = [f for m in driven for f in _findings(m, views[m.id])]
    asked = sum(f.severity is Severity.ASK for f in found)
    checks = sum(max(1, len(rows)) for rows in views.values())
    return StoppingStudy(
        views, survey("stopping", (), found, other_checks=checks, other_unanswered=asked)
    )


class _Eyes:
    """Where somebody looks from at a working side, and what they see.

    A step to either side counts, as far as there is floor to take it: whoever looks for a stop
    turns round and leans out.
    """

    def __init__(self, shop: Shop) -> None:
        self._sight = Sight(shop)
        self._room = Polygon(shop.room.outline)
        stations = [Polygon(footprint(thing)) for thing in shop.stations.values()]
        columns = [Polygon(footprint(thing)) for thing in shop.room.columns.values()]
        self._taken = (*stations, *columns)

    def places_at(self, stand: Stand) -> Iterator[Point]:
        """The places along a side, and a step beyond each end of it [mm]."""
        yield from stand.spots
        normal = outward(stand.station, stand.side)
        for spot in stand.spots:
            for step in (-_STEP_MM, _STEP_MM):
                aside = (spot[0] - normal[1] * step, spot[1] + normal[0] * step)
                if self._is_floor(aside):
                    yield aside

    def _is_floor(self, point: Point) -> bool:
        here = shapely.Point(point)
        return self._room.contains(here) and not any(t.intersects(here) for t in self._taken)

    def see(self, place: Point, thing: Equipment) -> bool:
        """Whether a thing is in sight from a place."""
        return self._sight.clear(place, thing.at)


def _views(shop: Shop, eyes: _Eyes, machine: Machine) -> Iterator[From]:
    stands = stands_of(shop.stations[machine.station])
    worked_at = [stand for stand in stands if not stand.service] or stands
    for stand in worked_at:
        for thing in shop.isolators_of(machine.id):
            distance = min(math.dist(spot, thing.at) for spot in stand.spots)
            seen = any(eyes.see(spot, thing) for spot in eyes.places_at(stand))
            yield From(stand, thing, distance, seen)


def can_hurt(machine: Machine) -> bool:
    """Whether something in it turns, moves or heats."""
    moves = machine.run_down_s or machine.guard_openings or machine.moves
    return machine.is_hot or bool(moves)


def reach_mm() -> float:
    """How far off a stop may be and still be in reach [mm]."""
    return reference().limit("stop-in-reach").low


# --- what is found -----------------------------------------------------------------------------


def _findings(machine: Machine, views: Sequence[From]) -> Iterator[Finding]:
    if not can_hurt(machine):
        return
    isolators = [v for v in views if v.thing.kind == "isolator"]
    stops = [v for v in views if v.thing.kind == "emergency-stop"]
    if not isolators:
        yield _no_isolator(machine)
    if machine.emergency_stop is not True:
        yield from _stops(machine, stops, isolators)
    yield from _isolators(machine, isolators)


def _no_isolator(machine: Machine) -> Finding:
    says = _("Nothing on the plan takes the power from {machine}.").format(machine=machine.name)
    mend = _("Say which isolator does, under `isolates` of the room's equipment, or have one set.")
    return _finding("no-isolator", Severity.ASK, machine, says, mend, asks="electrician")


def _stops(machine: Machine, stops: Sequence[From], isolators: Sequence[From]) -> Iterator[Finding]:
    """The emergency stop of a machine that has none on itself, or where nobody has said."""
    nearest = tuple(_nearest_by_side(stops or isolators))
    if not stops:
        yield _no_stop(machine, nearest)
        return
    far = [v for v in nearest if v.distance_mm > reach_mm()]
    if far:
        says = _(
            "{machine} has no emergency stop on it, and the nearest, “{thing}”, is {distance} from "
            "{side}; {limit} is in reach."
        )
        worst = max(far, key=lambda v: v.distance_mm)
        says = says.format(limit=metres(reach_mm()), **_facts(machine, worst))
        mend = _("Have one set within {limit} of where somebody stands.")
        yield _finding(
            "stop-far", Severity.FIX, machine, says, mend.format(limit=metres(reach_mm()))
        )
    for view in nearest:
        if not view.in_sight and view not in far:
            says = _("“{thing}”, which stops {machine}, cannot be seen from {side}.")
            mend = _("Hang it where it is seen, or clear what stands before it.")
            yield _finding(
                "stop-hidden", Severity.FIX, machine, says.format(**_facts(machine, view)), mend
            )


def _no_stop(machine: Machine, isolators: Iterable[From]) -> Finding:
    """A stop where nothing at all is in reach, an answer wanted where nobody has looked."""
    at_hand = [v for v in isolators if v.in_sight and v.distance_mm <= reach_mm()]
    if machine.emergency_stop is None:
        says = _("Nobody has said whether {machine} has an emergency stop.")
        severity, asks = Severity.ASK, "maintainer"
        mend = _("Look, and write `emergency_stop: true` or `false` into its record.")
    elif at_hand:
        says = _("{machine} has no emergency stop; its isolator is in sight and in reach.")
        severity, asks = Severity.NOTE, ""
        mend = _("Have the electrician say whether that is enough for what it can do.")
    else:
        says = _("{machine} has no emergency stop, and nothing that takes its power is in reach.")
        severity, asks = Severity.STOP, ""
        mend = _("Leave it off until a stop is set where it is worked at.")
    return _finding("no-stop", severity, machine, says.format(machine=machine.name), mend, asks)


def _isolators(machine: Machine, views: Sequence[From]) -> Iterator[Finding]:
    """An isolator that nobody at the machine can see, the nearest where there are several."""
    hidden = [v for v in _nearest_by_side(views) if not v.in_sight]
    if hidden:
        sides = _(" and ").join(v.stand.name for v in hidden)
        says = _("“{thing}”, which takes the power from {machine}, cannot be seen from {sides}.")
        facts = {"thing": hidden[0].thing.name, "machine": machine.name, "sides": sides}
        mend = _("Whoever opens it must hang a lock of their own there; better, bring it in sight.")
        yield _finding("isolator-hidden", Severity.FIX, machine, says.format(**facts), mend)


def _nearest_by_side(views: Iterable[From]) -> Iterator[From]:
    """For each side, what is in sight before what is not, the nearest of it."""
    by_side: dict[str, list[From]] = {}
    for view in views:
        by_side.setdefault(view.stand.side, []).append(view)
    for rows in by_side.values():
        yield min(rows, key=lambda v: (not v.in_sight, v.distance_mm))


def _facts(machine: Machine, view: From) -> dict[str, object]:
    return {
        "machine": machine.name,
        "thing": view.thing.name,
        "side": view.stand.name,
        "distance": metres(view.distance_mm),
    }


def _finding(  # noqa: PLR0917 - the fields of a finding, in their order
    rule: str, severity: Severity, machine: Machine, says: str, mend: str, asks: str = ""
) -> Finding:
    subject = f"machines/{machine.id}"
    return Finding(
        f"stopping.{rule}", severity, machine.origin, says, mend, subject=subject, asks=asks
    )
