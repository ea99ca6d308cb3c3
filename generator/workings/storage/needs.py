"""How many of which container every lot needs, before it is cut and after, and how many labels."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from generator.shop.records.logs import Stock
from generator.shop.records.material import Container
from generator.shop.shop import Shop
from generator.workings.filling import Fill, Filling
from generator.workings.flow.making import Making
from generator.workings.heat import refusal_of
from generator.workings.intake import Stream, colour_shares, latest_count

_CUT = frozenset({"flake", "pellet"})
BEFORE, AFTER = "sorted", "flake"


@dataclass(frozen=True, slots=True)
class Need:
    """The containers of one polymer and colour in one condition.

    ``now_kg`` stood here at the last count, ``week_kg`` is what an ordinary week brings of it, and
    ``limit_kg`` what would stand here at the shop's own limit, None where it has set none.
    ``counted`` is how many containers were counted; ``fill`` what goes into one, None where
    nobody knows how dense it lies or no container keeps it.
    """

    polymer: str
    colour: str
    condition: str
    station: str
    now_kg: float
    week_kg: float
    limit_kg: float | None
    counted: int
    fill: Fill | None

    @property
    def now(self) -> int:
        """Containers for what stands here: as many as it takes, and at least as many as counted."""
        return max(self._count(self.now_kg), self.counted)

    @property
    def fewest(self) -> int:
        """Containers it would take if each were filled."""
        return self._count(self.now_kg)

    @property
    def after_a_week(self) -> int:
        """Containers for what stands here and what a week brings, if nothing is used."""
        return self.now + self._count(max(0.0, self.week_kg - self._room_kg))

    @property
    def labels(self) -> int:
        """Containers that a week fills anew, each with a label."""
        return self._count(self.week_kg)

    @property
    def at_limit(self) -> int | None:
        """Containers at the shop's own limit."""
        return None if self.limit_kg is None else self._count(self.limit_kg)

    @property
    def _room_kg(self) -> float:
        """What still goes into the containers that stand here."""
        return max(0.0, self.now * self.fill.content_kg - self.now_kg) if self.fill else 0.0

    def _count(self, kg: float) -> int:
        return self.fill.count(kg) if self.fill else 0


@dataclass(frozen=True, slots=True)
class KindNeed:
    """How many of one kind of container are needed, and how many there are.

    ``now`` for what stands here, ``after_a_week`` with what a week brings, ``at_limit`` at the
    shop's own limits; ``labels`` is how many a week fills anew, each with a label.
    """

    container: Container
    now: int
    after_a_week: int
    at_limit: int
    labels: int

    @property
    def spare(self) -> int:
        """Empty ones; below 0 where more are needed than there are."""
        return self.container.owned - self.now


def needs(
    shop: Shop, filling: Filling, sources: Iterable[Stream]
) -> tuple[Need, ...]:  # fmt: skip
    """Every lot before and after it is cut, in the order of the polymers and their colours."""
    week = _of_a_week(shop, tuple(sources))
    rows = _counted(shop)
    keys = dict.fromkeys((*rows, *week))
    order = {id_: n for n, id_ in enumerate(shop.polymers)}
    made = (_need(shop, filling, key, rows.get(key, []), week.get(key, 0.0)) for key in keys)
    ranked = sorted(made, key=lambda n: (n.condition == AFTER, order[n.polymer]))
    return _with_limits(shop, ranked)


_Lot = tuple[str, str, str]


def _counted(shop: Shop) -> Mapping[_Lot, list[Stock]]:
    found: dict[_Lot, list[Stock]] = defaultdict(list)
    for row in latest_count(shop):
        found[row.polymer, row.colour, AFTER if row.form in _CUT else BEFORE].append(row)
    return found


def _of_a_week(shop: Shop, sources: tuple[Stream, ...]) -> Mapping[_Lot, float]:
    """What a week brings of each lot: by polymer, shared over the colours that were logged."""
    week: dict[_Lot, float] = defaultdict(float)
    shares = colour_shares(shop)
    for stream in sources:
        polymer = shop.polymers[stream.polymer]
        if polymer.status != "taken" or refusal_of(polymer):
            continue
        for colour, share in shares.get(stream.polymer, {"": 1.0}).items():
            week[stream.polymer, colour, BEFORE] += share * stream.after("sorting")
            week[stream.polymer, colour, AFTER] += share * stream.after("granulating")
    return {lot: kg for lot, kg in week.items() if kg > 0}


def _need(
    shop: Shop, filling: Filling, lot: _Lot, rows: list[Stock], week_kg: float
) -> Need:  # fmt: skip
    polymer, colour, condition = lot
    kg = sum(row.kg for row in rows)
    station = next((row.station for row in rows), shop.polymers[polymer].store or "")
    named = next((row.container for row in rows if row.container), "")
    fill = filling.for_lot(polymer, condition, max(kg, week_kg))
    if named:
        fill = filling.fill(shop.containers[named], polymer, condition) or fill
    counted = sum(row.count for row in rows)
    return Need(polymer, colour, condition, station, kg, week_kg, None, counted, fill)


def _with_limits(shop: Shop, ranked: list[Need]) -> tuple[Need, ...]:
    """Flake at the shop's limit, its colours in the shares they have now or come in."""
    totals: dict[str, float] = defaultdict(float)
    for need in ranked:
        if need.condition == AFTER:
            totals[need.polymer] += need.now_kg or need.week_kg
    return tuple(_at_limit(shop, need, totals.get(need.polymer, 0.0)) for need in ranked)


def _at_limit(shop: Shop, need: Need, total: float) -> Need:
    limit = shop.polymers[need.polymer].store_limit_kg
    if need.condition != AFTER or limit is None or not total:
        return need
    share = (need.now_kg or need.week_kg) / total
    return replace(need, limit_kg=limit * share)


def kinds(
    shop: Shop,
    lots: Iterable[Need],
    made: Iterable[Making],
    arrivals: Mapping[str, int] | None = None,
) -> tuple[KindNeed, ...]:
    """How many of each kind of container, in the order in which they are written.

    ``arrivals`` is how many a week fills at the counter, by kind.
    """
    tally: dict[str, list[int]] = defaultdict(lambda: [0, 0, 0, 0])
    for need in lots:
        if need.fill is None:
            continue
        row = tally[need.fill.container.id]
        limit = need.at_limit if need.at_limit is not None else need.after_a_week
        for n, count in enumerate((need.now, need.after_a_week, limit, need.labels)):
            row[n] += count
    for container, count in (*_of_makings(shop, tuple(made)), *(arrivals or {}).items()):
        row = tally[container]
        for n in range(1, 4):
            row[n] += count
    return tuple(KindNeed(c, *tally[c.id]) for c in shop.containers.values() if c.id in tally)


def arriving(shop: Shop, filling: Filling, sources: Iterable[Stream]) -> Mapping[str, int]:
    """How many containers a week fills at the counter, each source in its own."""
    counts: dict[str, int] = defaultdict(int)
    for stream in sources:
        kg = stream.after("hand-in")
        fill = _at_the_counter(shop, filling, stream)
        if kg > 0 and fill is not None:
            counts[fill.container.id] += fill.count(kg)
    return counts


def _at_the_counter(shop: Shop, filling: Filling, stream: Stream) -> Fill | None:
    named = shop.donors[stream.donor].container
    if named:
        return filling.fill(shop.containers[named], stream.polymer, "as donated")
    return filling.best(stream.polymer, "as donated")


def _of_makings(shop: Shop, made: tuple[Making, ...]) -> Iterator[tuple[str, int]]:
    """A tub for each blend of the week, and trays for its products, as full as they may be."""
    blends: dict[str, float] = defaultdict(float)
    products: dict[str, float] = defaultdict(float)
    for making in made:
        blends[making.blend.id] += making.formed_kg
        products[making.product.id] += making.good_kg
    for condition, masses in (("blend", blends), ("product", products)):
        boxes = [c for c in shop.containers.values() if condition in c.keeps]
        if boxes and masses:
            box = max(boxes, key=lambda c: c.most_kg)
            yield box.id, sum(math.ceil(round(kg / box.most_kg, 9)) for kg in masses.values())
