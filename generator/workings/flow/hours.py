"""Hours of machines and of people that an ordinary week wants, and those it has.

A machine has the opening hours, or less: the hours in which somebody is on the rota whose role
is written as allowed to run it alone. A heated machine also wants its heating up and soaking on
every day it runs, and every blend and mould is taken to be set up once a week. Lots for the
granulator are taken to be as large as those of the log, or one a week of each polymer where too
few are logged.
"""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from statistics import mean
from typing import Literal

from generator.ground.wording import N_, _
from generator.shop.records.logs import Batch
from generator.shop.records.machines import Machine, Setting
from generator.shop.records.people import Opening, Procedure
from generator.shop.records.refs import LADDER
from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings.built import running_machines
from generator.workings.filling import Filling
from generator.workings.flow.making import Making
from generator.workings.flow.mass import CUTTERS, Balance, Place
from generator.workings.intake import open_weeks
from generator.workings.losses import Losses

DRIERS = frozenset({"spin-dryer", "wash-tub"})
"""Kinds of machine that wash, or take the water off."""


@dataclass(frozen=True, slots=True)
class MachineHours:
    """What a machine is wanted for a week, and what it has [h].

    ``run_h`` shot after shot or kilogram after kilogram, ``change_h`` for changes of polymer,
    colour and mould, ``heat_h`` for getting hot on ``days`` days. ``have_h`` are the hours it
    can be run in, by ``basis``: the ``rota`` of those who may run it, else the ``openings``.
    ``crew_h`` are the hours of all of those together, None where nobody is written.
    ``kg`` goes through it a week. ``unknown`` names what could not be counted.
    """

    machine: Machine
    run_h: float
    change_h: float
    heat_h: float
    days: int
    have_h: float
    crew_h: float | None
    basis: Literal["rota", "openings"]
    roles: tuple[str, ...]
    kg: float
    unknown: tuple[str, ...]

    @property
    def want_h(self) -> float:
        return self.run_h + self.change_h + self.heat_h


@dataclass(frozen=True, slots=True)
class Task:
    """Something people do in a week: ``runs`` times ``minutes`` with ``people`` at it.

    ``procedure`` is where that is written, None where it follows from something else, and
    ``machine`` is set where they stand by a machine while it is wanted.
    """

    name: str
    runs: float
    minutes: float
    people: int
    procedure: Procedure | None = None
    machine: str = ""

    @property
    def person_h(self) -> float:
        return self.runs * self.minutes * self.people / 60


@dataclass(frozen=True, slots=True)
class Crew:
    """Those who may run some machines, and what they are wanted for a week [h].

    ``want_h`` counts one of them at each machine for as long as it is wanted.
    """

    roles: tuple[str, ...]
    machines: tuple[str, ...]
    want_h: float
    have_h: float


@dataclass(frozen=True)
class Hours:
    """Every machine, task and crew of a week. ``people_have_h`` is None without a rota."""

    open_h: float
    machines: tuple[MachineHours, ...]
    tasks: tuple[Task, ...]
    crews: tuple[Crew, ...]
    people_have_h: float | None
    not_timed: tuple[str, ...]

    @property
    def people_want_h(self) -> float:
        return sum(task.person_h for task in self.tasks)

    def of(self, machine: str) -> MachineHours | None:
        """The hours of one machine, None where the flow does not pass it."""
        return self._by_machine.get(machine)

    @cached_property
    def _by_machine(self) -> Mapping[str, MachineHours]:
        return {hours.machine.id: hours for hours in self.machines}


def opening_h(opening: Opening) -> float:
    """How long an opening lasts [h]."""
    start, end = opening.from_, opening.to
    return end.hour - start.hour + (end.minute - start.minute) / 60


# --- who is there ------------------------------------------------------------------------------


class Rota:
    """The rota of an ordinary week: the mean over the weeks it is written for.

    Parameters
    ----------
    shop
        The shop, with every id resolved.
    """

    def __init__(self, shop: Shop) -> None:
        self._shop = shop
        self._weeks = open_weeks(shop, (shift.date for shift in shop.logs.rota))
        self._spans: dict[str, dict[dt.date, list[tuple[float, float, int]]]] = {}
        for shift in shop.logs.rota:
            days = self._spans.setdefault(shift.role, defaultdict(list))
            span = (_hour(shift.start), _hour(shift.end), shift.count)
            days[shift.date].append(span)

    @property
    def written(self) -> bool:
        return self._weeks > 0

    def person_h(self, roles: Iterable[str] | None = None) -> float:
        """Hours of all people of some roles, or of all, a week [h]."""
        wanted = self._spans if roles is None else roles
        spans = (s for role in wanted for day in self._spans.get(role, {}).values() for s in day)
        return sum((end - start) * count for start, end, count in spans) / max(self._weeks, 1)

    def covered_h(self, roles: Iterable[str]) -> float:
        """Hours in which at least one of some roles is there, a week [h]."""
        days: dict[dt.date, list[tuple[float, float]]] = defaultdict(list)
        for role in roles:
            for day, spans in self._spans.get(role, {}).items():
                days[day] += [(start, end) for start, end, _count in spans]
        return sum(_union(spans) for spans in days.values()) / max(self._weeks, 1)

    def allowed(self, machine: Machine) -> tuple[str, ...]:
        """Roles that are written as allowed to run a machine alone."""
        use = machine.use or self._shop.stations[machine.station].use
        if use.alone not in LADDER:
            return ()
        least = LADDER.index(use.alone)
        return tuple(
            role.id
            for role in self._shop.roles.values()
            if any(
                need.machine == machine.id
                and need.level in LADDER
                and LADDER.index(need.level) >= least
                for need in role.needs
            )
        )


def _hour(clock: dt.time) -> float:
    return clock.hour + clock.minute / 60


def _union(spans: Iterable[tuple[float, float]]) -> float:
    """Length of some spans taken together."""
    total, reached = 0.0, float("-inf")
    for start, end in sorted(spans):
        total += max(0.0, end - max(start, reached))
        reached = max(reached, end)
    return total


# --- machines ----------------------------------------------------------------------------------


@dataclass(slots=True)
class _Load:
    """What is put on one machine."""

    run_h: float = 0.0
    change_h: float = 0.0
    kg: float = 0.0
    unknown: list[str] = field(default_factory=list)


class Counting:
    """The hours of one shop's week.

    Parameters
    ----------
    shop
        The shop, with every id resolved.
    made
        What is made.
    masses
        The week's mass balance.
    losses
        For how many logged rows count.
    """

    def __init__(
        self, shop: Shop, made: tuple[Making, ...], masses: Balance, losses: Losses
    ) -> None:
        self._shop, self._made, self._masses = shop, made, masses
        self._enough = losses.enough
        self._rota = Rota(shop)
        self._filling = Filling(shop)

    @cached_property
    def _running(self) -> list[Machine]:
        there = running_machines(self._shop)
        return [machine for id_, machine in self._shop.machines.items() if id_ in there]

    @cached_property
    def hours(self) -> Hours:
        """All of it."""
        machines = tuple(self._machines())
        tasks = (*self._by_hand(), *self._standing_by(machines), *self._finishing())
        have = self._rota.person_h() if self._rota.written else None
        missing = tuple(dict.fromkeys(self._not_timed()))
        crews = tuple(self._crews(machines))
        return Hours(self._open_h, machines, tasks, crews, have, missing)

    @cached_property
    def _open_h(self) -> float:
        return sum(opening_h(opening) for opening in self._shop.hours.weekly)

    def _machines(self) -> Iterator[MachineHours]:
        loads = self._loads
        for machine in self._shop.machines.values():
            load = loads.get(machine.id)
            if load is not None:
                yield self._of_machine(machine, load)

    def _of_machine(self, machine: Machine, load: _Load) -> MachineHours:
        roles = self._rota.allowed(machine)
        on_rota = self._rota.covered_h(roles) if roles and self._rota.written else None
        heat_h, days = self._heated(machine, load.run_h + load.change_h)
        return MachineHours(
            machine, load.run_h, load.change_h, heat_h, days,
            self._open_h if on_rota is None else min(on_rota, self._open_h),
            None if on_rota is None else self._rota.person_h(roles),
            "openings" if on_rota is None else "rota",
            roles, load.kg, tuple(dict.fromkeys(load.unknown)),
        )  # fmt: skip

    def _heated(self, machine: Machine, work_h: float) -> tuple[float, int]:
        """Heating up and soaking, on as few of the longest openings as the work fits in."""
        if machine.heat is None or not work_h:
            return 0.0, 0
        ready = (machine.heat.heat_up_min + machine.heat.soak_min) / 60
        days, left = 0, work_h
        for opening in sorted(self._shop.hours.weekly, key=opening_h, reverse=True):
            if left <= 1e-9 or opening_h(opening) <= ready:
                break
            left -= opening_h(opening) - ready
            days += 1
        return max(days, 1) * ready, max(days, 1)

    @cached_property
    def _loads(self) -> Mapping[str, _Load]:
        loads: dict[str, _Load] = defaultdict(_Load)
        self._cut(loads)
        self._dried(loads)
        self._formed(loads)
        return loads

    def _cut(self, loads: dict[str, _Load]) -> None:
        """The granulator: what was washed and what comes round again, and its changes of lot."""
        self._by_weight(loads, CUTTERS, "granulating")
        cutters = [m for m in self._running if m.kind in CUTTERS and m.id in loads]
        for polymer in self._masses.polymers if cutters else ():
            machine = next((m for m in cutters if _setting(m, polymer)), cutters[0])
            setting = _setting(machine, polymer)
            minutes = (setting.clean_down_takes_min or 0.0) if setting else 0.0
            loads[machine.id].change_h += self._lots(polymer) * minutes / 60

    def _dried(self, loads: dict[str, _Load]) -> None:
        self._by_weight(loads, DRIERS, "washing")

    def _by_weight(self, loads: dict[str, _Load], kinds: frozenset[str], place: Place) -> None:
        """Kilograms over the machine's rate; the first machine set for a polymer takes it all."""
        machines = [m for m in self._running if m.kind in kinds]
        for polymer in self._masses.polymers if machines else ():
            kg = self._masses.into(place, polymer)
            if not kg:
                continue
            machine = next((m for m in machines if _setting(m, polymer)), machines[0])
            load, rate = loads[machine.id], rate_kgh(machine, polymer)
            load.kg += kg
            if rate:
                load.run_h += kg / rate
            else:
                load.unknown.append(str(self._shop.polymers[polymer].name))

    def _lots(self, polymer: str) -> float:
        """Lots of a polymer granulated in a week: of the size logged, else one."""
        kg = self._masses.into("granulating", polymer)
        if not kg:
            return 0.0
        own = [batch.kg for batch in self._lots_logged.get(polymer, ())]
        every = [batch.kg for lots in self._lots_logged.values() for batch in lots]
        sizes = own if len(own) >= self._enough else every
        return kg / mean(sizes) if len(sizes) >= self._enough else 1.0

    @cached_property
    def _lots_logged(self) -> Mapping[str, list[Batch]]:
        lots: dict[str, list[Batch]] = defaultdict(list)
        for batch in self._shop.logs.batches:
            if batch.step == "flake" and batch.made_from and batch.kg:
                lots[batch.polymer].append(batch)
        return lots

    def _formed(self, loads: dict[str, _Load]) -> None:
        for made in self._made:
            if made.machine is None:
                continue
            load = loads[made.machine.id]
            load.kg += made.formed_kg
            if made.busy_h is None:
                load.unknown.append(str(made.product.name))
            else:
                load.run_h += made.busy_h
        for machine, minutes in self._set_ups():
            loads[machine].change_h += minutes / 60

    def _set_ups(self) -> Iterator[tuple[str, float]]:
        """Each mould put in and each blend cleaned down to, once a week."""
        on = [m for m in self._made if m.machine is not None]
        moulds = dict.fromkeys((m.machine.id, m.product.mould) for m in on if m.machine)
        for machine, mould in moulds:
            yield machine, self._shop.moulds[mould].changes_in_min
        blends = {(m.machine.id, m.blend.id): m for m in on if m.machine}
        for (machine, _blend), made in blends.items():
            host = max(made.polymers, key=lambda p: made.polymers[p])
            setting = _setting(self._shop.machines[machine], host)
            yield machine, (setting.clean_down_takes_min or 0.0) if setting else 0.0

    # --- people

    def _by_hand(self) -> Iterator[Task]:
        """Sorting and washing a container at a time, mixing a tub at a time."""
        for _name, place, before in _HANDLED:
            if not self._masses.into(place):
                continue
            found = self._procedure_at(self._stations_of(before))
            runs = self._containers(place, before)
            if found is not None and runs:
                yield Task(str(found.name), runs, found.takes_min, found.people, found)
        yield from self._mixing()

    def _stations_of(self, container_keeps: str) -> list[Station]:
        """Stations that take in a container which keeps material in some condition."""
        kept = {c.id for c in self._shop.containers.values() if container_keeps in c.keeps}
        return [
            station
            for station in self._shop.stations.values()
            if any(handover.container in kept for handover in station.takes_in)
        ]

    def _procedure_at(self, stations: Iterable[Station]) -> Procedure | None:
        """The way of working at a station: the run procedure for most polymers, a machine's own
        before one by hand."""
        found = [
            procedure
            for station in stations
            for procedure in self._shop.procedures_at(station.id)
            if procedure.kind == "run" and procedure.polymers
        ]
        return max(found, key=lambda p: (len(p.polymers), len(p.machines)), default=None)

    def _containers(self, place: Place, condition: str) -> float:
        """How many containers a week's mass fills, before it is flake."""
        total = 0.0
        for polymer in self._masses.polymers:
            fill = self._filling.best(polymer, condition)
            kg = self._masses.into(place, polymer)
            total += kg / fill.content_kg if fill and kg else 0.0
        return total

    def _mixing(self) -> Iterator[Task]:
        """A tub for each blend of the week, more where it takes more than one."""
        tubs = [c for c in self._shop.containers.values() if "blend" in c.keeps]
        found = self._procedure_at(self._weighing_stations)
        if found is None or not tubs:
            return
        most = max(tub.most_kg for tub in tubs)
        by_blend: dict[str, float] = defaultdict(float)
        for made in self._made:
            by_blend[made.blend.id] += made.formed_kg
        runs = sum(max(1.0, kg / most) for kg in by_blend.values())
        yield Task(str(found.name), runs, found.takes_min, found.people, found)

    @cached_property
    def _weighing_stations(self) -> list[Station]:
        """Stations that give out blends."""
        tubs = {c.id for c in self._shop.containers.values() if "blend" in c.keeps}
        return [
            station
            for station in self._shop.stations.values()
            if any(handover.container in tubs for handover in station.gives)
            and not self._shop.machines_at(station.id)
        ]

    def _standing_by(self, machines: Iterable[MachineHours]) -> Iterator[Task]:
        """People at a machine for as long as it is wanted, as many as its procedure says."""
        for hours in machines:
            if hours.machine.kind in DRIERS:
                continue  # part of washing
            people = self._people_at.get(hours.machine.id, 1)
            yield Task(
                str(hours.machine.name), 1.0, 60 * hours.want_h, people, machine=hours.machine.id
            )

    @cached_property
    def _people_at(self) -> Mapping[str, int]:
        """How many a run at each machine takes, by its procedures."""
        people: dict[str, int] = {}
        for procedure in self._shop.procedures.values():
            for machine in procedure.machines if procedure.kind == "run" else ():
                people[machine] = max(people.get(machine, 0), procedure.people)
        return people

    def _finishing(self) -> Iterator[Task]:
        """Every step of finishing, a piece at a time."""
        minutes: dict[str, float] = defaultdict(float)
        for made in self._made:
            for step in made.product.finish:
                minutes[step.station] += made.count * step.takes_min
        for id_, station in self._shop.stations.items():
            if minutes.get(id_):
                yield Task(str(station.name), 1.0, minutes[id_], 1)

    def _not_timed(self) -> Iterator[str]:
        """What people do that nobody has written a time for."""
        for _name, place, before in _HANDLED:
            if self._masses.into(place) and not self._procedure_at(self._stations_of(before)):
                yield _(_name)
        if not self._procedure_at(self._weighing_stations):
            yield _("Weighing and mixing")

    def _crews(self, machines: Iterable[MachineHours]) -> Iterator[Crew]:
        """Those on the rota who may run the same machines, where they run more than one."""
        groups: dict[tuple[str, ...], list[MachineHours]] = defaultdict(list)
        for hours in machines:
            if hours.basis == "rota":
                groups[hours.roles].append(hours)
        for roles, own in groups.items():
            if len(own) > 1:
                ids = tuple(hours.machine.id for hours in own)
                want = sum(hours.want_h for hours in own)
                yield Crew(roles, ids, want, self._rota.person_h(roles))


_HANDLED: tuple[tuple[str, Place, str], ...] = (
    (N_("Sorting"), "sorting", "as donated"),
    (N_("Washing"), "washing", "sorted"),
)


def _setting(machine: Machine, polymer: str) -> Setting | None:
    return next((s for s in machine.settings if s.polymer == polymer), None)


def rate_kgh(machine: Machine, polymer: str) -> float | None:
    """How fast a machine takes a polymer [kg/h]: its setting's rate, else its throughput."""
    setting = _setting(machine, polymer)
    return (setting.rate_kgh if setting else None) or machine.capacity.throughput_kgh
