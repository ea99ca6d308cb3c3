"""A view of the floor turned to its reader: what is ahead of them is up."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from generator.drawings.ink import Point
from generator.drawings.view import View


@dataclass(frozen=True, slots=True)
class Turned(View):
    """A view turned counter-clockwise about the room's origin [degrees]."""

    turn: float = 0.0

    def at(self, point: Point) -> Point:
        """Where a point of the floor lies on the drawing."""
        x, y = _turned(point, self.turn)
        return self.left + x * self.scale, self.bottom - y * self.scale

    def ring(self, points: Iterable[Point]) -> tuple[Point, ...]:
        """An outline of the floor on the drawing."""
        return tuple(self.at(point) for point in points)

    def floor(self, point: Point) -> Point:
        """Where a point of the drawing lies on the floor."""
        x, y = (point[0] - self.left) / self.scale, (self.bottom - point[1]) / self.scale
        return _turned((x, y), -self.turn)

    def direction(self, vector: Point) -> Point:
        """A direction of the floor on the drawing."""
        x, y = _turned(vector, self.turn)
        return x, -y


_QUARTERS = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}
"""Cosine and sine of quarter turns, exactly: walls stay straight on paper."""


def _turned(point: Point, degrees: float) -> Point:
    angle = math.radians(degrees)
    cos, sin = _QUARTERS.get(degrees % 360.0, (math.cos(angle), math.sin(angle)))
    return point[0] * cos - point[1] * sin, point[0] * sin + point[1] * cos
