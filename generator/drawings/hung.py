"""What hangs on the walls: drawn outside the room beside its place, with a leader to it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from generator.drawings.floor import swing
from generator.drawings.ink import Box, Circle, Item, Line, Pen, Point, Stamp, Symbol
from generator.drawings.shell import Shell, Wall
from generator.drawings.signals import plan_symbol
from generator.drawings.view import View, around, overlaps
from generator.shop.records.room import Door

_ON_A_WALL_MM = 450.0
"""What is no farther than this from a wall hangs on it."""

_INTO_ROOM_MM = 30.0
"""How far inside the wall's face a leader ends."""

_STEP = 0.25
_GAP = 0.18
_TRIES = 400


@dataclass(frozen=True, slots=True)
class Hung:
    """A thing with its symbol and its true place on the floor [mm]."""

    kind: str
    at: Point
    name: str


@dataclass(frozen=True, slots=True)
class Shown:
    """A symbol as placed on the drawing: its box, and the true place it is led to."""

    hung: Hung
    box: Box
    foot: Point

    @property
    def symbol(self) -> Symbol:
        return plan_symbol(self.hung.kind)


class Band:
    """The strip along the outside of the walls, where symbols and door names find room.

    ``size`` is how deep it is and ``off`` how far from the outer face, in the drawing's unit.
    """

    def __init__(self, view: View, shell: Shell, *, size: float, off: float) -> None:
        self.view, self.shell, self.size = view, shell, size
        self.out = shell.thickness + (off + size / 2) / view.scale
        self.taken = [_swing_box(view, shell, door) for door in shell.room.doors.values()]

    def take(self, wall: Wall, along: float, length: float) -> Box:
        """Take the free stretch of a wall nearest to ``along``, trying either side by turns."""
        for shift in _shifts(self.view, self.size):
            box = self._box(wall, along + shift, length)
            if not any(overlaps(_grown(box, self.size * _GAP / 2), kept) for kept in self.taken):
                break
        self.taken.append(box)
        return box

    def _box(self, wall: Wall, along: float, length: float) -> Box:
        x, y = self.view.at(wall.place(along, self.out))
        upright = abs(wall.along[1]) > abs(wall.along[0])
        width, height = (self.size, length) if upright else (length, self.size)
        return x - width / 2, y - height / 2, width, height


def on_walls(shell: Shell, things: Iterable[Hung]) -> tuple[list[tuple[Wall, Hung]], list[Hung]]:
    """Things by the wall they hang on, in order along it, and those that hang on none."""
    ranks: list[tuple[Wall, Hung]] = []
    inner: list[Hung] = []
    for thing in things:
        wall = shell.wall_of(thing.at)
        if wall.distance(thing.at) <= _ON_A_WALL_MM:
            ranks.append((wall, thing))
        else:
            inner.append(thing)
    order = {wall: i for i, wall in enumerate(shell.walls)}
    ranks.sort(key=lambda pair: (order[pair[0]], pair[0].station_of(pair[1].at)))
    return ranks, inner


def outside(band: Band, ranks: Iterable[tuple[Wall, Hung]]) -> tuple[Shown, ...]:
    """Place symbols outside the wall each thing hangs on, beside its true place."""
    shown = []
    for wall, thing in ranks:
        along = wall.station_of(thing.at)
        foot = band.view.at(wall.place(along, -_INTO_ROOM_MM))
        shown.append(Shown(thing, band.take(wall, along, band.size), foot))
    return tuple(shown)


def at_the_face(view: View, ranks: Iterable[tuple[Wall, Hung]], size: float) -> tuple[Shown, ...]:
    """Place small symbols inside the room, touching the wall's face, as near as they come."""
    shown: list[Shown] = []
    into = -(size * 0.62) / view.scale
    for wall, thing in ranks:
        along = wall.station_of(thing.at)
        spots = (_square(view.at(wall.place(along + s, into)), size) for s in _shifts(view, size))
        box = next((b for b in spots if not any(overlaps(b, s.box) for s in shown)), None)
        if box:
            shown.append(Shown(thing, box, (box[0] + size / 2, box[1] + size / 2)))
    return tuple(shown)


def _shifts(view: View, size: float) -> Iterator[float]:
    """Nowhere, then a little to either side by turns, farther and farther [mm]."""
    step = size * _STEP / view.scale
    return (step * ((i + 1) // 2) * (1 if i % 2 else -1) for i in range(_TRIES))


def in_place(view: View, things: Iterable[Hung], size: float) -> tuple[Shown, ...]:
    """Place small symbols on the floor where they are."""
    middles = ((thing, view.at(thing.at)) for thing in things)
    return tuple(Shown(thing, _square(middle, size), middle) for thing, middle in middles)


def _square(middle: Point, size: float) -> Box:
    return middle[0] - size / 2, middle[1] - size / 2, size, size


def _grown(box: Box, by: float) -> Box:
    return box[0] - by, box[1] - by, box[2] + 2 * by, box[3] + 2 * by


def _swing_box(view: View, shell: Shell, door: Door) -> Box:
    """The box that a door and its leaf take outside."""
    hinge, tip, latch = swing(shell, door)
    wall = shell.wall_of(door.hinge, door.latch)
    face = [wall.place(wall.station_of(end), shell.thickness) for end in (door.hinge, door.latch)]
    points = [*face, hinge, latch, *([tip] if door.opens == "out" else [])]
    return around([view.at(point) for point in points])


def beside_column(
    view: View, things: Iterable[Hung], size: float, taken: Sequence[Box]
) -> tuple[Shown, ...]:
    """Place symbols of what hangs inside the room, on the nearest free floor."""
    kept = list(taken)
    shown = []
    for thing in things:
        foot = view.at(thing.at)
        box = _nearest_free(foot, size, kept)
        kept.append(box)
        shown.append(Shown(thing, box, foot))
    return tuple(shown)


def _nearest_free(foot: Point, size: float, kept: Sequence[Box]) -> Box:
    for ring in range(1, 12):
        reach = size * (0.6 + 0.35 * ring)
        for turn in range(12):
            angle = 2 * math.pi * (turn + 0.5) / 12
            box = _square(
                (foot[0] + reach * math.cos(angle), foot[1] + reach * math.sin(angle)), size
            )
            if not any(overlaps(_grown(box, size * 0.06), other) for other in kept):
                return box
    return _square(foot, size)


def draw(shown: Iterable[Shown], line: float) -> tuple[Item, ...]:
    """The symbols with their leaders, each ending in a dot at the true place."""
    leaders: list[Item] = []
    stamps: list[Item] = []
    for each in shown:
        x, y, size, _height = each.box
        middle = (x + size / 2, y + size / 2)
        leaders.append(Line(middle, each.foot, Pen(stroke="ink", width=line)))
        leaders.append(Circle(each.foot[0], each.foot[1], line * 2.4, Pen("ink")))
        stamps.append(Stamp(each.symbol, x, y, size))
    return (*leaders, *stamps)
