"""Fire gear and first aid: how far it is to what must be found at once, as it is walked."""

from __future__ import annotations

from collections.abc import Iterator

from generator.drawings.ink import Circle, Item, Path, Pen
from generator.drawings.keys import Key
from generator.drawings.layers import forms
from generator.drawings.layers.board import Board, Part, shares
from generator.drawings.layers.layer import Layer
from generator.drawings.measures import metres
from generator.drawings.words import word
from generator.ground.wording import _
from generator.workings.routes import Journey, RouteStudy, Supply


def draw(board: Board, routes: RouteStudy) -> Layer | None:
    """The walks to the nearest extinguisher, and the longest walk to each other thing."""
    supplies = [supply for supply in routes.gear.supplies if supply.walks]
    if not supplies:
        return None
    first, *others = supplies
    lines = [board.line(walk.line) for walk in first.walks]
    items: list[Item] = [Path(forms.network(lines), forms.FETCH_NET)]
    items += [Circle(*line[-1], 3.2, Pen("ink")) for line in lines]
    farthest = [(supply, walk) for supply in others if (walk := supply.farthest)]
    drawn = [board.line(walk.line) for _supply, walk in farthest]
    items += [i for line in drawn for i in forms.arrowed(line, forms.FETCH, 8.0)]
    for line in (*lines, *drawn):
        board.spare(line, 0.4)
    told = ([(first, first.farthest)] if first.farthest else []) + farthest
    for supply, walk in told if not board.narrow else told[:1]:
        items += _measured(board, supply, walk)
    return Layer("gear", _("Fire gear"), (*board.under(), *items), tuple(_keys()), on=False)


def _measured(board: Board, supply: Supply, walk: Journey | None) -> tuple[Item, ...]:
    if walk is None:
        return ()
    line = board.line(walk.line)
    length = metres(walk.length_mm)
    words = _("{thing} {length}").format(thing=word(supply.need.kind), length=length)
    label = Part(words, True, "sheet", "ink", "ink")
    return board.label([[label]], shares(line, 0.5, 0.35, 0.65, 0.2, 0.8))


def _keys() -> Iterator[Key]:
    yield Key(forms.across(forms.FETCH_NET), _("walk to the nearest extinguisher"))
    yield Key(forms.arrow_across(forms.FETCH), _("longest walk to the other things, each measured"))
