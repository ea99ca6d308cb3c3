"""Labels for containers, and sheets of them.

On a label the largest thing is what is in it; then how far it has come, what must not be done, and
blanks to write in. Polymers are told apart by code, hatch and hue; how far it has come by dots
along a line, a striped frame or a solid band, so that a grey copy says the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from hashlib import sha256

from generator.drawings import foot as sheet_foot
from generator.drawings import marks, type
from generator.drawings.column import lines
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
    Shape,
    Stamp,
    Symbol,
    path_of,
    shapes_svg,
)
from generator.drawings.label_grid import Grid
from generator.drawings.type import ASCENT, LEADING
from generator.drawings.words import word
from generator.ground.wording import _

_ON_THE_WAY = ("as donated", "sorted", "washed", "flake")
_LOW, _HIGH = 25.4, 63.0
"""Between these heights [mm] everything on a label grows; below the first it grows no smaller."""

_CAPTION = 2.5
"""The least type in the hand [mm]."""

_OVER = 7.0
"""The least height of a blank [mm] with room to write under its caption."""

_HASH = 8
_UNIT = 100.0


@dataclass(frozen=True, slots=True)
class Face:
    """What one label bears.

    ``codes`` are the polymers' codes, whose marks it shows; ``name`` is what is set largest (a
    code, or a blend's name), ``colour`` stands under it. ``held`` and ``of`` are the foot's.
    """

    condition: str
    name: str
    codes: tuple[str, ...]
    colour: str
    warnings: tuple[str, ...]
    never_heated: bool = False


@dataclass(frozen=True, slots=True)
class Drawn:
    """A label as drawn at the corner of the sheet; ``content`` is a hash of what it shows.

    ``untold`` are the warnings for which it has no room.
    """

    items: tuple[Item, ...]
    content: str
    untold: tuple[str, ...]


def draw(face: Face, size: tuple[float, float], shop: str, day: str) -> Drawn:
    """One label of a width and height, with shop, date of the data and its own hash at its edge."""
    setting = _Setting(face, *size)
    setting.fill()
    content = _content(setting.items)
    shown = f"{content[:4]} {content[4:_HASH]}"
    dated = f"{day} {shown}"
    fits = type.width(dated, _CAPTION) <= setting.edge[3]
    edge = _edge(setting.edge, shop, dated if fits else shown)
    return Drawn((*_as_symbol(setting.items), *edge), content, setting.untold)


@dataclass(frozen=True, slots=True)
class Run:
    """How labels are printed: on which sheets, from which label on, and by which printer.

    ``offset`` is how far right and down of its place the printer puts things [mm]; it is taken off.
    """

    grid: Grid
    first: int = 1
    offset: tuple[float, float] = (0.0, 0.0)


def sheets(run: Run, labels: Sequence[Drawn], foot: Foot, title: str) -> tuple[Drawing, ...]:
    """Sheets of labels, row by row."""
    grid, (right, down) = run.grid, run.offset
    pages: list[list[Item]] = [[] for _page in range(grid.pages(len(labels), run.first))]
    for label, (page, x, y) in zip(labels, grid.places(len(labels), run.first), strict=True):
        pages[page] += moved(label.items, x - right, y - down)
    return tuple(_sheet(grid, items, foot, title) for items in pages)


def _sheet(grid: Grid, items: list[Item], foot: Foot, title: str) -> Drawing:
    paper = grid.paper
    around: tuple[Item, ...] = ()
    if grid.cut:
        under = (grid.left, paper.height - grid.top + 5.5, paper.width - 2 * grid.left, 4.0)
        around = (*_marks(grid), *sheet_foot.draw(foot, under, _CAPTION))
    desc = _("{title}: {n} on this sheet.").format(title=title, n=_count(items))
    return Drawing(paper.width, paper.height, (*items, *around), title, desc, unit="mm")


def _count(items: list[Item]) -> int:
    return sum(isinstance(item, Stamp) for item in items)


def _marks(grid: Grid) -> Iterator[Item]:
    """Lines to cut along, clear of the labels, outside the grid and in its gaps."""
    pen, long, clear = Pen(stroke="line-strong", width=0.13), 4.0, 1.0
    right = grid.left + (grid.columns - 1) * grid.across + grid.width
    foot = grid.top + (grid.rows - 1) * grid.down + grid.height
    for column in range(grid.columns):
        for x in (grid.left + column * grid.across, grid.left + column * grid.across + grid.width):
            yield Line((x, grid.top - clear - long), (x, grid.top - clear), pen)
            yield Line((x, foot + clear), (x, foot + clear + long), pen)
    for row in range(grid.rows):
        for y in (grid.top + row * grid.down, grid.top + row * grid.down + grid.height):
            yield Line((grid.left - clear - long, y), (grid.left - clear, y), pen)
            yield Line((right + clear, y), (right + clear + long, y), pen)


def moved(items: Iterable[Item], dx: float, dy: float) -> Iterator[Item]:
    """Stamps and words elsewhere on the sheet."""
    for item in items:
        if isinstance(item, Stamp):
            yield replace(item, x=item.x + dx, y=item.y + dy)
        elif isinstance(item, Label):
            box = item.box and (item.box[0] + dx, item.box[1] + dy, *item.box[2:])
            yield replace(item, x=item.x + dx, y=item.y + dy, box=box)


def _as_symbol(items: Sequence[Item]) -> Iterator[Item]:
    """All shapes as one picture that is stamped as often as the label is wanted, and the words."""
    shapes: list[Shape | Stamp] = [i for i in items if isinstance(i, Shape | Stamp)]
    yield Stamp(Symbol("label", tuple(shapes), _UNIT), 0.0, 0.0, _UNIT)
    yield from (item for item in items if isinstance(item, Label))


def _content(items: Sequence[Item]) -> str:
    said = "\n".join(f"{i.x:.2f} {i.y:.2f} {i.text}" for i in items if isinstance(i, Label))
    return sha256((shapes_svg(items) + said).encode()).hexdigest()


def _edge(box: Box, shop: str, dated: str) -> Iterator[Label]:
    """Whose it is, from when, and which, up the right edge in two lines."""
    left, top, width, height = box
    for n, text in enumerate((shop, dated)):
        shown = type.shorten(text, _CAPTION, height)
        x = left + (n + 1) * width / 2 - 0.25 * _CAPTION
        room = (left + n * width / 2, top, width / 2, height)
        yield Label(x, top + height, shown, _CAPTION, colour="ink-soft", turn=-90.0, box=room)


_EDGE = 2 * 1.15 * _CAPTION
"""What the two lines up the right edge take."""


def _pad(height: float) -> float:
    return 2.0 if height < 30 else 2.6 if height < 45 else 4.0


class _Setting:
    """One label as it is being set, at the corner of the sheet."""

    def __init__(self, face: Face, width: float, height: float) -> None:
        self.face, self.width, self.height = face, width, height
        self.pad = _pad(height)
        grown = min(max((height - _LOW) / (_HIGH - _LOW), 0.0), 1.0)
        self.state, self.code = 3.6 + 2.4 * grown, 7.4 + 8.6 * grown
        self.body, self.warn = 3.0 + 1.6 * grown, 2.5 + 0.6 * grown
        self.blank = 3.6 + 5.6 * grown
        self.items: list[Item] = []
        self.untold: tuple[str, ...] = ()
        self.right = width - self.pad - _EDGE - 1.0
        self.edge = (width - self.pad - _EDGE, self.pad, _EDGE, height - 2 * self.pad)
        self.left, self.y = self.pad, self.pad

    def fill(self) -> None:
        if self.face.condition == "quarantine":
            self._quarantine()
        elif self.face.condition == "refuse":
            self._refuse()
        else:
            self._of_material()

    @property
    def room(self) -> float:
        return self.right - self.left

    def text(self, text: str, size: float, *, bold: bool = False, most: int = 1,
             colour: str = "ink", leading: float = LEADING) -> None:  # fmt: skip
        """Set text from here down, in no more lines than ``most``."""
        fitted = type.fit(text, size, self.room, most, bold)
        for line in fitted.lines:
            top = self.y - (LEADING - leading) * size / 2
            at = (self.left, top)
            self.items += lines((line,), at, self.room, size, bold=bold, colour=colour)
            self.y += leading * size

    # --- polymers and blends

    def _of_material(self) -> None:
        self._mark()
        self._state()
        self._name()
        self._colour()
        blanks = (_("date"), _("batch"), _("kg"))
        self._warnings(self.height - self.pad - self.blank)
        self._blanks(blanks, self.height - self.pad)

    def _mark(self) -> None:
        """The polymer's hue and hatch down the left edge; a blend's one above the other."""
        wide = min(max(0.16 * self.width, 8.0), 14.5)
        high = (self.height - 2 * self.pad) / max(len(self.face.codes), 1)
        for n, code in enumerate(self.face.codes):
            box = (self.pad, self.pad + n * high, wide, high)
            self.items += marks.mark_shapes(
                code, box, 0.8, self.face.never_heated, 0.4, strip=0.36 * wide
            )
        self.left = self.pad + wide + 2.5

    def _state(self) -> None:
        """How far it has come: in a word, and as dots along a line."""
        dots = self._dots() if self.face.condition in _ON_THE_WAY else self._iso(self.y)
        word_room = self.room - dots - 1.5
        shown = type.shorten(word(self.face.condition), self.state, word_room, bold=True)
        at = (self.left, self.y)
        self.items += lines((shown,), at, word_room, self.state, bold=True)
        self.y += self.state * LEADING + 0.3
        pen = Pen(stroke="ink", width=0.35)
        self.items.append(Line((self.left, self.y), (self.right, self.y), pen))
        self.y += 0.5

    def _dots(self) -> float:
        """Four dots, filled as far as it has come; returns how wide they are."""
        now, radius = _ON_THE_WAY.index(self.face.condition), 0.16 * self.state
        step, y = 5.2 * radius, self.y + self.state * LEADING / 2
        start = self.right - 3 * step - 1.6 * radius
        self.items.append(Line((start, y), (start + 3 * step, y), Pen(stroke="ink", width=0.25)))
        for n in range(4):
            large = radius * (1.6 if n == now else 1.0)
            pen = Pen("ink" if n <= now else "sheet", "ink", 0.25)
            self.items.append(Circle(start + n * step, y, large, pen))
        return 3 * step + 3.2 * radius

    def _name(self) -> None:
        """The code or the blend's name, as large as its room; long names take two lines."""
        one = self.room * 0.995 / type.width(self.face.name, 1.0, bold=True)
        size = min(self.code, max(one, self.code * 0.5))
        self.text(self.face.name, size, bold=True, most=2 if size > one else 1, leading=0.96)
        self.y += 0.04 * size

    def _colour(self) -> None:
        """The colour's name, and at the right the mark as it is moulded into a part."""
        if self.face.condition == "blend":
            self.text(self.face.colour, self.warn, bold=True, most=3)
            return
        marked = self._iso(self.y)
        shown = type.shorten(self.face.colour, self.body, self.room - marked - 2, bold=True)
        self.text(shown, self.body, bold=True)

    def _iso(self, y: float) -> float:
        """The marks as they are moulded into a part, at the right; returns how wide they are."""
        iso = " ".join(map(marks.iso_mark, self.face.codes))
        shown = type.shorten(iso, self.body, 0.6 * self.room)
        self.items += lines((shown,), (self.left, y), self.room, self.body, anchor="end")
        return type.width(shown, self.body)

    def _warnings(self, limit: float) -> None:
        """What to mind, each behind its square, as many as have room."""
        self.y += 0.2
        for text in self.face.warnings:
            fitted = type.fit(text, self.warn, self.room - self.warn * 1.3, 2)
            if fitted.cut or self.y + fitted.height > limit:
                self.untold += (text,)
                continue
            self.items.append(_square(self.left, self.y, self.warn))
            self.items += lines(fitted.lines, (self.left + self.warn * 1.3, self.y),
                                self.room - self.warn * 1.3, self.warn)  # fmt: skip
            self.y += fitted.height

    def _blanks(self, captions: Sequence[str], foot: float) -> None:
        """Lines to write on, each with what belongs there."""
        gap = 2.0
        each = (self.room - gap * (len(captions) - 1)) / len(captions)
        for n, caption in enumerate(captions):
            self._blank(caption, self.left + n * (each + gap), each, foot)

    def _blank(self, caption: str, x: float, wide: float, foot: float) -> None:
        """What belongs there over its line, or before it where the label is low."""
        before = self.blank < _OVER
        shown = type.shorten(caption, _CAPTION, wide * 0.6 if before else wide)
        taken = type.width(shown, _CAPTION) + 0.8
        top = foot - (_CAPTION * LEADING if before else self.blank)
        self.items += lines((shown,), (x, top), wide, _CAPTION, colour="ink-soft")
        start = x + taken if before else x
        self.items.append(
            Line((start, foot - 0.2), (x + wide, foot - 0.2), Pen(stroke="ink", width=0.25))
        )

    # --- what is not known, and what leaves

    def _quarantine(self) -> None:
        """A striped frame: nothing like it stands on anything that may be used."""
        low = self.height < 45
        band = 2.2 if low else 4.5
        whole = (1.0, 1.0, self.width - 2.0, self.height - 2.0)
        inner = (1 + band, 1 + band, whole[2] - 2 * band, whole[3] - 2 * band)
        self.items += [
            Rect(*whole, Pen("sheet")),
            Path(_stripes(whole), Pen(stroke="ink", width=1.4)),
            Rect(*inner, Pen("sheet", "ink", 0.4)),
            Rect(*whole, Pen(stroke="ink", width=0.4)),
        ]
        self.edge = (inner[0] + inner[2] - _EDGE - 0.8, inner[1] + 0.6, _EDGE, inner[3] - 1.2)
        self.left, self.right = inner[0] + 2.0, self.edge[0] - 1.0
        self.y = inner[1] + 0.6
        foot = inner[1] + inner[3] - 1.2
        self._headed(_("Not known, or not yet believed."), foot)
        captions = (_("thought to be"), _("in since"), _("who"))
        self._blanks(captions[1:] if low else captions, foot)

    def _refuse(self) -> None:
        """A solid band across the top."""
        size = self.state * 1.5
        high = size * LEADING + 1.5
        band = (self.pad, self.pad, self.right - self.pad, high)
        cross = replace(_cross(self.right - high, self.pad, high * 0.8), pen=Pen(
            stroke="sheet", width=high * 0.13))  # fmt: skip
        self.left = self.pad + 2.5
        self.items += [Rect(*band, Pen("ink")), cross]
        shown = type.shorten(word("refuse"), size, self.room - high, bold=True)
        self.items += lines((shown,), (self.left, self.pad + 0.75), self.room, size, bold=True,
                            colour="sheet")  # fmt: skip
        self.y, self.left = self.pad + high + 0.8, self.pad
        self.text(_("Leaves the shop. Never back into a bin."), self.body, most=2)
        foot = self.height - self.pad
        self._warnings(foot - self.blank)
        self._blanks((_("reason"), _("out on"), _("kg")), foot)

    def _headed(self, sentence: str, foot: float) -> None:
        size = min(self.state * 1.9, self.room * 0.995 / type.width(word("quarantine"), 1.0, True))
        self.warn *= 1.15
        self.text(word("quarantine"), size, bold=True, leading=1.1)
        self.text(sentence, self.body, most=2)
        self._warnings(foot - self.blank)


def _square(x: float, y: float, size: float) -> Rect:
    """A solid square half as high as a capital, on the line that begins at y."""
    high = size * ASCENT / 2
    return Rect(x, y + (size * LEADING - high) / 2, high, high, Pen("ink"))


def _cross(x: float, y: float, size: float) -> Path:
    """A cross as high as a capital, on the line that begins at y."""
    high = size * ASCENT
    top = y + (size * LEADING - high) / 2
    data = path_of(((x, top), (x + high, top + high))) + path_of(((x + high, top), (x, top + high)))
    return Path(data, Pen(stroke="ink", width=0.2 * size))


def _stripes(box: Box) -> str:
    return "".join(path_of(line) for line in marks.slants(box, 3.2, rising=True))
