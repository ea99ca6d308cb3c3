"""Marks that are no safety signs: findings, hold points, arrows, and what stands on a plan."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from generator.drawings import pictograms
from generator.drawings.ink import Circle, Line, Path, Pen, Polygon, Rect, Stamp, Symbol, symbol_svg

_SIZE = 24.0
_FILL = Pen("current")


def _line(width: float) -> Pen:
    return Pen(stroke="current", width=width, round=True)


_QUESTION = "M8.9 9.6A3.2 3.2 0 1 1 13.6 12.4C12.5 13 12 13.6 12 14.6"

# Severities: each has a shape of its own, so the mark holds without its colour.

FAULT = Symbol(
    "fault",
    (
        Path("M4.2 2H15L20 7V22H4.2Z", Pen(stroke="current", width=2, round=True)),
        Path("M9 10.5L15.2 16.7M15.2 10.5L9 16.7", _line(2.2)),
    ),
    _SIZE,
)
STOP = Symbol(
    "stop",
    (
        Path("M7.44 1H16.56L23 7.44V16.56L16.56 23H7.44L1 16.56V7.44Z", _FILL),
        Rect(5.6, 10, 12.8, 4, Pen("sheet")),
    ),
    _SIZE,
)
FIX = Symbol(
    "fix",
    (
        Path("M12 2L22 12L12 22L2 12Z", Pen(stroke="current", width=2.6)),
        Path("M12 7.5V12.6", _line(2.4)),
        Circle(12, 16, 1.4, _FILL),
    ),
    _SIZE,
)
ASK = Symbol(
    "ask",
    (
        Circle(12, 12, 10.4, Pen(stroke="current", width=2.4)),
        Path(_QUESTION, _line(2.4)),
        Circle(12, 17.7, 1.5, _FILL),
    ),
    _SIZE,
)
NOTE = Symbol(
    "note",
    (Path("M3 6H21M3 12H21M3 18H14", Pen(stroke="current", width=2.6)),),
    _SIZE,
)
SEVERITIES: dict[str, Symbol] = {s.name: s for s in (FAULT, STOP, FIX, ASK, NOTE)}

# Hold points

LOCK = Symbol(
    "lock",
    (
        Path("M6.5 11V8A5.5 5.5 0 0 1 17.5 8V11", Pen(stroke="current", width=2.8)),
        Path("M3.5 10.5H20.5V22.5H3.5Z", _FILL),
    ),
    _SIZE,
)
PAUSE = Symbol("pause", (Rect(4.5, 2.5, 5, 19, _FILL), Rect(14.5, 2.5, 5, 19, _FILL)), _SIZE)
ARROW = Symbol(
    "arrow",
    (Path("M2 12H21M14 5L21 12L14 19", Pen(stroke="current", width=2.2)),),
    _SIZE,
)

# On the plan. These follow the ink, and so light and dark.

ISOLATOR = Symbol(
    "isolator",
    (Circle(12, 12, 10.6, Pen("sheet", "ink", 2.4)), Rect(10.3, 6, 3.4, 12, Pen("ink"))),
    _SIZE,
)
EXTRACT = Symbol(
    "extract",
    (
        Circle(12, 12, 10.6, Pen("sheet", "ink", 1.6)),
        Path("M4.5 4.5L19.5 19.5M19.5 4.5L4.5 19.5", Pen(stroke="ink", width=1.6)),
    ),
    _SIZE,
)
WATER = Symbol(
    "water",
    (
        Circle(12, 12, 10.6, Pen("sheet", "ink", 1.6)),
        Path("M12 4.5C14.5 8.5 17 11 17 14A5 5 0 0 1 7 14C7 11 9.5 8.5 12 4.5Z", Pen("ink")),
    ),
    _SIZE,
)
OUTLET = Symbol(
    "outlet",
    (
        Path("M3 15A9 9 0 0 1 21 15Z", Pen("sheet", "ink", 2)),
        Path("M12 15V20M6 15H18", Pen(stroke="ink", width=2)),
    ),
    _SIZE,
)
LOCK_STATION = Symbol(
    "lock-station",
    (
        Rect(1, 1, 22, 22, Pen("sheet", "ink", 2)),
        Path("M8.2 11V9.5A3.8 3.8 0 0 1 15.8 9.5V11", Pen(stroke="ink", width=2)),
        Rect(6, 10.8, 12, 8.2, Pen("ink")),
    ),
    _SIZE,
)
EMERGENCY_LIGHT = Symbol(
    "emergency-light",
    (
        Rect(1, 6, 22, 12, Pen("sheet", "ink", 2)),
        Path("M1 6L23 18M23 6L1 18", Pen(stroke="ink", width=1.6)),
    ),
    _SIZE,
)
SPILL_KIT = Symbol(
    "spill-kit",
    (
        Rect(1, 1, 22, 22, Pen("sheet", "ink", 2)),
        Path(
            "M12 4.5C13.6 7 15.2 8.6 15.2 10.6A3.2 3.2 0 0 1 8.8 10.6C8.8 8.6 10.4 7 12 4.5Z",
            Pen("ink"),
        ),
        Path("M5 18.5Q8.5 15.5 12 18.5T19 18.5", Pen(stroke="ink", width=2)),
    ),
    _SIZE,
)
BOARD = Symbol(
    "board",
    (
        Rect(1, 5, 22, 14, Pen("sheet", "ink", 2)),
        Polygon(((1, 5), (23, 5), (1, 19)), Pen("ink")),
    ),
    _SIZE,
)
NORTH = Symbol(
    "north",
    (
        Circle(12, 13.5, 9.2, Pen("sheet", "ink", 0.7)),
        Polygon(((12, 2.5), (16, 20), (12, 17)), Pen("sheet", "ink", 0.6)),
        Polygon(((12, 2.5), (8, 20), (12, 17)), Pen("ink", "ink", 0.6)),
    ),
    _SIZE,
)
YOU = Symbol(
    "you",
    (
        Circle(12, 12, 10, Pen("sheet", "ink", 2)),
        Circle(12, 12, 4.6, Pen("ink")),
        Line((12, 0), (12, 5), Pen(stroke="ink", width=2)),
    ),
    _SIZE,
)

_SIGN_OF: dict[str, str] = {
    "extinguisher": "F001",
    "fire-blanket": "F016",
    "alarm-point": "F005",
    "first-aid": "E003",
    "eyewash": "E011",
    "emergency-stop": "E020",
}
_SYMBOL_OF: dict[str, Symbol] = {
    "burn-sink": pictograms.BURN_TAP,
    "isolator": ISOLATOR,
    "lock-out-station": LOCK_STATION,
    "emergency-light": EMERGENCY_LIGHT,
    "spill-kit": SPILL_KIT,
    "extract": EXTRACT,
    "water": WATER,
    "outlet": OUTLET,
    "board": BOARD,
    "north": NORTH,
    "you": YOU,
}


@cache
def inked(symbol: Symbol, colour: str) -> Symbol:
    """A mark in a colour of the drawing, rather than in that of the words beside it."""
    shapes = tuple(
        shape if isinstance(shape, Stamp) else replace(shape, pen=_recoloured(shape.pen, colour))
        for shape in symbol.shapes
    )
    return Symbol(f"{symbol.name}-{colour}", shapes, symbol.size)


def _recoloured(pen: Pen, colour: str) -> Pen:
    fill, stroke = (colour if c == "current" else c for c in (pen.fill, pen.stroke))
    return replace(pen, fill=fill, stroke=stroke)


def plan_symbol(kind: str) -> Symbol:
    """What stands for a kind of equipment, or for another thing on the plan.

    A registered safety sign where there is one, else a symbol of our own. Raises ``KeyError``
    for a kind that has neither.
    """
    return pictograms.sign(_SIGN_OF[kind]) if kind in _SIGN_OF else _SYMBOL_OF[kind]


def plan_symbol_svg(kind: str, title: str = "", *, size: float = 44) -> str:
    """The plan's symbol as an SVG element for a page."""
    return symbol_svg(plan_symbol(kind), title, size=size, classes="symbol")


def severity_svg(severity: str, title: str = "", *, size: float = 18) -> str:
    """The shape that stands for a severity, in the colour of the words beside it."""
    return symbol_svg(SEVERITIES[severity], title, size=size, classes="mark")


def hold_svg(title: str = "", *, lock: bool = False, size: float = 26) -> str:
    """The mark of a hold point: two bars, or a lock where it waits for a lock."""
    return symbol_svg(LOCK if lock else PAUSE, title, size=size, classes="mark")


def arrow_svg(title: str = "", *, size: float = 24) -> str:
    """Onward, to the right."""
    return symbol_svg(ARROW, title, size=size, classes="mark")
