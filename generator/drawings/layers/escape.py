"""Ways out: from every station, the longest ones lettered and measured, and those cut off."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from generator.drawings.ink import Item, Path, Pen, Polyline
from generator.drawings.keys import Key
from generator.drawings.layers import forms
from generator.drawings.layers.board import Board, Part, shares
from generator.drawings.layers.layer import Layer
from generator.drawings.measures import metres
from generator.ground.wording import _
from generator.workings.footprint import Point
from generator.workings.routes import RouteStudy, WayOut

_LONG_ONE_WAY_MM = 3000.0
"""A stretch with one way to go is drawn from this length on."""


@dataclass(frozen=True, slots=True)
class _Course:
    """A course to letter [mm along ``line``], and the pen it is drawn with."""

    line: Sequence[Point]
    length_mm: float
    pen: Pen


def draw(board: Board, routes: RouteStudy) -> Layer | None:
    """The ways out as they are walked."""
    ways = [way for way in routes.escape.ways if way.nearest]
    lost = list(_lost(routes))
    if not ways and not lost:
        return None
    nearest = [board.line(way.exits[0].line) for way in ways]
    items: list[Item] = [Path(forms.network(nearest), forms.ESCAPE_NET)]
    items += _one_way(board, ways)
    courses = [*_longest(ways), *_second(ways)]
    drawn = [board.line(course.line) for course in courses]
    for line in drawn:
        board.spare(line)
    for course, line in zip(courses, drawn, strict=True):
        items += forms.arrowed(line, course.pen, 11.0)
    for line in lost:
        items += forms.arrowed(board.line(line), forms.LOST, 11.0)
    for letter, course, line in zip(_letters(), courses, drawn, strict=False):
        items += _lettered(board, letter, course, line)
    keys = _keys(len(courses) > len(list(_longest(ways))), bool(lost))
    return Layer("escape", _("Ways out"), (*board.under(), *items), tuple(keys))


def _letters() -> Iterator[str]:
    return iter("abcdefghijklmnopqrstuvwxyz")


def _keys(second: bool, lost: bool) -> Iterator[Key]:
    yield Key(forms.arrow_across(forms.ESCAPE), _("longest walk to an exit, lettered, measured"))
    yield Key(forms.across(forms.ESCAPE_NET), _("every other station's walk to its nearest exit"))
    if second:
        yield Key(forms.arrow_across(forms.SECOND), _("from the farthest of them to another exit"))
    if lost:
        yield Key(forms.arrow_across(forms.LOST), _("a way out that does not hold"))


def _longest(ways: Iterable[WayOut]) -> Iterator[_Course]:
    """For each exit the longest walk of those to whom it is nearest."""
    by_exit: dict[str, WayOut] = {}
    for way in ways:
        known = by_exit.get(way.exits[0].end_id, way)
        by_exit[way.exits[0].end_id] = max(known, way, key=lambda w: round(w.exits[0].length_mm, 3))
    for way in by_exit.values():
        yield _Course(way.exits[0].line, way.exits[0].length_mm, forms.ESCAPE)


def _second(ways: Iterable[WayOut]) -> Iterator[_Course]:
    """From the farthest of all, the walk to the exit after the nearest."""
    far = max(ways, key=lambda way: round(way.exits[0].length_mm, 3), default=None)
    if far and far.second:
        yield _Course(far.second.line, far.second.length_mm, forms.SECOND)


def _one_way(board: Board, ways: Iterable[WayOut]) -> Iterator[Item]:
    """The longest stretch with only one way to go, as a broad pale band under the walks."""
    worst = max(ways, key=lambda way: round(way.one_way_mm, 3), default=None)
    if worst is None or worst.one_way_mm < _LONG_ONE_WAY_MM:
        return
    line, share = board.line(worst.exits[0].line), worst.one_way_mm / worst.exits[0].length_mm
    band = shares(line, *(share * step / 24 for step in range(25)))
    yield Polyline(tuple(band), Pen(stroke="line", width=12.0))


def _lettered(
    board: Board, letter: str, course: _Course, line: Sequence[Point]
) -> tuple[Item, ...]:
    badge = Part(letter, True, "escape", "sheet", "escape", round=True)
    length = Part(metres(course.length_mm), True, "sheet", "escape", "escape", round=True)
    return board.label([[badge, length]], shares(line, 0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8))


def _lost(routes: RouteStudy) -> Iterator[tuple[Point, ...]]:
    """For each closed walkway one of the ways out it cuts off, as far as anything gets through."""
    for closed in routes.reaches.closed:
        if closed.service:
            continue
        courses = (routes.squeezed(stand, opening) for stand, opening in closed.cut)
        course = next((c for c in courses if len(c) > 1), None)
        if course:
            yield course
