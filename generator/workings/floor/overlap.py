"""How far two shapes overlap, in whole micrometres, so that touching is never overlapping."""

from __future__ import annotations

import math
from collections.abc import Sequence

import shapely
from shapely import Polygon

from generator.workings.floor.standing import polygons_of

_UM = 1000

Whole = tuple[int, int]


def overlap_mm(one: Polygon, other: Polygon) -> float:
    """How far one of two shapes must be moved, the shortest way, until they only touch [mm].

    Corners are taken to the micrometre and compared as whole numbers, so benches set side by
    side come out as 0 exactly. A shape that is not convex is taken in triangles, which makes
    the result the least that it can be.
    """
    pairs = ((a, b) for a in _convex(one) for b in _convex(other))
    return max((_depth(a, b) for a, b in pairs), default=0.0)


def _convex(shape: Polygon) -> list[list[Whole]]:
    hull = shape.convex_hull
    if math.isclose(hull.area, shape.area, rel_tol=1e-9):
        return [_whole(shape)]
    return [_whole(part) for part in polygons_of(shapely.constrained_delaunay_triangles(shape))]


def _whole(shape: Polygon) -> list[Whole]:
    return [(round(x * _UM), round(y * _UM)) for x, y in shape.exterior.coords[:-1]]


def _depth(one: Sequence[Whole], other: Sequence[Whole]) -> float:
    """The depth of two convex shapes in each other: the least over all directions of a side."""
    least = math.inf
    for x, y in (*_normals(one), *_normals(other)):
        a = [x * px + y * py for px, py in one]
        b = [x * px + y * py for px, py in other]
        both = min(max(a) - min(b), max(b) - min(a))
        if both <= 0:
            return 0.0
        least = min(least, both / math.hypot(x, y))
    return least / _UM


def _normals(shape: Sequence[Whole]) -> list[Whole]:
    ends = zip(shape, (*shape[1:], shape[0]), strict=True)
    return [(by - ay, ax - bx) for (ax, ay), (bx, by) in ends if (ax, ay) != (bx, by)]
