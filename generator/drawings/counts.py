"""Plain charts as wide as a phone: columns that count, and bars that run against a mark."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.drawings import type
from generator.drawings.ink import Drawing, Item, Label, Line, Pen, Rect

_WIDTH = 340.0
_SIZE = 13.0
_LEADING = 16.0
_MOST_LINES = 3
_GAP = 12.0
_INK = Pen(fill="ink")
_SOFT = Pen(fill="line-strong")
_LINE = Pen(stroke="line-strong", width=1)
_MARK = Pen(stroke="accent", width=2.5)


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its label, how many, and whether it is the one to look at first."""

    label: str
    count: int
    pressing: bool = False


def columns(rows: Sequence[Column], title: str, desc: str) -> Drawing:
    """Columns side by side with the count over each; the pressing ones are full ink."""
    most = max((row.count for row in rows), default=0) or 1
    step, tall, foot = _WIDTH / max(len(rows), 1), 90.0, 116.0
    items: list[Item] = []
    lines = [type.wrap(row.label, _SIZE, step - 4, _MOST_LINES) for row in rows]
    for index, row in enumerate(rows):
        middle, high = (index + 0.5) * step, tall * row.count / most
        pen = _INK if row.pressing else _SOFT
        items.append(Rect(middle - step * 0.32, foot - high, step * 0.64, high, pen))
        over = Label(middle, foot - high - 5, str(row.count), _SIZE, bold=True, anchor="middle")
        items += [over, *_under(lines[index], middle, foot + 18)]
    items.append(Line((0, foot), (_WIDTH, foot), _LINE))
    deep = (max(map(len, lines), default=1) - 1) * _LEADING
    return Drawing(_WIDTH, foot + 26 + deep, tuple(items), title, desc)


def _under(lines: Sequence[str], middle: float, top: float) -> Iterator[Label]:
    for index, line in enumerate(lines):
        yield Label(middle, top + index * _LEADING, line, _SIZE, anchor="middle")


@dataclass(frozen=True, slots=True)
class Lasting:
    """A bar: its label, its length, the mark it is held against, and its length in words."""

    label: str
    value: float
    mark: float
    says: str


def lasting(rows: Sequence[Lasting], title: str, desc: str) -> Drawing:
    """Bars under one another, each under its label, with a stroke where its mark is.

    A bar that ends before its mark is full ink.
    """
    longest = max((max(row.value, row.mark) for row in rows), default=0) or 1
    high = 40.0
    items = tuple(item for i, row in enumerate(rows) for item in _bar(row, i * high, longest))
    return Drawing(_WIDTH, len(rows) * high, items, title, desc)


def _bar(row: Lasting, top: float, longest: float) -> Iterator[Item]:
    pen = _INK if row.value < row.mark else _SOFT
    room = _WIDTH - type.width(row.says, _SIZE, bold=True) - _GAP
    yield Label(0, top + 14, type.shorten(row.label, _SIZE, room), _SIZE)
    yield Label(_WIDTH, top + 14, row.says, _SIZE, bold=True, anchor="end")
    yield Rect(0, top + 20, max(2.0, _WIDTH * row.value / longest), 10, pen)
    at = min(_WIDTH - 1.5, max(1.5, _WIDTH * row.mark / longest))
    yield Line((at, top + 17), (at, top + 33), _MARK)
