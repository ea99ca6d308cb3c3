"""Hot machines that no hood to the outside catches anything from."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ground.finding import Finding, Severity
from generator.ground.wording import _
from generator.shop.records.machines import Machine
from generator.shop.shop import Shop
from generator.workings.shown import at_station


def melts(machine: Machine) -> bool:
    """Whether it melts plastic, which always gives off fume."""
    return machine.process in ("injection", "extrusion", "press")


def is_asked(machine: Machine) -> bool:
    return machine.is_hot or bool(machine.needs_extraction)


def findings(shop: Shop, machine: Machine) -> Iterator[Finding]:
    if _caught(shop, machine):
        return
    where = at_station(shop, machine.station)
    if machine.needs_extraction:
        yield _uncaught(shop, machine, where)
    elif machine.needs_extraction is None or melts(machine):
        yield _may_need(machine, where)


def _caught(shop: Shop, machine: Machine) -> bool:
    hoods = (h for h in shop.room.hoods.values() if h.station == machine.station)
    return any(shop.room.fans[h.fan].discharge == "outside" for h in hoods)


def is_planned(shop: Shop, machine: Machine) -> bool:
    """Whether a stage that is not reached yet adds the machine or its station."""
    return any(
        not stage.reached
        for stage in shop.stages.values()
        if machine.id in stage.adds_machines or machine.station in stage.adds_stations
    )


def _uncaught(shop: Shop, machine: Machine, where: str) -> Finding:
    says = _("{machine} at {station} needs extraction, and no hood there blows outside.").format(
        machine=machine.name, station=where
    )
    planned = is_planned(shop, machine)
    mend = (
        _("Fit a hood that blows outside before it is first heated.")
        if planned
        else _("Do not heat it until a hood there blows outside and is measured.")
    )
    return Finding(
        "air.no-hood",
        Severity.STOP if machine.is_hot and not planned else Severity.FIX,
        machine.origin_of("needs_extraction"),
        says,
        mend,
        subject=f"machines/{machine.id}",
    )


def _may_need(machine: Machine, where: str) -> Finding:
    if machine.needs_extraction is None:
        says = _("{machine} at {station} is hot and has no hood; nobody said if it needs one.")
        mend = _("Ask, and write the answer as `needs_extraction`.")
    else:
        says = _("{machine} at {station} melts plastic, and the shop says it needs no hood.")
        mend = _("Have that confirmed by somebody who knows the fume of its polymers.")
    return Finding(
        "air.no-hood",
        Severity.ASK,
        machine.origin_of("needs_extraction"),
        says.format(machine=machine.name, station=where),
        mend,
        subject=f"machines/{machine.id}",
        asks="ventilation",
    )
