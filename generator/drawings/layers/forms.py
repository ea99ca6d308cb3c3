"""Line forms that hold in greyscale: each kind of course has a dash and a weight of its own."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

import shapely
from shapely import LineString
from shapely.ops import substring

from generator.drawings.hatching import lines_of, points_of
from generator.drawings.ink import Circle, Item, Line, Path, Pen, Point, Polygon, Polyline, path_of
from generator.drawings.keys import SAMPLE

WALK = Pen(stroke="accent", width=1.7, dash=(6, 4))
ESCAPE = Pen(stroke="escape", width=3.2)
ESCAPE_NET = Pen(stroke="escape", width=1.2)
SECOND = Pen(stroke="escape", width=3.2, dash=(9, 5))
LOST = Pen(stroke="escape", width=3.2, dash=(3, 4))
FETCH = Pen(stroke="ink", width=3.0, dash=(0.1, 6.0), round=True)
FETCH_NET = Pen(stroke="ink", width=1.5, dash=(0.1, 4.0), round=True)
UNSEEN = Pen(stroke="ink-soft", width=0.8)
EDGE_OF_SIGHT = Pen(stroke="ink-soft", width=1.1, dash=(8, 3, 2, 3))


def arrowed(course: Sequence[Point], pen: Pen, size: float = 9.0) -> tuple[Item, ...]:
    """A course with a head at its end and a ring at its start; nothing where it has no length."""
    if len(course) < 2:
        return ()
    shaft = _shortened(course, size * 0.8)
    head = Polygon(_head(course[-1], _heading(course), size), Pen(pen.stroke))
    ring = Circle(*course[0], size * 0.36, Pen("sheet", pen.stroke, max(1.4, pen.width * 0.55)))
    return Polyline(shaft, pen), head, ring


def head_at(course: Sequence[Point], share: float, colour: str, size: float = 8.0) -> Item:
    """A head on a course, at a share of its length, that says which way it goes."""
    line = LineString(course)
    ends = [line.interpolate(s, normalized=True) for s in (share - 0.02, share + 0.02)]
    (ax, ay), (bx, by) = (shapely.get_coordinates(end)[0].tolist() for end in ends)
    return Polygon(_head((bx, by), math.atan2(by - ay, bx - ax), size), Pen(colour))


def _heading(course: Sequence[Point]) -> float:
    (x1, y1) = course[-1]
    before = next((p for p in reversed(course[:-1]) if math.dist(p, course[-1]) > 1.0), course[0])
    return math.atan2(y1 - before[1], x1 - before[0])


def _head(tip: Point, heading: float, size: float) -> tuple[Point, ...]:
    spread = math.radians(26)
    back = [heading + math.pi - spread, heading + math.pi + spread]
    return (tip, *((tip[0] + size * math.cos(a), tip[1] + size * math.sin(a)) for a in back))


def _shortened(course: Sequence[Point], less: float) -> tuple[Point, ...]:
    line = LineString(course)
    if line.length <= less * 1.5:
        return tuple(course)
    kept = substring(line, 0.0, line.length - less)
    return tuple((float(x), float(y)) for x, y in kept.coords)


def network(courses: Iterable[Sequence[Point]]) -> str:
    """Path data of courses drawn once where they run together, so that dashes stay apart."""
    lines = [LineString(course) for course in courses if len(course) > 1]
    snapped = shapely.set_precision(shapely.MultiLineString(lines), 0.1)
    merged = shapely.line_merge(shapely.union_all(snapped))
    return "".join(path_of(points_of(piece)) for piece in lines_of(merged))


def ticked(start: Point, end: Point, colour: str, width: float) -> tuple[Item, ...]:
    """A dimension line right between two points, with a bar across each end."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = math.hypot(dx, dy) or 1.0
    nx, ny = -dy / length * 5.0, dx / length * 5.0
    bars = "".join(path_of(((x - nx, y - ny), (x + nx, y + ny))) for x, y in (start, end))
    return Line(start, end, Pen(stroke=colour, width=width)), Path(
        bars, Pen(stroke=colour, width=width * 1.2)
    )


def across(pen: Pen) -> tuple[Item, ...]:
    """A straight stroke as a sample."""
    middle = SAMPLE[1] / 2
    return (Line((2, middle), (SAMPLE[0] - 2, middle), pen),)


def arrow_across(pen: Pen) -> tuple[Item, ...]:
    """A course with its ring and head as a sample."""
    middle = SAMPLE[1] / 2
    return arrowed(((4, middle), (SAMPLE[0] - 1, middle)), pen)
