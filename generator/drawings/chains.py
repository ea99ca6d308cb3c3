"""Chains of dimensions round a room: where they stand, what they measure, how far they reach."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from generator.drawings import measures
from generator.drawings.ink import Item, Point
from generator.drawings.manner import Manner
from generator.drawings.shell import Shell, Wall
from generator.drawings.view import View
from generator.shop.records.room import Door

_SQUARE = 0.999
_SIDES: tuple[Point, ...] = ((0.0, 1.0), (1.0, 0.0), (0.0, -1.0), (-1.0, 0.0))
_PITCH = 1.55
"""From one chain to the next, in heights of text."""

Measured = tuple[Wall, tuple[float, ...]]
"""A wall and the places along it between which it is measured [mm]."""


@dataclass(frozen=True, slots=True)
class Side:
    """One side of the drawing, with the walls that face it."""

    out: Point
    walls: tuple[Wall, ...]

    @property
    def above_or_left(self) -> bool:
        """Where the grid's letters and numbers are, and figures stand outside their line."""
        return self.out[1] > 0 or self.out[0] < 0


class Chains:
    """The dimensions of a room at one scale.

    Every wall that runs square to the sheet is measured in one chain for its side, outside
    the whole room; a wall at a slant is measured along itself. ``inside`` are points that the
    drawing must reach as well, should something stand outside the walls.
    """

    def __init__(
        self, shell: Shell, view: View, manner: Manner, inside: Iterable[Point] = ()
    ) -> None:
        self.shell, self.view, self.manner = shell, view, manner
        self.inside = tuple(inside)
        self.sides = tuple(
            Side(out, walls) for out in _SIDES if (walls := tuple(self._facing(out)))
        )

    def _facing(self, out: Point) -> Iterator[Wall]:
        for wall in self.shell.walls:
            if wall.out[0] * out[0] + wall.out[1] * out[1] > _SQUARE:
                yield wall

    def _slanted(self) -> Iterator[Wall]:
        square = {wall for side in self.sides for wall in side.walls}
        return (wall for wall in self.shell.walls if wall not in square)

    def _clear(self, wall: Wall) -> float:
        """How far from a wall's inner face its symbols and open leaves reach."""
        leaves = (_leaf(door) for door in self._doors(wall) if door.opens == "out")
        leaf = self.view.length(max(leaves, default=0.0))
        return self.view.length(self.shell.thickness) + max(self.manner.band, leaf)

    def _doors(self, wall: Wall) -> Iterator[Door]:
        for door in self.shell.room.doors.values():
            if self.shell.wall_of(door.hinge, door.latch) == wall:
                yield door

    def _edge(self, side: Side) -> float:
        """How far out everything on a side reaches, measured along ``side.out``."""
        return max(self._across(side, wall) + self._clear(wall) for wall in side.walls)

    def _across(self, side: Side, wall: Wall) -> float:
        """Where a wall's inner face stands, measured along ``side.out`` on the drawing."""
        x, y = self.view.at(wall.start)
        return x * side.out[0] - y * side.out[1]

    def _levels(self, side: Side) -> list[list[Measured]]:
        """What is measured on a side, the nearest chain first."""
        manner = self.manner
        walls: list[Measured] = [(wall, (0.0, wall.length)) for wall in side.walls]
        if manner.dimensions < 2:
            return [walls] if manner.dimensions else []
        stops: list[Measured] = [(wall, measures.chain(wall, self.shell)) for wall in side.walls]
        opened = [pair for pair in stops if len(pair[1]) > 2]
        return [level for level in (opened, walls) if level]

    def drawn(self) -> Iterator[Item]:
        """All dimension lines."""
        size = self.manner.text
        for side in self.sides:
            start = self._edge(side) + self._first(side)
            for level, measured in enumerate(self._levels(side)):
                place = start + level * _PITCH * size
                for wall, stops in measured:
                    out = place - self._across(side, wall)
                    yield from self._chain(wall, stops, out)
        if self.manner.dimensions:
            for wall in self._slanted():
                out = self._clear(wall) + size
                yield from self._chain(wall, (0.0, wall.length), out)

    def _chain(self, wall: Wall, stops: tuple[float, ...], out: float) -> tuple[Item, ...]:
        manner, clear = self.manner, self._clear(wall)
        return measures.along_wall(
            self.view,
            wall,
            stops,
            out,
            size=manner.text,
            line=manner.weights.fine,
            clear=clear,
        )

    def _first(self, side: Side) -> float:
        """From what a side carries to its first chain."""
        size = self.manner.text
        return size * (2.9 if self.manner.grid and side.above_or_left else 1.7)

    @property
    def grid_off(self) -> float:
        """How far the grid's letters stand from the outer faces."""
        reach = [self._edge(side) - self._face(side) for side in self.sides if side.above_or_left]
        return max(reach, default=0.0) + self.manner.text * 0.3

    def _face(self, side: Side) -> float:
        """The outer face farthest out on a side."""
        faces = (self._across(side, wall) for wall in side.walls)
        return max(faces) + self.view.length(self.shell.thickness)

    def extent(self) -> tuple[float, float, float, float]:
        """Left, top, right and bottom of walls, symbols, leaves, grid and dimensions."""
        points = list(self.view.ring((*self.shell.outer, *self.inside)))
        for wall in self.shell.walls:
            far = (self._clear(wall) + 2) / self.view.scale
            points += [self.view.at(wall.place(along, far)) for along in (0.0, wall.length)]
        reach = [(side.out, self._reach(side)) for side in self.sides]
        points += [(u * far, -v * far) for (u, v), far in reach]
        return _bounds(points, reach)

    def _reach(self, side: Side) -> float:
        size, levels = self.manner.text, len(self._levels(side))
        if levels:
            beyond = 1.5 if side.above_or_left else 0.6
            return self._edge(side) + self._first(side) + ((levels - 1) * _PITCH + beyond) * size
        return self._edge(side) + (size * 1.4 if self.manner.grid and side.above_or_left else 2)


def _bounds(
    points: list[Point], reach: list[tuple[Point, float]]
) -> tuple[float, float, float, float]:
    """The bounds of points and of how far each side reaches along its own direction."""
    xs = [p[0] for p in points] + [u * far for (u, _v), far in reach if u]
    ys = [p[1] for p in points] + [-v * far for (_u, v), far in reach if v]
    return min(xs), min(ys), max(xs), max(ys)


def _leaf(door: Door) -> float:
    (ax, ay), (bx, by) = door.hinge, door.latch
    return float(((ax - bx) ** 2 + (ay - by) ** 2) ** 0.5)
