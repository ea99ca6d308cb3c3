"""Letters as outlines, for words that lie across a drawing and must not hide it."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import uharfbuzz as hb  # type: ignore[import-untyped]

from generator.drawings import type
from generator.drawings.ink import Point, number


@dataclass
class _Pen:
    """Gathers path data of letters, placed and turned as they come."""

    at: Point
    size: float
    turn: float
    pen: float = 0.0
    parts: list[str] = field(default_factory=list)

    def _on(self, point: tuple[float, float]) -> str:
        x, y = (point[0] + self.pen) * self.size, -point[1] * self.size
        cos, sin = math.cos(self.turn), math.sin(self.turn)
        return f"{number(self.at[0] + x * cos - y * sin)} {number(self.at[1] + x * sin + y * cos)}"

    def moveTo(self, point: Point) -> None:  # noqa: N802 - the names a shaper calls
        self.parts.append(f"M{self._on(point)}")

    def lineTo(self, point: Point) -> None:  # noqa: N802
        self.parts.append(f"L{self._on(point)}")

    def qCurveTo(self, *points: Point) -> None:  # noqa: N802
        self.parts.append("Q" + " ".join(map(self._on, points)))

    def curveTo(self, *points: Point) -> None:  # noqa: N802
        self.parts.append("C" + " ".join(map(self._on, points)))

    def closePath(self) -> None:  # noqa: N802
        self.parts.append("Z")


def outlined(text: str, at: Point, size: float, turn: float = 0.0) -> str:
    """Path data of bold letters from a point along a line, ``turn`` clockwise [degrees].

    Letters that no installed font has leave a gap.
    """
    pen = _Pen(at, size, math.radians(turn))
    for face, run in type.runs(text, bold=True):
        if face is None:
            pen.pen += type.width(run, 1.0, True)
            continue
        _shape(face, run, pen)
    return "".join(pen.parts)


def _shape(face: type.Face, run: str, pen: _Pen) -> None:
    buffer = hb.Buffer()
    buffer.add_str(run)
    buffer.guess_segment_properties()
    hb.shape(face.font, buffer)
    scaled = _Scaled(pen, face.em)
    for glyph, place in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True):
        scaled.shift = place.x_offset
        face.font.draw_glyph_with_pen(glyph.codepoint, scaled)
        pen.pen += place.x_advance / face.em


class _Scaled:
    """Passes on a face's own units as shares of an em."""

    def __init__(self, pen: _Pen, em: int) -> None:
        self._pen, self._em, self.shift = pen, em, 0

    def _ems(self, point: Point) -> Point:
        return (point[0] + self.shift) / self._em, point[1] / self._em

    def moveTo(self, point: Point) -> None:  # noqa: N802
        self._pen.moveTo(self._ems(point))

    def lineTo(self, point: Point) -> None:  # noqa: N802
        self._pen.lineTo(self._ems(point))

    def qCurveTo(self, *points: Point) -> None:  # noqa: N802
        self._pen.qCurveTo(*map(self._ems, points))

    def curveTo(self, *points: Point) -> None:  # noqa: N802
        self._pen.curveTo(*map(self._ems, points))

    def closePath(self) -> None:  # noqa: N802
        self._pen.closePath()
