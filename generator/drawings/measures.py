"""Dimensions, the scale bar, north and the grid round the room."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, cos, hypot, radians, sin

from shapely import LineString
from shapely.geometry.base import BaseGeometry

from generator.drawings import type
from generator.drawings.ink import Item, Label, Line, Path, Pen, Point, Rect, path_of
from generator.drawings.shell import Shell, Wall, ends_of
from generator.drawings.type import ASCENT
from generator.drawings.view import View, column_letters
from generator.shop.records.room import Door, Window

_LEAST_PIECE_MM = 60.0


def millimetres(value: float) -> str:
    """A length as it stands on a dimension line: whole millimetres, thousands apart."""
    text = f"{value:.0f}"
    return f"{text[:-3]}\u00a0{text[-3:]}" if len(text) > 4 else text


def metres(value_mm: float) -> str:
    """A length as it is said aloud: metres to one decimal, shorter ones in whole tens of mm."""
    if value_mm >= 1000:
        return f"{value_mm / 1000:.1f}\u00a0m"
    return f"{round(value_mm, -1):.0f}\u00a0mm"


def dimension(
    start: Point,
    end: Point,
    offset: Point,
    text: str,
    *,
    size: float,
    line: float,
    clear: float = 0.0,
) -> tuple[Item, ...]:
    """A dimension line beside two points of the drawing.

    ``offset`` is where the line stands from them, and ``clear`` how far off them its witness
    lines begin. Short strokes mark the ends; the text stands over the middle, along the line.
    """
    a, b = _moved(start, offset, 0), _moved(end, offset, 0)
    tick = size * 0.32
    ticks = "".join(path_of(((x - tick, y + tick), (x + tick, y - tick))) for x, y in (a, b))
    length = hypot(*offset)
    witness = "".join(
        path_of((_moved(p, offset, clear - length), _moved(p, offset, size * 0.5)))
        for p in (start, end)
        if length > clear
    )
    items: tuple[Item, ...] = (
        Line(a, b, Pen(stroke="ink", width=line)),
        Path(ticks, Pen(stroke="ink", width=line * 1.7)),
        _over(a, b, text, size),
    )
    return (Path(witness, Pen(stroke="line-strong", width=line)), *items) if witness else items


def _moved(point: Point, offset: Point, more: float) -> Point:
    """A point moved by the offset and so much farther along it."""
    length = hypot(*offset) or 1.0
    share = (length + more) / length
    return point[0] + offset[0] * share, point[1] + offset[1] * share


def _over(a: Point, b: Point, text: str, size: float) -> Label:
    """Text over the middle of a line, readable from below or from the right."""
    upright = abs(b[1] - a[1]) > abs(b[0] - a[0])
    x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    lift = size * 0.38
    if upright:
        return Label(x - lift, y, text, size, anchor="middle", turn=-90)
    return Label(x, y - lift, text, size, anchor="middle")


def chain(wall: Wall, shell: Shell) -> tuple[float, ...]:
    """The places along a wall's inner face that are measured: corners and openings [mm]."""
    things: list[Door | Window] = [*shell.room.doors.values(), *shell.room.windows.values()]
    stops = {0.0, wall.length}
    for thing in things:
        ends = ends_of(thing)
        if shell.wall_of(*ends) == wall:
            stops.update(min(max(wall.station_of(end), 0.0), wall.length) for end in ends)
    ordered = sorted(stops)
    return tuple(
        stop for i, stop in enumerate(ordered) if not i or stop - ordered[i - 1] >= _LEAST_PIECE_MM
    )


def along_wall(
    view: View,
    wall: Wall,
    stops: Sequence[float],
    out: float,
    *,
    size: float,
    line: float,
    clear: float,
) -> tuple[Item, ...]:
    """A chain of dimensions beside a wall, ``out`` from its inner face on the drawing."""
    u, v = wall.out
    offset = (u * out, -v * out)
    items: list[Item] = []
    for a, b in pairwise(stops):
        text = millimetres(b - a)
        if type.width(text, size) <= view.length(b - a) * 0.96:
            start, end = view.at(wall.place(a)), view.at(wall.place(b))
            items += dimension(start, end, offset, text, size=size, line=line, clear=clear)
    return tuple(items)


_BARS = (1, 2, 5, 10, 20, 50, 100, 200, 500)


def bar_metres(view: View, size: float) -> int:
    """How long the scale bar stands for: enough for its figures to stand apart [m]."""
    return next((n for n in _BARS if view.length(n * 1000) >= size * 4.5), _BARS[-1])


def scale_bar(view: View, place: Point, *, size: float, line: float) -> tuple[Item, ...]:
    """A bar of whole metres, black and white by turns, standing on ``place``."""
    (left, base), height, long = place, size * 0.42, bar_metres(view, size)
    parts = long if long <= 5 else 5
    part = view.length(long * 1000) / parts
    items: list[Item] = [Rect(left, base - height, part * parts, height, Pen("sheet", "ink", line))]
    items += [
        Rect(left + i * part, base - height, part, height, Pen("ink")) for i in range(0, parts, 2)
    ]
    for i in range(parts + 1) if part > 2.2 * size else (0, parts):
        text = f"{long}\u00a0m" if i == parts else str(i * long // parts)
        items.append(Label(left + i * part, base - size * 0.8, text, size, anchor="middle"))
    return tuple(items)


def north(x: float, y: float, size: float, north_deg: float) -> tuple[Item, ...]:
    """North as an arrow turned clockwise from up, with its letter at the tip."""
    angle = radians(north_deg)
    tip = (sin(angle), -cos(angle))
    side = (tip[1], -tip[0])

    def at(along: float, across: float) -> Point:
        return (
            x + size * (tip[0] * along + side[0] * across),
            y + size * (tip[1] * along + side[1] * across),
        )

    left = path_of((at(0.5, 0), at(-0.42, -0.2), at(-0.24, 0)), closed=True)
    right = path_of((at(0.5, 0), at(-0.42, 0.2), at(-0.24, 0)), closed=True)
    letter = at(0.82, 0)
    text = size * 0.42
    return (
        Path(left, Pen("ink", "ink", size * 0.02)),
        Path(right, Pen("sheet", "ink", size * 0.02)),
        Label(letter[0], letter[1] + text * 0.36, "N", text, bold=True, anchor="middle"),
    )


def grid(
    view: View, shell: Shell, band: float, size: float, line: float
) -> tuple[tuple[Item, ...], tuple[Item, ...]]:
    """The one-metre grid: its lines on the floor, and its letters and numbers outside.

    Letters run along x over the plan, numbers up y beside it, ``band`` off the outer walls.
    Where metres are too small to be told apart only every so many are.
    """
    return (_grid_lines(view, shell, size, line),), (*_grid_names(view, shell, band, size),)


def _grid_names(view: View, shell: Shell, band: float, size: float) -> Iterator[Item]:
    x0, _y0, _x1, y1 = shell.bounds
    over, beside = view.at((0, y1))[1] - band, view.at((x0, 0))[0] - band - size * 0.4
    told = max(1, ceil(size * 1.9 / view.length(1000)))
    for i, middle in list(enumerate(_cells(shell, 0)))[::told]:
        x = view.at((middle, 0))[0]
        yield Label(x, over, column_letters(i), size, anchor="middle", colour="ink-soft")
    for i, middle in list(enumerate(_cells(shell, 1)))[::told]:
        base = view.at((0, middle))[1] + size * ASCENT / 2
        yield Label(beside, base, str(i + 1), size, anchor="middle", colour="ink-soft")


def _grid_lines(view: View, shell: Shell, size: float, line: float) -> Path:
    x0, y0, x1, y1 = shell.bounds
    step = max(1, ceil(size * 0.5 / view.length(1000)))
    columns = range(step, len(_cells(shell, 0)), step)
    rows = range(step, len(_cells(shell, 1)), step)
    rules = [LineString([(i * 1000, y0), (i * 1000, y1)]) for i in columns]
    rules += [LineString([(x0, i * 1000), (x1, i * 1000)]) for i in rows]
    data = "".join(
        path_of(view.ring((x, y) for x, y in piece.coords))
        for rule in rules
        for piece in _pieces(rule.intersection(shell.floor))
    )
    return Path(data, Pen(stroke="line", width=line))


def _cells(shell: Shell, axis: int) -> list[float]:
    """The middles of the whole and begun metres along x or y [mm]."""
    reach = max(point[axis] for point in shell.inner)
    return [(i * 1000 + min((i + 1) * 1000, reach)) / 2 for i in range(ceil(reach / 1000 - 1e-9))]


def _pieces(cut: BaseGeometry) -> list[LineString]:
    if isinstance(cut, LineString):
        return [] if cut.is_empty else [cut]
    return [piece for piece in getattr(cut, "geoms", ()) if isinstance(piece, LineString)]
