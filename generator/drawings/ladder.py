"""A density ladder: how dense each polymer comes, and the baths that part the light from the heavy.

Rows stand from light to heavy, so that a bath's line has all that floats in it above and to the
left, and all that sinks below and to the right.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.drawings import marks, type
from generator.drawings.ink import Box, Drawing, Item, Label, Line, Pen, Rect
from generator.drawings.type import ASCENT
from generator.ground.units import show
from generator.ground.wording import _

_TEXT = 15.0
_SMALL = 13.0
_EDGE = 10.0
_BAR = 18.0
_ROW = 50.0
_CHIP = (26.0, 18.0)
_BATH_ROW = 22.0
_AXIS = 40.0
_FIGURES = 1.06
"""A page may set figures of one width each, which are a little wider than those measured."""
_LEAST_HATCHED = 9.0
"""A narrower span shows its colour alone: its mark stands beside the name."""


@dataclass(frozen=True, slots=True)
class Rung:
    """A polymer on the ladder: ``low`` to ``high`` is how dense it comes [kg/m³]."""

    name: str
    code: str
    low: float
    high: float
    never_heated: bool


@dataclass(frozen=True, slots=True)
class Level:
    """A bath on the ladder. ``dashed`` is for one that burns or is not in the key."""

    name: str
    density: float
    dashed: bool = False


def draw(rungs: Sequence[Rung], levels: Sequence[Level], width: float) -> Drawing:
    """The ladder.

    Parameters
    ----------
    rungs
        Polymers, in any order.
    levels
        Baths, in any order.
    width
        Of the drawing [px].
    """
    made = _Ladder(sorted(rungs, key=lambda r: (r.low, r.high)), levels, width)
    return Drawing(width, made.height, tuple(made.items()), _("Density ladder"), made.says())


class _Ladder:
    def __init__(self, rungs: Sequence[Rung], levels: Sequence[Level], width: float) -> None:
        self.rungs, self.width = rungs, width
        self.levels = sorted(levels, key=lambda level: level.density)
        ends = [end for r in rungs for end in (r.low, r.high)]
        ends += [level.density for level in levels]
        self.least = 50 * math.floor((min(ends, default=900.0) - 10) / 50)
        self.most = 50 * math.ceil((max(ends, default=1000.0) + 10) / 50)
        self.top = _EDGE + _BATH_ROW * len(levels) + 6
        self.foot = self.top + _ROW * len(rungs)

    @property
    def height(self) -> float:
        return self.foot + _AXIS

    def x(self, density: float) -> float:
        """Where a density lies across the drawing."""
        share = (density - self.least) / (self.most - self.least)
        return _EDGE + share * (self.width - 2 * _EDGE)

    def items(self) -> Iterator[Item]:
        yield from self._axis()
        for n, level in enumerate(self.levels):
            yield self._line(level, _EDGE + n * _BATH_ROW, self.foot)
        for n, rung in enumerate(self.rungs):
            yield from self._rung(rung, self.top + n * _ROW)
        for n, level in enumerate(self.levels):
            yield from self._named_level(level, _EDGE + n * _BATH_ROW)

    # --- the axis

    def _axis(self) -> Iterator[Item]:
        ink = Pen(stroke="line-strong", width=1)
        yield Line((_EDGE, self.foot), (self.width - _EDGE, self.foot), ink)
        for density in self._ticks():
            x = self.x(density)
            yield Line((x, self.foot), (x, self.foot + 5), ink)
            yield Label(x, self.foot + 19, f"{density:g}", _SMALL, anchor=self._anchor(x))
        yield Label(self.width / 2, self.foot + 36, "kg/m³", _SMALL, anchor="middle")

    def _ticks(self) -> Iterator[int]:
        step = 100 if self.width > 500 else 200
        yield from range(step * math.ceil(self.least / step), self.most + 1, step)

    def _anchor(self, x: float) -> str:
        """Words at either edge stay inside the drawing."""
        if x < 2 * _EDGE + 8:
            return "start"
        return "end" if x > self.width - 2 * _EDGE - 8 else "middle"

    # --- polymers

    def _rung(self, rung: Rung, y: float) -> Iterator[Item]:
        yield Line((_EDGE, y), (self.width - _EDGE, y), Pen(stroke="line", width=1))
        yield from self._named(rung, y + 3)
        left, right, top = self.x(rung.low), self.x(rung.high), y + 26
        yield from _bar(rung, (left, top, max(right - left, 2.0), _BAR))
        cut = (level for level in self.levels if rung.low < level.density < rung.high)
        yield from (self._line(level, top, top + _BAR, "mark-ink") for level in cut)

    def _named(self, rung: Rung, y: float) -> Iterator[Item]:
        """The mark and the name over the bar, on a ground that keeps the baths' lines off."""
        text = f"{rung.name}, {_span(rung)}"
        wide = _FIGURES * type.width(text, _TEXT) + _CHIP[0] + 8
        x = min(max(self.x(rung.low), _EDGE), self.width - _EDGE - wide)
        x = max(x, _EDGE)
        box = (x, y, *_CHIP)
        yield Rect(x - 2, y - 1, min(wide + 4, self.width - x), 21, Pen("sheet"))
        yield from marks.mark_shapes(rung.code, box, _CHIP[1] / 11, rung.never_heated, 1.2)
        room = self.width - _EDGE - x - _CHIP[0] - 8
        fitted = type.shorten(text, _TEXT, room / _FIGURES + 0.01)
        yield Label(x + _CHIP[0] + 8, y + 9 + _TEXT * ASCENT / 2, fitted, _TEXT)

    # --- baths

    def _line(self, level: Level, top: float, foot: float, colour: str = "") -> Line:
        """A bath's line; over a bar, which is light on any ground, it has the marks' own ink."""
        x, dash = self.x(level.density), (6.0, 4.0) if level.dashed else ()
        pen = Pen(stroke=colour or _colour(level), width=2.0, dash=dash)
        return Line((x, top), (x, foot), pen)

    def _named_level(self, level: Level, y: float) -> Iterator[Item]:
        x = self.x(level.density)
        text = f"{level.density:.0f} {level.name}"
        left = x > self.width / 2
        room = (x - _EDGE if left else self.width - _EDGE - x) - 8
        fitted = type.shorten(text, _TEXT, room / _FIGURES, bold=True)
        wide = _FIGURES * type.width(fitted, _TEXT, bold=True)
        start, side = (x - 6, "end") if left else (x + 6, "start")
        yield Rect(start - (wide if left else 0) - 2, y, wide + 4, _BATH_ROW - 2, Pen("sheet"))
        colour = _colour(level)
        yield Label(start, y + 15, fitted, _TEXT, bold=True, anchor=side, colour=colour)

    # --- in words

    def says(self) -> str:
        """What the drawing shows, for whoever cannot see it."""
        rows = [f"{r.name} {_span(r)}" for r in self.rungs]
        baths = [f"{b.name} {show(b.density, 'kgm3', 0)}" for b in self.levels]
        return _("From light to heavy: {polymers}. Baths: {baths}.").format(
            polymers="; ".join(rows), baths="; ".join(baths) or _("none")
        )


def _colour(level: Level) -> str:
    return "ink-soft" if level.dashed else "accent"


def _span(rung: Rung) -> str:
    if rung.low == rung.high:
        return f"{rung.low:.0f}"
    return _("{low} to {high}").format(low=f"{rung.low:.0f}", high=f"{rung.high:.0f}")


def _bar(rung: Rung, box: Box) -> Iterator[Item]:
    """A span with the polymer's hatch, or struck lines without a hue where it is never heated."""
    mark = marks.mark_of(rung.code)
    wide = box[2] >= _LEAST_HATCHED
    yield Rect(*box, Pen("white" if rung.never_heated else mark.tint if wide else mark.hue))
    if rung.never_heated:
        pen = Pen(stroke="mark-ink", width=1.2)
        yield from (Line(a, b, pen) for a, b in marks.slants(box, 5.0, rising=False))
    elif wide:
        yield from mark.hatch(box, _BAR / 9)
    yield Rect(*box, Pen(stroke="ink", width=1.2))
