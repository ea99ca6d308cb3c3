"""Openings in guards against how far what moves is behind them, by the age of who may reach.

The table is for ages of 14 and over and ends at openings of 120 mm. Wider openings and younger
visitors are never worked out from it: they are questions.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shapely import Polygon

from generator.ground.finding import Finding, Severity
from generator.ground.units import show
from generator.ground.wording import _
from generator.ground.working import Quantity, Verdict, Working
from generator.reference import Value, reference
from generator.shop.records.machines import GuardOpening, Machine
from generator.shop.records.stations import Station
from generator.workings.figures import figure
from generator.workings.floor.lengths import mm
from generator.workings.floor.standing import Standing
from generator.workings.part import Part
from generator.workings.shown import own

ARM_MM = 850.0
"""As far as an arm reaches through the widest opening of the table: its last row."""


@dataclass(frozen=True, slots=True)
class Guard:
    """An opening of a guard: what the table asks for (None beyond its end), and whether it is."""

    machine: Machine
    opening: GuardOpening
    number: int
    needed: Value | None

    @property
    def holds(self) -> bool:
        return self.needed is not None and self.opening.distance_mm >= self.needed.high


@dataclass(frozen=True, slots=True)
class Youngest:
    """The youngest who may come within reach of a machine [years], and how it is known."""

    machine: Machine
    age_years: float
    why: str


@dataclass(frozen=True, slots=True)
class Guards:
    """Every opening, and every machine with one that somebody below the table's age may reach."""

    guards: tuple[Guard, ...]
    young: tuple[Youngest, ...]
    part: Part


def study(standing: Standing) -> Guards:
    """Hold every guard's opening against the table, and the table against who comes."""
    shop = standing.shop
    guarded = [m for m in shop.machines.values() if m.guard_openings]
    guards = tuple(guard for machine in guarded for guard in _guards(machine))
    least = figure(shop, "guard-opening-age")
    ages = [_youngest(standing, machine) for machine in guarded]
    young = tuple(y for y in ages if y.age_years < least.value)
    asked = tuple(_young_question(y, least.value) for y in young)
    failing = tuple(_finding(guard) for guard in guards if not guard.holds)
    workings = tuple(map(_working, guards))
    return Guards(guards, young, Part(workings, (*failing, *asked), len(guarded), len(young)))


def _guards(machine: Machine) -> Iterator[Guard]:
    for number, opening in enumerate(machine.guard_openings, 1):
        needed = reference().guard_distance(opening.opening_mm, opening.shape, opening.length_mm)
        yield Guard(machine, opening, number, needed)


def _id(guard: Guard) -> str:
    return f"floor.guard.{guard.machine.id}.{guard.number}"


def _working(guard: Guard) -> Working:
    opening, needed = guard.opening, guard.needed
    title = _("Distance behind “{where}” of {machine}").format(
        where=opening.where, machine=guard.machine.name
    )
    judged = Verdict.HOLDS if guard.holds else Verdict.FAILS
    return Working(
        _id(guard),
        f"machines/{guard.machine.id}",
        title,
        _("distance from the opening to what moves, against the table's for such an opening"),
        (own(_("Opening"), opening, "opening_mm"), own(_("Distance"), opening, "distance_mm")),
        Quantity(opening.distance_mm, "mm"),
        judged if needed else Verdict.UNANSWERED,
        Quantity(needed.high, "mm") if needed else None,
        needed.source_record if needed else None,
        Quantity(opening.distance_mm - needed.high, "mm") if needed else None,
        _("For ages of 14 and over. An interlock does not make an opening smaller."),
    )


def _finding(guard: Guard) -> Finding:
    names = {
        "where": guard.opening.where,
        "machine": guard.machine.name,
        "opening": mm(guard.opening.opening_mm),
        "distance": mm(guard.opening.distance_mm),
        "needed": mm(guard.needed.high) if guard.needed else "",
    }
    if guard.needed is None:
        says = _("“{where}” of {machine} is {opening} wide: the table ends at 120 mm.")
        mend = _("Ask a competent person how far in what moves must be.")
    else:
        says = _(
            "“{where}” of {machine} is {opening} wide and {distance} from what moves; "
            "{needed} are needed."
        )
        mend = _("Make the opening smaller, put it farther off, or guard it otherwise.")
    return Finding(
        "floor.guard-distance",
        Severity.FIX if guard.needed else Severity.ASK,
        guard.opening.origin,
        says.format(**names),
        mend,
        subject=f"machines/{guard.machine.id}",
        working=_id(guard),
        asks="" if guard.needed else "maintainer",
    )


# --- who may come near -------------------------------------------------------------------------


def _youngest(standing: Standing, machine: Machine) -> Youngest:
    """The youngest who works at a machine's station, sits in a session there, or may stand
    within an arm's reach of it as a visitor."""
    station = standing.shop.stations[machine.station]
    use = machine.use or station.use
    ages = [(use.least_age_years, _("the youngest who may use it"))]
    ages += [
        (session.learners.age_from_years, _("the session “{name}”").format(name=session.name))
        for session in standing.shop.sessions.values()
        if any(activity.station == station.id for activity in session.activities.values())
    ]
    if name := _visitors_beside(standing, station):
        ages.append((_visitors_age(standing), _("visitors in “{zone}”").format(zone=name)))
    age, why = min(ages, key=lambda pair: pair[0])
    return Youngest(machine, age, why)


def _visitors_beside(standing: Standing, station: Station) -> str:
    """The name of a zone with visitors within an arm's reach of a station, or ""."""
    zones = standing.shop.room.zones
    if zones[station.zone].visitors:
        return str(zones[station.zone].name)
    shape = standing.by_subject[f"stations/{station.id}"].polygon
    return next((
        str(zone.name) for zone in zones.values()
        if zone.visitors and zone.outline and Polygon(zone.outline).dwithin(shape, ARM_MM)
    ), "")  # fmt: skip


def _visitors_age(standing: Standing) -> float:
    """The youngest age written for any session; 0 where none is, since a door lets in all."""
    sessions = standing.shop.sessions.values()
    return min((s.learners.age_from_years for s in sessions), default=0.0)


def _young_question(youngest: Youngest, least_years: float) -> Finding:
    says = _(
        "{machine} has openings in its guards, and {why} may be {age} old: the table of distances "
        "holds from {least} on, and the one for children from 3 years is not in these tables."
    )
    return Finding(
        "floor.guard-age",
        Severity.ASK,
        youngest.machine.origin_of("guard_openings"),
        says.format(
            machine=youngest.machine.name,
            why=youngest.why,
            age=show(youngest.age_years, "years"),
            least=show(least_years, "years"),
        ),
        _("Keep them out of reach, or ask for the distances that hold for children."),
        subject=f"machines/{youngest.machine.id}",
        asks="maintainer",
    )
