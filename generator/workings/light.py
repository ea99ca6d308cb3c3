"""Is there light enough for each task, and what is left of it when the power goes?

What a task needs is the shop's own figure, else the table's for what is done there. What there
is are the shop's readings: nothing is worked out from lamps. Emergency light has to be measured
in the dark, by somebody who knows how.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.survey import Survey, survey
from generator.ground.units import show
from generator.ground.wording import _, ngettext
from generator.ground.working import Input, Quantity, Source, Verdict, Working
from generator.reference import Value, reference
from generator.shop.records.room import Equipment, LightReading
from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings.footprint import distance_mm
from generator.workings.shown import at_station, given, own, tabled

_TASK_OF_ZONE = {
    "public": "light-corridor",
    "store": "light-corridor",
    "quarantine": "light-corridor",
    "wet": "light-rough-assembly",
    "clean": "light-machine",
    "dusty": "light-machine",
    "hot": "light-machine",
    "finishing": "light-machine",
}
_HIGH_RISK_KINDS = frozenset(
    {
        "granulator", "shredder", "spin-dryer", "plunger-injector", "screw-injector", "extruder",
        "platen-press", "oven", "band-saw", "belt-sander", "pillar-drill",
    }
)  # fmt: skip
"""Kinds at which somebody is hurt if the light goes while they turn, cut or are hot."""
_TURNING_KINDS = frozenset({"granulator", "shredder", "spin-dryer", "band-saw", "pillar-drill"})
_FIRE_POINTS = ("extinguisher", "fire-blanket", "alarm-point", "first-aid", "eyewash", "burn-sink")


@dataclass(frozen=True, slots=True)
class TaskLight:
    """Light at one station: what its task needs and what was read.

    ``need_lx`` is the shop's own figure where ``own_figure``, else the table's. ``has_lx`` is
    the lowest of the newest day's readings, None where nobody has read it.
    ``emergency_lx`` is what a high-risk task needs when the power goes, None for others.
    """

    station: str
    need_lx: float
    own_figure: bool
    has_lx: float | None
    emergency_lx: float | None
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class EmergencyPoint:
    """Something that must be found in the dark, and the nearest emergency light [m] to it."""

    equipment: str
    nearest_m: float | None


@dataclass(frozen=True, slots=True)
class LightStudy:
    """Everything worked out of a shop's light."""

    stations: tuple[TaskLight, ...]
    points: tuple[EmergencyPoint, ...]
    survey: Survey


def study(shop: Shop) -> LightStudy:
    """Work out the light of a shop.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    """
    tasks = tuple(_task(shop, station) for station in shop.stations.values())
    points = tuple(_point(shop, e) for e in shop.equipment_of_kind(*_FIRE_POINTS))
    workings = [w for task in tasks for w in _workings(shop, task)]
    findings = tuple(_findings(shop, tasks, points))
    asked = ["emergency-light-route", "emergency-light-equipment"]
    made = survey("light", workings, findings, other_checks=len(asked), other_unanswered=len(asked))
    return LightStudy(tasks, points, made)


# --- one task ----------------------------------------------------------------------------------


def _task(shop: Shop, station: Station) -> TaskLight:
    need, reading = needed_lx(shop, station), reading_of(shop, station.id)
    has = None if reading is None else reading.reading_lx
    return TaskLight(
        station=station.id,
        need_lx=need,
        own_figure=station.light_lx is not None,
        has_lx=has,
        emergency_lx=_emergency_lx(shop, station, need),
        verdict=_judged(need, has),
    )


def usual(shop: Shop, station: Station) -> Value:
    """The table's figure for what is done at a station [lx]."""
    if shop.machines_at(station.id):
        return reference().limit("light-machine")
    return reference().limit(_TASK_OF_ZONE[shop.room.zones[station.zone].kind])


def needed_lx(shop: Shop, station: Station) -> float:
    """What the task at a station needs: the shop's own figure, else the table's [lx]."""
    return usual(shop, station).low if station.light_lx is None else station.light_lx


def reading_of(shop: Shop, station: str) -> LightReading | None:
    """The lowest of the newest day's readings at a station."""
    readings = [r for r in shop.room.light if r.station == station]
    newest = max((r.day for r in readings), default=None)
    today = (r for r in readings if r.day == newest)
    return min(today, key=lambda r: r.reading_lx, default=None)


def _judged(need_lx: float, has_lx: float | None) -> Verdict:
    if has_lx is None:
        return Verdict.UNANSWERED
    return Verdict.HOLDS if has_lx >= need_lx else Verdict.FAILS


def is_high_risk(shop: Shop, station: Station) -> bool:
    """Whether somebody is in danger there if the light goes."""
    return any(m.kind in _HIGH_RISK_KINDS for m in shop.machines_at(station.id))


def emergency_need_lx(task_lx: float) -> float:
    """Emergency light at a high-risk task: ``max(15 lx, 10 % of the task's light)``.

    Parameters
    ----------
    task_lx
        Light the task needs [lx].

    Returns
    -------
    float
        Light that must be left when the power goes [lx].

    References
    ----------
    EN 1838.
    """
    share = reference().limit("emergency-light-high-risk-share").low / 100
    return max(reference().limit("emergency-light-high-risk").low, share * task_lx)


def _emergency_lx(shop: Shop, station: Station, need_lx: float) -> float | None:
    return emergency_need_lx(need_lx) if is_high_risk(shop, station) else None


def _point(shop: Shop, equipment: Equipment) -> EmergencyPoint:
    lights = shop.equipment_of_kind("emergency-light")
    away = min((distance_mm(equipment.at, light.at) for light in lights), default=math.inf)
    return EmergencyPoint(equipment.id, None if math.isinf(away) else away / 1000)


# --- workings ----------------------------------------------------------------------------------


def _workings(shop: Shop, task: TaskLight) -> Iterator[Working]:
    station = shop.stations[task.station]
    yield _task_working(shop, station, task)
    if task.emergency_lx is not None:
        yield _emergency_working(shop, station, task, task.emergency_lx)


def _need_input(shop: Shop, station: Station) -> Input:
    if station.light_lx is not None:
        return own(_("what the task needs"), station, "light_lx")
    return tabled(_("what the task needs"), usual(shop, station))


def _task_working(shop: Shop, station: Station, task: TaskLight) -> Working:
    reading = reading_of(shop, station.id)
    read = () if reading is None else (own(_("reading"), reading, "reading_lx"),)
    shown = task.need_lx if task.has_lx is None else task.has_lx
    return Working(
        id=f"light.station.{station.id}",
        subject=f"stations/{station.id}",
        title=_("Light at {station}").format(station=at_station(shop, station.id)),
        formula=_("lowest reading of the newest day, against what the task needs"),
        inputs=(*read, _need_input(shop, station)),
        result=Quantity(shown, "lx"),
        verdict=task.verdict,
        limit=Quantity(task.need_lx, "lx"),
        limit_source=_limit_source(shop, station),
        margin=None if task.has_lx is None else Quantity(task.has_lx - task.need_lx, "lx"),
        caution=_flicker(shop, station),
        source=usual(shop, station).source_record,
    )


def _limit_source(shop: Shop, station: Station) -> Source | Origin:
    if station.light_lx is not None:
        return station.origin_of("light_lx")
    return usual(shop, station).source_record


def _flicker(shop: Shop, station: Station) -> str:
    turning = any(m.kind in _TURNING_KINDS for m in shop.machines_at(station.id))
    return _("No flickering lamps here: what turns can seem to stand still.") if turning else ""


def _emergency_working(
    shop: Shop, station: Station, task: TaskLight, emergency_lx: float
) -> Working:
    least = reference().limit("emergency-light-high-risk")
    return Working(
        id=f"light.emergency.{station.id}",
        subject=f"stations/{station.id}",
        title=_("Emergency light at {station}").format(station=at_station(shop, station.id)),
        formula=_("a tenth of the task's light, and no less than the least"),
        inputs=(
            given(_("what the task needs"), task.need_lx, "lx", _limit_source(shop, station)),
            tabled(_("share"), reference().limit("emergency-light-high-risk-share")),
            tabled(_("least"), least),
        ),
        result=Quantity(emergency_lx, "lx"),
        verdict=Verdict.UNANSWERED,
        caution=_("Measured in the dark, with the power off and the machine at a standstill."),
        source=least.source_record,
    )


# --- findings ----------------------------------------------------------------------------------


def _findings(
    shop: Shop, tasks: tuple[TaskLight, ...], points: tuple[EmergencyPoint, ...]
) -> Iterator[Finding]:
    unread = [task for task in tasks if task.has_lx is None]
    if unread and len(unread) == len(tasks):
        yield _never_read(shop)
    else:
        yield from (_unread(shop, task) for task in unread)
    for task in tasks:
        yield from _dark(shop, task)
        yield from _below_usual(shop, task)
    yield _emergency(shop, points)


def _never_read(shop: Shop) -> Finding:
    return Finding(
        "light.no-reading",
        Severity.NOTE,
        shop.room.origin,
        _("No light reading is written for any station."),
        _("Borrow a light meter, read it at working height after dark, and write `light`."),
        subject="room",
    )


def _unread(shop: Shop, task: TaskLight) -> Finding:
    says = _("Nobody has read the light at {station}; its task needs {need}.").format(
        station=at_station(shop, task.station), need=show(task.need_lx, "lx", 0)
    )
    return Finding(
        "light.no-reading",
        Severity.NOTE,
        shop.stations[task.station].origin,
        says,
        _("Read it at working height after dark, and write it under `light` of the room."),
        subject=f"stations/{task.station}",
        working=f"light.station.{task.station}",
    )


def _dark(shop: Shop, task: TaskLight) -> Iterator[Finding]:
    reading = reading_of(shop, task.station)
    if task.verdict is not Verdict.FAILS or reading is None:
        return
    says = _("At {station} there is {has}, and its task needs {need}.").format(
        station=at_station(shop, task.station),
        has=show(reading.reading_lx, "lx", 0),
        need=show(task.need_lx, "lx", 0),
    )
    mend = _("Clean or add a lamp over it until the reading is {more} higher.").format(
        more=show(task.need_lx - reading.reading_lx, "lx", 0)
    )
    yield Finding(
        "light.dark",
        Severity.FIX,
        reading.origin_of("reading_lx"),
        says,
        mend,
        subject=f"stations/{task.station}",
        working=f"light.station.{task.station}",
    )


def _below_usual(shop: Shop, task: TaskLight) -> Iterator[Finding]:
    """The shop's own figure wins, and is said where it is less than the table's."""
    station = shop.stations[task.station]
    table = usual(shop, station)
    if station.light_lx is None or station.light_lx >= table.low:
        return
    says = _("{station} is held to {own} of the shop's own; the table has {usual}.").format(
        station=_first_upper(at_station(shop, task.station)),
        own=show(station.light_lx, "lx", 0),
        usual=show(table.low, "lx", 0),
    )
    yield Finding(
        "light.own-figure",
        Severity.NOTE,
        station.origin_of("light_lx"),
        says,
        _("Say why it is enough, or leave `light` out."),
        subject=f"stations/{task.station}",
        working=f"light.station.{task.station}",
    )


def _first_upper(words: str) -> str:
    return words[:1].upper() + words[1:]


def _emergency(shop: Shop, points: tuple[EmergencyPoint, ...]) -> Finding:
    """Always open until somebody measures it, so always on the fire officer's sheet."""
    lights = shop.equipment_of_kind("emergency-light")
    route, open_area, equipment = (
        reference().limit(f"emergency-light-{key}").low
        for key in ("route", "open-area", "equipment")
    )
    mend = _(
        "Ask whether they give {route} on the way out, {open} in the open and {equipment} at fire "
        "points and first aid, and more at what turns or is hot."
    ).format(route=show(route, "lx"), open=show(open_area, "lx"), equipment=show(equipment, "lx"))
    return Finding(
        "light.emergency",
        Severity.ASK,
        lights[0].origin if lights else shop.room.origin,
        _emergency_says(shop, lights, points),
        mend,
        subject="room",
        asks="fire",
    )


def _emergency_says(
    shop: Shop, lights: tuple[Equipment, ...], points: tuple[EmergencyPoint, ...]
) -> str:
    if not lights:
        return _("No emergency light is written; when the power goes the room is dark.")
    says = ngettext(
        "Nobody has measured what the one emergency light gives.",
        "Nobody has measured what the {n} emergency lights give.",
        len(lights),
    ).format(n=len(lights))
    far = max(points, key=lambda p: p.nearest_m or 0.0, default=None)
    if far is None or far.nearest_m is None:
        return says
    return (
        says
        + " "
        + _("Farthest from one, {away}, is: {point}.").format(
            away=show(far.nearest_m, "m", 1), point=shop.room.equipment[far.equipment].name
        )
    )
