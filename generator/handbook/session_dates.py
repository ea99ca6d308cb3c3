"""On which days a session is held, and its calendar file (RFC 5545)."""

from __future__ import annotations

import datetime as dt
import hashlib
from collections.abc import Iterator
from typing import get_args
from zoneinfo import ZoneInfo

from generator.ground.wording import _
from generator.handbook.calendar import escaped, folded
from generator.handbook.desk import Desk
from generator.handbook.page import Asset
from generator.shop.records.people import Session
from generator.shop.records.refs import Weekday
from generator.shop.shop import Shop
from generator.workings.sessions import SessionStudy, clock
from generator.workings.sessions.runsheet import RunLine, run_sheet

_WEEKS = 13
"""How far ahead a weekly session is entered: a quarter of a year."""
_WEEKDAYS: tuple[str, ...] = get_args(Weekday)


def dates(shop: Shop, session: Session, as_of: dt.date) -> Iterator[dt.date]:
    """The days on which a session is held from a date on, none on which the shop is closed."""
    if session.day:
        yield session.day
        return
    if not session.weekday:
        return
    ahead = (_WEEKDAYS.index(session.weekday) - as_of.weekday()) % 7
    for week in range(_WEEKS):
        date = as_of + dt.timedelta(days=ahead + 7 * week)
        if not any(closed.from_ <= date <= closed.to for closed in shop.hours.closed):
            yield date


def asset(desk: Desk, study: SessionStudy) -> Asset:
    """A session's calendar: an event a day, with the run sheet in it, in universal time.

    Each day is an event of its own, so that neither closed days nor a change of the clocks has to
    be said by a rule that calendars read differently.
    """
    shop, session = desk.shop, study.session
    lines = run_sheet(study, shop)
    events = [_event(desk, study, lines, date) for date in dates(shop, session, desk.as_of)]
    rows = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//benchleaf//handbook//EN",
        "CALSCALE:GREGORIAN",
        "METHOD:PUBLISH",
        f"NAME:{escaped(str(session.name))}",
        *(row for event in events for row in event),
        "END:VCALENDAR",
    ]
    return Asset(f"sessions/{session.id}.ics", "".join(map(folded, rows)).encode())


def _event(
    desk: Desk, study: SessionStudy, lines: tuple[RunLine, ...], date: dt.date
) -> Iterator[str]:
    session, shop = study.session, desk.shop
    key = hashlib.sha256(f"{shop.shop.name}\n{session.id}\n{date}".encode()).hexdigest()[:24]
    said = "\n".join([str(session.for_), *(f"{line.clock} {line.says}" for line in lines)])
    yield "BEGIN:VEVENT"
    yield f"UID:{key}@benchleaf"
    yield f"DTSTAMP:{desk.as_of:%Y%m%d}T000000Z"
    yield f"DTSTART:{_stamp(shop, date, study.arrival.start_min)}"
    yield f"DTEND:{_stamp(shop, date, study.tidy.end_min)}"
    yield f"SUMMARY:{escaped(str(session.name))}"
    yield f"LOCATION:{escaped(str(shop.shop.address))}"
    yield f"DESCRIPTION:{escaped(said)}"
    yield from _alarm(study, lines)
    yield "END:VEVENT"


def _alarm(study: SessionStudy, lines: tuple[RunLine, ...]) -> Iterator[str]:
    """A reminder where something is switched on before the doors open."""
    first = lines[0]
    ahead = study.arrival.start_min - first.minute
    if ahead > 0:
        yield "BEGIN:VALARM"
        yield "ACTION:DISPLAY"
        yield f"TRIGGER:-PT{ahead}M"
        said = _("{time} {what}").format(time=clock(first.minute), what=first.says)
        yield f"DESCRIPTION:{escaped(said)}"
        yield "END:VALARM"


def _stamp(shop: Shop, date: dt.date, minute: int) -> str:
    """A minute of a day in universal time; the shop's own time zone says which that is."""
    local = dt.datetime.combine(date, dt.time(), ZoneInfo(shop.shop.time_zone))
    moment = (local + dt.timedelta(minutes=minute)).astimezone(dt.UTC)
    return f"{moment:%Y%m%dT%H%M%SZ}"
