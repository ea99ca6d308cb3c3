"""A small piece of the plan round one station: where you stand, and what turns it off.

Its cost does not grow with the shop: neighbours come from an index, and only what reaches into
the window is drawn.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import TypeVar

from generator.drawings import floor, hung, machinery, type
from generator.drawings.atlas import Atlas
from generator.drawings.floor import A4, SCREEN, Weights
from generator.drawings.hung import Hung
from generator.drawings.ink import (
    Box,
    Circle,
    Drawing,
    Group,
    Item,
    Label,
    Line,
    Pen,
    Point,
    Rect,
    Stamp,
)
from generator.drawings.measures import metres, millimetres
from generator.drawings.pictograms import sign
from generator.drawings.shell import ends_of
from generator.drawings.type import ASCENT
from generator.drawings.view import View, around, inside, overlaps
from generator.ground.wording import _
from generator.shop.records.room import Door, Equipment, Window
from generator.shop.records.stations import Station
from generator.workings.footprint import clear_area, door_middle, footprint, standing_place

Opening = TypeVar("Opening", Door, Window)

_LEAST_MM = 2600.0
"""The window is never narrower than this, so that something to know it by is in it."""

_MARGIN_MM = 550.0
_SAME_WAY = 0.25
"""Lines that leave within this angle would lie on one another [rad]."""

_FAR_MM = 7000.0
"""What is farther off than this is told in words, not drawn."""

_HELP = frozenset({"extinguisher", "fire-blanket", "first-aid", "eyewash", "burn-sink"})


@dataclass(frozen=True, slots=True)
class Excerpt:
    """Sizes of a locator in its unit."""

    width: float
    height: float
    unit: str
    text: float
    balloon: float
    symbol: float
    weights: Weights
    hatch: float


ON_SCREEN = Excerpt(340, 260, "px", 14, 14, 20, SCREEN, 5.5)
ON_CARD = Excerpt(59, 46, "mm", 3.0, 3.3, 4.6, A4, 1.1)


def draw(atlas: Atlas, station: Station, excerpt: Excerpt = ON_SCREEN) -> Drawing:
    """The excerpt round one station as a drawing of its own."""
    scene = Scene(atlas, station, excerpt, (0.0, 0.0))
    return Drawing(
        excerpt.width,
        excerpt.height,
        (scene.item(),),
        _("Where {number} {name} stands").format(number=station.number, name=station.name),
        scene.described(),
        unit=excerpt.unit,
        hatch=excerpt.hatch,
    )


class Scene:
    """One station and what is round it, placed in a window of the drawing."""

    def __init__(self, atlas: Atlas, station: Station, excerpt: Excerpt, corner: Point) -> None:
        self.atlas, self.station, self.excerpt = atlas, station, excerpt
        self.you = standing_place(station)
        self.off = atlas.shop.cut_offs(station.id)
        self.drawn_off = self._worth_drawing()
        self.frame: Box = (*corner, excerpt.width, excerpt.height)
        self.view = self._view()
        self.taken: list[Box] = []
        self._seen: dict[str, bool] = {}

    def _worth_drawing(self) -> list[Equipment]:
        """Every isolator that is not far off, and the nearest emergency stop."""
        near = sorted(self.off, key=lambda e: math.dist(e.at, self.you))
        stops = [e for e in near if e.kind != "isolator"][:1]
        chosen = [*(e for e in near if e.kind == "isolator"), *stops]
        return [e for e in chosen if math.dist(e.at, self.you) <= _FAR_MM]

    # --- the window ---

    def _view(self) -> View:
        """The scale and place at which station, clear floor and cut-offs fill the window."""
        points = [*footprint(self.station), self.you, *(e.at for e in self.drawn_off)]
        for working in self.station.working_sides:
            points += clear_area(self.station, working)
        left, low, wide, high = around(points, _MARGIN_MM)
        x, y, width, height = self.frame
        scale = min(width / max(wide, _LEAST_MM), height / max(high, _LEAST_MM * height / width))
        middle = (left + wide / 2, low + high / 2)
        return View(scale, x + width / 2 - middle[0] * scale, y + height / 2 + middle[1] * scale)

    @property
    def window(self) -> tuple[float, float, float, float]:
        """The floor that is seen: least x and y, greatest x and y [mm]."""
        x, y, width, height = self.frame
        x0, y1 = self.view.floor((x, y))
        x1, y0 = self.view.floor((x + width, y + height))
        return x0, y0, x1, y1

    def _sees(self, points: Iterable[Point]) -> bool:
        return overlaps(around(self.view.ring(points)), self.frame)

    # --- what is drawn ---

    def item(self) -> Item:
        """Everything, seen through the window, in its frame."""
        weights = self.excerpt.weights
        scene = Group(tuple(self._layers()), clip=self.frame)
        return Group(
            (scene, Rect(*self.frame, Pen(stroke="ink", width=weights.fixture))), "locator"
        )

    def _layers(self) -> Iterator[Item]:
        neighbours = [s for s in self.atlas.stations_in(*self.window) if s is not self.station]
        you = self.view.at(self.you)
        self.taken.append(around([you], self.excerpt.text * 0.6))
        yield Rect(*self.frame, Pen("sheet"))
        yield from floor.clear_areas(self.view, self.station, self.excerpt.weights)
        yield from self._room()
        for neighbour in neighbours:
            yield from self._neighbour(neighbour)
        yield from self._self()
        yield from self._equipment()
        yield from self._ways(you)
        yield from self._stand(you)
        yield from self._numbers(neighbours)

    def _room(self) -> Iterator[Item]:
        view, shell, weights = self.view, self.atlas.shell, self.excerpt.weights
        yield from floor.walls(view, shell, weights)
        for pane in self._openings(shell.room.windows.values()):
            yield from floor.window(view, shell, pane, weights)
        for door in self._openings(shell.room.doors.values()):
            yield from floor.leaf(view, shell, door, weights)
        for column in shell.room.columns.values():
            ring = footprint(column)
            self.taken.append(around(view.ring(ring)))
            yield floor.outline(view, column, Pen("hatch", "ink", weights.outline))
        for fixture in shell.room.fixtures.values():
            if self._sees(footprint(fixture)):
                yield floor.outline(view, fixture, Pen("sheet", "line-strong", weights.fixture))

    def _openings(self, things: Iterable[Opening]) -> Iterator[Opening]:
        """Doors or windows whose opening or swing reaches into the window."""
        for thing in things:
            a, b = ends_of(thing)
            reach = math.dist(a, b) + self.atlas.shell.thickness
            if self._sees([(a[0] - reach, a[1] - reach), (a[0] + reach, a[1] + reach)]):
                yield thing

    def _neighbour(self, station: Station) -> Iterator[Item]:
        weights = self.excerpt.weights
        self.taken.append(around(self.view.ring(footprint(station))))
        yield floor.outline(self.view, station, Pen("sheet", "line-strong", weights.fixture))

    def _self(self) -> Iterator[Item]:
        weights = self.excerpt.weights
        self.taken.append(around(self.view.ring(footprint(self.station))))
        yield floor.outline(self.view, self.station, Pen("sheet", "ink", weights.outline * 1.5))
        kinds = self.atlas.kinds_at(self.station)
        yield from machinery.draw(self.view, self.station, kinds, weights.fixture)

    def _equipment(self) -> Iterator[Item]:
        """What turns the station off, and help that hangs in the window."""
        size, x0, y0, x1, y1 = self.excerpt.symbol, *self.window
        off = [Hung(e.kind, e.at, str(e.name)) for e in self.drawn_off]
        near = [
            thing
            for thing in self.atlas.equipment
            if thing.kind in _HELP and x0 < thing.at[0] < x1 and y0 < thing.at[1] < y1
        ]
        ranks, inner = hung.on_walls(self.atlas.shell, [*off, *near])
        ranks.sort(key=lambda rank: rank[1].kind in _HELP)
        placed = (
            *hung.at_the_face(self.view, ranks, size),
            *hung.in_place(self.view, inner, size),
        )
        shown = [each for each in placed if inside(each.box, self.frame)]
        self.places = {each.hung.name: each.box for each in shown}
        self.taken += [each.box for each in shown]
        for each in shown:
            yield Stamp(each.symbol, each.box[0], each.box[1], size)

    # --- ways: to what turns it off, and out ---

    def _ways(self, you: Point) -> Iterator[Item]:
        """A dashed line from where you stand to each cut-off in sight, with its length."""
        drawn: list[float] = []
        for each in self.drawn_off:
            box = self.places.get(str(each.name))
            if box is None or not self.seen(each):
                continue
            end = (box[0] + box[2] / 2, box[1] + box[3] / 2)
            bearing = math.atan2(end[1] - you[1], end[0] - you[0])
            if any(abs(math.remainder(bearing - b, math.tau)) < _SAME_WAY for b in drawn):
                continue
            drawn.append(bearing)
            yield from self._way(you, end, box, metres(math.dist(self.you, each.at)))
        yield from self._out(you)

    def _way(self, you: Point, end: Point, box: Box, text: str) -> Iterator[Item]:
        width, size = self.excerpt.weights.fixture, self.excerpt.text
        pen = Pen(stroke="ink", width=width, dash=(width * 4, width * 3))
        if math.dist(you, end) > box[2] * 1.6:
            yield Line(*_between(you, end, size * 0.45, box[2] * 0.55), pen)
        yield from self._on_line(you, end, text) or self._under(box, text)

    def _on_line(self, start: Point, end: Point, text: str) -> tuple[Item, ...]:
        """A length on its line, where nothing else stands."""
        size = self.excerpt.text
        width, height = type.width(text, size, bold=True) + size * 0.4, size * 1.15
        for share in (0.5, 0.4, 0.6, 0.3, 0.7):
            x = start[0] + (end[0] - start[0]) * share
            y = start[1] + (end[1] - start[1]) * share
            box = (x - width / 2, y - height / 2, width, height)
            if self._free(box):
                return self._set(box, text, size, bold=True)
        return ()

    def _free(self, box: Box) -> bool:
        return inside(box, self.frame) and not any(overlaps(box, other) for other in self.taken)

    def _set(self, box: Box, text: str, size: float, bold: bool = False) -> tuple[Item, ...]:
        """Text in the middle of a box, on a ground that lets it be read over lines."""
        self.taken.append(box)
        base = box[1] + box[3] / 2 + size * ASCENT / 2
        label = Label(box[0] + box[2] / 2, base, text, size, bold, "middle", box=box)
        return Rect(*box, Pen("sheet", soft=0.85)), label

    @cached_property
    def way_out(self) -> tuple[Door, float] | None:
        """The nearest way out in sight, and the straight distance to it [mm]."""
        doors = self.atlas.shop.room.doors.values()
        seen = [
            (math.dist(self.you, door_middle(door)), door)
            for door in doors
            if door.exit and self.atlas.sight.clear(self.you, door_middle(door))
        ]
        distance, door = min(seen, key=lambda pair: pair[0], default=(0.0, None))
        return (door, distance) if door else None

    def _out(self, you: Point) -> Iterator[Item]:
        """The sign for the way out, at the window's edge in the direction of the door."""
        found = self.way_out
        if not found:
            return
        size = self.excerpt.symbol * 1.1
        x, y, width, height = self.frame
        inner = (x + size * 0.7, y + size * 0.7, width - size * 1.4, height - size * 1.4)
        target = self.view.at(door_middle(found[0]))
        at = _held_in(you, target, inner)
        box = (at[0] - size / 2, at[1] - size / 2, size, size)
        code = "E001" if target[0] < you[0] else "E002"
        for shift in (0.0, 1.1, -1.1, 2.2, -2.2, 3.3, -3.3, 4.4, -4.4):
            moved = _slid(box, at, inner, shift * size)
            if not any(overlaps(moved, other) for other in self.taken):
                self.taken.append(moved)
                yield Stamp(sign(code), moved[0], moved[1], size)
                yield from self._under(moved, metres(found[1]))
                return

    def _under(self, box: Box, text: str) -> tuple[Item, ...]:
        """A length under a symbol, or over or beside it where there is no room."""
        size = self.excerpt.text * 0.9
        width, height = type.width(text, size, bold=True) + size * 0.2, size * 1.15
        x, y, across, down = box
        middle = min(max(x + across / 2, self.frame[0] + width / 2), _right(self.frame) - width / 2)
        corners = (
            (middle - width / 2, y + down),
            (middle - width / 2, y - height),
            (x + across, y + (down - height) / 2),
            (x - width, y + (down - height) / 2),
        )
        spots = ((left, top, width, height) for left, top in corners)
        spot = next((spot for spot in spots if self._free(spot)), None)
        return self._set(spot, text, size, bold=True) if spot else ()

    # --- numbers ---

    def _numbers(self, neighbours: Iterable[Station]) -> Iterator[Item]:
        """The station's own number, reversed, and its neighbours' where there is room."""
        size = self.excerpt.balloon
        middle = self.view.at(self.station.at)
        yield from self._balloon(middle, str(self.station.number), size, chosen=True)
        shapes = [around(self.view.ring(footprint(s))) for s in (*neighbours, self.station)]
        taken = [box for box in self.taken if box not in shapes]
        for neighbour in neighbours:
            at = self._visible_middle(neighbour)
            box = around([at], size * 0.8)
            if inside(box, self.frame) and not any(overlaps(box, other) for other in taken):
                taken.append(box)
                self.taken.append(box)
                yield from self._balloon(at, str(neighbour.number), size * 0.78)

    def _visible_middle(self, station: Station) -> Point:
        x, y, width, height = self.frame
        left, top, across, down = around(self.view.ring(footprint(station)))
        x0, x1 = max(left, x), min(left + across, x + width)
        y0, y1 = max(top, y), min(top + down, y + height)
        return (x0 + x1) / 2, (y0 + y1) / 2

    def _balloon(self, at: Point, text: str, radius: float, chosen: bool = False) -> Iterator[Item]:
        fill, colour = ("ink", "sheet") if chosen else ("sheet", "ink")
        size = radius * (1.25 if len(text) < 3 else 0.95)
        base = at[1] + size * ASCENT / 2
        box = (at[0] - radius, at[1] - radius, 2 * radius, 2 * radius)
        yield Circle(*at, radius, Pen(fill, "ink", self.excerpt.weights.fixture))
        yield Label(at[0], base, text, size, bold=True, anchor="middle", colour=colour, box=box)

    def _stand(self, you: Point) -> Iterator[Item]:
        """Where you stand: a filled dot with the word beside it."""
        size, text = self.excerpt.text, _("you")
        yield Circle(*you, size * 0.3, Pen("ink", "sheet", size * 0.1))
        width, height = type.width(text, size, bold=True), size * 1.15
        for dx, dy in ((0.6, -0.55), (-0.6, -0.55), (0.0, 0.5), (0.0, -1.6)):
            x = you[0] + dx * size - (width if dx < 0 else width / 2 if not dx else 0)
            box = (x, you[1] + dy * size, width, height)
            others = [t for t in self.taken if not overlaps(around([you], size * 0.3), t)]
            if inside(box, self.frame) and not any(overlaps(box, other) for other in others):
                base = box[1] + height / 2 + size * ASCENT / 2
                yield Label(x, base, text, size, bold=True, box=box)
                return

    # --- words ---

    def described(self) -> str:
        """What the excerpt shows, in words."""
        return " ".join([*self._described_off(), self._described_out()])

    def seen(self, equipment: Equipment) -> bool:
        """Whether a cut-off is in sight from where you stand."""
        if equipment.id not in self._seen:
            self._seen[equipment.id] = self.atlas.sight.clear(self.you, equipment.at)
        return self._seen[equipment.id]

    def distance(self, equipment: Equipment) -> float:
        """Straight, from where you stand [mm]."""
        return math.dist(self.you, equipment.at)

    def _described_off(self) -> Iterator[str]:
        for each in self.off:
            far = math.dist(self.you, each.at)
            seen = self.seen(each)
            says = (
                _("{name}: in sight, {far} in a straight line, {high} mm up.")
                if seen
                else _("{name}: not in sight from here, {high} mm up.")
            )
            yield says.format(name=each.name, far=metres(far), high=millimetres(each.height_mm))

    def _described_out(self) -> str:
        found = self.way_out
        if not found:
            return _("No way out is in sight from here.")
        says = _("Way out in sight: {door}, {far} in a straight line.")
        return says.format(door=found[0].name, far=metres(found[1]))


def _right(box: Box) -> float:
    return box[0] + box[2]


def _between(a: Point, b: Point, from_a: float, from_b: float) -> tuple[Point, Point]:
    """A line shortened at both ends."""
    length = math.dist(a, b) or 1.0
    u, v = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    return (a[0] + u * from_a, a[1] + v * from_a), (b[0] - u * from_b, b[1] - v * from_b)


def _held_in(start: Point, end: Point, box: Box) -> Point:
    """The end of a line, or where the line leaves the box."""
    share = 1.0
    for axis in (0, 1):
        low, high = box[axis], box[axis] + box[axis + 2]
        run = end[axis] - start[axis]
        if run and end[axis] > high:
            share = min(share, (high - start[axis]) / run)
        elif run and end[axis] < low:
            share = min(share, (low - start[axis]) / run)
    share = max(share, 0.0)
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def _slid(box: Box, at: Point, inner: Box, by: float) -> Box:
    """A box moved along the edge of the window that it lies on."""
    on_side = min(at[0] - inner[0], inner[0] + inner[2] - at[0]) < 1e-6
    dx, dy = (0.0, by) if on_side else (by, 0.0)
    x = min(max(box[0] + dx, inner[0] - box[2] / 2), inner[0] + inner[2] - box[2] / 2)
    y = min(max(box[1] + dy, inner[1] - box[3] / 2), inner[1] + inner[3] - box[3] / 2)
    return x, y, box[2], box[3]
