"""What is too heavy, does not fit, or has to be asked of landlord and fire officer."""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.ground.finding import Finding, Severity
from generator.ground.units import show, show_number
from generator.ground.wording import _
from generator.ground.working import Verdict
from generator.reference import reference
from generator.shop.shop import Shop
from generator.workings.bearing.fire import FireLoad, without_heat
from generator.workings.bearing.floor import StackLoad, StationLoad
from generator.workings.bearing.laws import STANDARD_GRAVITY
from generator.workings.bearing.stores import LevelLoad, full_kg
from generator.workings.shown import at_station


def findings(
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
        yield _no_heat(shop, names, fire)


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


def _no_heat(shop: Shop, names: tuple[str, ...], fire: tuple[FireLoad, ...]) -> Finding:
    says = _("No heat of combustion is on record for {names}, so it is left out of the fire load.")
    return Finding(
        "bearing.no-heat",
        Severity.NOTE,
        shop.room.origin,
        says.format(names=", ".join(names)),
        _("Take it from the grade's data sheet and tell the fire officer."),
        subject="room",
        working=f"bearing.fire.{fire[0].key}" if fire else "",
    )
