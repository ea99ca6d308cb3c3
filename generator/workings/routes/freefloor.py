"""The floor on which the middle of a body can be, and the floor such a body can sweep.

A body is a disc of a given width. Its middle can be wherever the bare floor, taken in by half
the width less half a millimetre, still is: so an aisle of exactly the width lets it pass.
Corners are rounded, as a body goes round them; the arcs are inscribed, so that at a corner the
middle may come nearer by :func:`corner_tolerance_mm`, about 2 mm for a body 900 mm wide. Which
gaps let a body pass is never left to the arcs: a gap that is too narrow is cut through.
"""

from __future__ import annotations

import math
from functools import cached_property

import numpy as np
import numpy.typing as npt
import shapely
from shapely import LineString, MultiPolygon, Polygon

from generator.workings.floor.lengths import SPARE_MM
from generator.workings.floor.standing import Standing, polygons_of, prepared
from generator.workings.footprint import Point
from generator.workings.routes.gaps import Narrows

Floats = npt.NDArray[np.float64]

ARC_STEPS = 8
"""Straight pieces to a quarter turn."""

_CUT_MM = 0.25
_EDGE_MM = 0.05


def corner_tolerance_mm(width_mm: float) -> float:
    """How much nearer to a corner a middle may come than half the width, at most [mm].

    It is the rise of an arc over its chord: half the width times 1 - cos(45°/ARC_STEPS).
    """
    return width_mm / 2 * (1 - math.cos(math.pi / 4 / ARC_STEPS))


class FreeFloor:
    """Where a body of one width can be.

    Parameters
    ----------
    standing
        The room with everything in it.
    narrows
        Its gaps.
    width_mm
        The width of the body [mm].
    """

    def __init__(self, standing: Standing, narrows: Narrows, width_mm: float) -> None:
        self.width_mm = width_mm
        self.half_mm = (width_mm - SPARE_MM) / 2
        self.parts = _eroded(standing, narrows, width_mm)
        """Where the middle of the body can be, in separate parts."""
        shapely.prepare(self.parts)

    @cached_property
    def shape(self) -> MultiPolygon:
        """All parts as one shape."""
        return prepared(MultiPolygon(self.parts))

    @cached_property
    def edge(self) -> tuple[Floats, Floats]:
        """The pieces of its edge: where each starts, and the step to its end [n, 2]."""
        rings = [np.asarray(r.coords) for p in self.parts for r in (p.exterior, *p.interiors)]
        starts = [ring[:-1] for ring in rings] or [np.empty((0, 2))]
        steps = [np.diff(ring, axis=0) for ring in rings] or [np.empty((0, 2))]
        return np.concatenate(starts), np.concatenate(steps)

    @cached_property
    def whole(self) -> MultiPolygon:
        """All parts with a hair's breadth around, quick to ask about points and lines."""
        return prepared(self.shape.buffer(_EDGE_MM, join_style="mitre", quad_segs=1))

    def part_at(self, point: Point) -> int | None:
        """The number of the part a middle at a point is in."""
        spot = shapely.Point(point)
        near = shapely.dwithin(self.parts, spot, _EDGE_MM)
        return int(near.argmax()) if near.any() else None

    def swept(self, *parts: int) -> MultiPolygon:
        """The floor the whole body sweeps when its middle goes all over some parts."""
        shapes = [self.parts[n] for n in parts]
        grown = MultiPolygon(shapes).buffer(self.half_mm, quad_segs=ARC_STEPS)
        return MultiPolygon(polygons_of(grown))


def _eroded(standing: Standing, narrows: Narrows, width_mm: float) -> tuple[Polygon, ...]:
    half = (width_mm - SPARE_MM) / 2
    taken_in = MultiPolygon(standing.floor).buffer(-half, quad_segs=ARC_STEPS)
    shut = [LineString(g.ends) for g in narrows.gaps if not g.lets_pass(width_mm)]
    across = [line for line in shut if line.intersects(taken_in)]
    cut = shapely.union_all(across).buffer(_CUT_MM, cap_style="flat") if across else Polygon()
    return polygons_of(taken_in.difference(cut))
