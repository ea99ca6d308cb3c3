"""The one way from a shop to its handbook: every page, every file and a short navigation."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator

from generator.ground.wording import _, use
from generator.handbook import (
    assessment,
    batches,
    bench,
    bringing,
    calendar,
    cards,
    checking,
    costs,
    data,
    door,
    glossary,
    keeping_apart,
    lead,
    leaving,
    machines,
    made,
    making,
    material,
    onboarding,
    photos,
    print_room,
    questions,
    room,
    running,
    session_files,
    sessions,
    stages,
    stations,
    storage,
    today,
    week,
    work,
)
from generator.handbook.desk import Desk
from generator.handbook.page import Asset, Book, Entry, Page
from generator.handbook.print_room import Printing, PrintRoom
from generator.handbook.render import day
from generator.shop.shop import Shop
from generator.workings.for_readers import for_readers


def make(shop: Shop, as_of: dt.date, language: str, printing: Printing | None = None) -> Book:
    """Make a shop's handbook.

    Parameters
    ----------
    shop
        The shop, read without a data fault. What its logs say in own words goes no further.
    as_of
        The date that whatever falls due is told against.
    language
        The language of fixed strings and of the shop's own text.
    printing
        How its sheets are printed; without it there are none.

    Returns
    -------
    Book
        The same for the same shop, date, language and printing, to the byte.
    """
    with use(language):
        desk = Desk(for_readers(shop), as_of)
        prints = PrintRoom(desk, printing) if printing else None
        pages = (*_pages(desk), prints.page() if prints else print_room.switched_off())
        pages = (*pages, glossary.glossary(pages))
        return Book(
            shop_name=str(shop.shop.name),
            as_of=as_of.isoformat(),
            as_of_words=day(as_of),
            pages=pages,
            assets=tuple(_assets(desk, prints)),
            navigation=_navigation(),
            findings=desk.findings,
        )


def _assets(desk: Desk, prints: PrintRoom | None) -> Iterator[Asset]:
    yield desk.plans.sheet()
    yield from data.assets(desk)
    yield from photos.assets(desk)
    yield _calendar(desk)
    yield from session_files.assets(desk)
    if prints:
        yield from prints.assets()


def _pages(desk: Desk) -> Iterator[Page]:
    yield from door.pages(desk)
    yield from stations.pages(desk)
    yield from room.pages(desk)
    yield from machines.pages(desk)
    yield from material.pages(desk)
    yield from bringing.pages(desk)
    yield from week.pages(desk)
    yield from storage.pages(desk)
    yield from batches.pages(desk)
    yield from today.pages(desk)
    yield from making.pages(desk)
    yield bench.page(desk)
    yield from keeping_apart.pages(desk)
    yield from work.procedures(desk)
    yield from work.people(desk)
    yield from onboarding.pages(desk)
    yield work.hazards(desk)
    yield assessment.page(desk)
    yield from running.pages(desk)
    yield from checking.pages(desk)
    yield from sessions.pages(desk)
    yield from costs.pages(desk)
    yield from leaving.pages(desk)
    yield from stages.pages(desk)
    yield made.page(desk)
    yield lead.findings(desk)
    yield from questions.pages(desk)
    yield from cards.pages(desk)


_ROOM = ("floor", "power", "air", "noise", "loads", "signs")

_MATERIAL = (
    "index", "week", "today", "storage", "batches", "bench", "matrix", "trials", "faults",
    "telling-apart", "purity",
)  # fmt: skip

_RUNNING = ("opening", "closing", "due", "upkeep", "stores", "costs", "waste", "stages", "made")


def _calendar(desk: Desk) -> Asset:
    lines = desk.studies.running.duties.list
    return calendar.asset(str(desk.shop.shop.name), desk.as_of, lines)


def _navigation() -> tuple[Entry, ...]:
    return (
        Entry(_("The door"), ("index.md",)),
        Entry(_("Room"), tuple(f"room/{name}.md" for name in _ROOM)),
        Entry(_("Stations"), ("stations/index.md",)),
        Entry(_("Material"), tuple(f"material/{name}.md" for name in _MATERIAL)),
        Entry(_("Procedures"), ("procedures/index.md",)),
        Entry(_("People"), ("people/index.md",)),
        Entry(_("Running"), tuple(f"running/{name}.md" for name in _RUNNING)),
        Entry(_("Sessions"), ("sessions/index.md",)),
        Entry(_("Print room"), (f"{print_room.PATH}.md",)),
        Entry(
            _("This shop"),
            ("findings.md", "questions/index.md", "hazards.md", "glossary.md"),
            takes_hand_written=True,
        ),
    )
