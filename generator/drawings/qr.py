"""A code that a phone's camera reads, as squares of ink."""

from __future__ import annotations

import segno

from generator.drawings.ink import Item, Path, Pen, Rect, number

_QUIET = 4
"""Modules kept white round the code, as ISO/IEC 18004 asks."""


def code(text: str, x: float, y: float, size: float) -> tuple[Item, ...]:
    """The text as a code ``size`` wide with its white edge, at medium correction.

    Rows of neighbouring modules are one stroke of the path, so that no hair of paper shows
    between them.
    """
    rows = [list(row) for row in segno.make(text, error="m", micro=False).matrix]
    module = size / (len(rows) + 2 * _QUIET)
    data = "".join(
        _bar(x + (start + _QUIET) * module, y + (n + _QUIET) * module, run * module, module)
        for n, row in enumerate(rows)
        for start, run in _runs(row)
    )
    return Rect(x, y, size, size, Pen("white")), Path(data, Pen("black"))


def _bar(x: float, y: float, width: float, height: float) -> str:
    left, top, right, bottom = map(number, (x, y, x + width, y + height))
    return f"M{left} {top}H{right}V{bottom}H{left}Z"


def _runs(row: list[int]) -> list[tuple[int, int]]:
    """Where dark modules begin in a row, and how many there are."""
    found, start = [], None
    for n, dark in enumerate([*row, 0]):
        if dark and start is None:
            start = n
        elif not dark and start is not None:
            found.append((start, n - start))
            start = None
    return found
