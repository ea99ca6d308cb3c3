"""Does the floor bear what stands on it, and how much is there to burn?

Stores count with their containers full, each level with the heaviest kind that goes there, or
with what the last count found where that is more. A station's mass is spread over its footprint;
feet press harder than that, which a structural engineer answers for. The fire load counts
plastic alone, by its gross heat of combustion.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from shapely import Polygon

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.survey import Survey, survey
from generator.ground.units import show, show_number
from generator.ground.wording import _
from generator.ground.working import Input, Quantity, Source, Verdict, Working
from generator.reference import Value, reference
from generator.shop.records.material import Container, Polymer
from generator.shop.records.stations import Shelf, Station
from generator.shop.shop import Shop
from generator.workings.footprint import footprint
from generator.workings.intake import latest_count, stock_by_polymer
from generator.workings.shown import at_station, given, own, tabled

STANDARD_GRAVITY = 9.80665
"""Fall of a body [m/s²], by definition."""
_CONTAINER_PLASTICS = ("PP", "PE-HD")
"""What plastic crates are made of: the one that burns hotter is counted."""
_LOOSE = frozenset({"as donated", "sorted", "washed", "flake", "blend"})
"""Conditions in which material lies loose and weighs no more than the densest flake."""


# --- laws --------------------------------------------------------------------------------------


def pressure_kpa(mass_kg: float, area_m2: float) -> float:
    """Pressure of a mass on the floor under it: ``p = m · g / A``.

    Parameters
    ----------
    mass_kg
        Mass m [kg].
    area_m2
        Area A it stands on [m²], more than 0.

    Returns
    -------
    float
        Pressure p [kPa], which is kN/m².
    """
    return mass_kg * STANDARD_GRAVITY / area_m2 / 1000


def filled_kg(volume_l: float, bulk_kgm3: float, fill: float) -> float:
    """Mass of loose material in a container: ``m = V · φ · ρ``.

    Parameters
    ----------
    volume_l
        Volume V of the container [l].
    bulk_kgm3
        Bulk density ρ as it lies [kg/m³].
    fill
        Share φ of the volume that is filled [-].

    Returns
    -------
    float
        Mass m [kg].
    """
    return volume_l / 1000 * fill * bulk_kgm3


def heat_mj(parts: Iterable[tuple[float, float]]) -> float:
    """Heat that burning sets free: ``Q = Σ m · Hc``.

    Parameters
    ----------
    parts
        Pairs of mass m [kg] and gross heat of combustion Hc [MJ/kg].

    Returns
    -------
    float
        Heat Q [MJ].
    """
    return math.fsum(mass * heat for mass, heat in parts)


def fire_load_mjm2(parts: Iterable[tuple[float, float]], area_m2: float) -> float:
    """Fire load density: ``q = Σ m · Hc / A``.

    Parameters
    ----------
    parts
        Pairs of mass m [kg] and gross heat of combustion Hc [MJ/kg].
    area_m2
        Floor area A [m²], more than 0.

    Returns
    -------
    float
        Fire load density q [MJ/m²].
    """
    return heat_mj(parts) / area_m2


# --- results -----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class LevelLoad:
    """One level of a shelf, full.

    ``container`` is the heaviest kind that goes there and ``count`` how many fit; ``mass_kg``
    is what they weigh full, None where no kind is named. ``rated_kg`` is what the level carries.
    """

    shelf: Shelf
    container: str
    count: int
    mass_kg: float | None
    rated_kg: float | None

    @property
    def overloaded(self) -> bool:
        loaded, rated = self.mass_kg, self.rated_kg
        return loaded is not None and rated is not None and loaded > rated


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


@dataclass(frozen=True, slots=True)
class FireLoad:
    """What would burn in the whole room in one case (``counted``, ``limits``, ``full``)."""

    key: str
    title: str
    mass_kg: float
    heat_mj: float
    density_mjm2: float


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
    stations = tuple(_station(shop, s) for s in shop.stations.values())
    stacks = tuple(_stack(shop, c) for c in shop.containers.values())
    fire = tuple(_fire(shop))
    workings = [
        *(_station_working(shop, load) for load in stations if _weighs(load)),
        *(_stack_working(shop, stack) for stack in stacks),
        *(w for load in stations for w in _level_workings(shop, load)),
        *(_fire_working(shop, load) for load in fire),
        *(_store_fire_working(shop, load) for load in stations if load.heat_mj),
    ]
    found = tuple(_findings(shop, stations, stacks, fire))
    asked = int(bool(fire))
    made = survey("bearing", workings, found, other_checks=asked, other_unanswered=asked)
    return BearingStudy(shop.room.floor_kpa, stations, stacks, fire, made)


# --- what stands at a station ------------------------------------------------------------------


def _station(shop: Shop, station: Station) -> StationLoad:
    area = Polygon(footprint(station)).area / 1e6
    stands = standing_kg(shop, station)
    levels = tuple(_level(shop, shelf) for shelf in station.storage)
    full = math.fsum(load.shelf.levels * (load.mass_kg or 0.0) for load in levels)
    counted = [(row.kg, row.polymer) for row in latest_count(shop) if row.station == station.id]
    counted_kg = math.fsum(kg for kg, _polymer in counted)
    stored = _moulds_kg(shop, station) + max(full, counted_kg)
    pressure = pressure_kpa((stands or 0.0) + stored, area)
    heat = heat_mj(part for load in levels for part in _level_burns(shop, load))
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
        counted_mj=heat_mj((kg, _heat_of(shop, polymer)) for kg, polymer in counted),
        verdict=_judged(pressure, shop.room.floor_kpa),
    )


def _weighs(load: StationLoad) -> bool:
    return load.pressure_kpa > 0


def standing_kg(shop: Shop, station: Station) -> float | None:
    """What stands on a station without what is stored: its own mass, or its machines' if more."""
    machines = [m.mass_kg for m in shop.machines_at(station.id) if m.mass_kg is not None]
    if station.mass_kg is None and not machines:
        return None
    return max(station.mass_kg or 0.0, math.fsum(machines))


def _moulds_kg(shop: Shop, station: Station) -> float:
    return math.fsum(m.mass_kg for m in shop.moulds.values() if m.kept_at == station.id)


def _judged(pressure: float, floor_kpa: float | None) -> Verdict:
    if floor_kpa is None:
        return Verdict.UNANSWERED
    return Verdict.HOLDS if pressure <= floor_kpa else Verdict.FAILS


def content_kg(shop: Shop, container: Container) -> float:
    """The most that is in a full container: what may go in, or what its volume holds if less."""
    if not _LOOSE.issuperset(container.keeps):
        return container.most_kg
    fill = reference().limit("store-fill").low
    return min(container.most_kg, filled_kg(container.volume_l, _densest_kgm3(shop), fill))


def _densest_kgm3(shop: Shop) -> float:
    """The densest flake of all the shop takes: its own figure, else the top of the table's."""
    taken = [p for p in shop.polymers.values() if p.status == "taken"]
    return max((_flake_kgm3(p) for p in taken), default=math.inf)


def _flake_kgm3(polymer: Polymer) -> float:
    if polymer.own.flake_density_kgm3 is not None:
        return polymer.own.flake_density_kgm3
    known = reference().find_polymer(polymer.code)
    return math.inf if known is None else known.regrind_density.high


def full_kg(shop: Shop, container: Container) -> float:
    """A container with as much in it as it can hold and may hold [kg]."""
    return container.empty_kg + content_kg(shop, container)


def fitting(container: Container, shelf: Shelf) -> int:
    """How many of a kind of container fit on one level of a shelf, stacked as they may be."""
    width, depth, height = container.outer
    by_length = (shelf.length_mm // width) * (shelf.depth_mm // depth)
    by_depth = (shelf.length_mm // depth) * (shelf.depth_mm // width)
    high = min(container.stack, shelf.level_height_mm // height)
    return int(max(by_length, by_depth) * high)


def _level(shop: Shop, shelf: Shelf) -> LevelLoad:
    kinds = [shop.containers[id_] for id_ in shelf.keeps]
    if not kinds:
        return LevelLoad(shelf, "", 0, shelf.load_kg, shelf.load_kg)
    worst = max(kinds, key=lambda c: fitting(c, shelf) * full_kg(shop, c))
    count = fitting(worst, shelf)
    return LevelLoad(shelf, worst.id, count, count * full_kg(shop, worst), shelf.load_kg)


# --- what burns --------------------------------------------------------------------------------


def gross_heat(polymer: Polymer) -> Value | None:
    """Gross heat of combustion [MJ/kg], None where the tables have none for it."""
    known = reference().find_polymer(polymer.code)
    return known.heat_gross if known is not None else None


def _hottest(shop: Shop) -> float:
    """The gross heat of whatever burns hottest of all the shop takes [MJ/kg]."""
    taken = (gross_heat(p) for p in shop.polymers.values() if p.status == "taken")
    return max((heat.high for heat in taken if heat is not None), default=_crate_heat())


def _crate_heat() -> float:
    return max(reference().polymer(code).heat_gross.high for code in _CONTAINER_PLASTICS)


def _burns(shop: Shop, container: Container, count: int) -> Iterator[tuple[float, float]]:
    """Mass and heat of so many full containers: what is in them, and plastic boxes as well."""
    if "tools" not in container.keeps:
        yield count * content_kg(shop, container), _hottest(shop)
    if container.material == "plastic":
        yield count * container.empty_kg, _crate_heat()


def _level_burns(shop: Shop, load: LevelLoad) -> Iterator[tuple[float, float]]:
    if load.container:
        yield from _burns(shop, shop.containers[load.container], load.count * load.shelf.levels)


def _fire(shop: Shop) -> Iterator[FireLoad]:
    """The room at the last count, at the shop's own limits, and with every container full."""
    area = Polygon(shop.room.outline).area / 1e6
    cases = (
        ("counted", _("at the last count"), list(_by_polymer(shop, stock_by_polymer(shop)))),
        ("limits", _("at the store limits"), list(_by_polymer(shop, _store_limits(shop)))),
        ("full", _("with every container full"), list(_all_full(shop))),
    )
    for key, title, parts in cases:
        if parts:
            heat = heat_mj(parts)
            yield FireLoad(key, title, math.fsum(m for m, _h in parts), heat, heat / area)


def _store_limits(shop: Shop) -> dict[str, float]:
    return {p.id: p.store_limit_kg for p in shop.polymers.values() if p.store_limit_kg is not None}


def _by_polymer(shop: Shop, masses: Mapping[str, float]) -> Iterator[tuple[float, float]]:
    for id_, mass in masses.items():
        heat = _heat_of(shop, id_)
        if heat and mass > 0:
            yield mass, heat


def _heat_of(shop: Shop, polymer: str) -> float:
    """Gross heat of one of the shop's polymers [MJ/kg]; 0 where the tables have none."""
    heat = gross_heat(shop.polymers[polymer])
    return heat.high if heat is not None else 0.0


def _all_full(shop: Shop) -> Iterator[tuple[float, float]]:
    for container in shop.containers.values():
        if container.owned:
            yield from _burns(shop, container, container.owned)


def without_heat(shop: Shop) -> tuple[str, ...]:
    """Polymers in the last count, or with a store limit, whose heat of combustion is not known."""
    held = {**stock_by_polymer(shop), **_store_limits(shop)}
    return tuple(
        str(shop.polymers[id_].name) for id_ in held if gross_heat(shop.polymers[id_]) is None
    )


# --- stacks ------------------------------------------------------------------------------------


def _stack(shop: Shop, container: Container) -> StackLoad:
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


# --- workings ----------------------------------------------------------------------------------


def _floor_limit(shop: Shop) -> tuple[Quantity | None, Origin | Source | None]:
    floor = shop.room.floor_kpa
    if floor is None:
        return None, None
    return Quantity(floor, "kPa"), shop.room.origin_of("floor_kpa")


def _floor_margin(shop: Shop, pressure: float) -> Quantity | None:
    floor = shop.room.floor_kpa
    return None if floor is None else Quantity(floor - pressure, "kPa")


def _station_working(shop: Shop, load: StationLoad) -> Working:
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
    if moulds := _moulds_kg(shop, station):
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


def _stack_working(shop: Shop, stack: StackLoad) -> Working:
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


def _level_workings(shop: Shop, load: StationLoad) -> Iterator[Working]:
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


def _fire_working(shop: Shop, load: FireLoad) -> Working:
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
    masses = stock_by_polymer(shop) if counted else _store_limits(shop)
    rows = {row.polymer: row.origin for row in latest_count(shop)}
    for id_, mass in masses.items():
        polymer = shop.polymers[id_]
        heat = gross_heat(polymer)
        if heat is None or mass <= 0:
            continue
        origin = rows[id_] if counted else polymer.origin_of("store_limit_kg")
        yield given(str(polymer.name), mass, "kg", origin)
        yield tabled(_("heat of {polymer}").format(polymer=polymer.name), heat, heat.high)


def _store_fire_working(shop: Shop, load: StationLoad) -> Working:
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
            given(_("gross heat, the hottest taken"), _hottest(shop), "MJ/kg", source),
            given(_("footprint"), load.area_m2, "m²", station.origin_of("size")),
        ),
        result=Quantity(load.fire_mjm2, "MJ/m²"),
        caution=_("As if all of it were what burns hottest of what the shop takes."),
        source=source,
    )


# --- findings ----------------------------------------------------------------------------------


def _findings(
    shop: Shop,
    stations: tuple[StationLoad, ...],
    stacks: tuple[StackLoad, ...],
    fire: tuple[FireLoad, ...],
) -> Iterator[Finding]:
    if shop.room.floor_kpa is None:
        yield from _floor_unknown(shop, stations, stacks)
    for load in stations:
        yield from _too_heavy(shop, load)
        yield from _overloaded(shop, load)
    for stack in stacks:
        yield from _stack_too_heavy(shop, stack)
        yield from _stack_too_high(shop, stack)
    if fire:
        yield _fire_asked(shop, fire, stations)
    if names := without_heat(shop):
        yield _no_heat(shop, names)


def _floor_unknown(
    shop: Shop, stations: tuple[StationLoad, ...], stacks: tuple[StackLoad, ...]
) -> Iterator[Finding]:
    loads = [(load.pressure_kpa, at_station(shop, load.station)) for load in stations]
    loads += [(s.pressure_kpa, str(shop.containers[s.container].name)) for s in stacks]
    heaviest, where = max(loads, default=(0.0, ""))
    if not heaviest:
        return
    usual = reference().limit("floor-load-public")
    says = _("What the floor may carry is not written; {where} presses {load} on it.")
    mend = _("Ask, and write it as `floor`. A public floor is often made for {usual}.")
    yield Finding(
        "bearing.floor-unknown",
        Severity.ASK,
        shop.room.origin,
        says.format(where=where, load=show(heaviest, "kpa", 1)),
        mend.format(usual=show(usual.high, "kpa")),
        subject="room",
        asks="landlord",
    )


def _too_heavy(shop: Shop, load: StationLoad) -> Iterator[Finding]:
    floor = shop.room.floor_kpa
    if load.verdict is not Verdict.FAILS or floor is None:
        return
    says = _("{station} presses {load} on a floor that may carry {floor}, stores full.")
    mass = (load.stands_kg or 0.0) + load.stored_kg
    most = floor * 1000 * load.area_m2 / STANDARD_GRAVITY
    yield Finding(
        "bearing.floor",
        Severity.STOP,
        shop.stations[load.station].origin,
        says.format(
            station=_first_upper(at_station(shop, load.station)),
            load=show(load.pressure_kpa, "kpa", 1),
            floor=show(floor, "kpa", 1),
        ),
        _("Keep {less} less there, or spread it, until a structural engineer has answered.").format(
            less=show(mass - most, "kg", 0)
        ),
        subject=f"stations/{load.station}",
        working=f"bearing.station.{load.station}",
    )


def _first_upper(words: str) -> str:
    return words[:1].upper() + words[1:]


def _overloaded(shop: Shop, load: StationLoad) -> Iterator[Finding]:
    for number, level in enumerate(load.levels, 1):
        if level.container and level.count == 0:
            yield _does_not_fit(shop, load, level)
        if not level.overloaded or level.mass_kg is None or level.rated_kg is None:
            continue
        container = shop.containers[level.container]
        says = _("A level at {station} full of {container} weighs {load}; it carries {rated}.")
        fits = math.floor(level.rated_kg / full_kg(shop, container))
        yield Finding(
            "bearing.level",
            Severity.FIX,
            level.shelf.origin_of("load_kg"),
            says.format(
                station=at_station(shop, load.station),
                container=container.name,
                load=show(level.mass_kg, "kg", 1),
                rated=show(level.rated_kg, "kg", 1),
            ),
            _("Put {fits} full ones on a level at most, of the {count} that fit.").format(
                fits=fits, count=level.count
            ),
            subject=f"stations/{load.station}",
            working=f"bearing.level.{load.station}.{number}",
        )


def _does_not_fit(shop: Shop, load: StationLoad, level: LevelLoad) -> Finding:
    container = shop.containers[level.container]
    says = _("{container} does not fit on a level at {station}: {box} on {shelf}.")
    shelf = (level.shelf.length_mm, level.shelf.depth_mm, level.shelf.level_height_mm)
    return Finding(
        "bearing.does-not-fit",
        Severity.FIX,
        level.shelf.origin_of("keeps"),
        says.format(
            container=container.name,
            station=at_station(shop, load.station),
            box=_box(container.outer),
            shelf=_box(shelf),
        ),
        _("Correct the sizes, or take it out of `keeps`."),
        subject=f"stations/{load.station}",
    )


def _box(lengths: tuple[float, float, float]) -> str:
    shown = " × ".join(show_number(length, 0) for length in lengths)
    return _("{lengths} mm").format(lengths=shown)


def _stack_too_heavy(shop: Shop, stack: StackLoad) -> Iterator[Finding]:
    floor = shop.room.floor_kpa
    if stack.verdict is not Verdict.FAILS or floor is None:
        return
    container = shop.containers[stack.container]
    says = _("{high} full {container} on one another press {load} on a floor for {floor}.")
    base = container.outer[0] * container.outer[1] / 1e6
    fewer = math.floor(floor * 1000 * base / STANDARD_GRAVITY / full_kg(shop, container))
    yield Finding(
        "bearing.stack",
        Severity.STOP,
        container.origin_of("stack"),
        says.format(
            high=stack.high,
            container=container.name,
            load=show(stack.pressure_kpa, "kpa", 1),
            floor=show(floor, "kpa", 1),
        ),
        _("Stack them {fewer} high at most.").format(fewer=fewer)
        if fewer
        else _("Fill it less, or stand it on a plate that spreads it."),
        subject=f"containers/{stack.container}",
        working=f"bearing.stack.{stack.container}",
    )


def _stack_too_high(shop: Shop, stack: StackLoad) -> Iterator[Finding]:
    most = reference().limit("store-stack-height").high * 1000
    if stack.height_mm <= most:
        return
    container = shop.containers[stack.container]
    says = _("{high} {container} on one another are {height} high; {most} is the usual most.")
    yield Finding(
        "bearing.stack-height",
        Severity.FIX,
        container.origin_of("stack"),
        says.format(
            high=stack.high,
            container=container.name,
            height=show(stack.height_mm, "mm", 0),
            most=show(most, "mm", 0),
        ),
        _("Stack them {fewer} high.").format(fewer=math.floor(most / container.outer[2])),
        subject=f"containers/{stack.container}",
    )


def _fire_asked(
    shop: Shop, fire: tuple[FireLoad, ...], stations: tuple[StationLoad, ...]
) -> Finding:
    """No table here says how much is too much, so it is always asked."""
    told = "; ".join(
        _("{density} MJ/m² {case}").format(density=show_number(f.density_mjm2, 0), case=f.title)
        for f in fire
    )
    says = _("The room's fire load is {cases}.").format(cases=told)
    worst = max(stations, key=lambda load: load.heat_mj, default=None)
    if worst is not None and worst.heat_mj:
        says += " " + _("Most stands at {station}: {heat} MJ.").format(
            station=at_station(shop, worst.station), heat=show_number(worst.heat_mj, 0)
        )
    return Finding(
        "bearing.fire-load",
        Severity.ASK,
        shop.room.origin,
        says,
        _("Ask how much may be kept, where, and what has to stand between it and the hot side."),
        subject="room",
        working=f"bearing.fire.{fire[0].key}",
        asks="fire",
    )


def _no_heat(shop: Shop, names: tuple[str, ...]) -> Finding:
    says = _("No heat of combustion is on record for {names}, so it is left out of the fire load.")
    return Finding(
        "bearing.no-heat",
        Severity.NOTE,
        shop.room.origin,
        says.format(names=", ".join(names)),
        _("Take it from the grade's data sheet and tell the fire officer."),
        subject="room",
        working="bearing.fire.counted",
    )
