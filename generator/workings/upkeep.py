"""Upkeep by running hours and by calendar, spare parts, and what stops without a machine."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass

from generator.ground.finding import Finding, Severity
from generator.ground.survey import Survey, survey
from generator.ground.units import show
from generator.ground.wording import _, ngettext
from generator.shop.records.logs import UpkeepDone
from generator.shop.records.machines import Machine, Upkeep
from generator.shop.records.material import Consumable
from generator.shop.shop import Shop
from generator.workings import standstill
from generator.workings.falling_due import State, next_due, state_of
from generator.workings.stage import waits_for
from generator.workings.standstill import Standstill

_HOURS = "running hour"


@dataclass(frozen=True, slots=True)
class Task:
    """A piece of upkeep as it stands.

    ``hours_since`` [h] counts from when it was last done, None where it goes by the calendar or
    nobody knows. ``due`` is the date, for running hours the date at the usual hours a week.
    ``short`` are the spare parts it uses that are at or under their minimum.
    """

    machine: Machine
    task: Upkeep
    last: UpkeepDone | None
    hours_since: float | None
    due: dt.date | None
    state: State
    short: tuple[Consumable, ...]


@dataclass(frozen=True, slots=True)
class UpkeepStudy:
    """The due list, most pressing first, and what each machine takes with it."""

    tasks: tuple[Task, ...]
    out_of_use: tuple[Standstill, ...]
    survey: Survey


def study(shop: Shop, as_of: dt.date) -> UpkeepStudy:
    """Work out which upkeep is due on a day, for machines in use.

    Parameters
    ----------
    shop
        The shop, with its log of upkeep.
    as_of
        The day it is told against.
    """
    used = [m for m in shop.machines.values() if waits_for(shop, m) is None]
    made = [_task(shop, m, task, as_of) for m in used for task in m.upkeep.values()]
    tasks = tuple(sorted(made, key=_pressing))
    silent = sum(t.state is State.UNDATED for t in tasks)
    found = [f for task in tasks for f in _findings(task, as_of)]
    whole = survey("upkeep", (), found, other_checks=len(tasks), other_unanswered=silent)
    return UpkeepStudy(tasks, tuple(standstill.of(shop, m) for m in used), whole)


def _pressing(task: Task) -> tuple[int, dt.date]:
    return list(State).index(task.state), task.due or dt.date.max


# --- what is due -------------------------------------------------------------------------------


def _task(shop: Shop, machine: Machine, task: Upkeep, as_of: dt.date) -> Task:
    log = [row for row in shop.logs.upkeep if row.machine == machine.id and row.date <= as_of]
    last = max((r for r in log if r.task == task.id), key=lambda r: r.date, default=None)
    by_hours = task.every.unit == _HOURS
    hours = _hours_since(machine, log, last, as_of) if by_hours else None
    due = _due_by_hours(machine, task, hours, as_of) if by_hours else _due(task, last)
    uses = [shop.consumables[c] for c in task.uses]
    short = tuple(c for c in uses if c.stock <= c.least)
    return Task(machine, task, last, hours, due, state_of(due, as_of), short)


def _due(task: Upkeep, last: UpkeepDone | None) -> dt.date | None:
    return next_due(last.date if last else None, task.every)


def _hours_since(
    machine: Machine, log: list[UpkeepDone], last: UpkeepDone | None, as_of: dt.date
) -> float | None:
    """Running hours since a task was done [h].

    By the machine's counter as far as it was read afterwards, from there on by its usual hours
    a week. What was never done counts from the counter's zero.
    """
    began = 0.0 if last is None else last.running_h
    readings = [(r.date, r.running_h) for r in log if r.running_h is not None]
    since = last.date if last else None
    counted = 0.0
    if readings and began is not None:
        since, reading = max(readings)
        counted = reading - began
    if since is None:
        return None
    if machine.runs_per_week_h is None:
        return counted if since == as_of else None
    return counted + machine.runs_per_week_h * (as_of - since).days / 7


def _due_by_hours(
    machine: Machine, task: Upkeep, hours: float | None, as_of: dt.date
) -> dt.date | None:
    """The day its hours are up, or were up, at the usual hours a week."""
    if hours is None or not machine.runs_per_week_h:
        return None
    weeks = (task.every.count - hours) / machine.runs_per_week_h
    try:
        return as_of + dt.timedelta(days=int(weeks * 7 // 1))
    except OverflowError:
        return dt.date.max


def _findings(task: Task, as_of: dt.date) -> Iterator[Finding]:
    if task.state is State.OVERDUE and task.due:
        severity = Severity.FIX
        says = _overdue_sentence(task, (as_of - task.due).days)
        yield _finding(task, "overdue", severity, says, _("Do it, and write a line in upkeep.csv."))
    if task.state is State.UNDATED:
        says = _("“{what}” on {machine} is not in the log, so nobody can tell when it falls due.")
        says = says.format(what=task.task.what, machine=task.machine.name)
        mend = _("Do it, and write a line in upkeep.csv with the task `{task}`.")
        yield _finding(task, "undated", Severity.NOTE, says, mend.format(task=task.task.id))


def _overdue_sentence(task: Task, days: int) -> str:
    facts = {"what": task.task.what, "machine": task.machine.name, "every": task.task.every}
    if task.hours_since is not None:
        says = _(
            "“{what}” on {machine} has gone {hours} without being done; it is due every {every}."
        )
        return says.format(hours=show(task.hours_since, "h", 0), **facts)
    says = ngettext(
        "“{what}” on {machine} is {n} day overdue; it is due every {every}.",
        "“{what}” on {machine} is {n} days overdue; it is due every {every}.",
        days,
    )
    return says.format(n=days, **facts)


def _finding(task: Task, rule: str, severity: Severity, says: str, mend: str) -> Finding:
    subject = f"machines/{task.machine.id}"
    return Finding(f"upkeep.{rule}", severity, task.task.origin, says, mend, subject=subject)
