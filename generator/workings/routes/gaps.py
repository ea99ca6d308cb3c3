"""Where the floor is narrow: every place where a widening body would first be stopped.

Take the distance from each point of the floor to whatever is nearest. Between two obstacles it
is smallest along the way at the middle of a gap: a line from corner to corner, or from a corner
square to a face, whose circle holds nothing else. Those lines never cross, and they cut the
floor into cells inside which nothing is narrower than the lines a body came in by. So the
widest body that can go from one place to another is found on the cells alone, exactly: no grid,
no trial widths.
"""

from __future__ import annotations

import heapq
import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import pairwise

import numpy as np
import numpy.typing as npt
import shapely
from shapely import MultiLineString, Polygon, STRtree

from generator.workings.floor.lengths import falls_short
from generator.workings.floor.standing import TOUCHING_MM, Standing, Thing, polygons_of
from generator.workings.footprint import Point

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]

_SAME_MM = 1e-3
_FLAT = 1e-9
_ON_A_GAP_MM = 0.05


@dataclass(frozen=True, slots=True)
class Gap:
    """A narrow place.

    ``ends`` are its two end points [mm] on ``things`` (None is a wall), ``width_mm`` what lies
    between them. Where two things touch and so close a way, the width is 0.
    """

    ends: tuple[Point, Point]
    width_mm: float
    things: tuple[Thing | None, Thing | None]

    @property
    def middle(self) -> Point:
        """Where a body as wide as the gap has its own middle [mm]."""
        (ax, ay), (bx, by) = self.ends
        return ((ax + bx) / 2, (ay + by) / 2)

    @property
    def pair(self) -> frozenset[str]:
        """The records on its two sides, the same for all gaps between the same two."""
        return frozenset(thing.subject if thing else "room" for thing in self.things)

    @property
    def against_a_wall(self) -> bool:
        """Whether it is no gap at all, because something stands against a wall."""
        return not self.width_mm and None in self.things

    def lets_pass(self, width_mm: float) -> bool:
        """Whether a body goes through."""
        return not falls_short(self.width_mm, width_mm)


@dataclass(frozen=True, slots=True)
class Way:
    """A way through the cells: the gaps it goes through, in order, and the cells before and
    after each."""

    gaps: tuple[Gap, ...]
    cells: tuple[int, ...]

    @property
    def narrowest(self) -> Gap | None:
        """The tightest gap of the way, None where it goes through none."""
        return min(self.gaps, key=lambda gap: round(gap.width_mm, 2), default=None)


class Narrows:
    """All gaps of a floor and the cells between them.

    Parameters
    ----------
    standing
        The room with everything in it.
    """

    def __init__(self, standing: Standing) -> None:
        self._standing = standing
        outline = _Outline(standing.floor)
        chords = _gaps(outline)
        cells, sides = _cells(outline, chords)
        self.cells = tuple(cells)
        self._tree = STRtree(self.cells)
        open_gaps = _named(standing, [chord.ends(outline) for chord in chords])
        links = [(gap, *sides[n]) for n, gap in enumerate(open_gaps)]
        self._links = [*links, *self._closed()]
        self.gaps = tuple(open_gaps)
        self._spreads: dict[tuple[frozenset[int], float | None], _Spread] = {}

    @cached_property
    def _doors(self) -> dict[int, list[tuple[Gap, int]]]:
        """The gaps out of each cell, with the cell beyond."""
        out: dict[int, list[tuple[Gap, int]]] = defaultdict(list)
        for gap, one, other in self._links:
            out[one].append((gap, other))
            out[other].append((gap, one))
        return out

    def _closed(self) -> Iterator[tuple[Gap, int, int]]:
        """Gaps of no width: where things touch and part the floor in two."""
        if len(self._standing.floor) < 2:
            return
        part_of = [self._part(cell) for cell in self.cells]
        for contact, things in _contacts(self._standing):
            near = sorted(self._tree.query(contact.buffer(TOUCHING_MM), "intersects").tolist())
            first, *others = {part_of[cell]: cell for cell in near}.values() or [-1]
            gap = _closed_at(contact, things)
            yield from ((gap, first, other) for other in others)

    def _part(self, cell: Polygon) -> int:
        """The part of the floor a cell belongs to: the nearest, since a sliver's own points may
        by rounding lie a hair outside."""
        inside, parts = cell.representative_point(), self._standing.floor
        return min(range(len(parts)), key=lambda n: parts[n].distance(inside))

    def cells_at(self, point: Point) -> frozenset[int]:
        """The cell a point lies in, both where it lies on a gap, none where there is no floor."""
        spot = shapely.Point(point)
        found = self._tree.query(spot, predicate="dwithin", distance=_ON_A_GAP_MM)
        return frozenset(int(cell) for cell in found)

    def cells_in(self, starts: Iterable[int], area: Polygon, width_mm: float) -> frozenset[int]:
        """The cells that a body of a width enters from some without leaving an area."""
        found = set(starts)
        ahead = list(found)
        while ahead:
            for gap, beyond in self._doors[ahead.pop()]:
                within = area.intersects(shapely.Point(gap.middle))
                if beyond not in found and within and gap.lets_pass(width_mm):
                    found.add(beyond)
                    ahead.append(beyond)
        return frozenset(found)

    def widest(self, starts: Iterable[int], goals: frozenset[int]) -> Way | None:
        """The way that lets the widest body through from one of some cells to one of others.

        None where no way leads there at all. Of ways equally wide it is a short one.
        """
        return self._spread(goals, None).way_from(starts)

    def least_widening(
        self, starts: Iterable[int], goals: frozenset[int], width_mm: float
    ) -> Way | None:
        """The way that needs the least moving about until a body of a width could go it."""
        return self._spread(goals, width_mm).way_from(starts)

    def _spread(self, goals: frozenset[int], width_mm: float | None) -> _Spread:
        """Dijkstra's search from some cells over all others, once for each question."""
        if (goals, width_mm) not in self._spreads:
            self._spreads[goals, width_mm] = _Spread(goals, self._doors, width_mm)
        return self._spreads[goals, width_mm]


class _Spread:
    """The best way from every cell to some goals, by a cost that never falls along the way.

    ``width_mm`` is the width that is to be made room for, None to look for the widest body.
    """

    def __init__(
        self,
        goals: frozenset[int],
        doors: Mapping[int, Sequence[tuple[Gap, int]]],
        width_mm: float | None,
    ) -> None:
        self._best = dict.fromkeys(goals, _Cost())
        self._onward: dict[int, tuple[int, Gap]] = {}
        queue = [(_Cost(), cell) for cell in sorted(goals)]
        while queue:
            cost, cell = heapq.heappop(queue)
            if self._best[cell] < cost:
                continue
            for gap, beyond in doors[cell]:
                new = cost.through(gap, width_mm)
                if beyond not in self._best or new < self._best[beyond]:
                    self._best[beyond], self._onward[beyond] = new, (cell, gap)
                    heapq.heappush(queue, (new, beyond))

    def way_from(self, starts: Iterable[int]) -> Way | None:
        """The best way from one of some cells, None where none leads to a goal."""
        known = [cell for cell in starts if cell in self._best]
        if not known:
            return None
        cells, gaps = [min(known, key=lambda cell: self._best[cell])], []
        while cells[-1] in self._onward:
            cell, gap = self._onward[cells[-1]]
            cells.append(cell)
            gaps.append(gap)
        return Way(tuple(gaps), tuple(cells))


_MEANT = 1.0
"""What stands against a wall is meant to: of two closed ways the other is told [mm]."""


@dataclass(frozen=True, slots=True, order=True)
class _Cost:
    """What is least wanted first, then the length through the middles of the gaps [mm]."""

    worst: float = -math.inf
    length: float = 0.0
    last: Gap | None = field(default=None, compare=False)

    def through(self, gap: Gap, width_mm: float | None) -> _Cost:
        return self._widened(gap) if width_mm is None else self._mended(gap, width_mm)

    def _widened(self, gap: Gap) -> _Cost:
        worst = _MEANT if gap.against_a_wall else -round(gap.width_mm, 2)
        return _Cost(max(self.worst, worst), self._to(gap), gap)

    def _mended(self, gap: Gap, width_mm: float) -> _Cost:
        """With what two things must be moved apart; both ends of one aisle are moved at once."""
        short = _short(gap, width_mm)
        if self.last and self.last.pair == gap.pair:
            short = max(0.0, short - _short(self.last, width_mm))
        return _Cost(max(self.worst, 0.0) + short, self._to(gap), gap)

    def _to(self, gap: Gap) -> float:
        return self.length + (math.dist(self.last.middle, gap.middle) if self.last else 0.0)


def _short(gap: Gap, width_mm: float) -> float:
    if gap.against_a_wall:
        return width_mm + _MEANT
    return 0.0 if gap.lets_pass(width_mm) else round(width_mm - gap.width_mm, 2)


def _named(standing: Standing, ends: Sequence[tuple[Point, Point]]) -> list[Gap]:
    """Gaps with the things their ends lie on."""
    things = standing.at_all([point for pair in ends for point in pair])
    pairs = zip(things[::2], things[1::2], strict=True)
    return [Gap(e, math.dist(*e), pair) for e, pair in zip(ends, pairs, strict=True)]


_Contact = tuple[Polygon, tuple[Thing | None, Thing | None]]


def _contacts(standing: Standing) -> Iterator[_Contact]:
    """Where things touch each other or a wall, or overlap."""
    grown = [t.polygon.buffer(TOUCHING_MM, join_style="mitre") for t in standing.things]
    tree = STRtree(grown)
    for i, j in tree.query(grown, predicate="intersects").T.tolist():
        if i < j:
            pair = (standing.things[i], standing.things[j])
            yield from ((part, pair) for part in polygons_of(grown[i].intersection(grown[j])))
    outside = standing.room.exterior.buffer(TOUCHING_MM, cap_style="flat")
    for thing, shape in zip(standing.things, grown, strict=True):
        yield from ((part, (thing, None)) for part in polygons_of(shape.intersection(outside)))


def _closed_at(contact: Polygon, things: tuple[Thing | None, Thing | None]) -> Gap:
    """A gap of no width in the middle of where two things meet."""
    at = (contact.centroid.x, contact.centroid.y)
    return Gap((at, at), 0.0, things)


# --- corners and faces as arrays -----------------------------------------------------------------


class _Outline:
    """The edge of the floor as arrays: the floor lies to the left of every face.

    ``at`` [n, 2] are the corners, ``before`` and ``after`` the numbers of the corners beside
    each; face n runs from corner n to the next. ``juts`` marks corners that jut into the floor.
    """

    def __init__(self, floor: Sequence[Polygon]) -> None:
        rings = [np.asarray(r.coords)[:-1] for p in floor for r in (p.exterior, *p.interiors)]
        self.at: Floats = np.concatenate(rings) if rings else np.empty((0, 2))
        firsts = np.cumsum([0, *(len(ring) for ring in rings)])
        numbers = [np.arange(a, b) for a, b in pairwise(firsts.tolist())]
        self.before: Ints = _joined([np.roll(n, 1) for n in numbers])
        self.after: Ints = _joined([np.roll(n, -1) for n in numbers])
        self.along: Floats = self.at[self.after] - self.at
        arriving = self.at - self.at[self.before]
        turn = _cross(arriving, self.along)
        scale = np.hypot(*arriving.T) * np.hypot(*self.along.T)
        self.juts: Ints = np.flatnonzero(turn < -1e-6 * scale)

    def foot(self, face: int, share: float) -> Point:
        x, y = (self.at[face] + self.along[face] * share).tolist()
        return (x, y)

    def corner(self, number: int) -> Point:
        x, y = self.at[number].tolist()
        return (x, y)


def _joined(parts: list[Ints]) -> Ints:
    return np.concatenate(parts) if parts else np.empty(0, dtype=np.int64)


def _cross(a: Floats, b: Floats) -> Floats:
    return a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]


def _dot(a: Floats, b: Floats) -> Floats:
    return a[..., 0] * b[..., 0] + a[..., 1] * b[..., 1]


@dataclass(frozen=True, slots=True)
class _Chord:
    """A gap from a corner to another corner (``share`` None), or to a face at a share of it."""

    corner: int
    other: int
    share: float | None

    def ends(self, outline: _Outline) -> tuple[Point, Point]:
        end = outline.corner(self.other) if self.share is None else None
        return (outline.corner(self.corner), end or outline.foot(self.other, self.share or 0.0))


def _gaps(outline: _Outline) -> list[_Chord]:
    """The gaps: candidates by the angles at their ends, then those whose circle is empty."""
    pairs = _between_corners(outline)
    feet = _onto_faces(outline)
    start = np.concatenate([pairs[0], feet[0]])
    other = np.concatenate([pairs[1], feet[1]])
    share = np.concatenate([np.full(len(pairs[0]), np.nan), feet[2]])
    p = outline.at[start]
    q = np.where(
        np.isnan(share)[:, None],
        outline.at[other],
        outline.at[other] + outline.along[other] * np.nan_to_num(share)[:, None],
    )
    kept = _empty(outline, p, q)
    return [
        _Chord(int(a), int(b), None if math.isnan(s) else float(s))
        for a, b, s in zip(start[kept], other[kept], share[kept], strict=True)
    ]


def _between_corners(outline: _Outline) -> tuple[Ints, Ints]:
    """Pairs of jutting corners that face each other square or more."""
    rows, columns = np.triu_indices(len(outline.juts), k=1)
    one, other = outline.juts[rows], outline.juts[columns]
    towards = outline.at[other] - outline.at[one]
    kept = _faces(outline, one, towards) & _faces(outline, other, -towards)
    return one[kept], other[kept]


def _faces(outline: _Outline, corner: Ints, towards: Floats) -> npt.NDArray[np.bool_]:
    """Whether a direction leaves a corner square to both its faces or more than square."""
    back = outline.at[outline.before[corner]] - outline.at[corner]
    on = outline.along[corner]
    slack = _FLAT * np.hypot(*towards.T)
    return np.asarray(
        (_dot(towards, back) <= slack * np.hypot(*back.T))
        & (_dot(towards, on) <= slack * np.hypot(*on.T))
    )


def _onto_faces(outline: _Outline) -> tuple[Ints, Ints, Floats]:
    """Feet of jutting corners on faces they look at square."""
    corners, faces = np.meshgrid(outline.juts, np.arange(len(outline.at)), indexing="ij")
    corner, face = corners.ravel(), faces.ravel()
    away = outline.at[corner] - outline.at[face]
    along = outline.along[face]
    length = np.hypot(*along.T)
    share = _dot(away, along) / length**2
    inside = (share * length > _SAME_MM) & ((1 - share) * length > _SAME_MM)
    kept = inside & (_cross(along, away) > _SAME_MM * length)
    corner, face, share = corner[kept], face[kept], share[kept]
    foot = outline.at[face] + outline.along[face] * share[:, None]
    kept = _faces(outline, corner, foot - outline.at[corner])
    return corner[kept], face[kept], share[kept]


def _empty(outline: _Outline, p: Floats, q: Floats) -> Ints:
    """Which lines from p to q have a circle about them that nothing else touches."""
    middle, half = (p + q) / 2, np.hypot(*(q - p).T) / 2
    edges = np.stack([outline.at, outline.at[outline.after]], axis=1)
    whole = MultiLineString(list(edges))
    shapely.prepare(whole)
    rough = ~shapely.dwithin(whole, shapely.points(middle), half - 2 * _SAME_MM)
    kept = np.flatnonzero(rough)
    return kept[[_alone(outline, p[n], q[n]) for n in kept]] if len(kept) else kept


def _alone(outline: _Outline, p: Floats, q: Floats) -> bool:
    """Whether the circle about p and q touches the edge of the floor nowhere but there."""
    middle = (p + q) / 2
    away = middle - outline.at
    share = np.clip(_dot(away, outline.along) / _dot(outline.along, outline.along), 0, 1)
    nearest = outline.at + outline.along * share[:, None]
    at_end = np.minimum(np.hypot(*(nearest - p).T), np.hypot(*(nearest - q).T)) < _SAME_MM
    inside = np.hypot(*(nearest - middle).T) < np.hypot(*(q - p)) / 2 + _SAME_MM
    return not bool(np.any(inside & ~at_end))


# --- cells ---------------------------------------------------------------------------------------


def _cells(
    outline: _Outline, chords: Sequence[_Chord]
) -> tuple[list[Polygon], list[tuple[int, int]]]:
    """The faces of the floor cut along the gaps, and the two faces beside each gap."""
    walk = _Walk(outline, chords)
    face_of = [-1] * len(walk.heads)
    cells: list[Polygon] = []
    for start in range(len(walk.heads)):
        if face_of[start] < 0:
            ring = walk.round(start)
            for half in ring:
                face_of[half] = len(cells)
            cells.append(Polygon([walk.points[walk.tails[half]] for half in ring]))
    first = len(walk.heads) - 2 * len(chords)
    sides = [(face_of[first + 2 * n], face_of[first + 2 * n + 1]) for n in range(len(chords))]
    return cells, sides


class _Walk:
    """The edge of the floor and both sides of every gap, as steps from node to node.

    Taking the sharpest left at every node walks round one cell.
    """

    def __init__(self, outline: _Outline, chords: Sequence[_Chord]) -> None:
        self.points = [outline.corner(n) for n in range(len(outline.at))]
        feet: dict[int, list[tuple[float, int]]] = defaultdict(list)
        ends = []
        for chord in chords:
            end = chord.other
            if chord.share is not None:
                end = len(self.points)
                self.points.append(outline.foot(chord.other, chord.share))
                feet[chord.other].append((chord.share, end))
            ends.append((chord.corner, end))
        self.tails: list[int] = []
        self.heads: list[int] = []
        for face in range(len(outline.at)):
            between = [node for _share, node in sorted(feet[face])]
            for tail, head in pairwise([face, *between, int(outline.after[face])]):
                self._step(tail, head)
        for one, other in ends:
            self._step(one, other)
            self._step(other, one)
        self._out = self._steps_out()

    def _step(self, tail: int, head: int) -> None:
        self.tails.append(tail)
        self.heads.append(head)

    def _steps_out(self) -> dict[int, list[tuple[float, int]]]:
        out: dict[int, list[tuple[float, int]]] = defaultdict(list)
        for step, tail in enumerate(self.tails):
            out[tail].append((self._heading(step), step))
        return out

    def _heading(self, step: int) -> float:
        (ax, ay), (bx, by) = self.points[self.tails[step]], self.points[self.heads[step]]
        return math.atan2(by - ay, bx - ax)

    def _next(self, step: int) -> int:
        back = self._heading(step) + math.pi
        tail = self.tails[step]

        def turn(out: tuple[float, int]) -> float:
            clockwise = (back - out[0]) % math.tau
            returns = self.heads[out[1]] == tail and not _FLAT < clockwise < math.tau - _FLAT
            return math.tau if returns else clockwise

        return min(self._out[self.heads[step]], key=turn)[1]

    def round(self, start: int) -> list[int]:
        """The steps round the cell to the left of a step."""
        ring = {start: None}
        while (step := self._next(next(reversed(ring)))) not in ring:
            ring[step] = None
        return list(ring)
