"""The room with the places of its signs, numbered as one walks it.

Solid numbers have something to hang, open ones have all they need. Nothing else is told on it,
so that it can be read walking, on a phone as well as on paper.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from shapely import Point as Spot
from shapely import Polygon

from generator.drawings import floor, measures, type
from generator.drawings.atlas import Atlas
from generator.drawings.floor import A4, SCREEN, Weights
from generator.drawings.ink import Box, Circle, Drawing, Item, Label, Line, Pen, Point, Stamp
from generator.drawings.pictograms import sign
from generator.drawings.type import ASCENT
from generator.drawings.view import View, around, overlaps
from generator.ground.wording import _, ngettext
from generator.shop.records.room import Door
from generator.shop.records.stations import Station


@dataclass(frozen=True, slots=True)
class Pin:
    """A numbered place: where it is on the floor [mm], which way it looks, what it still lacks."""

    number: int
    at: Point
    into: Point
    missing: int


@dataclass(frozen=True, slots=True)
class Manner:
    """Sizes in the drawing's unit."""

    width: float
    radius: float
    text: float
    small: float
    symbol: float
    weights: Weights
    unit: str
    numbers: bool = True
    """Whether stations bear their numbers."""


PAPER = Manner(184.0, 2.9, 3.1, 3.0, 5.0, A4, "mm")
WIDE = Manner(740.0, 11.5, 12.5, 12.0, 20.0, SCREEN, "px")
PHONE = Manner(350.0, 9.5, 11.5, 11.0, 15.0, replace(SCREEN, outline=1.2), "px", numbers=False)

_PALE = Pen("line", "line-strong", soft=0.3)


def draw(atlas: Atlas, pins: Sequence[Pin], manner: Manner) -> Drawing:
    """The plan with its numbered places."""
    return _Plan(atlas, pins, manner).drawing()


class _Plan:
    """One plan as it is put together."""

    def __init__(self, atlas: Atlas, pins: Sequence[Pin], manner: Manner) -> None:
        self.atlas, self.pins, self.manner = atlas, pins, manner
        edge = manner.symbol * 1.3 + manner.radius
        tips = [
            floor.swing(atlas.shell, door)[1]
            for door in atlas.shop.room.doors.values()
            if door.opens == "out"
        ]
        x0, y0, wide, high = around([*atlas.shell.outer, *tips])
        scale = (manner.width - 2 * edge) / wide
        self.foot = manner.text * 3.4
        self.height = high * scale + 2 * edge + self.foot
        self.view = View(scale, edge - x0 * scale, edge + (y0 + high) * scale)
        self.room = Polygon(self.view.ring(atlas.shell.inner))
        self.taken: list[Box] = []

    def drawing(self) -> Drawing:
        lacking = sum(pin.missing > 0 for pin in self.pins)
        says = ngettext(
            "{all} places of signs, {n} of which lacks some.",
            "{all} places of signs, {n} of which lack some.",
            lacking,
        )
        room, numbers = tuple(self._room()), tuple(self._stations())
        return Drawing(
            self.manner.width,
            self.height,
            (*room, *numbers, *self._pins(), *self._scale()),
            _("Where signs hang, numbered as one walks the room"),
            says.format(all=len(self.pins), n=lacking),
            unit=self.manner.unit,
        )

    def _room(self) -> Iterator[Item]:
        view, shell, weights = self.view, self.atlas.shell, self.manner.weights
        pale = replace(_PALE, width=weights.fine)
        for station in self.atlas.shop.stations_by_number:
            yield floor.outline(view, station, pale)
        for fixture in shell.room.fixtures.values():
            yield floor.outline(view, fixture, pale)
        yield from floor.walls(view, shell, weights, solid=True)
        yield from floor.windows(view, shell, weights)
        yield from floor.doors(view, shell, weights)
        yield from floor.columns(view, shell, weights, solid=True)
        for door in shell.room.doors.values():
            if door.exit:
                yield self._exit(door)

    def _exit(self, door: Door) -> Item:
        wall, size = self.atlas.shell.wall_of(door.hinge, door.latch), self.manner.symbol
        middle = (wall.station_of(door.hinge) + wall.station_of(door.latch)) / 2
        out = self.atlas.shell.thickness + size * 0.75 / self.view.scale
        x, y = self.view.at(wall.place(middle, out))
        code = "E001" if wall.out[0] < 0 else "E002"
        return Stamp(sign(code), x - size / 2, y - size / 2, size)

    def _stations(self) -> Iterator[Item]:
        """Numbers of stations, soft, where their outlines hold them."""
        for station in self.atlas.shop.stations_by_number:
            if self.manner.numbers and self._holds_number(station):
                size, (x, y) = self.manner.small, self.view.at(station.at)
                text = str(station.number)
                wide = type.width(text, size)
                self.taken.append((x - wide / 2, y - size / 2, wide, size))
                yield Label(x, y + size * ASCENT / 2, text, size, anchor="middle",
                            colour="ink-soft")  # fmt: skip

    def _holds_number(self, station: Station) -> bool:
        room = min(station.size) * self.view.scale
        return room >= type.width(str(station.number), self.manner.small) + self.manner.small * 0.2

    # --- the places

    def _pins(self) -> Iterator[Item]:
        placed = [(pin, self._place(pin)) for pin in self.pins]
        for pin, middle in placed:
            yield from self._leader(self.view.at(pin.at), middle)
        for pin, middle in placed:
            yield from self._pin(pin, middle)

    def _place(self, pin: Pin) -> Point:
        """The nearest free floor before its place, else the place itself."""
        found = next(filter(self._is_free, self._wishes(pin)), None)
        x, y = found or self.view.at(pin.at)
        r = self.manner.radius
        self.taken.append((x - r, y - r, 2 * r, 2 * r))
        return x, y

    def _wishes(self, pin: Pin) -> Iterator[Point]:
        x, y = self.view.at(pin.at)
        u, v = pin.into[0], -pin.into[1]
        r = self.manner.radius
        for away in range(14):
            for step in range(15):
                aside = (step + 1) // 2 * (1 if step % 2 else -1) * r * 0.55
                far = r * (1.25 + 0.5 * away)
                yield x + u * far - v * aside, y + v * far + u * aside

    def _is_free(self, middle: Point) -> bool:
        r = self.manner.radius
        box = (middle[0] - r, middle[1] - r, 2 * r, 2 * r)
        inside = self.room.contains(Spot(middle).buffer(r * 0.9))
        return inside and not any(overlaps(_grown(box, r * 0.12), taken) for taken in self.taken)

    def _leader(self, place: Point, middle: Point) -> Iterator[Item]:
        fine = self.manner.weights.fine
        yield Line(place, middle, Pen(stroke="ink", width=fine))
        yield Circle(*place, fine * 2.2, Pen("ink"))

    def _pin(self, pin: Pin, middle: Point) -> Iterator[Item]:
        x, y = middle
        size, r = self.manner.text, self.manner.radius
        pen = Pen("ink" if pin.missing else "sheet", "ink", self.manner.weights.fine * 1.4)
        colour = "sheet" if pin.missing else "ink"
        yield Circle(x, y, r, pen)
        yield Label(x, y + size * ASCENT / 2, str(pin.number), size, bold=True, anchor="middle",
                    colour=colour, box=(x - r, y - r, 2 * r, 2 * r))  # fmt: skip

    def _scale(self) -> Iterator[Item]:
        size, fine = self.manner.text, self.manner.weights.fine
        left = self.view.at((self.atlas.shell.bounds[0], 0))[0]
        place = (left + size, self.height - size * 0.7)
        yield from measures.scale_bar(self.view, place, size=size, line=fine)
        bar = self.view.length(measures.bar_metres(self.view, size) * 1000)
        arrow = size * 2.1
        north = self.atlas.shop.room.north_deg
        yield from measures.north(
            left + size * 4 + bar + arrow, self.height - size * 1.6, arrow, north
        )


def _grown(box: Box, by: float) -> Box:
    return box[0] - by, box[1] - by, box[2] + 2 * by, box[3] + 2 * by
