"""Portions of a blend: what a number of pieces takes, gram by gram, and whether it stands here."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ground.wording import _
from generator.handbook.desk import Desk
from generator.handbook.tables import Cell, Column, Table
from generator.handbook.today import grams_words
from generator.handbook.weighing import weighing
from generator.shop.records.material import Blend, Product
from generator.workings.blends import Ingredient, Recipe, ingredient_name

TWELVE = 12
"""How many are weighed for where no week is planned: a tray of them."""


def portions(desk: Desk, blend: Blend) -> Table | None:
    """What every product in a blend takes; None for one that is refused or becomes nothing.

    Twelve good pieces, and the week's where one is planned: in whole shots, with the sprue, what
    finishing takes off and the purge of the machine's change.
    """
    if desk.refusals.blend(blend):
        return None
    made = [p for p in desk.shop.products.values() if blend.id in p.blends]
    rows = tuple(_row(desk, recipe) for p in made for recipe in _recipes(desk, p, blend))
    return Table(_columns(), rows) if rows else None


def _columns() -> tuple[Column, ...]:
    return (
        Column(_("Good pieces")), Column(_("Weigh out")), Column(_("All together"), True),
        Column(_("In parts"), True), Column(_("Sprue"), True), Column(_("Purge"), True),
        Column(_("From stock")),
    )  # fmt: skip


def _recipes(desk: Desk, product: Product, blend: Blend) -> Iterator[Recipe]:
    bench = desk.studies.material.blends.bench
    for count in sorted({TWELVE, product.per_week or TWELVE}):
        yield bench.recipe(product, blend, count)


def _row(desk: Desk, recipe: Recipe) -> tuple[Cell, ...]:
    assert recipe.product is not None
    grams, total = weighing([i.grams for i in recipe.ingredients])
    rows = zip(recipe.ingredients, grams, strict=True)
    weighed = ", ".join(f"{ingredient_name(desk.shop, i)} {words}" for i, words in rows)
    mould = desk.shop.moulds[recipe.product.mould]
    name = _("{n} × {product}").format(n=recipe.count, product=recipe.product.name)
    return (
        Cell(name, _made(recipe), mould), Cell(weighed),
        Cell(total, style="strong"), Cell(grams_words(recipe.parts_g)),
        Cell(grams_words(recipe.sprue_g)), Cell(grams_words(recipe.purge_g)),
        _stock(desk, recipe),
    )  # fmt: skip


def _made(recipe: Recipe) -> str:
    """On which machine, in how many shots, and how many come of them."""
    if recipe.machine is None:
        return _("no machine is set up for it")
    return _("{shots} shots on {machine} make {n}").format(
        shots=recipe.shots, machine=recipe.machine.name, n=recipe.makes
    )


def _stock(desk: Desk, recipe: Recipe) -> Cell:
    """Whether the stock is enough, and what is short by how much."""
    unknown = [i for i in recipe.ingredients if i.stock_g is None]
    if recipe.short:
        lacking = ", ".join(_short(desk, ingredient) for ingredient in recipe.short)
        return Cell(_("short: {list}").format(list=lacking), style="sev fix")
    if unknown:
        names = ", ".join(ingredient_name(desk.shop, i) for i in unknown)
        return Cell(_("enough, but {names} is not counted by mass").format(names=names))
    return Cell(_("enough"))


def _short(desk: Desk, ingredient: Ingredient) -> str:
    return f"{ingredient_name(desk.shop, ingredient)} {grams_words(ingredient.short_g)}"
