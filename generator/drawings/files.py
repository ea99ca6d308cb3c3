"""A drawing as a file of its own, to be opened, printed or cut without the handbook.

Colours are fixed, the type is inside, and every attribute is checked against SVG 1.1 as it is
written. Pages hold drawings by :func:`generator.drawings.ink.to_svg`, which follows light and dark.
"""

from __future__ import annotations

import base64
from collections.abc import Callable, Iterable
from functools import cache
from typing import Any

import svgwrite

from generator.drawings.ink import (
    Circle,
    Drawing,
    Group,
    Item,
    Label,
    Line,
    Path,
    Pen,
    Polygon,
    Polyline,
    Rect,
    Stamp,
    number,
    paper_colour,
    path_of,
)
from generator.ground.resources import resource

_FAMILY = "Atkinson Hyperlegible"
_HATCH = "hatch"


def to_file(drawing: Drawing) -> bytes:
    """The drawing as an SVG file, in millimetres or pixels as it was drawn.

    Links are left out: a file that is carried away leads nowhere.
    """
    unit = "mm" if drawing.unit == "mm" else "px"
    x, y, width, height = drawing.view or (0, 0, drawing.width, drawing.height)
    sheet = svgwrite.Drawing(
        size=(f"{number(drawing.width)}{unit}", f"{number(drawing.height)}{unit}"),
        viewBox=f"{number(x)} {number(y)} {number(width)} {number(height)}",
        font_family=f"{_FAMILY}, Noto Sans, sans-serif",
    )
    sheet.set_desc(drawing.title, drawing.desc)
    sheet.embed_stylesheet(_type_inside())
    if drawing.hatch:
        sheet.defs.add(_hatch(sheet, drawing.hatch))
    _add(sheet, sheet, drawing.items)
    return str(sheet.tostring()).encode()


@cache
def _type_inside() -> str:
    """The two weights that drawings are set in, as data."""
    faces = []
    for weight in (400, 700):
        name = f"assets/fonts/atkinson-hyperlegible-latin-{weight}-normal.woff2"
        data = base64.b64encode((resource("site_config") / name).read_bytes()).decode()
        faces.append(
            f'@font-face{{font-family:"{_FAMILY}";font-weight:{weight};'
            f'src:url(data:font/woff2;base64,{data}) format("woff2")}}'
        )
    return "".join(faces)


def _hatch(sheet: Any, pitch: float) -> Any:
    pattern = sheet.pattern(
        id=_HATCH,
        size=(pitch, pitch),
        patternUnits="userSpaceOnUse",
        patternTransform="rotate(45)",
    )
    pattern.add(sheet.rect(size=(pitch, pitch), fill=paper_colour("line"), fill_opacity=0.45))
    stroke = paper_colour("ink")
    middle = pitch / 2
    pattern.add(sheet.line((middle, 0), (middle, pitch), stroke=stroke, stroke_width=pitch * 0.17))
    return pattern


def _add(sheet: Any, place: Any, items: Iterable[Item]) -> None:
    for item in items:
        place.add(_WRITERS[type(item)](sheet, item))


def _pen(pen: Pen) -> dict[str, Any]:
    made: dict[str, Any] = {"fill": _fill(pen)}
    if pen.soft != 1:
        made["fill_opacity"] = pen.soft
    if pen.stroke != "none":
        made |= {"stroke": paper_colour(pen.stroke), "stroke_width": pen.width}
    if pen.dash:
        made["stroke_dasharray"] = " ".join(map(number, pen.dash))
    if pen.round:
        made |= {"stroke_linecap": "round", "stroke_linejoin": "round"}
    return made


def _fill(pen: Pen) -> str:
    return f"url(#{_HATCH})" if pen.fill == "hatch" else paper_colour(pen.fill)


def _line(sheet: Any, item: Line) -> Any:
    return sheet.line(item.start, item.end, **_pen(item.pen))


def _polyline(sheet: Any, item: Polyline) -> Any:
    return sheet.path(path_of(item.points), **_pen(item.pen))


def _polygon(sheet: Any, item: Polygon) -> Any:
    rings = "".join(path_of(ring, closed=True) for ring in (item.points, *item.holes))
    rule = {"fill_rule": "evenodd"} if item.holes else {}
    return sheet.path(rings, **rule, **_pen(item.pen))


def _rect(sheet: Any, item: Rect) -> Any:
    corner = {"rx": item.corner} if item.corner else {}
    return sheet.rect((item.x, item.y), (item.width, item.height), **corner, **_pen(item.pen))


def _circle(sheet: Any, item: Circle) -> Any:
    return sheet.circle((item.x, item.y), item.radius, **_pen(item.pen))


def _path(sheet: Any, item: Path) -> Any:
    return sheet.path(item.data, **_pen(item.pen))


def _stamp(sheet: Any, item: Stamp) -> Any:
    group = sheet.g()
    group.translate(item.x, item.y)
    group.scale(item.size / item.symbol.size)
    _add(sheet, group, item.symbol.shapes)
    return group


def _label(sheet: Any, item: Label) -> Any:
    text = sheet.text(
        item.text,
        insert=(item.x, item.y),
        font_size=item.size,
        fill=paper_colour(item.colour),
        text_anchor=item.anchor,
        font_weight=700 if item.bold else 400,
    )
    if item.turn:
        text.rotate(item.turn, (item.x, item.y))
    return text


def _group(sheet: Any, item: Group) -> Any:
    if not item.clip:
        group = sheet.g()
        _add(sheet, group, item.items)
        return group
    x, y, width, height = item.clip
    window = sheet.svg((x, y), (width, height), viewBox=f"{x} {y} {width} {height}")
    _add(sheet, window, item.items)
    return window


_WRITERS: dict[type, Callable[[Any, Any], Any]] = {
    Line: _line,
    Polyline: _polyline,
    Polygon: _polygon,
    Rect: _rect,
    Circle: _circle,
    Path: _path,
    Stamp: _stamp,
    Label: _label,
    Group: _group,
}
