"""Marks for whether a thing can be made: each its own shape, in the colour of its words."""

from __future__ import annotations

from generator.drawings.ink import Circle, Line, Pen, Polyline, Symbol, symbol_svg
from generator.drawings.signals import SEVERITIES

_RING = Pen(stroke="current", width=9)
_STROKE = Pen(stroke="current", width=11, round=True)
_ON_DISC = Pen(stroke="paper", width=11, round=True)


def _disc(*over: Line | Polyline, full: bool = False) -> tuple[Circle | Line | Polyline, ...]:
    return (Circle(50, 50, 42, Pen("current") if full else _RING), *over)


STANDINGS = {
    "proven": Symbol(
        "proven", _disc(Polyline(((28, 52), (44, 67), (72, 34)), _ON_DISC), full=True)
    ),
    "possible": Symbol("possible", _disc()),
    "failed": Symbol(
        "failed",
        _disc(Line((34, 34), (66, 66), _STROKE), Line((66, 34), (34, 66), _STROKE)),
    ),
    "ask": SEVERITIES["ask"],
    "no": Symbol("no", _disc(Line((28, 50), (72, 50), _STROKE))),
    "refused": SEVERITIES["stop"],
}
"""A mark for each answer, by its key."""


def standing_svg(key: str, size: float = 18) -> str:
    """The mark of an answer, silent to screen readers: its word stands beside it."""
    return symbol_svg(STANDINGS[key], size=size, classes="mark")
