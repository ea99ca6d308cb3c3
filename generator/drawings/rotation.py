"""A session's rotation as a chart: groups against time, and under them what is hot when.

Drawn three times: along the clock for a wide screen and for the wall, down it for a phone.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shapely import box as area_box

from generator.drawings import foot, type
from generator.drawings.column import Column, lines
from generator.drawings.foot import Foot
from generator.drawings.hatching import hatched
from generator.drawings.ink import Box, Circle, Drawing, Item, Label, Line, Path, Pen, Rect, path_of
from generator.drawings.type import ASCENT, LEADING
from generator.ground.wording import _

_STEP = 15
"""Minutes between two strokes of the clock."""


@dataclass(frozen=True, slots=True)
class Cell:
    """A group at an activity; ``number`` is the station's, ``watch`` that they only look on."""

    group: int
    start: int
    end: int
    name: str
    number: int
    watch: bool = False


@dataclass(frozen=True, slots=True)
class Band:
    """A time in which everybody does the same: arrival, a break, tidying."""

    start: int
    end: int
    name: str


@dataclass(frozen=True, slots=True)
class Hot:
    """A machine from switching on, at its set point, ready, off, until it is cold.

    ``uses`` are the times in which it works.
    """

    name: str
    number: int
    on: int
    hot: int
    ready: int
    off: int
    cold: int
    uses: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Rotation:
    """What the chart shows, in minutes after midnight; ``clashes`` are minutes at which one is."""

    title: str
    groups: tuple[int, ...]
    cells: tuple[Cell, ...]
    bands: tuple[Band, ...]
    machines: tuple[Hot, ...]
    clashes: tuple[int, ...] = ()

    @property
    def span(self) -> tuple[int, int]:
        """From when to when, on whole steps of the clock."""
        times = [t for b in self.bands for t in (b.start, b.end)]
        times += [t for c in self.cells for t in (c.start, c.end)]
        times += [t for m in self.machines for t in (m.on, m.cold)]
        first, last = min(times), max(times)
        return first // _STEP * _STEP, -(-last // _STEP) * _STEP

    @property
    def says(self) -> str:
        """The chart in words, for whoever does not see it."""
        rows = [
            _("Group {n}: {what}").format(n=g, what=", ".join(_cell_says(self.cells, g)))
            for g in self.groups
        ]
        rows += [
            _("{machine}: on {on}, ready {ready}, off {off}").format(
                machine=m.name, on=clock(m.on), ready=clock(m.ready), off=clock(m.off)
            )
            for m in self.machines
        ]
        return ". ".join(rows)


def _cell_says(cells: Sequence[Cell], group: int) -> Iterator[str]:
    for cell in cells:
        if cell.group == group:
            yield f"{clock(cell.start)} {cell.name}"


def clock(minute: int) -> str:
    """A minute after midnight as a clock shows it."""
    return f"{minute // 60 % 24:02}:{minute % 60:02}"


@dataclass(frozen=True, slots=True)
class _Size:
    """How large everything is, in the drawing's unit."""

    text: float
    small: float
    row: float
    hot: float
    gutter: float
    pen: float
    balloon: float

    @property
    def pad(self) -> float:
        return self.text * 0.32


_SCREEN = _Size(text=13.5, small=13.5, row=88, hot=50, gutter=40, pen=1.4, balloon=11)
_WALL = _Size(text=6.2, small=5.0, row=33, hot=18, gutter=20, pen=0.5, balloon=4.4)


def _balloon(x: float, y: float, number: int, radius: float, pen: float) -> Iterator[Item]:
    yield Circle(x, y, radius, Pen("sheet", "ink", pen))
    size = radius * 1.3
    yield Label(x, y + size * ASCENT / 2, str(number), size, True, "middle",
                box=(x - radius, y - radius, 2 * radius, 2 * radius))  # fmt: skip


# --- along the clock ---------------------------------------------------------------------------


def wide(rotation: Rotation, width: float = 920) -> Drawing:
    """The chart for a screen, along the clock."""
    items, height = _along(rotation, (0, 0, width, 0), _SCREEN)
    return Drawing(width, height, tuple(items), rotation.title, rotation.says)


def _along(rotation: Rotation, box: Box, size: _Size) -> tuple[list[Item], float]:
    x, y, width, _height = box
    head = size.small * 1.7
    scale = _Scale(rotation.span, x + size.gutter, x + width - size.pen)
    top = y + head
    foot_ = top + len(rotation.groups) * size.row
    items: list[Item] = [*_strokes(rotation, scale, top, foot_, size)]
    items += _bands_along(rotation, scale, top, foot_, size)
    for place, group in enumerate(rotation.groups):
        row = top + place * size.row
        items += _group_along(group, x, row, scale.end - x, size)
        for cell in rotation.cells:
            if cell.group == group:
                at = scale.at(cell.start), row, scale.at(cell.end), row + size.row
                items += _cell(cell, at, size)
    items += _clashes(rotation, scale, top, foot_, size)
    items.append(Line((x, foot_), (scale.end, foot_), Pen(stroke="ink", width=size.pen)))
    below = foot_
    for machine in rotation.machines:
        items += _hot_along(machine, x, below, scale, size)
        below += size.hot
    return items, below + size.pen


@dataclass(frozen=True, slots=True)
class _Scale:
    span: tuple[int, int]
    start: float
    end: float

    def at(self, minute: int) -> float:
        first, last = self.span
        return self.start + (minute - first) / (last - first) * (self.end - self.start)


def _strokes(
    rotation: Rotation, scale: _Scale, top: float, foot_: float, size: _Size
) -> Iterator[Item]:
    """The clock over the chart: a stroke each quarter of an hour, a time where there is room."""
    first, last = rotation.span
    wide_ = type.width("00:00", size.small)
    every = _STEP
    while scale.at(first + every) - scale.at(first) < wide_ * 1.25:
        every += _STEP
    for minute in range(first, last + 1, _STEP):
        at = scale.at(minute)
        yield Line((at, top), (at, foot_), Pen(stroke="line", width=size.pen * 0.7))
        if minute % every == 0 and at + wide_ / 2 <= scale.end + size.pen:
            yield from lines(
                (clock(minute),), (at - wide_ / 2 - 0.5, top - size.small * 1.5), wide_ + 1,
                size.small, anchor="middle", colour="ink-soft",
            )  # fmt: skip


def _bands_along(
    rotation: Rotation, scale: _Scale, top: float, foot_: float, size: _Size
) -> Iterator[Item]:
    for band in rotation.bands:
        start, end = scale.at(band.start), scale.at(band.end)
        yield Rect(start, top, end - start, foot_ - top, Pen("accent-soft"))
        place = top + min(size.row, foot_ - top) / 2
        room = min(2 * (place - top), type.width(band.name, size.small) + size.small)
        if end - start > size.small * 1.2:
            middle, half = (start + end) / 2, size.small * LEADING / 2
            words = type.shorten(band.name, size.small, room)
            base = middle + size.small * ASCENT / 2
            yield Label(
                base, place, words, size.small, anchor="middle", colour="ink-soft",
                turn=-90, box=(middle - half, place - room / 2, 2 * half, room),
            )  # fmt: skip


def _group_along(group: int, x: float, row: float, width: float, size: _Size) -> Iterator[Item]:
    yield Line((x, row), (x + width, row), Pen(stroke="line-strong", width=size.pen * 0.7))
    wide_ = size.gutter * 0.8
    yield Rect(x, row, wide_, size.row, Pen("ink", "sheet", size.pen * 0.7))
    big = size.text * 1.7
    yield Label(x + wide_ / 2, row + (size.row + big * ASCENT) / 2, str(group), big, True,
                "middle", "paper", box=(x, row, wide_, size.row))  # fmt: skip


def _cell(cell: Cell, at: Box, size: _Size) -> Iterator[Item]:
    """A cell between two corners: its station's balloon, its name under or beside it."""
    x, y, right, foot_ = at
    gap = size.pen * 1.2
    dash = (size.pen * 4, size.pen * 2.6) if cell.watch else ()
    yield Rect(x + gap, y + gap, right - x - 2 * gap, foot_ - y - 2 * gap,
               Pen("sheet", "ink", size.pen, dash))  # fmt: skip
    room = right - x - 2 * (gap + size.pad)
    radius = size.balloon
    yield from _balloon(x + gap + size.pad + radius, y + gap + size.pad + radius, cell.number,
                        radius, size.pen * 0.8)  # fmt: skip
    top = y + gap + 2 * size.pad + 2 * radius
    most = int((foot_ - gap - top) / (size.text * LEADING))
    if most >= 1 and room > size.text * 2.4:
        fitted = type.fit(cell.name, size.text, room, most)
        yield from lines(fitted.lines, (x + gap + size.pad, top), room, size.text)


def _clashes(
    rotation: Rotation, scale: _Scale, top: float, foot_: float, size: _Size
) -> Iterator[Item]:
    for minute in sorted(set(rotation.clashes)):
        at = scale.at(minute)
        yield Line((at, top - size.small * 0.4), (at, foot_),
                   Pen(stroke="stop-text", width=size.pen * 2.2))  # fmt: skip


def _hot_along(machine: Hot, x: float, top: float, scale: _Scale, size: _Size) -> Iterator[Item]:
    bar = size.small * 0.95
    y = top + size.small * 1.75
    radius = size.balloon
    yield from _balloon(x + size.gutter * 0.4, y + bar / 2, machine.number, radius, size.pen * 0.8)
    on, hot, ready, off, cold = (
        scale.at(t) for t in (machine.on, machine.hot, machine.ready, machine.off, machine.cold)
    )
    yield from _bar((on, hot, ready, off, cold), y, bar, size.pen)
    for start, end in machine.uses:
        a, b = scale.at(start), scale.at(end)
        yield Rect(a, y + bar * 0.3, b - a, bar * 0.4, Pen("sheet"))
    words = _("{machine}: on {on}, ready {ready}, off {off}, cold {cold}").format(
        machine=machine.name, on=clock(machine.on), ready=clock(machine.ready),
        off=clock(machine.off), cold=clock(machine.cold),
    )  # fmt: skip
    room = min(type.width(words, size.small) + 1, scale.end - scale.start)
    left = max(scale.start, min(on, scale.end - room))
    shown = type.shorten(words, size.small, room)
    yield from lines((shown,), (left, top + size.small * 0.35), room, size.small)


def _bar(at: tuple[float, ...], y: float, bar: float, pen: float) -> Iterator[Item]:
    """Heating up open, soaking hatched, hot solid, cooling down dashed."""
    on, hot, ready, off, cold = at
    yield Rect(on, y, cold - on, bar, Pen("sheet", "ink", pen, (pen * 3, pen * 2)))
    yield Rect(on, y, ready - on, bar, Pen("sheet", "ink", pen))
    if ready > hot:
        strokes = hatched(area_box(hot, y, ready, y + bar), bar * 0.4)
        yield Path(strokes, Pen(stroke="ink", width=pen * 0.8))
    yield Rect(ready, y, off - ready, bar, Pen("ink"))


# --- down the clock ----------------------------------------------------------------------------

_LEFT, _HEAD, _LANE, _PER_MIN = 44.0, 30.0, 24.0, 3.4


def phone(rotation: Rotation, width: float = 350) -> Drawing:
    """The chart drawn again for a phone: time runs down, a column a group."""
    first, last = rotation.span
    scale = _Scale(rotation.span, _HEAD, _HEAD + (last - first) * _PER_MIN)
    lanes = len(rotation.machines) * _LANE
    column = (width - _LEFT - lanes) / max(len(rotation.groups), 1)
    right = width - lanes
    items: list[Item] = [*_clock_down(rotation, scale, right)]
    for band in rotation.bands:
        items += _band_down(band, scale, right)
    for place, group in enumerate(rotation.groups):
        x = _LEFT + place * column
        items += _head_down(group, x, column)
        for cell in (c for c in rotation.cells if c.group == group):
            items += _cell_down(cell, (x, scale.at(cell.start), x + column, scale.at(cell.end)))
    for minute in sorted(set(rotation.clashes)):
        y = scale.at(minute)
        items.append(Line((_LEFT, y), (right, y), Pen(stroke="stop-text", width=3)))
    for place, machine in enumerate(rotation.machines):
        items += _hot_down(machine, right + place * _LANE + 6, scale)
    return Drawing(width, scale.end + 4, tuple(items), rotation.title, rotation.says)


def _clock_down(rotation: Rotation, scale: _Scale, right: float) -> Iterator[Item]:
    first, last = rotation.span
    for minute in range(first, last + 1, _STEP):
        y = scale.at(minute)
        yield Line((_LEFT - 4, y), (right, y), Pen(stroke="line", width=1))
        if y + 9 <= scale.end + 4:
            yield from lines((clock(minute),), (0, y - 8), _LEFT - 6, 12.5, colour="ink-soft")


def _band_down(band: Band, scale: _Scale, right: float) -> Iterator[Item]:
    top, end = scale.at(band.start), scale.at(band.end)
    yield Rect(_LEFT, top, right - _LEFT, end - top, Pen("accent-soft"))
    if end - top >= 18:
        yield from lines((type.shorten(band.name, 12.5, right - _LEFT - 12),),
                         (_LEFT + 6, (top + end) / 2 - 8), right - _LEFT - 12, 12.5,
                         colour="ink-soft")  # fmt: skip


def _head_down(group: int, x: float, width: float) -> Iterator[Item]:
    yield Rect(x + 1, 0, width - 2, _HEAD - 8, Pen("ink"))
    yield from lines((str(group),), (x + 1, 1), width - 2, 16, bold=True, anchor="middle",
                     colour="paper")  # fmt: skip


def _cell_down(cell: Cell, at: Box) -> Iterator[Item]:
    """A cell in which the name comes first, the balloon where there is still room for it."""
    x, y, right, foot_ = at
    dash = (6.0, 4.0) if cell.watch else ()
    yield Rect(x + 1, y + 1, right - x - 2, foot_ - y - 2, Pen("sheet", "ink", 1.4, dash))
    room, most = right - x - 8, int((foot_ - y - 4) / (12 * LEADING))
    fitted = type.fit(cell.name, 12, room, most)
    if room < 40 or fitted.cut or not most:
        yield from _balloon((x + right) / 2, (y + foot_) / 2, cell.number, 11, 1.2)
        return
    yield from lines(fitted.lines, (x + 4, y + 2), room, 12)


def _hot_down(machine: Hot, x: float, scale: _Scale) -> Iterator[Item]:
    wide_ = _LANE - 10
    yield from _balloon(x + wide_ / 2, 11, machine.number, 10, 1.2)
    on, hot, ready, off, cold = (
        scale.at(t) for t in (machine.on, machine.hot, machine.ready, machine.off, machine.cold)
    )
    yield Rect(x, on, wide_, cold - on, Pen("sheet", "ink", 1.4, (4, 3)))
    yield Rect(x, on, wide_, ready - on, Pen("sheet", "ink", 1.4))
    if ready > hot:
        strokes = hatched(area_box(x, hot, x + wide_, ready), 5)
        yield Path(strokes, Pen(stroke="ink", width=1))
    yield Rect(x, ready, wide_, off - ready, Pen("ink"))
    for start, end in machine.uses:
        a, b = scale.at(start), scale.at(end)
        yield Rect(x + wide_ * 0.35, a, wide_ * 0.3, b - a, Pen("sheet"))


# --- on the wall -------------------------------------------------------------------------------

WALL_MM = (420.0, 297.0)
_MARGIN = 14.0


def wall(rotation: Rotation, says: Sequence[str], held: Foot) -> Drawing:
    """The chart on A3 across, for the wall.

    Parameters
    ----------
    rotation
        What it shows.
    says
        A line or two under the title: when, and for how many.
    held
        What the sheet says about itself at its foot.
    """
    width, height = WALL_MM
    column = Column(_MARGIN, _MARGIN, width - 2 * _MARGIN)
    column.text(rotation.title, 15, bold=True, most=1)
    for line in says:
        column.text(line, 6.5, most=1)
    column.gap(4)
    rows, hot = max(len(rotation.groups), 1), len(rotation.machines) * _WALL.hot
    room = height - _MARGIN - 18 - column.y - hot - _WALL.small * 1.7
    size = _Size(
        _WALL.text, _WALL.small, min(room / rows, 46), _WALL.hot, _WALL.gutter, _WALL.pen,
        _WALL.balloon,
    )  # fmt: skip
    items, below = _along(rotation, (_MARGIN, column.y, width - 2 * _MARGIN, 0), size)
    items += _legend(below + 3, size)
    rule = height - _MARGIN - 6
    items.append(
        Path(path_of(((_MARGIN, rule), (width - _MARGIN, rule))), Pen(stroke="ink", width=0.5))
    )
    items += foot.draw(held, (_MARGIN, rule, width - 2 * _MARGIN, 6), 3.2)
    return Drawing(
        width, height, (Rect(0, 0, width, height, Pen("sheet")), *column.items, *items),
        rotation.title, rotation.says, unit="mm",
    )  # fmt: skip


def _legend(y: float, size: _Size) -> Iterator[Item]:
    """What the outlines and bars mean, in words."""
    words = _(
        "Numbers in circles are stations. Broken outline: watching only. Bar: open while it heats "
        "up, hatched while it soaks, solid while it is hot with a white line while it is used, "
        "broken while it cools."
    )
    room = WALL_MM[0] - 2 * _MARGIN
    fitted = type.fit(words, size.small, room, 2)
    yield from lines(fitted.lines, (_MARGIN, y), room, size.small, colour="ink-soft")
