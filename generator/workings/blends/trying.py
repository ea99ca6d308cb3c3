"""A recipe that somebody tries out: its grams, its volume, its look and all there is to mind.

Nothing here is written in the shop's data yet. The blend bench in the browser works the same out
from tables made of the same shop, and a test holds the two equal.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from generator.ground.finding import Severity
from generator.ground.units import show
from generator.ground.wording import N_, Text, _
from generator.reference import reference
from generator.shop.records.machines import Machine
from generator.shop.records.material import Additive, Blend, Part, Product
from generator.shop.shop import Shop
from generator.workings.blends.colour import Preview, apportioned, preview
from generator.workings.blends.grams import Bench, Ingredient, Recipe, ingredient_name
from generator.workings.blends.told import letdown_of
from generator.workings.built import running_machines
from generator.workings.flow.making import Makings
from generator.workings.moulding.kit import Kit
from generator.workings.moulding.matrix import Matrix
from generator.workings.moulding.melts import Melt, solid_density
from generator.workings.moulding.reasons import Reason, of_fit, of_load, of_material

SHORT = N_("{lot}: {short} short. {stock} stands here.")
NOT_COUNTED = N_("{name} is not counted by mass, so nobody knows whether there is enough.")
LETDOWN = N_("{share} of {name}: {low} to {high} is usual. A ratio is not a share: 1:50 is 1.96 %.")
NO_DENSITY = N_("The density of {name} is not written, so no volume is known.")
OTHER_HOST = N_("{product} was weighed in {hosts}: in {host} it weighs something else.")
NOT_SET_UP = N_("{machine} is not set up yet, so nothing is reckoned for purging it.")
UNKNOWN_PAIR = N_("Nobody has written how {minor} sits in {host}: try a plaque and break it.")

_STOPS = frozenset({"refused", "window", "wet"})
"""Keys of reasons that stop a recipe, and not only a good part of it."""
_ORDER = (Severity.STOP, Severity.FIX, Severity.ASK, Severity.NOTE)


@dataclass(frozen=True, slots=True)
class Draft:
    """A recipe as it is picked: whole parts of flake, and shares of what is stirred in.

    ``flakes`` are polymer, colour ("" for a polymer without colours) and parts; ``stirred`` are
    consumables with their share of the whole [%]. ``count`` pieces of a ``product`` are wanted,
    or ``grams`` of the blend where that is "". ``seed`` is what the swatch is shuffled by.
    """

    flakes: tuple[tuple[str, str, int], ...]
    stirred: tuple[tuple[str, float], ...] = ()
    product: str = ""
    count: int = 1
    grams: float = 0.0
    machine: str = ""
    mixes: Literal["speckle", "melt"] = "speckle"
    seed: str = "bench"

    def blend(self) -> Blend:
        """The recipe as the shop would write it, under an id that holds all of it."""
        left = 100 - sum(share for _id, share in self.stirred)
        parts = sum(parts for _polymer, _colour, parts in self.flakes)
        made = Blend.model_construct(
            name=Text(self.seed),
            parts=tuple(_part(p, c, left * n / parts) for p, c, n in self.flakes),
            additives=tuple(_additive(id_, share) for id_, share in self.stirred),
            mixes=self.mixes,
            machines=(self.machine,) if self.machine else (),
        )
        made._id = repr((self.flakes, self.stirred, self.machine))
        return made


def _part(polymer: str, colour: str, share: float) -> Part:
    return Part.model_construct(polymer=polymer, colour=colour or None, share_percent=share)


def _additive(consumable: str, share: float) -> Additive:
    return Additive.model_construct(consumable=consumable, share_percent=share)


@dataclass(frozen=True, slots=True)
class Caution:
    """Something to mind: a key that stays, how bad it is, and the words with their figures."""

    key: str
    severity: Severity
    says: str


@dataclass(frozen=True, slots=True)
class Tried:
    """What a draft comes to.

    ``lines`` are weighed, none where it is ``refused``; ``tenths`` are the same in tenths of a
    gram that add up to the whole. ``volume_cm3`` is None where a density is not known, and
    ``look`` where the recipe is refused. ``cautions`` stand the worst first.
    """

    recipe: Recipe | None
    lines: tuple[Ingredient, ...]
    tenths: tuple[int, ...]
    total_g: float
    density_kgm3: float | None
    volume_cm3: float | None
    look: Preview | None
    cautions: tuple[Caution, ...]

    @property
    def refused(self) -> bool:
        """Whether anything stops it."""
        return any(caution.severity is Severity.STOP for caution in self.cautions)


class Tries:
    """Works drafts out for one shop.

    Parameters
    ----------
    shop
        The shop, with every id resolved.
    makings, matrix
        What is made on which machine and what fits what, where they were worked out before.
    """

    def __init__(
        self, shop: Shop, makings: Makings | None = None, matrix: Matrix | None = None
    ) -> None:
        self._shop = shop
        self._makings = makings or Makings(shop)
        self._kit = self._makings.kit
        self._matrix = matrix or Matrix(self._kit)
        self._bench = Bench(shop, self._makings)

    def work(self, draft: Draft) -> Tried:
        """What a draft comes to.

        Parameters
        ----------
        draft
            At least one flake with at least one part, and ids of this shop.
        """
        blend = draft.blend()
        melt = self._kit.melts.of_blend(blend)
        stopped = sorted(self._of_material(draft, blend, melt), key=_rank)
        if any(caution.severity is Severity.STOP for caution in stopped):
            return Tried(None, (), (), 0.0, None, None, None, tuple(stopped))
        return self._weighed(draft, blend, melt, stopped)

    def _weighed(self, draft: Draft, blend: Blend, melt: Melt, minded: list[Caution]) -> Tried:
        product = self._shop.products.get(draft.product)
        recipe = self._bench.recipe(product, blend, draft.count) if product else None
        total = recipe.total_g if recipe else draft.grams
        lines = recipe.ingredients if recipe else self._bench.weighed(blend, total)
        density = melt.density.value if melt.density else None
        cautions = (*minded, *self._of_mould(draft, product, melt), *self._of_amounts(blend, lines))
        return Tried(
            recipe, lines, tuple(apportioned([i.grams for i in lines], round(10 * total))), total,
            density, 1000 * total / density if density else None,
            preview(self._shop, blend, draft.seed), tuple(sorted(cautions, key=_rank)),
        )  # fmt: skip

    # --- what there is to mind

    def _of_material(self, draft: Draft, blend: Blend, melt: Melt) -> Iterator[Caution]:
        machine = self._shop.machines.get(draft.machine)
        found = [caution_of(r) for r in of_material(self._kit, machine, melt, blend)]
        yield from found
        if not any(caution.severity is Severity.STOP for caution in found):
            yield from _unknown_pairs(melt)

    def _of_mould(self, draft: Draft, product: Product | None, melt: Melt) -> Iterator[Caution]:
        machine = self._shop.machines.get(draft.machine)
        if product is None or machine is None:
            return
        yield from map(caution_of, fits(self._kit, product, machine))
        yield from map(
            caution_of, loads(self._kit, self._matrix, product, machine, melt.host.id)
        )  # fmt: skip
        if machine.id not in self._set_up:
            yield Caution("not-set-up", Severity.NOTE, _(NOT_SET_UP).format(machine=machine.name))
        hosts = hosts_of(self._kit, product)
        if hosts and melt.host.id not in hosts:
            names = ", ".join(hosts.values())
            says = _(OTHER_HOST).format(product=product.name, hosts=names, host=melt.host.name)
            yield Caution("other-host", Severity.NOTE, says)

    @cached_property
    def _set_up(self) -> frozenset[str]:
        return running_machines(self._shop)

    def _of_amounts(self, blend: Blend, lines: tuple[Ingredient, ...]) -> Iterator[Caution]:
        for line in lines:
            yield from self._of_stock(line)
        for additive in blend.additives:
            yield from self._of_letdown(additive)
        for id_ in dict.fromkeys(part.polymer for part in blend.parts):
            polymer = self._shop.polymers[id_]
            if solid_density(polymer) is None:
                says = _(NO_DENSITY).format(name=polymer.name)
                yield Caution("no-density", Severity.ASK, says)

    def _of_stock(self, line: Ingredient) -> Iterator[Caution]:
        name = ingredient_name(self._shop, line)
        if line.stock_g is None:
            yield Caution("not-counted", Severity.NOTE, _(NOT_COUNTED).format(name=name))
        elif line.short_g > 1e-9:
            short, stock = (show(grams, "g", 1) for grams in (line.short_g, line.stock_g))
            says = _(SHORT).format(lot=name, short=short, stock=stock)
            yield Caution("short", Severity.FIX, says)

    def _of_letdown(self, additive: Additive) -> Iterator[Caution]:
        record, share = self._shop.consumables[additive.consumable], additive.share_percent
        usual = letdown_of(record)
        if record.kind == "masterbatch" and not usual.low <= share <= usual.high:
            says = _(LETDOWN).format(
                share=show(share, "percent", 2), name=record.name, low=f"{usual.low:g}",
                high=show(usual.high, "percent"),
            )  # fmt: skip
            yield Caution("letdown", Severity.NOTE, says)


def _unknown_pairs(melt: Melt) -> Iterator[Caution]:
    """Pairs of which nobody knows whether they hold: to be tried, where nothing forbids it."""
    for polymer, _share in melt.parts[1:]:
        if reference().compatible(melt.code, polymer.code).worst is None:
            says = _(UNKNOWN_PAIR).format(minor=polymer.name, host=melt.host.name)
            yield Caution("unknown-pair", Severity.ASK, says)


def hosts_of(kit: Kit, product: Product) -> Mapping[str, str]:
    """Polymers that a product was weighed in, with their names."""
    blends = (kit.shop.blends[id_] for id_ in product.blends)
    hosts = (kit.melts.of_blend(blend).host for blend in blends)
    return {host.id: str(host.name) for host in hosts}


def fits(kit: Kit, product: Product, machine: Machine) -> Iterator[Reason]:
    """Why a product's mould does not go on a machine, whatever is run in it."""
    reasons = of_fit(kit, kit.shop.moulds[product.mould], machine)
    yield from (reason for reason in reasons if reason.kind == "no")


def loads(
    kit: Kit, matrix: Matrix, product: Product, machine: Machine, host: str
) -> Iterator[Reason]:
    """Why a machine is too small for a product's mould in a polymer by itself; nothing of one
    that the mould is not made for."""
    if machine.id not in kit.shop.moulds[product.mould].machines:
        return
    cell = matrix.cell_of(product.mould, machine.id, kit.shop.polymers[host])
    if cell.run is not None:
        yield from (reason for reason in of_load(cell.run) if reason.kind == "no")


def caution_of(reason: Reason) -> Caution:
    """A reason as something to mind, by how bad it is."""
    if reason.kind == "refused" or (reason.kind == "no" and reason.key in _STOPS):
        return Caution(reason.key, Severity.STOP, reason.says)
    severities = {"no": Severity.FIX, "ask": Severity.ASK, "note": Severity.NOTE}
    return Caution(reason.key, severities[reason.kind], reason.says)


def _rank(caution: Caution) -> int:
    return _ORDER.index(caution.severity)
