"""The print room: every sheet, how it looks, where it hangs, and whether what hangs is current."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from generator.ground.wording import _, current_language, ngettext
from generator.handbook.desk import Desk
from generator.handbook.page import Asset, Page
from generator.handbook.render import render
from generator.press import printed
from generator.press.batches import Batch, batches
from generator.press.cache import Cache
from generator.press.choosing import Choosing
from generator.press.engine import Press
from generator.press.order import Order, with_slash
from generator.press.printed import PrintState
from generator.press.sheet import Sheet

PATH = "print/index"
_NUMBER = "PR-01"


@dataclass(frozen=True)
class Printing:
    """How a handbook's sheets are printed.

    ``address`` is where the handbook is published, for QR codes; ``cache`` the folder of what was
    set before; ``marked`` asks for artwork over the edge and marks to cut along.
    """

    address: str = ""
    cache: Path | None = None
    marked: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """A sheet as the page lists it."""

    sheet: Sheet
    state: PrintState
    tags: tuple[str, ...]

    @property
    def file(self) -> str:
        """Its PDF, from the page."""
        return f"{self.sheet.id}.pdf"

    @property
    def picture(self) -> str:
        """Its thumbnail, from the page."""
        return f"thumbnails/{self.sheet.thumbnail}"


class PrintRoom:
    """Every sheet of one handbook, set once for its page and its files."""

    def __init__(self, desk: Desk, printing: Printing) -> None:
        self.desk = desk
        address = with_slash(desk.shop.shop.site_address or printing.address)
        self.order = Order(desk.studies, current_language(), address)
        cache = Cache(printing.cache) if printing.cache else None
        self.press = Press(str(desk.shop.shop.name), desk.as_of, printing.marked, cache)

    @cached_property
    def batches(self) -> tuple[Batch, ...]:
        """Every kind of sheet."""
        return batches(self.order, self.press)

    @cached_property
    def sheets(self) -> tuple[Sheet, ...]:
        """Every sheet, kind by kind."""
        return tuple(sheet for batch in self.batches for sheet in batch.sheets)

    @cached_property
    def rows(self) -> tuple[Row, ...]:
        """Every sheet with its state and what it is chosen by."""
        states = printed.states(self.sheets, self.desk.shop.logs.printed)
        choosing = Choosing(self.order)
        return tuple(Row(s, states[s.id], choosing.tags(s)) for s in self.sheets)

    def page(self) -> Page:
        """The print room's page: packs first, then every sheet."""
        rows = self.rows
        body = render(
            "print-room",
            PATH,
            sentence=_sentence(rows),
            address=self.order.address,
            batches=self.batches,
            groups=[(b.title, [r for r in rows if r.sheet.kind == b.kind]) for b in self.batches],
            choices=Choosing(self.order).choices(self.sheets),
            nouns={"stations": _("station"), "stages": _("stage"), "sessions": _("session"),
                   "walls": _("wall")},
        )  # fmt: skip
        return Page(PATH, _("Print room"), "print-room", _NUMBER, body)

    def assets(self) -> Iterator[Asset]:
        """A PDF and a thumbnail a sheet, and a bound pack of each kind."""
        for batch in self.batches:
            yield from (Asset(f"print/{name}", made) for name, made in batch.files())
        if self.press.cache:
            self.press.cache.sweep()


def _sentence(rows: tuple[Row, ...]) -> str:
    changed = sum(row.state.word == "changed" for row in rows)
    never = sum(row.state.word == "never" for row in rows)
    says = [ngettext("{n} sheet.", "{n} sheets.", len(rows)).format(n=len(rows))]
    if changed:
        says.append(
            ngettext("{n} has changed since it was printed.",
                     "{n} have changed since they were printed.", changed).format(n=changed)
        )  # fmt: skip
    if never:
        says.append(ngettext("{n} was never printed.", "{n} were never printed.", never)
                    .format(n=never))  # fmt: skip
    if not changed and not never:
        says.append(_("All that hangs is as the handbook says."))
    return " ".join(says)


def switched_off() -> Page:
    """The page where printing is switched off in the site's settings."""
    body = render("print-off", PATH)
    return Page(PATH, _("Print room"), "print-room", _NUMBER, body)
