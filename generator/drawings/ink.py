"""Plain geometry and labels, and the writer that turns a drawing into SVG for the web.

A drawing is measured in millimetres of paper or in pixels of screen, y downwards. Groups
carry no transformation, so every coordinate is already where it lands: a print writer can
set the shapes as a picture (``labels=False``) and place the labels (:func:`labels_of`) itself.

The writer is a few string formats on purpose. Every station page carries a drawing of some
80 shapes, and a document-tree library took 1.2 ms for one where this takes a tenth of that;
the tests hold the output against such a library's rules for attributes instead.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from html import escape

Point = tuple[float, float]
Box = tuple[float, float, float, float]
"""x, y, width and height."""

TOKENS: dict[str, str] = {
    "paper": "#fbfaf6",
    "sheet": "#ffffff",
    "ink": "#1b2a34",
    "ink-soft": "#4c5b65",
    "line": "#c8cecd",
    "line-strong": "#7d8a90",
    "accent": "#5e2a5a",
    "accent-soft": "#efe6ee",
    "escape": "#237f52",
    "stop": "#9b2423",
    "stop-text": "#9b2423",
    "fix": "#8a4b00",
    "fix-text": "#8a4b00",
    "ask": "#5e2a5a",
    "note": "#4c5b65",
}
"""Colours that follow light and dark on the web; here as they are on paper."""

FIXED: dict[str, str] = {
    "safety-red": "#9b2423",
    "safety-blue": "#005387",
    "safety-yellow": "#f9a800",
    "safety-green": "#237f52",
    "white": "#ffffff",
    "black": "#161616",
    "mark-ink": "#1b2a34",
    "current": "currentColor",
    "none": "none",
}
"""Colours that stay as they are whatever the ground: signs, and marks as they are on a bin."""


@dataclass(frozen=True, slots=True)
class Pen:
    """How a shape is inked. ``fill`` and ``stroke`` are colour names, ``#rrggbb`` or "none".

    ``fill`` may also be ``hatch``, the drawing's wall hatch. ``width`` and ``dash`` are in
    the drawing's unit; ``soft`` is the opacity of the fill.
    """

    fill: str = "none"
    stroke: str = "none"
    width: float = 0.0
    dash: tuple[float, ...] = ()
    round: bool = False
    soft: float = 1.0


@dataclass(frozen=True, slots=True)
class Line:
    start: Point
    end: Point
    pen: Pen


@dataclass(frozen=True, slots=True)
class Polyline:
    points: tuple[Point, ...]
    pen: Pen


@dataclass(frozen=True, slots=True)
class Polygon:
    """A filled outline; ``holes`` are cut out of it."""

    points: tuple[Point, ...]
    pen: Pen
    holes: tuple[tuple[Point, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class Rect:
    x: float
    y: float
    width: float
    height: float
    pen: Pen
    corner: float = 0.0


@dataclass(frozen=True, slots=True)
class Circle:
    x: float
    y: float
    radius: float
    pen: Pen


@dataclass(frozen=True, slots=True)
class Path:
    """An outline in SVG path data, for arcs and curves and for many strokes of one pen."""

    data: str
    pen: Pen


@dataclass(frozen=True, slots=True, eq=False)
class Symbol:
    """A picture drawn once in a square of ``size`` units and stamped at any scale.

    Two symbols are the same only if they are one object: each is written once and kept.
    """

    name: str
    shapes: tuple[Shape | Stamp, ...]
    size: float = 100.0


@dataclass(frozen=True, slots=True)
class Stamp:
    """A symbol with its top left corner at x, y, and ``size`` wide and high."""

    symbol: Symbol
    x: float
    y: float
    size: float


@dataclass(frozen=True, slots=True)
class Label:
    """A line of text. ``y`` is its baseline; ``turn`` is clockwise about x, y [degrees].

    ``box`` is the room the layout gave it, which it must not leave. ``language`` is that of
    the words where it is not the sheet's.
    """

    x: float
    y: float
    text: str
    size: float
    bold: bool = False
    anchor: str = "start"
    colour: str = "ink"
    turn: float = 0.0
    box: Box | None = None
    language: str = ""


@dataclass(frozen=True, slots=True)
class Group:
    """Items that belong together: a layer, a link, or what is seen through a window.

    ``clip`` hides what lies outside it. ``hidden`` keeps it from screen readers, for what
    the drawing's description already says.
    """

    items: tuple[Item, ...]
    classes: str = ""
    link: str = ""
    title: str = ""
    clip: Box | None = None
    hidden: bool = False


Shape = Line | Polyline | Polygon | Rect | Circle | Path
Item = Line | Polyline | Polygon | Rect | Circle | Path | Stamp | Label | Group


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing of ``width`` by ``height`` in ``unit`` (``mm`` of paper or ``px`` of screen).

    ``title`` names it and ``desc`` says in words what it shows. ``hatch`` is the pitch of the
    wall hatch, 0 where none is used.
    """

    width: float
    height: float
    items: tuple[Item, ...]
    title: str
    desc: str
    unit: str = "px"
    hatch: float = 0.0
    view: Box | None = None


Colours = Callable[[str], str]

_UNPRINTABLE = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def web_colour(name: str) -> str:
    """The colour as a page writes it, so that a drawing follows light and dark."""
    return f"var(--{name})" if name in TOKENS else FIXED.get(name, name)


def paper_colour(name: str) -> str:
    """The colour as a file that stands alone writes it."""
    return TOKENS.get(name) or FIXED.get(name, name)


def number(value: float) -> str:
    """A length to a hundredth of a unit, without idle zeros."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def safe_text(text: str) -> str:
    """Text escaped for an element or an attribute, without what XML cannot carry."""
    return escape(text if text.isprintable() else _UNPRINTABLE.sub("", text), quote=True)


def path_of(points: Iterable[Point], closed: bool = False) -> str:
    """Path data through the points."""
    data = "L".join(f"{number(x)} {number(y)}" for x, y in points)
    return f"M{data}{'Z' if closed else ''}"


def arc(centre: Point, radius: float, start: float, end: float) -> str:
    """Path data of an arc about ``centre`` from ``start`` to ``end`` [degrees clockwise]."""
    (x0, y0), (x1, y1) = polar(centre, radius, start), polar(centre, radius, end)
    large, sweep = int(abs(end - start) > 180), int(end > start)
    r = number(radius)
    return f"M{number(x0)} {number(y0)}A{r} {r} 0 {large} {sweep} {number(x1)} {number(y1)}"


def polar(centre: Point, radius: float, angle: float) -> Point:
    """The point at ``angle`` [degrees clockwise from x] on the circle."""
    turn = math.radians(angle)
    return centre[0] + radius * math.cos(turn), centre[1] + radius * math.sin(turn)


def labels_of(items: Iterable[Item]) -> Iterator[Label]:
    """Every label, in drawing order, for a writer that sets text itself."""
    for item in items:
        if isinstance(item, Label):
            yield item
        elif isinstance(item, Group):
            yield from labels_of(item.items)


def to_svg(
    drawing: Drawing,
    prefix: str = "drawing",
    *,
    colours: Colours = web_colour,
    labels: bool = True,
    classes: str = "drawing",
) -> str:
    """The drawing as one SVG element.

    ``prefix`` makes its ids unique in the page. A drawing with links in it is a group to a
    screen reader, since a picture's parts cannot be reached; any other is a picture.
    """
    body = _Writer(prefix, colours, labels).items(drawing.items)
    role = "group" if '<a href="' in body else "img"
    x, y, width, height = drawing.view or (0, 0, drawing.width, drawing.height)
    unit = "mm" if drawing.unit == "mm" else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="{safe_text(classes)}"'
        f' width="{number(drawing.width)}{unit}" height="{number(drawing.height)}{unit}"'
        f' viewBox="{number(x)} {number(y)} {number(width)} {number(height)}"'
        f' role="{role}" aria-labelledby="{prefix}-title" aria-describedby="{prefix}-desc"'
        f' font-family="{_family(colours)}">'
        f'<title id="{prefix}-title">{safe_text(drawing.title)}</title>'
        f'<desc id="{prefix}-desc">{safe_text(drawing.desc)}</desc>'
        f"{_hatch(prefix, drawing.hatch, colours)}{body}</svg>"
    )


def symbol_svg(symbol: Symbol, title: str = "", *, size: float = 0, classes: str = "") -> str:
    """A symbol as an SVG element of its own; silent to screen readers without a title."""
    named = f'role="img" aria-label="{safe_text(title)}"' if title else 'aria-hidden="true"'
    sized = f' width="{number(size)}" height="{number(size)}"' if size else ""
    kind = f' class="{safe_text(classes)}"' if classes else ""
    view = f'viewBox="0 0 {number(symbol.size)} {number(symbol.size)}"'
    return f"<svg{kind}{sized} {view} {named}>{_inside(symbol, web_colour)}</svg>"


def shapes_svg(shapes: Iterable[Item], colours: Colours = web_colour) -> str:
    """Bare shapes as markup, for a picture that carries its own frame."""
    return _Writer("", colours, False).items(shapes)


def _family(colours: Colours) -> str:
    names = "'Atkinson Hyperlegible','Noto Sans',sans-serif"
    return f"var(--type,{names})" if colours is web_colour else names


def _hatch(prefix: str, pitch: float, colours: Colours) -> str:
    if not pitch:
        return ""
    p, half, ink = number(pitch), number(pitch / 2), colours("ink")
    return (
        f'<defs><pattern id="{prefix}-hatch" width="{p}" height="{p}"'
        ' patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
        f'<rect width="{p}" height="{p}" fill="{colours("line")}" fill-opacity="0.45"/>'
        f'<path d="M{half} 0V{p}" stroke="{ink}" stroke-width="{number(pitch * 0.17)}"/>'
        "</pattern></defs>"
    )


@lru_cache(maxsize=2048)
def _ink(pen: Pen, colours: Colours, prefix: str) -> str:
    """The attributes of a pen. Shapes without a stroke say nothing about one."""
    fill = f"url(#{prefix}-hatch)" if pen.fill == "hatch" else colours(pen.fill)
    parts = [f' fill="{fill}"']
    if pen.soft != 1:
        parts.append(f' fill-opacity="{number(pen.soft)}"')
    if pen.stroke != "none":
        parts.append(f' stroke="{colours(pen.stroke)}" stroke-width="{number(pen.width)}"')
    if pen.dash:
        parts.append(f' stroke-dasharray="{" ".join(map(number, pen.dash))}"')
    if pen.round:
        parts.append(' stroke-linecap="round" stroke-linejoin="round"')
    return "".join(parts)


@cache
def _inside(symbol: Symbol, colours: Colours) -> str:
    return _Writer("", colours, False).items(symbol.shapes)


class _Writer:
    def __init__(self, prefix: str, colours: Colours, labels: bool) -> None:
        self.prefix, self.colours, self.labels = prefix, colours, labels
        self.write: dict[type, Callable[..., str]] = {
            Line: self.line,
            Polyline: self.polyline,
            Polygon: self.polygon,
            Rect: self.rect,
            Circle: self.circle,
            Path: self.path,
            Stamp: self.stamp,
            Label: self.label,
            Group: self.group,
        }

    def items(self, items: Iterable[Item]) -> str:
        write = self.write
        return "".join([write[type(item)](item) for item in items])

    def ink(self, pen: Pen) -> str:
        return _ink(pen, self.colours, self.prefix)

    def line(self, item: Line) -> str:
        return f'<path d="{path_of((item.start, item.end))}"{self.ink(item.pen)}/>'

    def polyline(self, item: Polyline) -> str:
        return f'<path d="{path_of(item.points)}"{self.ink(item.pen)}/>'

    def polygon(self, item: Polygon) -> str:
        data = "".join(path_of(ring, closed=True) for ring in (item.points, *item.holes))
        rule = ' fill-rule="evenodd"' if item.holes else ""
        return f'<path d="{data}"{rule}{self.ink(item.pen)}/>'

    def rect(self, item: Rect) -> str:
        corner = f' rx="{number(item.corner)}"' if item.corner else ""
        return (
            f'<rect x="{number(item.x)}" y="{number(item.y)}" width="{number(item.width)}"'
            f' height="{number(item.height)}"{corner}{self.ink(item.pen)}/>'
        )

    def circle(self, item: Circle) -> str:
        return (
            f'<circle cx="{number(item.x)}" cy="{number(item.y)}"'
            f' r="{number(item.radius)}"{self.ink(item.pen)}/>'
        )

    def path(self, item: Path) -> str:
        return f'<path d="{item.data}"{self.ink(item.pen)}/>'

    def stamp(self, item: Stamp) -> str:
        scale = f"{item.size / item.symbol.size:.4f}".rstrip("0").rstrip(".")
        place = f"translate({number(item.x)} {number(item.y)}) scale({scale})"
        return f'<g transform="{place}">{_inside(item.symbol, self.colours)}</g>'

    def label(self, item: Label) -> str:
        if not self.labels:
            return ""
        x, y = number(item.x), number(item.y)
        weight = ' font-weight="700"' if item.bold else ""
        anchor = f' text-anchor="{item.anchor}"' if item.anchor != "start" else ""
        turn = f' transform="rotate({number(item.turn)} {x} {y})"' if item.turn else ""
        spoken = f' xml:lang="{safe_text(item.language)}"' if item.language else ""
        return (
            f'<text x="{x}" y="{y}" font-size="{number(item.size)}"{weight}{anchor}{spoken}'
            f' fill="{self.colours(item.colour)}"{turn}>{safe_text(item.text)}</text>'
        )

    def group(self, item: Group) -> str:
        body = self.items(item.items)
        if item.clip:
            body = _through(item.clip, body)
        kind = f' class="{safe_text(item.classes)}"' if item.classes else ""
        hidden = ' aria-hidden="true"' if item.hidden else ""
        title = f"<title>{safe_text(item.title)}</title>" if item.title else ""
        if item.link:
            return f'<a href="{safe_text(item.link)}"{kind}>{title}{body}</a>'
        return f"<g{kind}{hidden}>{title}{body}</g>"


def _through(clip: Box, body: str) -> str:
    x, y, width, height = map(number, clip)
    place = f'x="{x}" y="{y}" width="{width}" height="{height}"'
    return f'<svg {place} viewBox="{x} {y} {width} {height}">{body}</svg>'
