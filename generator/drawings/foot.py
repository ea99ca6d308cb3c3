"""The line at the foot of every sheet: whose it is, which it is, and from which data."""

from __future__ import annotations

from dataclasses import dataclass

from generator.drawings import type
from generator.drawings.ink import Box, Item, Label
from generator.drawings.type import ASCENT
from generator.ground.wording import _

_SHOWN_HASH = 16


@dataclass(frozen=True, slots=True)
class Foot:
    """What a sheet says about itself.

    ``number`` is the sheet's own (``CA-04``), ``as_of`` the date its data was told against,
    ``content`` a hash of that data.
    """

    shop: str
    number: str
    as_of: str
    content: str

    @property
    def fingerprint(self) -> str:
        """The beginning of the hash in groups of four, to be read aloud."""
        short = self.content[:_SHOWN_HASH]
        return " ".join(short[i : i + 4] for i in range(0, len(short), 4))


def draw(foot: Foot, box: Box, size: float) -> tuple[Item, ...]:
    """The foot in its box: shop, sheet, date and hash, each in a share of it."""
    x, y, width, height = box
    base = y + (height + size * ASCENT) / 2
    words = (
        (foot.shop, 0.34, True),
        (_("sheet {number}").format(number=foot.number), 0.16, False),
        (_("data as of {day}").format(day=foot.as_of), 0.24, False),
        (_("content {hash}").format(hash=foot.fingerprint), 0.26, False),
    )
    items: list[Item] = []
    for text, share, bold in words:
        room = width * share - size * 0.6
        shown = type.shorten(text, size, room, bold)
        colour = "ink" if bold else "ink-soft"
        items.append(Label(x, base, shown, size, bold, colour=colour, box=(x, y, room, height)))
        x += width * share
    return tuple(items)
