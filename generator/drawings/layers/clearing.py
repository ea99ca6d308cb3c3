"""Where a label finds room on a drawing: the nearest place that covers nothing that is read."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry.base import BaseGeometry

from generator.drawings import type
from generator.drawings.ink import Box, Label, Point
from generator.drawings.view import around

Floats = npt.NDArray[np.float64]

_RINGS = 9
_TURNS = 12
_LATER_WISH = 9.0
"""How far a label would rather move than take a later wish [units]."""

_TRIES = 48
_AIR = 1.5
"""Paper left white round every label [units]."""


def box_of(label: Label) -> Box:
    """The upright box a label takes up, by the type's own metrics."""
    wide = type.width(label.text, label.size, label.bold)
    left = {"start": 0.0, "middle": -wide / 2, "end": -wide}[label.anchor]
    angle = math.radians(label.turn)
    cos, sin = math.cos(angle), math.sin(angle)
    corners = [(x, y) for x in (left, left + wide) for y in (-label.size * type.ASCENT, 0.0)]
    return around([(label.x + x * cos - y * sin, label.y + x * sin + y * cos) for x, y in corners])


class Clearing:
    """What is taken on a drawing, and where there is still room.

    Parameters
    ----------
    field
        The drawing: nothing stands outside it.
    taken
        Boxes that are never covered.
    walls
        What is cut through on the plan, prepared: its hatch takes no words.
    dear
        Boxes better left uncovered, each with how far a label would rather move [units].
    floor
        The room, prepared: labels would rather stand in it than beside it.
    """

    def __init__(
        self,
        field: Box,
        taken: Iterable[Box],
        walls: BaseGeometry,
        dear: Iterable[tuple[Box, float]],
        floor: BaseGeometry,
    ) -> None:
        self.field, self.walls, self.floor = field, walls, floor
        self._taken = _Rows(4, taken)
        self._dear = _Rows(5, ((*box, cost) for box, cost in dear))

    def keep(self, *boxes: Box) -> None:
        """Take places that are already decided."""
        self._taken.add(boxes)

    def spare(self, points: Iterable[Point], cost: float, size: float = 6.0) -> None:
        """Let labels rather not cover a course through some points."""
        half = size / 2
        self._dear.add((x - half, y - half, size, size, cost) for x, y in points)

    def take(
        self, size: tuple[float, float], wishes: Sequence[Point], reach: float = 60.0
    ) -> Box | None:
        """The free box nearest to one of some wished middles, taken from now on.

        None where nothing is free within ``reach`` of any of them.
        """
        middles, cost = self._candidates(size, wishes, reach)
        corners = middles - np.asarray(size) / 2
        cost = np.where(self._shut(corners, size), np.inf, cost + self._dearness(corners, size))
        cost += np.where(shapely.contains_xy(self.floor, *middles.T), 0.0, 30.0)
        for number in np.argsort(cost, kind="stable")[:_TRIES]:
            if not math.isfinite(cost[number]):
                break
            x, y = corners[number].tolist()
            if not self.walls.intersects(shapely.box(x, y, x + size[0], y + size[1])):
                self.keep((x, y, *size))
                return x, y, *size
        return None

    def anywhere(self, size: tuple[float, float], wish: Point) -> Box | None:
        """The free box nearest to a wish on the whole drawing, taken from now on."""
        step, (left, top, width, height) = 14.0, self.field
        across = np.arange(left + size[0] / 2, left + width - size[0] / 2 + 0.01, step)
        down = np.arange(top + size[1] / 2, top + height - size[1] / 2 + 0.01, step)
        spots = [(float(x), float(y)) for y in down for x in across]
        spots.sort(key=lambda spot: math.dist(spot, wish))
        for start in range(0, len(spots), 60):
            if box := self.take(size, spots[start : start + 60], reach=0.0):
                return box
        return None

    def _candidates(
        self, size: tuple[float, float], wishes: Sequence[Point], reach: float
    ) -> tuple[Floats, Floats]:
        """Middles round every wish, and what each costs for being off it."""
        radii = np.arange(1, _RINGS + 1) * (reach / _RINGS) if reach else np.empty(0)
        angles = np.arange(_TURNS) * (math.tau / _TURNS)
        wide = 1.0 + 0.4 * min(size[0] / size[1], 3.0)  # a wide label moves aside farther
        rings = radii[:, None, None] * np.stack([wide * np.cos(angles), np.sin(angles)], axis=1)
        off = np.concatenate([np.zeros((1, 2)), rings.reshape(-1, 2)])
        away = np.concatenate([np.zeros(1), np.repeat(radii, _TURNS)])
        late = np.arange(len(wishes)) * (_LATER_WISH if reach else 1.0)
        middles = np.asarray(wishes, dtype=np.float64)[:, None] + off
        return middles.reshape(-1, 2), (late[:, None] + away).reshape(-1)

    def _shut(self, corners: Floats, size: tuple[float, float]) -> npt.NDArray[np.bool_]:
        """Which boxes leave the drawing or touch what is taken."""
        left, top, width, height = self.field
        x, y = corners.T
        outside = (x < left) | (y < top)
        outside |= (x + size[0] > left + width) | (y + size[1] > top + height)
        near = _near(corners, size, self._taken.all)
        return np.asarray(outside | _meet(corners, size, near, _AIR).any(axis=1))

    def _dearness(self, corners: Floats, size: tuple[float, float]) -> Floats:
        near = _near(corners, size, self._dear.all)
        return np.asarray(_meet(corners, size, near[:, :4], 0.0) @ near[:, 4])


class _Rows:
    """Rows of figures that grow in number: an array with room to spare at its end."""

    def __init__(self, width: int, rows: Iterable[Sequence[float]]) -> None:
        self._kept: Floats = np.empty((256, width))
        self._count = 0
        self.add(rows)

    @property
    def all(self) -> Floats:
        return self._kept[: self._count]

    def add(self, rows: Iterable[Sequence[float]]) -> None:
        new = np.asarray(list(rows), dtype=np.float64).reshape(-1, self._kept.shape[1])
        end = self._count + len(new)
        if end > len(self._kept):
            self._kept = np.concatenate([self.all, np.empty((end, self._kept.shape[1]))])
        self._kept[self._count : end] = new
        self._count = end


def _near(corners: Floats, size: tuple[float, float], rows: Floats) -> Floats:
    """Those of some boxes that any of the places comes near: most of a drawing is far off."""
    (x0, y0), (x1, y1) = corners.min(axis=0), corners.max(axis=0)
    x, y, width, height = rows[:, :4].T
    across = (x < x1 + size[0] + _AIR) & (x + width > x0 - _AIR)
    return np.asarray(rows[across & (y < y1 + size[1] + _AIR) & (y + height > y0 - _AIR)])


def _meet(
    corners: Floats, size: tuple[float, float], boxes: Floats, air: float
) -> npt.NDArray[np.bool_]:
    """Whether the box at each corner [row] meets each of some boxes [column]."""
    x, y = corners[:, :1], corners[:, 1:]
    left, top, width, height = boxes.T
    return np.asarray(
        (x < left + width + air)
        & (left - air < x + size[0])
        & (y < top + height + air)
        & (top - air < y + size[1])
    )
