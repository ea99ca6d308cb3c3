"""A column that is filled from the top: text broken by real metrics, rules and gaps between."""

from __future__ import annotations

from generator.drawings import type
from generator.drawings.ink import Item, Label, Line, Pen, Point, Rect
from generator.drawings.type import ASCENT, LEADING


class Column:
    """Fills a strip of a sheet: ``y`` is how far down it has come, ``cut`` if text was lost."""

    def __init__(self, x: float, y: float, width: float) -> None:
        self.x, self.y, self.width = x, y, width
        self.items: list[Item] = []
        self.cut = False

    def gap(self, height: float) -> None:
        """Leave some paper white."""
        self.y += height

    def add(self, *items: Item) -> None:
        """Items that already know their places."""
        self.items += items

    def text(
        self,
        text: str,
        size: float,
        *,
        bold: bool = False,
        colour: str = "ink",
        most: int = 0,
        indent: float = 0.0,
        width: float = 0.0,
    ) -> float:
        """Set text from here down, in at most ``most`` lines; returns its height."""
        room = width or self.width - indent
        fitted = type.fit(text, size, room, most, bold)
        self.cut |= fitted.cut
        self.items += lines(
            fitted.lines, (self.x + indent, self.y), room, size, bold=bold, colour=colour
        )
        self.y += fitted.height
        return fitted.height

    def rule(self, width: float, colour: str = "line-strong", over: float = 0.0) -> None:
        """A line across."""
        ends = (self.x - over, self.y), (self.x + self.width + over, self.y)
        self.items.append(Line(*ends, Pen(stroke=colour, width=width)))

    def heading(self, text: str, size: float, aside: str = "", small: float = 3.0) -> None:
        """A heading with a few soft words after it, on the same line where they fit."""
        top, wide = self.y, type.width(text, size, bold=True)
        self.text(text, size, bold=True)
        room = self.width - wide - size * 0.8
        if aside and type.width(aside, small) <= room:
            base = top + size * (LEADING + ASCENT) / 2
            box = (self.x + wide + size * 0.8, top, room, size * LEADING)
            self.items.append(Label(box[0], base, aside, small, colour="ink-soft", box=box))
        elif aside:
            self.text(aside, small, colour="ink-soft")


def lines(
    texts: tuple[str, ...],
    at: Point,
    width: float,
    size: float,
    *,
    bold: bool = False,
    colour: str = "ink",
    anchor: str = "start",
) -> list[Item]:
    """Lines of text from a corner down, each in its own box."""
    pitch = size * LEADING
    x = at[0] + {"start": 0.0, "middle": width / 2, "end": width}[anchor]
    return [
        Label(
            x,
            at[1] + i * pitch + (pitch + size * ASCENT) / 2,
            text,
            size,
            bold=bold,
            anchor=anchor,
            colour=colour,
            box=(at[0], at[1] + i * pitch, width, pitch),
        )
        for i, text in enumerate(texts)
    ]


def reversed_band(x: float, y: float, width: float, height: float) -> Rect:
    """A solid band of ink, for what must not be passed over."""
    return Rect(x, y, width, height, Pen("ink"))
