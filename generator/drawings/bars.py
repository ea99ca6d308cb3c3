"""Bars from nothing, each held against its own limit on one scale that they all share."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shapely import box as area_box

from generator.drawings import type
from generator.drawings.axes import Axis, axis
from generator.drawings.column import lines
from generator.drawings.hatching import hatched
from generator.drawings.ink import Drawing, Item, Line, Path, Pen, Rect, path_of
from generator.drawings.type import ASCENT

_TEXT, _SMALL = 14.0, 12.5
_BAR = 15.0
_GAP = 12.0


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar.

    ``parts`` are stacked from nothing, ``shown`` says what they come to. ``most`` is what it
    may be beyond that, drawn open. ``limit`` is what it is held against, None for nothing.
    ``note`` is a smaller line under it.
    """

    name: str
    parts: tuple[float, ...]
    shown: str
    limit: float | None = None
    most: float = 0.0
    note: str = ""

    @property
    def value(self) -> float:
        return sum(self.parts)

    @property
    def over(self) -> bool:
        return self.limit is not None and self.value > self.limit * (1 + 1e-9)

    @property
    def reach(self) -> float:
        return max(self.value, self.most, self.limit or 0.0)


@dataclass(frozen=True, slots=True)
class Chart:
    """Bars under one title, in one unit."""

    title: str
    unit: str
    bars: tuple[Bar, ...]

    @property
    def says(self) -> str:
        """The bars in words, for whoever does not see them."""
        return "; ".join(f"{bar.name}: {bar.shown}" for bar in self.bars)


def wide(chart: Chart, width: float = 760) -> Drawing:
    """Bars with their names before them."""
    names = min(max(type.width(b.name, _TEXT) for b in chart.bars) + 2, width * 0.34)
    shown = max(type.width(b.shown, _TEXT, True) for b in chart.bars) + 2
    return _drawn(chart, width, (names + 14, width - shown - 16), beside=True)


def phone(chart: Chart, width: float = 350) -> Drawing:
    """Bars drawn again for a phone, with their names over them."""
    return _drawn(chart, width, (2.0, width - 10.0), beside=False)


def _drawn(chart: Chart, width: float, ends: tuple[float, float], *, beside: bool) -> Drawing:
    most = max(bar.reach for bar in chart.bars) or 1.0
    scale = axis(most, *ends, room=64.0)
    items: list[Item] = []
    y = 4.0
    for bar in chart.bars:
        drawn, y = _row(bar, scale, width, y, beside=beside)
        items += drawn
    labels, height = _figures(scale, chart.unit, y, width)
    return Drawing(width, height, (*items, *labels), chart.title, chart.says)


def _row(
    bar: Bar, scale: Axis, width: float, y: float, *, beside: bool
) -> tuple[list[Item], float]:
    """A bar with its words; ``beside`` sets the name before it, else over it."""
    items, top = (_named_beside if beside else _named_over)(bar, scale, width, y)
    items += [_grid(scale, top), *_bar(bar, scale, top)]
    end, room = top + _BAR, scale.end - scale.start
    if bar.note:
        note = type.fit(bar.note, _SMALL, room, 3)
        items += lines(note.lines, (scale.start, end + 3), room, _SMALL, colour="ink-soft")
        end += note.height + 3
    if beside:
        end = max(end, y + _name(bar, scale.start - 14).height)
    return items, end + _GAP


def _name(bar: Bar, room: float) -> type.Fit:
    return type.fit(bar.name, _TEXT, room, 2)


def _named_beside(bar: Bar, scale: Axis, width: float, y: float) -> tuple[list[Item], float]:
    room, top = scale.start - 14, y + (_BAR - _TEXT * type.LEADING) / 2
    items = lines(_name(bar, room).lines, (0, top), room, _TEXT)
    left = scale.end + 14
    items += _shown(bar, left, top, width - left)
    return items, y


def _shown(bar: Bar, left: float, top: float, room: float) -> list[Item]:
    colour = "fix-text" if bar.over else "ink"
    return lines((bar.shown,), (left, top), room, _TEXT, bold=True, anchor="end", colour=colour)


def _named_over(bar: Bar, _scale: Axis, width: float, y: float) -> tuple[list[Item], float]:
    shown = type.width(bar.shown, _TEXT, True) + 0.5
    room = width - shown - 12
    name = _name(bar, room)
    items = [*lines(name.lines, (0, y), room, _TEXT), *_shown(bar, width - shown, y, shown)]
    return items, y + name.height + 4


def _bar(bar: Bar, scale: Axis, y: float) -> Iterator[Item]:
    """Its parts by turns dark and pale, what is over the limit hatched, what may be left open."""
    x = scale.at(0.0)
    done = 0.0
    for number, part in enumerate(bar.parts):
        end = scale.at(done + part)
        fill = "ink" if number % 2 == 0 else "line-strong"
        yield Rect(x, y, max(end - x, 0.0), _BAR, Pen(fill))
        x, done = end, done + part
    if bar.most > bar.value:
        yield Rect(x, y + 0.75, scale.at(bar.most) - x, _BAR - 1.5, Pen("none", "ink", 1.5, (4, 3)))
    if bar.over and bar.limit is not None:
        yield from _over(scale.at(bar.limit), x, y)
    if bar.limit is not None:
        yield from _mark(scale.at(bar.limit), y)


def _over(start: float, end: float, y: float) -> Iterator[Item]:
    yield Rect(start, y, end - start, _BAR, Pen("sheet", "fix-text", 1.6))
    strokes = hatched(area_box(start, y, end, y + _BAR), 4.5)
    yield Path(strokes, Pen(stroke="fix-text", width=1.6))


def _mark(x: float, y: float) -> Iterator[Item]:
    """What it is held against: a stroke across, on a little paper of its own."""
    yield Line((x, y - 4), (x, y + _BAR + 4), Pen(stroke="sheet", width=4.6))
    yield Line((x, y - 4), (x, y + _BAR + 4), Pen(stroke="ink", width=2.4))


def _grid(scale: Axis, y: float) -> Item:
    """The axis's steps behind one bar: through the words they would only be in the way."""
    strokes = "".join(path_of(((x, y - 3), (x, y + _BAR + 3))) for x, _text in scale.ticks)
    return Path(strokes, Pen(stroke="line", width=1))


def _figures(scale: Axis, unit: str, y: float, width: float) -> tuple[Sequence[Item], float]:
    """The axis under the bars: a stroke, its figures, and the unit after the last."""
    items: list[Item] = [Line((scale.start, y), (scale.end, y), Pen(stroke="ink", width=1))]
    last = len(scale.ticks) - 1
    for number, (x, text) in enumerate(scale.ticks):
        words = f"{text}\u202f{unit}" if number == last else text
        half = type.width(words, _SMALL) / 2 + 0.5
        left = min(max(x - half, 0.0), width - 2 * half)
        items += lines((words,), (left, y + 3), 2 * half, _SMALL, anchor="middle",
                       colour="ink-soft")  # fmt: skip
    return items, y + 6 + _SMALL * (type.LEADING + ASCENT * 0.2)
