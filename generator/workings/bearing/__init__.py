"""Does the floor bear what stands on it, and how much is there to burn?

Stores count with their containers full, each level with the heaviest kind that goes there, or
with what the last count found where that is more. A station's mass is spread over its footprint;
feet press harder than that, which a structural engineer answers for. The fire load counts
plastic alone, by its gross heat of combustion.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.ground.survey import Survey, survey
from generator.shop.shop import Shop
from generator.workings.bearing import workings
from generator.workings.bearing.findings import findings
from generator.workings.bearing.fire import FireLoad, fire_loads
from generator.workings.bearing.floor import (
    StackLoad,
    StationLoad,
    stack_load,
    station_load,
    weighs,
)
from generator.workings.bearing.laws import filled_kg, fire_load_mjm2, heat_mj, pressure_kpa
from generator.workings.bearing.stores import LevelLoad

__all__ = [
    "BearingStudy", "FireLoad", "LevelLoad", "StackLoad", "StationLoad", "filled_kg",
    "fire_load_mjm2", "heat_mj", "pressure_kpa", "study",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class BearingStudy:
    """Everything worked out of what the floor bears and what there is to burn."""

    floor_kpa: float | None
    stations: tuple[StationLoad, ...]
    stacks: tuple[StackLoad, ...]
    fire: tuple[FireLoad, ...]
    survey: Survey


def study(shop: Shop) -> BearingStudy:
    """Work out floor load and fire load.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    """
    stations = tuple(station_load(shop, s) for s in shop.stations.values())
    stacks = tuple(stack_load(shop, c) for c in shop.containers.values())
    fire = tuple(fire_loads(shop))
    shown = [
        *(workings.of_station(shop, load) for load in stations if weighs(load)),
        *(workings.of_stack(shop, stack) for stack in stacks),
        *(w for load in stations for w in workings.of_levels(shop, load)),
        *(workings.of_fire(shop, load) for load in fire),
        *(workings.of_store_fire(shop, load) for load in stations if load.heat_mj),
    ]
    found = tuple(findings(shop, stations, stacks, fire))
    asked = int(bool(fire))
    made = survey("bearing", shown, found, other_checks=asked, other_unanswered=asked)
    return BearingStudy(shop.room.floor_kpa, stations, stacks, fire, made)
