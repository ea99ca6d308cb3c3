"""Tags of findings at the things they tell of, where no width is drawn."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from generator.drawings.ink import Item, Point
from generator.drawings.layers.board import Board, Part
from generator.drawings.layers.found import Spot
from generator.drawings.layers.narrow import ink_of, tag_part
from generator.ground.finding import Finding


def draw(board: Board, spots: Iterable[Spot], tags: Mapping[Finding, str]) -> tuple[Item, ...]:
    """Each tag as near to its thing as it finds room; those of one place together."""
    by_place: dict[Point, list[Spot]] = {}
    for spot in spots:
        if not spot.measures:
            by_place.setdefault(spot.at, []).append(spot)
    labels = [item for at, here in by_place.items() for item in _pinned(board, at, here, tags)]
    return (*board.under(), *labels)


def _pinned(
    board: Board, at: Point, spots: list[Spot], tags: Mapping[Finding, str]
) -> tuple[Item, ...]:
    parts = [tag_part(spot.finding.severity, tags[spot.finding]) for spot in spots]
    x, y = board.view.at(at)
    wishes = [(x, y + 22), (x, y - 22), (x + 40, y), (x - 40, y)]
    colour = ink_of(spots[0].finding.severity)
    rows = _rows(parts, 1 if board.narrow else 2)
    return board.label(rows, wishes, led=(x, y), lead=colour, reach=60.0, must=True)


def _rows(parts: list[Part], wide: int) -> list[list[Part]]:
    return [parts[i : i + wide] for i in range(0, len(parts), wide)]
