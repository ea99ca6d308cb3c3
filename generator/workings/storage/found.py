"""What was worked out of storage, before it is told: weights, pauses, and all of it together."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from generator.ground.units import show
from generator.ground.wording import _
from generator.shop.records.material import Container
from generator.shop.shop import Shop
from generator.workings.filling import Fill, Filling, Lift
from generator.workings.intake import room_for, stock_by_polymer
from generator.workings.storage.needs import KindNeed, Need
from generator.workings.storage.quarantine import Quarantine
from generator.workings.storage.shelves import FloorUse, ShelfUse


@dataclass(frozen=True, slots=True)
class Weight:
    """A kind of container as heavy as it may be filled.

    ``full_kg`` with the heaviest that goes in it by volume and rating, ``of`` that polymer (""
    where its rating alone says), ``may_hold_kg`` what leaves it within ``lift``.
    """

    container: Container
    full_kg: float
    of: str
    may_hold_kg: float
    lift: Lift

    @property
    def too_heavy(self) -> bool:
        return self.full_kg > self.lift.kg + 1e-6


@dataclass(frozen=True, slots=True)
class Pause:
    """A polymer that is not taken now because there is no room for it."""

    polymer: str
    why: Literal["limit", "shelf"]
    says: str


@dataclass(frozen=True, slots=True)
class Found:
    """Everything worked out of where things wait.

    Parameters
    ----------
    lots
        The containers of every polymer and colour, before it is cut and after.
    kinds
        How many of each kind are needed, and how many labels a week.
    shelves, floor
        What the shelves hold, and what stands on the floor; ``free_floor_m2`` is what no station
        stands on.
    weights
        What each kind weighs full, against what one person may lift.
    quarantine
        Its places, and what waits there how long.
    pauses
        Polymers for which there is no room.
    """

    lots: tuple[Need, ...]
    kinds: tuple[KindNeed, ...]
    shelves: tuple[ShelfUse, ...]
    floor: tuple[FloorUse, ...]
    free_floor_m2: float
    weights: tuple[Weight, ...]
    quarantine: Quarantine
    pauses: tuple[Pause, ...]

    @property
    def labels(self) -> int:
        """Labels to print for a week."""
        return sum(kind.labels for kind in self.kinds)

    @property
    def labels_standing(self) -> int:
        """Labels for everything that stands here now, to begin with."""
        return sum(kind.now for kind in self.kinds)

    @property
    def paused(self) -> frozenset[str]:
        return frozenset(pause.polymer for pause in self.pauses)


# --- weights -----------------------------------------------------------------------------------


def weights_of(shop: Shop, filling: Filling) -> Iterator[Weight]:
    """What each kind weighs with the heaviest of all that goes in it."""
    taken = [p.id for p in shop.polymers.values() if p.status == "taken"]
    for container in shop.containers.values():
        fills = [
            fill
            for condition in container.keeps
            for polymer in taken
            if (fill := filling.fill(container, polymer, condition)) is not None
        ]
        yield _weight(container, fills, filling.lift)


def _weight(container: Container, fills: list[Fill], lift: Lift) -> Weight:
    """By volume and rating, as if nobody minded what may be lifted."""
    heaviest = max(fills, key=lambda fill: fill.volume_kg, default=None)
    content = min(container.most_kg, heaviest.volume_kg) if heaviest else container.most_kg
    by_volume = heaviest is not None and heaviest.volume_kg < container.most_kg
    return Weight(
        container, container.empty_kg + content,
        heaviest.polymer.id if heaviest and by_volume else "",
        max(0.0, lift.kg - container.empty_kg), lift,
    )  # fmt: skip


# --- pauses ------------------------------------------------------------------------------------


def pauses_of(shop: Shop, shelves: tuple[ShelfUse, ...]) -> Iterator[Pause]:
    """Polymers over their limit, and those whose shelves are full."""
    stock = stock_by_polymer(shop)
    full: dict[str, list[bool]] = defaultdict(list)
    for use in shelves:
        full[use.station].append(use.is_full)
    for polymer in shop.polymers.values():
        if polymer.status != "taken":
            continue
        room = room_for(polymer, stock.get(polymer.id, 0.0))
        if room.left_kg is not None and room.left_kg <= 0:
            says = _("Paused for {polymer}: {stock} stand here, and {limit} is the limit.").format(
                polymer=polymer.name, stock=show(room.stock_kg, "kg", 1),
                limit=show(polymer.store_limit_kg or 0.0, "kg", 1),
            )  # fmt: skip
            yield Pause(polymer.id, "limit", says)
        elif full.get(polymer.store or "") and all(full[polymer.store or ""]):
            says = _("Paused for {polymer}: there is no place left at {station}.").format(
                polymer=polymer.name, station=shop.stations[polymer.store or ""].name
            )
            yield Pause(polymer.id, "shelf", says)
