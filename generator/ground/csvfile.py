"""A table as a spreadsheet saves it, every cell with the place it was read from.

Comma, semicolon and tab are told apart by the header line. What a spreadsheet adds (a byte
order mark, blank rows, empty cells at the end) is taken; what could be read two ways is not.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from types import MappingProxyType

from generator.ground.finding import Finding
from generator.ground.nearest import nearest
from generator.ground.origin import Origin
from generator.ground.textfile import fault, read_text
from generator.ground.units import ReadingError
from generator.ground.wording import _, ngettext

_DELIMITERS = (",", ";", "\t")


class NumberError(ReadingError):
    """A cell that is not plainly one number."""


@dataclass(frozen=True, slots=True)
class CsvRow:
    """One row by column name, each cell as text with its place; absent columns read as ""."""

    cells: Mapping[str, str]
    origins: Mapping[str, Origin]
    origin: Origin

    def __getitem__(self, column: str) -> str:
        return self.cells.get(column, "")

    def origin_of(self, column: str) -> Origin:
        """Where the cell was written, or the row's own place if it has none."""
        return self.origins.get(column, self.origin)


@dataclass(frozen=True, slots=True)
class _Cell:
    text: str
    origin: Origin
    faulty: bool = False


_Row = list[_Cell]


def read_csv(
    path: Path, name: str, columns: Sequence[str], required: Sequence[str] = ()
) -> tuple[list[CsvRow], list[Finding]]:
    """The rows of ``path`` and every fault found; a row with a fault is left out.

    ``name`` is the path as the user knows it, ``columns`` the names a header may have and
    ``required`` those that must be there and filled in every row.
    """
    text, faults = read_text(path, name)
    return ([], faults) if text is None else parse_csv(text, name, columns, required)


def parse_csv(
    text: str, name: str, columns: Sequence[str], required: Sequence[str] = ()
) -> tuple[list[CsvRow], list[Finding]]:
    """As ``read_csv``, from text in hand."""
    delimiter, start = _delimiter(text, columns)
    cutter = _Cutter(text, name, delimiter, start)
    table = [row for row in cutter.rows() if any(cell.text for cell in row)]
    if not table:
        return [], [*cutter.faults, _empty(name, columns)]
    header = _Header(table[0], columns, required, delimiter)
    rows = [header.row(cells) for cells in table[1:]]
    return [row for row in rows if row], [*cutter.faults, *header.faults]


# --- cutting text into cells -------------------------------------------------------------------


def _delimiter(text: str, columns: Sequence[str]) -> tuple[str, int]:
    """The delimiter, and where the header begins (behind a ``sep=;`` line, where there is one)."""
    told = re.match(r"sep=([,;\t])(?:\r\n|\r|\n)", text, re.IGNORECASE)
    if told:
        return told[1], told.end()
    line = re.match(r"[\r\n]*([^\r\n]*)", text)
    header = line[1] if line else ""
    known = {_form(column) for column in columns}
    return max(_DELIMITERS, key=lambda d: _likely(header, d, known)), 0


def _likely(header: str, delimiter: str, known: set[str]) -> tuple[int, int]:
    names = [_form(name.strip('" ')) for name in header.split(delimiter)]
    return sum(name in known for name in names), len(names)


def _form(name: str) -> str:
    return re.sub(r"[\s_-]+", " ", name).strip().casefold()


class _Cutter:
    """Cuts text into cells, keeping the line and column at which each begins."""

    def __init__(self, text: str, name: str, delimiter: str, start: int) -> None:
        self.faults: list[Finding] = []
        self._text, self._name, self._at = text, name, start
        self._line = 1 + _breaks(text[:start])
        self._line_start = start
        mark = re.escape(delimiter)
        self._quoted = re.compile(rf' *"((?:[^"]|"")*)" *(?={mark}|[\r\n]|\Z)')
        self._bare = re.compile(rf"[^{mark}\r\n]*")
        self._delimiter = delimiter

    def rows(self) -> Iterator[_Row]:
        while self._at < len(self._text):
            yield self._row()

    def _row(self) -> _Row:
        cells = [self._cell()]
        while self._text.startswith(self._delimiter, self._at):
            self._at += 1
            cells.append(self._cell())
        if end := re.compile(r"\r\n|\r|\n").match(self._text, self._at):
            self._pass(end.end())
        return cells

    def _cell(self) -> _Cell:
        origin = Origin(self._name, self._line, self._at - self._line_start + 1)
        if quoted := self._quoted.match(self._text, self._at):
            self._pass(quoted.end())
            return _Cell(quoted[1].replace('""', '"').strip(), origin)
        bare = self._bare.match(self._text, self._at)
        assert bare  # the pattern takes the empty cell too
        self._at = bare.end()
        loose = bare[0].lstrip().startswith('"')
        if loose:
            self.faults.append(_loose_quote(origin))
        return _Cell(bare[0].strip(), origin, loose)

    def _pass(self, to: int) -> None:
        """Move on, counting the line breaks passed over."""
        for end in re.finditer(r"\r\n|\r|\n", self._text[self._at : to]):
            self._line += 1
            self._line_start = self._at + end.end()
        self._at = to


def _breaks(text: str) -> int:
    return len(re.findall(r"\r\n|\r|\n", text))


# --- rows under their header -------------------------------------------------------------------


class _Header:
    """What the header line names, and the rows read by it."""

    def __init__(
        self, cells: _Row, columns: Sequence[str], required: Sequence[str], delimiter: str
    ) -> None:
        self.faults: list[Finding] = []
        self._delimiter = delimiter
        self._columns = columns
        self._meant: set[str] = set()  # what mistyped names stand for
        self._names = self._read(_without_empty_end(cells))
        self._required = [column for column in required if column in self._names]
        for column in required:
            if column not in self._names and column not in self._meant:
                self.faults.append(self._missing(column, cells[0].origin))

    def _read(self, cells: _Row) -> list[str | None]:
        """The known column each header cell stands for, or None where a fault says why not."""
        by_form = {_form(column): column for column in self._columns}
        first: dict[str, _Cell] = {}
        names: list[str | None] = []
        for cell in cells:
            name = by_form.get(_form(cell.text))
            if name is None:
                self.faults.append(self._unknown(cell))
            elif name in first:
                self.faults.append(self._twice(name, cell, first[name]))
                name = None
            else:
                first[name] = cell
            names.append(name)
        return names

    def row(self, cells: _Row) -> CsvRow | None:
        """The row by column name, or None where a fault says what is wrong with it."""
        if any(cell.faulty for cell in cells):
            return None
        cells = cells[: len(self._names)] + _without_empty_end(cells[len(self._names) :])
        origin = cells[0].origin
        if len(cells) != len(self._names):
            self.faults.append(self._wrong_count(cells))
            return None
        named = {n: cell for n, cell in zip(self._names, cells, strict=True) if n}
        blank = [column for column in self._required if not named[column].text]
        self.faults.extend(_blank(column, named[column].origin) for column in blank)
        if blank:
            return None
        texts = {name: cell.text for name, cell in named.items()}
        places = {name: cell.origin for name, cell in named.items()}
        return CsvRow(MappingProxyType(texts), MappingProxyType(places), origin)

    def _example(self) -> str:
        return _example(self._columns, self._delimiter)

    def _unknown(self, cell: _Cell) -> Finding:
        if not cell.text:
            says = _("A column has no name.")
            return fault("csv-column", cell.origin, says, _("Name it."), self._example())
        says = _("There is no column `{name}` in this table.").format(name=_short(cell.text))
        guess = nearest(cell.text, self._columns)
        self._meant.update([guess] if guess else [])
        mend = _("Did you mean `{guess}`?").format(guess=guess) if guess else _("Delete it.")
        return fault("csv-column", cell.origin, says, mend, self._example())

    def _twice(self, name: str, cell: _Cell, first: _Cell) -> Finding:
        says = _("The column `{name}` stands here and already at column {first} of the line.")
        says = says.format(name=name, first=first.origin.column)
        return fault("csv-column", cell.origin, says, _("Keep one of the two."), self._example())

    def _missing(self, column: str, origin: Origin) -> Finding:
        says = _("The column `{name}` is missing.").format(name=column)
        names = [*(name for name in self._names if name), column]
        mend = _("Add it to the first line.")
        return fault("csv-column", origin, says, mend, _example(names, self._delimiter))

    def _wrong_count(self, cells: _Row) -> Finding:
        has, needs = len(cells), len(self._names)
        says = ngettext(
            "This row has {has} cell, and the header names {needs} columns.",
            "This row has {has} cells, and the header names {needs} columns.",
            has,
        ).format(has=has, needs=needs)
        origin = cells[needs].origin if has > needs else cells[-1].origin
        if has > needs and self._delimiter == "," and (cut := _cut_number(cells)):
            return _decimal_comma(origin, says, *cut)
        mend = _("Put quotes around a cell with a `{mark}` in it; leave no cell out.")
        mend = mend.format(mark=_("tab") if self._delimiter == "\t" else self._delimiter)
        names = [name or "" for name in self._names]
        return fault("csv-cells", origin, says, mend, _example(names, self._delimiter))


def _cut_number(cells: _Row) -> tuple[_Cell, _Cell] | None:
    """Two cells that may be one number, cut in two at its decimal comma."""
    for one, other in pairwise(cells):
        if re.fullmatch(r"-?[0-9]{1,4}", one.text) and re.fullmatch(r"[0-9]{1,3}", other.text):
            return one, other
    return None


def _decimal_comma(origin: Origin, says: str, whole: _Cell, part: _Cell) -> Finding:
    mend = _(
        "Commas part the cells here: if `{cut}` is one number, write it with a point, `{number}`,"
        " or in quotes."
    )
    cut, number = f"{whole.text},{part.text}", f"{whole.text}.{part.text}"
    return fault("csv-cells", origin, says, mend.format(cut=cut, number=number), number)


def _without_empty_end(cells: _Row) -> _Row:
    """Spreadsheets save the empty cells right of a table too."""
    used = [i for i, cell in enumerate(cells) if cell.text]
    return cells[: used[-1] + 1] if used else []


def _example(columns: Sequence[str], delimiter: str) -> str:
    return delimiter.join(columns)


def _empty(name: str, columns: Sequence[str]) -> Finding:
    says = _("{name} is empty.").format(name=name)
    mend = _("Write the column names in its first line, or delete the file.")
    return fault("empty-file", Origin(name, 1, 1), says, mend, _example(columns, ","))


def _blank(column: str, origin: Origin) -> Finding:
    says = _("The cell under `{name}` is empty.").format(name=column)
    return fault("csv-blank", origin, says, _("Fill it in, or delete the row."))


def _loose_quote(origin: Origin) -> Finding:
    says = _("The quote that begins this cell is not closed at its end.")
    mend = _("Close it; write a quote inside a quoted cell twice.")
    return fault("csv-quote", origin, says, mend, '"the ""small"" press"')


# --- numbers -----------------------------------------------------------------------------------

_PLAIN = re.compile(r"[0-9]+|[0-9]*[.,][0-9]+")
_IN_THREES = re.compile(r"[0-9]{1,3}(?P<group>[ '.,])[0-9]{3}(?:(?P=group)[0-9]{3})*")
_EITHER = re.compile(r"(?P<whole>[1-9][0-9]{0,2})[.,](?P<part>[0-9]{3})")
_SAME = str.maketrans({"−": "-", "’": "'", "\u00a0": " ", "\u202f": " ", "\u2009": " "})
_LONGEST = 40


def parse_number(text: str) -> float:
    """The number in a cell, with a decimal point or a decimal comma.

    ``1 250,5``, ``1.250,5`` and ``1,250.5`` are read. ``1.250`` and ``1,250`` may be one and a
    quarter or twelve hundred and fifty: NumberError asks which.
    """
    words = " ".join(text.translate(_SAME).split())
    sign, digits = (-1, words[1:].lstrip()) if words.startswith("-") else (1, words)
    either = _EITHER.fullmatch(digits)
    if either:
        raise _either(text, either["whole"], either["part"])
    plain = _ungrouped(digits)
    if len(words) > _LONGEST or plain is None:
        raise _no_number(text)
    return sign * float(plain)


def _ungrouped(digits: str) -> str | None:
    """The digits with a decimal point and no grouping; None where they are no number."""
    if _PLAIN.fullmatch(digits):
        return digits.replace(",", ".")
    grouped = _IN_THREES.match(digits)
    if not grouped:
        return None
    rest = digits[grouped.end() :]
    if rest and not re.fullmatch(rf"(?!{re.escape(grouped['group'])})[.,][0-9]+", rest):
        return None
    return re.sub(r"[^0-9]", "", grouped[0]) + rest.replace(",", ".")


def _either(text: str, whole: str, part: str) -> NumberError:
    says = _("`{text}` may mean {thousands} or {decimal}.")
    thousands, decimal = f"{whole}{part}", f"{whole}.{part.rstrip('0') or '0'}"
    says = says.format(text=_short(text.strip()), thousands=thousands, decimal=decimal)
    mend = _("Write `{thousands}` or `{decimal}`.").format(thousands=thousands, decimal=decimal)
    return NumberError(says, mend, decimal)


def _no_number(text: str) -> NumberError:
    says = _("`{text}` is not a number.").format(text=_short(text.strip()))
    return NumberError(says, _("Write digits with a decimal point or comma."), "12.5")


def _short(text: str) -> str:
    words = "".join(c if c.isprintable() else "\ufffd" for c in text)
    return words if len(words) <= 40 else words[:39] + "…"
