"""The shortest walks between places, around everything that stands in the way.

A shortest walk bends only at corners that jut into the free floor, and passes each of them as a
line that touches it. So the corners and places are the nodes of a graph and their lines of sight
its edges; lines that do not touch at both ends are on no shortest walk and are left out.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import numpy.typing as npt
import shapely
from shapely import MultiPolygon, Polygon

from generator.workings.footprint import Point
from generator.workings.routes.freefloor import FreeFloor

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
Flags = npt.NDArray[np.bool_]

_STRAIGHT = 1e-9
_SAME_MM = 1e-6
_ROWS = 1024
"""Pairs of corners are looked at so many rows at a time, to keep memory flat."""
_GRAZING_MM2 = 50.0
"""A neighbour a hair's breadth over a line still lies on its one side: as a cross product, so
0.05 mm off a line of 1 m."""
_PROBES = (0.5, 0.25, 0.75, 0.1, 0.9)


class Walks:
    """Shortest walks between any two of some places on a free floor.

    Parameters
    ----------
    free
        Where the middle of the walker can be.
    places
        Points on it [mm]. A point off it is reached from nowhere.
    """

    def __init__(self, free: FreeFloor, places: Sequence[Point]) -> None:
        corners = _corners_of(free.parts)
        spots = np.asarray(places, dtype=np.float64).reshape(-1, 2)
        self._at: Floats = np.concatenate([spots, corners.at])
        self._edges = _edges(*_sight_lines(free.whole, spots, corners), self._at)
        self._layers = self._edges.layers()
        self._far: dict[int, Floats] = {}

    def knows(self, places: Iterable[int]) -> bool:
        """Whether the walks from all of some places are measured already."""
        return all(place in self._far for place in places)

    def look_from(self, places: Iterable[int]) -> None:
        """Measure the walks from some places to everywhere, all at once."""
        new = [place for place in dict.fromkeys(places) if place not in self._far]
        if new:
            far = self._measured(np.asarray(new))
            self._far.update((place, far[:, n]) for n, place in enumerate(new))

    def _measured(self, places: Ints) -> Floats:
        """Lengths to every place and corner [row] from some places [column] in mm, infinite where
        no way leads."""
        far = np.full((len(self._at), len(places)), np.inf)
        far[places, np.arange(len(places))] = 0.0
        moved = np.isin(np.arange(len(self._at)), places)
        while moved.any():
            moved = _walked_on(far, moved, self._layers)
        return far

    def _from(self, place: int) -> Floats:
        self.look_from([place])
        return self._far[place]

    def length(self, start: int, end: int) -> float:
        """The length of the shortest walk between two places [mm], infinite where none leads."""
        known, other = (end, start) if end in self._far else (start, end)
        return float(self._from(known)[other])

    def line(self, start: int, end: int) -> tuple[Point, ...]:
        """The corners of the shortest walk, both places included; empty where none leads."""
        if not math.isfinite(self.length(start, end)):
            return ()
        known, other = (end, start) if end in self._far else (start, end)
        far, nodes = self._from(known), [other]
        while far[nodes[-1]] > _SAME_MM:
            nodes.append(self._edges.before(nodes[-1], far))
        nodes += [known] if nodes[-1] != known else []
        course = nodes if known == end else nodes[::-1]
        return tuple((float(x), float(y)) for x, y in self._at[course])


@dataclass(frozen=True, slots=True)
class _Edges:
    """Edges from ``tail`` to ``head`` with their length [mm], sorted by head.

    Those into node n are numbered from ``first[n]`` up to ``first[n + 1]``.
    """

    tail: Ints
    head: Ints
    long: Floats
    first: Ints

    def layers(self) -> list[_Layer]:
        """The edges parted so that no two of a layer lead to the same head."""
        rank = np.arange(len(self.head)) - self.first[self.head]
        layers = [rank == n for n in range(int(rank.max(initial=-1)) + 1)]
        return [_Layer(self.tail[n], self.head[n], self.long[n]) for n in layers]

    def before(self, node: int, far: Floats) -> int:
        """The node before one on the shortest walk to it, which is nearer to the start."""
        into = slice(self.first[node], self.first[node + 1])
        nearer = far[self.tail[into]]
        steps = np.where(nearer < far[node] - _SAME_MM / 2, nearer, np.inf) + self.long[into]
        return int(self.tail[into][steps.argmin()])


def _edges(one: Ints, other: Ints, at: Floats) -> _Edges:
    """Edges both ways between nodes that see each other."""
    head = np.concatenate([one, other])
    order = np.argsort(head, kind="stable")
    head, tail = head[order], np.concatenate([other, one])[order]
    first = np.searchsorted(head, np.arange(len(at) + 1))
    return _Edges(tail, head, np.hypot(*(at[head] - at[tail]).T), first)


class _Layer(NamedTuple):
    """Edges of which no two lead to the same head."""

    tail: Ints
    head: Ints
    long: Floats


def _walked_on(far: Floats, moved: Flags, layers: Sequence[_Layer]) -> Flags:
    """Walk one edge on from the nodes that came nearer; say which nodes that brings nearer.

    This is Bellman and Ford's search, from all places at once.
    """
    nearer = np.zeros(len(far), dtype=np.bool_)
    for layer in layers:
        live = np.flatnonzero(moved[layer.tail] | nearer[layer.tail])
        head = layer.head[live]
        stepped = far[layer.tail[live]] + layer.long[live, None]
        known = far[head]
        nearer[head] |= (stepped < known - _SAME_MM).any(axis=1)
        far[head] = np.minimum(stepped, known)
    return nearer


@dataclass(frozen=True, slots=True)
class _Corners:
    """The corners of a free floor that jut into it, and the points beside each on the outline."""

    at: Floats
    before: Floats
    after: Floats


def _corners_of(parts: Sequence[Polygon]) -> _Corners:
    rings = [np.asarray(r.coords)[:-1] for p in parts for r in (p.exterior, *p.interiors)]
    at = _stacked(rings)
    before = _stacked([np.roll(ring, 1, axis=0) for ring in rings])
    after = _stacked([np.roll(ring, -1, axis=0) for ring in rings])
    back, on = at - before, after - at
    turn = back[:, 0] * on[:, 1] - back[:, 1] * on[:, 0]
    juts = turn < -_STRAIGHT * np.hypot(*back.T) * np.hypot(*on.T)
    return _Corners(at[juts], before[juts], after[juts])


def _stacked(rings: Sequence[Floats]) -> Floats:
    return np.concatenate(rings) if rings else np.empty((0, 2))


def _sight_lines(whole: MultiPolygon, spots: Floats, corners: _Corners) -> tuple[Ints, Ints]:
    """Lines of sight between places and corners that a shortest walk may follow."""
    count = len(spots)
    pairs = [np.triu_indices(count, k=1), _from_spots(spots, corners), _between(corners, count)]
    one, other = np.concatenate(pairs, axis=1)
    at = np.concatenate([spots, corners.at])
    clear = _clear(whole, at[one], at[other])
    return one[clear], other[clear]


def _clear(whole: MultiPolygon, start: Floats, end: Floats) -> Ints:
    """Which lines lie wholly on the free floor; a few points on each rule out most of the rest."""
    kept = np.arange(len(start))
    for share in _PROBES:
        x, y = (start[kept] * (1 - share) + end[kept] * share).T
        kept = kept[shapely.intersects_xy(whole, x, y)]
    lines = shapely.linestrings(np.stack([start[kept], end[kept]], axis=1))
    return kept[shapely.covers(whole, lines) | (shapely.length(lines) < _SAME_MM)]


def _from_spots(spots: Floats, corners: _Corners) -> tuple[Ints, Ints]:
    spot, corner = np.nonzero(_touches(corners, spots))
    return spot, corner + len(spots)


def _between(corners: _Corners, offset: int) -> tuple[Ints, Ints]:
    """Pairs of corners whose line touches both."""
    count = len(corners.at)
    seen = np.empty((count, count), dtype=np.bool_)
    for first in range(0, count, _ROWS):
        rows = slice(first, first + _ROWS)
        seen[rows] = _touches(corners, corners.at[rows])
    one, other = np.nonzero(np.triu(seen & seen.T, k=1))
    return one + offset, other + offset


def _touches(corners: _Corners, points: Floats) -> Flags:
    """Whether the line from a point [row] to a corner [column] touches it: both of the corner's
    neighbours lie on one side of it."""
    back = _side(points, corners.at, corners.before)
    on = _side(points, corners.at, corners.after)
    left = np.minimum(back, on) >= -_GRAZING_MM2
    return np.asarray(left | (np.maximum(back, on) <= _GRAZING_MM2))


def _side(points: Floats, corner: Floats, neighbour: Floats) -> npt.NDArray[np.float32]:
    """On which side of the lines from points to corners the neighbours lie, as cross products.

    Single precision is enough: what is kept is looked at again, and 50 mm² are let pass.
    """
    origin = corner.mean(axis=0) if len(corner) else np.zeros(2)
    x, y = (points - origin).astype(np.float32).T
    step = neighbour - corner
    from_corner = np.sum((corner - origin) * np.stack([step[:, 1], -step[:, 0]], axis=1), axis=1)
    across = step.astype(np.float32).T
    side = np.multiply.outer(x, across[1])
    side -= np.multiply.outer(y, across[0])
    side -= from_corner.astype(np.float32)
    return np.asarray(side, dtype=np.float32)
