"""A station on one sheet of A4, for the wall beside it.

Order: which station, who may use it, what must never happen, what to wear, what goes in and
out, how to turn it off, the job in short. Everything is set at its own size and measured; where
it does not all fit, what is least needed at the machine goes first, and says where it went.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from generator.drawings import foot as sheet_foot
from generator.drawings import locator, type
from generator.drawings.atlas import Atlas
from generator.drawings.column import Column, lines, reversed_band
from generator.drawings.foot import Foot
from generator.drawings.ink import Drawing, Item, Line, Pen, Rect
from generator.drawings.station_parts import Fullness, Parts, place_words, spoken
from generator.drawings.type import LEADING
from generator.ground.wording import _
from generator.shop.records.stations import Station

WIDTH, HEIGHT = 210.0, 297.0
_EDGE = 7.0
_LEFT, _RIGHT = 13.0, 197.0
_FOOT = 9.0
_SPLIT = 132.0
"""Where the left column ends and the right one begins, a gap apart."""

_GUTTER = 6.0
_RULE_GAP = 2.6
_THICK, _THIN = 0.5, 0.25
_LIMIT = HEIGHT - _EDGE - _FOOT
_PICTURES = ((46.0, True), (37.0, True), (46.0, False), (37.0, False), (28.0, False))
"""Heights of the excerpt, and whether the help in sight is listed under it."""

_FRAME = Pen(stroke="ink", width=_THICK)
_HEADING, _BODY, _SMALL = 5.0, 3.4, 3.0
_FULLNESS: tuple[Fullness, ...] = (
    Fullness(),
    Fullness(handovers=3),
    Fullness(handovers=2),
    Fullness(whys=False, handovers=3),
    Fullness(whys=False, handovers=2),
    Fullness(key_points=False, handovers=2),
    Fullness(whys=False, key_points=False, handovers=2),
    *(
        Fullness(whys=False, key_points=False, handovers=1, steps=steps)
        for steps in (99, 9, 8, 7, 6, 5, 4, 3, 2, 1, 0)
    ),
)


def draw(atlas: Atlas, station: Station, foot: Foot) -> Drawing:
    """The card of one station, A4 upright, in millimetres."""
    card = _Card(atlas, station)
    return Drawing(
        WIDTH,
        HEIGHT,
        card.items(foot),
        _("Station {number}: {name}").format(number=station.number, name=station.name),
        card.described(),
        unit="mm",
        hatch=locator.ON_CARD.hatch,
    )


class _Card(Parts):
    """A card as it is being set."""

    def __init__(self, atlas: Atlas, station: Station) -> None:
        super().__init__(atlas, station)
        self.full = _FULLNESS[0]
        self.heights: dict[tuple[object, ...], float] = {}
        self.head = self._head()
        self.ladder = self._ladder(self.head.y)
        self.right, self.scene = self._right(self.ladder.y + 3.5)

    def items(self, foot: Foot) -> tuple[Item, ...]:
        """Everything on the sheet, with as much said as fits."""
        top, limit = self.ladder.y, _LIMIT
        room = limit - top - 3.5
        self.full = next((full for full in _FULLNESS if self._height(full) <= room), _FULLNESS[-1])
        left = self._left(Column(_LEFT, top + 3.5, _SPLIT - _LEFT))
        between = _SPLIT + _GUTTER / 2
        return (
            Rect(0, 0, WIDTH, HEIGHT, Pen("sheet")),
            *(item for part in (self.head, self.ladder, left, self.right) for item in part.items),
            Line((between, top), (between, limit), Pen(stroke="line-strong", width=_THIN)),
            Rect(_EDGE, _EDGE, WIDTH - 2 * _EDGE, HEIGHT - 2 * _EDGE, _FRAME),
            Line((_EDGE, limit), (WIDTH - _EDGE, limit), _FRAME),
            *sheet_foot.draw(foot, (_LEFT, limit, _RIGHT - _LEFT, _FOOT), _SMALL),
        )

    def described(self) -> str:
        """The card in words."""
        return f"{spoken(self.station)} {self.scene.described()}"

    def _height(self, full: Fullness) -> float:
        """How high the left column is when so much is said; each part is set once a form."""
        self.full = full
        return sum(self._part_height(part, key) for part, key in self._parts())

    def _part_height(self, part: Callable[[Column], None], key: tuple[object, ...]) -> float:
        if key not in self.heights:
            column = Column(_LEFT, 0.0, _SPLIT - _LEFT)
            part(column)
            self.heights[key] = column.y + _RULE_GAP
        return self.heights[key]

    # --- which station ---

    def _head(self) -> Column:
        station, number = self.station, str(self.station.number)
        block = 44.0 if len(number) < 3 else 58.0
        column = Column(_EDGE + block + 6, _EDGE + 4, _RIGHT - _EDGE - block - 6)
        size = _name_size(str(station.name), column.width)
        column.text(str(station.name), size, bold=True, most=2)
        column.gap(1.5)
        column.text(str(station.purpose), 4.4, most=3)
        column.gap(1.2)
        column.text(place_words(self.atlas, station), _BODY, colour="ink-soft", most=3)
        bottom = max(column.y + 3.5, _EDGE + 42)
        height = bottom - _EDGE
        digits = min(46.0, block * 1.45 / len(number), height * 1.05)
        column.add(
            reversed_band(_EDGE, _EDGE, block, height),
            *lines(
                (number,),
                (_EDGE, _EDGE + (height - digits * LEADING) / 2),
                block,
                digits,
                bold=True,
                colour="sheet",
                anchor="middle",
            ),
            Line((_EDGE, bottom), (WIDTH - _EDGE, bottom), _FRAME),
        )
        column.y = bottom
        return column

    # --- who may use it ---

    def _ladder(self, top: float) -> Column:
        column = Column(_LEFT, top + 3.5, _RIGHT - _LEFT)
        aside = _("solid: alone · hatched: with somebody authorised beside · open: keeps off")
        column.heading(_("Who may use it"), _HEADING, aside)
        column.gap(1.5)
        self.rungs(column)
        if self.has_drive():
            column.gap(1.2)
            column.text(_("Opened up only by a maintainer, locked off."), _BODY, bold=True)
        column.gap(2.5)
        column.rule(_THIN, over=_LEFT - _EDGE)
        return column

    # --- left: nevers, in and out, the job ---

    def _left(self, column: Column) -> Column:
        for part, _key in self._parts():
            self.rule_between(column)
            part(column)
        return column

    def _parts(self) -> Iterator[tuple[Callable[[Column], None], tuple[object, ...]]]:
        """What the left column holds, each part with what its height depends on."""
        full = self.full
        if self.station.nevers:
            yield self.nevers, ("nevers", full.whys)
        if self.station.takes_in or self.station.gives:
            yield self.flow, ("flow", full.handovers)
        if self.atlas.shop.main_procedure(self.station.id):
            yield self.job, ("job", full.key_points, full.steps)

    # --- right: wear, turn it off, help in sight ---

    def _right(self, top: float) -> tuple[Column, locator.Scene]:
        """The right column: for want of room the picture shrinks, then the help in sight goes."""
        for tall, with_help in _PICTURES:
            column = Column(_SPLIT + _GUTTER, top, _RIGHT - _SPLIT - _GUTTER)
            self.wear(column)
            scene = self.turn_off(column, tall)
            if with_help:
                self.rule_between(column)
                self.help(column, scene)
            if column.y <= _LIMIT:
                break
        return column, scene


def _name_size(name: str, width: float) -> float:
    """The largest of a few sizes at which a name stands in one line, else in two."""
    for size in (22.0, 18.0, 15.0, 12.5):
        if type.width(name, size, bold=True) <= width:
            return size
    for size in (15.0, 12.5, 10.5):
        fitted = type.fit(name, size, width, 2, bold=True)
        if not fitted.cut and not any(line.endswith("-") for line in fitted.lines):
            return size
    return 9.0
