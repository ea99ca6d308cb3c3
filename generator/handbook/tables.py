"""Tables as pages set them: plain cells, each of which may lead somewhere."""

from __future__ import annotations

from dataclasses import dataclass

from generator.ground.working import Verdict
from generator.handbook.amounts import verdict_class, verdict_word
from generator.shop.fields import Record


@dataclass(frozen=True, slots=True)
class Cell:
    """What stands in a cell: a line, a smaller one under it, and where it leads.

    ``record`` has a page of its own, ``working`` is the id of the working behind the figure,
    ``number`` a station's balloon before the words, ``style`` the class of the words.
    """

    text: str
    small: str = ""
    record: Record | None = None
    working: str = ""
    number: int = 0
    style: str = ""


@dataclass(frozen=True, slots=True)
class Column:
    """A column's heading, and whether figures stand in it."""

    title: str
    figures: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table; on a phone each row becomes a few labelled lines.

    ``fold`` is what is read of it while it is folded away, "" for one that stands open.
    """

    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    caption: str = ""
    fold: str = ""


def verdict_cell(verdict: Verdict) -> Cell:
    """A verdict in its own style."""
    return Cell(verdict_word(verdict), style=verdict_class(verdict))
