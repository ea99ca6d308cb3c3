"""What waits in quarantine, how long it has waited, and how many places there are."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass

from generator.ground.origin import Origin
from generator.ground.working import Source
from generator.reference import reference
from generator.shop.records.logs import Batch
from generator.shop.shop import Shop
from generator.workings.bearing.stores import fitting


@dataclass(frozen=True, slots=True)
class Waiting:
    """A batch in quarantine, since when, and when it must be told apart or leave."""

    batch: Batch
    days: int
    leave_by: dt.date
    overdue: bool


@dataclass(frozen=True, slots=True)
class Quarantine:
    """The places for what nobody is sure of.

    ``boxes`` is how many there are, ``shelved`` how many of them have a place; ``places`` the
    fewer of the two. ``longest_d`` is the shop's own limit or a default, from ``origin``.
    """

    boxes: int
    shelved: int
    waiting: tuple[Waiting, ...]
    longest_d: float
    origin: Origin | Source
    day: dt.date | None

    @property
    def places(self) -> int:
        return min(self.boxes, self.shelved) if self.shelved else self.boxes

    @property
    def free(self) -> int:
        """Places nobody's doubt stands in; below 0 where there are too few."""
        return self.places - len(self.waiting)

    @property
    def overdue(self) -> tuple[Waiting, ...]:
        return tuple(waiting for waiting in self.waiting if waiting.overdue)


def last_logged(shop: Shop) -> dt.date | None:
    """The last day on which anything was weighed in, batched or counted."""
    logs = shop.logs
    days = [row.date for rows in (logs.weigh_ins, logs.batches, logs.stock) for row in rows]
    return max(days, default=None)


def quarantine(shop: Shop, day: dt.date | None = None) -> Quarantine:
    """What waits in quarantine on a day, by default the last one of the log.

    A batch waits until something is made from it, be it sorted after all or refused.
    """
    kinds = [c for c in shop.containers.values() if "quarantine" in c.keeps]
    shelved = sum(
        fitting(shop.containers[kind], shelf) * shelf.levels
        for station in shop.stations.values()
        for shelf in station.storage
        for kind in shelf.keeps
        if "quarantine" in shop.containers[kind].keeps
    )
    own, value = shop.shop.limits.quarantine_d, reference().limit("quarantine-stay")
    longest = value.low if own is None else own
    origin = value.source_record if own is None else shop.shop.limits.origin_of("quarantine_d")
    on = day or last_logged(shop)
    waiting = tuple(_waiting(shop, on, longest)) if on else ()
    return Quarantine(sum(c.owned for c in kinds), shelved, waiting, longest, origin, on)


def _waiting(shop: Shop, day: dt.date, longest_d: float) -> Iterator[Waiting]:
    left = {label for batch in shop.logs.batches for label in batch.made_from}
    for batch in shop.logs.batches:
        if batch.step == "quarantine" and batch.batch not in left and batch.date <= day:
            days = (day - batch.date).days
            leave_by = batch.date + dt.timedelta(days=int(longest_d))
            yield Waiting(batch, days, leave_by, days > longest_d)
