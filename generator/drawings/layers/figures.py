"""Figures at stations: light against what the task needs, and surfaces hot enough to burn."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.drawings.ink import Item, Rect
from generator.drawings.ink import Pen as Inked
from generator.drawings.keys import SAMPLE, Key
from generator.drawings.layers.board import Board, Part
from generator.drawings.layers.found import Spot
from generator.drawings.layers.layer import Layer
from generator.drawings.layers.narrow import tag_part
from generator.ground.finding import Finding
from generator.ground.units import show, show_number
from generator.ground.wording import _
from generator.workings.light import LightStudy, TaskLight
from generator.workings.touch import Touched, TouchStudy

_OPEN = (3.0, 2.0)
"""The edge of what is not answered."""

Tags = Mapping[Finding, str]


@dataclass(frozen=True, slots=True)
class _Told:
    """A figure at a station, with the tags of what was found about it."""

    station: str
    figure: Part
    tags: tuple[Part, ...]


def light(board: Board, study: LightStudy, spots: Sequence[Spot], tags: Tags) -> Layer | None:
    """What was read at each station against what its task needs."""
    told = []
    for task in study.stations:
        about = _tags(spots, tags, f"stations/{task.station}")
        told.append(_Told(task.station, _light_part(task), about))
    items = tuple(_set(board, told))
    keys = (
        Key((_frame(()),), _("light that was read, of what the task needs")),
        Key((_frame(_OPEN),), _("nobody has read it")),
    )
    return Layer("light", _("Light"), (*board.under(), *items), keys, on=False) if items else None


def _light_part(task: TaskLight) -> Part:
    need = show(task.need_lx, "lx", 0)
    if task.has_lx is None:
        return Part(_("? of {need}").format(need=need), False, "sheet", "ink", "ink", _OPEN)
    words = _("{has} of {need}").format(has=show_number(task.has_lx, 0), need=need)
    return Part(words, task.has_lx < task.need_lx, "sheet", "ink", "ink")


def hot(board: Board, study: TouchStudy, spots: Sequence[Spot], tags: Tags) -> Layer | None:
    """The hottest bare surface of each station that can burn."""
    hottest: dict[str, Touched] = {}
    for each in study.surfaces:
        station = board.shop.machines[each.machine].station
        if each.burns_after_s is not None and not each.surface.guarded:
            known = hottest.get(station, each)
            hottest[station] = max(known, each, key=lambda t: t.surface.surface_c)
    told = [_hot(board, station, each, spots, tags) for station, each in hottest.items()]
    items = tuple(_set(board, told))
    key = Key((_frame(()),), _("hottest surface that can burn and is bare"))
    return (
        Layer("hot", _("Hot surfaces"), (*board.under(), *items), (key,), on=False)
        if items
        else None
    )


def _hot(board: Board, station: str, each: Touched, spots: Sequence[Spot], tags: Tags) -> _Told:
    machines = board.shop.machines_at(station)
    about = [tag for m in machines for tag in _tags(spots, tags, f"machines/{m.id}")]
    figure = Part(show(each.surface.surface_c, "c", 0), True, "sheet", "ink", "ink")
    return _Told(station, figure, tuple(about))


def _tags(spots: Sequence[Spot], tags: Tags, subject: str) -> tuple[Part, ...]:
    found = [spot.finding for spot in spots if spot.finding.subject == subject]
    return tuple(tag_part(finding.severity, tags[finding]) for finding in found)


def _set(board: Board, told: Sequence[_Told]) -> Iterator[Item]:
    """What has a tag first: it must be read."""
    for each in sorted(told, key=lambda t: not t.tags):
        x, y = board.station_at(each.station)
        if each.tags or not board.narrow:
            rows = _rows(each, upright=board.narrow)
            wishes = [(x, y + 22), (x, y - 22), (x + 48, y), (x - 48, y), (x, y)]
            yield from board.label(rows, wishes, led=(x, y), reach=64.0, must=bool(each.tags))


def _rows(told: _Told, *, upright: bool) -> list[list[Part]]:
    """Tags before the figure; on a phone tags alone, since their findings hold the figure."""
    if upright:
        return [[tag] for tag in told.tags]
    if len(told.tags) > 1:
        return [*([tag] for tag in told.tags), [told.figure]]
    return [[*told.tags, told.figure]]


def _frame(dash: tuple[float, ...]) -> Item:
    return Rect(3, 1.5, SAMPLE[0] - 6, SAMPLE[1] - 3, Inked("sheet", "ink", 1.4, dash))
