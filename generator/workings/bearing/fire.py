"""What there is to burn: plastic by its gross heat of combustion, counted, limited or full."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from shapely import Polygon

from generator.ground.wording import _
from generator.reference import Value, reference
from generator.shop.records.material import Container, Polymer
from generator.shop.shop import Shop
from generator.workings.bearing import stores
from generator.workings.bearing.laws import heat_mj
from generator.workings.bearing.stores import LevelLoad
from generator.workings.intake import stock_by_polymer

_CONTAINER_PLASTICS = ("PP", "PE-HD")
"""What plastic crates are made of: the one that burns hotter is counted."""


@dataclass(frozen=True, slots=True)
class FireLoad:
    """What would burn in the whole room in one case (``counted``, ``limits``, ``full``)."""

    key: str
    title: str
    mass_kg: float
    heat_mj: float
    density_mjm2: float


def gross_heat(polymer: Polymer) -> Value | None:
    """Gross heat of combustion [MJ/kg], None where the tables have none for it."""
    known = reference().find_polymer(polymer.code)
    return known.heat_gross if known is not None else None


def hottest(shop: Shop) -> float:
    """The gross heat of whatever burns hottest of all the shop takes [MJ/kg]."""
    taken = (gross_heat(p) for p in shop.polymers.values() if p.status == "taken")
    return max((heat.high for heat in taken if heat is not None), default=_crate_heat())


def _crate_heat() -> float:
    return max(reference().polymer(code).heat_gross.high for code in _CONTAINER_PLASTICS)


def _burns(shop: Shop, container: Container, count: int) -> Iterator[tuple[float, float]]:
    """Mass and heat of so many full containers: what is in them, and plastic boxes as well."""
    if "tools" not in container.keeps:
        yield count * stores.content_kg(shop, container), hottest(shop)
    if container.material == "plastic":
        yield count * container.empty_kg, _crate_heat()


def level_burns(shop: Shop, load: LevelLoad) -> Iterator[tuple[float, float]]:
    if load.container:
        yield from _burns(shop, shop.containers[load.container], load.count * load.shelf.levels)


def fire_loads(shop: Shop) -> Iterator[FireLoad]:
    """The room at the last count, at the shop's own limits, and with every container full."""
    area = Polygon(shop.room.outline).area / 1e6
    cases = (
        ("counted", _("at the last count"), list(_by_polymer(shop, stock_by_polymer(shop)))),
        ("limits", _("at the store limits"), list(_by_polymer(shop, store_limits(shop)))),
        ("full", _("with every container full"), list(_all_full(shop))),
    )
    for key, title, parts in cases:
        if parts:
            heat = heat_mj(parts)
            yield FireLoad(key, title, math.fsum(m for m, _h in parts), heat, heat / area)


def store_limits(shop: Shop) -> dict[str, float]:
    return {p.id: p.store_limit_kg for p in shop.polymers.values() if p.store_limit_kg is not None}


def _by_polymer(shop: Shop, masses: Mapping[str, float]) -> Iterator[tuple[float, float]]:
    for id_, mass in masses.items():
        heat = heat_of(shop, id_)
        if heat and mass > 0:
            yield mass, heat


def heat_of(shop: Shop, polymer: str) -> float:
    """Gross heat of one of the shop's polymers [MJ/kg]; 0 where the tables have none."""
    heat = gross_heat(shop.polymers[polymer])
    return heat.high if heat is not None else 0.0


def _all_full(shop: Shop) -> Iterator[tuple[float, float]]:
    for container in shop.containers.values():
        if container.owned:
            yield from _burns(shop, container, container.owned)


def without_heat(shop: Shop) -> tuple[str, ...]:
    """Polymers in the last count, or with a store limit, whose heat of combustion is not known."""
    held = {**stock_by_polymer(shop), **store_limits(shop)}
    return tuple(
        str(shop.polymers[id_].name) for id_ in held if gross_heat(shop.polymers[id_]) is None
    )
