"""What a container holds of a polymer: by its volume, by its rating, and by what one may lift."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from generator.ground.origin import Origin
from generator.ground.wording import _
from generator.ground.working import Input, Quantity, Source
from generator.reference import Value, reference
from generator.shop.records.material import Container, Polymer
from generator.shop.records.refs import Condition, MaterialForm
from generator.shop.shop import Shop
from generator.workings.bearing import filled_kg
from generator.workings.shown import given, tabled

_BEFORE_CUTTING: frozenset[str] = frozenset({"as donated", "sorted", "washed", "quarantine"})
_CUT: frozenset[str] = frozenset({"flake", "blend"})
_BOTTLES = {"PET": "pet-bottles", "PE-HD": "pe-hd-bottles"}


@dataclass(frozen=True, slots=True)
class Bulk:
    """How dense a material lies [kg/m³], and where that comes from."""

    kgm3: float
    origin: Origin | Source

    @property
    def as_input(self) -> Input:
        return given(_("Bulk density"), self.kgm3, "kg/m³", self.origin)


@dataclass(frozen=True, slots=True)
class Fill:
    """What goes into one container of a polymer in some condition.

    ``volume_kg`` by its volume alone, ``content_kg`` as it may be filled, bounded by ``bound``:
    its ``volume``, its ``rating``, or what one person may ``lift``.
    """

    container: Container
    polymer: Polymer
    condition: str
    bulk: Bulk
    volume_kg: float
    content_kg: float
    bound: Literal["volume", "rating", "lift"]

    @property
    def full_kg(self) -> float:
        """The container with what is in it [kg]."""
        return self.container.empty_kg + self.content_kg

    def count(self, kg: float) -> int:
        """How many such containers a mass takes."""
        return math.ceil(round(kg / self.content_kg, 9)) if kg > 0 else 0


@dataclass(frozen=True, slots=True)
class Lift:
    """What one person may lift [kg]: the shop's own limit, else the guideline."""

    kg: float
    origin: Origin | Source

    @property
    def as_input(self) -> Input:
        return Input(_("One person lifts at most"), Quantity(self.kg, "kg"), self.origin)


def lift_of(shop: Shop) -> Lift:
    """What one person may lift in this shop.

    The guideline is the screening weight at elbow height, close to the body, for anybody: a
    filter below which nothing need be looked at, not a limit. Source: HSE INDG143.
    """
    limits = shop.shop.limits
    if limits.lift_kg is not None:
        return Lift(limits.lift_kg, limits.origin_of("lift_kg"))
    value = reference().lifting("elbow", "women")
    return Lift(value.low, value.source_record)


def fill_share() -> Value:
    """Share of a container's volume that loose material fills [-]."""
    return reference().limit("store-fill")


@lru_cache(maxsize=512)
def _known_flake(code: str) -> Value | None:
    known = reference().find_polymer(code)
    return known.regrind_density if known else None


def bulk_of(polymer: Polymer, condition: str, form: MaterialForm | str = "") -> Bulk | None:
    """How dense a polymer lies in some condition, None where nobody knows.

    The shop's own figure wins; else the flake of the tables, or how donations of that kind lie.
    """
    if condition in _CUT:
        return _flake(polymer)
    if condition not in _BEFORE_CUTTING:
        return None
    own = polymer.own
    if own.loose_density_kgm3 is not None:
        return Bulk(own.loose_density_kgm3, own.origin_of("loose_density_kgm3"))
    value = reference().loose[_loose_key(polymer, form)].density
    return Bulk(value.middle, value.source_record)


def _flake(polymer: Polymer) -> Bulk | None:
    own = polymer.own
    if own.flake_density_kgm3 is not None:
        return Bulk(own.flake_density_kgm3, own.origin_of("flake_density_kgm3"))
    known = _known_flake(polymer.code)
    return Bulk(known.middle, known.source_record) if known else None


def _loose_key(polymer: Polymer, form: str) -> str:
    if form == "foam":
        return "expanded-polystyrene"
    if form == "film" or (not form and polymer.forms and polymer.forms[0] == "film"):
        return "film"
    return _BOTTLES.get(polymer.code, "tubs") if form in ("", "whole") else "tubs"


class Filling:
    """Which containers a shop keeps each polymer in, and what goes into them.

    Parameters
    ----------
    shop
        The shop, with every id resolved.
    """

    def __init__(self, shop: Shop) -> None:
        self._shop = shop
        self.lift = lift_of(shop)
        self._share = fill_share().low
        self._claimed = _claims(shop)
        self._kinds: dict[tuple[str, str], tuple[Fill, ...]] = {}
        self._bulks: dict[tuple[str, str], Bulk | None] = {}

    def kinds(self, polymer: str, condition: Condition | str) -> tuple[Fill, ...]:
        """The containers for a polymer in some condition, the smallest first.

        A container that stations hand on for named polymers only is for those alone.
        """
        key = (polymer, condition)
        if key not in self._kinds:
            fills = (
                fill
                for container in self._shop.containers.values()
                if condition in container.keeps and self._is_for(container, polymer)
                if (fill := self.fill(container, polymer, condition)) is not None
            )
            self._kinds[key] = tuple(sorted(fills, key=lambda fill: fill.content_kg))
        return self._kinds[key]

    def _is_for(self, container: Container, polymer: str) -> bool:
        claimed = self._claimed.get(container.id)
        return claimed is None or polymer in claimed

    def fill(self, container: Container, polymer: str, condition: str) -> Fill | None:
        """What goes into one container, None where the density is not known."""
        record, bulk = self._shop.polymers[polymer], self._bulk(polymer, condition)
        if bulk is None:
            return None
        by_volume = filled_kg(container.volume_l, bulk.kgm3, self._share)
        bounds: tuple[tuple[float, Literal["volume", "rating", "lift"]], ...] = (
            (by_volume, "volume"),
            (container.most_kg, "rating"),
            (max(0.001, self.lift.kg - container.empty_kg), "lift"),
        )
        content, bound = min(bounds)
        return Fill(container, record, condition, bulk, by_volume, content, bound)

    def _bulk(self, polymer: str, condition: str) -> Bulk | None:
        key = (polymer, condition)
        if key not in self._bulks:
            self._bulks[key] = bulk_of(self._shop.polymers[polymer], condition)
        return self._bulks[key]

    def best(self, polymer: str, condition: Condition | str) -> Fill | None:
        """The container that takes most of a polymer in some condition."""
        kinds = self.kinds(polymer, condition)
        return kinds[-1] if kinds else None

    def for_lot(self, polymer: str, condition: Condition | str, kg: float) -> Fill | None:
        """The container for one lot: the smallest that takes it all, else the largest."""
        kinds = self.kinds(polymer, condition)
        whole = (fill for fill in kinds if fill.content_kg >= kg)
        return next(whole, kinds[-1] if kinds else None)

    def inputs(self, fill: Fill) -> Iterator[Input]:
        """What a fill was worked out from."""
        box = fill.container
        yield given(_("Volume"), box.volume_l, "l", box.origin_of("volume_l"))
        yield tabled(_("Filled"), fill_share())
        yield fill.bulk.as_input
        yield given(_("Rating"), box.most_kg, "kg", box.origin_of("most_kg"))
        yield given(_("Empty"), box.empty_kg, "kg", box.origin_of("empty_kg"))
        yield self.lift.as_input


def _claims(shop: Shop) -> dict[str, set[str]]:
    """Polymers that each kind of container is handed on with, where stations name them."""
    claimed: dict[str, set[str]] = {}
    for station in shop.stations.values():
        for handover in (*station.takes_in, *station.gives):
            if handover.container and handover.polymers:
                claimed.setdefault(handover.container, set()).update(handover.polymers)
    return claimed
