"""Safety signs: frames to the geometry of ISO 3864-1 with figures of our own inside.

Signs are called by the code of the ISO 7010 register, whose artwork is not used: codes and
meanings are shared, every figure is drawn in :mod:`generator.drawings.artwork`.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from generator.drawings import artwork
from generator.drawings.artwork import Artist, Brush, Figure
from generator.drawings.ink import Circle, Path, Pen, Rect, Symbol, symbol_svg

_FIGURES: dict[str, Artist] = {
    "E001": artwork.exit_left,
    "E002": artwork.exit_right,
    "E003": artwork.first_aid,
    "E007": artwork.assembly,
    "E011": artwork.eyewash,
    "E012": artwork.shower,
    "E020": artwork.emergency_stop,
    "F001": artwork.extinguisher,
    "F005": artwork.alarm,
    "F016": artwork.blanket,
    "M002": artwork.manual,
    "M003": artwork.ears,
    "M004": artwork.eyes,
    "M008": artwork.footwear,
    "M009": artwork.gloves,
    "M010": artwork.clothing,
    "M013": artwork.face_shield,
    "M017": artwork.respirator,
    "M021": artwork.unplug,
    "P002": artwork.smoking,
    "P003": artwork.open_flame,
    "P004": artwork.walking,
    "P010": artwork.pressing,
    "P022": artwork.eating,
    "P028": artwork.gloved_hand,
    "W001": artwork.general,
    "W012": artwork.bolt,
    "W016": artwork.skull,
    "W017": artwork.hot_surface,
    "W018": artwork.automatic_start,
    "W019": artwork.crushing,
    "W021": artwork.flammable,
    "W022": artwork.sharp,
    "W024": artwork.hand_crushing,
    "W025": artwork.rollers,
}

_TRIANGLE = "M50 11L94.4 88H5.6Z"


def _mandatory(figure: Artist) -> Figure:
    field = Circle(50, 50, 49, Pen("safety-blue", "white", 2))
    return field, *figure(Brush("white", "safety-blue"))


def _warning(figure: Artist) -> Figure:
    edge = Path(_TRIANGLE, Pen("safety-yellow", "safety-yellow", 10, round=True))
    band = Path(_TRIANGLE, Pen("safety-yellow", "black", 5.4, round=True))
    return edge, band, *figure(Brush("black", "safety-yellow"))


def _prohibition(figure: Artist) -> Figure:
    """A ring a tenth of the diameter wide; ring and bar (four fifths of that) over the figure."""
    reach = 42 * 2**-0.5
    bar = f"M{50 - reach:.2f} {50 - reach:.2f}L{50 + reach:.2f} {50 + reach:.2f}"
    return (
        Circle(50, 50, 50, Pen("white")),
        *figure(Brush("black", "white")),
        Path(bar, Pen(stroke="safety-red", width=8)),
        Circle(50, 50, 44, Pen(stroke="safety-red", width=10)),
    )


def _square(colour: str) -> Callable[[Artist], Figure]:
    def frame(figure: Artist) -> Figure:
        field = Rect(1, 1, 98, 98, Pen(colour, "white", 2), 3)
        return field, *figure(Brush("white", colour))

    return frame


_FRAMES: dict[str, Callable[[Artist], Figure]] = {
    "E": _square("safety-green"),
    "F": _square("safety-red"),
    "M": _mandatory,
    "P": _prohibition,
    "W": _warning,
}


def known() -> tuple[str, ...]:
    """The codes that are drawn here."""
    return tuple(_FIGURES)


@cache
def sign(code: str) -> Symbol:
    """The sign of an ISO 7010 code, in a square of 100 units.

    A code that is not drawn here gets its class's general sign where there is one
    (``W001`` for any warning), else an empty frame; an unknown class raises ``KeyError``.
    """
    return Symbol(code, _FRAMES[code[:1]](_FIGURES.get(code, _general(code))))


def _general(code: str) -> Artist:
    return artwork.general if code.startswith("W") else _nothing


def _nothing(_brush: Brush) -> Figure:
    return ()


BURN_TAP = Symbol("burn-tap", _FRAMES["E"](artwork.cold_tap))
"""Where a burn is cooled: a safe condition, but the register has no figure for it."""


_DRAWN_ACROSS = {"E": 96.0, "F": 96.0, "M": 96.0, "P": 98.0, "W": 98.0}
"""How wide each frame is in its square of 100: its coloured field without the white edge, and
for a triangle the side of one without rounded corners that has the same area."""


def stamp_size(code: str, across: float) -> float:
    """How large the square of a sign is drawn for the sign itself to be ``across`` wide."""
    return across * 100 / _DRAWN_ACROSS[code[0]]


def sign_svg(code: str, title: str = "", *, size: float = 0) -> str:
    """The sign as an SVG element for a page; silent to screen readers without a title."""
    return symbol_svg(sign(code), title, size=size, classes="sign")
