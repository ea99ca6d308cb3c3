"""The logs a spreadsheet keeps: CSV in, frozen rows out, every cell at fault with its place."""

from __future__ import annotations

import datetime as dt
import os
from collections import defaultdict
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import MISSING, dataclass, fields
from functools import cache
from itertools import islice
from pathlib import Path
from types import NoneType
from typing import Annotated, Any, Literal, get_args, get_origin, get_type_hints

from pydantic_core import PydanticCustomError

from generator.ground.csvfile import CsvRow, parse_number, read_csv
from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.textfile import fault
from generator.ground.units import ReadingError
from generator.ground.wording import _, ngettext
from generator.shop.fields import Plain, Ref, read_clock, read_day
from generator.shop.meant import no_such_id, no_such_word
from generator.shop.photos import read_photos
from generator.shop.place import MOST_FAULTS, capped
from generator.shop.records import logs as rows
from generator.shop.references import Known, unwritten

LOGS: Mapping[str, type] = {
    "weigh_ins": rows.WeighIn,
    "batches": rows.Batch,
    "trials": rows.Trial,
    "stock": rows.Stock,
    "rota": rows.Shift,
    "upkeep": rows.UpkeepDone,
    "printed": rows.PrintRun,
    "loans": rows.Loan,
}


def file_of_log(log: str) -> str:
    """``weigh-ins.csv`` of ``weigh_ins``."""
    return f"{log.replace('_', '-')}.csv"


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a log: how a cell is read, and what an id in it must be found in."""

    name: str
    read: Callable[[str], Any]
    required: bool
    noun: str = ""


@cache
def columns_of(row: type) -> tuple[Column, ...]:
    """The columns of a row's type, in the order they are declared."""
    hints = get_type_hints(row, include_extras=True)
    return tuple(
        _column(f.name, hints[f.name], f.default is MISSING)
        for f in fields(row)
        if f.name != "origin"
    )


def _column(name: str, hint: Any, required: bool) -> Column:
    markers = _markers(hint)
    nouns = [marker.noun for marker in markers if isinstance(marker, Ref)]
    plain = [marker for marker in markers if isinstance(marker, Plain)]
    noun = nouns[0] if nouns else ""
    if plain:
        return Column(name, _number(plain[0]), required)
    if words := _words(hint):
        return Column(name, _choice(words), required)
    by_type: dict[Any, Callable[[str], Any]] = {dt.date: read_day, dt.time: read_clock}
    if get_origin(hint) is tuple:
        return Column(name, _labels, required, noun)
    plainly = next((arg for arg in get_args(hint) if arg in by_type), hint)  # a date or nothing
    return Column(name, by_type.get(plainly, str), required, noun)


def _markers(hint: Any) -> list[Any]:
    """Whatever ``Annotated`` carries, at any depth of the hint."""
    own = list(get_args(hint)[1:]) if get_origin(hint) is Annotated else []
    if get_origin(hint) is Literal:
        return own
    inner = [a for a in get_args(hint) if a is not Ellipsis and a is not NoneType]
    return own + [marker for a in inner for marker in _markers(a)]


def _words(hint: Any) -> tuple[str, ...]:
    if get_origin(hint) is Literal:
        return tuple(word for word in get_args(hint) if word)
    return tuple(word for a in get_args(hint) for word in _words(a))


# --- cells -------------------------------------------------------------------------------------


def _number(plain: Plain) -> Callable[[str], float]:
    def read(text: str) -> float:
        number = parse_number(text)
        try:
            return plain.read(int(number) if number.is_integer() else number)
        except PydanticCustomError as error:
            context = error.context or {}
            raise ReadingError(context["says"], context["mend"], context["example"]) from None

    return read


def _choice(words: tuple[str, ...]) -> Callable[[str], str]:
    def read(text: str) -> str:
        if text not in words:
            raise no_such_word(text, words)
        return text

    return read


def _labels(text: str) -> tuple[str, ...]:
    return tuple(text.split())


# --- files -------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class ReadLogs:
    """Every log, every fault found in them, and where each row's cells stand."""

    logs: rows.Logs
    faults: list[Finding]
    cells: dict[Origin, CsvRow]


def read_logs(folder: Path, known: Known, told: Collection[str] = ()) -> ReadLogs:
    """Read every log of the shop; one that is not there is empty.

    ``told`` are the nouns of which is said already that they hold no record.
    """
    unwritten = set(told)
    read: dict[str, tuple[Any, ...]] = {}
    faults: list[Finding] = []
    cells: dict[Origin, CsvRow] = {}
    for log, row in LOGS.items():
        if os.path.lexists(folder / file_of_log(log)):
            one = read_log(folder, log, row, known, unwritten)
            read[log] = one.rows
            faults += one.faults
            cells |= one.cells
    photos, more = read_photos(folder, read.get("trials", ()), cells)
    return ReadLogs(rows.Logs(**read, photos=photos), faults + more, cells)


def read_log(
    folder: Path, log: str, row: type, known: Known, unwritten: set[str] | None = None
) -> ReadLog:
    """Read one log that is there; an id the known records lack is a fault.

    A noun without any record is told once and then stands among the ``unwritten``.
    """
    reader = _LogReader(log, row, known, set() if unwritten is None else unwritten)
    made = reader.read(folder)
    return ReadLog(made, list(capped(reader.faults, file_of_log(log))), reader.cells)


@dataclass(frozen=True, slots=True)
class ReadLog:
    """One log: its rows, every fault found in it, and where each row's cells stand."""

    rows: tuple[Any, ...]
    faults: list[Finding]
    cells: dict[Origin, CsvRow]


_ROWS_TO_TELL = 3
_FEW_SUIT, _MOST_SUIT = 0.5, 0.9


def _swapped(origin: Origin, one: Column, other: Column) -> Finding:
    says = _("The columns `{one}` and `{other}` look swapped: each holds what suits the other.")
    mend = _("Swap the two names in the first line, or the cells under them.")
    says = says.format(one=one.name, other=other.name)
    return fault("csv-swapped", origin, says, mend)


class _LogReader:
    def __init__(self, log: str, row: type, known: Known, unwritten: set[str]) -> None:
        self.faults: list[Finding] = []
        self.cells: dict[Origin, CsvRow] = {}
        self._row, self._known, self._unwritten = row, known, unwritten
        self._file, self._subject = file_of_log(log), f"logs/{log}"
        self._lost: dict[tuple[Column, str], list[Origin]] = defaultdict(list)

    def read(self, folder: Path) -> tuple[Any, ...]:
        columns = columns_of(self._row)
        names = [column.name for column in columns]
        required = [column.name for column in columns if column.required]
        lines, faults = read_csv(folder / self._file, self._file, names, required)
        self.faults += faults
        self.cells = {line.origin: line for line in lines}
        made = [self._made(line, columns) for line in lines]
        if swapped := self._swapped(lines, columns):
            self.faults = [*faults, swapped]  # whatever its rows are said to hold follows from it
            return ()
        self.faults += islice(self._faults_of_lost(), MOST_FAULTS)
        return tuple(row for row in made if row is not None)

    def _swapped(self, lines: Sequence[CsvRow], columns: Sequence[Column]) -> Finding | None:
        """Two columns of which each holds what suits the other, said once for all rows."""
        if not self.faults and not self._lost:
            return None
        strange = [c for c in columns if self._share(lines, c.name, c) < _FEW_SUIT]
        for one, other in ((a, b) for a in strange for b in columns if b is not a):
            crosswise = (self._share(lines, one.name, other), self._share(lines, other.name, one))
            if min(crosswise) > _MOST_SUIT:
                return _swapped(lines[0].origin_of(one.name), one, other)
        return None

    def _share(self, lines: Sequence[CsvRow], under: str, column: Column) -> float:
        """What share of the cells under a name suits a column; all, where too few are filled."""
        cells = [line[under] for line in lines if line[under]]
        if len(cells) < _ROWS_TO_TELL:
            return 1.0 if under == column.name else 0.0
        return sum(self._suits(cell, column) for cell in cells) / len(cells)

    def _suits(self, text: str, column: Column) -> bool:
        if column.noun and column.noun != "logs.batches" and self._known.is_whole(column.noun):
            return text in self._known.ids(column.noun)
        try:
            column.read(text)
        except ReadingError:
            return False
        return True

    def _made(self, line: CsvRow, columns: tuple[Column, ...]) -> Any:
        """The row, or None where a fault says why it cannot be had."""
        cells: dict[str, Any] = {}
        for column in columns:
            if text := line[column.name]:
                self._look_up(column, text, line.origin_of(column.name))
                self._read_cell(column, text, line, cells)
        wanted = {column.name for column in columns if column.required or line[column.name]}
        return self._row(origin=line.origin, **cells) if wanted <= cells.keys() else None

    def _read_cell(self, column: Column, text: str, line: CsvRow, cells: dict[str, Any]) -> None:
        try:
            cells[column.name] = column.read(text)
        except ReadingError as error:
            origin = line.origin_of(column.name)
            self.faults.append(self._finding("csv-cell", origin, column.name, error))

    def _look_up(self, column: Column, text: str, origin: Origin) -> None:
        if not column.noun or column.noun == "logs.batches":
            return
        if text not in self._known.ids(column.noun) and self._known.is_whole(column.noun):
            self._lost[column, text].append(origin)

    def _faults_of_lost(self) -> Iterator[Finding]:
        """An id that leads nowhere is one fault, however many rows repeat it."""
        yield from self._faults_of_unwritten()
        for (column, text), origins in self._lost.items():
            if not self._known.ids(column.noun):
                continue
            error = no_such_id(text, column.noun, self._known.ids(column.noun))
            more = len(origins) - 1
            if more:
                again = ngettext("{n} more row says so.", "{n} more rows say so.", more)
                error.says = f"{error.says} {again.format(n=more)}"
            yield self._finding("unknown-id", origins[0], column.name, error)

    def _faults_of_unwritten(self) -> Iterator[Finding]:
        """A noun without any record is one fault, however many of its ids are named."""
        for column in dict.fromkeys(column for column, _text in self._lost):
            if self._known.ids(column.noun) or column.noun in self._unwritten:
                continue
            self._unwritten.add(column.noun)
            named = {text: origins for (c, text), origins in self._lost.items() if c == column}
            first = next(iter(named.values()))[0]
            yield self._finding(
                "unknown-id", first, column.name, unwritten(column.noun, list(named))
            )

    def _finding(self, rule: str, origin: Origin, column: str, error: ReadingError) -> Finding:
        says = f"`{column}`: {error.says}"
        return Finding(
            f"data.{rule}", Severity.FAULT, origin, says, error.mend, error.example, self._subject
        )
