"""Grams of everything that goes into a number of pieces, and what can be made of the stock."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from generator.ground.units import show
from generator.ground.wording import _
from generator.shop.records.machines import Machine
from generator.shop.records.material import Blend, Consumable, Product
from generator.shop.shop import Shop
from generator.workings.blends.laws import grams_of
from generator.workings.flow.making import Makings
from generator.workings.flow.mass import purge_kg
from generator.workings.heat import Refusals
from generator.workings.intake import flake_by_lot, stock_by_polymer
from generator.workings.losses import chain_of
from generator.workings.moulding.matrix import Cell, Fit, Matrix
from generator.workings.moulding.orders import order

_TO_GRAMS = {"kg": 1000.0, "g": 1.0}


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One line of a recipe: a flake, or something stirred in (``consumable``, else "").

    ``stock_g`` is what stands in the shop at the last count, None where that is not known.
    """

    polymer: str
    colour: str
    consumable: str
    share_percent: float
    grams: float
    stock_g: float | None

    @property
    def short_g(self) -> float:
        """What is lacking [g], 0 where there is enough or nobody knows."""
        return max(0.0, self.grams - self.stock_g) if self.stock_g is not None else 0.0


@dataclass(frozen=True, slots=True)
class Recipe:
    """What a number of pieces takes.

    ``count`` pieces are wanted and ``makes`` come of whole ``shots``. Masses in grams:
    ``parts_g`` as they leave the mould, ``sprue_g``, and ``purge_g`` on the machine's change;
    ``total_g`` is all of them, as the ``ingredients`` are weighed. ``refused`` says why it must
    not be made: then nothing is weighed.
    """

    blend: Blend
    product: Product | None
    machine: Machine | None
    count: int
    makes: int
    shots: int
    parts_g: float
    sprue_g: float
    purge_g: float
    ingredients: tuple[Ingredient, ...]
    refused: tuple[str, ...]

    @property
    def total_g(self) -> float:
        return self.parts_g + self.sprue_g + self.purge_g

    @property
    def short(self) -> tuple[Ingredient, ...]:
        """Those of which there is too little."""
        return tuple(i for i in self.ingredients if i.short_g > 1e-9)


@dataclass(frozen=True, slots=True)
class Possible:
    """What can be made of the stock today of one product in one blend.

    ``pieces`` at most, of which ``wanted`` in a week; ``first_out`` is the ingredient that runs
    out first, ``at_once`` how many the longest opening is good for, None where no cycle is known.
    ``fullness`` is how full the stores it draws on are [-], by share; ``worth_kg`` the price of a
    kilogram of it, None where it has none. ``cell`` says whether the machine was proven.
    """

    product: Product
    blend: Blend
    machine: Machine
    cell: Cell
    pieces: int
    at_once: int | None
    wanted: int
    first_out: Ingredient
    fullness: float
    worth_kg: float | None

    @property
    def in_an_opening(self) -> int:
        """How many can be made in one opening, by stock and by time."""
        return self.pieces if self.at_once is None else min(self.pieces, self.at_once)

    @property
    def rank(self) -> tuple[bool, bool, float, float]:
        """Best use first: what is wanted, what was proven, the fullest store, what earns most."""
        proven = self.cell.fit is Fit.PROVEN
        return (not self.wanted, not proven, -round(self.fullness, 2), -(self.worth_kg or 0.0))


@dataclass(frozen=True, slots=True)
class LeftOut:
    """What cannot be made of the stock today, and why not; ``refused`` where it must never be."""

    product: Product
    blend: Blend
    refused: bool
    why: tuple[str, ...]


class Bench:
    """Weighs recipes out of one shop's stock.

    Parameters
    ----------
    shop
        The shop, with every id resolved.
    makings
        What is made on which machine, where it was worked out before.
    """

    def __init__(self, shop: Shop, makings: Makings | None = None) -> None:
        self._shop = shop
        self._makings = makings or Makings(shop)
        self._refusals: Refusals = self._makings.kit.refusals
        self._matrix = Matrix(self._makings.kit)

    # --- recipes

    def weighed(self, blend: Blend, total_g: float) -> tuple[Ingredient, ...]:
        """A mass of a blend, ingredient by ingredient; nothing of one that is refused."""
        return () if self._refusals.blend(blend) else tuple(self._weighed(blend, total_g))

    def _weighed(self, blend: Blend, total_g: float) -> Iterator[Ingredient]:
        for part in blend.parts:
            share, colour = part.share_percent, part.colour or ""
            stock = 1000 * self._flake(part.polymer, part.colour)
            yield Ingredient(part.polymer, colour, "", share, grams_of(total_g, share), stock)
        for additive in blend.additives:
            share = additive.share_percent
            record = self._shop.consumables[additive.consumable]
            yield Ingredient("", "", record.id, share, grams_of(total_g, share), stock_g(record))

    def _flake(self, polymer: str, colour: str | None) -> float:
        """Flake of a lot [kg]; of the whole polymer where the recipe names no colour."""
        if colour is not None:
            return self._lots.get((polymer, colour), 0.0)
        return sum(kg for (lot, _colour), kg in self._lots.items() if lot == polymer)

    @cached_property
    def _lots(self) -> Mapping[tuple[str, str], float]:
        return flake_by_lot(self._shop)

    def recipe(self, product: Product, blend: Blend, count: int) -> Recipe:
        """Everything that a number of good pieces takes, in whole shots.

        Parameters
        ----------
        product, blend
            What is made, of what.
        count
            Good pieces, at least 0.
        """
        made = self._makings.best(product, blend)
        mould = self._shop.moulds[product.mould]
        shots = math.ceil(count * product.parts / mould.cavities)
        makes = shots * mould.cavities // product.parts
        purge = 1000 * self._purge_kg(made.machine, blend) if made and shots else 0.0
        parts, sprue = self._shot_g(product, blend)
        total = shots * (parts + sprue) + purge
        return Recipe(
            blend, product, made.machine if made else None, count, makes, shots, shots * parts,
            shots * sprue, purge, self.weighed(blend, total), self._refusals.blend(blend),
        )  # fmt: skip

    def _purge_kg(self, machine: Machine, blend: Blend) -> float:
        """A change to the polymer there is most of, all its colours together."""
        return purge_kg(machine, self._makings.kit.melts.of_blend(blend).host.id)

    def _shot_g(self, product: Product, blend: Blend) -> tuple[float, float]:
        """Parts and sprue of one shot [g]: parts as weighed, before finishing takes its share."""
        mould = self._shop.moulds[product.mould]
        kept = chain_of(step.loss_percent / 100 for step in product.finish)
        each = product.mass_g / product.parts / kept if kept else 0.0
        density = self._makings.kit.melts.of_blend(blend).density
        sprue = mould.sprue_cm3 * density.value / 1000 if density else 0.0
        return mould.cavities * each, sprue

    # --- out of stock

    def today(self) -> tuple[Possible, ...]:
        """What can be made of the stock, best use first.

        Left out: what is refused or not taken, what no machine is known to run, and whatever
        there is not enough of for one piece.
        """
        found = (
            self._possible(product, self._shop.blends[id_])
            for product in self._shop.products.values()
            for id_ in product.blends
        )
        return tuple(sorted((p for p in found if p is not None), key=lambda p: p.rank))

    def _possible(self, product: Product, blend: Blend) -> Possible | None:
        run = self._makings.best(product, blend)
        if run is None or not self._may_be_made(blend):
            return None
        cell = self._matrix.cell(product.mould, run.machine.id, blend.id)
        if cell.fit not in (Fit.PROVEN, Fit.POSSIBLE):
            return None
        first, total_g = self._goes_furthest(blend)
        pieces = self._pieces(product, blend, run.machine, total_g)
        if not pieces or first is None:
            return None
        worth = product.price.amount / (product.mass_g / 1000) if product.price else None
        parts = order(self._shop, cell, 1).at_once
        return Possible(
            product, blend, run.machine, cell, pieces,
            None if parts is None else parts // product.parts, product.per_week, first,
            self._fullness(blend), worth,
        )  # fmt: skip

    def left_out(self) -> tuple[LeftOut, ...]:
        """What of all products in their blends cannot be made today, and why not."""
        found = (
            self._left_out(product, self._shop.blends[id_])
            for product in self._shop.products.values()
            for id_ in product.blends
            if self._possible(product, self._shop.blends[id_]) is None
        )
        return tuple(sorted(found, key=lambda out: not out.refused))

    def _left_out(self, product: Product, blend: Blend) -> LeftOut:
        refused = self._refusals.blend(blend)
        why = refused or tuple(self._not_taken(blend)) or tuple(self._not_run(product, blend))
        return LeftOut(product, blend, bool(refused), why or (self._too_little(blend),))

    def _not_taken(self, blend: Blend) -> Iterator[str]:
        for part in blend.parts:
            polymer = self._shop.polymers[part.polymer]
            if polymer.status != "taken":
                yield (
                    _("{polymer} is not taken now. {why}")
                    .format(polymer=polymer.name, why=polymer.why or "")
                    .strip()
                )

    def _not_run(self, product: Product, blend: Blend) -> Iterator[str]:
        """Why no machine runs it: none takes both, or what stands against the one that does."""
        run = self._makings.best(product, blend)
        if run is None:
            yield _("No machine that is set up takes both its mould and the blend.")
            return
        cell = self._matrix.cell(product.mould, run.machine.id, blend.id)
        if cell.fit not in (Fit.PROVEN, Fit.POSSIBLE):
            yield from (reason.says for reason in cell.reasons)

    def _too_little(self, blend: Blend) -> str:
        first, _total = self._goes_furthest(blend)
        if first is None:
            return _("Nothing that it is made of was counted.")
        return _("Too little of {lot} for one shot and the purge: {stock} stand here.").format(
            lot=ingredient_name(self._shop, first), stock=show(first.stock_g or 0.0, "g", 0)
        )

    def _may_be_made(self, blend: Blend) -> bool:
        taken = all(self._shop.polymers[part.polymer].status == "taken" for part in blend.parts)
        return taken and not self._refusals.blend(blend)

    def _goes_furthest(self, blend: Blend) -> tuple[Ingredient | None, float]:
        """The ingredient that runs out first, and how much of the blend that makes [g]."""
        lines = [i for i in self.weighed(blend, 1.0) if i.stock_g is not None and i.grams > 0]
        first = min(lines, key=lambda i: (i.stock_g or 0.0) / i.grams, default=None)
        return first, (first.stock_g or 0.0) / first.grams if first else 0.0

    def _pieces(self, product: Product, blend: Blend, machine: Machine, total_g: float) -> int:
        """Whole pieces out of a mass of the blend, once the machine is purged."""
        left = total_g - 1000 * self._purge_kg(machine, blend)
        shot = sum(self._shot_g(product, blend))
        shots = max(0, math.floor(left / shot + 1e-9)) if shot else 0
        return shots * self._shop.moulds[product.mould].cavities // product.parts

    def _fullness(self, blend: Blend) -> float:
        """How full the stores of its polymers are, by their shares [-]; 0 where none is set."""
        total = 0.0
        for part in blend.parts:
            limit = self._shop.polymers[part.polymer].store_limit_kg
            stock = self._stock.get(part.polymer, 0.0)
            total += part.share_percent * (stock / limit if limit else 0.0)
        return total / (sum(part.share_percent for part in blend.parts) or 1.0)

    @cached_property
    def _stock(self) -> Mapping[str, float]:
        return stock_by_polymer(self._shop)


def stock_g(record: Consumable) -> float | None:
    """What there is of something stirred in [g], None where it is not counted by mass."""
    unit = _TO_GRAMS.get(str(record.unit).strip())
    return None if unit is None else record.stock * unit


def says_today(shop: Shop, found: Possible) -> str:
    """One line of what can be made today, in words."""
    line = _("{product} in {blend} on {machine}: {now} in an opening, {pieces} by the stock; {lot} "
             "runs out first.")  # fmt: skip
    return line.format(
        now=found.in_an_opening, pieces=found.pieces, product=found.product.name,
        blend=found.blend.name, machine=found.machine.name,
        lot=ingredient_name(shop, found.first_out),
    )  # fmt: skip


def ingredient_name(shop: Shop, ingredient: Ingredient) -> str:
    """What a line of a recipe is called."""
    if ingredient.consumable:
        return str(shop.consumables[ingredient.consumable].name)
    polymer = shop.polymers[ingredient.polymer]
    lot = polymer.colours.get(ingredient.colour)
    return f"{polymer.name} {lot.name if lot else ingredient.colour}".strip()
