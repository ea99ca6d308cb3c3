"""Noise: the level where somebody works, as a figure in a ring whose form tells how loud."""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.drawings.ink import Circle, Group, Item, Label, Line, Pen, Point
from generator.drawings.keys import SAMPLE, Key
from generator.drawings.layers.board import Board, Part, nearest
from generator.drawings.layers.layer import LABEL, Layer
from generator.drawings.type import ASCENT
from generator.ground.units import show
from generator.ground.wording import _
from generator.workings.footprint import standing_place
from generator.workings.noise import Loudness, NoiseStudy

_RADIUS = 12.0
_LOUD = 2
_TEXT = 12.0


def draw(board: Board, noise: NoiseStudy, pinned: tuple[Item, ...]) -> Layer | None:
    """The least level at every station with all that may run together running.

    ``pinned`` are the tags of what was found.
    """
    heard = [place for place in noise.stations if place.heard]
    if not heard:
        return None
    items: list[Item] = [*pinned]
    for place in sorted(heard, key=lambda p: -p.low_db):
        items += _at(board, place, noise)
    return Layer("noise", _("Noise"), (*board.under(), *items), tuple(_keys(noise)))


def form(level_db: float, noise: NoiseStudy) -> int:
    """0 under the lower action value, 1 from it on, 2 from the upper one on."""
    lines = (noise.limits.lower, noise.limits.upper)
    return sum(line is not None and level_db >= line.low for line in lines)


def _at(board: Board, place: Loudness, noise: NoiseStudy) -> Iterator[Item]:
    foot = board.view.at(standing_place(board.shop.stations[place.station]))
    kind = form(place.low_db, noise)
    if board.narrow:
        yield from _small(board, place, foot, level_words(place.low_db, noise), kind)
        return
    reach = _RADIUS + (3.5 if kind == _LOUD else 1.0)
    at_station = board.station_at(place.station)
    size = (2 * reach, 2 * reach)
    box = board.clearing.take(size, [foot, at_station], reach=64.0)
    if box is None and kind == _LOUD:
        box = board.clearing.anywhere(size, foot)
    if box is None:
        return
    middle = (box[0] + reach, box[1] + reach)
    led = nearest(box, at_station)
    if abs(led[0] - at_station[0]) + abs(led[1] - at_station[1]) > 26:
        board.leaders.append(Line(middle, at_station, Pen(stroke="ink-soft", width=0.9)))
    yield Group(ring(middle, level_words(place.low_db, noise), kind), LABEL)


def level_words(level_db: float, noise: NoiseStudy) -> str:
    """A level in whole decibels, rounded so that it stays on its side of an action value."""
    whole = round(level_db)
    return str(whole if form(whole, noise) == form(level_db, noise) else math.floor(level_db))


_DOTTED = (1.6, 2.4)


def _small(board: Board, place: Loudness, foot: Point, words: str, kind: int) -> tuple[Item, ...]:
    """A level on a phone: the same three forms, no larger than their figures."""
    at = board.station_at(place.station)
    part = (
        Part(words, False, "sheet", "ink", "ink", _DOTTED, round=True),
        Part(words, True, "sheet", "ink", "ink", round=True),
        Part(words, True, "ink", "sheet", "ink", round=True),
    )[kind]
    reach = 60.0 if kind == _LOUD else 30.0
    return board.label([[part]], [foot, at], reach=reach, led=at, must=kind == _LOUD)


def ring(at: Point, text: str, kind: int) -> tuple[Item, ...]:
    """A level in its ring: dotted, single, or double and reversed."""
    x, y = at
    base = y + _TEXT * ASCENT / 2
    ink = ("ink", "ink", "sheet")[kind]
    box = (x - _RADIUS, y - _RADIUS, 2 * _RADIUS, 2 * _RADIUS)
    label = Label(x, base, text, _TEXT, kind > 0, "middle", ink, box=box)
    if kind == _LOUD:
        return (
            Circle(x, y, _RADIUS + 3, Pen("sheet", "ink", 1.2)),
            Circle(x, y, _RADIUS, Pen("ink")),
            label,
        )
    dash, width = (_DOTTED, 1.2) if kind == 0 else ((), 1.8)
    return Circle(x, y, _RADIUS, Pen("sheet", "ink", width, dash)), label


def _keys(noise: NoiseStudy) -> Iterator[Key]:
    lower, upper = noise.limits.lower, noise.limits.upper
    if upper:
        yield _key(2, _("{db} or more: ear protection is a duty").format(db=show(upper.low, "db")))
    if lower:
        yield _key(1, _("{db} or more: ear protection is offered").format(db=show(lower.low, "db")))
    least = lower or upper
    if least:
        yield _key(0, _("under {db}, by the least that it can be").format(db=show(least.low, "db")))


def _key(kind: int, words: str) -> Key:
    middle = (SAMPLE[0] / 2, SAMPLE[1] / 2)
    small = 0.6 * _RADIUS
    rings: tuple[Item, ...]
    if kind == _LOUD:
        rings = (Circle(*middle, small + 1.5, Pen("sheet", "ink", 1.0)),
                 Circle(*middle, small - 1, Pen("ink")))  # fmt: skip
    else:
        dash, width = ((1.6, 2.2), 1.2) if kind == 0 else ((), 1.8)
        rings = (Circle(*middle, small, Pen("sheet", "ink", width, dash)),)
    return Key(rings, words)
