"""Where the numbered balloons of a plan go, so that no two touch and each can be tapped."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from generator.drawings.ink import Box, Circle, Group, Item, Label, Line, Pen, Point, Polygon
from generator.drawings.type import ASCENT
from generator.drawings.view import around

_RINGS = 20
"""How far a balloon may move from its station, in half radii: a longer leader is not followed."""

_TURNS = 16


Cell = tuple[int, int]


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
    """A balloon with its middle, and how far round it a tap counts.

    Where there was no room for it ``at`` is None: then its station itself answers the tap.
    """

    balloon: Balloon
    at: Point | None
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
    board = _Board(radius, touch, field, keep_off)
    middles = {b.number: board.settle(b) for b in sorted(balloons, key=_most_hemmed_in)}
    return tuple(Placed(b, at := middles[b.number], radius, board.room(at)) for b in balloons)


def _most_hemmed_in(balloon: Balloon) -> tuple[float, int]:
    """Small stations choose first: their numbers have the fewest places to go."""
    _x, _y, width, height = around(balloon.shape)
    return width * height, balloon.number


class _Board:
    """The places taken so far, and what is to be kept free, by cells of the drawing."""

    def __init__(
        self, radius: float, touch: float, field: Box, keep_off: Iterable[tuple[Box, float]]
    ) -> None:
        self.radius, self.touch, self.field = radius, touch, field
        self.pitch = 2 * max(radius, touch)
        self.taken: dict[Cell, list[Point]] = {}
        self.kept: dict[Cell, list[tuple[Box, float]]] = {}
        for box, cost in keep_off:
            for cell in self._cells(box):
                self.kept.setdefault(cell, []).append((box, cost))

    def settle(self, balloon: Balloon) -> Point | None:
        """Take the cheapest free place, or none where no place is free."""
        best, best_cost = None, math.inf
        own = around(balloon.shape)
        for point, cost in self._candidates(balloon):
            if cost >= best_cost:
                break
            total = cost + self._crowding(point)
            if total < best_cost:
                total += self._covering(point, own)
            if total < best_cost:
                best, best_cost = point, total
        if best:
            self.taken.setdefault(self._cell(best), []).append(best)
        return best

    def room(self, at: Point | None) -> float:
        """How far round a balloon taps can count without counting twice."""
        if at is None:
            return 0.0
        others = (math.dist(at, other) for other in self._near(at) if other != at)
        return max(self.radius, min(self.touch, min(others, default=math.inf) / 2))

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

    def _on_paper(self, point: Point) -> bool:
        x, y = point
        left, top, width, height = self.field
        r = self.radius
        return left + r <= x <= left + width - r and top + r <= y <= top + height - r

    def _crowding(self, point: Point) -> float:
        """Touching another balloon is out of the question; sharing its taps costs a lot."""
        if not self._on_paper(point):
            return math.inf
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
            for box, cost in self.kept.get(self._cell(point), ())
            if box[0] - r < x < box[0] + box[2] + r
            and box[1] - r < y < box[1] + box[3] + r
            and box != own
        )

    def _near(self, point: Point) -> Iterator[Point]:
        column, row = self._cell(point)
        for i in (-1, 0, 1):
            for j in (-1, 0, 1):
                yield from self.taken.get((column + i, row + j), ())

    def _cell(self, point: Point) -> Cell:
        return math.floor(point[0] / self.pitch), math.floor(point[1] / self.pitch)

    def _cells(self, box: Box) -> Iterator[Cell]:
        """Every cell from which a balloon can reach into a box."""
        x, y, width, height = box
        left, top = self._cell((x - self.radius, y - self.radius))
        right, bottom = self._cell((x + width + self.radius, y + height + self.radius))
        for column in range(left, right + 1):
            for row in range(top, bottom + 1):
                yield column, row


def draw(placed: Placed, line: float) -> Item:
    """A balloon: circle and number, led back to its station where it stands clear of it."""
    balloon = placed.balloon
    if placed.at is None:
        items: tuple[Item, ...] = (Polygon(balloon.shape, Pen("sheet", soft=0)),)
    else:
        items = (
            Circle(*placed.at, placed.touch, Pen("sheet", soft=0)),
            *_leader(placed.at, placed.radius, balloon.shape, line),
            *_disc(placed.at, placed.radius, balloon.number, line),
        )
    if not balloon.link:
        return Group(items[1:], "balloon")
    return Group(items, "balloon", balloon.link, balloon.title)


def _disc(at: Point, radius: float, number: int, line: float) -> tuple[Item, ...]:
    (x, y), size, half = at, radius * 1.22, radius * 0.86
    box = (x - half, y - half, 2 * half, 2 * half)
    base, text = y + size * ASCENT / 2, _size(number, size)
    label = Label(x, base, str(number), text, bold=True, anchor="middle", box=box)
    return Circle(x, y, radius, Pen("sheet", "ink", line)), label


def _size(number: int, size: float) -> float:
    """Three digits stand a size smaller than two, since the circle is the same."""
    return size if number < 100 else size * 0.78


def _leader(at: Point, radius: float, shape: tuple[Point, ...], line: float) -> tuple[Item, ...]:
    """A line to the station, from a balloon that does not touch it."""
    end = _nearest(at, shape)
    if math.dist(at, end) <= radius or _within(at, shape):
        return ()
    x, y, width, height = around(shape)
    middle = (x + width / 2, y + height / 2)
    share = min(0.5, radius * 0.5 / max(math.dist(end, middle), 1e-6))
    into = (end[0] + (middle[0] - end[0]) * share, end[1] + (middle[1] - end[1]) * share)
    return Line(at, into, Pen(stroke="ink", width=line * 0.7)), Circle(
        *into, line * 1.3, Pen("ink")
    )


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
