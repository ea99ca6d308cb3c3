"""How far it is to what must be found at once, as it is walked, and whether it can be got at."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from generator.ground.finding import Finding, Severity
from generator.ground.wording import _
from generator.ground.working import Quantity, Verdict, Working
from generator.shop.records.room import Equipment
from generator.shop.shop import Shop
from generator.workings.figures import Figure, figure
from generator.workings.floor.lengths import metres, mm
from generator.workings.part import Part
from generator.workings.routes.journeys import Journey, Journeys, equipment_path
from generator.workings.routes.places import feet_before
from generator.workings.routes.reach import Ground

ARMS_LENGTH_MM = 900.0
"""How far from the middle of somebody standing a thing on the wall may hang to be got at: an
assumption."""


@dataclass(frozen=True, slots=True)
class Need:
    """A kind of equipment, which of it counts, and the figure its walk is held against.

    ``limit`` is None where no table has one; ``hot_only`` where only hot stations count.
    """

    key: str
    name: str
    kind: str
    counts: Callable[[Equipment], bool]
    limit: Figure | None
    hot_only: bool = False


@dataclass(frozen=True, slots=True)
class Supply:
    """The walks from every station to the nearest of one kind, in file order of stations.

    A station from which none is reached is not among ``walks``.
    """

    need: Need
    found: tuple[Equipment, ...]
    walks: tuple[Journey, ...]

    @property
    def farthest(self) -> Journey | None:
        return max(self.walks, key=lambda walk: round(walk.length_mm, 3), default=None)


@dataclass(frozen=True, slots=True)
class HardToReach:
    """A thing on a wall that nobody gets near enough to, and how near they get [mm]."""

    equipment: Equipment
    away_mm: float


@dataclass(frozen=True, slots=True)
class Gear:
    """Walks to safety equipment."""

    supplies: tuple[Supply, ...]
    hard_to_reach: tuple[HardToReach, ...]
    part: Part


def study(ground: Ground, journeys: Journeys) -> Gear:
    """Measure the walks to extinguishers, first aid, eyewash and a cold tap for burns."""
    shop = ground.shop
    supplies = tuple(_supply(shop, journeys, need) for need in _needs(shop))
    hard = tuple(_hard_to_reach(ground))
    workings = tuple(w for supply in supplies if (w := _working(supply)))
    findings = [f for supply in supplies for f in _findings(shop, supply)]
    findings += map(_hard_finding, hard)
    part = Part(workings, tuple(findings), len(supplies) + len(shop.room.equipment))
    return Gear(supplies, hard, part)


def fights(equipment: Equipment, letter: str) -> bool:
    """Whether an extinguisher's rating names a class (``21A 113B``); one without a rating may."""
    rating = str(equipment.rating) if equipment.rating else ""
    return not rating or re.search(rf"\d\s*{letter}\b", rating) is not None


def _needs(shop: Shop) -> Iterator[Need]:
    def every(_equipment: Equipment) -> bool:
        return True

    yield Need(
        "extinguisher-a", _("extinguisher, class A"), "extinguisher",
        lambda e: fights(e, "A"), figure(shop, "extinguisher-travel-class-a"),
    )  # fmt: skip
    if shop.shop.jurisdiction == "US":
        yield Need(
            "extinguisher-b", _("extinguisher, class B"), "extinguisher",
            lambda e: fights(e, "B"), figure(shop, "extinguisher-travel-class-b"),
        )  # fmt: skip
    yield Need("first-aid", _("first-aid box"), "first-aid", every, None)
    yield Need("eyewash", _("eyewash"), "eyewash", every, figure(shop, "eyewash-walk"))
    if any(machine.is_hot for machine in shop.machines.values()):
        yield Need("burn-sink", _("cold tap for burns"), "burn-sink", every, None, hot_only=True)


def _supply(shop: Shop, journeys: Journeys, need: Need) -> Supply:
    found = tuple(e for e in shop.equipment_of_kind(need.kind) if need.counts(e))
    ends = [equipment_path(e) for e in found]
    walks = (
        journeys.farthest(id_, ends)
        for id_ in shop.stations
        if not need.hot_only or any(m.is_hot for m in shop.machines_at(id_))
    )
    return Supply(need, found, tuple(walk for walk in walks if walk))


def _working(supply: Supply) -> Working | None:
    need, walk = supply.need, supply.farthest
    if walk is None:
        return None
    length = Quantity(math.floor(walk.length_mm / 10 + 0.5 + 1e-6) / 100, "m")
    limit = need.limit
    return Working(
        f"routes.{need.key}",
        walk.start_id.rsplit("/", 1)[0],
        _("Longest walk to the nearest {thing}, from {place}").format(
            thing=need.name, place=walk.start
        ),
        _("the shortest walk around what stands in the way, from the station farthest off"),
        (),
        length,
        limit.verdict(length.value <= limit.value) if limit else Verdict.INFORMS,
        limit.quantity if limit else None,
        limit.origin if limit else None,
        Quantity(round(limit.value - length.value, 2), "m") if limit else None,
        limit.caution if limit else _("No table gives a distance: it must be plain and near."),
    )


def _findings(shop: Shop, supply: Supply) -> Iterator[Finding]:
    need, walk, limit = supply.need, supply.farthest, supply.need.limit
    origin = shop.room.origin_of("equipment")
    if not supply.found:
        yield Finding(
            f"routes.{need.key}-none", Severity.FIX, origin,
            _("There is no {thing} on the plan.").format(thing=need.name),
            _("Write down where it hangs under `equipment`, or get one."),
            subject="room",
        )  # fmt: skip
    if walk is None or limit is None:
        return
    says = _("The longest walk to the nearest {thing} is {length}, from {place}.").format(
        thing=need.name, length=metres(walk.length_mm), place=walk.start
    )
    subject = walk.start_id.rsplit("/", 1)[0]
    if limit.lent_by:
        yield limit.question(f"routes.{need.key}", origin, says, "fire", subject)
    elif walk.length_mm > limit.value * 1000:
        yield Finding(
            f"routes.{need.key}", Severity.FIX, origin,
            _("{says} It should be at most {limit}.").format(
                says=says, limit=metres(limit.value * 1000)),
            _("Hang one nearer."),
            subject=subject, working=f"routes.{need.key}",
        )  # fmt: skip


# --- whether it can be got at --------------------------------------------------------------------

_OVERHEAD = frozenset({"emergency-light"})


def _hard_to_reach(ground: Ground) -> Iterator[HardToReach]:
    free = ground.free(ground.machine_walk.value)
    parts = ground.home_parts(free)
    for equipment in ground.shop.room.equipment.values():
        if equipment.kind in _OVERHEAD:
            continue
        feet = feet_before(ground.standing, free, parts, equipment.at)
        away = feet[0].rest_mm if feet else math.inf
        if away > ARMS_LENGTH_MM:
            yield HardToReach(equipment, away)


def _hard_finding(hard: HardToReach) -> Finding:
    equipment = hard.equipment
    says = _("“{name}” is {away} from where anybody can stand: an arm reaches about {arm}.")
    if math.isinf(hard.away_mm):
        says = _("Nobody can stand anywhere near “{name}”.")
    return Finding(
        "routes.hard-to-reach",
        Severity.FIX,
        equipment.origin_of("at"),
        says.format(
            name=equipment.name,
            away="" if math.isinf(hard.away_mm) else mm(hard.away_mm),
            arm=mm(ARMS_LENGTH_MM),
        ),
        _("Clear the floor before it, or hang it where it can be got at."),
        subject=f"room/equipment/{equipment.id}",
    )
