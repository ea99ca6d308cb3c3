"""Moulds and tools that left their place: what is out, since when, how much it worked, and how
it came back."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from typing import get_args

from generator.ground.finding import Finding, Severity
from generator.ground.survey import Survey, survey
from generator.ground.wording import _, day_words, ngettext
from generator.shop.records.logs import Loan
from generator.shop.records.material import Mould, Tool
from generator.shop.records.people import Session
from generator.shop.records.refs import Weekday
from generator.shop.shop import Shop

_LONG_D = 7
"""Days after which a thing without a day to be back is asked after [d]. An assumption."""


@dataclass(frozen=True, slots=True)
class Out:
    """A thing that is out: where it is, in words, and for how long [d]."""

    loan: Loan
    thing: Mould | Tool
    where: str
    days: int
    late: bool


@dataclass(frozen=True, slots=True)
class LoanStudy:
    """What is out on a day, the longest first, and every loan by what it was of, newest first."""

    out: tuple[Out, ...]
    survey: Survey


def study(shop: Shop, as_of: dt.date) -> LoanStudy:
    """Read the log of loans as it stands on a day.

    Parameters
    ----------
    shop
        The shop, with its log of loans.
    as_of
        The day; what is logged after it is not known yet.
    """
    out = tuple(sorted(_out(shop, as_of), key=lambda o: (-o.days, o.loan.origin)))
    found = [f for o in out for f in _of_out(shop, o)]
    found += [f for t in shop.tools.values() for f in _too_many(t, out)]
    found += [f for m in shop.moulds.values() for f in _damaged(shop, m, as_of)]
    checks = len(known_by(shop, as_of)) + len(shop.moulds)
    return LoanStudy(out, survey("loans", (), found, other_checks=checks))


def known_by(shop: Shop, as_of: dt.date) -> tuple[Loan, ...]:
    """The loans begun by a day, the newest first."""
    rows = (row for row in shop.logs.loans if row.out <= as_of)
    return tuple(sorted(rows, key=lambda r: (r.out, r.origin), reverse=True))


def of_mould(shop: Shop, mould: str, as_of: dt.date) -> tuple[Loan, ...]:
    """A mould's loans, the newest first."""
    return tuple(row for row in known_by(shop, as_of) if row.mould == mould)


def shots_by(shop: Shop, mould: Mould, as_of: dt.date) -> int:
    """A mould's shots: those counted, and those it made on loans that ended since."""
    if mould.counted is None:
        return mould.shots
    since = (
        row.shots
        for row in of_mould(shop, mould.id, as_of)
        if row.back is not None and mould.counted < row.back <= as_of
    )
    return mould.shots + sum(since)


def out_of(out: tuple[Out, ...], thing: Mould | Tool) -> int:
    """How many of a thing are out."""
    return sum(o.thing is thing for o in out)


def _out(shop: Shop, as_of: dt.date) -> Iterator[Out]:
    for row in known_by(shop, as_of):
        if row.back is None or row.back > as_of:
            thing = shop.moulds[row.mould] if row.mould else shop.tools[row.tool]
            late = row.until is not None and row.until < as_of
            yield Out(row, thing, where(shop, row), (as_of - row.out).days, late)


def where(shop: Shop, row: Loan) -> str:
    """Where a thing went, in words."""
    if row.contact:
        return str(shop.contacts[row.contact].name)
    if row.station:
        station = shop.stations[row.station]
        return f"{station.number} {station.name}"
    return _("nobody wrote where")


# --- what is found -----------------------------------------------------------------------------


def _of_out(shop: Shop, out: Out) -> Iterator[Finding]:
    facts = {"thing": out.thing.name, "day": day_words(out.loan.out), "where": out.where}
    mend = _("Fetch it, or write the day it came back under `back`.")
    if out.late and out.loan.until:
        says = _("{thing} was to be back on {until}. It has been out since {day}: {where}.")
        says = says.format(until=day_words(out.loan.until), **facts)
        yield _finding(out, "late", Severity.FIX, says, mend)
    elif out.loan.until is None and out.days > _LONG_D:
        says = ngettext(
            "{thing} has been out since {day}, {n} day: {where}.",
            "{thing} has been out since {day}, {n} days: {where}.",
            out.days,
        )
        yield _finding(out, "long", Severity.NOTE, says.format(n=out.days, **facts), mend)
    if out.loan.contact and out.loan.mould:
        yield from _missed(shop, out)


def _missed(shop: Shop, out: Out) -> Iterator[Finding]:
    """Sessions before it is back that need a mould which is outside the shop."""
    today = out.loan.out + dt.timedelta(days=out.days)
    sessions = [
        (day, session)
        for session in shop.sessions.values()
        if (day := next_day(session, today))
        and (out.late or out.loan.until is None or day <= out.loan.until)
        and _needs(shop, session, out.loan.mould)
    ]
    if sessions:
        named = ", ".join(f"{session.name} ({day_words(day)})" for day, session in sessions)
        says = _("{thing} is out of the shop ({where}), and these sessions need it: {sessions}.")
        says = says.format(thing=out.thing.name, where=out.where, sessions=named)
        mend = _("Have it back before the next of them, or take another mould.")
        yield _finding(out, "missed", Severity.FIX, says, mend)


def next_day(session: Session, today: dt.date) -> dt.date | None:
    """The day a session is held next, today included; None for one without a day to come."""
    if session.weekday is not None:
        ahead = get_args(Weekday).index(session.weekday) - today.weekday()
        return today + dt.timedelta(days=ahead % 7)
    return session.day if session.day and session.day >= today else None


def _needs(shop: Shop, session: Session, mould: str) -> bool:
    return any(
        mould in activity.moulds
        or (activity.makes and shop.products[activity.makes.product].mould == mould)
        for activity in session.activities.values()
    )


def _finding(out: Out, rule: str, severity: Severity, says: str, mend: str) -> Finding:
    noun = "moulds" if out.loan.mould else "tools"
    subject = f"{noun}/{out.thing.id}"
    return Finding(f"loans.{rule}", severity, out.loan.origin, says, mend, subject=subject)


def _too_many(tool: Tool, out: tuple[Out, ...]) -> Iterator[Finding]:
    gone = out_of(out, tool)
    if gone > tool.count:
        says = _("{n} of {tool} are out, and there are {count}.")
        says = says.format(n=gone, tool=tool.name, count=tool.count)
        mend = _("Write under `back` what came back, or count them anew.")
        last = next(o for o in out if o.thing is tool)
        yield _finding(last, "too-many", Severity.NOTE, says, mend)


def _damaged(shop: Shop, mould: Mould, as_of: dt.date) -> Iterator[Finding]:
    """A mould that came back damaged and whose record says nothing of it."""
    rows = (r for r in of_mould(shop, mould.id, as_of) if r.back and r.back <= as_of)
    row = next(rows, None)
    if row and row.back and row.came_back == "damaged" and not mould.damage:
        says = _("Mould “{mould}” came back damaged on {day}, and moulds.yml says nothing of it.")
        mend = _("Look at it, and write what is wrong under `damage`.")
        yield Finding(
            "loans.damaged",
            Severity.FIX,
            row.origin,
            says.format(mould=mould.name, day=day_words(row.back)),
            mend,
            subject=f"moulds/{mould.id}",
        )
