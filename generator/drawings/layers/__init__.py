"""Layers over the plan: what follows from the shop, drawn where it is.

Each layer is a group of its own that a page switches on and off. All layers of one plan share
one board, so that no label lands on a number, on a symbol or on another layer's label.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from generator.drawings.ink import Drawing, Group, Item
from generator.drawings.keys import Key
from generator.drawings.layers import (
    air,
    carrying,
    circuits,
    escape,
    figures,
    gear,
    narrow,
    noise,
    pins,
    sight,
    walks,
)
from generator.drawings.layers.board import Board, Paper
from generator.drawings.layers.found import Measure, Spot, spots
from generator.drawings.layers.layer import Layer
from generator.ground.finding import Finding
from generator.ground.wording import _
from generator.workings.air import AirStudy
from generator.workings.flow import FlowStudy
from generator.workings.light import LightStudy
from generator.workings.noise import NoiseStudy
from generator.workings.power import PowerStudy
from generator.workings.routes import RouteStudy
from generator.workings.touch import TouchStudy

__all__ = ["Key", "Laid", "Layer", "Measure", "Paper", "Spot", "Worked", "lay", "spots"]

Tags = Mapping[Finding, str]


@dataclass(frozen=True, slots=True)
class Laid:
    """A plan with its layers, and the layers themselves for the page's switches and keys."""

    drawing: Drawing
    layers: tuple[Layer, ...]


@dataclass(frozen=True, slots=True)
class Worked:
    """The studies whose layers a plan bears; each that is given brings its own."""

    routes: RouteStudy | None = None
    power: PowerStudy | None = None
    air: AirStudy | None = None
    noise: NoiseStudy | None = None
    light: LightStudy | None = None
    touch: TouchStudy | None = None
    flow: FlowStudy | None = None


def lay(paper: Paper, worked: Worked, found: Sequence[Spot], tags: Tags) -> Laid:
    """Lay the layers of some studies over a plan.

    Parameters
    ----------
    paper
        The plan.
    worked
        What was worked out.
    found
        The findings that have a place on it.
    tags
        Each finding's tag, the same as in the page's list (``FIX 1``).
    """
    board = Board(paper)
    # What must be read is placed first: it gets the nearest places
    measured = narrow.found(board, found, tags)
    pinned = Group(pins.draw(board, _of(found, ""), tags), "pins", hidden=True)
    drawn = tuple(
        layer
        for layer in (
            *_floor_layers(board, worked.routes, found, measured),
            circuits.draw(board, worked.power) if worked.power else None,
            air.draw(board, worked.air) if worked.air else None,
            carrying.draw(board, worked.flow) if worked.flow else None,
            *_met_layers(board, worked, found, tags),
        )
        if layer
    )
    drawing = paper.screen.drawing([*_stacked(drawn), pinned])
    return Laid(replace(drawing, desc=_described(drawing.desc, drawn)), drawn)


def _described(plan: str, layers: Sequence[Layer]) -> str:
    """The plan in words, and what its layers show; what is found stands in the page's list."""
    titles = ", ".join(layer.title for layer in layers)
    return _("{plan} Layers: {titles}.").format(plan=plan, titles=titles) if titles else plan


def _of(found: Sequence[Spot], layer: str) -> list[Spot]:
    return [spot for spot in found if spot.layer == layer]


def _floor_layers(
    board: Board, routes: RouteStudy | None, found: Sequence[Spot], measured: tuple[Item, ...]
) -> Iterator[Layer | None]:
    if routes:
        yield escape.draw(board, routes)
    yield narrow.draw(board, measured, found, routes)
    if routes:
        yield walks.draw(board, routes)
        yield sight.draw(board, routes)
        yield gear.draw(board, routes)


def _met_layers(
    board: Board, worked: Worked, found: Sequence[Spot], tags: Tags
) -> list[Layer | None]:
    """Noise, light and hot surfaces. On a phone tags are placed before levels, which may be left
    out: they stand in the page's table as well."""
    pinned = pins.draw(board, _of(found, "noise"), tags) if worked.noise else ()

    def levels() -> Layer | None:
        return noise.draw(board, worked.noise, pinned) if worked.noise else None

    def figured() -> list[Layer | None]:
        return [
            figures.light(board, worked.light, _of(found, "light"), tags) if worked.light else None,
            figures.hot(board, worked.touch, _of(found, "hot"), tags) if worked.touch else None,
        ]

    if board.narrow:
        others = figured()
        return [levels(), *others]
    return [levels(), *figured()]


_FROM_THE_FLOOR_UP = (
    "sight", "carrying", "walks", "gear", "escape", "air", "circuits", "light", "hot", "noise",
    "narrow",
)  # fmt: skip


def _stacked(layers: Sequence[Layer]) -> list[Item]:
    """Areas under lines, and lines under the labels of every layer."""
    order = {key: place for place, key in enumerate(_FROM_THE_FLOOR_UP)}
    ordered = sorted(layers, key=lambda layer: order[layer.key])
    return [*(layer.under for layer in ordered), *(layer.over for layer in ordered)]
