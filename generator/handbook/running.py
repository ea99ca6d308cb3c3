"""The pages opened every week: what is due, upkeep, stores, and what is made here."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence

from babel.dates import format_date
from markupsafe import Markup

from generator.drawings import counts
from generator.drawings.counts import Column, Lasting
from generator.drawings.ink import Drawing, to_svg
from generator.ground.wording import _, locale, ngettext
from generator.handbook.checking import path_of_upkeep
from generator.handbook.desk import Desk
from generator.handbook.links import subject_address
from generator.handbook.page import Page
from generator.handbook.render import day, render
from generator.workings import standstill
from generator.workings.duties import DutyStudy
from generator.workings.falling_due import State, a_month_on
from generator.workings.standstill import Standstill
from generator.workings.stores import Supply
from generator.workings.upkeep import UpkeepStudy

_MONTHS_AHEAD = 6


def pages(desk: Desk) -> Iterator[Page]:
    """Due, upkeep and stores."""
    yield _due(desk)
    yield _upkeep(desk)
    yield _stores(desk)


def chart(drawing: Drawing, prefix: str) -> Markup:
    """A chart as a page holds it: its labels stay out of the search."""
    svg = to_svg(drawing, prefix, classes="chart")
    return Markup(svg.replace("<svg ", '<svg data-search-exclude="" ', 1))


# --- due ---------------------------------------------------------------------------------------


def _due(desk: Desk) -> Page:
    study = desk.studies.running.duties
    month = a_month_on(desk.as_of)
    groups = [
        (_("Overdue"), study.of(State.OVERDUE)),
        (_("Due by {day}").format(day=day(month)), study.of(State.MONTH)),
        (_("Later"), study.of(State.LATER)),
        (_("Nobody knows when"), study.of(State.UNDATED)),
    ]
    path = "running/due"
    body = render(
        "due",
        path,
        as_of=desk.as_of,
        sentence=_due_sentence(study, month),
        picture=chart(_months(study, desk.as_of), "months"),
        groups=[(title, rows) for title, rows in groups if rows],
        address=subject_address,
        renewed=[role for role in desk.shop.roles.values() if role.renew],
        checks=study.survey.checks,
    )
    return Page(path, _("Due"), "due", "RN-01", body)


def _due_sentence(study: DutyStudy, month: dt.date) -> str:
    overdue, soon = study.of(State.OVERDUE), study.of(State.MONTH)
    if overdue:
        longest = overdue[0]
        return ngettext(
            "{n} thing is overdue: {what}, since {day}. {soon} more fall due by {month}.",
            "{n} things are overdue, longest {what}, since {day}. {soon} more fall due by {month}.",
            len(overdue),
        ).format(
            n=len(overdue),
            what=longest.what,
            day=day(longest.due) if longest.due else "",
            soon=len(soon),
            month=day(month),
        )
    return _("Nothing is overdue. {soon} things fall due by {month}.").format(
        soon=len(soon), month=day(month)
    )


def _months(study: DutyStudy, as_of: dt.date) -> Drawing:
    """How much falls due in each of the coming months, what is overdue before them."""
    dues = [line.due for line in study.list if line.due and line.state is not State.OVERDUE]
    rows = [Column(_("late"), len(study.of(State.OVERDUE)), pressing=True)]
    for ahead in range(_MONTHS_AHEAD):
        year, month = divmod(as_of.year * 12 + as_of.month - 1 + ahead, 12)
        first = dt.date(year, month + 1, 1)
        count = sum((due.year, due.month) == (year, month + 1) for due in dues)
        rows.append(Column(format_date(first, "MMM", locale=locale()), count))
    said = ", ".join(f"{row.label} {row.count}" for row in rows)
    return counts.columns(rows, _("What falls due, by month"), said)


# --- upkeep ------------------------------------------------------------------------------------


def _upkeep(desk: Desk) -> Page:
    study = desk.studies.running.upkeep
    path = "running/upkeep"
    states = [
        (_("Overdue"), State.OVERDUE),
        (_("This month"), State.MONTH),
        (_("Later"), State.LATER),
        (_("Never logged"), State.UNDATED),
    ]
    rows = [(title, [t for t in study.tasks if t.state is state]) for title, state in states]
    body = render(
        "upkeep",
        path,
        shop=desk.shop,
        as_of=desk.as_of,
        sentence=_upkeep_sentence(study),
        picture=chart(_by_state(rows), "states"),
        groups=[(title, tasks) for title, tasks in rows if tasks],
        spares=[
            c for c in desk.shop.consumables.values() if c.kind in ("spare", "blade", "filter")
        ],
        out_of_use=study.out_of_use,
        out_now=standstill.out_now(desk.shop, desk.as_of),
        standstill_line=_standstill_line,
        unsigned=desk.unsigned,
        sheet_of=path_of_upkeep,
        with_sheets=list({t.machine.id: t.machine for t in study.tasks}.values()),
        findings=desk.of_survey(study.survey),
    )
    return Page(path, _("Upkeep"), "upkeep", "RN-02", body)


def _standstill_line(still: Standstill) -> str:
    """How much stops with a machine, in a line."""
    if still.stops_nothing:
        return _("nothing else that is written down stops")
    cold, idle = len(still.without_it), len(still.procedures)
    short, unmade = len(still.sessions), len(still.products)
    counts = (
        (cold, ngettext("{n} machine must stay cold", "{n} machines must stay cold", cold)),
        (idle, ngettext("{n} procedure is not done", "{n} procedures are not done", idle)),
        (short, ngettext("{n} session loses something", "{n} sessions lose something", short)),
        (unmade, ngettext("{n} product is not made", "{n} products are not made", unmade)),
    )
    return ", ".join(says.format(n=n) for n, says in counts if n)


def _by_state(rows: Sequence[tuple[str, Sequence[object]]]) -> Drawing:
    made = [Column(title, len(tasks), pressing=i == 0) for i, (title, tasks) in enumerate(rows)]
    said = ", ".join(f"{row.label} {row.count}" for row in made)
    return counts.columns(made, _("Upkeep by when it is due"), said)


def _upkeep_sentence(study: UpkeepStudy) -> str:
    late = [t for t in study.tasks if t.state is State.OVERDUE]
    if not late:
        return _("No upkeep is overdue.")
    machines = dict.fromkeys(str(t.machine.name) for t in late)
    return ngettext(
        "{n} piece of upkeep is overdue, on {machines}.",
        "{n} pieces of upkeep are overdue, on {machines}.",
        len(late),
    ).format(n=len(late), machines=", ".join(machines))


# --- stores ------------------------------------------------------------------------------------


def _stores(desk: Desk) -> Page:
    study = desk.studies.running.stores
    path = "running/stores"
    order = [s for s in study.supplies if s.packs]
    lasting = [s for s in study.supplies if s.runs_out][:12]
    body = render(
        "stores",
        path,
        shop=desk.shop,
        as_of=desk.as_of,
        sentence=_stores_sentence(order),
        picture=chart(_weeks_left(lasting, desk.as_of), "weeks") if lasting else "",
        order=order,
        out=desk.studies.running.loans.out,
        supplies=study.supplies,
        moulds=study.moulds,
        places=study.places,
        findings=(
            *desk.of_survey(desk.studies.running.loans.survey),
            *desk.of_survey(study.survey),
        ),
    )
    return Page(path, _("Stores"), "stores", "RN-03", body)


def _stores_sentence(order: Sequence[Supply]) -> str:
    if not order:
        return _("Nothing needs ordering.")
    names = ", ".join(str(s.consumable.name) for s in order)
    return ngettext(
        "{n} thing to order: {names}.", "{n} things to order: {names}.", len(order)
    ).format(n=len(order), names=names)


def _weeks_left(supplies: Sequence[Supply], as_of: dt.date) -> Drawing:
    """Days each lasts, against the days an order takes."""
    rows = [
        Lasting(
            str(s.consumable.name),
            days := (s.runs_out - as_of).days if s.runs_out else 0,
            s.consumable.lead_time_d,
            _("{n} days").format(n=days),
        )
        for s in supplies
    ]
    said = ", ".join(f"{row.label} {row.says}" for row in rows)
    return counts.lasting(rows, _("How long the stock lasts, with the time an order takes"), said)
