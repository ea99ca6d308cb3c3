"""The escape plan: a sheet to ISO 23601, turned so that up on it is ahead of its reader.

Outside walls are solid, what stands on the floor is pale. The way from where the sheet hangs is
broad and has solid arrows, the second way open ones; everybody else's ways are narrower. Words
stay upright whatever the turn.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import shapely
from shapely import LineString, Polygon
from shapely import box as area_box

from generator.drawings import floor, lettering, measures, type
from generator.drawings.atlas import Atlas
from generator.drawings.column import Column, lines
from generator.drawings.foot import Foot
from generator.drawings.ink import (
    Box,
    Circle,
    Drawing,
    Item,
    Label,
    Line,
    Path,
    Pen,
    Point,
    Polyline,
    Rect,
    Stamp,
    Symbol,
    path_of,
)
from generator.drawings.ink import Polygon as Area
from generator.drawings.pictograms import BURN_TAP, sign
from generator.drawings.signals import plan_symbol
from generator.drawings.turned import Turned
from generator.drawings.type import ASCENT
from generator.drawings.view import around, overlaps
from generator.drawings.words import word
from generator.ground.paper import Paper
from generator.ground.units import show
from generator.ground.wording import _
from generator.shop.records.room import Door
from generator.shop.records.stations import Station
from generator.workings.routes import Journey
from generator.workings.signage import EscapePlanPlace

SCALES = (10, 20, 25, 40, 50, 75, 100, 125, 150, 200, 250)
"""Scales a plan is drawn to, the largest drawing first; no smaller one is to be hung."""

ROUTE, ARROW, HERE = "#c2e4cd", "safety-green", "safety-blue"
WALL, INNER = 1.6, 0.6
"""Lines of outer walls and of what stands within [mm]."""

SYMBOL = 8.0
_TEXT, _BIG, _TITLE = 4.1, 4.6, 13.0
"""Em of the least words, whose x is 2 mm high, of steps, and of the title [mm]."""

_EDGE, _HEADER, _FOOT, _PANEL = 8.0, 25.0, 34.0, 124.0
_BAND, _NARROW = 6.4, 2.4
_ROOM_FOR_SYMBOLS = 15.0
_SHOWN = ("extinguisher", "fire-blanket", "alarm-point", "first-aid", "eyewash", "burn-sink")
_HAIR = 0.25

_Key = Callable[[Box], tuple[Item, ...]]
"""Draws what a legend explains in its box."""


@dataclass(frozen=True, slots=True)
class Brief:
    """What is drawn: the place a plan hangs at, everybody's ways out, and how it stands.

    ``state`` says whether it is signed off and by whom, or what is to be done first. ``paper``
    is the least sheet, of A3 or larger, and lies across.
    """

    plan: EscapePlanPlace
    everybody: tuple[Journey, ...]
    paper: Paper
    draft: bool
    state: str


def draw(atlas: Atlas, brief: Brief, foot: Foot) -> Drawing:
    """The escape plan of one place, in millimetres."""
    return _Sheet(atlas, brief, foot).drawing()


def scale_of(atlas: Atlas, plan: EscapePlanPlace, paper: Paper) -> int | None:
    """One in how many the plan is drawn to, None where the sheet is too small for any scale."""
    return _Layout.of(atlas, plan, paper).divisor


@dataclass(frozen=True)
class _Layout:
    """Where everything stands on the sheet: the plan's area, the panel, and the scale."""

    paper: Paper
    area: Box
    panel: Box
    divisor: int | None
    view: Turned

    @classmethod
    def of(cls, atlas: Atlas, plan: EscapePlanPlace, sheet: Paper) -> _Layout:
        """The sheet across: upright it has no more room for a plan beside what must be read."""
        paper = sheet.landscape
        top, bottom = _EDGE + _HEADER, paper.height - _EDGE - _FOOT
        width, high = paper.width - 2 * _EDGE, bottom - top
        area = (_EDGE, top, width - _PANEL, high)
        panel = (_EDGE + width - _PANEL, top, _PANEL, high)
        return cls(paper, area, panel, *_fitted(atlas, plan, area))


def _fitted(atlas: Atlas, plan: EscapePlanPlace, area: Box) -> tuple[int | None, Turned]:
    """The largest scale at which the room and its symbols stand in the area, in its middle."""
    for divisor in SCALES:
        view = Turned(1 / divisor, 0.0, 0.0, plan.turn_deg)
        x, y, width, height = around(_extent(atlas, view), _ROOM_FOR_SYMBOLS)
        if width <= area[2] and height <= area[3]:
            break
    else:
        divisor = 0
    left = area[0] + area[2] / 2 - (x + width / 2)
    top = area[1] + area[3] / 2 - (y + height / 2)
    return divisor or None, Turned(view.scale, left, top, plan.turn_deg)


def _extent(atlas: Atlas, view: Turned) -> list[Point]:
    shell = atlas.shell
    tips = [floor.swing(shell, d)[1] for d in shell.room.doors.values() if d.opens == "out"]
    return [view.at(point) for point in (*shell.outer, *tips)]


class _Sheet:
    """One plan as it is put together."""

    def __init__(self, atlas: Atlas, brief: Brief, foot: Foot) -> None:
        self.atlas, self.brief, self.foot, self.plan = atlas, brief, foot, brief.plan
        self.layout = _Layout.of(atlas, brief.plan, brief.paper)
        self.view = self.layout.view
        self.room = atlas.shop.room
        self.taken: list[Box] = [_door_box(self.view, atlas, d) for d in self.room.doors.values()]

    def drawing(self) -> Drawing:
        paper = self.layout.paper
        here = self._here()
        exits = [item for door in self.room.doors.values() for item in self._exit(door)]
        symbols = list(self._symbols())
        items = (
            Rect(0, 0, paper.width, paper.height, Pen("white")),
            *self._floor(),
            *self._routes(),
            *self._walls(),
            *symbols,
            *exits,
            *here,
            *(self._draft() if self.brief.draft else ()),
            *self._header(),
            *self._panel(),
            *self._footer(),
            *self._frame(),
        )
        title = _("Escape plan {place}").format(place=self.plan.name)
        return Drawing(paper.width, paper.height, items, title, self._described(), unit="mm")

    def _described(self) -> str:
        """The plan in words: the ways and how long they are, and where to meet."""
        walks = self._walks()
        named = (f"{name}: {walk.end}, {_far(walk.length_mm)}" for name, walk, _pen in walks)
        meet = _("Meet at {name}.").format(name=self.room.assembly.name)
        return ". ".join([*named, meet])

    # --- the room

    def _floor(self) -> Iterator[Item]:
        pale = Pen("#eef0ef", "line-strong", _HAIR)
        for station in self.atlas.shop.stations_by_number:
            yield floor.outline(self.view, station, pale)
        for fixture in self.room.fixtures.values():
            yield floor.outline(self.view, fixture, pale)
        for station in self.atlas.shop.stations_by_number:
            yield from self._numbered(station)

    def _numbered(self, station: Station) -> Iterator[Item]:
        """A station's number in its middle, where its outline is large enough to hold it."""
        text, (width, depth) = str(station.number), station.size
        if min(width, depth) * self.view.scale >= type.width(text, _TEXT) + 0.8:
            x, y = self.view.at(station.at)
            base = y + _TEXT * ASCENT / 2
            yield Label(x, base, text, _TEXT, anchor="middle", colour="ink-soft")

    def _walls(self) -> Iterator[Item]:
        """Solid, with a line no thinner than the standard's; columns and leaves in the thinner."""
        view, shell = self.view, self.atlas.shell
        inset = WALL / 2 / view.scale
        for ring, holes in shell.masonry:
            solid = Polygon(ring, holes)
            thin = solid.buffer(-inset, join_style="mitre")
            for part in shapely.get_parts(thin if not thin.is_empty else solid):
                yield self._solid(part, Pen("ink", "ink", WALL))
        for window in self.room.windows.values():
            a, b, c, d = view.ring(shell.opening(window.start, window.end))
            yield Area((a, b, c, d), Pen("white", "ink", INNER))
        for column in self.room.columns.values():
            yield floor.outline(view, column, Pen("ink", "ink", INNER))
        for door in self.room.doors.values():
            yield from self._leaf(door)

    def _solid(self, part: Polygon, pen: Pen) -> Item:
        outline, *holes = (
            self.view.ring((x, y) for x, y, *_z in ring.coords[:-1])
            for ring in (part.exterior, *part.interiors)
        )
        return Area(outline, pen, tuple(holes))

    def _leaf(self, door: Door) -> Iterator[Item]:
        view, shell = self.view, self.atlas.shell
        if door.exit:
            yield Area(view.ring(shell.opening(door.hinge, door.latch)), Pen(ROUTE))
        if door.opens == "sliding":
            yield Line(view.at(door.hinge), view.at(door.latch), Pen(stroke="ink", width=INNER))
            return
        hinge, tip, latch = (view.at(p) for p in floor.swing(shell, door))
        radius = math.dist(hinge, tip)
        sweep = int((tip[0] - hinge[0]) * (latch[1] - hinge[1])
                    - (tip[1] - hinge[1]) * (latch[0] - hinge[0]) > 0)  # fmt: skip
        arc = f"A{radius:.2f} {radius:.2f} 0 0 {sweep} {latch[0]:.2f} {latch[1]:.2f}"
        yield Path(path_of((tip,)) + arc, Pen(stroke="ink", width=_HAIR))
        yield Line(hinge, tip, Pen(stroke="ink", width=INNER))

    # --- the ways out

    def _walks(self) -> list[tuple[str, Journey, Pen]]:
        """The nearest way and the second, with what each arrow looks like."""
        names = (_("nearest way out"), _("second way out"))
        pens = (Pen(ARROW), Pen("white", ARROW, 0.6))
        return list(zip(names, self.plan.ways[:2], pens, strict=False))

    def _routes(self) -> Iterator[Item]:
        walls = [w.line for w in self.brief.everybody]
        merged = shapely.union_all([LineString(w) for w in walls if len(w) > 1])
        for piece in shapely.get_parts(shapely.line_merge(merged)):
            points = self.view.ring((x, y) for x, y in shapely.get_coordinates(piece).tolist())
            yield Polyline(points, Pen(stroke=ROUTE, width=_NARROW, round=True))
        own = [(self.view.ring(self._from_reader(walk)), pen) for _n, walk, pen in self._walks()]
        for line, _pen in own:
            yield Polyline(line, Pen(stroke=ROUTE, width=_BAND, round=True))
        taken: list[Point] = []
        for line, pen in own:
            yield from _arrows(line, pen, taken)

    def _from_reader(self, walk: Journey) -> list[Point]:
        """A walk from before the plan, and through the door."""
        door = self.room.doors[walk.end_id.rpartition("/")[2]]
        wall = self.atlas.shell.wall_of(door.hinge, door.latch)
        x, y = walk.line[-1]
        far = self.atlas.shell.thickness * 0.9
        out = (x + wall.out[0] * far, y + wall.out[1] * far)
        return [self.plan.reader, *walk.line, out]

    # --- signs and symbols

    def _symbols(self) -> Iterator[Item]:
        for thing in self.room.equipment.values():
            if thing.kind in _SHOWN:
                symbol = BURN_TAP if thing.kind == "burn-sink" else plan_symbol(thing.kind)
                yield from self._led(symbol, thing.at)

    def _led(self, symbol: Symbol, at: Point) -> Iterator[Item]:
        x, y, _w, _h = box = self._free_box(at, (SYMBOL, SYMBOL))
        middle = (x + SYMBOL / 2, y + SYMBOL / 2)
        place = self.view.at(at)
        if not _holds(box, place):
            yield Line(middle, place, Pen(stroke="ink", width=_HAIR))
            yield Circle(*place, 0.7, Pen("ink"))
        yield Stamp(symbol, x, y, SYMBOL)

    def _exit(self, door: Door) -> Iterator[Item]:
        """The exit's sign outside the door with its name, the figure going the way out goes."""
        if not door.exit:
            return
        wall = self.atlas.shell.wall_of(door.hinge, door.latch)
        symbol = sign("E001" if self.view.direction(wall.out)[0] < -0.1 else "E002")
        name = type.shorten(str(door.name), _BIG, 60.0, True)
        wide = SYMBOL + 1.5 + type.width(name, _BIG, True)
        middle = ((door.hinge[0] + door.latch[0]) / 2, (door.hinge[1] + door.latch[1]) / 2)
        x, y, _w, height = box = self._free_box(middle, (wide, SYMBOL))
        yield Rect(*box, Pen("white"))  # a leader to a symbol farther out goes under the words
        yield Stamp(symbol, x, y, SYMBOL)
        base = y + (height + _BIG * ASCENT) / 2
        yield Label(x + SYMBOL + 1.5, base, name, _BIG, bold=True, colour="black", box=box)

    def _here(self) -> tuple[Item, ...]:
        """You are here: a blue dot where the reader stands, and words outside the wall."""
        place = self.view.at(self.plan.reader)
        words = _("You are here")
        wide = type.width(words, _BIG, True) + 5.0
        x, y, width, height = box = self._free_box(self.plan.spot.at, (wide, 7.5))
        base = y + (height + _BIG * ASCENT) / 2
        return (
            Line((x + width / 2, y + height / 2), place, Pen(stroke=HERE, width=0.7)),
            Rect(x, y, width, height, Pen(HERE), 1.0),
            Label(x + width / 2, base, words, _BIG, bold=True, anchor="middle", colour="white",
                  box=box),
            Circle(*place, 4.0, Pen("white", HERE, 2.4)),
            Circle(*place, 1.3, Pen(HERE)),
        )  # fmt: skip

    @cached_property
    def _built(self) -> Polygon:
        """The room with its walls, on the drawing."""
        return Polygon(self.view.ring(self.atlas.shell.outer)).buffer(1.0, join_style="mitre")

    def _free_box(self, at: Point, size: tuple[float, float]) -> Box:
        """Room for something near its place: outside the wall, or beside it within the room."""
        wall = self.atlas.shell.wall_of(at)
        hangs = wall.distance(at) <= _ON_A_WALL_MM
        boxes = self._outside(wall.out, at, size) if hangs else _ring(self.view.at(at), size)
        x, y, width, height = self.layout.area
        for box in boxes:
            inside = x <= box[0] and box[0] + box[2] <= x + width
            inside = inside and y <= box[1] and box[1] + box[3] <= y + height
            shape = area_box(box[0], box[1], box[0] + box[2], box[1] + box[3])
            clear = not hangs or not self._built.intersects(shape)
            if inside and clear and not any(overlaps(_grown(box), t) for t in self.taken):
                self.taken.append(box)
                return box
        middle = self.view.at(at)
        return middle[0] - size[0] / 2, middle[1] - size[1] / 2, *size

    def _outside(self, out: Point, at: Point, size: tuple[float, float]) -> Iterator[Box]:
        """Boxes beyond the wall, from the nearest to the place on."""
        u, v = self.view.direction(out)
        reach = self.view.length(self.atlas.shell.thickness) + 1.6
        half = (abs(u) * size[0] + abs(v) * size[1]) / 2
        x, y = self.view.at(at)
        for away in (0.0, SYMBOL + 1.0, 2 * SYMBOL + 2.0, 3 * SYMBOL + 3.0):
            for step in range(61):
                shift = (step + 1) // 2 * (1.0 if step % 2 else -1.0)
                far = reach + half + away
                middle = (x + u * far - v * shift, y + v * far + u * shift)
                yield middle[0] - size[0] / 2, middle[1] - size[1] / 2, *size

    # --- round it

    def _draft(self) -> Iterator[Item]:
        """DRAFT in outline from corner to corner."""
        text = _("DRAFT")
        x, y, width, height = self.layout.area
        turn = -math.degrees(math.atan2(height, width)) * 0.8
        size = min(math.hypot(width, height) * 0.72 / type.width(text, 1.0, True), height * 0.55)
        long = type.width(text, size, True)
        angle = math.radians(turn)
        rise = size * ASCENT / 2
        start = (
            x + width / 2 - long / 2 * math.cos(angle) - rise * math.sin(angle),
            y + height / 2 - long / 2 * math.sin(angle) + rise * math.cos(angle),
        )
        outline = lettering.outlined(text, start, size, turn)
        yield Path(outline, Pen(stroke="line-strong", width=0.6))

    def _frame(self) -> Iterator[Item]:
        paper, (px, py, _w, ph) = self.layout.paper, self.layout.panel
        pen = Pen(stroke="ink", width=0.5)
        right, bottom = paper.width - _EDGE, paper.height - _EDGE
        yield Rect(_EDGE, _EDGE, right - _EDGE, bottom - _EDGE, pen)
        yield Line((_EDGE, bottom - _FOOT), (right, bottom - _FOOT), pen)
        yield Line((px, py), (px, py + ph), pen)

    def _header(self) -> Iterator[Item]:
        width = self.layout.paper.width - 2 * _EDGE
        yield Rect(_EDGE, _EDGE, width, _HEADER, Pen("safety-green"))
        yield Stamp(sign("E001"), _EDGE + 4, _EDGE + 3, _HEADER - 6)
        x, title = _EDGE + _HEADER + 3, _("Escape plan")
        size = next(
            (s for s in (_TITLE, 11.0, 9.0) if type.width(title, s, True) <= width / 2), 7.5
        )
        base = _EDGE + (_HEADER + size * ASCENT) / 2
        wide = type.width(title, size, True)
        yield Label(x, base, title, size, bold=True, colour="white")
        room = width - (x - _EDGE) - wide - 10
        names = (str(self.atlas.shop.shop.name), str(self.room.name))
        for n, (name, bold) in enumerate(zip(names, (True, False), strict=True)):
            shown = type.shorten(name, _BIG + 0.8, room, bold)
            yield Label(_EDGE + width - 5, _EDGE + 10.5 + n * 8, shown, _BIG + 0.8, bold=bold,
                        anchor="end", colour="white")  # fmt: skip

    def _panel(self) -> Iterator[Item]:
        """What to do, what the signs mean, where to meet."""
        _x, y, _width, height = self.layout.panel
        bottom = y + height - 3
        filled = (self._filled(size) for size in _SIZES)
        column = next((c for c in filled if c.y <= bottom), None) or self._filled(_TEXT)
        yield from column.items

    def _filled(self, size: float) -> Column:
        """The panel with words of a size."""
        x, y, width, _height = self.layout.panel
        column = Column(x + 5, y + 5, width - 10)
        steps = (
            (_("If there is a fire"), "safety-red", self._fire()),
            (_("If somebody is hurt"), "safety-green", self._hurt()),
        )
        for title, colour, rows in steps:
            _heading(column, title, colour, size)
            _steps(column, rows, size)
            column.gap(3)
        self._legend(column, size)
        column.gap(2.5)
        self._meeting(column, size)
        return column

    def _fire(self) -> list[str]:
        shop, assembly = self.atlas.shop, self.room.assembly
        has_alarm = bool(shop.equipment_of_kind("alarm-point"))
        return [
            _("Press the alarm point and shout.") if has_alarm else _("Shout, and knock on doors."),
            _("Leave by the nearest way. Shut the door behind you."),
            _("Meet at {name}. Nobody goes back in.").format(name=assembly.name),
            _("Call {number}: {address}").format(
                number=shop.shop.emergency_number, address=shop.shop.address
            ),
        ]

    def _hurt(self) -> list[str]:
        shop = self.atlas.shop
        has_stop = bool(shop.equipment_of_kind("emergency-stop"))
        return [
            _("Press the nearest red button.") if has_stop else _("Switch the machine off."),
            _("Burn: cold running water for 20 minutes. Never peel off what sticks."),
            _("Call {number}. Send somebody to the door.").format(
                number=shop.shop.emergency_number
            ),
        ]

    def _legend(self, column: Column, size: float) -> None:
        rows = list(self._keys())
        half = column.width / 2
        for start in range(0, len(rows), 2):
            tallest = SYMBOL
            for n, (key, text) in enumerate(rows[start : start + 2]):
                x = column.x + n * half
                fitted = type.fit(text, size, half - SYMBOL - 4, 3)
                top = column.y + max((SYMBOL - fitted.height) / 2, 0)
                column.add(*key((x, column.y, SYMBOL, SYMBOL)))
                column.add(*lines(fitted.lines, (x + SYMBOL + 2, top), half - SYMBOL - 4, size))
                tallest = max(tallest, fitted.height)
            column.gap(tallest + 1.2)

    def _keys(self) -> Iterator[tuple[_Key, str]]:
        """What stands on this sheet, with its meaning."""
        for name, walk, pen in self._walks():
            says = f"{name}, {_far(walk.length_mm)}"
            yield _arrow_key(pen), says
        kinds = dict.fromkeys(e.kind for e in self.room.equipment.values() if e.kind in _SHOWN)
        for kind in kinds:
            symbol = BURN_TAP if kind == "burn-sink" else plan_symbol(kind)
            yield _stamp_key(symbol), word(kind)
        yield _stamp_key(sign("E002")), _("exit")
        yield _stamp_key(sign("E007")), _("assembly point")
        yield _here_key, _("you are here")

    def _meeting(self, column: Column, size: float) -> None:
        """Where to meet: the room small, with its exits, and the way in words."""
        assembly = self.room.assembly
        column.rule(_HAIR)
        column.gap(1.5)
        head = _("Where to meet: {name}, {far}").format(
            name=assembly.name, far=show(assembly.distance_m, "m")
        )
        column.text(head, size * 1.1, bold=True)
        column.gap(0.8)
        room = column.width - _OVERVIEW - 4
        words = type.fit(str(assembly.from_), size, room, _MOST_LINES)
        column.add(*lines(words.lines, (column.x + _OVERVIEW + 4, column.y), room, size))
        column.add(*self._overview((column.x, column.y, _OVERVIEW, _OVERVIEW_HIGH)))
        column.gap(max(words.height, _OVERVIEW_HIGH))

    def _overview(self, box: Box) -> Iterator[Item]:
        """The room's outline, its exits and the reader, no more than a stamp."""
        x, y, width, height = box
        flat = Turned(1.0, 0.0, 0.0, self.plan.turn_deg)
        left, top, wide, high = around(flat.ring(self.atlas.shell.outer))
        scale = min((width - 4) / wide, (height - 4) / high)
        view = Turned(
            scale, x + width / 2 - (left + wide / 2) * scale,
            y + height / 2 - (top + high / 2) * scale, self.plan.turn_deg,
        )  # fmt: skip
        yield Area(view.ring(self.atlas.shell.inner), Pen("white", "ink", 0.9))
        for door in self.room.doors.values():
            if door.exit:
                ends = view.at(door.hinge), view.at(door.latch)
                yield Line(*ends, Pen(stroke=ARROW, width=1.6))
        yield Circle(*view.at(self.plan.reader), 1.3, Pen(HERE))

    def _footer(self) -> Iterator[Item]:
        paper = self.layout.paper
        x, y, width = _EDGE, paper.height - _EDGE - _FOOT, paper.width - 2 * _EDGE
        yield from self._state((x + 4, y + 4, width * 0.36 - 8, _FOOT - 8))
        yield from self._scale((x + width * 0.36, y + 3, width * 0.28, _FOOT - 6))
        yield from self._facts((x + width * 0.65, y + 3, width * 0.35 - 5, _FOOT - 6))

    def _state(self, box: Box) -> Iterator[Item]:
        x, y, width, height = box
        yield Rect(x, y, width, height, Pen("white", "ink", 0.9))
        big = _("DRAFT") if self.brief.draft else _("Signed off")
        size = 9.0 if self.brief.draft else 6.0
        column = Column(x + 4, y + 2, width - 8)
        column.text(big, size, bold=True)
        column.text(self.brief.state, _TEXT, most=3)
        yield from column.items

    def _scale(self, box: Box) -> Iterator[Item]:
        x, y, width, height = box
        divisor = self.layout.divisor
        says = _("1:{n} on {paper}").format(n=divisor or "–", paper=self.layout.paper.name)
        yield from lines((says,), (x + 26, y), width - 26, _TEXT, bold=True)
        yield from measures.scale_bar(self.view, (x + 26, y + height - 4), size=_TEXT, line=_HAIR)
        north = self.room.north_deg - self.plan.turn_deg
        yield from measures.north(x + 12, y + height / 2 + 1, 11.0, north)

    def _facts(self, box: Box) -> Iterator[Item]:
        x, y, width, _height = box
        rows = (
            (_("plan"), self.foot.number),
            (_("hangs"), self.plan.name),
            (_("data as of"), self.foot.as_of),
            (_("content"), self.foot.fingerprint),
        )
        name = max(type.width(key, _TEXT) for key, _value in rows) + 3
        for n, (key, value) in enumerate(rows):
            top = y + n * _TEXT * 1.6
            yield from lines((key,), (x, top), name, _TEXT, colour="ink-soft")
            shown = type.shorten(value, _TEXT, width - name, n == 0)
            yield from lines((shown,), (x + name, top), width - name, _TEXT, bold=n == 0)


_SIZES = (5.4, 5.0, 4.6, 4.3, _TEXT)
"""Sizes of the panel's words, the largest that fits [mm]."""

_OVERVIEW, _OVERVIEW_HIGH, _MOST_LINES = 34.0, 24.0, 9
"""How wide and high the overview is [mm], and how many lines of words stand beside it."""

_ON_A_WALL_MM = 450.0


def _far(length_mm: float) -> str:
    """A walk as a sheet says it: metres to one decimal, however short."""
    return show(round(length_mm / 1000, 1), "m")


def _stamp_key(symbol: Symbol) -> _Key:
    return lambda box: (Stamp(symbol, box[0], box[1], box[2]),)


def _arrow_key(pen: Pen) -> _Key:
    def key(box: Box) -> tuple[Item, ...]:
        x, y, width, height = box
        middle = y + height / 2
        band = Rect(x, middle - _BAND / 2, width, _BAND, Pen(ROUTE))
        return band, Area(_head((x + width / 2, middle), 0.0), pen)

    return key


def _here_key(box: Box) -> tuple[Item, ...]:
    middle = (box[0] + box[2] / 2, box[1] + box[3] / 2)
    return Circle(*middle, 2.8, Pen("white", HERE, 1.8)), Circle(*middle, 0.9, Pen(HERE))


# --- what to do --------------------------------------------------------------------------------


def _heading(column: Column, title: str, colour: str, size: float) -> None:
    """A heading on a band of its colour."""
    head, high = size * 1.15, size * 1.95
    column.add(Rect(column.x, column.y, column.width, high, Pen(colour)))
    base = column.y + (high + head * ASCENT) / 2
    shown = type.shorten(title, head, column.width - 6, True)
    column.add(Label(column.x + 3, base, shown, head, bold=True, colour="white"))
    column.gap(high + 1.6)


def _steps(column: Column, steps: Sequence[str], size: float) -> None:
    """Numbered steps, one under the other."""
    for n, step in enumerate(steps, 1):
        top = column.y
        column.text(step, size, indent=size * 1.7, colour="black")
        column.add(*lines((str(n),), (column.x + 1, top), size * 1.3, size, bold=True))
        column.gap(0.9)


# --- arrows ------------------------------------------------------------------------------------

_EVERY, _LONG = 26.0, 7.5
_CLEAR = 9.0
"""No arrow is nearer to another than this."""


def _arrows(line: Sequence[Point], pen: Pen, taken: list[Point]) -> Iterator[Item]:
    """Arrows along a way, at even steps, none over another way's, the last before the door."""
    course = LineString(line)
    count = max(int(course.length // _EVERY), 1)
    fars = [course.length * (n + 0.5) / count for n in range(count)]
    for far in fars:
        ends = [shapely.get_coordinates(course.interpolate(f))[0] for f in (far - 1.5, far + 1.5)]
        (ax, ay), (bx, by) = (end.tolist() for end in ends)
        middle = ((ax + bx) / 2, (ay + by) / 2)
        if all(math.dist(middle, other) >= _CLEAR for other in taken):
            taken.append(middle)
            yield Area(_head(middle, math.atan2(by - ay, bx - ax)), pen)


def _head(middle: Point, angle: float) -> tuple[Point, ...]:
    """An arrow about its middle: a shaft and a head."""
    half = _LONG / 2
    outline = (
        (half, 0.0), (0.2, 2.5), (0.2, 0.95), (-half, 0.95), (-half, -0.95), (0.2, -0.95),
        (0.2, -2.5),
    )  # fmt: skip
    cos, sin = math.cos(angle), math.sin(angle)
    return tuple((middle[0] + x * cos - y * sin, middle[1] + x * sin + y * cos) for x, y in outline)


# --- room for things ---------------------------------------------------------------------------


def _door_box(view: Turned, atlas: Atlas, door: Door) -> Box:
    """The box a door and its leaf take outside."""
    hinge, tip, latch = floor.swing(atlas.shell, door)
    ring = atlas.shell.opening(door.hinge, door.latch)
    points = [*ring, hinge, latch, *([tip] if door.opens == "out" else [])]
    return around([view.at(point) for point in points])


def _ring(middle: Point, size: tuple[float, float]) -> Iterator[Box]:
    """Boxes round a point, from the nearest on."""
    for ring in range(1, 12):
        reach = SYMBOL * (0.6 + 0.3 * ring)
        for turn in range(12):
            angle = 2 * math.pi * (turn + 0.5) / 12
            x, y = middle[0] + reach * math.cos(angle), middle[1] + reach * math.sin(angle)
            yield x - size[0] / 2, y - size[1] / 2, *size


def _grown(box: Box, by: float = 1.0) -> Box:
    return box[0] - by, box[1] - by, box[2] + 2 * by, box[3] + 2 * by


def _holds(box: Box, point: Point) -> bool:
    return box[0] <= point[0] <= box[0] + box[2] and box[1] <= point[1] <= box[1] + box[3]
