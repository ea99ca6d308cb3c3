"""What is shown of costs: workings with their inputs, and findings."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.units import show
from generator.ground.wording import N_, _
from generator.ground.working import Input, Quantity, Verdict, Working
from generator.shop.shop import Shop
from generator.workings.costs.products import ProductCost
from generator.workings.costs.running import Area, Cost, Running
from generator.workings.costs.stages import StageCost
from generator.workings.flow import FlowStudy
from generator.workings.shown import given, worked_out

AREA_WORDS: dict[Area, str] = {
    "flake": N_("Up to the flake"),
    "making": N_("Making"),
    "house": N_("The house"),
}
KIND_WORDS = {
    "energy": N_("electricity"),
    "water": N_("water"),
    "waste": N_("refuse"),
    "consumables": N_("what is used up"),
    "hours": N_("people's hours"),
    "rent": N_("rent"),
    "insurance": N_("insurance"),
}


def money(shop: Shop, amount: float) -> str:
    """An amount in the shop's currency, to the cent."""
    return show(round(amount, 2), "money", currency=str(shop.shop.currency))


# --- workings ----------------------------------------------------------------------------------


def workings(
    shop: Shop,
    flow: FlowStudy,
    running: Running,
    products: Iterable[ProductCost],
    stages: Iterable[StageCost],
) -> Iterator[Working]:
    """Every cost with what it was worked out from."""
    for area in AREA_WORDS:
        yield _of_area(shop, running, area)
    yield _per_kg(shop, flow, running)
    priced = [cost for cost in products if cost.price is not None]
    if priced:
        yield _sales(shop, running, priced)
    missing = running.missing
    for cost in products:
        yield _of_product(shop, missing, cost)
    for stage in stages:
        if stage.stage is not None:
            yield _of_stage(shop, stage)


def _of_area(shop: Shop, running: Running, area: Area) -> Working:
    lines = [line for line in running.lines if line.area == area]
    missing = [line.missing for line in lines if line.missing]
    return Working(
        f"costs.week.{area}", "shop",
        _("{area}: what a week costs").format(area=_(AREA_WORDS[area])), _("sum of its lines"),
        tuple(_inputs(shop, lines)),
        Quantity(round(running.total(area), 2), shop.shop.currency),
        Verdict.UNANSWERED if missing else Verdict.INFORMS, caution=_without(missing),
    )  # fmt: skip


def _inputs(shop: Shop, lines: Iterable[Cost]) -> Iterator[Input]:
    """Lines of one kind together, so that a reader sees what weighs."""
    sums: dict[str, float] = defaultdict(float)
    places: dict[str, Origin] = {}
    for line in lines:
        if line.amount is not None:
            sums[line.kind] += line.amount
            places.setdefault(line.kind, line.origin)
    for kind, amount in sums.items():
        yield given(_(KIND_WORDS[kind]), round(amount, 2), shop.shop.currency, places[kind])


def _without(missing: Iterable[str]) -> str:
    names = tuple(dict.fromkeys(missing))
    if not names:
        return ""
    return _("Not in it, because it is not written: {names}.").format(names=", ".join(names))


def _per_kg(shop: Shop, flow: FlowStudy, running: Running) -> Working:
    good = flow.masses.into("products")
    total = running.total()
    return Working(
        "costs.kilogram", "shop", _("What a kilogram of products costs to make"),
        _("all that a week costs / what is made in it"),
        (
            given(_("A week"), round(total, 2), shop.shop.currency, worked_out()),
            given(_("Products of a week"), round(good, 2), "kg", worked_out()),
        ),
        Quantity(round(total / good, 2) if good else 0.0, f"{shop.shop.currency}/kg"),
        Verdict.UNANSWERED if running.missing or not good else Verdict.INFORMS,
        caution=_without(running.missing),
    )  # fmt: skip


def _sales(shop: Shop, running: Running, priced: list[ProductCost]) -> Working:
    code, sales = shop.shop.currency, sum(c.weekly * (c.price or 0.0) for c in priced)
    total = running.total()
    verdict = Verdict.HOLDS if sales >= total else Verdict.FAILS
    if running.missing and verdict is Verdict.HOLDS:
        verdict = Verdict.UNANSWERED
    return Working(
        "costs.sales", "shop", _("What a week's products come to if all are sold"),
        _("Σ pieces of a week × price"),
        tuple(
            given(
                _("{n} of {product}").format(n=round(c.weekly), product=c.product.name),
                round(c.weekly * (c.price or 0.0), 2), code, c.product.origin_of("price"),
            )
            for c in priced
        ),
        Quantity(round(sales, 2), code), verdict, Quantity(round(total, 2), code), worked_out(),
        Quantity(round(sales - total, 2), code), _without(running.missing),
    )  # fmt: skip


def _of_product(shop: Shop, asked: tuple[str, ...], cost: ProductCost) -> Working:
    code, place = shop.shop.currency, cost.product.origin
    parts = (
        (_("Plastic"), cost.plastic),
        (_("Electricity"), cost.energy),
        (_("People's hours"), cost.hours),
        (_("What making uses up"), cost.making),
    )
    verdict = Verdict.INFORMS
    if cost.left is not None:
        verdict = Verdict.HOLDS if cost.left >= 0 else Verdict.FAILS
    if asked and verdict is not Verdict.FAILS:
        verdict = Verdict.UNANSWERED
    return Working(
        f"costs.product.{cost.product.id}", f"products/{cost.product.id}",
        _("Price at which {product} pays for itself").format(product=cost.product.name),
        _("plastic + electricity + people's hours + what making uses up"),
        (
            *(given(name, round(amount, 3), code, place) for name, amount in parts),
            given(_("Its share of the house, not in it"), round(cost.house, 2), code, worked_out()),
        ),
        Quantity(round(cost.pays_at, 2), code), verdict,
        Quantity(cost.price, code) if cost.price is not None else None,
        cost.product.origin_of("price") if cost.price is not None else None,
        Quantity(round(cost.left, 2), code) if cost.left is not None else None,
        _without(asked),
    )  # fmt: skip


def _of_stage(shop: Shop, cost: StageCost) -> Working:
    assert cost.stage is not None
    code, stage = shop.shop.currency, cost.stage
    priced = [line for line in cost.lines if line.amount is not None]
    verdict = Verdict.INFORMS
    if cost.left is not None:
        verdict = Verdict.HOLDS if cost.left >= 0 else Verdict.FAILS
    if cost.unpriced and verdict is not Verdict.FAILS:
        verdict = Verdict.UNANSWERED
    return Working(
        f"costs.stage.{stage.id}", f"stages/{stage.id}",
        _("What stage “{stage}” costs").format(stage=stage.name),
        _("its machines + what else it names"),
        (
            *(given(x.name, x.amount or 0.0, code, stage.origin) for x in priced),
            given(_("Moulds and tools beside it"), round(cost.kit_total, 2), code, worked_out()),
            given(_("Used up in a week from then on"), round(cost.weekly, 2), code, worked_out()),
        ),
        Quantity(round(cost.total, 2), code), verdict,
        Quantity(cost.budget, code) if cost.budget is not None else None,
        stage.origin_of("budget") if cost.budget is not None else None,
        Quantity(round(cost.left, 2), code) if cost.left is not None else None,
        _without(cost.unpriced),
    )  # fmt: skip


# --- findings ----------------------------------------------------------------------------------


def findings(
    shop: Shop,
    running: Running,
    products: Iterable[ProductCost],
    stages: Iterable[StageCost],
) -> Iterator[Finding]:
    """What the lead must know of costs."""
    stages = tuple(stages)
    yield from _ask_insurer(shop, stages)
    for stage in stages:
        yield from _over_budget(shop, stage)
    for cost in products:
        if cost.left is not None and cost.left < 0:
            yield _too_cheap(shop, cost)
    if running.missing:
        yield Finding(
            "costs.missing", Severity.NOTE, shop.shop.origin,
            _("What a week costs is not all known: {names} not written.").format(
                names=", ".join(running.missing)
            ),
            _("Write what is missing, and every price that follows is whole."),
            subject="shop", working="costs.kilogram",
        )  # fmt: skip


def _ask_insurer(shop: Shop, stages: Iterable[StageCost]) -> Iterator[Finding]:
    """What the policy has to know of, where there is anything to insure."""
    machines = [machine for machine in shop.machines.values() if machine.is_hot]
    if not shop.machines:
        return
    worth = sum(stage.total + stage.kit_total for stage in stages)
    sold = sum(bool(product.per_week and product.price) for product in shop.products.values())
    says = _("Equipment priced at {worth} stands here, {hot} machines melt or dry plastic, up "
             "to {people} people are in the room, and {sold} products are sold.")  # fmt: skip
    yield Finding(
        "costs.ask-insurer", Severity.ASK, shop.shop.origin,
        says.format(worth=money(shop, worth), hot=len(machines), people=shop.shop.most_people,
                    sold=sold),
        _("Ask whether the policy covers volunteers and visitors at each machine, what is sold, "
          "and the stock's fire load, and what it asks for in return."),
        subject="shop", asks="insurer",
    )  # fmt: skip


def _over_budget(shop: Shop, cost: StageCost) -> Iterator[Finding]:
    stage = cost.stage
    if stage is None:
        return
    if cost.left is not None and cost.left < 0:
        says = _("Stage “{stage}” comes to {total}, {over} over its budget of {budget}.")
        severity = Severity.NOTE if stage.reached else Severity.FIX
        yield Finding(
            "costs.budget", severity, stage.origin_of("budget"),
            says.format(stage=stage.name, total=money(shop, cost.total),
                        over=money(shop, -cost.left), budget=money(shop, cost.budget or 0.0)),
            _("Raise the budget, or leave something to a later stage."),
            subject=f"stages/{stage.id}", working=f"costs.stage.{stage.id}",
        )  # fmt: skip
    if cost.unpriced:
        says = _("Stage “{stage}” is not priced whole: {names} have no price.")
        yield Finding(
            "costs.unpriced", Severity.NOTE, stage.origin,
            says.format(stage=stage.name, names=", ".join(cost.unpriced)),
            _("Write what each costs."), subject=f"stages/{stage.id}",
            working=f"costs.stage.{stage.id}",
        )  # fmt: skip


def _too_cheap(shop: Shop, cost: ProductCost) -> Finding:
    says = _("{product} sells at {price} and costs {pays}: {plastic} of plastic, {energy} of "
             "electricity, {hours} of hours, {making} of what making uses up.")  # fmt: skip
    return Finding(
        "costs.price", Severity.NOTE, cost.product.origin_of("price"),
        says.format(
            product=cost.product.name, price=money(shop, cost.price or 0.0),
            pays=money(shop, cost.pays_at), plastic=money(shop, cost.plastic),
            energy=money(shop, cost.energy), hours=money(shop, cost.hours),
            making=money(shop, cost.making),
        ),
        _("Sell it at {pays} or more, or make more at once so that heating up counts less.").format(
            pays=money(shop, cost.pays_at)
        ),
        subject=f"products/{cost.product.id}", working=f"costs.product.{cost.product.id}",
    )  # fmt: skip
