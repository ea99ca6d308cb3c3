"""Safety signs on a sheet: one, or several that hang together, each with its words.

A sign is never smaller than its working asks for, and its words are never lower than the least
letters of its distance: where they do not fit, the sheet is larger. What room is left makes
signs and words larger together.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import product

from generator.drawings import type
from generator.drawings.column import lines
from generator.drawings.foot import Foot
from generator.drawings.ink import Box, Drawing, Item, Label, Path, Pen, Rect, Stamp
from generator.drawings.pictograms import sign, stamp_size
from generator.drawings.type import ASCENT, CAPITAL
from generator.ground.paper import Paper
from generator.ground.wording import _, current_language
from generator.reference import reference
from generator.reference.records import Panel

MARGIN = 4.0
"""Kept white round everything [mm]."""

_GAP, _FRAME = 5.0, 0.5
_FOOT_TEXT = 2.5
_FOOT_LINE = 3.6
_GROWTH = (2.0, 1.7, 1.45, 1.25, 1.1, 1.0)
_PANEL = 1.9
"""Height of a signal-word panel over its letters [em]."""


@dataclass(frozen=True, slots=True)
class Posting:
    """A sign to be set: how wide at the least, its words by language, and its letters [mm].

    ``panel`` is the key of a signal-word panel, "" for none.
    """

    code: str
    across: float
    words: tuple[tuple[str, str], ...] = ()
    letter: float = 0.0
    least_letter: float = 0.0
    panel: str = ""


@dataclass(frozen=True, slots=True)
class Board:
    """Signs on one sheet, as they are arranged on it.

    ``fits`` is False where not even the largest sheet bears the sign as large as it must be.
    """

    postings: tuple[Posting, ...]
    paper: Paper
    letters: tuple[float, ...]
    growth: float
    columns: int
    beside: bool
    fits: bool = True


def boards(postings: Sequence[Posting], papers: Sequence[Paper], own: Paper) -> list[Board]:
    """Signs of one place on as few sheets as hold them, none larger than it must be.

    ``papers`` are upright, the smallest first; several signs share a sheet only where it is no
    larger than the shop's ``own``.
    """
    return list(_boards(tuple(postings), tuple(papers), own, current_language()))


@lru_cache(maxsize=4096)
def _boards(
    postings: tuple[Posting, ...],
    papers: tuple[Paper, ...],
    own: Paper,
    language: str,  # noqa: ARG001 - signal words are of different widths
) -> tuple[Board, ...]:
    left, made = list(postings), []
    while left:
        board = next(
            board
            for count in range(len(left), 0, -1)
            if (board := _board(left[:count], papers, own)) is not None
        )
        made.append(board)
        left = left[len(board.postings) :]
    return tuple(made)


def _board(postings: Sequence[Posting], papers: Sequence[Paper], own: Paper) -> Board | None:
    """The signs on the smallest sheet that holds them; one alone is always set."""
    alone = len(postings) == 1
    for paper in papers:
        if alone or own.holds(paper):
            found = _on_paper(tuple(postings), paper)
            if found is not None:
                return found
    return _at_largest(postings[0], papers[-1]) if alone else None


def _on_paper(postings: tuple[Posting, ...], paper: Paper) -> Board | None:
    """The first arrangement that fits, with the larger letters if they do, grown to fill it."""
    ways = product((False, True), (paper, paper.landscape), _arrangements(len(postings)))
    for least, sheet, (columns, beside) in ways:
        letters = tuple(p.least_letter if least else p.letter for p in postings)
        board = Board(postings, sheet, letters, 1.0, columns, beside)
        if _Setting(board).fits:
            return _grown(board)
    return None


def _arrangements(count: int) -> Iterator[tuple[int, bool]]:
    """Columns, and whether words stand beside their sign or under it."""
    yield from ((columns, False) for columns in range(1, count + 1))
    yield 1, True


def _grown(board: Board) -> Board:
    made = (replace(board, growth=growth) for growth in _GROWTH)
    return next(each for each in made if _Setting(each).fits)


def _at_largest(posting: Posting, paper: Paper) -> Board:
    """A sign that no sheet bears, as large as the largest bears it, without words."""
    small = Posting(posting.code, paper.width - 2 * MARGIN)
    return Board((small,), paper, (0.0,), 1.0, 1, beside=False, fits=False)


def draw(board: Board, foot: Foot) -> Drawing:
    """The sheet in millimetres."""
    setting = _Setting(board)
    paper = board.paper
    edge = MARGIN - _FRAME / 2
    items = (
        Rect(0, 0, paper.width, paper.height, Pen("white")),
        *setting.items(),
        Rect(edge, edge, paper.width - 2 * edge, paper.height - 2 * edge,
             Pen(stroke="ink", width=_FRAME)),
        *_foot(foot, paper),
    )  # fmt: skip
    names = [_(reference().sign(p.code).refers) for p in board.postings]
    return Drawing(
        paper.width, paper.height, items, title_of(board), "; ".join(names) + ".", unit="mm"
    )


def title_of(board: Board) -> str:
    """What the sheet is called: its signs by code and name."""
    named = (f"{p.code} {_(reference().sign(p.code).refers)}" for p in board.postings)
    return _("Sign: {signs}").format(signs=", ".join(named))


def foot_height(paper: Paper) -> float:
    """Room at the foot of a sheet, in one line or, on a narrow one, in two [mm]."""
    return _FOOT_LINE * (1 if paper.width > _NARROW else 2) + 1.5


_NARROW = 170.0


def _foot(foot: Foot, paper: Paper) -> Iterator[Item]:
    """Whose sheet, which, and from which data; never shortened where it tells what it bears."""
    shown = (
        (foot.shop, True),
        (_("sheet {number}").format(number=foot.number), False),
        (_("data as of {day}").format(day=foot.as_of), False),
        (_("content {hash}").format(hash=foot.fingerprint), False),
    )
    rows = (shown,) if paper.width > _NARROW else (shown[:2], shown[2:])
    x, width = MARGIN + 2, paper.width - 2 * MARGIN - 4
    y = paper.height - MARGIN - foot_height(paper) + 0.5
    for n, row in enumerate(rows):
        yield from _spread(row, (x, y + n * _FOOT_LINE, width, _FOOT_LINE))


def _spread(row: Sequence[tuple[str, bool]], box: Box) -> Iterator[Item]:
    """Texts over a line, the first at its start and the last at its end; the first gives way."""
    x, y, width, height = box
    base = y + (height + _FOOT_TEXT * ASCENT) / 2
    gap = 3.0
    taken = sum(type.width(text, _FOOT_TEXT) + gap for text, _bold in row[1:])
    first = type.shorten(row[0][0], _FOOT_TEXT, width - taken, row[0][1])
    spare = width - taken - type.width(first, _FOOT_TEXT, row[0][1])
    for n, (text, bold) in enumerate(((first, row[0][1]), *row[1:])):
        wide = type.width(text, _FOOT_TEXT, bold)
        yield Label(x, base, text, _FOOT_TEXT, bold, colour="ink" if bold else "ink-soft",
                    box=(x, y, wide + 0.1, height))  # fmt: skip
        x += wide + gap + (spare if n == 0 else 0.0)


class _Cell:
    """One sign with its words, measured for a width."""

    def __init__(self, posting: Posting, letter: float, growth: float, width: float) -> None:
        self.posting, self.width = posting, width
        self.across = posting.across * growth
        self.size = stamp_size(posting.code, self.across)
        self.high = self.size * (0.93 if posting.code[0] == "W" else 1.0)
        self.em = letter * growth / CAPITAL
        self.panel = reference().panels[posting.panel] if posting.panel else None
        self.panel_high = self.em * _PANEL if self.panel else 0.0

    def words(self, width: float) -> list[tuple[str, type.Fit]]:
        return [
            (language, type.fit(text, self.em, width, bold=True))
            for language, text in self.posting.words
        ]

    def is_whole(self, width: float) -> bool:
        """Whether no word is wider than the room for it, and the panel's word neither."""
        words = [word for _language, text in self.posting.words for word in text.split()]
        if any(type.width(word, self.em, True) > width for word in words):
            return False
        return self.panel is None or _panel_width(self.panel, self.em) <= self.width

    def words_high(self, width: float) -> float:
        found = self.words(width)
        return sum(fit.height for _l, fit in found) + self.em * 0.35 * max(len(found) - 1, 0)


class _Setting:
    """A board as it is laid out on its paper."""

    def __init__(self, board: Board) -> None:
        self.board = board
        paper, columns = board.paper, board.columns
        self.left, self.top = MARGIN, MARGIN
        self.width = paper.width - 2 * self.left
        self.height = paper.height - 2 * self.top - foot_height(paper)
        self.cell_width = (self.width - (columns - 1) * _GAP) / columns
        self.cells = [
            _Cell(p, letter, board.growth, self.cell_width)
            for p, letter in zip(board.postings, board.letters, strict=True)
        ]

    @property
    def rows(self) -> list[list[_Cell]]:
        columns = self.board.columns
        return [self.cells[i : i + columns] for i in range(0, len(self.cells), columns)]

    @property
    def fits(self) -> bool:
        """Whether every sign and every word has its room."""
        if not self.board.fits:
            return True
        wide = all(self._is_wide_enough(cell) for cell in self.cells)
        return wide and self._used <= self.height

    def _is_wide_enough(self, cell: _Cell) -> bool:
        room = self._words_width(cell)
        return cell.across <= self.cell_width and (not cell.posting.words or
                                                 (room > 0 and cell.is_whole(room)))  # fmt: skip

    def _words_width(self, cell: _Cell) -> float:
        """The room for a line of words."""
        if self.board.beside:
            return self.cell_width - cell.size - 2 * _GAP
        return self.cell_width - 2.0

    @property
    def _used(self) -> float:
        return sum(self._row_high(row) for row in self.rows) + _GAP * (len(self.rows) - 1)

    def _row_high(self, row: Sequence[_Cell]) -> float:
        return max(self._cell_high(cell) for cell in row)

    def _cell_high(self, cell: _Cell) -> float:
        words = cell.words_high(self._words_width(cell)) if cell.posting.words else 0.0
        if self.board.beside:
            return cell.panel_high + max(cell.size, words)
        return cell.panel_high + cell.high + (words + _GAP * 0.4 if words else 0.0)

    def items(self) -> Iterator[Item]:
        """Every sign with its words, spread over the height."""
        spare = max(self.height - self._used, 0.0) / (len(self.rows) + 1)
        y = self.top + spare
        for row in self.rows:
            step = (self.width + _GAP) / len(row)
            for n, cell in enumerate(row):
                x = self.left + n * step + (step - _GAP - self.cell_width) / 2
                yield from self._cell(cell, (x, y, self.cell_width, self._row_high(row)))
            y += self._row_high(row) + _GAP + spare

    def _cell(self, cell: _Cell, box: Box) -> Iterator[Item]:
        x, y, width, _height = box
        if cell.panel:
            yield from panel(cell.panel, (x, y, width, cell.panel_high), cell.em)
            y += cell.panel_high
        if self.board.beside:
            yield from self._beside(cell, x, y)
        else:
            yield Stamp(sign(cell.posting.code), x + (width - cell.size) / 2, y, cell.size)
            room = self._words_width(cell)
            yield from _words(cell, x + (width - room) / 2, y + cell.high + _GAP * 0.4, room)

    def _beside(self, cell: _Cell, x: float, y: float) -> Iterator[Item]:
        room = self._words_width(cell)
        words = cell.words_high(room)
        high = max(cell.size, words)
        yield Stamp(sign(cell.posting.code), x, y + (high - cell.size) / 2, cell.size)
        yield from _words(cell, x + cell.size + _GAP, y + (high - words) / 2, room)


def _words(cell: _Cell, x: float, y: float, width: float) -> Iterator[Item]:
    """The words, one language under the other, each in the middle."""
    for language, fit in cell.words(width):
        for label in lines(fit.lines, (x, y), width, cell.em, bold=True, colour="black",
                           anchor="middle"):  # fmt: skip
            yield spoken(label, language)
        y += fit.height + cell.em * 0.35


def spoken(item: Item, language: str) -> Item:
    """A label in a language of its own."""
    return replace(item, language=language) if isinstance(item, Label) else item


# --- signal words ------------------------------------------------------------------------------


def _panel_width(shown: Panel, em: float) -> float:
    """How wide a panel's word is, with the alert mark before it and room at its ends."""
    return type.width(_(shown.word), em * 1.15, True) + em * 2.6


def panel(shown: Panel, box: Box, em: float) -> Iterator[Item]:
    """A signal-word panel: its ground, the alert mark where somebody can be hurt, its word."""
    x, y, width, height = box
    word, size = _(shown.word), em * 1.15
    mark = size * 0.95 if shown.key != "notice" else 0.0
    across = type.width(word, size, True) + (mark * 1.35 if mark else 0.0)
    start = x + (width - across) / 2
    yield Rect(x, y, width, height, Pen(shown.colour))
    if mark:
        yield from _alert(start, y + (height - mark * 0.88) / 2, mark, shown)
    at = start + (mark * 1.35 if mark else 0.0)
    base = y + (height + size * ASCENT) / 2
    yield Label(at, base, word, size, bold=True, colour=shown.text, box=(x, y, width, height))


def _alert(x: float, y: float, size: float, shown: Panel) -> Iterator[Item]:
    """A triangle in the colour of the word, its mark of exclamation in that of the ground."""
    high = size * 0.88
    ring = f"M{x + size / 2:.2f} {y:.2f}L{x + size:.2f} {y + high:.2f}L{x:.2f} {y + high:.2f}Z"
    middle, top = x + size / 2, y + high * 0.34
    yield Path(ring, Pen(shown.text))
    yield Rect(middle - size * 0.05, top, size * 0.1, high * 0.34, Pen(shown.colour))
    yield Rect(middle - size * 0.05, y + high * 0.76, size * 0.1, size * 0.1, Pen(shown.colour))
