"""Costs: what a product costs and pays at, what a week costs, and what each stage comes to."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from generator.drawings.bars import Bar, Chart
from generator.ground.prices import money
from generator.ground.units import Money
from generator.ground.wording import N_, _, ngettext
from generator.ground.working import Working
from generator.handbook.desk import Desk
from generator.handbook.groups import Fold, Group
from generator.handbook.page import Page
from generator.handbook.subjects import Section, subject_page
from generator.handbook.tables import Cell, Column, Table
from generator.shop.shop import Shop
from generator.workings.costs import Cost, CostStudy, ProductCost, StageCost
from generator.workings.costs.told import AREA_WORDS, KIND_WORDS
from generator.workings.waste import WASTE_WORDS

COSTS = "running/costs"
_WHOLE_FROM = 100.0


def pages(desk: Desk) -> Iterator[Page]:
    """The page of costs."""
    yield _page(desk)


def _page(desk: Desk) -> Page:
    found, shop = desk.studies.material.costs, desk.shop
    return subject_page(
        COSTS,
        _("Costs"),
        "RN-06",
        (found.survey,),
        says=says(shop, found),
        sections=(_products(shop, found), _week(shop, found), _stages(shop, found)),
        workings=_groups(found),
    )


def price(shop: Shop, amount: float) -> str:
    """An amount in the shop's currency: to the cent, from a hundred on in whole units."""
    if abs(amount) >= _WHOLE_FROM:
        return f"{amount:.0f}\u202f{shop.shop.currency}".replace("-", "\u2212")
    return money(Money(round(amount, 2), str(shop.shop.currency))).replace("-", "\u2212")


def says(shop: Shop, found: CostStudy) -> str:
    """What a week costs and brings, what a kilogram costs, and which products do not pay."""
    total = found.running.total()
    told = [_("A week costs {total} and brings {sales} if all is sold.").format(
        total=price(shop, total), sales=price(shop, found.sales))]  # fmt: skip
    if found.products_kg is not None:
        told.append(
            _("A kilogram of products costs {kg}.").format(kg=price(shop, found.products_kg))
        )
    told += _paying(found)
    if found.running.missing:
        n = len(found.running.missing)
        told.append(ngettext("{n} figure is missing in it.", "{n} figures are missing in it.", n)
                    .format(n=n))  # fmt: skip
    return " ".join(told)


def _paying(found: CostStudy) -> Iterator[str]:
    """Which products do not pay for themselves, and which not for their share of the house."""
    priced = [p for p in found.products if p.price is not None]
    poor = [str(p.product.name) for p in priced if (p.price or 0.0) < p.pays_at]
    if poor:
        yield _("Not paying for themselves: {names}.").format(names=", ".join(poor))
    elif priced:
        yield _("Every product with a price pays for itself.")
    short = [str(p.product.name) for p in priced if p.pays_at <= (p.price or 0.0) < p.carries_at]
    if short:
        yield _("Not carrying its share of rent and insurance: {names}.").format(
            names="; ".join(short)
        )


# --- products ----------------------------------------------------------------------------------


def _products(shop: Shop, found: CostStudy) -> Section:
    rows = sorted(found.products, key=lambda p: (p.left is None, p.left or 0.0))
    lead = _("Dark and pale: plastic, electricity, hours, and what making uses up. Open: with its "
             "share of rent and insurance. The stroke is its price.")  # fmt: skip
    if (hour := shop.shop.prices.volunteer_hour) is not None:
        lead += " " + _("An hour of somebody's time is reckoned at {price}.").format(
            price=price(shop, hour.amount)
        )
    unit = str(shop.shop.currency)
    drawn = tuple(_bar(shop, p) for p in rows[:_DRAWN])
    chart = Chart(_("What one costs, against its price"), unit, drawn)
    table = Table(_columns(), tuple(_row(shop, p) for p in rows))
    return Section(
        _("The price at which each pays"), lead, charts=(chart,) if rows else (),
        tables=(table,) if rows else (),
    )  # fmt: skip


_DRAWN = 24
"""So many products are drawn, those that leave least first; all of them stand in the table."""


def _bar(shop: Shop, cost: ProductCost) -> Bar:
    parts = (cost.plastic, cost.energy, cost.hours, cost.making)
    shown = price(shop, cost.pays_at)
    if cost.price is not None:
        shown = _("{cost} of {price}").format(
            cost=f"{cost.pays_at:.2f}", price=price(shop, cost.price)
        )
    return Bar(str(cost.product.name), parts, shown, cost.price, most=cost.carries_at)


def _columns() -> tuple[Column, ...]:
    return (
        Column(_("Product")), Column(_("Plastic"), True), Column(_("Electricity"), True),
        Column(_("Hours"), True), Column(_("Used up"), True), Column(_("Pays at"), True),
        Column(_("With the house"), True), Column(_("Price"), True), Column(_("Left"), True),
    )  # fmt: skip


def _row(shop: Shop, cost: ProductCost) -> tuple[Cell, ...]:
    parts = (cost.plastic, cost.energy, cost.hours, cost.making)
    left = (
        Cell("–")
        if cost.left is None
        else Cell(
            f"{cost.left:.2f}".replace("-", "\u2212"), style="sev fix" if cost.left < 0 else ""
        )
    )
    return (
        Cell(str(cost.product.name), record=shop.moulds[cost.product.mould]),
        *(Cell(f"{part:.2f}") for part in parts),
        Cell(f"{cost.pays_at:.2f}", working=f"costs.product.{cost.product.id}", style="strong"),
        Cell(f"{cost.carries_at:.2f}"),
        Cell(_("none") if cost.price is None else f"{cost.price:.2f}"), left,
    )  # fmt: skip


# --- a week ------------------------------------------------------------------------------------


def _week(shop: Shop, found: CostStudy) -> Section:
    sums: dict[str, float] = defaultdict(float)
    for line in found.running.lines:
        sums[line.kind] += line.amount or 0.0
    kinds = sorted(sums.items(), key=lambda row: -row[1])
    bars = tuple(
        Bar(_(KIND_WORDS[kind]).capitalize(), (amount,), price(shop, amount))
        for kind, amount in kinds
    )
    chart = Chart(_("What a week costs, by kind"), str(shop.shop.currency), bars)
    lead = ""
    if found.flake_kg is not None:
        lead = _("A kilogram of flake costs {flake} up to the store.").format(
            flake=price(shop, found.flake_kg)
        )
    missing = found.running.missing
    if missing:
        lead = " ".join((lead, _("Not written: {names}.").format(names=", ".join(missing)))).strip()
    return Section(_("An ordinary week"), lead, charts=(chart,) if bars else (),
                   tables=(_lines(shop, found),))  # fmt: skip


def _lines(shop: Shop, found: CostStudy) -> Table:
    lines = sorted(found.running.lines, key=lambda line: -(line.amount or 0.0))
    columns = (
        Column(_("What")), Column(_("Kind")), Column(_("For")),
        Column(_("{currency} a week").format(currency=shop.shop.currency), True),
    )  # fmt: skip
    return Table(columns, tuple(map(_line, lines)), fold=_("Every line of the week"))


def _line(line: Cost) -> tuple[Cell, ...]:
    name = _(WASTE_WORDS[line.name]) if line.name in WASTE_WORDS else line.name
    amount = Cell("–", line.missing) if line.amount is None else Cell(f"{line.amount:.2f}")
    return Cell(name), Cell(_(KIND_WORDS[line.kind])), Cell(_(AREA_WORDS[line.area])), amount


# --- stages ------------------------------------------------------------------------------------


def _stages(shop: Shop, found: CostStudy) -> Section:
    named = [cost for cost in found.stages if cost.stage is not None]
    bars = tuple(_stage_bar(shop, cost) for cost in named)
    unit = str(shop.shop.currency)
    chart = Chart(_("Each stage against its budget"), unit, bars)
    columns = (
        Column(_("Stage")), Column(_("What it names"), True), Column(_("Budget"), True),
        Column(_("Left"), True), Column(_("Moulds, tools, containers"), True),
        Column(_("Used up a week"), True),
    )  # fmt: skip
    rows = tuple(_stage_row(shop, cost) for cost in found.stages)
    return Section(
        _("What the shop costs to set up"), charts=(chart,) if bars else (),
        tables=(Table(columns, rows), *_stage_lines(shop, found)) if rows else (),
    )  # fmt: skip


def _stage_bar(shop: Shop, cost: StageCost) -> Bar:
    assert cost.stage is not None
    shown = price(shop, cost.total)
    if cost.budget is not None:
        shown = _("{total} of {budget}").format(
            total=f"{cost.total:.0f}", budget=price(shop, cost.budget)
        )
    note = _("no price: {names}").format(names=", ".join(cost.unpriced)) if cost.unpriced else ""
    return Bar(str(cost.stage.name), (cost.total,), shown, cost.budget, note=note)


def _stage_row(shop: Shop, cost: StageCost) -> tuple[Cell, ...]:
    name = str(cost.stage.name) if cost.stage else _("Belongs to no stage")
    left = cost.left
    return (
        Cell(name, working=f"costs.stage.{cost.stage.id}" if cost.stage else ""),
        Cell(price(shop, cost.total)),
        Cell("–" if cost.budget is None else price(shop, cost.budget)),
        Cell("–") if left is None else Cell(price(shop, left), style="sev fix" if left < 0 else ""),
        Cell(price(shop, cost.kit_total)), Cell(price(shop, cost.weekly)),
    )  # fmt: skip


def _stage_lines(shop: Shop, found: CostStudy) -> Iterator[Table]:
    """Everything that is priced in each stage, folded away."""
    columns = (Column(_("What")), Column(_("Price"), True))
    for cost in found.stages:
        lines = (*cost.lines, *cost.kit)
        if not lines:
            continue
        rows = tuple(
            (Cell(x.name), Cell(_("no price") if x.amount is None else price(shop, x.amount)))
            for x in lines
        )
        name = str(cost.stage.name) if cost.stage else _("Belongs to no stage")
        yield Table(columns, rows, fold=_("{stage}: what it names").format(stage=name))


_ABOUT = {"product": N_("Product by product"), "stage": N_("Stage by stage")}


def _groups(found: CostStudy) -> tuple[Group, ...]:
    """The week and its kilogram, then products, then stages."""
    by: dict[str, list[Working]] = {_("The week"): [], **{_(h): [] for h in _ABOUT.values()}}
    for working in found.survey.workings:
        about = _ABOUT.get(working.id.split(".")[1])
        by[_(about) if about else _("The week")].append(working)
    return tuple(Group(head, (Fold("", tuple(rows)),)) for head, rows in by.items() if rows)
