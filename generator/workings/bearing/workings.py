"""Floor load and fire load with their working shown."""

from __future__ import annotations

from collections.abc import Iterator

from shapely import Polygon

from generator.ground.origin import Origin
from generator.ground.wording import _
from generator.ground.working import Input, Quantity, Source, Verdict, Working
from generator.reference import reference
from generator.shop.records.material import Container
from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings.bearing.fire import FireLoad, gross_heat, hottest, store_limits
from generator.workings.bearing.floor import StackLoad, StationLoad, moulds_kg
from generator.workings.bearing.stores import LevelLoad, content_kg
from generator.workings.intake import latest_count, stock_by_polymer
from generator.workings.shown import at_station, given, own, tabled


def _floor_limit(shop: Shop) -> tuple[Quantity | None, Origin | Source | None]:
    floor = shop.room.floor_kpa
    if floor is None:
        return None, None
    return Quantity(floor, "kPa"), shop.room.origin_of("floor_kpa")


def _floor_margin(shop: Shop, pressure: float) -> Quantity | None:
    floor = shop.room.floor_kpa
    return None if floor is None else Quantity(floor - pressure, "kPa")


def of_station(shop: Shop, load: StationLoad) -> Working:
    limit, source = _floor_limit(shop)
    return Working(
        id=f"bearing.station.{load.station}",
        subject=f"stations/{load.station}",
        title=_("Floor under {station}, stores full").format(
            station=at_station(shop, load.station)
        ),
        formula=_("(what stands there + what is stored) × 9.807 m/s² ÷ footprint"),
        inputs=tuple(_station_inputs(shop, load)),
        result=Quantity(load.pressure_kpa, "kPa"),
        verdict=load.verdict,
        limit=limit,
        limit_source=source,
        margin=_floor_margin(shop, load.pressure_kpa),
        caution=_("Spread over the footprint: feet and castors press harder.")
        if load.stands_kg is not None
        else _("Without the mass of what it is made of, which nobody wrote."),
    )


def _station_inputs(shop: Shop, load: StationLoad) -> Iterator[Input]:
    station = shop.stations[load.station]
    if load.stands_kg is not None:
        yield given(_("what stands there"), load.stands_kg, "kg", _mass_origin(shop, station))
    for level in load.levels:
        if level.mass_kg is not None:
            each = _level_words(shop, level)
            origin = level.shelf.origin
            yield given(each, level.shelf.levels * level.mass_kg, "kg", origin)
    if load.counted_kg and not any(level.mass_kg for level in load.levels):
        yield given(_("counted there"), load.counted_kg, "kg", station.origin)
    if moulds := moulds_kg(shop, station):
        yield given(_("moulds kept there"), moulds, "kg", station.origin)
    yield given(_("footprint"), load.area_m2, "m²", station.origin_of("size"))


def _mass_origin(shop: Shop, station: Station) -> Origin:
    if station.mass_kg is not None:
        return station.origin_of("mass_kg")
    return shop.machines_at(station.id)[0].origin_of("mass_kg")


def _level_words(shop: Shop, level: LevelLoad) -> str:
    if not level.container:
        return _("{levels} levels at what they carry").format(levels=level.shelf.levels)
    return _("{levels} levels of {count} × {container}, full").format(
        levels=level.shelf.levels,
        count=level.count,
        container=shop.containers[level.container].name,
    )


def of_stack(shop: Shop, stack: StackLoad) -> Working:
    container = shop.containers[stack.container]
    limit, source = _floor_limit(shop)
    return Working(
        id=f"bearing.stack.{stack.container}",
        subject=f"containers/{stack.container}",
        title=_("Floor under a full stack of {container}").format(container=container.name),
        formula=_("how high × (empty + what is in it) × 9.807 m/s² ÷ base"),
        inputs=(
            own(_("how high"), container, "stack"),
            *_container_inputs(shop, container),
            given(
                _("base"),
                container.outer[0] * container.outer[1] / 1e6,
                "m²",
                container.origin_of("outer"),
            ),
        ),
        result=Quantity(stack.pressure_kpa, "kPa"),
        verdict=stack.verdict,
        limit=limit,
        limit_source=source,
        margin=_floor_margin(shop, stack.pressure_kpa),
    )


def _container_inputs(shop: Shop, container: Container) -> tuple[Input, Input]:
    """Its empty mass, and what is in it: the shop's figure, or worked out of its volume."""
    inside = content_kg(shop, container)
    field = "most_kg" if inside == container.most_kg else "volume_l"
    return (
        own(_("empty"), container, "empty_kg"),
        given(_("what is in it"), inside, "kg", container.origin_of(field)),
    )


def of_levels(shop: Shop, load: StationLoad) -> Iterator[Working]:
    for number, level in enumerate(load.levels, 1):
        if level.container and level.rated_kg is not None and level.mass_kg is not None:
            yield _level_working(shop, load, number, level)


def _level_working(shop: Shop, load: StationLoad, number: int, level: LevelLoad) -> Working:
    container, mass, rated = shop.containers[level.container], level.mass_kg, level.rated_kg
    assert mass is not None and rated is not None
    return Working(
        id=f"bearing.level.{load.station}.{number}",
        subject=f"stations/{load.station}",
        title=_("A full level of the store at {station}").format(
            station=at_station(shop, load.station)
        ),
        formula=_("containers that fit × (empty + what is in it)"),
        inputs=(
            given(_("containers that fit"), level.count, "", level.shelf.origin),
            *_container_inputs(shop, container),
        ),
        result=Quantity(mass, "kg"),
        verdict=Verdict.FAILS if level.overloaded else Verdict.HOLDS,
        limit=Quantity(rated, "kg"),
        limit_source=level.shelf.origin_of("load_kg"),
        margin=Quantity(rated - mass, "kg"),
    )


def of_fire(shop: Shop, load: FireLoad) -> Working:
    return Working(
        id=f"bearing.fire.{load.key}",
        subject="room",
        title=_("Fire load of the room {case}").format(case=load.title),
        formula=_("sum of mass × gross heat of combustion ÷ floor area"),
        inputs=tuple(_fire_inputs(shop, load)),
        result=Quantity(load.density_mjm2, "MJ/m²"),
        caution=_("Plastic alone: furniture, wood and the building come on top."),
        source=reference().polymer("PP").heat_gross.source_record,
    )


def _fire_inputs(shop: Shop, load: FireLoad) -> Iterator[Input]:
    if load.key == "full":
        yield given(_("plastic in all containers"), load.mass_kg, "kg", _containers_origin(shop))
    else:
        yield from _mass_inputs(shop, load.key)
    area = Polygon(shop.room.outline).area / 1e6
    yield given(_("floor area"), area, "m²", shop.room.origin_of("outline"))


def _containers_origin(shop: Shop) -> Origin:
    return next(iter(shop.containers.values())).origin


def _mass_inputs(shop: Shop, key: str) -> Iterator[Input]:
    counted = key == "counted"
    masses = stock_by_polymer(shop) if counted else store_limits(shop)
    rows = {row.polymer: row.origin for row in latest_count(shop)}
    for id_, mass in masses.items():
        polymer = shop.polymers[id_]
        heat = gross_heat(polymer)
        if heat is None or mass <= 0:
            continue
        origin = rows[id_] if counted else polymer.origin_of("store_limit_kg")
        yield given(str(polymer.name), mass, "kg", origin)
        yield tabled(_("heat of {polymer}").format(polymer=polymer.name), heat, heat.high)


def of_store_fire(shop: Shop, load: StationLoad) -> Working:
    station = shop.stations[load.station]
    source = reference().polymer("PE-HD").heat_gross.source_record
    return Working(
        id=f"bearing.fire.station.{load.station}",
        subject=f"stations/{load.station}",
        title=_("Fire load on the footprint of {station}, stores full").format(
            station=at_station(shop, load.station)
        ),
        formula=_("sum of mass × gross heat of combustion ÷ footprint"),
        inputs=(
            *(
                given(
                    _level_words(shop, level),
                    level.shelf.levels * (level.mass_kg or 0.0),
                    "kg",
                    level.shelf.origin,
                )
                for level in load.levels
                if level.container
            ),
            given(_("gross heat, the hottest taken"), hottest(shop), "MJ/kg", source),
            given(_("footprint"), load.area_m2, "m²", station.origin_of("size")),
        ),
        result=Quantity(load.fire_mjm2, "MJ/m²"),
        caution=_("As if all of it were what burns hottest of what the shop takes."),
        source=source,
    )
