"""What the floor bears and what there is to burn, store by store."""

from __future__ import annotations

from collections.abc import Iterator

from generator.drawings.bars import Bar, Chart
from generator.ground.units import show, show_number
from generator.ground.wording import _, ngettext
from generator.handbook.desk import Desk
from generator.handbook.groups import grouped
from generator.handbook.page import Page
from generator.handbook.subjects import Section, subject_page
from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings.bearing import BearingStudy, LevelLoad, StationLoad

_PATH = "room/loads"


def page(desk: Desk) -> Page:
    """Floor load and fire load."""
    bearing, shop = desk.studies.bearing, desk.shop
    return subject_page(
        _PATH,
        _("Floor load and fire load"),
        "RO-05",
        (bearing.survey,),
        says=_says(shop, bearing),
        sections=charts(desk),
        workings=grouped(shop, bearing.survey.workings),
    )


def _says(shop: Shop, bearing: BearingStudy) -> str:
    """The heaviest place and the heaviest level against what carries them, in two sentences."""
    heaviest = max(bearing.stations, key=lambda load: load.pressure_kpa, default=None)
    if heaviest is None or not heaviest.pressure_kpa:
        return ""
    station = shop.stations[heaviest.station]
    most = show(heaviest.pressure_kpa, "kpa", 1)
    floor = bearing.floor_kpa
    if floor is None:
        says = _("With stores full the floor bears up to {most}, under {number} {name}; what it "
                 "may bear is not known.")  # fmt: skip
    else:
        says = _("With stores full the floor bears up to {most} of {floor}, under {number} {name}.")
    told = says.format(
        most=most,
        floor=show(floor, "kpa", 1) if floor is not None else "",
        number=station.number,
        name=station.name,
    )
    over = sum(level.overloaded for load in bearing.stations for level in load.levels)
    if over:
        told += " " + ngettext(
            "One kind of shelf would carry too much.",
            "{n} kinds of shelf would carry too much.",
            over,
        ).format(n=over)
    return told


def charts(desk: Desk) -> list[Section]:
    """What stands and lies on the floor and on shelves, and what of it burns."""
    shop, bearing = desk.shop, desk.studies.bearing
    sections = (_floor(shop, bearing), _levels(shop, bearing), _fire(shop, bearing))
    return [section for section in sections if section.charts]


# --- the floor -----------------------------------------------------------------------------------


def _floor(shop: Shop, bearing: BearingStudy) -> Section:
    floor = bearing.floor_kpa
    stations = sorted(bearing.stations, key=lambda load: -load.pressure_kpa)
    bars = [_pressure(shop, load, floor) for load in stations if load.pressure_kpa > 0]
    stacks = tuple(
        Bar(
            _("{high} × {container}").format(
                high=stack.high, container=shop.containers[stack.container].name
            ),
            (stack.pressure_kpa,),
            _of(stack.pressure_kpa, floor, "kpa"),
            floor,
        )
        for stack in sorted(bearing.stacks, key=lambda s: -s.pressure_kpa)
    )
    charts = (
        Chart(
            _("Floor under each station, stores full; the stroke is what it may bear"),
            "kPa",
            tuple(bars),
        ),
        Chart(_("Floor under a full stack of each container"), "kPa", stacks),
    )
    return Section(
        _("What the floor bears"),
        _(
            "Dark is what stands there, pale what is stored. Spread over the footprint: feet and "
            "castors press harder, which is for an engineer to say."
        ),
        charts=tuple(chart for chart in charts if chart.bars),
    )


def _pressure(shop: Shop, load: StationLoad, floor: float | None) -> Bar:
    station, area = shop.stations[load.station], load.area_m2
    parts = [load.stands_kg or 0.0, load.stored_kg]
    share = load.pressure_kpa / (sum(parts) or 1.0)
    stands, stored = (show(kg, "kg", 0) for kg in parts)
    note = _("stands there {stands}, stored {stored}, on {area}").format(
        stands=stands if load.stands_kg is not None else _("unknown"),
        stored=stored,
        area=show(area, "m2", 1),
    )
    name = _("{number} {name}").format(number=station.number, name=station.name)
    return Bar(
        name,
        tuple(kg * share for kg in parts),
        _of(load.pressure_kpa, floor, "kpa"),
        floor,
        note=note,
    )


def _of(has: float, limit: float | None, unit: str) -> str:
    if limit is None:
        return show(has, unit, 1)
    shown = show_number(has, 1 if has >= 1 else 2)
    return _("{has} of {limit}").format(has=shown, limit=show(limit, unit, 1))


# --- shelves -------------------------------------------------------------------------------------


def _levels(shop: Shop, bearing: BearingStudy) -> Section:
    bars = tuple(bar for load in bearing.stations for bar in _level_bars(shop, load))
    chart = Chart(_("One level of each store, full, against what it carries"), "kg", bars)
    return Section(_("What shelves carry"), charts=(chart,) if bars else ())


def _level_bars(shop: Shop, load: StationLoad) -> Iterator[Bar]:
    for level in load.levels:
        if level.mass_kg is not None and level.container:
            yield _level_bar(shop, shop.stations[load.station], level)


def _level_bar(shop: Shop, station: Station, level: LevelLoad) -> Bar:
    mass = level.mass_kg or 0.0
    name = _("{number} {name}: {count} × {container}").format(
        number=station.number,
        name=station.name,
        count=level.count,
        container=shop.containers[level.container].name,
    )
    return Bar(name, (mass,), _of(mass, level.rated_kg, "kg"), level.rated_kg)


# --- what burns ----------------------------------------------------------------------------------


def _fire(shop: Shop, bearing: BearingStudy) -> Section:
    room = Chart(
        _("Plastic in the room, for each square metre of floor"),
        "MJ/m²",
        tuple(
            Bar(
                load.title,
                (load.density_mjm2,),
                _("{n} MJ/m²").format(n=show_number(load.density_mjm2, 0)),
                note=_("{mass} of plastic").format(mass=show(load.mass_kg, "kg", 0)),
            )
            for load in bearing.fire
        ),
    )
    stores = Chart(
        _("Plastic at each store, full"),
        "MJ",
        tuple(
            Bar(
                _("{number} {name}").format(number=station.number, name=station.name),
                (load.heat_mj,),
                _("{n} MJ").format(n=show_number(load.heat_mj, 0)),
            )
            for load in sorted(bearing.stations, key=lambda s: -s.heat_mj)
            if load.heat_mj and (station := shop.stations[load.station])
        ),
    )
    return Section(
        _("What there is to burn"),
        _("Plastic alone, by its gross heat of combustion. No limit is drawn: it is asked for."),
        charts=tuple(chart for chart in (room, stores) if chart.bars),
    )
