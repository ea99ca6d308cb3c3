"""What falls due as one calendar file that any calendar takes (RFC 5545)."""

from __future__ import annotations

import datetime as dt
import hashlib
from collections.abc import Iterable, Iterator

from generator.ground.wording import _
from generator.handbook.page import Asset
from generator.workings.duties import Due

PATH = "data/due.ics"
_OCTETS = 75
"""What a line may hold before it is folded, without its break."""


def asset(shop_name: str, as_of: dt.date, lines: Iterable[Due]) -> Asset:
    """The calendar of everything that has a date; the same for the same three, to the byte."""
    made = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        "PRODID:-//benchleaf//handbook//EN",
        "CALSCALE:GREGORIAN",
        "METHOD:PUBLISH",
        f"NAME:{escaped(shop_name)}",
        *(row for line in lines if line.due for row in _event(shop_name, as_of, line, line.due)),
        "END:VCALENDAR",
    ]
    return Asset(PATH, "".join(map(folded, made)).encode())


def _event(shop_name: str, as_of: dt.date, line: Due, due: dt.date) -> Iterator[str]:
    key = hashlib.sha256(f"{shop_name}\n{line.id}".encode()).hexdigest()[:24]
    yield "BEGIN:VEVENT"
    yield f"UID:{key}@benchleaf"
    yield f"DTSTAMP:{as_of:%Y%m%d}T000000Z"
    yield f"DTSTART;VALUE=DATE:{due:%Y%m%d}"
    yield f"SUMMARY:{escaped(line.what)}"
    if said := ". ".join(_said(line)):
        yield f"DESCRIPTION:{escaped(said)}"
    yield "TRANSP:TRANSPARENT"
    yield "END:VEVENT"


def _said(line: Due) -> Iterator[str]:
    if line.who:
        yield _("By {who}").format(who=line.who)
    if line.every:
        yield _("Every {period}").format(period=line.every)
    if line.last:
        yield _("Last on {day}").format(day=line.last.isoformat())
    if line.note:
        yield line.note.rstrip(".")


def escaped(text: str) -> str:
    """Text as a property value holds it; what a calendar cannot carry is left out."""
    for mark in ("\\", ";", ","):
        text = text.replace(mark, "\\" + mark)
    text = text.replace("\r\n", "\n").replace("\n", "\\n")
    return "".join(c for c in text if c.isprintable() or c == "\t")


def folded(line: str) -> str:
    """A content line with its break, folded between characters after 75 octets."""
    rows, row, room = [], "", _OCTETS
    for char in line:
        octets = len(char.encode())
        if octets > room:
            rows.append(row)
            row, room = "", _OCTETS - 1  # the space that leads a folded line counts
        row += char
        room -= octets
    return "\r\n ".join([*rows, row]) + "\r\n"
