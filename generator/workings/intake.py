"""What stands in the shop and what can still be taken in, by the last count of stock."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from generator.shop.records.logs import Stock
from generator.shop.records.material import Polymer
from generator.shop.shop import Shop


@dataclass(frozen=True, slots=True)
class Room:
    """How much of a polymer stands here, and how much more may come [kg]."""

    stock_kg: float
    left_kg: float | None
    """None where the shop has set no limit."""


def latest_count(shop: Shop) -> tuple[Stock, ...]:
    """The rows of the newest count of each polymer and colour.

    A count covers what it lists: a polymer that was not counted on a later day keeps its last
    count, since nobody said that it is gone.
    """
    newest: dict[tuple[str, str], dt.date] = {}
    for row in shop.logs.stock:
        key = (row.polymer, row.colour)
        newest[key] = max(row.date, newest.get(key, row.date))
    return tuple(r for r in shop.logs.stock if r.date == newest[(r.polymer, r.colour)])


def stock_by_polymer(shop: Shop) -> Mapping[str, float]:
    """Mass of each polymer in the shop at the last count [kg]."""
    totals: dict[str, float] = {}
    for row in latest_count(shop):
        totals[row.polymer] = totals.get(row.polymer, 0.0) + row.kg
    return totals


def stock_by_lot(shop: Shop) -> Mapping[str, Mapping[str, float]]:
    """Mass by polymer and colour in the shop at the last count [kg]."""
    totals: dict[str, dict[str, float]] = {}
    for row in latest_count(shop):
        lots = totals.setdefault(row.polymer, {})
        lots[row.colour] = lots.get(row.colour, 0.0) + row.kg
    return totals


def room_for(polymer: Polymer, stock_kg: float) -> Room:
    """What may still come in of a polymer: its limit less what stands here, at least 0 [kg]."""
    limit = polymer.store_limit_kg
    return Room(stock_kg, None if limit is None else max(0.0, limit - stock_kg))
