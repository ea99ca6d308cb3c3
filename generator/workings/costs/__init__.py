"""What it costs: the build-out by stages, a week's running, a kilogram, and each product.

Amounts are in the shop's currency. A price that nobody has written leaves its line out, and the
sums say so. Donated plastic costs nothing; what it costs is what it takes to make flake of it.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.ground.survey import Survey, survey
from generator.shop.shop import Shop
from generator.workings.costs import told
from generator.workings.costs.products import ProductCost, flake_price, product_costs
from generator.workings.costs.running import (
    Area,
    Cost,
    Running,
    Ways,
    consumables_by_station,
    unit_price,
    week_kwh,
)
from generator.workings.costs.stages import Line, StageCost, stage_costs
from generator.workings.flow import FlowStudy
from generator.workings.waste import WasteStudy

__all__ = [
    "Area", "Cost", "CostStudy", "Line", "ProductCost", "Running", "StageCost", "study",
    "unit_price", "week_kwh",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class CostStudy:
    """Everything worked out of costs, in the shop's currency.

    Parameters
    ----------
    stages
        What each stage of the build-out costs, in order; what no stage names at the end.
    running
        Every line of an ordinary week.
    flake_kg
        What a kilogram of flake costs up to the store, None where none is made.
    products_kg
        What a kilogram of products costs with the house, None where none are made.
    products
        What each product costs, and the price at which it pays.
    sales
        What a week's products come to at their prices, if all are sold.
    survey
        Workings and findings, with how many checks were answered.
    """

    stages: tuple[StageCost, ...]
    running: Running
    flake_kg: float | None
    products_kg: float | None
    products: tuple[ProductCost, ...]
    sales: float
    survey: Survey


def study(shop: Shop, flow: FlowStudy, waste: WasteStudy) -> CostStudy:
    """Work out what the shop and its products cost.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    flow, waste
        The week's flow and what leaves.
    """
    running = Ways(shop, flow, waste).running()
    stages = stage_costs(shop, consumables_by_station(shop))
    products = product_costs(shop, flow, running)
    good = flow.masses.into("products")
    checked = survey(
        "costs",
        told.workings(shop, flow, running, products, stages),
        told.findings(shop, running, products, stages),
    )
    return CostStudy(
        stages, running, flake_price(running, flow), running.total() / good if good else None,
        products, sum(p.weekly * (p.price or 0.0) for p in products), checked,
    )  # fmt: skip
