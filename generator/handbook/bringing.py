"""Bringing plastic: what a person at the door reads, in a donor's words, on one sheet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from generator.ground.wording import _
from generator.handbook.desk import Desk
from generator.handbook.page import Page
from generator.handbook.render import day, render
from generator.handbook.words import word
from generator.shop.records.people import ClosedDays
from generator.workings.bringing import ANSWERS

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
        closed=closings(desk),
        **donor(desk),
        unsure=door.unsure,
    )
    yield Page(BRINGING, _("Bringing plastic"), "bringing", "ML-10", body)


def donor(desk: Desk) -> dict[str, Any]:
    """What a donor meets on the front page and on the sheet: each answer, and whom to ask."""
    door = desk.studies.bringing
    lead = desk.shop.roles.get(desk.shop.shop.lead or "")
    ask = _("Ask for the {role}.").format(role=str(lead.name).lower()) if lead else ""
    answers: dict[str, Any] = {kind: list(door.lines(kind)) for kind in ANSWERS}
    return {**answers, "ask": ask}


def closings(desk: Desk) -> list[str]:
    """The days without a door in the weeks to come, in words."""
    return [_closing(days) for days in desk.studies.bringing.closed()]


def _closing(days: ClosedDays) -> str:
    says = _("Shut from {first} to {last}: {why}")
    return says.format(first=day(days.from_), last=day(days.to), why=days.why)
