"""The donor's sheet, for the door: what is taken now, when, and what never."""

from __future__ import annotations

from collections.abc import Iterator

from babel.dates import format_date, get_day_names

from generator.ground.wording import _, locale
from generator.press.cards import blocks
from generator.press.cards.blocks import Block, Card, Pictures, as_sheet
from generator.press.order import Order
from generator.press.sheet import Plain, Sheet
from generator.shop.records.people import ClosedDays
from generator.workings.bringing import Answer, Line

KIND = "donor"

_WEEK = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


def sheets(order: Order) -> Iterator[Sheet]:
    """One sheet, for the door and to take home."""
    door, pictures = order.studies.bringing, Pictures()
    yield as_sheet(order, Card(
        id="donor-sheet",
        kind=KIND,
        number="DN-01",
        label=str(order.shop.shop.name),
        title=_("Bringing plastic"),
        says=door.sentence,
        blocks=[
            blocks.facts(*((_day(day), hours) for day, hours in door.days())),
            *(blocks.band(_closing(days)) for days in door.closed()),
            *_answers(order, pictures),
            blocks.listed(_("Not sure what it is?"), [door.unsure]),
        ],
        pictures=pictures,
        about=("room",),
        hangs=_("outside, by the way in"),
        named=_("Donor's sheet"),
    ))  # fmt: skip


def _day(weekday: str) -> str:
    names = get_day_names("wide", locale=locale())
    return str(names[_WEEK.index(weekday)])


def _closing(days: ClosedDays) -> str:
    first, last = (format_date(d, format="long", locale=locale()) for d in (days.from_, days.to))
    return _("Shut from {first} to {last}: {why}").format(first=first, last=last, why=days.why)


def _answers(order: Order, pictures: Pictures) -> Iterator[Block]:
    titles: dict[Answer, str] = {
        "taken": _("Yes, please"), "paused": _("Not now"), "refused": _("No, never"),
    }  # fmt: skip
    for kind, title in titles.items():
        rows = [_row(line, pictures) for line in order.studies.bringing.lines(kind)]
        if rows:
            yield blocks.pictured(title, rows)


def _row(line: Line, pictures: Pictures) -> tuple[Plain, str, str]:
    what = line.examples or str(line.polymer.name)
    named = str(line.polymer.name) if line.examples else ""
    return (
        pictures.mark(line.polymer),
        what,
        ". ".join(part.rstrip(".") for part in (named, line.number, line.says) if part),
    )
