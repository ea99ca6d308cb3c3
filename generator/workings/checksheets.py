"""What is gone through on opening and on closing, and when a machine is opened for upkeep.

The sheets are drawn from the room, the machines and what lives at each station, so that a new
button, tool or hood stands on the next sheet by itself. Pages and prints show the same lines.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from generator.ground.units import show, show_number
from generator.ground.wording import _
from generator.shop.records.machines import Machine
from generator.shop.records.material import Consumable, Tool
from generator.shop.records.people import Procedure
from generator.shop.records.room import Equipment
from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings import commissioning, standstill
from generator.workings.built import running_machines
from generator.workings.falling_due import State
from generator.workings.loans import out_of
from generator.workings.running import Running
from generator.workings.stores import amount
from generator.workings.upkeep import Task


@dataclass(frozen=True, slots=True)
class Line:
    """Something to do and tick. ``expects`` is what is to be read or counted, "" for a tick."""

    do: str
    expects: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """Lines in one place, or about one thing. ``station`` is None for the whole room."""

    title: str
    lines: tuple[Line, ...]
    station: Station | None = None


@dataclass(frozen=True, slots=True)
class Sheet:
    """A check sheet: its sections in the order of the walk, and the procedures it goes with."""

    kind: Literal["opening", "closing"]
    sections: tuple[Section, ...]
    procedures: tuple[Procedure, ...]

    @property
    def count(self) -> int:
        """How many lines there are to tick."""
        return sum(len(section.lines) for section in self.sections)


@dataclass(frozen=True, slots=True)
class UpkeepSheet:
    """What a maintainer takes along to one machine.

    ``lock_out`` are the steps that leave it dead, where a task asks for that; ``parts`` and
    ``tools`` are all that its tasks use.
    """

    machine: Machine
    tasks: tuple[Task, ...]
    lock_out: tuple[str, ...]
    isolators: tuple[Equipment, ...]
    parts: tuple[Consumable, ...]
    tools: tuple[Tool, ...]


# --- opening -----------------------------------------------------------------------------------


def opening(running: Running) -> Sheet:
    """The sheet of a day's opening.

    Parameters
    ----------
    running
        The shop on that day.
    """
    shop = running.shop
    made = (
        Section(_("Ways out, and what must be found at once"), tuple(_at_once(shop))),
        Section(_("Red buttons, with every machine off"), tuple(_buttons(shop))),
        Section(_("Stays off today"), tuple(_off(shop, running.as_of))),
        *(_opened(running, station) for station in shop.stations_by_number),
    )
    return Sheet("opening", _with_lines(made), _of_kind(shop, "opening"))


def _with_lines(sections: Iterable[Section]) -> tuple[Section, ...]:
    return tuple(section for section in sections if section.lines)


def _of_kind(shop: Shop, kind: str) -> tuple[Procedure, ...]:
    return tuple(p for p in shop.procedures.values() if p.kind == kind)


_FOUND_AT_ONCE = (
    "extinguisher",
    "fire-blanket",
    "alarm-point",
    "first-aid",
    "eyewash",
    "burn-sink",
    "lock-out-station",
    "spill-kit",
)


def _at_once(shop: Shop) -> Iterator[Line]:
    for door in shop.room.doors.values():
        if door.exit:
            yield Line(_("{door}: unlocked, opens, nothing before it").format(door=door.name))
    for thing in shop.equipment_of_kind(*_FOUND_AT_ONCE):
        yield Line(_("{thing}: there, whole, nothing before it").format(thing=thing.name))
    for light in shop.equipment_of_kind("emergency-light"):
        yield Line(_("{thing}: its lamp is lit").format(thing=light.name))


def _buttons(shop: Shop) -> Iterator[Line]:
    used = running_machines(shop)
    for button in shop.equipment_of_kind("emergency-stop"):
        names = ", ".join(str(shop.machines[m].name) for m in button.isolates if m in used)
        if names:
            says = _("{button}: press it, try to start, pull it out again")
            yield Line(
                says.format(button=button.name), _("dead: {machines}").format(machines=names)
            )


def _off(shop: Shop, as_of: dt.date) -> Iterator[Line]:
    """Machines that are out of use or not signed off: the sign still hangs."""
    out = {still.machine.id for still in standstill.out_now(shop, as_of)}
    for machine in shop.machines.values():
        unsigned = commissioning.sheet_of(machine).is_open
        if machine.id in running_machines(shop) and (machine.id in out or unsigned):
            why = _("out of use") if machine.id in out else _("not signed off")
            says = _("{machine} ({why}): locked, and its signs hang")
            yield Line(says.format(machine=machine.name, why=why))


def _in_use(running: Running, station: Station) -> tuple[Machine, ...]:
    """The machines of a station that may be started that day."""
    shop = running.shop
    out = {still.machine.id for still in standstill.out_now(shop, running.as_of)}
    return tuple(
        m
        for m in shop.machines_at(station.id)
        if m.id in running_machines(shop) - out and not commissioning.sheet_of(m).is_open
    )


def _opened(running: Running, station: Station) -> Section:
    machines = _in_use(running, station)
    lines = [
        *(line for m in machines for line in _machine_opened(m)),
        *_hoods(running.shop, station, machines),
        *_tools_checked(running.shop, station),
        *(line for m in machines for line in _due(running, m)),
    ]
    return Section(f"{station.number} {station.name}", tuple(lines), station)


def _machine_opened(machine: Machine) -> Iterator[Line]:
    name = machine.name
    for opening_ in machine.guard_openings:
        says = _("{machine}, {where}: guard whole and tight")
        if opening_.interlocked:
            says = _("{machine}, {where}: opened, it must not start")
        yield Line(says.format(machine=name, where=_lower_first(str(opening_.where))))
    if machine.emergency_stop:
        yield Line(_("{machine}: its own red button holds it off").format(machine=name))
    if machine.heat:
        ready = machine.heat.heat_up_min + machine.heat.soak_min
        says = _("{machine}: on {time} before it is wanted, not sooner")
        yield Line(says.format(machine=name, time=show(ready, "min", 0)), _("on at __:__"))


def _lower_first(words: str) -> str:
    return words[:1].lower() + words[1:] if words[1:2].islower() else words


def _hoods(shop: Shop, station: Station, machines: Iterable[Machine]) -> Iterator[Line]:
    if not any(machine.is_hot for machine in machines):
        return
    for hood in shop.room.hoods.values():
        if hood.station == station.id and hood.fan:
            says = _("{fan} runs; a strip of paper is drawn to {hood}")
            yield Line(says.format(fan=shop.room.fans[hood.fan].name, hood=hood.name))


def _tools_checked(shop: Shop, station: Station) -> Iterator[Line]:
    for tool in shop.tools.values():
        if tool.kept_at == station.id and tool.check:
            yield Line(f"{tool.name}: {_lower_first(str(tool.check)).rstrip('.')}")


def _due(running: Running, machine: Machine) -> Iterator[Line]:
    """Upkeep that is late: told where it is met."""
    for task in running.upkeep.tasks:
        if task.machine.id == machine.id and task.state is State.OVERDUE:
            says = _("{machine}: upkeep is late: {what}")
            yield Line(says.format(machine=machine.name, what=_lower_first(str(task.task.what))))


# --- closing -----------------------------------------------------------------------------------


def closing(running: Running) -> Sheet:
    """The sheet of a day's closing: heat off first, then the count, power and the doors last.

    Parameters
    ----------
    running
        The shop on that day.
    """
    shop = running.shop
    made = (
        Section(_("Heat off"), tuple(_heat_off(running))),
        *(_counted(running, station) for station in shop.stations_by_number),
        Section(_("Water and fans"), tuple(_water_and_fans(shop))),
        Section(_("Power off, when nothing is hot"), tuple(_power_off(shop))),
        Section(_("Last"), tuple(_last(shop))),
    )
    return Sheet("closing", _with_lines(made), _of_kind(shop, "closing"))


def _heat_off(running: Running) -> Iterator[Line]:
    """Hot machines, the one that takes longest to cool first."""
    used = [m for s in running.shop.stations_by_number for m in _in_use(running, s)]
    hot = [(m, m.heat) for m in used if m.heat]
    for machine, heat in sorted(hot, key=lambda row: -row[1].cool_down_min):
        says = _("{machine}: empty and off; it is cold after {time}")
        time = show(heat.cool_down_min, "min", 0)
        yield Line(says.format(machine=machine.name, time=time), _("off at __:__, reads ____ °C"))


def _counted(running: Running, station: Station) -> Section:
    """The count-back of a station: what should lie there, without what is out.

    Of what is used up only what goes by the week or the session; spares are counted when used.
    """
    shop, out = running.shop, running.loans.out
    tools = [
        Line(str(tool.name), str(tool.count - out_of(out, tool)))
        for tool in shop.tools.values()
        if tool.kept_at == station.id and tool.count > out_of(out, tool)
    ]
    moulds = [
        Line(_("Mould: {mould}").format(mould=mould.name), "1")
        for mould in shop.moulds.values()
        if mould.kept_at == station.id and not out_of(out, mould)
    ]
    stock = [
        Line(
            str(thing.name),
            _("more than {least}, or order").format(least=amount(thing, thing.least)),
        )
        for thing in shop.consumables.values()
        if thing.kept_at == station.id and (thing.use_per_week or thing.use_per_session)
    ]
    return Section(f"{station.number} {station.name}", (*tools, *moulds, *stock), station)


def _water_and_fans(shop: Shop) -> Iterator[Line]:
    taps = [point for point in shop.room.water.values() if point.kind != "drain"]
    if taps:
        yield Line(_("Water is shut off at every tap"), show_number(len(taps)))
    for fan in shop.room.fans.values():
        if fan.discharge == "outside":
            yield Line(_("{fan}: off last of all, when nothing is hot").format(fan=fan.name))


def _power_off(shop: Shop) -> Iterator[Line]:
    for isolator in shop.equipment_of_kind("isolator"):
        names = ", ".join(str(shop.machines[m].name) for m in isolator.isolates)
        yield Line(_("{isolator}: {machines}").format(isolator=isolator.name, machines=names), "0")


def _last(shop: Shop) -> Iterator[Line]:
    if any(window.openable_m2 for window in shop.room.windows.values()):
        yield Line(_("Every window is shut"))
    yield Line(_("Nobody is left inside"))
    for door in shop.room.doors.values():
        yield Line(_("{door}: locked").format(door=door.name))


# --- upkeep ------------------------------------------------------------------------------------


def upkeep(running: Running) -> tuple[UpkeepSheet, ...]:
    """A sheet for each machine in use that asks for upkeep, the most pressing first."""
    machines = dict.fromkeys(task.machine.id for task in running.upkeep.tasks)
    return tuple(_upkeep_of(running, running.shop.machines[m]) for m in machines)


def _upkeep_of(running: Running, machine: Machine) -> UpkeepSheet:
    shop = running.shop
    tasks = tuple(t for t in running.upkeep.tasks if t.machine.id == machine.id)
    locked = any(task.task.lock_out for task in tasks)
    parts = dict.fromkeys(id_ for task in tasks for id_ in task.task.uses)
    tools = dict.fromkeys(id_ for task in tasks for id_ in task.task.tools)
    return UpkeepSheet(
        machine,
        tasks,
        tuple(map(str, machine.lock_out)) if locked else (),
        tuple(e for e in shop.isolators_of(machine.id) if e.kind == "isolator"),
        tuple(shop.consumables[id_] for id_ in parts),
        tuple(shop.tools[id_] for id_ in tools),
    )
