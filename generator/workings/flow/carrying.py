"""What is carried how far in a week, leg by leg, as stations hand it on to one another."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Literal, Protocol

from generator.reference import reference
from generator.shop.records.stations import Handover
from generator.shop.shop import Shop
from generator.workings.built import is_set_up
from generator.workings.flow.making import Making
from generator.workings.flow.mass import CUTTERS, Balance, Place
from generator.workings.footprint import Point


class Walked(Protocol):
    """A walk: its length along its course [mm], and the course [mm]."""

    @property
    def length_mm(self) -> float: ...
    @property
    def line(self) -> tuple[Point, ...]: ...


Walk = Callable[[str, str], Walked | None]
"""The walk from one station to another, None where none leads."""

_PLACES: Mapping[str, tuple[Place, ...]] = {
    "as donated": ("sorting",),
    "sorted": ("washing",),
    "washed": ("granulating",),
    "flake": ("store",),
}


@dataclass(frozen=True, slots=True)
class Leg:
    """One way that material is carried.

    ``kg`` a week, None where it cannot be told what goes this way; ``trips`` with containers as
    full as they may be. ``way_mm`` is how long its ``line`` [mm] is: the walk, or the ``straight``
    line between the stations.
    """

    start: str
    end: str
    what: str
    container: str
    kg: float | None
    trips: float | None
    way_mm: float
    line: tuple[Point, ...]
    basis: Literal["walked", "straight"]

    @property
    def kgm(self) -> float | None:
        """Mass times way [kg·m a week]."""
        return None if self.kg is None else carried_kgm(self.kg, self.way_mm / 1000)


def carried_kgm(mass_kg: float, way_m: float) -> float:
    r"""What carrying comes to [kg·m].

    .. math:: W = m s

    Parameters
    ----------
    mass_kg
        What is carried, without its containers [kg].
    way_m
        How far [m].
    """
    return mass_kg * way_m


class Carrying:
    """The legs of a shop's week.

    Parameters
    ----------
    shop
        The shop, with every id resolved.
    masses
        The week's mass balance.
    made
        What is made, on which machine.
    walk
        The way as it is walked; straight lines where it is None.
    """

    def __init__(
        self, shop: Shop, masses: Balance, made: tuple[Making, ...], walk: Walk | None = None
    ) -> None:
        self._shop, self._masses, self._made, self._walk = shop, masses, made, walk
        self._made_at: dict[str, list[Making]] = defaultdict(list)
        for making in made:
            if making.machine is not None:
                self._made_at[making.machine.station].append(making)
        self._formers = set(self._made_at)
        self._finishers = {s.station for m in made for s in m.product.finish}
        coolers = {h.station for f in self._formers for h in shop.stations[f].gives if h.station}
        self._makers = self._formers | self._finishers | coolers

    def legs(self) -> tuple[Leg, ...]:
        """Every leg along which something of the flow is handed on."""
        return tuple(self._leg(*handed) for handed in self._handovers())

    def _handovers(self) -> Iterator[tuple[str, str, Handover]]:
        """What is handed on from station to station: as the giver says, else as the taker says."""
        given = [
            (s.id, h.station, h) for s in self._shop.stations.values() for h in s.gives if h.station
        ]
        said = {(start, end) for start, end, handover in given if self._flows(start, end, handover)}
        taken = [
            (h.station, s.id, h)
            for s in self._shop.stations.values()
            for h in s.takes_in
            if h.station and (h.station, s.id) not in said
        ]
        for start, end, handover in (*given, *taken):
            if start != end and self._flows(start, end, handover):
                yield start, end, handover

    def _flows(self, start: str, end: str, handover: Handover) -> bool:
        """Whether material is handed on between stations that are in use: in a container that
        keeps some, named by polymer, or between places where parts are made."""
        if not (is_set_up(self._shop, start) and is_set_up(self._shop, end)):
            return False
        kept = self._keeps(handover)
        inside = any(c in kept for c in (*_PLACES, "blend", "product"))
        return inside or bool(handover.polymers) or {start, end} <= self._makers

    def _keeps(self, handover: Handover) -> tuple[str, ...]:
        container = self._shop.containers.get(handover.container or "")
        return tuple(container.keeps) if container else ()

    def _leg(self, start: str, end: str, handover: Handover) -> Leg:
        kg = self._kg(start, end, handover)
        container = self._shop.containers.get(handover.container or "")
        most = container.most_kg if container else None
        way, line, basis = self._way(start, end)
        trips = kg / most if kg is not None and most else None
        what, box = str(handover.what), handover.container or ""
        return Leg(start, end, what, box, kg, trips, way, line, basis)

    def _way(
        self, start: str, end: str
    ) -> tuple[float, tuple[Point, ...], Literal["walked", "straight"]]:
        walked = self._walk(start, end) if self._walk else None
        if walked is not None:
            return walked.length_mm, walked.line, "walked"
        ends = (self._shop.stations[start].at, self._shop.stations[end].at)
        return math.dist(*ends), ends, "straight"

    def _kg(self, start: str, end: str, handover: Handover) -> float | None:
        """What goes along a leg a week [kg]."""
        if start in self._formers:
            return self._formed_at(start, handover)
        if end in self._formers:
            return self._into_former(start, end, handover)
        for condition in self._keeps(handover):
            if condition in _PLACES:
                return self._by_condition(start, end, condition, handover)
        return self._products(start, end) if {start, end} <= self._makers else self._sold(start)

    def _into_former(self, start: str, end: str, handover: Handover) -> float:
        """Blends to a machine; from a dryer only what must be dried."""
        if not any(m.kind == "drying-cabinet" for m in self._shop.machines_at(start)):
            return self._formed_at(end, handover, with_purge=True)
        named = handover.polymers or self._masses.polymers
        thirsty = tuple(p for p in named if self._drinks(p))
        wet = handover.model_copy(update={"polymers": thirsty})
        return self._formed_at(end, wet, with_purge=False) if thirsty else 0.0

    def _drinks(self, polymer: str) -> bool:
        known = reference().find_polymer(self._shop.polymers[polymer].code)
        return known is not None and known.hygroscopic

    def _formed_at(self, station: str, handover: Handover, *, with_purge: bool = False) -> float:
        """What is formed at a station in a week, of the polymers named or of all."""
        named = set(handover.polymers)
        total = 0.0
        for made in self._made_at[station]:
            share = sum(s for p, s in made.polymers.items() if not named or p in named)
            total += share * made.formed_kg
        return total + (self._purged(station) if with_purge else 0.0)

    def _purged(self, station: str) -> float:
        """Purgings, shared out by what is formed where."""
        here = sum(made.formed_kg for made in self._made_at[station])
        return self._purge_share * here

    @cached_property
    def _purge_share(self) -> float:
        """Purgings to a kilogram formed [-]."""
        formed = sum(made.formed_kg for own in self._made_at.values() for made in own)
        return self._masses.into("purgings") / formed if formed else 0.0

    def _by_condition(
        self, start: str, end: str, condition: str, handover: Handover
    ) -> float | None:
        if self._comes_round(start):
            return self._back_from(start)
        polymers = handover.polymers or self._masses.polymers
        places = ("granulating",) if self._cuts(end) else _PLACES[condition]
        if condition == "flake" and self._gives_blends(end):
            return sum(self._masses.out_of("store", p) - self._masses.between("store", "laid-in", p)
                       for p in polymers)  # fmt: skip
        # Before the material is at a place, and again on the way out of it.
        return sum(
            self._masses.into(place, p) - self._masses.between("forming", place, p)
            - self._masses.between("finishing", place, p) - self._masses.between("drawn", place, p)
            for place in places
            for p in polymers
        )  # fmt: skip

    def _cuts(self, station: str) -> bool:
        return any(m.kind in CUTTERS for m in self._shop.machines_at(station))

    def _gives_blends(self, station: str) -> bool:
        return any("blend" in self._keeps(h) for h in self._shop.stations[station].gives)

    def _comes_round(self, start: str) -> bool:
        """Whether a station finishes parts, so that what it hands to be cut is trimmings."""
        return any(s.station == start for m in self._made for s in m.product.finish)

    def _back_from(self, start: str) -> float:
        """Trimmings of a station, and the sprues where parts come first."""
        total = 0.0
        for made in self._made:
            total += sum(kg for step, kg in made.lost_at() if step.station == start)
            steps = made.product.finish
            if steps and self._snips(made) == start:
                total += made.sprue_kg
        return total

    def _snips(self, made: Making) -> str:
        """Where sprues come off: at the step that hands on to the granulator, the first of them."""
        cutters = {m.station for m in self._shop.machines.values() if m.kind in CUTTERS}
        for step in made.product.finish:
            given = self._shop.stations[step.station].gives
            if any(h.station in cutters and "sorted" in self._keeps(h) for h in given):
                return step.station
        return ""

    def _products(self, start: str, end: str) -> float:
        """Parts between cooling and the steps of finishing; on their sprues up to the first."""
        total = 0.0
        for made in self._made:
            stations = [step.station for step in made.product.finish]
            if start in self._finishers:
                total += made.parts_kg if (start, end) in pairwise(stations) else 0.0
            elif stations and stations[0] == end:
                total += made.formed_kg
        return total

    def _sold(self, start: str) -> float | None:
        """Finished products, from where the last step is done."""
        last = [m for m in self._made if m.product.finish and m.product.finish[-1].station == start]
        return sum(made.good_kg for made in last) if last else None
