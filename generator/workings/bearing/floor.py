"""What each station and each stack of containers puts on the floor."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shapely import Polygon

from generator.ground.working import Verdict
from generator.shop.records.material import Container
from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings.bearing.fire import heat_of, level_burns
from generator.workings.bearing.laws import heat_mj, pressure_kpa
from generator.workings.bearing.stores import LevelLoad, full_kg, level_load
from generator.workings.footprint import footprint
from generator.workings.intake import latest_count


@dataclass(frozen=True, slots=True)
class StationLoad:
    """What one station puts on the floor, stores full.

    ``stands_kg`` is what stands there, None where nobody wrote a mass; ``stored_kg`` what its
    levels and moulds hold. ``heat_mj`` is what of it burns, ``fire_mjm2`` on its footprint.
    """

    station: str
    area_m2: float
    stands_kg: float | None
    stored_kg: float
    levels: tuple[LevelLoad, ...]
    pressure_kpa: float
    heat_mj: float
    fire_mjm2: float
    counted_kg: float
    counted_mj: float
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class StackLoad:
    """A full stack of one kind of container on the floor."""

    container: str
    high: int
    mass_kg: float
    height_mm: float
    pressure_kpa: float
    verdict: Verdict


def station_load(shop: Shop, station: Station) -> StationLoad:
    area = Polygon(footprint(station)).area / 1e6
    stands = standing_kg(shop, station)
    levels = tuple(level_load(shop, shelf) for shelf in station.storage)
    full = math.fsum(load.shelf.levels * (load.mass_kg or 0.0) for load in levels)
    counted = [(row.kg, row.polymer) for row in latest_count(shop) if row.station == station.id]
    counted_kg = math.fsum(kg for kg, _polymer in counted)
    stored = moulds_kg(shop, station) + max(full, counted_kg)
    pressure = pressure_kpa((stands or 0.0) + stored, area)
    heat = heat_mj(part for load in levels for part in level_burns(shop, load))
    return StationLoad(
        station=station.id,
        area_m2=area,
        stands_kg=stands,
        stored_kg=stored,
        levels=levels,
        pressure_kpa=pressure,
        heat_mj=heat,
        fire_mjm2=heat / area,
        counted_kg=counted_kg,
        counted_mj=heat_mj((kg, heat_of(shop, polymer)) for kg, polymer in counted),
        verdict=_judged(pressure, shop.room.floor_kpa),
    )


def weighs(load: StationLoad) -> bool:
    return load.pressure_kpa > 0


def standing_kg(shop: Shop, station: Station) -> float | None:
    """What stands on a station without what is stored: its own mass, or its machines' if more."""
    machines = [m.mass_kg for m in shop.machines_at(station.id) if m.mass_kg is not None]
    if station.mass_kg is None and not machines:
        return None
    return max(station.mass_kg or 0.0, math.fsum(machines))


def moulds_kg(shop: Shop, station: Station) -> float:
    return math.fsum(m.mass_kg for m in shop.moulds.values() if m.kept_at == station.id)


def _judged(pressure: float, floor_kpa: float | None) -> Verdict:
    if floor_kpa is None:
        return Verdict.UNANSWERED
    return Verdict.HOLDS if pressure <= floor_kpa else Verdict.FAILS


def stack_load(shop: Shop, container: Container) -> StackLoad:
    width, depth, height = container.outer
    mass = container.stack * full_kg(shop, container)
    pressure = pressure_kpa(mass, width * depth / 1e6)
    return StackLoad(
        container=container.id,
        high=container.stack,
        mass_kg=mass,
        height_mm=container.stack * height,
        pressure_kpa=pressure,
        verdict=_judged(pressure, shop.room.floor_kpa),
    )
