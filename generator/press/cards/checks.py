"""Check sheets: opening and closing, and one a machine for its upkeep."""

from __future__ import annotations

from collections.abc import Iterator

from generator.drawings.words import word
from generator.ground.wording import _, ngettext
from generator.press.cards import blocks
from generator.press.cards.blocks import Block, Card, Pictures, as_sheet
from generator.press.order import Order
from generator.press.sheet import Sheet
from generator.workings import checksheets
from generator.workings.checksheets import UpkeepSheet

KIND = "check"


def sheets(order: Order) -> Iterator[Sheet]:
    """Opening, closing, then what a maintainer takes to each machine."""
    running = order.studies.running
    days = (
        (checksheets.opening(running), "CK-01", _("Opening")),
        (checksheets.closing(running), "CK-02", _("Closing")),
    )
    for sheet, number, title in days:
        yield as_sheet(order, _day(sheet, number, title))
    by_machine = {sheet.machine.id: sheet for sheet in checksheets.upkeep(running)}
    for n, id_ in enumerate(order.shop.machines, 1):
        if id_ in by_machine:
            yield as_sheet(order, _upkeep(order, by_machine[id_], f"UK-{n:02d}"))


def _day(sheet: checksheets.Sheet, number: str, title: str) -> Card:
    lines = ngettext("{n} line to tick.", "{n} lines to tick.", sheet.count)
    return Card(
        id=f"check-{sheet.kind}",
        kind=KIND,
        number=number,
        label=_("Check sheet"),
        title=title,
        says=lines.format(n=sheet.count),
        blocks=[
            *(
                blocks.ticks(section.title, ((x.do, x.expects) for x in section.lines))
                for section in sheet.sections
            ),
            blocks.blanks(_("function"), _("date and time"), _("initials")),
        ],
        pictures=Pictures(),
        about=("room",),
        hangs=_("on the clipboard by the way in"),
        size=3.0,
    )


def _upkeep(order: Order, sheet: UpkeepSheet, number: str) -> Card:
    machine, pictures = sheet.machine, Pictures()
    station = order.shop.stations[machine.station]
    return Card(
        id=f"upkeep-{machine.id}",
        kind=KIND,
        number=number,
        label=_("Upkeep sheet"),
        title=str(machine.name),
        says="",
        blocks=[*_locked(pictures, sheet), _tasks(sheet), *_takes(sheet),
                blocks.blanks(_("function"), _("date and time"), _("initials"))],
        pictures=pictures,
        about=(f"machines/{machine.id}", f"stations/{station.id}"),
        hangs=_("taken along to station {number}").format(number=station.number),
        badge=str(station.number),
        named=_("Upkeep: {machine}").format(machine=machine.name),
    )  # fmt: skip


def _locked(pictures: Pictures, sheet: UpkeepSheet) -> Iterator[Block]:
    if sheet.lock_out:
        yield blocks.wear(pictures, "", ["M021"])
        yield blocks.ticks(_("Lock it off"), ((step, "") for step in sheet.lock_out))


def _tasks(sheet: UpkeepSheet) -> Block:
    rows = (
        (
            str(t.task.what),
            _("every {period}, {who}").format(period=t.task.every, who=word(t.task.who)),
        )
        for t in sheet.tasks
    )
    return blocks.ticks(_("To do"), rows)


def _takes(sheet: UpkeepSheet) -> Iterator[Block]:
    yield blocks.facts(
        (_("Isolator"), ", ".join(str(e.name) for e in sheet.isolators)),
        (_("Parts"), ", ".join(str(c.name) for c in sheet.parts)),
        (_("Tools"), ", ".join(str(t.name) for t in sheet.tools)),
    )
