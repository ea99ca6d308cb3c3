"""Can a hot surface be touched, and after how long does it burn?

Burn thresholds are bands, not limits, and children burn sooner. A glove counts as nothing. A
surface is within visitors' reach where they may stand, or within an arm's length of it; learners
reach it where a session has them do something there, with somebody beside them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, NamedTuple

from shapely import MultiPolygon, Polygon, unary_union
from shapely.geometry.base import BaseGeometry

from generator.ground.finding import Finding, Severity
from generator.ground.survey import Survey, survey
from generator.ground.units import show
from generator.ground.wording import N_, _
from generator.ground.working import Quantity, Verdict, Working
from generator.reference import Value, reference
from generator.shop.records.machines import HotSurface, Machine
from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings.footprint import clear_area, footprint
from generator.workings.shown import at_station, own, tabled


class Contact(NamedTuple):
    """A time of contact: its key in the tables, in seconds, and in words."""

    key: str
    seconds: float
    words: str


CONTACTS = (
    Contact("1s", 1.0, N_("1 s")),
    Contact("10s", 10.0, N_("10 s")),
    Contact("1min", 60.0, N_("1 min")),
    Contact("10min", 600.0, N_("10 min")),
    Contact("8h", 28_800.0, N_("8 h")),
)
_TABLED = ("metal", "plastic")

Reach = Literal["trained", "learners", "visitors"]
"""Who can reach a surface: only those who are shown, learners beside them too, or anybody."""


@dataclass(frozen=True, slots=True)
class Touched:
    """One hot surface.

    ``burns_after_s`` is the shortest contact whose threshold it reaches, None where it reaches
    none; it is None as well where the tables have no thresholds for the material.
    """

    machine: str
    number: int
    where: str
    surface: HotSurface
    burns_after_s: float | None
    reach: Reach
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class TouchStudy:
    """Every hot surface, with the thresholds by material as (seconds, °C) to draw."""

    surfaces: tuple[Touched, ...]
    thresholds: dict[str, tuple[tuple[float, float], ...]]
    survey: Survey


def study(shop: Shop) -> TouchStudy:
    """Work out which hot surfaces can burn whom.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    """
    reach = _reach_by_station(shop)
    touched = tuple(
        _touched(machine, number, surface, reach[machine.station])
        for machine in shop.machines.values()
        for number, surface in enumerate(machine.hot_surfaces, 1)
    )
    silent = [m for m in shop.machines.values() if m.is_hot and not m.hot_surfaces]
    findings = [f for t in touched for f in _findings(shop, t)]
    findings += [_nothing_written(shop, m) for m in silent]
    workings = [_working(shop, t) for t in touched]
    made = survey(
        "touch", workings, findings, other_checks=len(silent), other_unanswered=len(silent)
    )
    return TouchStudy(touched, {m: thresholds(m) for m in _TABLED}, made)


# --- thresholds --------------------------------------------------------------------------------


def threshold(material: str, contact: str) -> Value:
    """The burn threshold of a material for a time of contact [°C] (``metal``, ``10s``)."""
    return reference().limit(f"burn-{material}-{contact}")


def thresholds(material: str) -> tuple[tuple[float, float], ...]:
    """Threshold [°C] by seconds of contact, for ``metal`` or ``plastic``."""
    return tuple((c.seconds, threshold(material, c.key).low) for c in CONTACTS)


def burns_after(material: str, surface_c: float) -> Contact | None:
    """The shortest contact at which a surface reaches the burn threshold.

    Parameters
    ----------
    material
        ``metal`` or ``plastic``.
    surface_c
        Temperature of the surface [°C].

    Returns
    -------
    Contact or None
        None where it reaches no threshold, up to eight hours.

    References
    ----------
    ISO 13732-1.
    """
    return next((c for c in CONTACTS if surface_c >= threshold(material, c.key).low), None)


def _touched(machine: Machine, number: int, surface: HotSurface, reach: Reach) -> Touched:
    tabled_ = surface.material in _TABLED
    contact = burns_after(surface.material, surface.surface_c) if tabled_ else None
    return Touched(
        machine=machine.id,
        number=number,
        where=str(surface.where),
        surface=surface,
        burns_after_s=contact.seconds if contact else None,
        reach=reach,
        verdict=_judged(surface, contact, reach) if tabled_ else Verdict.UNANSWERED,
    )


def _judged(surface: HotSurface, contact: Contact | None, reach: Reach) -> Verdict:
    """A guarded surface is not touched; a hand that knows draws back in a second, others later."""
    if surface.guarded or contact is None:
        return Verdict.HOLDS
    return Verdict.FAILS if contact.seconds <= _held_to(reach).seconds else Verdict.HOLDS


def _held_to(reach: Reach) -> Contact:
    """The time of contact a surface is held to, by who reaches it."""
    return CONTACTS[0] if reach == "trained" else CONTACTS[1]


# --- who reaches it ----------------------------------------------------------------------------


def arm_mm() -> float:
    """How far an arm reaches [mm]: the guard table's distance for its widest opening."""
    widest = reference().limit("guard-opening-largest").low
    found = reference().guard_distance(widest)
    return found.low if found is not None else 0.0


def _reach_by_station(shop: Shop) -> dict[str, Reach]:
    """Who can reach what stands on each station."""
    floor, doing = _visitors_floor(shop), _done_by_learners(shop)
    return {s.id: _reach(shop, s, floor, doing) for s in shop.stations.values()}


def _reach(shop: Shop, station: Station, floor: BaseGeometry, doing: frozenset[str]) -> Reach:
    near = Polygon(footprint(station)).distance(floor) <= arm_mm()
    if near or _open_to_visitors(shop, station):
        return "visitors"
    return "learners" if station.id in doing else "trained"


def _open_to_visitors(shop: Shop, station: Station) -> bool:
    in_zone = shop.room.zones[station.zone].visitors
    return in_zone or "visitor" in (station.use.alone, station.use.beside)


def _done_by_learners(shop: Shop) -> frozenset[str]:
    activities = [a for s in shop.sessions.values() for a in s.activities.values()]
    return frozenset(a.station for a in activities if a.learners == "do")


def _visitors_floor(shop: Shop) -> BaseGeometry:
    """Where visitors may stand: their zones' outlines, and before stations open to them."""
    zones = [Polygon(z.outline) for z in shop.room.zones.values() if z.visitors and z.outline]
    before = [
        Polygon(clear_area(station, side))
        for station in shop.stations.values()
        if _open_to_visitors(shop, station)
        for side in station.working_sides
        if not side.service and side.depth_mm > 0
    ]
    return unary_union([*zones, *before]) if zones or before else MultiPolygon()


# --- workings and findings ---------------------------------------------------------------------


def _id(touched: Touched) -> str:
    return f"touch.{touched.machine}.{touched.number}"


def _working(shop: Shop, touched: Touched) -> Working:
    surface, machine = touched.surface, shop.machines[touched.machine]
    tabled_ = surface.material in _TABLED
    contact = _held_to(touched.reach)
    limit = threshold(surface.material, contact.key) if tabled_ else None
    first = (own(_("surface"), surface, "surface_c"),)
    return Working(
        id=_id(touched),
        subject=f"machines/{touched.machine}",
        title=_("{where}, {machine}").format(where=touched.where, machine=machine.name),
        formula=_("temperature of the surface against the burn threshold for {time}").format(
            time=_(contact.words)
        ),
        inputs=first
        if limit is None
        else (*first, tabled(_("threshold for {time}").format(time=_(contact.words)), limit)),
        result=Quantity(surface.surface_c, "°C"),
        verdict=touched.verdict,
        limit=None if limit is None else limit.quantity,
        limit_source=None if limit is None else limit.source_record,
        margin=None if limit is None else Quantity(limit.low - surface.surface_c, "K"),
        caution=_caution(touched),
        source=threshold("metal", "1s").source_record,
    )


def _caution(touched: Touched) -> str:
    said = [_("Burn bands, not limits; children burn sooner.")]
    if touched.surface.guarded:
        said.insert(0, _("The shop says it is guarded."))
    return " ".join([_(w) for w in (_REACH_WORDS[touched.reach],) if w] + said)


_REACH_WORDS: dict[Reach, str] = {
    "trained": "",
    "learners": N_("Learners work at it."),
    "visitors": N_("Visitors can reach it."),
}


def _findings(shop: Shop, touched: Touched) -> Iterator[Finding]:
    surface = touched.surface
    if surface.guarded:
        return
    if surface.material not in _TABLED:
        yield _unknown_material(shop, touched)
    elif touched.burns_after_s is not None and (severity := _severity(touched)):
        yield _burns(shop, touched, severity)


_SEVERITY: dict[Reach, tuple[Severity | None, ...]] = {
    "trained": (Severity.FIX, Severity.NOTE, None),
    "learners": (Severity.FIX, Severity.FIX, Severity.NOTE),
    "visitors": (Severity.STOP, Severity.FIX, Severity.NOTE),
}
"""By who reaches it, for a burn within 1 s, 10 s and 1 min."""


def _severity(touched: Touched) -> Severity | None:
    """How bad it is, by how fast it burns and who can reach it."""
    by_contact = zip(CONTACTS, _SEVERITY[touched.reach], strict=False)
    return next((s for c, s in by_contact if c.seconds == touched.burns_after_s), None)


def _burns(shop: Shop, touched: Touched, severity: Severity) -> Finding:
    surface, machine = touched.surface, shop.machines[touched.machine]
    contact = next(c for c in CONTACTS if c.seconds == touched.burns_after_s)
    limit = threshold(surface.material, contact.key)
    says = _("{where} of {machine} is {hot} and bare: {material} burns from {limit} in {time}.")
    if _REACH_WORDS[touched.reach]:
        says += " " + _(_REACH_WORDS[touched.reach])
    return Finding(
        "touch.bare",
        severity,
        surface.origin_of("surface_c"),
        says.format(
            where=touched.where,
            machine=machine.name,
            hot=show(surface.surface_c, "c", 0),
            material=_(_MATERIAL_WORDS[surface.material]),
            limit=show(limit.low, "c", 0),
            time=_(contact.words),
        ),
        _mend(touched, contact),
        subject=f"machines/{touched.machine}",
        working=_id(touched),
    )


_MATERIAL_WORDS = {"metal": N_("metal"), "plastic": N_("plastic")}


def _mend(touched: Touched, contact: Contact) -> str:
    if contact is CONTACTS[0]:
        says = _("Guard it; where it must stay bare, keep others {arm} away and hang W017 by it.")
        return says.format(arm=show(arm_mm(), "mm", 0))
    if touched.reach != "trained":
        return _("Guard or lag it, and keep them from touching it until then.")
    return _("Lag it, or hang W017 (hot surface) by it.")


def _unknown_material(shop: Shop, touched: Touched) -> Finding:
    says = _("{where} of {machine} is {hot}; no burn threshold for its material is on record.")
    return Finding(
        "touch.material",
        Severity.ASK,
        touched.surface.origin_of("material"),
        says.format(
            where=touched.where,
            machine=shop.machines[touched.machine].name,
            hot=show(touched.surface.surface_c, "c", 0),
        ),
        _("Ask for its threshold, or guard it."),
        subject=f"machines/{touched.machine}",
        working=_id(touched),
        asks="maintainer",
    )


def _nothing_written(shop: Shop, machine: Machine) -> Finding:
    says = _("{machine} at {station} is hot, and no surface of it is written down.")
    return Finding(
        "touch.nothing-written",
        Severity.NOTE,
        machine.origin,
        says.format(machine=machine.name, station=at_station(shop, machine.station)),
        _("Take a contact thermometer to what hands can reach, and write `hot_surfaces`."),
        subject=f"machines/{machine.id}",
    )
