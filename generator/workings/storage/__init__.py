"""Where everything waits: containers, labels, shelves, floor, weights, quarantine, and pauses.

Containers are counted lot by lot, since one holds one polymer and one colour. What stands here is
from the last count; what a week brings is from the flow. Nothing is taken to be used meanwhile.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from generator.ground.survey import Survey, survey
from generator.shop.shop import Shop
from generator.workings.filling import Filling
from generator.workings.flow.making import Makings
from generator.workings.intake import streams
from generator.workings.losses import Losses
from generator.workings.storage import told
from generator.workings.storage.found import Found, Pause, Weight, pauses_of, weights_of
from generator.workings.storage.needs import KindNeed, Need, arriving, kinds, needs
from generator.workings.storage.quarantine import Quarantine, Waiting, quarantine
from generator.workings.storage.shelves import FloorUse, Placing, ShelfUse, When, free_floor_m2

__all__ = [
    "FloorUse", "KindNeed", "Need", "Pause", "Quarantine", "ShelfUse", "StorageStudy", "Waiting",
    "Weight", "When", "study",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class StorageStudy(Found):
    """Everything worked out of where things wait, and its ``survey``."""

    survey: Survey


def study(
    shop: Shop,
    day: dt.date | None = None,
    losses: Losses | None = None,
    makings: Makings | None = None,
) -> StorageStudy:
    """Work out where everything waits.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    day
        The day against which a stay in quarantine is told; the last day of the log where it is
        left out.
    losses, makings
        What the steps lose and what is made, where they were worked out before.
    """
    filling = Filling(shop)
    sources = streams(shop, losses)
    lots = needs(shop, filling, sources)
    made = (makings or Makings(shop)).weekly
    boxes = kinds(shop, lots, made, arriving(shop, filling, sources))
    placing = Placing(shop, _counts(boxes))
    shelves = placing.shelves()
    found = Found(
        lots, boxes, shelves, placing.floor(), free_floor_m2(shop),
        tuple(weights_of(shop, filling)), quarantine(shop, day), tuple(pauses_of(shop, shelves)),
    )  # fmt: skip
    checked = survey("storage", told.workings(shop, found, filling), told.findings(shop, found))
    return StorageStudy(
        found.lots, found.kinds, found.shelves, found.floor, found.free_floor_m2, found.weights,
        found.quarantine, found.pauses, checked,
    )  # fmt: skip


def _counts(boxes: Iterable[KindNeed]) -> Mapping[str, Mapping[When, int]]:
    return {
        b.container.id: {"now": b.now, "week": b.after_a_week, "limit": b.at_limit} for b in boxes
    }
