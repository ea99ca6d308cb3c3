"""The calendar of what is due, and the pages that tell it."""

from __future__ import annotations

import datetime as dt
import re
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from generator.handbook import book, calendar
from generator.handbook.page import Book
from tests.small import shop_with

AS_OF = dt.date(2026, 3, 10)
DUTIES = """
late: {name: 'Extinguishers; doors, and a name so long that its line in the file must be folded'
  , every: 1 year, last: 2025-03-09, note: Ärger}
open: {name: Open, every: 1 year}
"""


def made(folder: Path) -> Book:
    return book.make(shop_with(folder, duties=DUTIES), AS_OF, "en")


def lines(content: bytes) -> list[str]:
    """Content lines unfolded, each of at most 75 octets as written."""
    assert content.endswith(b"\r\n")
    assert b"\n" not in content.replace(b"\r\n", b"")
    assert max(map(len, content.split(b"\r\n"))) <= 75
    return content.decode().replace("\r\n ", "").split("\r\n")


def test_the_calendar_holds_every_date_and_no_other(tmp_path: Path) -> None:
    content = next(a.content for a in made(tmp_path).assets if a.path == calendar.PATH)
    rows = lines(content)
    assert rows[0] == "BEGIN:VCALENDAR"
    assert rows[-2:] == ["END:VCALENDAR", ""]
    assert rows.count("BEGIN:VEVENT") == 1
    assert "DTSTART;VALUE=DATE:20260309" in rows
    assert "DTSTAMP:20260310T000000Z" in rows
    assert any(row.startswith("SUMMARY:Extinguishers\\; doors\\, and") for row in rows)
    assert "DESCRIPTION:Every 1 year. Last on 2025-03-09. Ärger" in rows
    assert len([row for row in rows if re.fullmatch(r"UID:[0-9a-f]{24}@benchleaf", row)]) == 1


@given(st.text(st.characters(codec="utf-8", exclude_characters="\r\n"), max_size=200))
def test_folding_loses_nothing_and_cuts_no_character(text: str) -> None:
    folded = calendar.folded("X:" + text).encode()
    assert lines(folded)[0] == "X:" + text


def test_the_due_page_opens_with_what_is_overdue(tmp_path: Path) -> None:
    (page,) = [p for p in made(tmp_path).pages if p.path == "running/due"]
    head = page.body.split("## ")[0]
    assert "1 thing is overdue" in head
    assert "9 March 2026" in head
    assert page.body.index("## Overdue") < page.body.index("## Nobody knows when")
