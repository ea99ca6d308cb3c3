"""Bringing plastic: what a person at the door reads, in a donor's words, on one sheet."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ground.wording import _
from generator.handbook.desk import Desk
from generator.handbook.page import Page
from generator.handbook.render import day, render
from generator.handbook.words import word
from generator.shop.records.people import ClosedDays

BRINGING = "material/bringing"


def pages(desk: Desk) -> Iterator[Page]:
    """The donor's sheet."""
    door = desk.studies.bringing
    body = render(
        "bringing",
        BRINGING,
        shop=desk.shop,
        sentence=door.sentence,
        days=[(word(weekday), hours) for weekday, hours in door.days()],
        closed=[_closing(days) for days in door.closed()],
        taken=list(door.lines("taken")),
        paused=list(door.lines("paused")),
        refused=list(door.lines("refused")),
        unsure=door.unsure,
    )
    yield Page(BRINGING, _("Bringing plastic"), "bringing", "ML-10", body)


def _closing(days: ClosedDays) -> str:
    says = _("Shut from {first} to {last}: {why}")
    return says.format(first=day(days.from_), last=day(days.to), why=days.why)
