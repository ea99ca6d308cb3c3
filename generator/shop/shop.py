"""The whole shop as one frozen record, with the look-ups that every later stage asks for."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from functools import cached_property
from typing import TypeVar

from generator.shop.fields import Id, Record
from generator.shop.records.identity import Identity
from generator.shop.records.logs import Logs
from generator.shop.records.machines import Machine
from generator.shop.records.material import (
    Blend,
    Consumable,
    Container,
    Donor,
    Mould,
    Polymer,
    Product,
    Tool,
)
from generator.shop.records.people import (
    Contact,
    Duty,
    Hazard,
    Hours,
    Procedure,
    Role,
    Session,
    Stage,
)
from generator.shop.records.room import Equipment, Room
from generator.shop.records.stations import Station

R = TypeVar("R")


def _grouped(
    records: Iterable[R], keys: Callable[[R], Iterable[str]]
) -> Mapping[str, tuple[R, ...]]:
    groups: dict[str, list[R]] = defaultdict(list)
    for record in records:
        for key in keys(record):
            groups[key].append(record)
    return {key: tuple(members) for key, members in groups.items()}


class Shop(Record):
    """Everything a shop has written down. A noun is a mapping from id to record, in file order."""

    shop: Identity
    room: Room
    hours: Hours
    stations: dict[Id, Station]
    machines: dict[Id, Machine] = {}
    polymers: dict[Id, Polymer] = {}
    containers: dict[Id, Container] = {}
    moulds: dict[Id, Mould] = {}
    blends: dict[Id, Blend] = {}
    products: dict[Id, Product] = {}
    donors: dict[Id, Donor] = {}
    consumables: dict[Id, Consumable] = {}
    tools: dict[Id, Tool] = {}
    procedures: dict[Id, Procedure] = {}
    hazards: dict[Id, Hazard] = {}
    roles: dict[Id, Role] = {}
    sessions: dict[Id, Session] = {}
    stages: dict[Id, Stage] = {}
    contacts: dict[Id, Contact] = {}
    duties: dict[Id, Duty] = {}
    logs: Logs = Logs()

    @cached_property
    def stations_by_number(self) -> tuple[Station, ...]:
        """Stations in the order of their numbers, as on the plan's list."""
        return tuple(sorted(self.stations.values(), key=lambda s: s.number))

    @cached_property
    def _machines_at(self) -> Mapping[str, tuple[Machine, ...]]:
        return _grouped(self.machines.values(), lambda m: [m.station])

    def machines_at(self, station: str) -> tuple[Machine, ...]:
        """Machines that stand on a station."""
        return self._machines_at.get(station, ())

    @cached_property
    def _procedures_at(self) -> Mapping[str, tuple[Procedure, ...]]:
        return _grouped(self.procedures.values(), self._places_of)

    def _places_of(self, record: Procedure) -> set[str]:
        places = {self.machines[m].station for m in record.machines}
        return places | ({record.station} if record.station else set())

    def procedures_at(self, station: str) -> tuple[Procedure, ...]:
        """Procedures done on a station or on a machine that stands there."""
        return self._procedures_at.get(station, ())

    @cached_property
    def _hazards_at(self) -> Mapping[str, tuple[Hazard, ...]]:
        return _grouped(
            self.hazards.values(),
            lambda h: set(h.stations) | {self.machines[m].station for m in h.machines},
        )

    def hazards_at(self, station: str) -> tuple[Hazard, ...]:
        """Hazards met on a station or on a machine that stands there."""
        return self._hazards_at.get(station, ())

    @cached_property
    def _isolators_of(self) -> Mapping[str, tuple[Equipment, ...]]:
        return _grouped(self.room.equipment.values(), lambda e: e.isolates)

    def isolators_of(self, machine: str) -> tuple[Equipment, ...]:
        """Isolators and emergency stops that take power from a machine."""
        return self._isolators_of.get(machine, ())

    def cut_offs(self, station: str) -> tuple[Equipment, ...]:
        """Isolators, then emergency stops, of the machines on a station, each once."""
        found = {e.id: e for m in self.machines_at(station) for e in self.isolators_of(m.id)}
        return tuple(sorted(found.values(), key=lambda e: (e.kind != "isolator", e.id)))

    def main_procedure(self, station: str) -> Procedure | None:
        """The job a station is there for: its first procedure of the running kind."""
        return next((p for p in self.procedures_at(station) if p.kind == "run"), None)

    @cached_property
    def _moulds_of(self) -> Mapping[str, tuple[Mould, ...]]:
        return _grouped(self.moulds.values(), lambda m: m.machines)

    def moulds_of(self, machine: str) -> tuple[Mould, ...]:
        """Moulds that fit a machine."""
        return self._moulds_of.get(machine, ())

    @cached_property
    def _stage_of(self) -> Mapping[str, tuple[Stage, ...]]:
        return _grouped(self.stages.values(), lambda s: s.adds_stations)

    def stage_of(self, station: str) -> Stage | None:
        """The stage of the build-out at which a station is set up."""
        stages = self._stage_of.get(station, ())
        return stages[0] if stages else None

    def equipment_of_kind(self, *kinds: str) -> tuple[Equipment, ...]:
        """Safety equipment of the given kinds."""
        return tuple(e for e in self.room.equipment.values() if e.kind in kinds)
