"""The floor plan as a drawing-office sheet: to a standard scale, with legend and title block."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from generator.drawings import measures, plan, type
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
    Rect,
    Stamp,
    Symbol,
    path_of,
)
from generator.drawings.manner import SHEET, Manner
from generator.drawings.pictograms import sign
from generator.drawings.placing import Placing
from generator.drawings.signals import plan_symbol
from generator.drawings.type import ASCENT, LEADING
from generator.drawings.view import View, grid_place
from generator.drawings.words import word
from generator.ground.wording import _
from generator.shop.records.stations import Station

_SCALES = (10, 20, 25, 40, 50, 75, 100, 150, 200, 250, 300, 400, 500, 750, 1000, 2000, 5000)
"""Scales a scale rule carries, largest drawing first."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet across, its frame and how wide the panel on its right is [mm]."""

    name: str
    width: float
    height: float
    panel: float
    manner: Manner

    @property
    def frame(self) -> Box:
        """Wider on the left, where sheets are bound."""
        return 20.0, 10.0, self.width - 30.0, self.height - 20.0


A2 = Paper("A2", 594.0, 420.0, 116.0, SHEET)

_TEXT, _SMALL, _HEADING, _TITLE = 4.0, 3.5, 5.0, 11.0
_THICK, _THIN, _HAIR = 0.7, 0.35, 0.18
_ROW_GAP = 1.3
_STRIP = 26.0
"""Kept under the plan for the scale bar and north."""


def draw(atlas: Atlas, foot: Foot, paper: Paper = A2) -> Drawing:
    """The plan on paper, in millimetres, at the largest scale a rule carries that fits."""
    x, y, width, height = paper.frame
    area = (x + 4, y + 4, width - paper.panel - 8, height - 8 - _STRIP)
    divisor, view = _placed(atlas, paper.manner, area)
    manner = paper.manner.at(view.scale)
    split = x + width - paper.panel
    block = _title_block(atlas, foot, paper, divisor)
    panel = Column(split + 5, y + 5, paper.panel - 10)
    _legend(panel, atlas, view, manner, y + height - _BLOCK - 4)
    items = (
        Rect(0, 0, paper.width, paper.height, Pen("sheet")),
        *_frame(paper, split),
        *plan.layers(atlas, view, manner),
        plan.foot(atlas, view, manner, view.at((0, 0))[0] - 2, y + height - _STRIP + 2),
        *_scale_note(paper, divisor, split, y + height),
        *panel.items,
        *block,
    )
    return Drawing(
        paper.width,
        paper.height,
        items,
        plan.title(atlas),
        plan.described(atlas),
        unit="mm",
        hatch=paper.manner.hatch,
    )


def _placed(atlas: Atlas, manner: Manner, area: Box) -> tuple[int, View]:
    """The scale, as one in so many, and the view in the middle of the area."""
    x, y, width, height = area
    for divisor in _SCALES:
        left, top, right, bottom = plan.extent(atlas, manner, 1 / divisor)
        if right - left <= width and bottom - top <= height:
            break
    middle_x, middle_y = (left + right) / 2, (top + bottom) / 2
    return divisor, View(1 / divisor, x + width / 2 - middle_x, y + height / 2 - middle_y)


def _frame(paper: Paper, split: float) -> Iterator[Item]:
    """The frame, its centring marks and the line before the panel."""
    x, y, width, height = paper.frame
    pen = Pen(stroke="ink", width=_THICK)
    yield Rect(x, y, width, height, pen)
    yield Line((split, y), (split, y + height), pen)
    middle_x, middle_y = paper.width / 2, paper.height / 2
    yield Line((middle_x, y), (middle_x, y - 5), pen)
    yield Line((middle_x, y + height), (middle_x, y + height + 5), pen)
    yield Line((x, middle_y), (x - 5, middle_y), pen)
    yield Line((x + width, middle_y), (x + width + 5, middle_y), pen)


def _scale_note(paper: Paper, divisor: int, split: float, bottom: float) -> list[Item]:
    text = _("1:{n} on {paper}. Figures in mm. Do not measure from a copy.")
    width = (split - paper.frame[0]) * 0.6
    shown = type.fit(text.format(n=divisor, paper=paper.name), _SMALL, width, 2)
    at = (split - width - 6, bottom - 4 - shown.height)
    return lines(shown.lines, at, width, _SMALL, colour="ink-soft", anchor="end")


# --- the panel -----------------------------------------------------------------------------------


def _legend(column: Column, atlas: Atlas, view: View, manner: Manner, limit: float) -> None:
    """The list of stations, then what the symbols mean, down to ``limit``."""
    signs = list(_used(atlas, view, manner))
    kept = _HEADING * LEADING + 8 + (len(signs) + 1) // 2 * 10.4
    column.heading(_("Stations"), _HEADING)
    column.gap(1.5)
    column.rule(_THIN)
    column.gap(1)
    _stations(column, atlas.shop.stations_by_number, limit - kept)
    column.gap(4)
    column.heading(_("Signs and symbols"), _HEADING)
    column.gap(1.5)
    column.rule(_THIN)
    column.gap(2)
    _symbols(column, signs)


def _stations(column: Column, stations: Sequence[Station], limit: float) -> None:
    """One row a station: number, name, place, who may use it alone."""
    shares = (0.09, 0.49, 0.13, 0.29)
    edges = [column.x + column.width * sum(shares[:i]) for i in range(4)]
    widths = [column.width * share - 1.5 for share in shares]
    heads = ("", _("station"), _("place"), _("alone from"))
    tops = [type.fit(head, _SMALL, width, 2) for head, width in zip(heads, widths, strict=True)]
    for fitted, x, width in zip(tops, edges, widths, strict=True):
        column.add(*lines(fitted.lines, (x, column.y), width, _SMALL, colour="ink-soft"))
    column.gap(max(fitted.height for fitted in tops) + 0.8)
    for i, station in enumerate(stations):
        cells = _cells(station, widths)
        height = max(cell.height for cell in cells)
        left = len(stations) - i
        if column.y + height + _TEXT * LEADING * (left > 1) > limit:
            says = _("{n} more: see the handbook").format(n=left)
            column.text(says, _TEXT, colour="ink-soft")
            return
        for j, (cell, x, width) in enumerate(zip(cells, edges, widths, strict=True)):
            column.add(*lines(cell.lines, (x, column.y), width, cell.size, bold=j == 0))
        column.gap(height + _ROW_GAP / 2)
        column.rule(_HAIR, "line")
        column.gap(_ROW_GAP / 2)


def _cells(station: Station, widths: Sequence[float]) -> list[type.Fit]:
    texts = (
        str(station.number),
        str(station.name),
        grid_place(station.at),
        word(station.use.alone),
    )
    return [
        type.fit(text, _TEXT, width, 2, bold=i == 0)
        for i, (text, width) in enumerate(zip(texts, widths, strict=True))
    ]


Swatch = Callable[[Box], tuple[Item, ...]]
"""Draws what a legend explains in its box."""


def _used(atlas: Atlas, view: View, manner: Manner) -> Iterator[tuple[Swatch, str]]:
    """What stands on this sheet, with its meaning."""
    kinds = dict.fromkeys(each.hung.kind for each in Placing(atlas, view, manner).shown)
    for kind in kinds:
        yield _stamp(plan_symbol(kind)), word(kind)
    if any(door.exit for door in atlas.shop.room.doors.values()):
        yield _stamp(sign("E002")), word("exit")
    yield _clear_floor, _("clear working side")
    if atlas.shop.room.fixtures:
        yield _furniture, _("built-in furniture")
    yield _balloon, _("station number")


def _stamp(symbol: Symbol) -> Swatch:
    return lambda box: (Stamp(symbol, box[0], box[1], box[2]),)


def _clear_floor(box: Box) -> tuple[Item, ...]:
    pen = Pen("line", "line-strong", 0.25, (1.7, 1.2), soft=0.28)
    return (Rect(box[0], box[1] + box[3] * 0.12, box[2], box[3] * 0.76, pen),)


def _furniture(box: Box) -> tuple[Item, ...]:
    x, y, width, height = box
    y, height = y + height * 0.12, height * 0.76
    cross = path_of(((x, y), (x + width, y + height))) + path_of(((x + width, y), (x, y + height)))
    outline = Rect(x, y, width, height, Pen("sheet", "ink", 0.5))
    return outline, Path(cross, Pen(stroke="line-strong", width=0.25))


def _balloon(box: Box) -> tuple[Item, ...]:
    x, y, size, _height = box
    middle, radius = (x + size / 2, y + size / 2), size * 0.48
    base = middle[1] + _TEXT * ASCENT / 2
    number = Label(middle[0], base, "7", _TEXT, bold=True, anchor="middle", box=box)
    return Circle(*middle, radius, Pen("sheet", "ink", 0.5)), number


def _symbols(column: Column, swatches: Sequence[tuple[Swatch, str]]) -> None:
    """Symbols in two columns, each with its meaning."""
    size, half = 6.4, column.width / 2
    for start in range(0, len(swatches), 2):
        tallest = size
        for i, (swatch, text) in enumerate(swatches[start : start + 2]):
            x, width = column.x + i * half, half - size - 4
            fitted = type.fit(text, _SMALL, width, 2)
            top = column.y + max(0.0, (size - fitted.height) / 2)
            column.add(*swatch((x, column.y, size, size)))
            column.add(*lines(fitted.lines, (x + size + 2.5, top), width, _SMALL))
            tallest = max(tallest, fitted.height)
        column.gap(tallest + 1.6)


# --- the title block -----------------------------------------------------------------------------

_BLOCK = 84.0


def _title_block(atlas: Atlas, foot: Foot, paper: Paper, divisor: int) -> tuple[Item, ...]:
    """Whose room, which drawing, to what scale, from which data; in the lower right corner."""
    x, y, width, height = paper.frame
    left, top = x + width - paper.panel, y + height - _BLOCK
    column = Column(left + 5, top + 3.5, paper.panel - 10)
    column.text(str(atlas.shop.room.name), _TEXT, most=2)
    column.gap(0.5)
    column.text(_("Floor plan"), _title_size(column.width), bold=True, most=2)
    rows = _facts(atlas, foot, paper, divisor)
    pitch = (y + height - column.y - 2) / len(rows)
    items = [*column.items, Line((left, top), (x + width, top), Pen(stroke="ink", width=_THICK))]
    for i, row in enumerate(rows):
        items += _fact_row(row, (left, column.y + 2 + i * pitch, paper.panel, pitch))
    return tuple(items)


def _title_size(width: float) -> float:
    """The largest of a few sizes at which the drawing's name stands in one line."""
    name = _("Floor plan")
    return next((s for s in (_TITLE, 9.0, 7.5) if type.width(name, s, True) <= width), 6.5)


def _facts(atlas: Atlas, foot: Foot, paper: Paper, divisor: int) -> list[list[tuple[str, str]]]:
    x0, y0, x1, y1 = atlas.shell.floor.bounds
    size = f"{measures.metres(x1 - x0)} × {measures.metres(y1 - y0)}"
    area = f"{atlas.shell.floor.area / 1e6:.1f}\u00a0m²"
    return [
        [
            (_("drawing"), foot.number),
            (_("scale at {paper}").format(paper=paper.name), f"1:{divisor}"),
            (_("data as of"), foot.as_of),
        ],
        [(_("room"), size), (_("floor area"), area)],
        [(_("shop"), foot.shop), (_("content hash"), foot.fingerprint)],
    ]


def _fact_row(row: list[tuple[str, str]], box: Box) -> Iterator[Item]:
    """A row of cells, each a soft word over a bold figure."""
    x, y, width, height = box
    yield Line((x, y), (x + width, y), Pen(stroke="ink", width=_THIN))
    share = width / len(row)
    for i, (name, value) in enumerate(row):
        left, room = x + i * share, share - 6.5
        if i:
            yield Line((left, y), (left, y + height), Pen(stroke="ink", width=_HAIR))
        head = type.shorten(name, _SMALL, room)
        yield from lines((head,), (left + 5, y + 1.6), room, _SMALL, colour="ink-soft")
        fitted = type.fit(value, _TEXT, room, 2, bold=True)
        top = y + 1.8 + _SMALL * LEADING
        yield from lines(fitted.lines, (left + 5, top), room, _TEXT, bold=True)
