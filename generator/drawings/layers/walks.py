"""Walks of the work: where what one station gives is carried to the next."""

from __future__ import annotations

from generator.drawings.ink import Circle, Item, Path, Pen
from generator.drawings.keys import Key
from generator.drawings.layers import forms
from generator.drawings.layers.board import Board, Part, shares
from generator.drawings.layers.layer import Layer
from generator.drawings.measures import metres
from generator.ground.wording import _
from generator.shop.shop import Shop
from generator.workings.routes import Journey, RouteStudy

_TOLD = 3
"""So many of the longest are measured: more figures would hide the walks."""


def draw(board: Board, routes: RouteStudy) -> Layer | None:
    """Each walk on which something is carried, drawn once where several run together."""
    found = (routes.walk_between(a, b) for a, b in hand_overs(board.shop))
    carried = [walk for walk in found if walk and len(walk.line) > 1]  # no length, no walk
    if not carried:
        return None
    longest = sorted(carried, key=lambda w: -round(w.length_mm, 3))[: 1 if board.narrow else _TOLD]
    lines = [board.line(walk.line) for walk in carried]
    items: list[Item] = [Path(forms.network(lines), forms.WALK)]
    for line in lines:
        board.spare(line, 0.6)
        items.append(forms.head_at(line, 0.6, "accent", 7.0))
        items += [Circle(*end, 2.6, Pen("accent")) for end in (line[0], line[-1])]
    for walk in longest:
        items += _measured(board, walk)
    key = Key(
        (*forms.across(forms.WALK), forms.head_at(((2, 9), (42, 9)), 0.6, "accent", 7.0)),
        _("walk on which something is carried; the longest are measured"),
    )
    return Layer("walks", _("Walks"), (*board.under(), *items), (key,), on=False)


def hand_overs(shop: Shop) -> tuple[tuple[str, str], ...]:
    """Pairs of stations of which the first gives something to the second, each once."""
    given = [(s.id, h.station) for s in shop.stations.values() for h in s.gives if h.station]
    taken = [(h.station, s.id) for s in shop.stations.values() for h in s.takes_in if h.station]
    pairs = dict.fromkeys((*given, *taken))
    return tuple((a, b) for a, b in pairs if a != b)


def _measured(board: Board, walk: Journey) -> tuple[Item, ...]:
    words = Part(metres(walk.length_mm), True, "sheet", "accent", "accent")
    return board.label([[words]], shares(board.line(walk.line), 0.5, 0.4, 0.6, 0.3, 0.7))
