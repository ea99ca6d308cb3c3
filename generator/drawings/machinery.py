"""Machines as they look from above: a few lines each, in the station's own frame.

A picture here is no measurement. It fills its share of the station's rectangle, so that a
reader who stands in the room knows which machine is meant before reading its number.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from generator.drawings.ink import Circle, Item, Path, Pen, Point, path_of
from generator.drawings.view import View
from generator.shop.records.stations import Station
from generator.workings.footprint import Frame, frame_of


@dataclass(frozen=True, slots=True)
class Round:
    """A circle: middle and radius [mm], filled or not."""

    middle: Point
    radius: float
    filled: bool = False


Outline = tuple[Point, ...]
Part = Outline | Round
"""An open or closed run of points, or a circle, in the machine's own frame [mm]."""

Picture = Callable[["Bay"], tuple[Part, ...]]


@dataclass(frozen=True, slots=True)
class Bay:
    """A machine's share of a station: its middle, and how wide and deep it is [mm].

    Shares of the bay count from -0.5 to 0.5; the front is at y = -0.5.
    """

    x: float
    width: float
    depth: float

    def at(self, u: float, v: float) -> Point:
        return self.x + u * self.width, v * self.depth

    def line(self, *points: Point) -> Outline:
        return tuple(self.at(*point) for point in points)

    def box(self, u: float, v: float, across: float, deep: float) -> Outline:
        """A closed rectangle by its middle and its shares of width and depth."""
        a, b = across / 2, deep / 2
        return self.line(
            (u - a, v - b), (u + a, v - b), (u + a, v + b), (u - a, v + b), (u - a, v - b)
        )

    def round(self, u: float, v: float, share: float, filled: bool = False) -> Round:
        """A circle by its middle; the radius is a share of the shorter side."""
        return Round(self.at(u, v), share * min(self.width, self.depth), filled)


def _granulator(bay: Bay) -> tuple[Part, ...]:
    return (
        bay.box(0, 0.1, 0.74, 0.56),
        bay.box(0, 0.1, 0.44, 0.3),
        *(
            bay.line((0.37 * s, 0.1 + 0.28 * t), (0.22 * s, 0.1 + 0.15 * t))
            for s in (-1, 1)
            for t in (-1, 1)
        ),
        bay.box(0, -0.37, 0.5, 0.14),
    )


def _shredder(bay: Bay) -> tuple[Part, ...]:
    return (
        bay.box(0, 0, 0.8, 0.7),
        bay.line((-0.4, 0.12), (0.4, 0.12)),
        bay.line((-0.4, -0.12), (0.4, -0.12)),
    )


def _wash_tub(bay: Bay) -> tuple[Part, ...]:
    return (
        bay.box(-0.24, -0.02, 0.4, 0.68),
        bay.box(0.24, -0.02, 0.4, 0.68),
        bay.round(-0.24, -0.02, 0.06),
        bay.round(0.24, -0.02, 0.06),
        bay.line((0, 0.5), (0, 0.24)),
    )


def _spin_dryer(bay: Bay) -> tuple[Part, ...]:
    return bay.round(0, 0, 0.42), bay.round(0, 0, 0.32), bay.round(0, 0, 0.07, True)


def _cabinet(bay: Bay) -> tuple[Part, ...]:
    shelves = (bay.line((-0.42, v), (0.42, v)) for v in (-0.2, 0.02, 0.24))
    return bay.box(0, 0.02, 0.84, 0.84), *shelves, bay.line((-0.5, -0.47), (0.5, -0.47))


def _plunger(bay: Bay) -> tuple[Part, ...]:
    return (
        bay.box(0, 0.05, 0.6, 0.7),
        bay.round(0, 0.16, 0.16),
        bay.round(0, 0.16, 0.07, True),
        bay.line((0, 0.16), (0.36, -0.36)),
        bay.round(0.36, -0.36, 0.05, True),
    )


def _screw(bay: Bay) -> tuple[Part, ...]:
    return (
        bay.box(-0.36, 0, 0.14, 0.62),
        bay.box(-0.24, 0, 0.05, 0.62),
        bay.line((-0.29, 0.22), (-0.265, 0.22)),
        bay.line((-0.29, -0.22), (-0.265, -0.22)),
        bay.box(0.04, 0, 0.5, 0.24),
        *(bay.line((u, -0.12), (u, 0.12)) for u in (-0.13, -0.05, 0.03, 0.11)),
        bay.round(0.2, 0, 0.22),
        bay.round(0.2, 0, 0.1),
        bay.box(0.37, 0, 0.16, 0.4),
    )


def _extruder(bay: Bay) -> tuple[Part, ...]:
    return (
        bay.box(0.02, 0, 0.6, 0.24),
        *(bay.line((u, -0.12), (u, 0.12)) for u in (-0.18, -0.08, 0.02, 0.12)),
        bay.round(0.22, 0, 0.22),
        bay.box(0.4, 0, 0.16, 0.5),
        bay.box(-0.34, 0, 0.1, 0.16),
    )


def _platen_press(bay: Bay) -> tuple[Part, ...]:
    corners = [(s * 0.38, t * 0.38) for s in (-1, 1) for t in (-1, 1)]
    return (
        bay.box(0, 0, 0.66, 0.66),
        bay.line((-0.33, -0.33), (0.33, 0.33)),
        bay.line((-0.33, 0.33), (0.33, -0.33)),
        *(bay.round(u, v, 0.06, True) for u, v in corners),
    )


def _band_saw(bay: Bay) -> tuple[Part, ...]:
    return (
        bay.box(0, -0.1, 0.7, 0.62),
        bay.box(-0.3, 0.36, 0.3, 0.2),
        bay.line((0.02, -0.41), (0.02, -0.08)),
        bay.round(0.02, -0.06, 0.04, True),
    )


def _belt_sander(bay: Bay) -> tuple[Part, ...]:
    strokes = (bay.line((u - 0.06, -0.18), (u + 0.06, 0.18)) for u in (-0.24, -0.12, 0, 0.12, 0.24))
    return bay.box(0, 0, 0.7, 0.36), *strokes


def _pillar_drill(bay: Bay) -> tuple[Part, ...]:
    return bay.round(0, -0.06, 0.3), bay.round(0, -0.06, 0.05, True), bay.round(0, 0.34, 0.1)


def _extractor(bay: Bay) -> tuple[Part, ...]:
    return bay.round(0, 0, 0.38), bay.round(0, 0, 0.16), bay.line((0, 0.38), (0, 0.5))


def _scale(bay: Bay) -> tuple[Part, ...]:
    return bay.box(0, 0.08, 0.5, 0.5), bay.box(0, 0.08, 0.34, 0.34), bay.box(0, -0.3, 0.3, 0.1)


def _sealer(bay: Bay) -> tuple[Part, ...]:
    return bay.box(0, 0, 0.8, 0.2), bay.line((-0.4, 0), (0.4, 0))


def _case(bay: Bay) -> tuple[Part, ...]:
    return (bay.box(0, 0, 0.7, 0.7),)


_PICTURES: dict[str, Picture] = {
    "granulator": _granulator,
    "shredder": _shredder,
    "wash-tub": _wash_tub,
    "spin-dryer": _spin_dryer,
    "drying-cabinet": _cabinet,
    "oven": _cabinet,
    "plunger-injector": _plunger,
    "screw-injector": _screw,
    "extruder": _extruder,
    "platen-press": _platen_press,
    "band-saw": _band_saw,
    "belt-sander": _belt_sander,
    "pillar-drill": _pillar_drill,
    "extractor": _extractor,
    "scale": _scale,
    "sealer": _sealer,
}


def _shelves(bay: Bay) -> tuple[Part, ...]:
    """Bays of a rack, about 600 mm each."""
    count = max(2, round(bay.width / 600))
    return tuple(bay.line((i / count - 0.5, -0.5), (i / count - 0.5, 0.5)) for i in range(1, count))


def _bench(bay: Bay) -> tuple[Part, ...]:
    inset = min(60.0, 0.12 * min(bay.width, bay.depth))
    return (bay.box(0, 0, 1 - 2 * inset / bay.width, 1 - 2 * inset / bay.depth),)


def parts(station: Station, kinds: tuple[str, ...]) -> tuple[Part, ...]:
    """The lines inside a station's outline, in its own frame [mm]."""
    width, depth = station.size
    drawn = [kind for kind in kinds if kind in _PICTURES]
    if not drawn:
        whole = Bay(0, width, depth)
        return _shelves(whole) if station.storage and depth < 0.7 * width else _bench(whole)
    share = width / len(drawn)
    return tuple(
        part
        for i, kind in enumerate(drawn)
        for part in _PICTURES[kind](_square(kind, (i + 0.5) * share - width / 2, share, depth))
    )


_LONG = frozenset({"screw-injector", "extruder", "wash-tub", "sealer", "drying-cabinet", "oven"})


def _square(kind: str, x: float, width: float, depth: float) -> Bay:
    """The bay of a machine, no longer than its picture bears."""
    most = 10.0 if kind in _LONG else 1.5
    return Bay(x, min(width, most * depth), depth)


def draw(view: View, station: Station, kinds: tuple[str, ...], width: float) -> tuple[Item, ...]:
    """The lines inside a station's outline, on the drawing."""
    frame = frame_of(station)
    pen = Pen(stroke="line-strong", width=width)
    shapes = parts(station, kinds)
    lines = "".join(
        path_of(view.ring(frame.ring(part))) for part in shapes if not isinstance(part, Round)
    )
    circles = tuple(_circle(view, frame, part, width) for part in shapes if isinstance(part, Round))
    return (Path(lines, pen), *circles) if lines else circles


def _circle(view: View, frame: Frame, part: Round, width: float) -> Circle:
    x, y = view.at(frame.place(part.middle))
    pen = Pen("line-strong") if part.filled else Pen(stroke="line-strong", width=width)
    return Circle(x, y, view.length(part.radius), pen)
