"""What running costs in an ordinary week, and to which part of the work it goes.

Everything that stands or is kept where material comes in, is sorted, washed or cut goes to the
flake. What stands where blends are weighed, parts are formed or finished goes to making. All else
is the house's: rent, insurance, and whatever groups use up.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from generator.ground.origin import Origin
from generator.ground.wording import _
from generator.shop.records.machines import Machine
from generator.shop.records.material import Consumable
from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings.built import running_machines
from generator.workings.flow import FlowStudy
from generator.workings.flow.hours import DRIERS, MachineHours, Task
from generator.workings.flow.mass import CUTTERS
from generator.workings.moulding.runs import drawn_kw
from generator.workings.power.energy import hour_kwh, weeks_open
from generator.workings.waste import WasteStudy

Area = Literal["flake", "making", "house"]
_RAW = frozenset({"as donated", "sorted", "washed"})
_MADE = frozenset({"flake", "blend", "product"})
_MONTHS = 12.0
_REFUSE_OF_FLAKE = frozenset({"residue", "fines"})


@dataclass(frozen=True, slots=True)
class Cost:
    """One line of a week's running.

    ``kind`` is energy, water, waste, consumables, hours, rent or insurance. ``amount`` is None
    where a price or a figure is missing, which ``missing`` names. ``machine`` is set for a
    machine's own energy and hours.
    """

    area: Area
    kind: str
    name: str
    amount: float | None
    missing: str
    machine: str
    origin: Origin


@dataclass(frozen=True, slots=True)
class Running:
    """Every line of a week, and what its electricity comes to [kWh]."""

    lines: tuple[Cost, ...]
    kwh: Mapping[str, float]

    def total(self, *areas: Area, kind: str = "", machines: bool | None = None) -> float:
        """What some lines come to, as far as they are known."""
        return sum(
            line.amount or 0.0
            for line in self.lines
            if (not areas or line.area in areas)
            and kind in ("", line.kind)
            and machines in (None, bool(line.machine))
        )

    @property
    def missing(self) -> tuple[str, ...]:
        """What would have to be written for every line to be known."""
        return tuple(dict.fromkeys(line.missing for line in self.lines if line.missing))


class Ways:
    """Runs up what a week costs.

    Parameters
    ----------
    shop
        The shop, with every id resolved.
    flow, waste
        The week's flow and what leaves.
    """

    def __init__(self, shop: Shop, flow: FlowStudy, waste: WasteStudy) -> None:
        self._shop, self._flow, self._waste = shop, flow, waste
        self._areas = _areas(shop, flow)

    def running(self) -> Running:
        """Every line of the week."""
        kwh = dict(self._kwh())
        lines = (
            *self._energy(kwh), *self._water(), *self._refuse(), *self._consumables(),
            *self._hours(), *self._house(),
        )  # fmt: skip
        return Running(lines, {id_: value for id_, value in kwh.items() if value is not None})

    def area(self, station: str) -> Area:
        """To which part of the work a station belongs."""
        return self._areas.get(station, "house")

    # --- energy

    def _kwh(self) -> Iterator[tuple[str, float | None]]:
        """Electricity of machines and fans in a week [kWh], None where it is not known."""
        running = running_machines(self._shop)
        for machine in self._shop.machines.values():
            if machine.electric is not None and machine.id in running:
                yield f"machines/{machine.id}", week_kwh(machine, self._flow.hours.of(machine.id))
        for fan in self._shop.room.fans.values():
            hours = fan.runs_per_week_h
            if fan.power_kw:  # else its current stands with a machine
                yield f"room/fans/{fan.id}", None if hours is None else fan.power_kw * hours

    def _energy(self, kwh: Mapping[str, float | None]) -> Iterator[Cost]:
        price = self._shop.shop.prices.electricity
        for subject, used in kwh.items():
            noun, _slash, id_ = subject.rpartition("/")
            record = self._shop.machines[id_] if noun == "machines" else self._shop.room.fans[id_]
            area: Area = self.area(record.station) if isinstance(record, Machine) else "making"
            missing = "" if price else _("the price of electricity")
            if used is None:
                missing = _("the running hours or the power of {name}").format(name=record.name)
            amount = used * price.amount if price and used is not None else None
            machine = id_ if isinstance(record, Machine) else ""
            yield Cost(area, "energy", str(record.name), amount, missing, machine, record.origin)

    # --- water, refuse, consumables

    def _water(self) -> Iterator[Cost]:
        litres, price = self._waste.water.litres, self._shop.shop.prices.water
        if not self._waste.water.washed_kg:
            return
        missing = "" if price else _("the price of water")
        missing = missing if litres is not None else _("how much water is drawn")
        amount = litres / 1000 * price.amount if price and litres is not None else None
        yield Cost("flake", "water", _("Wash water"), amount, missing, "", Origin("room.yml"))

    def _refuse(self) -> Iterator[Cost]:
        price = self._shop.shop.prices.waste
        for stream in self._waste.streams:
            if stream.way != "refuse" or not stream.kg:
                continue
            area: Area = "flake" if stream.key in _REFUSE_OF_FLAKE else "making"
            amount = stream.kg * price.amount if price else None
            missing = "" if price else _("the price of taking refuse away")
            place = self._shop.shop.prices.origin_of("waste")
            yield Cost(area, "waste", stream.key, amount, missing, "", place)

    def _consumables(self) -> Iterator[Cost]:
        """What is used up; masterbatch goes into its products by the gram."""
        sessions = sum(session.weekday is not None for session in self._shop.sessions.values())
        for record in self._shop.consumables.values():
            used = record.use_per_week + record.use_per_session * sessions
            if record.kind == "masterbatch" or not used:
                continue
            each, area = unit_price(record), self.area(record.kept_at)
            missing = "" if each is not None else _("the price of {name}").format(name=record.name)
            amount = used * each if each is not None else None
            yield Cost(
                area, "consumables", str(record.name), amount, missing, "", record.origin
            )  # fmt: skip

    # --- people and the house

    def _hours(self) -> Iterator[Cost]:
        price = self._shop.shop.prices.volunteer_hour
        missing = "" if price else _("what an hour is counted at")
        for task in self._flow.hours.tasks:
            amount = task.person_h * price.amount if price else None
            place = self._shop.shop.prices.origin_of("volunteer_hour")
            yield Cost(
                self._area_of(task), "hours", task.name, amount, missing, task.machine, place
            )  # fmt: skip

    def _area_of(self, task: Task) -> Area:
        if task.machine:
            return self.area(self._shop.machines[task.machine].station)
        if task.procedure is not None and task.procedure.station:
            return self.area(task.procedure.station)
        return "making"

    def _house(self) -> Iterator[Cost]:
        """Rent and insurance, borne by the weeks in which the shop is open."""
        prices, weeks = self._shop.shop.prices, max(weeks_open(self._shop.hours), 1.0)
        month, year = prices.rent_month, prices.insurance_year
        rent = month.amount * _MONTHS / weeks if month else None
        cover = year.amount / weeks if year else None
        for kind, name, amount, field in (
            ("rent", _("Rent"), rent, "rent_month"),
            ("insurance", _("Insurance"), cover, "insurance_year"),
        ):
            missing = "" if amount is not None else _("what {name} costs").format(name=name.lower())
            yield Cost("house", kind, name, amount, missing, "", prices.origin_of(field))


def week_kwh(machine: Machine, hours: MachineHours | None) -> float | None:
    r"""Electricity of a machine in a week [kWh].

    .. math:: W = P t_u + P d (t_s + t_r)

    with heating up at full power P, and soaking and running at its duty d. Hours are those that
    the week's flow wants of it, else those the shop has written; None where there are neither.

    Parameters
    ----------
    machine
        Its plate, duty and times of heating up and soaking.
    hours
        What the flow wants of it.
    """
    power = drawn_kw(machine.electric)
    if machine.electric is None or power is None:
        return None
    duty = machine.electric.duty_percent
    if hours is None or not (hours.run_h or hours.change_h):
        runs = machine.runs_per_week_h
        return None if runs is None else hour_kwh(power, duty) * runs
    up = hours.days * machine.heat.heat_up_min / 60 if machine.heat else 0.0
    held = hours.want_h - up
    return power * up + hour_kwh(power, duty) * held


def unit_price(record: Consumable) -> float | None:
    """What one unit of a consumable costs: its price is that of a pack."""
    return record.price.amount / record.pack if record.price else None


def consumables_by_station(shop: Shop) -> Mapping[str, float]:
    """What is used up in a week, without sessions, by where it is kept."""
    weekly: dict[str, float] = defaultdict(float)
    for record in shop.consumables.values():
        weekly[record.kept_at] += record.use_per_week * (unit_price(record) or 0.0)
    return weekly


def _areas(shop: Shop, flow: FlowStudy) -> Mapping[str, Area]:
    """Stations by the part of the work they belong to: before the flake, or after it."""
    made_at = {m.machine.station for m in flow.week.made if m.machine}
    made_at |= {step.station for m in flow.week.made for step in m.product.finish}
    moulds_at = {mould.kept_at for mould in shop.moulds.values()}
    made_at |= {m.station for m in shop.machines.values() if m.process is not None}
    cut_at = {m.station for m in shop.machines.values() if m.kind in CUTTERS | DRIERS}
    areas: dict[str, Area] = {}
    for station in shop.stations.values():
        handed = _handed(shop, station)
        if station.id in made_at:
            areas[station.id] = "making"
        elif handed & _RAW or station.id in cut_at:
            areas[station.id] = "flake"
        elif station.id in moulds_at or (handed & _MADE and not _is_public(shop, station)):
            areas[station.id] = "making"
    return areas


def _handed(shop: Shop, station: Station) -> set[str]:
    """Conditions of what is handed to a station and on from it, by its containers."""
    return {
        condition
        for handover in (*station.takes_in, *station.gives)
        if handover.container
        for condition in shop.containers[handover.container].keeps
    }


def _is_public(shop: Shop, station: Station) -> bool:
    zone = shop.room.zones.get(station.zone)
    return zone is not None and zone.kind == "public"
