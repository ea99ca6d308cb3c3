"""A station on the wall, on two faces.

The first is read from afar: which station, who may use it, what must never happen there, what to
wear. The second is read at the machine: what goes in and out, the job in short, how to turn it
off. Number and name are as high as their readers' distance asks, as far as the paper goes.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.drawings import foot as sheet_foot
from generator.drawings import locator, qr, type
from generator.drawings.atlas import Atlas
from generator.drawings.column import Column, lines, reversed_band
from generator.drawings.foot import Foot
from generator.drawings.ink import Drawing, Label, Line, Pen, Rect, labels_of
from generator.drawings.station_parts import Fullness, Parts, Sizes, place_words, spoken
from generator.drawings.type import CAPITAL, LEADING
from generator.ground.paper import Paper
from generator.ground.wording import _
from generator.shop.records.stations import Station
from generator.workings.legible import Legible

_EDGE, _MARGIN, _FOOT = 7.0, 13.0, 9.0
_THICK, _THIN = 0.5, 0.25
_GUTTER = 6.0
_QR = 34.0
_FRAME = Pen(stroke="ink", width=_THICK)
_LARGEST_NAME = 60.0
_SMALLEST_NAME = 12.0
_NAME_SHARES = (0.32, 0.24, 0.18, 0.13, 0.09, 0.06)
"""How much of the sheet's height the name may take, the most first."""

_TIGHT = 1.02
"""From line to line of a name [em]: descenders clear the capitals below."""

_PURPOSE_BESIDE = 52.0
"""The least room beside the number [mm] in which the purpose stands there."""

_CLEAR = 8.0
"""White paper kept round the number in its block."""

_FRONT_SIZES = (
    Sizes(7.0, 10.0, 6.0, 4.0, 24.0, most=7),
    Sizes(6.5, 9.0, 5.4, 4.0, 22.0, most=7),
    Sizes(6.0, 8.0, 5.0, 3.6, 20.0, most=7),
    Sizes(6.0, 7.0, 4.4, 3.4, 18.0, most=7),
    Sizes(5.5, 6.0, 4.0, 3.2, 16.0, most=7),
    Sizes(5.0, 5.2, 3.6, 3.0, 14.5),
)
_BACK_SIZES = (
    Sizes(6.5, 6.0, 4.8, 3.6, 16.0),
    Sizes(6.0, 5.4, 4.2, 3.4, 16.0),
    Sizes(5.5, 5.0, 3.8, 3.2, 14.5),
    Sizes(),
)
_FULLNESS = (
    Fullness(),
    Fullness(handovers=3),
    Fullness(handovers=2),
    Fullness(key_points=False, handovers=2),
    *(Fullness(key_points=False, handovers=1, steps=n) for n in (99, 12, 9, 7, 5, 3, 1, 0)),
)


@dataclass(frozen=True, slots=True)
class Place:
    """One station's sheet: the paper, from how far it is read, and the address of its page."""

    atlas: Atlas
    station: Station
    paper: Paper
    legible: Legible
    address: str = ""


def draw(place: Place, foot: Foot) -> tuple[Drawing, Drawing]:
    """Both faces of a station's sheet, in millimetres."""
    return _Front(place).drawing(foot), _Back(place).drawing(foot)


def name_size(place: Place, front: Drawing) -> float:
    """The size its name is set in on a face [mm]."""
    words = set(str(place.station.name).split())
    said = [x for x in labels_of(front.items) if set(x.text.rstrip("-\u2026").split()) & words]
    return max((label.size for label in said if label.bold), default=_SMALLEST_NAME)


class _Face:
    """A face as it is being set: a frame, a foot, and what stands between."""

    def __init__(self, place: Place) -> None:
        self.place, self.paper = place, place.paper
        self.limit = self.paper.height - _EDGE - _FOOT
        width = self.paper.width - 2 * _MARGIN
        self.column = Column(_MARGIN, _EDGE, width)
        self.beside_purpose = False

    def drawing(self, foot: Foot) -> Drawing:
        """The whole face."""
        self.fill()
        station, (width, height) = self.place.station, (self.paper.width, self.paper.height)
        frame = Rect(_EDGE, _EDGE, width - 2 * _EDGE, height - 2 * _EDGE, _FRAME)
        under = (_MARGIN, self.limit, width - 2 * _MARGIN, _FOOT)
        items = (
            Rect(0, 0, width, height, Pen("sheet")),
            *self.column.items,
            frame,
            Line((_EDGE, self.limit), (width - _EDGE, self.limit), _FRAME),
            *sheet_foot.draw(foot, under, 3.0),
        )
        title = _("Station {number}: {name}").format(number=station.number, name=station.name)
        hatch = locator.ON_CARD.hatch
        return Drawing(width, height, items, title, self.said(), unit="mm", hatch=hatch)

    def fill(self) -> None:
        raise NotImplementedError

    def said(self) -> str:
        raise NotImplementedError

    def across(self) -> None:
        """A line from edge to edge of the frame."""
        self.column.rule(_THIN, over=_MARGIN - _EDGE)


class _Front(_Face):
    def fill(self) -> None:
        self._band()
        top = self.column.y
        for share, sizes, whys in self._tries():
            below = Column(_MARGIN, top, self.column.width)
            self._named(below, share)
            parts = Parts(self.place.atlas, self.place.station, sizes)
            parts.full = Fullness(whys=whys)
            rest = self._rest(parts, below.y)
            if rest.y <= self.limit:
                break
        self.column.add(*below.items, *rest.items)

    def _tries(self) -> Iterator[tuple[float, Sizes, bool]]:
        """What to give up first: the height of the name, then reasons, then that of the rules."""
        near = self.place.legible.rules_mm
        read = [s for s in _FRONT_SIZES if s.strong * CAPITAL >= near] or [_FRONT_SIZES[0]]
        for whys in (True, False):
            yield from ((share, sizes, whys) for share in _NAME_SHARES for sizes in read)
        yield from ((_NAME_SHARES[-1], sizes, False) for sizes in _FRONT_SIZES)

    def _named(self, column: Column, share: float) -> None:
        """The name, no higher than a share of the sheet, and what happens there."""
        name, size = _name(self.place, share)
        column.gap(3)
        for line in name:
            room = (_MARGIN, column.y - (LEADING - _TIGHT) * size / 2)
            column.add(*lines((line,), room, column.width, size, bold=True))
            column.gap(size * _TIGHT)
        column.gap(1)
        if not self.beside_purpose:
            column.text(str(self.place.station.purpose), 5.0, most=3)
        column.gap(3)
        column.rule(_THIN, over=_MARGIN - _EDGE)

    def said(self) -> str:
        return spoken(self.place.station)

    def _band(self) -> None:
        """The number in its reversed block, and beside it what leads to the page."""
        number, place = str(self.place.station.number), self.place
        size = max(place.legible.number_mm, 30.0) / CAPITAL
        most = self.paper.width - 2 * _EDGE - _QR - 14.0 - 2 * _CLEAR
        size *= min(1.0, most / type.width(number, size, bold=True))
        wide = type.width(number, size, bold=True) + 2 * _CLEAR
        high = max(size * CAPITAL + 2 * _CLEAR, _QR + 12.0)
        base = _EDGE + (high + size * CAPITAL) / 2
        box = (_EDGE, _EDGE, wide, high)
        self.column.add(
            reversed_band(*box),
            Label(_EDGE + wide / 2, base, number, size, True, "middle", "sheet", box=box),
        )
        self._beside(_EDGE + wide + 7, high)
        self.column.y = _EDGE + high
        self.column.rule(_THICK, "ink", over=_MARGIN - _EDGE)

    def _beside(self, x: float, high: float) -> None:
        """The code that leads to its page; where there is room, its purpose and its place."""
        right, address = self.paper.width - _MARGIN, self.place.address
        if address:
            self._code(right - _QR)
        room = right - x - (_QR + 4 if address else 0)
        side = Column(x, _EDGE + 5, room)
        self.beside_purpose = room >= _PURPOSE_BESIDE
        if self.beside_purpose:
            side.text(str(self.place.station.purpose), 5.0, most=6)
            side.gap(2)
        elif address:
            side = Column(right - _QR, _EDGE + _QR + 11, _QR)
        side.text(place_words(self.place.atlas, self.place.station), 3.8, colour="ink-soft", most=6)
        if side.y <= _EDGE + high:
            self.column.add(*side.items)

    def _code(self, x: float) -> None:
        caption = type.fit(_("its page in the handbook"), 3.0, _QR, 2)
        below = (x, _EDGE + _QR + 2.5)
        self.column.add(
            *qr.code(self.place.address, x, _EDGE + 3, _QR),
            *lines(caption.lines, below, _QR, 3.0, anchor="middle", colour="ink-soft"),
        )

    def _rest(self, parts: Parts, top: float) -> Column:
        """Who may use it, then what to wear beside what must never happen."""
        column = Column(_MARGIN, top + 3, self.column.width)
        aside = _("solid: alone · hatched: with somebody authorised beside · open: keeps off")
        column.heading(_("Who may use it"), parts.sizes.heading, aside)
        column.gap(1.5)
        parts.rungs(column)
        if parts.has_drive():
            column.gap(1.2)
            says = _("Opened up only by a maintainer, locked off.")
            column.text(says, parts.sizes.body, bold=True)
        column.gap(2.5)
        column.rule(_THIN, over=_MARGIN - _EDGE)
        column.gap(3)
        self._rules_and_wear(parts, column)
        return column

    def _rules_and_wear(self, parts: Parts, column: Column) -> None:
        ppe, nevers = parts.station.ppe, parts.station.nevers
        worn = 58.0 if ppe and nevers else column.width if ppe else 0.0
        start, left = (
            column.y,
            Column(_MARGIN, column.y, column.width - worn - _GUTTER * bool(worn)),
        )
        if nevers:
            parts.nevers(left)
        right = Column(_MARGIN + column.width - worn, column.y, worn)
        if ppe:
            parts.wear(right)
        column.add(*left.items, *right.items)
        column.y = max(left.y, right.y)
        if ppe and nevers:
            x = right.x - _GUTTER / 2
            ends = (x, start), (x, self.limit - 3)
            column.add(Line(*ends, Pen(stroke="line-strong", width=_THIN)))


class _Back(_Face):
    def fill(self) -> None:
        station = self.place.station
        self.column.y += 4
        self._title(str(station.number), str(station.name))
        self.column.gap(3)
        self.across()
        top = self.column.y
        narrow = min(72.0, 0.36 * self.column.width)
        left = self._left(top + 3.5, self.column.width - narrow - _GUTTER)
        right = self._right(top + 3.5, narrow)
        x = right.x - _GUTTER / 2
        between = Line((x, top), (x, self.limit), Pen(stroke="line-strong", width=_THIN))
        self.column.add(*left.items, *right.items, between)

    def _title(self, number: str, name: str) -> None:
        """The number in its block again, small, so that nobody reads the wrong back."""
        wide = type.width(number, 12.0, bold=True) + 8
        self.column.add(
            reversed_band(_MARGIN, self.column.y, wide, 16),
            *lines((number,), (_MARGIN, self.column.y + 0.5), wide, 12.0, bold=True,
                   colour="sheet", anchor="middle"),
        )  # fmt: skip
        room = self.column.width - wide - 5
        size = next((s for s in (12.0, 10.0, 8.0) if type.width(name, s, True) <= room), 6.5)
        shown = type.fit(name, size, room, 2, bold=True)
        top = self.column.y + (16 - shown.height) / 2
        self.column.add(*lines(shown.lines, (_MARGIN + wide + 5, top), room, size, bold=True))
        self.column.gap(16)

    def said(self) -> str:
        job = self.place.atlas.shop.main_procedure(self.place.station.id)
        if job is None:
            return spoken(self.place.station)
        steps = "; ".join(f"{n} {step.do}" for n, step in enumerate(job.steps, 1))
        return f"{job.name}: {steps}"

    def _left(self, top: float, width: float) -> Column:
        """What goes in and out and the job, in the largest type that holds all of it."""
        tries = [(size, _FULLNESS[0]) for size in _BACK_SIZES]
        for sizes, full in (*tries, *((_BACK_SIZES[-1], full) for full in _FULLNESS[1:])):
            parts = Parts(self.place.atlas, self.place.station, sizes)
            parts.full = full
            column = Column(_MARGIN, top, width)
            if parts.station.takes_in or parts.station.gives:
                parts.flow(column)
            if parts.atlas.shop.main_procedure(parts.station.id):
                parts.rule_between(column)
                parts.job(column)
            if column.y <= self.limit:
                break
        return column

    def _right(self, top: float, width: float) -> Column:
        """How to turn it off and the help in sight; for want of room the help goes."""
        for sizes, help_too in ((_BACK_SIZES[2], True), (Sizes(), True), (Sizes(), False)):
            parts = Parts(self.place.atlas, self.place.station, sizes)
            column = Column(self.paper.width - _MARGIN - width, top, width)
            scene = parts.turn_off(column, width * 0.72)
            if help_too:
                parts.rule_between(column)
                parts.help(column, scene)
            if column.y <= self.limit:
                break
        return column


def _name(place: Place, share: float) -> tuple[tuple[str, ...], float]:
    """The name in one line or two, as high as its readers ask, the width and the share allow."""
    name, width = str(place.station.name), place.paper.width - 2 * _MARGIN
    wanted = min(max(place.legible.name_mm / CAPITAL, 22.0), _LARGEST_NAME)
    room = share * place.paper.height / _TIGHT
    one = min(_widest(name, width), wanted, room)
    two = _halves(name)
    halved = min(*(_widest(line, width) for line in two), wanted, room / len(two))
    if len(two) > 1 and halved > 1.15 * one:
        return two, halved
    if one >= _SMALLEST_NAME:
        return (name,), one
    return type.fit(name, _SMALLEST_NAME, width, 2, bold=True).lines, _SMALLEST_NAME


def _widest(line: str, width: float) -> float:
    """The size at which a line is just as wide as its room."""
    return 0.995 * width / _ems(line)


def _halves(name: str) -> tuple[str, ...]:
    """A name in the two lines whose longer one is shortest."""
    words = name.split()
    splits = [(" ".join(words[:n]), " ".join(words[n:])) for n in range(1, len(words))]
    return min(splits, key=lambda two: max(map(_ems, two)), default=(name,))


def _ems(line: str) -> float:
    return type.width(line, 1.0, bold=True)
