"""What finds its own place on a plan: symbols, door names, zone names, balloons."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cached_property

from shapely import Polygon as Area
from shapely import box as area_box

from generator.drawings import balloons, hung, type
from generator.drawings.atlas import Atlas, Link
from generator.drawings.balloons import Balloon, Placed
from generator.drawings.hung import Band, Hung, Shown
from generator.drawings.ink import Box, Item, Label, Point, Stamp
from generator.drawings.manner import Manner
from generator.drawings.pictograms import sign
from generator.drawings.shell import Wall
from generator.drawings.type import ASCENT, LEADING
from generator.drawings.view import View, around, overlaps
from generator.shop.records.refs import Side
from generator.shop.records.room import Door, Zone
from generator.shop.records.stations import Station
from generator.workings.footprint import clear_area, footprint, side_middle

_SIDES: tuple[Side, ...] = ("front", "left", "right", "back")
_AT_THEIR_PLACE = frozenset({"isolator", "extract", "water", "board"})
"""Drawn small where they are; everything else stands outside with a leader."""

_COSTS = {"symbol": 32.0, "off the floor": 16.0, "column": 5.0, "station": 1.1}
"""What covering each costs: how many radii a balloon would rather move."""


class Placing:
    """Everything on one plan that has to keep off everything else."""

    def __init__(self, atlas: Atlas, view: View, manner: Manner) -> None:
        self.atlas, self.view, self.manner = atlas, view, manner
        self.band = Band(view, atlas.shell, size=manner.symbol, off=manner.band_off)
        shown = [t for t in atlas.equipment if t.kind not in manner.leaves_out]
        ranks, inner = hung.on_walls(
            atlas.shell, [*shown, *(atlas.services if manner.small else ())]
        )
        self.small = (*self._at_the_face(ranks), *self._on_the_floor(inner))
        self.outer = hung.outside(self.band, [r for r in ranks if r[1].kind not in _AT_THEIR_PLACE])
        self.inner = self._beside_columns(inner)
        self.door_names = tuple(
            part for door in atlas.shop.room.doors.values() for part in self._door_name(door)
        )

    def _at_the_face(self, ranks: Iterable[tuple[Wall, Hung]]) -> tuple[Shown, ...]:
        small = [rank for rank in ranks if rank[1].kind in _AT_THEIR_PLACE]
        return hung.at_the_face(self.view, small, self.manner.small) if self.manner.small else ()

    def _on_the_floor(self, inner: Iterable[Hung]) -> tuple[Shown, ...]:
        small = [thing for thing in inner if thing.kind in _AT_THEIR_PLACE]
        return hung.in_place(self.view, small, self.manner.small) if self.manner.small else ()

    def _beside_columns(self, inner: Iterable[Hung]) -> tuple[Shown, ...]:
        led = [thing for thing in inner if thing.kind not in _AT_THEIR_PLACE]
        taken = [*self._station_boxes, *self._column_boxes]
        return hung.beside_column(self.view, led, self.manner.symbol, taken)

    @cached_property
    def _station_boxes(self) -> list[Box]:
        return [self._box_of(footprint(s)) for s in self.atlas.shop.stations.values()]

    @cached_property
    def _column_boxes(self) -> list[Box]:
        return [self._box_of(footprint(c)) for c in self.atlas.shop.room.columns.values()]

    def _box_of(self, ring: Iterable[Point]) -> Box:
        return around(self.view.ring(ring))

    @property
    def shown(self) -> tuple[Shown, ...]:
        return (*self.small, *self.outer, *self.inner)

    def equipment(self) -> tuple[Item, ...]:
        """Symbols with their leaders, and the names of the doors."""
        led = hung.draw((*self.outer, *self.inner), self.manner.weights.fine)
        stamps = (Stamp(s.symbol, s.box[0], s.box[1], s.box[2]) for s in self.small)
        return (*led, *stamps, *self.door_names)

    # --- doors ---

    def _door_name(self, door: Door) -> Iterator[Item]:
        """The sign for a way out, and the door's name after it, outside beside the door."""
        wall = self.atlas.shell.wall_of(door.hinge, door.latch)
        symbol, size = self.manner.symbol, self.manner.text
        name = str(door.name) if self.manner.details else ""
        lead = symbol + (size * 0.4 if name else 0) if door.exit else 0.0
        width = type.width(name, size, bold=True) if name else 0.0
        if not lead + width:
            return
        middle = (wall.station_of(door.hinge) + wall.station_of(door.latch)) / 2
        spot = self.band.take(wall, middle, lead + width)
        if door.exit:
            code = "E001" if wall.out[0] < -0.5 else "E002"
            yield Stamp(sign(code), spot[0], _near_end(spot, symbol), symbol)
        if name:
            yield _along(spot, lead, name, size)

    # --- balloons ---

    def numbered(self, link: Link | None) -> tuple[Placed, ...]:
        """The stations' balloons, placed."""
        wanted = [self._balloon(s, link) for s in self.atlas.shop.stations_by_number]
        floor = self.view.ring(self.atlas.shell.inner)
        keep_off = [
            *((shown.box, _COSTS["symbol"]) for shown in self.shown),
            *((box, _COSTS["column"]) for box in self._column_boxes),
            *((box, _COSTS["station"]) for box in self._station_boxes),
            *((box, _COSTS["off the floor"]) for box in _off_the_floor(floor)),
        ]
        manner = self.manner
        field = around([*floor, *(point for each in wanted for point in each.shape)])
        return balloons.place(wanted, manner.balloon, manner.touch, field, keep_off)

    def _balloon(self, station: Station, link: Link | None) -> Balloon:
        """The number belongs on the working edge, else in the middle, else on another edge."""
        first: Side = next((w.side for w in station.working_sides if not w.service), "front")
        others = [side for side in _SIDES if side != first]
        edge, *more = (self.view.at(side_middle(station, side)) for side in (first, *others))
        return Balloon(
            station.number,
            (edge, self.view.at(station.at), *more),
            self.view.ring(footprint(station)),
            link(station) if link else "",
            f"{station.number} {station.name}",
        )

    # --- zones ---

    def zone_names(self, placed: Iterable[Placed]) -> Iterator[Item]:
        """Each zone's name on a free piece of its own floor, nearest its upper left corner."""
        shop = self.atlas.shop
        taken = [shown.box for shown in self.shown]
        taken += [around([each.at], each.radius) for each in placed if each.at]
        taken += [*self._station_boxes, *self._column_boxes]
        taken += [self._box_of(footprint(fixture)) for fixture in shop.room.fixtures.values()]
        busy = [
            self._box_of(clear_area(station, working))
            for station in shop.stations.values()
            for working in station.working_sides
        ]
        for zone in shop.room.zones.values():
            if zone.outline and (found := self._spot(zone, taken, busy)):
                spot, lines = found
                taken.append(spot)
                yield from _set(spot, lines, self.manner.text)

    def _spot(self, zone: Zone, taken: list[Box], busy: list[Box]) -> tuple[Box, list[str]] | None:
        """A free box for a zone's name, in one line or, for want of room, in more."""
        size, name = self.manner.text, str(zone.name)
        longest = max(name.split(), key=len)
        for width in (type.width(name, size), type.width(longest, size)):
            lines = type.wrap(name, size, width * 1.02)
            wide = max(type.width(line, size) for line in lines)
            box = _free(
                self.view.ring(zone.outline), (wide, len(lines) * size * LEADING), taken, busy
            )
            if box:
                return box, lines
        return None


def _free(
    ring: tuple[Point, ...], size: tuple[float, float], taken: list[Box], busy: list[Box]
) -> Box | None:
    """A free box inside a ring; floor that must stay clear is taken only for want of other."""
    area, (left, top, across, down), (width, height) = Area(ring), around(ring), size
    step = height * 0.3
    found: list[tuple[float, Box]] = []
    for row in range(1, max(2, int((down - height) / step) + 1)):
        for column in range(1, max(2, int((across - width) / step) + 1)):
            spot = (left + column * step, top + row * step, width, height)
            if any(overlaps(spot, other) for other in taken):
                continue
            if area.covers(area_box(spot[0], spot[1], spot[0] + width, spot[1] + height)):
                crossed = any(overlaps(spot, other) for other in busy)
                found.append((row + column + 400 * crossed, spot))
    return min(found)[1] if found else None


def _set(spot: Box, lines: list[str], size: float) -> Iterator[Item]:
    x, y, _width, height = spot
    for i, line in enumerate(lines):
        base = y + (i + 0.5) * height / len(lines) + size * ASCENT / 2
        yield Label(x, base, line, size, colour="ink-soft", box=spot)


def _near_end(spot: Box, symbol: float) -> float:
    """The top of the symbol: where reading begins, at the foot of an upright strip."""
    _x, y, width, height = spot
    return y + height - symbol if height > width else y


def _along(spot: Box, lead: float, name: str, size: float) -> Label:
    """A name along a strip after the symbol, read from below where the strip is upright."""
    x, y, width, height = spot
    if height > width:
        room = (x, y, width, height - lead)
        base = x + width / 2 + size * ASCENT / 2
        return Label(base, y + height - lead, name, size, bold=True, turn=-90, box=room)
    room = (x + lead, y, width - lead, height)
    base = y + height / 2 + size * ASCENT / 2
    return Label(x + lead, base, name, size, bold=True, box=room)


def _off_the_floor(floor: tuple[Point, ...]) -> Iterator[Box]:
    """What of the box round the room is no floor, in upright boxes."""
    left, top, width, height = around(floor)
    rest = area_box(left, top, left + width, top + height) - Area(floor)
    for piece in getattr(rest, "geoms", [rest]):
        if not piece.is_empty:
            x0, y0, x1, y1 = piece.bounds
            yield x0, y0, x1 - x0, y1 - y0
