"""Where labels stand on a sheet: by its measures, from any label on, with a printer's own error."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.ground.paper import Paper


@dataclass(frozen=True, slots=True)
class Grid:
    """A sheet of labels [mm].

    ``left`` and ``top`` lead to the first label's corner, ``across`` and ``down`` from one
    label's corner to the next one's. ``cut`` is plain paper that is cut along marks.
    """

    paper: Paper
    columns: int
    rows: int
    width: float
    height: float
    left: float
    top: float
    across: float
    down: float
    cut: bool = False

    @property
    def on_a_sheet(self) -> int:
        """How many labels stand on one sheet."""
        return self.columns * self.rows

    def pages(self, count: int, first: int = 1) -> int:
        """How many sheets so many labels take, of which the first was begun."""
        return -(-(count + first - 1) // self.on_a_sheet)

    def places(self, count: int, first: int = 1) -> Iterator[tuple[int, float, float]]:
        """Sheet, from 0, and upper left corner [mm] of each label, row by row.

        ``first`` is the label of the first sheet to begin at, from 1: those before it are used.

        Raises
        ------
        ValueError
            If a sheet has no label of that number.
        """
        if not 1 <= first <= self.on_a_sheet:
            raise ValueError(f"a sheet has labels 1 to {self.on_a_sheet}, not {first}")
        for n in range(first - 1, first - 1 + count):
            page, on_page = divmod(n, self.on_a_sheet)
            row, column = divmod(on_page, self.columns)
            yield page, self.left + column * self.across, self.top + row * self.down


def plain(paper: Paper, width: float = 90.0, height: float = 63.0, gap: float = 4.0) -> Grid:
    """As many labels of a size as stand on a plain sheet, in its middle, to be cut out."""
    margin = 12.0
    columns = int((paper.width - 2 * margin + gap) // (width + gap))
    rows = int((paper.height - 2 * margin + gap) // (height + gap))
    left = (paper.width - columns * width - (columns - 1) * gap) / 2
    top = (paper.height - rows * height - (rows - 1) * gap) / 2
    return Grid(paper, columns, rows, width, height, left, top, width + gap, height + gap, True)
