"""From the floor to the sheet: millimetres of the room, y up, to units of a drawing, y down."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from generator.drawings.ink import Box, Point


@dataclass(frozen=True, slots=True)
class View:
    """A scale and the place of the room's origin on the drawing.

    ``scale`` is units of the drawing for one millimetre of the room.
    """

    scale: float
    left: float
    bottom: float

    def at(self, point: Point) -> Point:
        """Where a point of the floor lies on the drawing."""
        return self.left + point[0] * self.scale, self.bottom - point[1] * self.scale

    def ring(self, points: Iterable[Point]) -> tuple[Point, ...]:
        """An outline of the floor on the drawing."""
        left, bottom, scale = self.left, self.bottom, self.scale
        return tuple((left + x * scale, bottom - y * scale) for x, y in points)

    def length(self, mm: float) -> float:
        """A length of the floor on the drawing."""
        return mm * self.scale

    def floor(self, point: Point) -> Point:
        """Where a point of the drawing lies on the floor."""
        return (point[0] - self.left) / self.scale, (self.bottom - point[1]) / self.scale


def around(points: Iterable[Point], margin: float = 0.0) -> Box:
    """The upright box round some points."""
    xs, ys = zip(*points, strict=True)
    left, top = min(xs) - margin, min(ys) - margin
    return left, top, max(xs) + margin - left, max(ys) + margin - top


def overlaps(a: Box, b: Box) -> bool:
    """Whether two boxes share more than an edge."""
    return a[0] < b[0] + b[2] and b[0] < a[0] + a[2] and a[1] < b[1] + b[3] and b[1] < a[1] + a[3]


def inside(a: Box, b: Box) -> bool:
    """Whether box ``a`` lies wholly in box ``b``."""
    return (
        a[0] >= b[0]
        and a[1] >= b[1]
        and a[0] + a[2] <= b[0] + b[2] + 1e-6
        and a[1] + a[3] <= b[1] + b[3] + 1e-6
    )


def grid_place(point: Point) -> str:
    """The square metre a point of the floor lies in: letter along x, number along y (``C4``)."""
    column, row = int(max(point[0], 0) // 1000), int(max(point[1], 0) // 1000)
    return f"{column_letters(column)}{row + 1}"


def column_letters(index: int) -> str:
    """A, B … Z, AA, AB … for 0, 1 …"""
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(65 + rest) + letters
    return letters
