"""What was printed when: the shop's log of print runs against the sheets as they are now."""

from __future__ import annotations

import csv
import datetime as dt
import io
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from generator.press.sheet import Sheet
from generator.shop.records.logs import PrintRun

FILE = "printed.csv"
_COLUMNS = ("date", "sheet", "content")
_HASH_LETTERS = 16
"""As much of a sheet's hash as its foot bears: what hangs can be told by what can be read on it."""


def short_hash(sheet: Sheet) -> str:
    """The hash as the foot bears it, without spaces."""
    return sheet.content[:_HASH_LETTERS]


@dataclass(frozen=True, slots=True)
class PrintState:
    """Whether what hangs is what the handbook says now, and when it was printed last."""

    word: Literal["current", "changed", "never"]
    printed: dt.date | None = None


def states(sheets: Iterable[Sheet], runs: Iterable[PrintRun]) -> Mapping[str, PrintState]:
    """The state of each sheet by its id. Of several runs on one day the last in the log counts."""
    last: dict[str, PrintRun] = {}
    for run in sorted(runs, key=lambda run: run.date):
        last[run.sheet] = run
    return {sheet.id: _state(sheet, last.get(sheet.id)) for sheet in sheets}


def _state(sheet: Sheet, run: PrintRun | None) -> PrintState:
    if run is None:
        return PrintState("never")
    same = run.content == short_hash(sheet)
    return PrintState("current" if same else "changed", run.date)


def note(folder: Path, sheets: Sequence[Sheet], day: dt.date) -> Path:
    """Add a print run to the shop's log, a line a sheet; the log is begun where there is none."""
    path = folder / FILE
    begun = path.exists() and path.stat().st_size > 0
    with path.open("a", encoding="utf-8", newline="") as file:
        file.write(("" if begun else _line(_COLUMNS)) + "".join(_rows(sheets, day)))
    return path


def _rows(sheets: Iterable[Sheet], day: dt.date) -> Iterable[str]:
    return (_line((day.isoformat(), sheet.id, short_hash(sheet))) for sheet in sheets)


def _line(cells: Sequence[str]) -> str:
    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerow(cells)
    return text.getvalue()
