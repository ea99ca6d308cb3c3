"""Everything with a date in one list: tests, checks, upkeep, reviews, actions, stages."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.survey import Survey, survey
from generator.ground.units import Period
from generator.ground.wording import _, day_words, ngettext
from generator.shop.records.people import Duty
from generator.shop.shop import Shop
from generator.workings.falling_due import State, next_due, state_of
from generator.workings.upkeep import Task, UpkeepStudy

Kind = Literal["duty", "upkeep", "review", "action", "stage"]


@dataclass(frozen=True, slots=True)
class Due:
    """One line: what falls due, when, and who does it.

    ``id`` is stable over builds. ``subject`` is the record it is about. ``who`` is a role or a
    contact's function in the shop's words, "" where nobody is named.
    """

    id: str
    kind: Kind
    what: str
    subject: str
    origin: Origin
    last: dt.date | None
    every: Period | None
    due: dt.date | None
    state: State
    who: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class DutyStudy:
    """The list, what is overdue first and then by date; what has no date stands last."""

    list: tuple[Due, ...]
    survey: Survey

    def of(self, state: State) -> tuple[Due, ...]:
        """The lines in one state."""
        return tuple(line for line in self.list if line.state is state)


def study(shop: Shop, as_of: dt.date, upkeep: UpkeepStudy) -> DutyStudy:
    """Gather everything that has a date.

    Parameters
    ----------
    shop
        The shop.
    as_of
        The day it is told against.
    upkeep
        What machines ask for, worked out for the same day.
    """
    lines = [
        *(_duty(shop, duty, as_of) for duty in shop.duties.values()),
        *(_upkeep(task) for task in upkeep.tasks),
        *_reviews(shop, as_of),
        *_actions(shop, as_of),
        *_stages(shop, as_of),
    ]
    ordered = tuple(sorted(lines, key=lambda d: (d.due or dt.date.max, d.id)))
    own = [d for d in ordered if d.kind != "upkeep"]
    found = [f for line in own for f in _findings(line, as_of)]
    silent = sum(d.state is State.UNDATED for d in own)
    made = survey("duties", (), found, other_checks=len(own), other_unanswered=silent)
    return DutyStudy(ordered, made)


def _duty(shop: Shop, duty: Duty, as_of: dt.date) -> Due:
    """A duty; where its own day is not written, the day its equipment was last checked."""
    checked = shop.room.equipment[duty.equipment].checked if duty.equipment else None
    last = duty.last or checked
    due = next_due(last, duty.every)
    return Due(
        id=f"duty.{duty.id}",
        kind="duty",
        what=str(duty.name),
        subject=f"duties/{duty.id}",
        origin=duty.origin,
        last=last,
        every=duty.every,
        due=due,
        state=state_of(due, as_of),
        who=str(shop.contacts[duty.by].name) if duty.by else "",
        note=str(duty.note or ""),
    )


def _upkeep(task: Task) -> Due:
    return Due(
        id=f"upkeep.{task.machine.id}.{task.task.id}",
        kind="upkeep",
        what=f"{task.machine.name}: {task.task.what}",
        subject=f"machines/{task.machine.id}",
        origin=task.task.origin,
        last=task.last.date if task.last else None,
        every=task.task.every,
        due=task.due,
        state=task.state,
        who=task.task.who,
    )


def _reviews(shop: Shop, as_of: dt.date) -> Iterator[Due]:
    for hazard in shop.hazards.values():
        if hazard.review_every is None and hazard.reviewed is None:
            continue  # found by the risk assessment, which asks for a review
        due = next_due(hazard.reviewed, hazard.review_every)
        yield Due(
            id=f"review.{hazard.id}",
            kind="review",
            what=_("Review the hazard “{hazard}”").format(hazard=hazard.name),
            subject=f"hazards/{hazard.id}",
            origin=hazard.origin,
            last=hazard.reviewed,
            every=hazard.review_every,
            due=due,
            state=state_of(due, as_of),
        )


def _actions(shop: Shop, as_of: dt.date) -> Iterator[Due]:
    for hazard in shop.hazards.values():
        if hazard.action is not None:
            yield Due(
                id=f"action.{hazard.id}",
                kind="action",
                what=str(hazard.action.do),
                subject=f"hazards/{hazard.id}",
                origin=hazard.action.origin,
                last=None,
                every=None,
                due=hazard.action.due,
                state=state_of(hazard.action.due, as_of),
                who=str(shop.roles[hazard.action.by].name),
                note=str(hazard.name),
            )


def _stages(shop: Shop, as_of: dt.date) -> Iterator[Due]:
    for stage in shop.stages.values():
        if not stage.reached and stage.due is not None:
            yield Due(
                id=f"stage.{stage.id}",
                kind="stage",
                what=_("Stage {order} reached: {name}").format(order=stage.order, name=stage.name),
                subject=f"stages/{stage.id}",
                origin=stage.origin,
                last=None,
                every=None,
                due=stage.due,
                state=state_of(stage.due, as_of),
            )


def _findings(line: Due, as_of: dt.date) -> Iterator[Finding]:
    if line.state is State.OVERDUE and line.due is not None and line.kind != "review":
        days = (as_of - line.due).days
        says = ngettext(
            "“{what}” was due on {day}, {n} day ago.",
            "“{what}” was due on {day}, {n} days ago.",
            days,
        ).format(what=line.what, day=day_words(line.due), n=days)
        mend = _("Have it done and write the day, or move the date and say why.")
        yield _finding(line, "overdue", Severity.FIX, says, mend)
    if line.state is State.UNDATED and line.kind == "duty":
        says = _("“{what}” is due every {every}, and nobody has written when it was last done.")
        says = says.format(what=line.what, every=line.every)
        yield _finding(line, "undated", Severity.NOTE, says, _("Write the day under `last`."))


def _finding(line: Due, rule: str, severity: Severity, says: str, mend: str) -> Finding:
    return Finding(f"duties.{rule}", severity, line.origin, says, mend, subject=line.subject)
