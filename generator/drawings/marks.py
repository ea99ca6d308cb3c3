"""Polymer marks: a strip of hue, a hatch in ink, the code and the ISO 1043 mark.

The hatch alone tells the marks apart when the hue is gone: slants are polyolefins, points and
rings styrenics, level and wavy lines polyesters, uprights polyamide, sparse crosses anything
else. What is never heated has a form of its own without a hue: struck through.
Hues are Paul Tol's muted scheme, told apart in every form of colour vision.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from itertools import pairwise

from generator.drawings.ink import (
    Box,
    Line,
    Path,
    Pen,
    Point,
    Polygon,
    Rect,
    Shape,
    Symbol,
    path_of,
    safe_text,
    shapes_svg,
)

Segment = tuple[Point, Point]
Hatch = Callable[[Box, float], tuple[Shape, ...]]

_INK = "mark-ink"
_STRIP = 0.3
"""Share of the width that the hue takes."""

_LEAST_STRIP, _MOST_STRIP = 0.3, 0.45
"""The strip is a share of the height between these, so a long mark is mostly hatch."""

_OTHER = "other"
_QUALIFIER = re.compile(r"-(?:HI|REC|[A-Z]{2}\d+)$")
_GRADE = re.compile(r"\d+$")


@dataclass(frozen=True, slots=True)
class Mark:
    """How one polymer is told apart: its code, its hue and its hatch."""

    code: str
    hue: str
    hatch: Hatch

    @property
    def tint(self) -> str:
        """The hue at a fifth on white, the ground of the hatch."""
        parts = (int(self.hue[i : i + 2], 16) for i in (1, 3, 5))
        return "#" + "".join(f"{round(255 - 0.22 * (255 - part)):02x}" for part in parts)


def _spread(start: float, length: float, pitch: float, margin: float = 0.0) -> list[float]:
    """Places ``pitch`` apart, centred in the length, none nearer its ends than ``margin``."""
    count = max(1, int((length - 2 * margin) / pitch + 1e-9) + 1)
    first = start + (length - (count - 1) * pitch) / 2
    return [first + i * pitch for i in range(count)]


def slants(box: Box, pitch: float, rising: bool) -> Iterator[Segment]:
    """Lines at 45° across the box, ``pitch`` apart square across."""
    x, y, width, height = box
    for c in _spread(0, width + height, pitch * 2**0.5, pitch * 0.4):
        a = (x + max(0, c - height), min(height, c))
        b = (x + min(width, c), max(0, c - width))
        if rising:
            yield (a[0], y + a[1]), (b[0], y + b[1])
        else:
            yield (a[0], y + height - a[1]), (b[0], y + height - b[1])


def _dashes(line: Segment, dash: float, gap: float, start: float) -> Iterator[Segment]:
    """A line in dashes; ``start`` shifts them along it."""
    (x0, y0), (x1, y1) = line
    length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
    place = -start
    while place < length:
        from_, to = max(place, 0) / length, min(place + dash, length) / length
        if to > from_:
            yield _between(line, from_), _between(line, to)
        place += dash + gap


def _between(line: Segment, share: float) -> Point:
    (x0, y0), (x1, y1) = line
    return x0 + (x1 - x0) * share, y0 + (y1 - y0) * share


def _strokes(segments: Iterator[Segment] | list[Segment], width: float) -> tuple[Shape, ...]:
    data = "".join(path_of(segment) for segment in segments)
    return (Path(data, Pen(stroke=_INK, width=width)),)


def _staggered(box: Box, pitch: float, margin: float) -> Iterator[Point]:
    """Places on a grid with every second row shifted by half, ``margin`` inside the box."""
    x, y, width, height = box
    columns = _even(x + margin, width - 2 * margin, pitch)
    between = [(a + b) / 2 for a, b in pairwise(columns)]
    for row, place in enumerate(_even(y + margin, height - 2 * margin, pitch / 2)):
        yield from ((column, place) for column in (between if row % 2 else columns))


def _even(start: float, length: float, pitch: float) -> list[float]:
    """Places from end to end of the length, as nearly ``pitch`` apart as fits."""
    steps = max(1, round(length / pitch))
    return [start + length * i / steps for i in range(steps + 1)]


def _slant(box: Box, unit: float) -> tuple[Shape, ...]:
    return _strokes(slants(box, 2.1 * unit, rising=True), 0.36 * unit)


def _broken_slant(box: Box, unit: float) -> tuple[Shape, ...]:
    lines = enumerate(slants(box, 2.1 * unit, rising=True))
    dashes = [
        dash
        for i, line in lines
        for dash in _dashes(line, 2.4 * unit, 1.4 * unit, (0.5 + 1.9 * (i % 2)) * unit)
    ]
    return _strokes(dashes, 0.42 * unit)


def _paired_slant(box: Box, unit: float) -> tuple[Shape, ...]:
    x, y, width, height = box
    wide = (x - unit, y - unit, width + 2 * unit, height + 2 * unit)
    middles = slants(wide, 3.5 * unit, rising=False)
    pairs = [_nudged(line, side * 0.46 * unit) for line in middles for side in (-1, 1)]
    return _strokes([cut for line in pairs for cut in _cut(line, box)], 0.36 * unit)


def _nudged(line: Segment, by: float) -> Segment:
    """A falling line shifted square across itself."""
    d = by * 2**-0.5
    (x0, y0), (x1, y1) = line
    return (x0 + d, y0 - d), (x1 + d, y1 - d)


def _cut(line: Segment, box: Box) -> Iterator[Segment]:
    """What of a falling line (the second end lower on the page or not) lies in the box."""
    x, y, width, height = box
    (x0, y0), (x1, _y1) = line
    level = y0 - x0  # y - x is the same all along it
    low = max(x, y - level, min(x0, x1))
    high = min(x + width, y + height - level, max(x0, x1))
    if high > low:
        yield (low, low + level), (high, high + level)


def _level(box: Box, unit: float) -> tuple[Shape, ...]:
    x, y, width, height = box
    rows = _spread(y, height, 2 * unit, unit)
    return _strokes([((x, row), (x + width, row)) for row in rows], 0.36 * unit)


def _thick_and_thin(box: Box, unit: float) -> tuple[Shape, ...]:
    x, y, width, height = box
    rows = _spread(y, height, 1.7 * unit, 0.85 * unit)
    lines = [((x, row), (x + width, row)) for row in rows]
    return _strokes(lines[::2], 0.8 * unit) + _strokes(lines[1::2], 0.26 * unit)


def _upright(box: Box, unit: float) -> tuple[Shape, ...]:
    x, y, width, height = box
    columns = _spread(x, width, 2 * unit, unit)
    return _strokes([((column, y), (column, y + height)) for column in columns], 0.36 * unit)


def _wave(box: Box, unit: float) -> tuple[Shape, ...]:
    x, y, width, height = box
    halves = max(2, round(width / (2 * unit)))
    step = width / halves
    rows = _spread(y, height, 2.5 * unit, 1.25 * unit)
    data = "".join(
        f"M{x:.2f} {row:.2f}q{step / 2:.2f} {-1.3 * unit:.2f} {step:.2f} 0"
        + f"t{step:.2f} 0" * (halves - 1)
        for row in rows
    )
    return (Path(data, Pen(stroke=_INK, width=0.36 * unit)),)


def _points(box: Box, unit: float) -> tuple[Shape, ...]:
    places = _staggered(box, 2.2 * unit, 0.55 * unit)
    data = "".join(f"M{x:.2f} {y:.2f}h0" for x, y in places)
    return (Path(data, Pen(stroke=_INK, width=0.78 * unit, round=True)),)


def _rings(box: Box, unit: float) -> tuple[Shape, ...]:
    r = 0.64 * unit
    half = f"a{r:.2f} {r:.2f} 0 1 0 {{:.2f}} 0"
    ring = half.format(2 * r) + half.format(-2 * r)
    places = _staggered(box, 3.2 * unit, 1.2 * unit)
    data = "".join(f"M{x - r:.2f} {y:.2f}{ring}" for x, y in places)
    return (Path(data, Pen(stroke=_INK, width=0.36 * unit)),)


def _crosses(box: Box, unit: float) -> tuple[Shape, ...]:
    arm = 0.65 * unit
    data = "".join(
        f"M{x - arm:.2f} {y:.2f}h{2 * arm:.2f}M{x:.2f} {y - arm:.2f}v{2 * arm:.2f}"
        for x, y in _staggered(box, 4 * unit, 1.1 * unit)
    )
    return (Path(data, Pen(stroke=_INK, width=0.36 * unit)),)


MARKS: dict[str, Mark] = {
    mark.code: mark
    for mark in (
        Mark("PE-HD", "#44aa99", _slant),
        Mark("PE-LD", "#88ccee", _broken_slant),
        Mark("PP", "#cc6677", _paired_slant),
        Mark("PS", "#ddcc77", _points),
        Mark("ABS", "#882255", _rings),
        Mark("PET", "#332288", _level),
        Mark("PLA", "#117733", _wave),
        Mark("PC", "#999933", _thick_and_thin),
        Mark("PA", "#aa4499", _upright),
        Mark(_OTHER, "#6b6b6b", _crosses),
    )
}


def mark_of(code: str) -> Mark:
    """The mark of an ISO 1043 code.

    Fillers, grades and qualifiers keep their polymer's mark (``PA66-GF30`` is marked as PA);
    anything else that is not in the table, blends included, is marked as other.
    """
    bare = _QUALIFIER.sub("", code)
    return MARKS.get(bare) or MARKS.get(_GRADE.sub("", bare)) or MARKS[_OTHER]


def iso_mark(code: str) -> str:
    """The code as it is moulded into a part: ``>PE-HD<``."""
    return f">{code}<"


@cache
def mark_shapes(
    code: str,
    box: Box,
    unit: float,
    never_heated: bool = False,
    frame: float = 0.0,
    *,
    strip: float = 0.0,
) -> tuple[Shape, ...]:
    """A mark in a box.

    ``unit`` scales the hatch: its lines are some two units apart. ``frame`` is the width of
    the outline and ``strip`` of the hue, in proportion where left out.
    """
    x, y, width, height = box
    strip = strip or min(max(_STRIP * width, _LEAST_STRIP * height), _MOST_STRIP * height)
    field = (x + strip, y, width - strip, height)
    edge = frame or 0.5 * unit
    inside = _struck(box, field, unit) if never_heated else _told(mark_of(code), box, field, unit)
    between = Line((x + strip, y), (x + strip, y + height), Pen(stroke=_INK, width=edge))
    outline = Rect(x, y, width, height, Pen(stroke="ink", width=edge))
    return *inside, between, outline


def _told(mark: Mark, box: Box, field: Box, unit: float) -> tuple[Shape, ...]:
    x, y, _width, height = box
    return (
        Rect(*field, Pen(mark.tint)),
        *mark.hatch(field, unit),
        Rect(x, y, field[0] - x, height, Pen(mark.hue)),
    )


def _struck(box: Box, field: Box, unit: float) -> tuple[Shape, ...]:
    """No hue and no hatch of a polymer: a dark strip with a bar, and a field struck through."""
    x, y, _width, height = box
    strip = field[0] - x
    bar = Rect(x + 0.22 * strip, y + height / 2 - 0.5 * unit, 0.56 * strip, unit, Pen("white"))
    lines = _strokes(slants(field, 1.5 * unit, rising=False), 0.3 * unit)
    return (
        Rect(*field, Pen("white")),
        *lines,
        _band(field, 3.1 * unit, "white"),
        _band(field, 1.5 * unit, _INK),
        Rect(x, y, strip, height, Pen(_INK)),
        bar,
    )


def _band(field: Box, width: float, colour: str) -> Polygon:
    """A band from the lower left corner of the field to the upper right, cut off at its edges."""
    x, y, across, height = field
    length = (across**2 + height**2) ** 0.5
    dx, dy = width / 2 * length / height, width / 2 * length / across
    points = (
        (x, y + height),
        (x, y + height - dy),
        (x + across - dx, y),
        (x + across, y),
        (x + across, y + dy),
        (x + dx, y + height),
    )
    return Polygon(points, Pen(colour))


@cache
def mark_symbol(
    code: str, size: tuple[float, float], unit: float, never_heated: bool = False
) -> Symbol:
    """A mark of the given width and height, to be stamped on a sheet."""
    frame = 0.6 * unit
    box = (frame / 2, frame / 2, size[0] - frame, size[1] - frame)
    shapes = mark_shapes(code, box, unit, never_heated, frame)
    return Symbol(f"mark-{code}", shapes, max(size))


@cache
def chip_svg(
    code: str, title: str = "", *, never_heated: bool = False, width: float = 34, height: float = 24
) -> str:
    """A mark as a small picture beside its code on a page, in pixels.

    It carries its own hatch, so any number can stand in one page without ids.
    """
    half = 0.75
    box = (half, half, width - 2 * half, height - 2 * half)
    body = shapes_svg(mark_shapes(code, box, height / 11, never_heated, 1.5))
    named = f'role="img" aria-label="{safe_text(title)}"' if title else 'aria-hidden="true"'
    return (
        f'<svg class="mark" width="{width:g}" height="{height:g}"'
        f' viewBox="0 0 {width:g} {height:g}" {named}>{body}</svg>'
    )
