"""Where the numbered balloons of a plan go, so that no two touch and each can be tapped."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from generator.drawings.ink import Box, Circle, Group, Item, Label, Line, Pen, Point
from generator.drawings.type import ASCENT
from generator.drawings.view import around

_RINGS = 26
_TURNS = 16


@dataclass(frozen=True, slots=True)
class Balloon:
    """A number to place.

    ``wishes`` are places on the drawing in order of preference; ``shape`` is the station's
    outline, to which a balloon that had to move away is led back.
    """

    number: int
    wishes: tuple[Point, ...]
    shape: tuple[Point, ...]
    link: str = ""
    title: str = ""


@dataclass(frozen=True, slots=True)
class Placed:
    """A balloon with its middle, and how far round it a tap counts."""

    balloon: Balloon
    at: Point
    radius: float
    touch: float


def place(
    balloons: Sequence[Balloon],
    radius: float,
    touch: float,
    field: Box,
    keep_off: Iterable[tuple[Box, float]] = (),
) -> tuple[Placed, ...]:
    """Place balloons so that none touches another and, where room allows, taps never overlap.

    Parameters
    ----------
    radius, touch
        Radius of the balloon and of the area that answers a tap.
    field
        Where balloons may stand.
    keep_off
        Boxes that should stay visible, each with what covering it costs, in radii that a
        balloon would rather move. A balloon may always cover its own station.
    """
    board = _Board(radius, touch, field, tuple(keep_off))
    middles = {b.number: board.settle(b) for b in sorted(balloons, key=_most_hemmed_in)}
    places = list(middles.values())
    return tuple(
        Placed(b, middles[b.number], radius, _touch(middles[b.number], places, radius, touch))
        for b in balloons
    )


def _most_hemmed_in(balloon: Balloon) -> tuple[float, int]:
    """Small stations choose first: their numbers have the fewest places to go."""
    _x, _y, width, height = around(balloon.shape)
    return width * height, balloon.number


def _touch(at: Point, places: list[Point], radius: float, touch: float) -> float:
    nearest = min((math.dist(at, other) for other in places if other != at), default=math.inf)
    return max(radius, min(touch, nearest / 2))


class _Board:
    """The places taken so far."""

    def __init__(
        self, radius: float, touch: float, field: Box, keep_off: tuple[tuple[Box, float], ...]
    ) -> None:
        self.radius, self.touch, self.field, self.keep_off = radius, touch, field, keep_off
        self.cells: dict[tuple[int, int], list[Point]] = {}
        self.pitch = 2 * max(radius, touch)

    def settle(self, balloon: Balloon) -> Point:
        """Take the cheapest free place; the first wish, where everything is full."""
        best, best_cost = balloon.wishes[0], math.inf
        own = around(balloon.shape)
        for point, cost in self._candidates(balloon):
            if cost >= best_cost:
                continue
            total = cost + self._cost(point, own)
            if total < best_cost:
                best, best_cost = point, total
        self.cells.setdefault(self._cell(best), []).append(best)
        return best

    def _candidates(self, balloon: Balloon) -> Iterator[tuple[Point, float]]:
        """Wishes first, then places farther and farther from the best one; costs in radii."""
        yield from ((wish, rank * 0.16) for rank, wish in enumerate(balloon.wishes))
        x, y = balloon.wishes[0]
        for ring in range(1, _RINGS):
            reach = ring * 0.5
            for turn in range(_TURNS):
                angle = 2 * math.pi * turn / _TURNS
                dx, dy = reach * math.cos(angle), reach * math.sin(angle)
                yield (x + dx * self.radius, y + dy * self.radius), 0.64 + reach

    def _cost(self, point: Point, own: Box) -> float:
        x, y = point
        left, top, width, height = self.field
        r = self.radius
        if not (left + r <= x <= left + width - r and top + r <= y <= top + height - r):
            return math.inf
        return self._crowding(point) + self._covering(point, own)

    def _crowding(self, point: Point) -> float:
        """Touching another balloon is out of the question; sharing its taps costs a lot."""
        cost = 0.0
        for other in self._near(point):
            apart = math.dist(point, other)
            if apart < 2 * self.radius * 1.12:
                return math.inf
            cost += max(0.0, 2 * self.touch - apart) * 4 / self.radius
        return cost

    def _covering(self, point: Point, own: Box) -> float:
        x, y, r = point[0], point[1], self.radius
        return sum(
            cost
            for box, cost in self.keep_off
            if box[0] - r < x < box[0] + box[2] + r
            and box[1] - r < y < box[1] + box[3] + r
            and box != own
        )

    def _near(self, point: Point) -> Iterator[Point]:
        column, row = self._cell(point)
        for i in (-1, 0, 1):
            for j in (-1, 0, 1):
                yield from self.cells.get((column + i, row + j), ())

    def _cell(self, point: Point) -> tuple[int, int]:
        return math.floor(point[0] / self.pitch), math.floor(point[1] / self.pitch)


def draw(placed: Placed, line: float, chosen: bool = False) -> Item:
    """A balloon: circle and number, led back to its station where it stands clear of it."""
    x, y = placed.at
    size = placed.radius * 1.22
    fill, text = ("ink", "sheet") if chosen else ("sheet", "ink")
    half = placed.radius * 0.86
    disc: tuple[Item, ...] = (
        *_leader(placed, line),
        Circle(x, y, placed.radius, Pen(fill, "ink", line)),
        Label(
            x,
            y + size * ASCENT / 2 * 0.94,
            str(placed.balloon.number),
            _size(placed.balloon.number, size),
            bold=True,
            anchor="middle",
            colour=text,
            box=(x - half, y - half, 2 * half, 2 * half),
        ),
    )
    if not placed.balloon.link:
        return Group(disc, "balloon")
    target = Circle(x, y, placed.touch, Pen("sheet", soft=0))
    return Group((target, *disc), "balloon", placed.balloon.link, placed.balloon.title)


def _size(number: int, size: float) -> float:
    """Three digits stand a size smaller than two, since the circle is the same."""
    return size if number < 100 else size * 0.78


def _leader(placed: Placed, line: float) -> tuple[Item, ...]:
    """A line to the station, from a balloon that does not touch it."""
    end = _nearest(placed.at, placed.balloon.shape)
    if math.dist(placed.at, end) <= placed.radius or _within(placed.at, placed.balloon.shape):
        return ()
    x, y, width, height = around(placed.balloon.shape)
    middle = (x + width / 2, y + height / 2)
    share = min(0.5, placed.radius * 0.5 / max(math.dist(end, middle), 1e-6))
    into = (end[0] + (middle[0] - end[0]) * share, end[1] + (middle[1] - end[1]) * share)
    pen = Pen(stroke="ink", width=line * 0.7)
    return Line(placed.at, into, pen), Circle(into[0], into[1], line * 1.3, Pen("ink"))


def _within(point: Point, ring: tuple[Point, ...]) -> bool:
    inside = False
    for (ax, ay), (bx, by) in _edges(ring):
        if (ay > point[1]) != (by > point[1]):
            inside ^= point[0] < ax + (point[1] - ay) * (bx - ax) / (by - ay)
    return inside


def _nearest(point: Point, ring: tuple[Point, ...]) -> Point:
    return min((_foot(point, a, b) for a, b in _edges(ring)), key=lambda p: math.dist(p, point))


def _edges(ring: tuple[Point, ...]) -> Iterator[tuple[Point, Point]]:
    return zip(ring, (*ring[1:], ring[0]), strict=True)


def _foot(point: Point, a: Point, b: Point) -> Point:
    """The point of a side that is nearest."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    length = dx * dx + dy * dy or 1.0
    t = min(max(((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / length, 0.0), 1.0)
    return a[0] + t * dx, a[1] + t * dy
