"""Whether what a session uses stays inside one set, moment by moment.

With a timetable, a machine runs while a group is at it. One that warms plastic is on from its
heating up before its first group until its last has left. Without a timetable everything the
session's activities use is looked at as if it ran at once.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from generator.ground.finding import Severity
from generator.ground.origin import Origin
from generator.ground.units import show
from generator.ground.wording import _
from generator.ground.working import Input, Quantity, Verdict
from generator.shop.records.machines import Machine
from generator.shop.records.people import Activity, Session
from generator.shop.shop import Shop
from generator.workings.power.telling import Ledger, amps, named
from generator.workings.power.together import Allowance, Excess
from generator.workings.shown import given


@dataclass(frozen=True, slots=True)
class Moment:
    """A stretch of a session through which the same machines run.

    ``start_min`` and ``end_min`` are minutes after midnight; heating up may begin before the
    session, and before midnight. ``busiest`` is the limit they fill most, ``over`` are the
    limits they break: for certain if ``sure``, else perhaps, since some load is not known.
    """

    start_min: float
    end_min: float
    machines: tuple[str, ...]
    busiest: Excess | None
    over: tuple[Excess, ...]
    sure: bool
    origin: Origin

    @property
    def inside(self) -> bool:
        """Whether it lies inside one set."""
        return not self.over

    @property
    def clock(self) -> str:
        """From when to when, as the clock shows it."""
        return f"{_clock(self.start_min)}–{_clock(self.end_min)}"


@dataclass(frozen=True, slots=True)
class SessionPower:
    """A session's machines over time; one moment for all where there is no timetable."""

    session: Session
    moments: tuple[Moment, ...]
    verdict: Verdict

    @property
    def machines(self) -> tuple[str, ...]:
        """All that it uses."""
        return tuple(dict.fromkeys(m for moment in self.moments for m in moment.machines))

    @property
    def worst(self) -> Moment | None:
        """The moment that breaks a limit, else the one that fills one most."""
        return max(self.moments, key=_severity, default=None)


def _severity(moment: Moment) -> tuple[bool, bool, float]:
    share = moment.busiest.load_a / moment.busiest.limit.most_a if moment.busiest else 0.0
    return bool(moment.over) and moment.sure, bool(moment.over), share


def _clock(minutes: float) -> str:
    hours, rest = divmod(round(minutes) % (24 * 60), 60)
    return f"{hours:02}:{rest:02}"


# --- when what runs ----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Run:
    machine: str
    start_min: float
    end_min: float
    origin: Origin


def used_by(activity: Activity, shop: Shop) -> tuple[Machine, ...]:
    """The machines an activity runs: those it names, else those of its station."""
    if activity.machines:
        return tuple(shop.machines[id_] for id_ in activity.machines)
    return shop.machines_at(activity.station)


def _minutes(time: dt.time) -> float:
    return time.hour * 60 + time.minute


def _runs(session: Session, shop: Shop) -> tuple[_Run, ...]:
    """When each machine is on, the hot ones without a break."""
    lines = [
        _Run(machine.id, start, start + activity.takes_min, slot.origin)
        for slot in session.timetable
        if (activity := session.activities.get(slot.activity)) is not None
        for start in [_minutes(slot.start)]
        for machine in used_by(activity, shop)
    ]
    cold = [run for run in lines if not shop.machines[run.machine].is_hot]
    hot = dict.fromkeys(run.machine for run in lines if shop.machines[run.machine].is_hot)
    return (*cold, *(_through(shop.machines[id_], lines) for id_ in hot))


def _through(machine: Machine, lines: Iterable[_Run]) -> _Run:
    own = [run for run in lines if run.machine == machine.id]
    first = min(own, key=lambda run: run.start_min)
    heating = machine.heat.heat_up_min + machine.heat.soak_min if machine.heat else 0.0
    return _Run(
        machine.id, first.start_min - heating, max(run.end_min for run in own), first.origin
    )


def _stretches(runs: tuple[_Run, ...]) -> Iterator[tuple[float, float, tuple[_Run, ...]]]:
    """The session cut wherever something starts or ends."""
    edges = sorted({edge for run in runs for edge in (run.start_min, run.end_min)})
    for start, end in pairwise(edges):
        on = tuple(run for run in runs if run.start_min <= start and run.end_min >= end)
        if on:
            yield start, end, on


# --- holding it against the limits -------------------------------------------------------------


def sessions_of(shop: Shop, known: Allowance, sure: Allowance) -> tuple[SessionPower, ...]:
    """Every session against the limits.

    Parameters
    ----------
    shop
        The shop.
    known
        The limits with every load at the least it can be: what breaks these surely does.
    sure
        The limits with every load at the most it can be: what fits these surely does.
    """
    return tuple(_session(session, shop, known, sure) for session in shop.sessions.values())


def _session(session: Session, shop: Shop, known: Allowance, sure: Allowance) -> SessionPower:
    if session.timetable:
        stretches = list(_stretches(_runs(session, shop)))
    else:
        stretches = list(_all_at_once(session, shop))
    moments = tuple(_joined(_moment(s, e, on, known, sure) for s, e, on in stretches))
    return SessionPower(session, moments, _verdict(session, moments))


def _all_at_once(session: Session, shop: Shop) -> Iterator[tuple[float, float, tuple[_Run, ...]]]:
    start, end = _minutes(session.start), _minutes(session.end)
    uses = {
        machine.id: _Run(machine.id, start, end, activity.origin)
        for activity in session.activities.values()
        for machine in used_by(activity, shop)
    }
    if uses:
        yield start, end, tuple(uses.values())


def _moment(
    start: float, end: float, on: tuple[_Run, ...], known: Allowance, sure: Allowance
) -> Moment:
    names = {run.machine for run in on}
    machines = tuple(m for m in known.machines if m in names)
    certain = known.over(machines)
    newest = max(on, key=lambda run: run.start_min)
    return Moment(
        start, end, machines, known.busiest(machines), certain or sure.over(machines),
        bool(certain), newest.origin,
    )  # fmt: skip


def _joined(moments: Iterable[Moment]) -> Iterator[Moment]:
    """Moments without power left out, and the same machines told once."""
    last: Moment | None = None
    for moment in moments:
        if last and last.machines == moment.machines and last.end_min == moment.start_min:
            last = Moment(
                last.start_min, moment.end_min, last.machines, last.busiest, last.over,
                last.sure, last.origin,
            )  # fmt: skip
            continue
        if last and last.machines:
            yield last
        last = moment
    if last and last.machines:
        yield last


def _verdict(session: Session, moments: tuple[Moment, ...]) -> Verdict:
    if not moments:
        return Verdict.INFORMS
    if all(moment.inside for moment in moments):
        return Verdict.HOLDS
    broken = any(moment.sure and moment.over for moment in moments)
    return Verdict.FAILS if broken and session.timetable else Verdict.UNANSWERED


# --- telling -----------------------------------------------------------------------------------


def tell_sessions(sessions: tuple[SessionPower, ...], shop: Shop, ledger: Ledger) -> None:
    """Enter each session at its worst moment, and what would go out."""
    for power in sessions:
        worst = power.worst
        if worst is None or worst.busiest is None:
            continue
        working = _work(power, worst, worst.busiest, shop, ledger)
        if worst.over:
            _find(power, worst, working, shop, ledger)


def _work(power: SessionPower, worst: Moment, busiest: Excess, shop: Shop, ledger: Ledger) -> str:
    shown = worst.over[0] if worst.over else busiest
    session, limit = power.session, shown.limit
    return ledger.work(
        f"power.session.{session.id}",
        f"sessions/{session.id}",
        _("{session}: {limit} at its fullest, {clock}").format(
            session=session.name, limit=limit.name, clock=worst.clock
        ),
        _("sum of the currents of what runs at that moment, fans and standing loads with it"),
        _inputs(worst, shown, shop),
        result=Quantity(shown.load_a, "A"),
        verdict=power.verdict,
        limit=(Quantity(limit.most_a, "A"), _limit_origin(shown, shop)),
        caution=""
        if session.timetable
        else _("No timetable is written: everything it uses is taken to run at once."),
    )


def _limit_origin(excess: Excess, shop: Shop) -> Origin:
    limit = excess.limit
    if limit.kind == "main":
        return shop.room.supply.origin_of("main_fuse_a")
    return shop.room.circuits[limit.subject.rpartition("/")[2]].origin_of("device_a")


def _inputs(moment: Moment, shown: Excess, shop: Shop) -> Iterator[Input]:
    for id_ in moment.machines:
        machine = shop.machines[id_]
        if id_ in shown.limit.loads_a and machine.electric is not None:
            origin = machine.electric.origin_of("power_kw")
            yield given(str(machine.name), shown.limit.loads_a[id_], "A", origin)
    if shown.limit.standing_a:
        name = _("Fans and standing loads")
        yield given(name, shown.limit.standing_a, "A", shop.room.supply.origin)


def _find(power: SessionPower, worst: Moment, working: str, shop: Shop, ledger: Ledger) -> None:
    session, excess = power.session, worst.over[0]
    sentences = {
        Verdict.FAILS: _("At {clock} {machines} draw {load} through the {limit} of {most}."),
        Verdict.UNANSWERED: _("{machines} together may draw {load} through the {limit} of {most}."),
    }
    on_it = [str(shop.machines[m].name) for m in worst.machines if m in excess.limit.loads_a]
    says = sentences[power.verdict].format(
        clock=worst.clock,
        machines=named(on_it),
        load=amps(excess.load_a),
        limit=_through_what(excess),
        most=show(excess.limit.most_a, "a"),
    )
    fails = power.verdict is Verdict.FAILS
    mend = (
        _("Move one of them in the timetable, or do without it in this session.")
        if session.timetable
        else _("Write a timetable that keeps them apart.")
    )
    ledger.find(
        "session", Severity.FIX if fails else Severity.NOTE, worst.origin,
        _("“{session}”: {what}").format(session=session.name, what=says), mend,
        subject=f"sessions/{session.id}", working=working,
    )  # fmt: skip


def _through_what(excess: Excess) -> str:
    if excess.limit.kind == "circuit":
        return _("device of {circuit}").format(circuit=excess.limit.name)
    return excess.limit.name
