"""What was made here and what went into it, and a month's figures, for whoever walks in."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from generator.shop.records.logs import Batch, WeighIn
from generator.shop.records.material import Polymer, Product
from generator.shop.shop import Shop
from generator.workings.trail import Trail

_LATEST = 6
"""Batches of a product that are followed back: what is on the shelf, not the whole history."""


@dataclass(frozen=True, slots=True)
class Source:
    """A source behind a product and its share of it by mass [-], None where the log is silent."""

    donor: str
    share: float | None


@dataclass(frozen=True, slots=True)
class Made:
    """A product with its latest batch and what went into its latest batches.

    ``count`` and ``kg`` are all that was logged; ``sources`` stand with the greatest share first.
    """

    product: Product
    polymers: tuple[Polymer, ...]
    last: Batch | None
    count: int
    kg: float
    sources: tuple[Source, ...]


@dataclass(frozen=True, slots=True)
class Figures:
    """A calendar month up to a day: in, rejected by why, and made, all in kg but ``pieces``."""

    first: dt.date
    until: dt.date
    in_kg: float
    rejected_kg: float
    why: Mapping[str, float]
    made_kg: float
    pieces: int

    @property
    def kept_kg(self) -> float:
        """What was put on the scale less what was handed back [kg]."""
        return self.in_kg - self.rejected_kg


def products(shop: Shop, trail: Trail, as_of: dt.date) -> tuple[Made, ...]:
    """Every product, those made last first; those never made stand last in file order."""
    batches: dict[str, list[Batch]] = defaultdict(list)
    for batch in shop.logs.batches:
        if batch.step == "product" and batch.date <= as_of:
            batches[batch.product].append(batch)
    rows = [_made(shop, trail, p, batches.get(p.id, [])) for p in shop.products.values()]
    return tuple(sorted(rows, key=lambda m: m.last.date if m.last else dt.date.min, reverse=True))


def _made(shop: Shop, trail: Trail, product: Product, batches: Sequence[Batch]) -> Made:
    ordered = sorted(batches, key=lambda b: b.date)
    parts = [part.polymer for blend in product.blends for part in shop.blends[blend].parts]
    return Made(
        product,
        tuple(shop.polymers[id_] for id_ in dict.fromkeys(parts)),
        ordered[-1] if ordered else None,
        sum(b.count for b in ordered),
        sum(b.kg for b in ordered),
        _sources(trail, ordered[-_LATEST:]),
    )


def _sources(trail: Trail, batches: Iterable[Batch]) -> tuple[Source, ...]:
    """What each source brought into some batches, as a share of their mass."""
    kg: dict[str, float | None] = {}
    total = 0.0
    for batch in batches:
        total += batch.kg
        for brought in trail.back(batch.batch).brought:
            before = kg.get(brought.donor, 0.0)
            known = before is not None and brought.share is not None
            kg[brought.donor] = before + brought.share * batch.kg if known else None  # type: ignore[operator]
    shares = [Source(d, None if k is None or not total else k / total) for d, k in kg.items()]
    return tuple(sorted(shares, key=lambda s: (-(s.share or 0.0), s.donor)))


def figures(shop: Shop, as_of: dt.date, back: int = 0) -> Figures:
    """A month's figures.

    Parameters
    ----------
    shop
        The shop, with its log.
    as_of
        The day up to which the log counts.
    back
        How many months back; 0 for the month of ``as_of`` so far.
    """
    first, until = _month(as_of, back)
    rows = [w for w in shop.logs.weigh_ins if first <= w.date <= until]
    made = [b for b in shop.logs.batches if b.step == "product" and first <= b.date <= until]
    return Figures(
        first,
        until,
        sum(w.kg for w in rows),
        sum(w.rejected_kg for w in rows),
        _reasons(rows),
        sum(b.kg for b in made),
        sum(b.count for b in made),
    )


def _month(as_of: dt.date, back: int) -> tuple[dt.date, dt.date]:
    """First and last day of a month, of the present one up to the day."""
    year, month = divmod(as_of.year * 12 + as_of.month - 1 - back, 12)
    first = dt.date(year, month + 1, 1)
    if back == 0:
        return first, as_of
    after = dt.date(year + (month + 1) // 12, (month + 1) % 12 + 1, 1)
    return first, after - dt.timedelta(days=1)


def _reasons(rows: Iterable[WeighIn]) -> Mapping[str, float]:
    """Mass handed back by why, the most first [kg]; "" where no reason is logged."""
    by_why: dict[str, float] = defaultdict(float)
    for row in rows:
        if row.rejected_kg:
            by_why[row.rejected_for] += row.rejected_kg
    return dict(sorted(by_why.items(), key=lambda item: (-item[1], item[0])))
