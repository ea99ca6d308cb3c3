"""A quantity over time: curves told apart by their line form, axes with units, and limits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.drawings import type
from generator.drawings.axes import Axis, axis
from generator.drawings.column import lines
from generator.drawings.ink import Drawing, Item, Line, Path, Pen, Polyline, path_of
from generator.drawings.keys import SAMPLE, Key

_TEXT = 12.0
FORMS: tuple[Pen, ...] = (
    Pen(stroke="ink", width=2.6),
    Pen(stroke="ink", width=2.0, dash=(8, 4)),
    Pen(stroke="ink", width=2.0, dash=(1.5, 3)),
)
"""Solid, dashed, dotted: no more than three curves stand in one plot."""

_LEVEL = Pen(stroke="accent", width=1.8, dash=(7, 2, 2, 2))


@dataclass(frozen=True, slots=True)
class Course:
    """One curve: its points, and what its line form stands for."""

    points: tuple[tuple[float, float], ...]
    words: str


@dataclass(frozen=True, slots=True)
class Level:
    """A horizontal line that the curves are read against."""

    at: float
    words: str


@dataclass(frozen=True, slots=True)
class Plot:
    """Up to three curves on common axes.

    ``across`` and ``up`` name the axes with their units. ``most_x`` and ``most_y`` are how far
    the axes reach at least, so that several plots can be compared.
    """

    title: str
    says: str
    across: str
    up: str
    courses: tuple[Course, ...]
    levels: tuple[Level, ...] = ()
    most_x: float = 0.0
    most_y: float = 0.0
    low_y: float = 0.0

    @property
    def keys(self) -> tuple[Key, ...]:
        """What the line forms stand for."""
        courses = [(pen, line.words) for pen, line in zip(FORMS, self.courses, strict=False)]
        levels = [(_LEVEL, level.words) for level in self.levels]
        return tuple(Key(_sample(pen), words) for pen, words in (*courses, *levels))


def _sample(pen: Pen) -> tuple[Item, ...]:
    middle = SAMPLE[1] / 2
    return (Line((2, middle), (SAMPLE[0] - 2, middle), pen),)


def draw(plot: Plot, width: float = 330, height: float = 210) -> Drawing:
    """The plot at a size that stands on a phone, and beside others on a wide screen."""
    top = _TEXT * 2.2
    bottom = height - _TEXT * 2.9
    ys = [y for course in plot.courses for _x, y in course.points]
    ys += [level.at for level in plot.levels]
    up = axis(max([plot.most_y, *ys]), bottom, top, room=30.0, low=plot.low_y)
    left = max(type.width(text, _TEXT) for _y, text in up.ticks) + 10
    xs = [x for course in plot.courses for x, _y in course.points]
    across = axis(max([plot.most_x, *xs]), left, width - 14, room=48.0)
    items = (
        *_axes(plot, across, up, width, height),
        *(_level(level, across, up) for level in plot.levels),
        *_courses(plot.courses, across, up),
    )
    return Drawing(width, height, items, plot.title, plot.says)


def _courses(courses: Sequence[Course], across: Axis, up: Axis) -> Iterator[Item]:
    for pen, course in zip(FORMS, courses, strict=False):
        points = tuple((across.at(x), up.at(y)) for x, y in course.points)
        yield Polyline(points, pen)


def _axes(plot: Plot, across: Axis, up: Axis, width: float, height: float) -> Iterator[Item]:
    rules = "".join(path_of(((across.start, y), (across.end, y))) for y, _text in up.ticks)
    yield Path(rules, Pen(stroke="line", width=1))
    corner = path_of(((up_end := across.start, up.end), (up_end, up.start), (across.end, up.start)))
    yield Path(corner, Pen(stroke="ink", width=1.2))
    for y, text in up.ticks:
        room = across.start - 6
        yield from lines((text,), (0, y - _TEXT * 0.62), room, _TEXT, anchor="end",
                         colour="ink-soft")  # fmt: skip
    for x, text in across.ticks:
        half = type.width(text, _TEXT) / 2 + 0.5
        yield Line((x, up.start), (x, up.start + 4), Pen(stroke="ink", width=1.2))
        yield from lines((text,), (x - half, up.start + 4), 2 * half, _TEXT, anchor="middle",
                         colour="ink-soft")  # fmt: skip
    yield from lines((plot.up,), (0, 0), width, _TEXT, colour="ink-soft")
    yield from lines((plot.across,), (across.start, height - _TEXT * 1.3), width - across.start - 4,
                     _TEXT, anchor="end", colour="ink-soft")  # fmt: skip


def _level(level: Level, across: Axis, up: Axis) -> Item:
    """A line across; its words stand in the key, where no curve runs through them."""
    y = up.at(level.at)
    return Line((across.start, y), (across.end, y), _LEVEL)
