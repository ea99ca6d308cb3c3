"""What a product costs, and the price at which it pays for its plastic, energy and hours."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from generator.shop.records.material import Product
from generator.shop.shop import Shop
from generator.workings.costs.running import Running, unit_price
from generator.workings.flow import FlowStudy
from generator.workings.flow.making import Making


@dataclass(frozen=True, slots=True)
class ProductCost:
    """What one piece of a product costs, over all blends it is made in.

    ``plastic`` is its flake with what is stirred in, ``energy`` its machine's electricity with
    heating up, ``hours`` people's time, ``making`` a share by mass of what making uses up beside
    those, ``house`` a share by mass of rent, insurance and groups. ``price`` is what it sells for,
    None where it has none.
    """

    product: Product
    weekly: float
    plastic: float
    energy: float
    hours: float
    making: float
    house: float
    price: float | None

    @property
    def pays_at(self) -> float:
        """The price at which it pays for its plastic, energy, hours and what making uses up."""
        return self.plastic + self.energy + self.hours + self.making

    @property
    def carries_at(self) -> float:
        """The price at which it carries its share of the house as well."""
        return self.pays_at + self.house

    @property
    def left(self) -> float | None:
        """What a sold one leaves for the house; below 0 where it does not pay for itself."""
        return None if self.price is None else self.price - self.pays_at


def flake_price(running: Running, flow: FlowStudy) -> float | None:
    r"""What a kilogram of flake costs up to the store, None where none is made.

    .. math:: c = \frac{\sum C_{flake}}{m_{flake}}

    Everything that a week costs before the store, over the new flake of that week.
    """
    made = flow.masses.between("washing", "granulating")
    fines = flow.masses.into("fines")
    fresh = made - fines if made else 0.0
    return running.total("flake") / fresh if fresh > 0 else None


def product_costs(shop: Shop, flow: FlowStudy, running: Running) -> tuple[ProductCost, ...]:
    """Every product that is made in an ordinary week."""
    return tuple(_Sharing(shop, flow, running).products())


class _Sharing:
    """Shares a week's costs out over what is made."""

    def __init__(self, shop: Shop, flow: FlowStudy, running: Running) -> None:
        self._shop, self._flow, self._running = shop, flow, running
        self._made = flow.week.made
        self._flake = flake_price(running, flow) or 0.0

    def products(self) -> Iterator[ProductCost]:
        by: dict[str, list[Making]] = {}
        for made in self._made:
            by.setdefault(made.product.id, []).append(made)
        for id_, own in by.items():
            count = sum(m.count for m in own)
            if count:
                yield self._product(self._shop.products[id_], own, count)

    def _product(self, product: Product, own: list[Making], count: float) -> ProductCost:
        by_mass = sum(m.good_kg for m in own) / self._good_kg
        return ProductCost(
            product, count,
            sum(map(self._plastic, own)) / count,
            sum(self._by_machine(m, self._energy) for m in own) / count,
            (sum(map(self._hours, own)) + by_mass * self._mixing) / count,
            by_mass * self._making / count,
            by_mass * self._house / count,
            product.price.amount if product.price else None,
        )  # fmt: skip

    @cached_property
    def _good_kg(self) -> float:
        return sum(m.good_kg for m in self._made) or 1.0

    def _plastic(self, made: Making) -> float:
        """Flake at what a kilogram costs, and what is stirred in at its price."""
        flake = sum(made.polymers.values()) * made.parts_kg * self._flake
        for additive in made.blend.additives:
            record = self._shop.consumables[additive.consumable]
            each = unit_price(record) or 0.0
            flake += additive.share_percent / 100 * made.formed_kg * each
        return flake

    def _by_machine(self, made: Making, costs: Mapping[str, float]) -> float:
        """A machine's own costs, by how long each product takes it."""
        if made.machine is None or not made.busy_h:
            return 0.0
        id_ = made.machine.id
        return costs.get(id_, 0.0) * made.busy_h / self._busy[id_]

    @cached_property
    def _busy(self) -> Mapping[str, float]:
        """How long each machine is taken by all that is made on it [h]."""
        busy: dict[str, float] = defaultdict(float)
        for made in self._made:
            if made.machine is not None:
                busy[made.machine.id] += made.busy_h or 0.0
        return busy

    def _own(self, kind: str) -> Mapping[str, float]:
        """Costs of a kind that are a machine's own."""
        own: dict[str, float] = defaultdict(float)
        for line in self._running.lines:
            if line.kind == kind and line.machine:
                own[line.machine] += line.amount or 0.0
        return own

    @cached_property
    def _formers(self) -> frozenset[str]:
        """Machines of which the time is known that each product takes them."""
        return frozenset(m.machine.id for m in self._made if m.machine and m.busy_h)

    @cached_property
    def _energy(self) -> Mapping[str, float]:
        return self._own("energy")

    @cached_property
    def _attending(self) -> Mapping[str, float]:
        return self._own("hours")

    @cached_property
    def _house(self) -> float:
        return self._running.total("house")

    def _hours(self, made: Making) -> float:
        """People at the machine while it is taken, and at every step of finishing."""
        price = self._shop.shop.prices.volunteer_hour
        finish = sum(step.takes_min for step in made.product.finish) * made.count / 60
        return self._by_machine(made, self._attending) + finish * (price.amount if price else 0.0)

    @cached_property
    def _mixing(self) -> float:
        """Hours of making that belong to no one product: weighing, and machines not timed."""
        price = self._shop.shop.prices.volunteer_hour
        finish = sum(
            m.count * step.takes_min / 60 for m in self._made for step in m.product.finish
        )  # fmt: skip
        every = self._running.total("making", kind="hours")
        attended = sum(self._attending.get(machine, 0.0) for machine in self._formers)
        return every - attended - finish * (price.amount if price else 0.0)

    @cached_property
    def _making(self) -> float:
        """What making uses up beside its hours and the machines' own electricity."""
        lines = (line for line in self._running.lines if line.area == "making")
        return sum(
            line.amount or 0.0
            for line in lines
            if line.kind != "hours"
            and not (line.kind == "energy" and line.machine in self._formers)
        )
