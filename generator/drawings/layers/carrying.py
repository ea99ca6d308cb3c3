"""Carrying: what goes from station to station in a week, as wide as its mass times its way."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from generator.drawings.ink import Circle, Item, Pen, Point, Polyline
from generator.drawings.keys import SAMPLE, Key
from generator.drawings.layers import forms
from generator.drawings.layers.board import Board, Part, shares
from generator.drawings.layers.layer import Layer
from generator.ground.wording import _
from generator.workings.flow import FlowStudy, Leg

_WIDEST, _THINNEST = 13.0, 1.6
"""The widest leg, and what is still seen [px]."""

_TOLD = 6
"""So many of the heaviest are told: more figures would hide the legs."""

_STRAIGHT = (7.0, 4.0)


@dataclass(frozen=True, slots=True)
class Haul:
    """All that is carried from one station to another.

    ``kgm`` a week, None where nobody knows how much goes this way.
    """

    line: tuple[Point, ...]
    kgm: float | None
    walked: bool


def hauls(legs: Iterable[Leg]) -> list[Haul]:
    """Legs between the same two stations as one, the heaviest first, the unknown last."""
    between: dict[tuple[str, str], list[Leg]] = {}
    for leg in legs:
        between.setdefault((leg.start, leg.end), []).append(leg)
    found = [_haul(own) for own in between.values() if len(own[0].line) > 1]
    return sorted(found, key=lambda haul: (haul.kgm is None, -(haul.kgm or 0.0)))


def _haul(own: list[Leg]) -> Haul:
    known = [leg.kgm for leg in own if leg.kgm is not None]
    total = sum(known) if len(known) == len(own) else None
    return Haul(own[0].line, total, own[0].basis == "walked")


def draw(board: Board, flow: FlowStudy) -> Layer | None:
    """Every leg to scale: the heaviest lowest, so that none hides another whole."""
    found = hauls(flow.legs)
    if not found:
        return None
    most = max((haul.kgm or 0.0 for haul in found), default=0.0)
    items: list[Item] = []
    for haul in found:
        items += _drawn(board, haul, most)
    told = [haul for haul in found if haul.kgm][: 2 if board.narrow else _TOLD]
    for haul in told:
        items += _measured(board, haul)
    return Layer(
        "carrying", _("Carrying"), (*board.under(), *items), tuple(_keys(found, most))
    )  # fmt: skip


def width_of(kgm: float | None, most: float) -> float:
    """How wide a leg is drawn [px]: in proportion, and never too thin to be seen."""
    if kgm is None or not most:
        return _THINNEST
    return max(_THINNEST, _WIDEST * kgm / most)


def _drawn(board: Board, haul: Haul, most: float) -> Iterator[Item]:
    """A leg with an edge of paper, its head and where it begins."""
    line, width = board.line(haul.line), width_of(haul.kgm, most)
    board.spare(line, 0.6)
    yield Polyline(line, Pen(stroke="sheet", width=width + 2.4))
    yield Polyline(line, _pen(haul, width))
    yield forms.head_at(line, 0.6, "ink", max(7.0, width * 1.15))
    yield Circle(*line[0], max(2.6, width / 2), Pen("accent"))


def _pen(haul: Haul, width: float) -> Pen:
    if haul.kgm is None:
        return Pen(stroke="accent", width=width, dash=(1.5, 4.0))
    return Pen(stroke="accent", width=width, dash=() if haul.walked else _STRAIGHT)


def kgm_words(kgm: float) -> str:
    """What a leg comes to, in whole kg·m."""
    return _("{kgm} kg·m").format(kgm=f"{kgm:.0f}")


def _measured(board: Board, haul: Haul) -> tuple[Item, ...]:
    line = board.line(haul.line)
    words = Part(kgm_words(haul.kgm or 0.0), True, "sheet", "accent", "accent")
    wishes = shares(line, 0.5, 0.35, 0.65, 0.25, 0.75)
    return board.label([[words]], wishes, led=wishes[0], lead="accent")


def _keys(found: list[Haul], most: float) -> Iterator[Key]:
    if most:
        words = _("carried in a week: as wide as its kg·m; the widest is {kgm}")
        yield Key(_sample(Pen(stroke="accent", width=_WIDEST)), words.format(kgm=kgm_words(most)))
    if any(haul.kgm is not None and not haul.walked for haul in found):
        dashed = Pen(stroke="accent", width=4.0, dash=_STRAIGHT)
        yield Key(_sample(dashed), _("a straight line, where no walk leads"))
    if any(haul.kgm is None for haul in found):
        dotted = Pen(stroke="accent", width=_THINNEST, dash=(1.5, 4.0))
        yield Key(_sample(dotted), _("nobody knows how much goes this way"))


def _sample(pen: Pen) -> tuple[Item, ...]:
    ends = ((2.0, SAMPLE[1] / 2), (SAMPLE[0] - 2, SAMPLE[1] / 2))
    return (Polyline(ends, pen), forms.head_at(ends, 0.6, "ink", 8.0))
