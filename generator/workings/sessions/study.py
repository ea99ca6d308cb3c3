"""Every session of a shop looked at whole."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from generator.ground.finding import Finding, Severity
from generator.ground.survey import Survey, survey
from generator.ground.wording import _
from generator.reference import reference
from generator.shop.records.people import Session
from generator.shop.shop import Shop
from generator.workings.air import AirStudy
from generator.workings.moulding import MouldingStudy
from generator.workings.power import PowerStudy
from generator.workings.routes import RouteStudy
from generator.workings.sessions import before, fixed, needs, proofs
from generator.workings.sessions.demands import (
    Demands,
    Line,
    Reader,
    digest,
    lines_of,
    minute_of,
    whole_min,
)
from generator.workings.sessions.fixed import Around
from generator.workings.sessions.grid import Grid
from generator.workings.sessions.mending import mend
from generator.workings.sessions.results import (
    Clash,
    GroupPlan,
    HotHold,
    HotStand,
    PlannedSlot,
    Proof,
    SessionsStudy,
    SessionStudy,
    Span,
)
from generator.workings.sessions.rules import RULES, broken
from generator.workings.sessions.slipping import follows
from generator.workings.sessions.telling import Teller


@dataclass(frozen=True)
class Desk:
    """What every session of a shop is worked out from."""

    around: Around
    power: PowerStudy
    reader: Reader

    @property
    def shop(self) -> Shop:
        return self.around.shop


def desk(
    shop: Shop, power: PowerStudy, moulding: MouldingStudy, routes: RouteStudy, air: AirStudy
) -> Desk:
    """Lay out what sessions are worked out from."""
    walk = walking(routes)
    reader = Reader(shop, moulding, power.sets.allowance, walk)
    return Desk(Around(shop, moulding, routes, air), power, reader)


def walking(routes: RouteStudy) -> Callable[[str, str], int | None]:
    r"""Whole minutes a group walks from a station to another, None where no aisle leads there.

    .. math:: t = \lceil s / v \rceil

    with the walk :math:`s` [m] from the plan and a group's walking speed :math:`v` [m/s], an
    assumption of the tables.
    """
    speed = reference().limit("walking-speed-group").low

    def walk(start: str, end: str) -> int | None:
        way = routes.walk_between(start, end)
        return None if way is None else whole_min(way.length_mm / 1000 / speed / 60)

    return walk


def study(
    shop: Shop, power: PowerStudy, moulding: MouldingStudy, routes: RouteStudy, air: AirStudy
) -> SessionsStudy:
    """Check every session's timetable and work out what it needs.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    power, moulding, routes, air
        What other subjects worked out of it.
    """
    laid = desk(shop, power, moulding, routes, air)
    made = {id_: study_of(laid, session) for id_, session in shop.sessions.items()}
    return SessionsStudy(made, _survey(laid, made.values()))


def study_of(laid: Desk, session: Session, lines: Iterable[Line] | None = None) -> SessionStudy:
    """One session, with its own timetable or another."""
    demands = laid.reader.demands(session)
    grid = Grid(demands, lines_of(session) if lines is None else lines)
    switching, stands = grid.switching, tuple(_stands(grid))
    made = needs.made_parts(laid.shop, session)
    here = digest(demands, grid.lines)
    return SessionStudy(
        session=session,
        arrival=Span(minute_of(session.start), demands.opens),
        tidy=Span(demands.closes, minute_of(session.end)),
        slots=tuple(_slots(session, grid)),
        groups=tuple(_groups(session, grid)),
        breaks=grid.breaks,
        switching=switching,
        hot_stands=stands,
        holds=tuple(_holds(demands, grid)),
        needs=needs.needs(laid.around, session, made, stands),
        made=made,
        energy_kwh=needs.energy_kwh(laid.power.energy, demands, grid) if grid.lines else None,
        checks=before.checks(laid.shop, session, demands, switching),
        clashes=clashes_of(laid, session, demands, grid.lines),
        proof=_proof(session, here),
        hash=here,
        follows=follows(demands, grid.lines),
    )


def clashes_of(
    laid: Desk, session: Session, demands: Demands, lines: tuple[Line, ...]
) -> tuple[Clash, ...]:
    """What no timetable mends, then what this one breaks, each with its nearest mend."""
    fixed_ones = fixed.clashes(laid.around, session)
    if not lines:
        return fixed_ones
    teller, found = Teller(laid.shop, session, demands), broken(demands, lines)
    told = (replace(teller.clash(b), mend=mend(teller, lines, b, found)) for b in found)
    return (*fixed_ones, *told)


def _proof(session: Session, here: str) -> Proof | None:
    return proofs.read(str(session.proof), here) if session.proof is not None else None


# --- laid out ----------------------------------------------------------------------------------


def _slots(session: Session, grid: Grid) -> Iterator[PlannedSlot]:
    origins = {(s.group, s.activity, minute_of(s.start)): s.origin for s in session.timetable}
    walks = {
        other: grid.demands.walk(one.task, other.task)
        for lines in grid.by_group.values()
        for one, other in pairwise(lines)
    }
    for line in grid.lines:
        origin = origins.get((line.group, line.task, line.start), session.origin)
        yield PlannedSlot(
            line.group, line.task, session.activities[line.task], line.start, grid.end(line),
            walks.get(line, 0), origin,
        )  # fmt: skip


def _groups(session: Session, grid: Grid) -> Iterator[GroupPlan]:
    slots = tuple(_slots(session, grid))
    for number, size in enumerate(grid.demands.sizes, start=1):
        own = tuple(slot for slot in slots if slot.group == number)
        yield GroupPlan(number, size, own, grid.waits(number))


def _stands(grid: Grid) -> Iterator[HotStand]:
    for machine in grid.demands.warmth:
        for one, other in pairwise(grid.by_machine(machine)):
            span = Span(grid.end(one), other.start)
            if span.minutes > 0:
                task = grid.task(one)
                yield HotStand(machine, task.polymer, span, grid.demands.hold(machine, task))


def _holds(demands: Demands, grid: Grid) -> Iterator[HotHold]:
    """Each polymer in each hot machine of the timetable, once."""
    seen = {}
    for machine in demands.warmth:
        for line in grid.by_machine(machine):
            task = grid.task(line)
            seen[machine, task.polymer] = demands.hold(machine, task)
    yield from (HotHold(machine, polymer, most) for (machine, polymer), most in seen.items())


# --- findings ----------------------------------------------------------------------------------


def _survey(laid: Desk, studies: Iterable[SessionStudy]) -> Survey:
    every = tuple(studies)
    found = [finding for each in every for finding in _findings(laid, each)]
    asked = [f for f in found if f.severity is Severity.ASK]
    planned = sum(bool(each.slots) for each in every)
    activities = sum(len(each.session.activities) for each in every)
    checks = len(RULES) * planned + 5 * activities + 3 * len(every) + len(asked)
    return survey("sessions", (), found, other_checks=checks, other_unanswered=len(asked))


def _findings(laid: Desk, each: SessionStudy) -> Iterator[Finding]:
    subject = f"sessions/{each.session.id}"
    for clash in each.clashes:
        if clash.demand not in fixed.ELSEWHERE:
            mending = clash.mend.says if clash.mend else ""
            yield Finding(
                f"session.{clash.demand}", clash.severity, clash.origin,
                _("“{session}”: {what}").format(session=each.session.name, what=clash.says),
                mending, subject=subject,
            )  # fmt: skip
    yield from _unknown_holds(laid.shop, each, subject)
    yield from _stale_proof(each, subject)


def _unknown_holds(shop: Shop, each: SessionStudy, subject: str) -> Iterator[Finding]:
    """Between two uses plastic stands hot, and nobody knows what, or for how long it may."""
    told = set()
    for stand in each.hot_stands:
        machine = shop.machines[stand.machine]
        if stand.longest_min is not None or (machine.id, stand.polymer) in told:
            continue
        told.add((machine.id, stand.polymer))
        says = _(
            "“{session}”: from {clock} {machine} stands hot with {what}; how long it may is not "
            "written."
        )
        name = shop.polymers[stand.polymer].name if stand.polymer else _("an unnamed plastic")
        mending = _("Write `hot_hold` at the machine's setting, from the maker or your own trials.")
        if stand.polymer is None:
            mending = _("Write what is shot there under `makes`: how long it may depends on it.")
        yield Finding(
            "session.hold-unknown", Severity.ASK, machine.origin,
            says.format(session=each.session.name, clock=stand.span.clock, machine=machine.name,
                        what=name),
            mending, subject=subject, asks="maintainer",
        )  # fmt: skip


def _stale_proof(each: SessionStudy, subject: str) -> Iterator[Finding]:
    proof = each.proof
    if proof is not None and proof.hash and not proof.belongs:
        says = _("“{session}”: the proof was made for other data than stand here now.")
        mending = _("Run `benchleaf timetable {id}`, or take the `proof` out.")
        yield Finding(
            "session.stale-proof", Severity.NOTE, each.session.origin_of("proof"),
            says.format(session=each.session.name), mending.format(id=each.session.id),
            subject=subject,
        )  # fmt: skip
