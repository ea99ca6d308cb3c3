"""Is it too loud: at each station, for visitors, and over a day?

With everything that may run together running. Distances count as in the open, which is
optimistic indoors, so a place is only called quiet enough where even full echo keeps it so; what
lies between is for a sound level meter. Screens and walls count as nothing, ear protection too.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from generator.ground.finding import Finding, Severity
from generator.ground.survey import Survey, survey
from generator.ground.units import show, show_number
from generator.ground.wording import _, ngettext
from generator.ground.working import Input, Quantity, Source, Verdict, Working
from generator.reference import Value, reference
from generator.shop.records.machines import Machine
from generator.shop.shop import Shop
from generator.workings.noise import laws
from generator.workings.noise.days import Day, Ear, Part, days, visited
from generator.workings.noise.field import (
    Heard,
    Together,
    audible_sets,
    heard_at,
    in_words,
    loudest,
    missing,
    sources,
    together_db,
)
from generator.workings.shown import at_station, given, own

__all__ = ["Day", "Heard", "Loudness", "NoiseStudy", "Part", "Together", "study"]

EAR_PROTECTION = "M003"
"""The ISO 7010 code of the sign that asks for it."""

_CLASS_OF_KIND = {
    "granulator": "blade-granulator",
    "shredder": "slow-shredder",
    "wash-tub": "wash-tub",
    "spin-dryer": "wash-tub",
    "screw-injector": "screw-injector",
    "extruder": "screw-extruder",
}
_LOUD_KINDS = frozenset({*_CLASS_OF_KIND, "band-saw", "belt-sander", "pillar-drill", "extractor"})


@dataclass(frozen=True, slots=True)
class Loudness:
    """How loud it is where somebody works at a station.

    ``low_db`` falls off with distance as in the open, ``high_db`` not at all. ``running`` is the
    set of machines that is loudest there, ``heard`` each machine by itself, loudest first.
    """

    station: str
    visitors: bool
    low_db: float
    high_db: float
    running: frozenset[str]
    heard: tuple[Heard, ...]
    verdict: Verdict


class Limits(NamedTuple):
    """The noise limits of a place [dB(A)], None where it has none on record."""

    lower: Value | None
    upper: Value | None
    most: Value | None
    exchange: Value | None


@dataclass(frozen=True, slots=True)
class NoiseStudy:
    """Everything worked out of a shop's noise."""

    stations: tuple[Loudness, ...]
    days: tuple[Day, ...]
    limits: Limits
    survey: Survey


def study(shop: Shop, together: Together | None = None) -> NoiseStudy:
    """Work out the noise of a shop.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    together
        Sets of ids of machines that may run together, such as those the supply allows; None for
        all at once, where not every set is known. A machine in no set is heard with each of them.
    """
    limits = limits_at(shop.shop.jurisdiction)
    known = sources(shop)
    heard = {station.id: heard_at(station, known) for station in shop.stations.values()}
    sets = audible_sets(shop, known, together)
    open_to = set(visited(shop))
    places = tuple(
        _loudness(shop, station, heard[station], running, limits, visitors=station in open_to)
        for station, running in loudest(heard, sets).items()
    )
    ear = Ear.of(shop, known, heard, limits.exchange.low if limits.exchange else 3.0)
    all_days = tuple(days(ear)) if known else ()
    workings = [
        *(_station_working(shop, place, limits) for place in places if known),
        *(_day_working(day, limits) for day in all_days),
    ]
    found = tuple(_findings(shop, places, all_days, limits))
    return NoiseStudy(places, all_days, limits, _surveyed(shop, workings, found))


def _surveyed(shop: Shop, workings: list[Working], found: tuple[Finding, ...]) -> Survey:
    """Each machine of a loud kind, or with a level, is also asked for a reading."""
    asked = sum(m.noise is not None or m.kind in _LOUD_KINDS for m in shop.machines.values())
    silent = sum(f.rule in ("noise.no-level", "noise.not-measured") for f in found)
    return survey("noise", workings, found, other_checks=asked, other_unanswered=silent)


def limits_at(place: str) -> Limits:
    """The limits on record for a place."""
    keys = ("noise-lower-action", "noise-upper-action", "noise-limit", "noise-exchange-rate")
    return Limits(*(reference().find_limit(key, place) for key in keys))


def judged(low_db: float, high_db: float, limit: Value | None) -> Verdict:
    """Whether a level known to lie from ``low_db`` to ``high_db`` stays under a limit [dB(A)]."""
    if limit is None:
        return Verdict.UNANSWERED
    if low_db >= limit.low:
        return Verdict.FAILS
    return Verdict.HOLDS if high_db < limit.low else Verdict.UNANSWERED


def _loudness(
    shop: Shop,
    station: str,
    heard: tuple[Heard, ...],
    running: frozenset[str],
    limits: Limits,
    *,
    visitors: bool,
) -> Loudness:
    low, high = together_db(heard, running, shop.room.background_db)
    verdict = judged(low, high, limits.upper)
    return Loudness(station, visitors, low, high, running, heard, verdict)


# --- workings ----------------------------------------------------------------------------------


def _optimistic() -> str:
    return _("Distances count as in the open, which is optimistic indoors. ")


def _law() -> Source:
    return reference().limit("noise-upper-action").source_record


def _station_working(shop: Shop, place: Loudness, limits: Limits) -> Working:
    return Working(
        id=f"noise.station.{place.station}",
        subject=f"stations/{place.station}",
        title=_("Noise at {station} with all running that may run together").format(
            station=at_station(shop, place.station)
        ),
        formula=_("10 × log₁₀ of the sum of 10^(level ÷ 10), level − 20 × log₁₀(distance ratio)"),
        inputs=tuple(_station_inputs(shop, place)),
        result=Quantity(place.low_db, "dB(A)"),
        verdict=place.verdict,
        limit=_quantity(limits.upper),
        limit_source=limits.upper.source_record if limits.upper else None,
        margin=_margin(place.low_db, limits.upper),
        caution=_optimistic()
        + _("With full echo it would be {high}.").format(high=show(place.high_db, "db", 1)),
        source=_law(),
    )


def _quantity(limit: Value | None) -> Quantity | None:
    return None if limit is None else limit.quantity


def _margin(low_db: float, limit: Value | None) -> Quantity | None:
    return None if limit is None else Quantity(limit.low - low_db, "dB(A)")


_FAINT_DB = 15.0
"""Machines this much quieter than the loudest are shown as one input: each adds under 0.14 dB."""


def _station_inputs(shop: Shop, place: Loudness) -> Iterator[Input]:
    running = [h for h in place.heard if h.machine in place.running]
    plain = [h for h in running if h.low_db > running[0].low_db - _FAINT_DB]
    for heard in plain:
        yield _machine_input(shop.machines[heard.machine])
    if faint := running[len(plain) :]:
        level = laws.summed_db(h.low_db for h in faint)
        origin = shop.machines[faint[0].machine].origin
        yield given(_("{n} fainter ones, here").format(n=len(faint)), level, "dB(A)", origin)
    if shop.room.background_db is not None:
        yield own(_("background"), shop.room, "background_db")


def _machine_input(machine: Machine) -> Input:
    assert machine.noise is not None
    distance = show(machine.noise.distance_mm, "mm", 0)
    name = _("{machine} at {distance}").format(machine=machine.name, distance=distance)
    return own(name, machine.noise, "level_db")


def _day_working(day: Day, limits: Limits) -> Working:
    return Working(
        id=f"noise.day.{day.key}",
        subject=day.subject,
        title=_("Daily noise exposure: {who}").format(who=day.name),
        formula=_formula(limits),
        inputs=tuple(_day_inputs(day)),
        result=Quantity(max(day.low_db, 0.0), "dB(A)"),
        verdict=judged(day.low_db, day.high_db, limits.upper),
        limit=_quantity(limits.upper),
        limit_source=limits.upper.source_record if limits.upper else None,
        margin=_margin(max(day.low_db, 0.0), limits.upper),
        caution=_day_caution(day),
        source=_law(),
    )


def _formula(limits: Limits) -> str:
    if limits.exchange is not None and limits.exchange.low != 3:
        return _("{q} × log₁₀ of the sum of hours × 10^(level ÷ {q}) ÷ 8 h").format(
            q=show_number(laws.exchange_factor(limits.exchange.low), 2)
        )
    return _("10 × log₁₀ of the sum of hours × 10^(level ÷ 10) ÷ 8 h")


def _day_inputs(day: Day) -> Iterator[Input]:
    for part in day.parts:
        yield Input(part.what, Quantity(part.minutes, "min"), part.time_origin)
        level = _("level, {what}").format(what=part.what)
        yield Input(level, Quantity(part.low_db, "dB(A)"), part.level_origin)


def _day_caution(day: Day) -> str:
    says = _optimistic() + _("Without ear protection; with full echo {high}.").format(
        high=show(max(day.high_db, 0.0), "db", 1)
    )
    if day.kind == "role":
        says += " " + _("As if a week's running of each machine fell on the longest shift.")
    if day.not_counted:
        says += " " + _("Without running hours, so only in the upper figure: {machines}.").format(
            machines=", ".join(day.not_counted)
        )
    return says


# --- findings ----------------------------------------------------------------------------------


def _findings(
    shop: Shop, places: tuple[Loudness, ...], all_days: tuple[Day, ...], limits: Limits
) -> Iterator[Finding]:
    for machine in shop.machines.values():
        yield from _not_measured(machine)
    for machine in missing(shop, _LOUD_KINDS):
        yield _no_level(machine)
    if limits.upper is None:
        yield _no_limit(shop)
        return
    for place in places:
        yield from _too_loud(shop, place, limits.upper)
    yield from _visitors(shop, places, limits)
    yield from _between(shop, places, limits.upper)
    for day in all_days:
        yield from _day_findings(shop, day, limits, limits.upper)


def _not_measured(machine: Machine) -> Iterator[Finding]:
    noise = machine.noise
    if noise is None or noise.measured is not None:
        return
    says = _("The {level} of {machine} was not measured here.")
    yield Finding(
        "noise.not-measured",
        Severity.NOTE,
        noise.origin_of("level_db"),
        says.format(level=show(noise.level_db, "db"), machine=machine.name),
        _("Take a reading where its user stands, and write the day as `measured`."),
        subject=f"machines/{machine.id}",
    )


def _no_level(machine: Machine) -> Finding:
    kind = _CLASS_OF_KIND.get(machine.kind)
    says = _("{machine} has no noise level.").format(machine=machine.name)
    if kind is not None:
        usual = reference().machine_class(kind).noise
        says = _("{machine} has no noise level; its kind makes {low} to {high}.").format(
            machine=machine.name, low=show_number(usual.low), high=show(usual.high, "db")
        )
    return Finding(
        "noise.no-level",
        Severity.ASK,
        machine.origin,
        says,
        _("Ask the maker, or take a reading at 1 m with it working, and write `noise`."),
        subject=f"machines/{machine.id}",
        asks="maintainer",
    )


def _no_limit(shop: Shop) -> Finding:
    return Finding(
        "noise.no-limit",
        Severity.ASK,
        shop.shop.origin_of("jurisdiction"),
        _("No noise limit for {place} is on record here.").format(place=shop.shop.jurisdiction),
        _("Ask which levels hold for people at work and for visitors."),
        subject="shop",
        asks="insurer",
    )


def _asks_for_protection(shop: Shop, station: str) -> bool:
    return EAR_PROTECTION in shop.stations[station].ppe


def _too_loud(shop: Shop, place: Loudness, upper: Value) -> Iterator[Finding]:
    if place.verdict is not Verdict.FAILS or _asks_for_protection(shop, place.station):
        return
    says = _("At {station} it is {level} with {machines} running, and no ear protection is set.")
    mend = _("Ask for ear protection there ({sign}), or keep {loudest} off while people work.")
    yield Finding(
        "noise.unprotected",
        Severity.FIX,
        shop.stations[place.station].origin_of("ppe"),
        says.format(
            station=at_station(shop, place.station),
            level=show(place.low_db, "db", 1),
            machines=_loudest_few(shop, place, upper),
        ),
        mend.format(sign=EAR_PROTECTION, loudest=_loudest_name(shop, place)),
        subject=f"stations/{place.station}",
        working=f"noise.station.{place.station}",
    )


_QUIETER_DB = 10.0
"""A machine this much quieter adds less than half a decibel and is not named."""


def _loudest_few(shop: Shop, place: Loudness, limit: Value) -> str:
    least = min(limit.low, place.heard[0].low_db) - _QUIETER_DB
    loud = [h.machine for h in place.heard if h.machine in place.running and h.low_db > least]
    return in_words(shop, loud)


def _loudest_name(shop: Shop, place: Loudness) -> str:
    running = [h.machine for h in place.heard if h.machine in place.running]
    return str(shop.machines[running[0]].name)


def _visitors(shop: Shop, places: tuple[Loudness, ...], limits: Limits) -> Iterator[Finding]:
    """Places of visitors where it is loud: they wear nothing on their ears."""
    line = limits.lower or limits.upper
    loud = [p for p in places if p.visitors and line is not None and p.low_db >= line.low]
    if not loud or line is None or limits.upper is None:
        return
    worst = max(loud, key=lambda place: place.low_db)
    told = "; ".join(
        _("{station} {level}").format(
            station=at_station(shop, p.station), level=show(p.low_db, "db", 1)
        )
        for p in loud
    )
    says = _("Visitors hear {line} or more with {machines} running: {places}.")
    yield Finding(
        "noise.visitors",
        Severity.FIX if worst.low_db >= limits.upper.low else Severity.NOTE,
        shop.stations[worst.station].origin,
        says.format(
            line=show(line.low, "db"), machines=_loudest_few(shop, worst, line), places=told
        ),
        _("Keep {machine} off while they are there.").format(machine=_loudest_name(shop, worst)),
        subject=f"stations/{worst.station}",
        working=f"noise.station.{worst.station}",
    )


def _between(shop: Shop, places: tuple[Loudness, ...], upper: Value) -> Iterator[Finding]:
    """Places where only a reading can say on which side of the line they are."""
    open_ = [p for p in places if p.verdict is Verdict.UNANSWERED and p.heard]
    if not open_:
        return
    numbers = sorted(shop.stations[p.station].number for p in open_)
    says = ngettext(
        "Whether one station stays under {line} turns on the room's echo: number {numbers}.",
        "Whether {n} stations stay under {line} turns on the room's echo: numbers {numbers}.",
        len(open_),
    ).format(n=len(open_), line=show(upper.low, "db"), numbers=", ".join(map(str, numbers)))
    yield Finding(
        "noise.echo",
        Severity.NOTE,
        shop.room.origin,
        says,
        _("Take a reading there with everything running that may run together."),
        subject="room",
    )


def _day_findings(shop: Shop, day: Day, limits: Limits, upper: Value) -> Iterator[Finding]:
    line = limits.lower if limits.lower is not None else upper
    if day.low_db < line.low or day.loudest is None:
        return
    over = day.low_db >= upper.low
    says = _("{who}: {level} over a day, most of it from {what}.").format(
        who=day.name, level=show(day.low_db, "db", 1), what=day.loudest.what
    )
    yield Finding(
        "noise.day",
        _day_severity(shop, day, over),
        day.origin,
        says,
        _day_mend(day, limits) if over else _day_advice(line),
        subject=day.subject,
        working=f"noise.day.{day.key}",
    )


def _day_severity(shop: Shop, day: Day, over: bool) -> Severity:
    """Learners have no ear protection; at work what counts is whether it is asked for."""
    if day.kind == "learners":
        return Severity.FIX
    part = day.loudest
    covered = part is not None and part.station and _asks_for_protection(shop, part.station)
    return Severity.FIX if over and not covered else Severity.NOTE


def _day_mend(day: Day, limits: Limits) -> str:
    most = limits.most
    says = _("Ear protection is a duty there; less noise or shorter turns come first.")
    if day.kind == "learners":
        return _("Let groups in only while it is off, or keep them farther away.")
    if most is not None and most.note:
        says += " " + _("The limit of {most} is {note}").format(
            most=show(most.low, "db"), note=_lower_first(_(most.note))
        )
    return says


def _lower_first(words: str) -> str:
    return words[:1].lower() + words[1:]


def _day_advice(line: Value) -> str:
    return _("From {line} on, ear protection is offered and people are told why.").format(
        line=show(line.low, "db")
    )
