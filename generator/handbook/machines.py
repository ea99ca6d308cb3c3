"""A page for every machine: may I, how hot, how it stops, and its figures with their origin."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.ground import units
from generator.ground.wording import _
from generator.handbook.desk import Desk
from generator.handbook.links import path_of
from generator.handbook.making import known_good, trial_anchor
from generator.handbook.page import Page
from generator.handbook.render import render
from generator.shop.fields import Record
from generator.shop.records.machines import Machine
from generator.workings import commissioning
from generator.workings.settings import settings_of
from generator.workings.standstill import Standstill


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure and the record and field it was written in."""

    label: str
    value: str
    record: Record
    field: str
    note: str = ""


def pages(desk: Desk) -> Iterator[Page]:
    """A page for each machine, in file order."""
    for number, machine in enumerate(desk.shop.machines.values(), 1):
        yield _page(desk, machine, number)


def _page(desk: Desk, machine: Machine, number: int) -> Page:
    shop, path = desk.shop, path_of(machine)
    body = render(
        "machine",
        path,
        shop=shop,
        machine=machine,
        station=shop.stations[machine.station],
        use=desk.use_of(machine),
        unsigned=commissioning.sheet_of(machine),
        isolators=shop.isolators_of(machine.id),
        settings=settings_of(desk.shop, desk.refusals, machine),
        known_good=known_good(desk, machine),
        trial_anchor=trial_anchor,
        moulds=shop.moulds_of(machine.id),
        procedures=[p for p in shop.procedures.values() if machine.id in p.machines],
        out_of_use=desk.is_out_of_use(machine),
        still=_still(desk, machine),
        hazards=[h for h in shop.hazards.values() if machine.id in h.machines],
        figures=list(_figures(desk, machine)),
        findings=desk.findings_on(f"machines/{machine.id}"),
    )
    return Page(path, str(machine.name), "machine", f"MA-{number:02d}", body, machine.origin)


def _still(desk: Desk, machine: Machine) -> Standstill | None:
    """What stops with it; nothing does with a machine that waits for its stage."""
    rows = desk.studies.running.upkeep.out_of_use
    return next((row for row in rows if row.machine.id == machine.id), None)


def _figures(desk: Desk, machine: Machine) -> Iterator[Figure]:
    yield from _electric(desk, machine)
    yield from _around(machine)
    yield from _capacity(machine)
    if machine.price:
        price = f"{machine.price.amount:,.2f}\u202f{machine.price.currency}".replace(",", "\u202f")
        yield Figure(_("Price"), price, machine, "price")


def _electric(desk: Desk, machine: Machine) -> Iterator[Figure]:
    electric = machine.electric
    if electric is None:
        return
    shaft = _("at the shaft") if electric.of_shaft else _("drawn from the supply")
    yield Figure(_("Power"), units.show(electric.power_kw, "kw"), electric, "power_kw", shaft)
    phases = {"one": _("one phase"), "two": _("across two phases"), "three": _("three phases")}
    voltage = units.show(electric.voltage_v, "v")
    yield Figure(_("Supply"), voltage, electric, "voltage_v", phases[electric.phases])
    circuit = desk.shop.room.circuits[electric.circuit]
    yield Figure(
        _("Circuit"),
        str(circuit.name),
        circuit,
        "device_a",
        _("{device} device").format(device=units.show(circuit.device_a, "a")),
    )


def _around(machine: Machine) -> Iterator[Figure]:
    if machine.noise:
        measured = machine.noise.measured
        note = _("measured here {day}").format(day=measured) if measured else _("not measured here")
        level = units.show(machine.noise.level_db, "db")
        at = units.show(machine.noise.distance_mm, "mm")
        yield Figure(
            _("Noise at {distance}").format(distance=at), level, machine.noise, "level_db", note
        )
    for surface in machine.hot_surfaces:
        note = _("guarded") if surface.guarded else _("can be touched")
        heat = units.show(surface.surface_c, "c")
        yield Figure(str(surface.where), heat, surface, "surface_c", note)
    for opening in machine.guard_openings:
        size = units.show(opening.opening_mm, "mm")
        reach = _("{distance} to what moves").format(distance=units.show(opening.distance_mm, "mm"))
        yield Figure(str(opening.where), size, opening, "opening_mm", reach)
    if machine.mass_kg is not None:
        yield Figure(_("Mass"), units.show(machine.mass_kg, "kg"), machine, "mass_kg")


def _capacity(machine: Machine) -> Iterator[Figure]:
    capacity = machine.capacity
    for label, field, unit in (
        (_("Shot, at most"), "shot_cm3", "cm3"),
        (_("Barrel"), "barrel_cm3", "cm3"),
        (_("Injection pressure"), "injection_mpa", "mpa"),
        (_("Clamp force"), "clamp_kn", "kn"),
        (_("Opening between platens"), "daylight_mm", "mm"),
        (_("Batch"), "batch_kg", "kg"),
        (_("Throughput"), "throughput_kgh", "kgh"),
    ):
        value = getattr(capacity, field)
        if value is not None:
            yield Figure(label, units.show(value, unit), capacity, field)
