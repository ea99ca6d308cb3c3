"""What containers and shelves hold when they are full."""

from __future__ import annotations

import math
from dataclasses import dataclass

from generator.reference import reference
from generator.shop.records.material import Container, Polymer
from generator.shop.records.stations import Shelf
from generator.shop.shop import Shop
from generator.workings.bearing.laws import filled_kg

_LOOSE = frozenset({"as donated", "sorted", "washed", "flake", "blend"})
"""Conditions in which material lies loose and weighs no more than the densest flake."""


@dataclass(frozen=True, slots=True)
class LevelLoad:
    """One level of a shelf, full.

    ``container`` is the heaviest kind that goes there and ``count`` how many fit; ``mass_kg``
    is what they weigh full, None where no kind is named. ``rated_kg`` is what the level carries.
    """

    shelf: Shelf
    container: str
    count: int
    mass_kg: float | None
    rated_kg: float | None

    @property
    def overloaded(self) -> bool:
        loaded, rated = self.mass_kg, self.rated_kg
        return loaded is not None and rated is not None and loaded > rated


def content_kg(shop: Shop, container: Container) -> float:
    """The most that is in a full container: what may go in, or what its volume holds if less."""
    if not _LOOSE.issuperset(container.keeps):
        return container.most_kg
    fill = reference().limit("store-fill").low
    return min(container.most_kg, filled_kg(container.volume_l, _densest_kgm3(shop), fill))


def _densest_kgm3(shop: Shop) -> float:
    """The densest flake of all the shop takes: its own figure, else the top of the table's."""
    taken = [p for p in shop.polymers.values() if p.status == "taken"]
    return max((_flake_kgm3(p) for p in taken), default=math.inf)


def _flake_kgm3(polymer: Polymer) -> float:
    if polymer.own.flake_density_kgm3 is not None:
        return polymer.own.flake_density_kgm3
    known = reference().find_polymer(polymer.code)
    return math.inf if known is None else known.regrind_density.high


def full_kg(shop: Shop, container: Container) -> float:
    """A container with as much in it as it can hold and may hold [kg]."""
    return container.empty_kg + content_kg(shop, container)


def fitting(container: Container, shelf: Shelf) -> int:
    """How many of a kind of container fit on one level of a shelf, stacked as they may be."""
    width, depth, height = container.outer
    by_length = (shelf.length_mm // width) * (shelf.depth_mm // depth)
    by_depth = (shelf.length_mm // depth) * (shelf.depth_mm // width)
    high = min(container.stack, shelf.level_height_mm // height)
    return int(max(by_length, by_depth) * high)


def level_load(shop: Shop, shelf: Shelf) -> LevelLoad:
    kinds = [shop.containers[id_] for id_ in shelf.keeps]
    if not kinds:
        return LevelLoad(shelf, "", 0, shelf.load_kg, shelf.load_kg)
    worst = max(kinds, key=lambda c: fitting(c, shelf) * full_kg(shop, c))
    count = fitting(worst, shelf)
    return LevelLoad(shelf, worst.id, count, count * full_kg(shop, worst), shelf.load_kg)
