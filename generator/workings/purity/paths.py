"""The way of each polymer from container to container, by what stations hand on.

A handover that names its polymers carries those alone. One that names none carries whatever
reaches it, except to a station that names what it takes, or whose machines are set for others; and
what is refused at the door goes nowhere but aside. A handover counts wherever it is written, at
the giver or at the taker.
"""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from generator.shop.records.stations import Handover, Station
from generator.shop.shop import Shop
from generator.workings.heat import refusal_of

_ASIDE = frozenset({"quarantine", "refuse", "purgings"})
"""What a container keeps that takes material out of the way to a product."""


@dataclass(frozen=True, slots=True)
class Leg:
    """One handover of a polymer: from a station, in a container, to a station.

    ``to`` is "" where it leaves the room, ``container`` "" where none is named. ``aside`` says
    that it leads to quarantine, refuse or purgings; ``named`` that the polymer itself is written.
    """

    start: str
    to: str
    container: str
    what: str
    aside: bool
    named: bool


@dataclass(frozen=True, slots=True)
class Edge:
    """A handover between two stations and what it carries; no polymers for whatever comes."""

    start: str
    to: str
    container: str
    what: str
    polymers: frozenset[str]
    handover: Handover


class Ways:
    """Every handover of a shop, and where each polymer goes.

    Parameters
    ----------
    shop
        The shop, with every id resolved.
    """

    def __init__(self, shop: Shop) -> None:
        self._shop = shop

    @cached_property
    def edges(self) -> tuple[Edge, ...]:
        """Handovers, those written at both ends once, in the order of the stations' numbers."""
        merged: dict[tuple[str, str, str], Edge] = {}
        for edge in self._written():
            key = (edge.start, edge.to, edge.container)
            before = merged.get(key)
            merged[key] = edge if before is None else _joined(before, edge)
        return tuple(merged.values())

    def _written(self) -> Iterator[Edge]:
        for station in self._shop.stations_by_number:
            for given in station.gives:
                yield _edge(station.id, given.station or "", given)
        for station in self._shop.stations_by_number:
            for taken in station.takes_in:
                if taken.station:
                    yield _edge(taken.station, station.id, taken)

    @cached_property
    def _from(self) -> Mapping[str, list[Edge]]:
        groups: dict[str, list[Edge]] = defaultdict(list)
        for edge in self.edges:
            groups[edge.start].append(edge)
        return groups

    @cached_property
    def doors(self) -> tuple[str, ...]:
        """Stations that take something in from nobody: where material comes into the room."""
        takes = [s.id for s in self._shop.stations_by_number if _takes_from_outside(s)]
        given = {edge.to for edge in self.edges}
        first = (e.start for e in self.edges if e.start not in given)
        return tuple(takes) or tuple(dict.fromkeys(first))

    def legs(self, polymer: str) -> tuple[Leg, ...]:
        """The way of a polymer, leg by leg, the nearest to the door first."""
        return tuple(self._legs(polymer))

    def _legs(self, polymer: str) -> Iterator[Leg]:
        waiting, seen = deque(self.doors), set(self.doors)
        while waiting:
            for edge in self._from.get(waiting.popleft(), ()):
                if not self._carries(edge, polymer):
                    continue
                yield self._leg(edge, polymer)
                if edge.to and edge.to not in seen:
                    seen.add(edge.to)
                    waiting.append(edge.to)

    def _carries(self, edge: Edge, polymer: str) -> bool:
        if edge.polymers:
            return polymer in edge.polymers
        if self._is_aside(edge):
            return True
        taken = self._takes.get(edge.to, frozenset())
        record = self._shop.polymers[polymer]
        refused = record.status == "refused" or refusal_of(record)
        return not refused and (not taken or polymer in taken)

    @cached_property
    def _takes(self) -> Mapping[str, frozenset[str]]:
        """What a station says it takes, else what its machines are set for; else nothing said."""
        return {s.id: _named(s) or self._set_for(s) for s in self._shop.stations.values()}

    def _set_for(self, station: Station) -> frozenset[str]:
        machines = self._shop.machines_at(station.id)
        return frozenset(s.polymer for machine in machines for s in machine.settings)

    def _is_aside(self, edge: Edge) -> bool:
        kept = self._shop.containers[edge.container].keeps if edge.container else ()
        return bool(kept) and _ASIDE.issuperset(kept)

    def _leg(self, edge: Edge, polymer: str) -> Leg:
        aside, named = self._is_aside(edge), polymer in edge.polymers
        return Leg(edge.start, edge.to, edge.container, edge.what, aside, named)

    def disagreements(self) -> Iterator[tuple[Station, Handover, tuple[str, ...]]]:
        """Handovers taken whose giver, naming others, does not name some of their polymers."""
        given: dict[tuple[str, str], set[str]] = defaultdict(set)
        for station in self._shop.stations.values():
            for handover in station.gives:
                if handover.station:
                    given[station.id, handover.station].update(handover.polymers)
        for station in self._shop.stations.values():
            for taken in station.takes_in:
                yield from _missing(self._shop, station, taken, given)


def _missing(
    shop: Shop, station: Station, taken: Handover, given: Mapping[tuple[str, str], set[str]]
) -> Iterator[tuple[Station, Handover, tuple[str, ...]]]:
    giver = shop.stations[taken.station] if taken.station else None
    if giver is None or not taken.polymers:
        return
    listed = given.get((giver.id, station.id))
    if listed is not None and not listed:
        return  # given without naming polymers: whatever comes
    lost = tuple(p for p in taken.polymers if p not in (listed or ()))
    if lost:
        yield station, taken, lost


def _named(station: Station) -> frozenset[str]:
    return frozenset(p for taken in station.takes_in for p in taken.polymers)


def _takes_from_outside(station: Station) -> bool:
    return any(taken.station is None for taken in station.takes_in)


def _edge(start: str, to: str, handover: Handover) -> Edge:
    return Edge(
        start, to, handover.container or "", str(handover.what), frozenset(handover.polymers),
        handover,
    )  # fmt: skip


def _joined(one: Edge, other: Edge) -> Edge:
    """Two ends of one handover, or two handovers of one kind: all the polymers either names."""
    return Edge(
        one.start, one.to, one.container, one.what, one.polymers | other.polymers, one.handover
    )


def reached(legs: Iterable[Leg]) -> frozenset[str]:
    """Stations a polymer comes to, by its legs."""
    return frozenset(station for leg in legs for station in (leg.start, leg.to) if station)
