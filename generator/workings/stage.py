"""Which stage of the build-out a machine or a station waits for."""

from __future__ import annotations

from generator.shop.records.machines import Machine
from generator.shop.records.people import Stage
from generator.shop.shop import Shop


def stage_of_machine(shop: Shop, machine: Machine) -> Stage | None:
    """The stage that adds a machine, else its station; None where no stage names either."""
    own = (s for s in in_order(shop) if machine.id in s.adds_machines)
    return next(own, None) or shop.stage_of(machine.station)


def waits_for(shop: Shop, machine: Machine) -> Stage | None:
    """The stage not yet reached that adds a machine or its station; None where it is in use."""
    stages = (stage_of_machine(shop, machine), shop.stage_of(machine.station))
    return next((s for s in stages if s is not None and not s.reached), None)


def in_order(shop: Shop) -> tuple[Stage, ...]:
    """The stages from the first."""
    return tuple(sorted(shop.stages.values(), key=lambda s: s.order))
