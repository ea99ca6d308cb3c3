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
    """The foot in its box: shop, sheet, date and hash, each in a share of it.

    Where they do not all stand in their shares, the shop's name gives way: a sheet is known to be
    current by its date and hash.
    """
    x, y, width, height = box
    base = y + (height + size * ASCENT) / 2
    items: list[Item] = []
    for (text, bold), room in zip(_words(foot), _rooms(foot, width, size), strict=True):
        shown = type.shorten(text, size, room - size * 0.6, bold)
        colour, own = "ink" if bold else "ink-soft", (x, y, room - size * 0.6, height)
        items.append(Label(x, base, shown, size, bold, colour=colour, box=own))
        x += room
    return tuple(items)


_SHARES = (0.34, 0.16, 0.24, 0.26)


def _words(foot: Foot) -> tuple[tuple[str, bool], ...]:
    return (
        (foot.shop, True),
        (_("sheet {number}").format(number=foot.number), False),
        (_("data as of {day}").format(day=foot.as_of), False),
        (_("content {hash}").format(hash=foot.fingerprint), False),
    )


def _rooms(foot: Foot, width: float, size: float) -> tuple[float, ...]:
    """How wide each part is, with the gap after it."""
    needed = [type.width(text, size, bold) + size * 0.7 for text, bold in _words(foot)]
    shared = [width * share for share in _SHARES]
    if all(need <= share for need, share in zip(needed[1:], shared[1:], strict=True)):
        return tuple(shared)
    return max(width - sum(needed[1:]), size * 2), *needed[1:]
