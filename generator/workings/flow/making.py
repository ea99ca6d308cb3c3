"""What the products of an ordinary week take: parts, shots, machine time, flake and sprues."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from generator.shop.records.logs import Batch
from generator.shop.records.machines import Machine
from generator.shop.records.material import Blend, Finish, Product
from generator.shop.shop import Shop
from generator.workings.built import running_machines
from generator.workings.losses import chain_of
from generator.workings.moulding.kit import Kit
from generator.workings.moulding.runs import Run
from generator.workings.moulding.shot import mass_g


@dataclass(frozen=True, slots=True)
class Making:
    """A product in one blend on one machine, as much as an ordinary week wants of it.

    ``count`` pieces a week (a share of a piece where a product is split over blends), ``shots``
    for them. Masses in kg a week: ``parts_kg`` as they leave the mould, ``good_kg`` finished,
    ``sprue_kg`` what is snipped off the shot. ``busy_h`` is how long the machine is taken, None
    where no cycle is known. ``split`` says how the product was shared out over its blends:
    ``whole``, ``logged`` or ``even``.
    """

    product: Product
    blend: Blend
    machine: Machine | None
    run: Run | None
    count: float
    shots: float
    parts_kg: float
    good_kg: float
    sprue_kg: float
    busy_h: float | None
    split: str

    @property
    def formed_kg(self) -> float:
        """Parts and sprues [kg a week]."""
        return self.parts_kg + self.sprue_kg

    @property
    def finish_lost_kg(self) -> float:
        """What finishing takes off [kg a week]."""
        return self.parts_kg - self.good_kg

    def lost_at(self) -> Iterator[tuple[Finish, float]]:
        """What each step of finishing takes off [kg a week]."""
        left = self.parts_kg
        for step in self.product.finish:
            off = left * step.loss_percent / 100
            left -= off
            yield step, off

    @property
    def polymers(self) -> Mapping[str, float]:
        """Shares of its polymers by mass, without what is stirred in [-]."""
        shares: dict[str, float] = defaultdict(float)
        for part in self.blend.parts:
            shares[part.polymer] += part.share_percent / 100
        return shares


class Makings:
    """What a shop makes in an ordinary week.

    Parameters
    ----------
    shop
        The shop, with every id resolved.
    kit
        What runs are worked out from, where it was made before.
    """

    def __init__(self, shop: Shop, kit: Kit | None = None) -> None:
        self.shop = shop
        self.kit = kit or Kit(shop)
        self._runs: dict[tuple[str, str, int], Run] = {}

    @cached_property
    def weekly(self) -> tuple[Making, ...]:
        """Every product that is wanted, by its blends; refused blends are left out."""
        return tuple(made for product in self.shop.products.values() for made in self._of(product))

    def _of(self, product: Product) -> Iterator[Making]:
        if not product.per_week:
            return
        blends = [self.shop.blends[id_] for id_ in product.blends]
        allowed = [blend for blend in blends if not self.kit.refusals.blend(blend)]
        shares, split = self._split(product, allowed)
        for blend in allowed:
            if shares[blend.id]:
                yield self.making(product, blend, product.per_week * shares[blend.id], split=split)

    def _split(self, product: Product, blends: list[Blend]) -> tuple[Mapping[str, float], str]:
        """Shares of a product made in each blend: as logged, else evenly over those written."""
        logged = {blend.id: self._logged.get((product.id, blend.id), 0.0) for blend in blends}
        total = sum(logged.values())
        if len(blends) == 1:
            return dict.fromkeys(logged, 1.0), "whole"
        if total:
            return {id_: count / total for id_, count in logged.items()}, "logged"
        return dict.fromkeys(logged, 1 / max(len(blends), 1)), "even"

    @cached_property
    def _logged(self) -> Mapping[tuple[str, str], float]:
        counts: dict[tuple[str, str], float] = defaultdict(float)
        for batch in self.shop.logs.batches:
            if _is_product(batch):
                counts[batch.product, batch.blend] += batch.count
        return counts

    def making(
        self, product: Product, blend: Blend, count: float, *, split: str = "whole"
    ) -> Making:
        """A number of pieces of a product in a blend, good ones, on the machine it suits best.

        Parameters
        ----------
        product, blend
            What is made, of what.
        count
            Good pieces; need not be whole.
        split
            How that number came about.
        """
        mould = self.shop.moulds[product.mould]
        run = self.best(product, blend)
        shots = count * product.parts / mould.cavities
        good = count * product.mass_g / 1000
        kept = chain_of(step.loss_percent / 100 for step in product.finish)
        good = good if kept else 0.0
        parts = good / kept if kept else 0.0
        density = self.kit.melts.of_blend(blend).density
        sprue = shots * mass_g(mould.sprue_cm3, density.value) / 1000 if density else 0.0
        busy = shots * run.taken_s / 3600 if run and run.taken_s else None
        return Making(
            product, blend, run.machine if run else None, run, count, shots, parts, good, sprue,
            busy, split,
        )  # fmt: skip

    def best(self, product: Product, blend: Blend) -> Run | None:
        """The machine for a product in a blend: one it was proven on, else one with a cycle.

        None where no machine that is set up takes both its mould and its blend.
        """
        mould = self.shop.moulds[product.mould]
        both = [id_ for id_ in mould.machines if id_ in blend.machines and id_ in self._running]
        runs = [self._run(mould.id, id_, blend) for id_ in both]
        return min(runs, key=self._rank, default=None)

    @cached_property
    def _running(self) -> frozenset[str]:
        return running_machines(self.shop)

    def _rank(self, run: Run) -> tuple[bool, bool]:
        trial = run.trial
        return (trial is None or trial.result != "good", run.taken_s is None)

    def _run(self, mould: str, machine: str, blend: Blend) -> Run:
        melt = self.kit.melts.of_blend(blend)
        key = (mould, machine, id(melt))
        if key not in self._runs:
            record = self.shop.machines[machine]
            how = self.kit.running(record, melt)
            self._runs[key] = Run(self.kit, self.shop.moulds[mould], record, melt, how)
        return self._runs[key]


def _is_product(batch: Batch) -> bool:
    return batch.step == "product" and bool(batch.product and batch.blend)
