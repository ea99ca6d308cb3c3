"""Areas filled with parallel strokes, as plain geometry that any writer can draw."""

from __future__ import annotations

import math
from collections.abc import Iterator

import shapely
from shapely import LineString
from shapely.affinity import rotate
from shapely.geometry.base import BaseGeometry

from generator.drawings.ink import Point, path_of


def hatched(area: BaseGeometry, pitch: float, slope_deg: float = 45.0) -> str:
    """Path data of parallel strokes over an area, as a hatch that any writer can draw."""
    if area.is_empty:
        return ""
    middle = area.envelope.centroid
    x0, y0, x1, y1 = area.bounds
    reach = math.hypot(x1 - x0, y1 - y0) / 2 + pitch
    count = int(reach / pitch)
    strokes = shapely.MultiLineString(
        [
            [(middle.x - reach, middle.y + i * pitch), (middle.x + reach, middle.y + i * pitch)]
            for i in range(-count, count + 1)
        ]
    )
    laid = shapely.intersection(rotate(strokes, -slope_deg, origin=middle), area)
    return "".join(path_of(points_of(piece)) for piece in lines_of(laid) if piece.length > 1.0)


def lines_of(shape: shapely.Geometry) -> Iterator[LineString]:
    """The lines in a shape."""
    for piece in shapely.get_parts(shape).tolist():
        if isinstance(piece, LineString) and not piece.is_empty:
            yield piece


def points_of(line: LineString) -> Iterator[Point]:
    """The points of a line."""
    return ((float(x), float(y)) for x, y in line.coords)
