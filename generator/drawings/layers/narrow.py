"""Narrow places: what is left to walk through, drawn where it is, with its finding's tag."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from generator.drawings.ink import Item, Line, Pen, Point, Polygon
from generator.drawings.keys import SAMPLE, Key
from generator.drawings.layers import forms
from generator.drawings.layers.board import Board, Part
from generator.drawings.layers.found import Measure, Spot
from generator.drawings.layers.layer import Layer
from generator.drawings.measures import millimetres
from generator.ground.finding import Finding, Severity
from generator.ground.wording import _
from generator.workings.routes import RouteStudy

_INK = {Severity.STOP: "stop-text", Severity.FIX: "fix-text"}


def ink_of(severity: Severity) -> str:
    """The colour of what is drawn for a finding; its tag says the same in words."""
    return _INK.get(severity, severity.value)


def tag_part(severity: Severity, tag: str) -> Part:
    """A finding's tag: solid where something must be done, else an outline."""
    if severity is Severity.STOP:
        return Part(tag, True, "stop", "white")
    if severity is Severity.FIX:
        return Part(tag, True, "fix", "sheet")
    return Part(tag, True, "sheet", severity.value, severity.value)


def found(board: Board, spots: Iterable[Spot], tags: Mapping[Finding, str]) -> tuple[Item, ...]:
    """Every width that is too small, with what is left, what is needed, and its tag."""
    drawn = [item for spot in spots for item in _found(board, spot, tags[spot.finding])]
    return (*board.under(), *drawn)


def draw(
    board: Board, told: tuple[Item, ...], spots: Sequence[Spot], routes: RouteStudy | None
) -> Layer | None:
    """The widths that were found too small, and the tightest places that hold, in ink."""
    holding = list(_holding(routes, [m for spot in spots for m in spot.measures]))
    held = [item for measure in holding for item in _held(board, measure)]
    keys = tuple(_keys(bool(told), bool(held)))
    return (
        Layer("narrow", _("Narrow places"), (*board.under(), *held, *told), keys) if keys else None
    )


def _keys(short: bool, held: bool) -> Iterator[Key]:
    if short:
        yield Key(_sample("fix-text"), _("too narrow: left, and needed, in mm"))
    if held:
        yield Key(_sample("ink"), _("tightest place of a way out, in mm"))


def _sample(colour: str) -> tuple[Item, ...]:
    middle = SAMPLE[1] / 2
    return forms.ticked((5, middle), (SAMPLE[0] - 5, middle), colour, 1.6)


# --- too narrow ----------------------------------------------------------------------------------


def _found(board: Board, spot: Spot, tag: str) -> Iterator[Item]:
    severity = spot.finding.severity
    colour = ink_of(severity)
    for measure in spot.measures:
        start, end = board.line((measure.start, measure.end))
        if measure.swept:
            pen = Pen("line", colour, 1.0, (4, 3), soft=0.3)
            yield Polygon(board.line(measure.swept), pen)
        yield Line(start, end, Pen(stroke=colour, width=13.0, dash=(1.2, 2.4)))
        yield from forms.ticked(start, end, colour, 2.0)
        yield from _words(board, measure, tag_part(severity, tag), colour)


def _words(board: Board, measure: Measure, tag: Part, colour: str) -> tuple[Item, ...]:
    start, end = board.line((measure.start, measure.end))
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    left = Part(_left(measure), True, "sheet", colour, colour)
    needs = Part(_("needs {mm}").format(mm=millimetres(measure.needed_mm)), False, "sheet",
                 colour, colour)  # fmt: skip
    rows = [[tag, left], [needs]] if board.narrow else [[tag, left, needs]]
    board.clearing.spare([start, middle, end], 20.0, 10.0)
    return board.label(rows, _beside(start, end), led=middle, lead=colour, must=True, reach=70.0)


def _left(measure: Measure) -> str:
    if measure.left_mm < 0:
        return _("{mm} over").format(mm=millimetres(-measure.left_mm))
    return _("{mm} left").format(mm=millimetres(measure.left_mm))


def _beside(start: Point, end: Point, off: float = 90.0) -> list[Point]:
    """Off the middle of a width, square to it, on either side."""
    x, y = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    if abs(end[0] - start[0]) >= abs(end[1] - start[1]):
        return [(x, y + 20), (x, y - 20), (x + 50, y + 20), (x - 50, y + 20)]
    return [(x + off, y), (x - off, y), (x + 40, y + 26), (x - 40, y - 26)]


# --- tight, but wide enough ----------------------------------------------------------------------


def _holding(routes: RouteStudy | None, told: Iterable[Measure]) -> Iterator[Measure]:
    """The tightest places that are wide enough, without those that a finding tells of."""
    if routes is None:
        return
    seen = {frozenset((m.start, m.end)) for m in told}
    for gap in routes.bottlenecks:
        if gap.lets_pass(routes.ground.aisle.value) and frozenset(gap.ends) not in seen:
            yield Measure(*gap.ends, gap.width_mm, 0.0)


def _held(board: Board, measure: Measure) -> Iterator[Item]:
    start, end = board.line((measure.start, measure.end))
    yield from forms.ticked(start, end, "ink", 1.4)
    width = Part(millimetres(measure.left_mm), True)
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    reach = 22.0 if board.narrow else 46.0  # on a phone no figure stands far off its place
    yield from board.label([[width]], [middle, *_beside(start, end, 24.0)], led=middle, reach=reach)
