"""What the shelves hold, and what of the floor is taken by what finds no shelf."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from shapely import Polygon

from generator.reference import reference
from generator.shop.records.material import Container
from generator.shop.records.stations import Shelf
from generator.shop.shop import Shop
from generator.workings.bearing.stores import fitting
from generator.workings.footprint import footprint

When = Literal["now", "week", "limit"]
WHENS: tuple[When, ...] = ("now", "week", "limit")


@dataclass(frozen=True, slots=True)
class ShelfUse:
    """One set of shelves and what stands on it.

    ``have_mm`` is the length of all its levels, ``need_mm`` what is taken of it now, after a week
    and at the shop's limits. ``places`` is how many of each kind go on it if it keeps no other,
    ``kept`` how many of each stand on it now, ``left`` how many more of each there is room for.
    """

    station: str
    number: int
    shelf: Shelf
    have_mm: float
    need_mm: Mapping[When, float]
    places: Mapping[str, int]
    kept: Mapping[str, int]

    @property
    def left(self) -> Mapping[str, int]:
        free = self.have_mm - self.need_mm["now"]
        return {
            id_: max(0, math.floor(free / (self.have_mm / count) + 1e-9))
            for id_, count in self.places.items()
            if count
        }

    @property
    def is_full(self) -> bool:
        """Whether none of what it keeps goes on it any more."""
        return bool(self.left) and not any(self.left.values())


@dataclass(frozen=True, slots=True)
class FloorUse:
    """What of one kind stands on the floor because no shelf keeps it or the shelves are full.

    ``area_m2`` is for ``count`` now, in stacks of ``high``; ``week_m2`` after a week.
    """

    container: Container
    count: int
    high: int
    area_m2: float
    week_m2: float


def shelf_mm(container: Container, shelf: Shelf) -> float | None:
    r"""Length of shelf that one container takes of all levels together [mm].

    .. math:: l = L / n

    with n as many as fit on a level of length L, side by side, one behind another and stacked.
    None where it does not fit.
    """
    count = fitting(container, shelf)
    return shelf.length_mm / count if count else None


def stack_high(container: Container) -> int:
    """How many may stand on one another on the floor: as written, and no higher than crates may.

    Source: a trade value for the height of stacked crates.
    """
    most_mm = 1000 * reference().limit("store-stack-height").low
    return max(1, min(container.stack, math.floor(most_mm / container.outer[2])))


def floor_m2(container: Container, count: int) -> float:
    r"""Floor that some containers take in stacks [m²].

    .. math:: A = \lceil n / h \rceil \, w d
    """
    width, depth, _height = container.outer
    return math.ceil(count / stack_high(container)) * width * depth / 1e6


class Placing:
    """Puts containers on the shelves that keep them, and the rest on the floor.

    Parameters
    ----------
    shop
        The shop, with every id resolved.
    counts
        How many of each kind there are to place now, after a week and at the limits.
    """

    def __init__(self, shop: Shop, counts: Mapping[str, Mapping[When, int]]) -> None:
        self._shop, self._counts = shop, counts
        self._shelves = [
            (station.id, number, shelf)
            for station in shop.stations.values()
            for number, shelf in enumerate(station.storage)
        ]
        self._placed = {when: self._place(when) for when in WHENS}

    def _place(self, when: When) -> dict[tuple[str, int], dict[str, int]]:
        """How many of each kind go on each shelf, the first that keeps it first."""
        left = {kind: counts[when] for kind, counts in self._counts.items()}
        placed: dict[tuple[str, int], dict[str, int]] = {}
        for station, number, shelf in self._shelves:
            free, own = shelf.length_mm * shelf.levels, placed.setdefault((station, number), {})
            for kind in shelf.keeps:
                each = shelf_mm(self._shop.containers[kind], shelf)
                if each is None or not left.get(kind):
                    continue
                own[kind] = min(left[kind], math.floor(free / each + 1e-9))
                left[kind] -= own[kind]
                free -= own[kind] * each
        return placed

    def shelves(self) -> tuple[ShelfUse, ...]:
        """Every shelf."""
        return tuple(self._use(*found) for found in self._shelves)

    def _use(self, station: str, number: int, shelf: Shelf) -> ShelfUse:
        boxes = {kind: self._shop.containers[kind] for kind in shelf.keeps}
        placed: Mapping[When, Mapping[str, int]] = {
            when: self._placed[when][station, number] for when in WHENS
        }
        need: dict[When, float] = {
            when: sum(n * (shelf_mm(boxes[kind], shelf) or 0.0) for kind, n in own.items())
            for when, own in placed.items()
        }
        places = {kind: fitting(box, shelf) * shelf.levels for kind, box in boxes.items()}
        have = shelf.length_mm * shelf.levels
        return ShelfUse(station, number, shelf, have, need, places, placed["now"])

    def without_place(self, kind: str, when: When) -> int:
        """How many of a kind find no shelf."""
        on = sum(own.get(kind, 0) for own in self._placed[when].values())
        return self._counts[kind][when] - on

    def floor(self) -> tuple[FloorUse, ...]:
        """What stands on the floor, kind by kind."""
        return tuple(self._floor())

    def _floor(self) -> Iterator[FloorUse]:
        for kind in self._counts:
            box = self._shop.containers[kind]
            now, week = self.without_place(kind, "now"), self.without_place(kind, "week")
            if now or week:
                yield FloorUse(
                    box, now, stack_high(box), floor_m2(box, now), floor_m2(box, week)
                )  # fmt: skip


def free_floor_m2(shop: Shop) -> float:
    """Floor of the room that no station stands on, aisles and working sides still in it [m²]."""
    stood_on = sum(Polygon(footprint(station)).area for station in shop.stations.values())
    return max(0.0, Polygon(shop.room.outline).area - stood_on) / 1e6


def kept_anywhere(shop: Shop) -> frozenset[str]:
    """Kinds of container that some shelf keeps."""
    shelves: Iterable[Shelf] = (s for station in shop.stations.values() for s in station.storage)
    return frozenset(kind for shelf in shelves for kind in shelf.keeps)
