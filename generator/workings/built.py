"""What is set up already: a station or machine that a later stage brings is not used yet."""

from __future__ import annotations

from generator.shop.shop import Shop


def is_set_up(shop: Shop, station: str) -> bool:
    """Whether a station stands: no stage brings it, or one that is reached."""
    stage = shop.stage_of(station)
    return stage is None or stage.reached


def running_machines(shop: Shop) -> frozenset[str]:
    """Machines that are there and whose station is set up."""
    later = {
        id_ for stage in shop.stages.values() if not stage.reached for id_ in stage.adds_machines
    }
    return frozenset(
        id_
        for id_, machine in shop.machines.items()
        if id_ not in later and is_set_up(shop, machine.station)
    )
