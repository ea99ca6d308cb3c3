"""One plan that layers are laid on: where things lie, what is taken, and how labels are set."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import shapely
from shapely import LineString, Polygon

from generator.drawings import type
from generator.drawings.ink import (
    Box,
    Circle,
    Group,
    Item,
    Label,
    Line,
    Pen,
    Point,
    Rect,
    Stamp,
    labels_of,
)
from generator.drawings.layers.clearing import Clearing, box_of
from generator.drawings.layers.layer import LABEL
from generator.drawings.plan import Screen
from generator.drawings.type import ASCENT
from generator.drawings.view import around
from generator.workings.footprint import footprint

_TEXT = 12.0
_PAD = 4.0
_HEIGHT = 17.0
_LED = 7.0
"""A label farther than this from what it tells of is led back to it [px]."""


@dataclass(frozen=True, slots=True)
class Part:
    """A piece of a label: words on a ground of their own."""

    text: str
    bold: bool = False
    fill: str = "sheet"
    colour: str = "ink"
    edge: str = "none"
    dash: tuple[float, ...] = ()
    round: bool = False

    @property
    def width(self) -> float:
        return max(type.width(self.text, _TEXT, self.bold) + 2 * _PAD, _HEIGHT)


class Paper:
    """A screen's plan with what is taken on it before any layer is laid, worked out once."""

    def __init__(self, screen: Screen) -> None:
        self.screen, view, shell = screen, screen.view, screen.atlas.shell
        self.walls = shapely.union_all(
            [Polygon(view.ring(ring), list(map(view.ring, holes))) for ring, holes in shell.masonry]
        )
        self.floor = Polygon(view.ring(shell.inner))
        shapely.prepare([self.walls, self.floor])
        self.taken, self.dear = tuple(self._taken()), tuple(self._dear())

    def _taken(self) -> Iterator[Box]:
        """Numbers, symbols, columns, the scale and every word that is already there."""
        screen = self.screen
        for each in screen.placed:
            if each.at:
                yield around([each.at], each.radius + 1.0)
        yield from (shown.box for shown in screen.placing.shown)
        signs = (item for item in screen.placing.door_names if isinstance(item, Stamp))
        yield from ((sign.x, sign.y, sign.size, sign.size) for sign in signs)
        yield from map(box_of, labels_of(screen.under))
        for column in screen.atlas.shop.room.columns.values():
            yield around(screen.view.ring(footprint(column)))
        yield screen.foot

    def _dear(self) -> Iterator[tuple[Box, float]]:
        for station in self.screen.atlas.shop.stations.values():
            yield around(self.screen.view.ring(footprint(station))), 12.0


class Board:
    """One plan that layers are laid on, with the labels that all of them have placed so far."""

    def __init__(self, paper: Paper) -> None:
        self.screen, self.view = paper.screen, paper.screen.view
        self.shop, self.narrow = paper.screen.atlas.shop, not paper.screen.manner.details
        field = (0.0, 0.0, paper.screen.width, paper.screen.height)
        self.leaders: list[Item] = []
        self.clearing = Clearing(field, paper.taken, paper.walls, paper.dear, paper.floor)

    # --- places ---

    def station_at(self, id_: str) -> Point:
        """The middle of a station on the drawing."""
        return self.view.at(self.shop.stations[id_].at)

    def line(self, points: Iterable[Point]) -> tuple[Point, ...]:
        """A course over the floor [mm] as it lies on the drawing."""
        return self.view.ring(points)

    def spare(self, course: Sequence[Point], cost: float = 1.5) -> None:
        """Let labels rather stand beside a course on the drawing than on it."""
        if len(course) > 1:
            self.clearing.spare(along(course, 12.0), cost)

    # --- labels ---

    def label(
        self,
        rows: Sequence[Sequence[Part]],
        wishes: Sequence[Point],
        *,
        reach: float = 46.0,
        led: Point | None = None,
        lead: str = "ink",
        must: bool = False,
    ) -> tuple[Item, ...]:
        """A label of one or more rows at the nearest free place, led back where it stands off.

        Its leader is kept for :meth:`under`, so that it crosses no label.

        Parameters
        ----------
        rows
            Its pieces, row by row.
        wishes
            Where its middle would rather be, best first.
        reach
            How far from any of them it may be.
        led
            What it tells of, to which a line leads from a label that stands off.
        lead
            The colour of that line.
        must
            Whether it is set anywhere at all rather than left out, if need be its first piece
            alone.
        """
        size = (max(sum(p.width for p in row) for row in rows), _HEIGHT * len(rows))
        box = self.clearing.take(size, wishes, reach)
        if box is None and must:
            box = self.clearing.anywhere(size, wishes[0])
        if box is None and must and (len(rows) > 1 or len(rows[0]) > 1):
            return self.label([rows[0][:1]], wishes, reach=reach, led=led, lead=lead, must=True)
        if box is None:
            return ()
        if led:
            self.leaders += _leader(box, led, lead)
        return (Group(tuple(set_rows(rows, box)), LABEL),)

    def under(self) -> tuple[Item, ...]:
        """The leaders drawn since the last time, to lie under the labels of one layer."""
        leaders, self.leaders = tuple(self.leaders), []
        return leaders


def _leader(box: Box, to: Point, colour: str) -> tuple[Item, ...]:
    """A line back to what a label tells of, with a dot at its end."""
    near = nearest(box, to)
    if math.dist(near, to) < _LED:
        return ()
    return Line(near, to, Pen(stroke=colour, width=1.2)), Circle(*to, 2.2, Pen(colour))


def set_rows(rows: Sequence[Sequence[Part]], box: Box) -> Iterator[Item]:
    """The pieces of a label in its box, each on its own ground."""
    x0, y0, _width, _height = box
    for number, row in enumerate(rows):
        x, y = x0, y0 + number * _HEIGHT
        for part in row:
            yield from _set(part, (x, y, part.width, _HEIGHT))
            x += part.width


def _set(part: Part, box: Box) -> tuple[Item, ...]:
    x, y, width, height = box
    pen = Pen(part.fill, part.edge, 1.3 if part.edge != "none" else 0.0, part.dash)
    inset = pen.width / 2
    ground = Rect(
        x + inset, y + inset, width - 2 * inset, height - 2 * inset, pen,
        height / 2 if part.round else 0.0,
    )  # fmt: skip
    base = y + (height + _TEXT * ASCENT) / 2
    middle = Label(x + width / 2, base, part.text, _TEXT, part.bold, "middle", part.colour, box=box)
    return ground, middle


def nearest(box: Box, to: Point) -> Point:
    """The point of a box that is nearest to another point."""
    x, y, width, height = box
    return min(max(to[0], x), x + width), min(max(to[1], y), y + height)


def along(course: Sequence[Point], pitch: float) -> list[Point]:
    """Points along a course, a pitch apart."""
    line = LineString(course)
    count = max(2, int(line.length / pitch) + 1)
    shares = [i / (count - 1) for i in range(count)]
    spots = shapely.line_interpolate_point(line, shares, normalized=True)
    return [(float(x), float(y)) for x, y in shapely.get_coordinates(spots)]


def shares(course: Sequence[Point], *parts: float) -> list[Point]:
    """Points at some shares of a course's length."""
    spots = shapely.line_interpolate_point(LineString(course), parts, normalized=True)
    return [(float(x), float(y)) for x, y in shapely.get_coordinates(spots)]
