"""What is met there: noise at each station and over a day, light for each task, hot surfaces."""

from __future__ import annotations

from collections.abc import Iterator

from generator.drawings.bars import Bar, Chart
from generator.drawings.layers import Worked
from generator.ground.units import show
from generator.ground.wording import _, ngettext
from generator.handbook.desk import Desk
from generator.handbook.figure import figure
from generator.handbook.groups import grouped
from generator.handbook.page import Page
from generator.handbook.subjects import Section, subject_page, worst_first
from generator.handbook.tables import Cell, Column, Table, verdict_cell
from generator.shop.shop import Shop
from generator.workings.light import LightStudy, TaskLight
from generator.workings.noise import Day, Loudness, NoiseStudy
from generator.workings.touch import CONTACTS, Touched, TouchStudy

_PATH = "room/noise"


def page(desk: Desk) -> Page:
    """Noise, light and hot surfaces."""
    noise, light, touch = desk.studies.noise, desk.studies.light, desk.studies.touch
    surveys = (noise.survey, light.survey, touch.survey)
    findings = worst_first(f for survey in surveys for f in survey.findings)
    return subject_page(
        _PATH,
        _("Noise, light and hot surfaces"),
        "RO-04",
        surveys,
        says=_says(desk.shop, noise),
        figure=figure(desk, _PATH, Worked(noise=noise, light=light, touch=touch), findings),
        sections=charts(desk),
        tables=[
            *([_stations(desk.shop, noise), _days(noise)] if noise.days else []),
            _light(desk.shop, light),
        ],
        workings=grouped(desk.shop, [w for survey in surveys for w in survey.workings]),
    )


def _says(shop: Shop, noise: NoiseStudy) -> str:
    """How many stations are too loud, in a sentence."""
    heard = [place for place in noise.stations if place.heard]
    upper = noise.limits.upper
    if not heard or upper is None:
        return ""
    loud = sum(place.low_db >= upper.low for place in heard)
    worst = max(heard, key=lambda place: place.low_db)
    station = shop.stations[worst.station]
    return ngettext(
        "With all running that may run together, {n} station of {all} is at {limit} or more; "
        "the loudest is {number} {name} at {level}.",
        "With all running that may run together, {n} stations of {all} are at {limit} or more; "
        "the loudest is {number} {name} at {level}.",
        loud,
    ).format(
        n=loud,
        all=len(heard),
        limit=show(upper.low, "db"),
        number=station.number,
        name=station.name,
        level=show(worst.low_db, "db", 0),
    )


def charts(desk: Desk) -> list[Section]:
    """Hot surfaces against the temperature that burns."""
    hot = _hot(desk.shop, desk.studies.touch)
    return [hot] if hot.charts else []


# --- noise ---------------------------------------------------------------------------------------


def _stations(shop: Shop, noise: NoiseStudy) -> Section:
    columns = (
        Column(_("Station")),
        Column(_("At least"), figures=True),
        Column(_("With full echo"), figures=True),
        Column(_("Most of it from")),
        Column(_("Verdict")),
    )
    places = sorted(noise.stations, key=lambda p: shop.stations[p.station].number)
    rows = tuple(tuple(_loud_row(shop, place)) for place in places if place.heard)
    return Section(
        _("Noise at each station"),
        _(
            "With the set of machines running that is loudest there. The truth lies between the "
            "two figures, and only a reading on the spot says where."
        ),
        tables=(Table(columns, rows),),
    )


def _loud_row(shop: Shop, place: Loudness) -> Iterator[Cell]:
    station = shop.stations[place.station]
    visitors = _("visitors come here") if place.visitors else ""
    yield Cell(str(station.name), small=visitors, record=station, number=station.number)
    working = f"noise.station.{place.station}"
    yield Cell(show(place.low_db, "db", 1), working=working)
    yield Cell(show(place.high_db, "db", 1))
    running = [heard for heard in place.heard if heard.machine in place.running]
    yield Cell(str(shop.machines[running[0].machine].name) if running else "")
    yield verdict_cell(place.verdict)


def _days(noise: NoiseStudy) -> Section:
    columns = (
        Column(_("Who")),
        Column(_("At least"), figures=True),
        Column(_("With full echo"), figures=True),
        Column(_("Most of it from")),
    )
    rows = tuple(tuple(_day_row(day)) for day in noise.days)
    return Section(
        _("Noise over a day"),
        _("Without ear protection, on the worst day."),
        tables=(Table(columns, rows),),
    )


def _day_row(day: Day) -> Iterator[Cell]:
    yield Cell(day.name)
    yield Cell(show(max(day.low_db, 0.0), "db", 1), working=f"noise.day.{day.key}")
    yield Cell(show(max(day.high_db, 0.0), "db", 1))
    yield Cell(day.loudest.what if day.loudest else "")


# --- light ---------------------------------------------------------------------------------------


def _light(shop: Shop, light: LightStudy) -> Section:
    columns = (
        Column(_("Station")),
        Column(_("Task needs"), figures=True),
        Column(_("Read"), figures=True),
        Column(_("When the power goes"), figures=True),
        Column(_("Verdict")),
    )
    tasks = sorted(light.stations, key=lambda t: shop.stations[t.station].number)
    rows = tuple(tuple(_light_row(shop, task)) for task in tasks)
    return Section(_("Light for each task"), tables=(Table(columns, rows),))


def _light_row(shop: Shop, task: TaskLight) -> Iterator[Cell]:
    station = shop.stations[task.station]
    yield Cell(str(station.name), record=station, number=station.number)
    whose = _("the shop's own figure") if task.own_figure else ""
    yield Cell(show(task.need_lx, "lx", 0), small=whose)
    read = _("not read") if task.has_lx is None else show(task.has_lx, "lx", 0)
    yield Cell(read, working=f"light.station.{task.station}")
    left = task.emergency_lx
    yield Cell("" if left is None else _("{lx} needed").format(lx=show(left, "lx", 0)))
    yield verdict_cell(task.verdict)


# --- hot surfaces --------------------------------------------------------------------------------


def _hot(shop: Shop, touch: TouchStudy) -> Section:
    rows = sorted(touch.surfaces, key=lambda t: -t.surface.surface_c)
    chart = Chart(
        _("Hot surfaces; the stroke is the temperature at which a bare one burns"),
        "°C",
        tuple(_hot_bar(shop, touch, touched) for touched in rows),
    )
    return Section(
        _("Hot surfaces"),
        _(
            "A bare surface is held to the burn threshold of 1 s, and of 10 s where learners or "
            "visitors reach it. A glove counts as nothing."
        ),
        charts=(chart,) if rows else (),
    )


def _hot_bar(shop: Shop, touch: TouchStudy, touched: Touched) -> Bar:
    surface = touched.surface
    held = CONTACTS[0] if touched.reach == "trained" else CONTACTS[1]
    limit = dict(touch.thresholds.get(surface.material, ())).get(held.seconds)
    reach = {
        "trained": _("only who is shown reaches it"),
        "learners": _("learners reach it"),
        "visitors": _("visitors reach it"),
    }[touched.reach]
    told = [
        str(shop.machines[touched.machine].name),
        _("guarded") if surface.guarded else _("bare"),
        reach,
    ]
    if limit is not None:
        told.append(
            _("burns from {limit} in {time}").format(limit=show(limit, "c", 0), time=_(held.words))
        )
    return Bar(
        touched.where,
        (surface.surface_c,),
        show(surface.surface_c, "c", 0),
        None if surface.guarded else limit,
        note=", ".join(told),
    )
