"""Price tags: what a thing is, what it weighs and is made of, and what it must not be used for."""

from __future__ import annotations

import math
from collections.abc import Iterator

from generator.drawings import marks
from generator.ground.prices import money
from generator.ground.units import show
from generator.ground.wording import _, ngettext
from generator.press.cards.blocks import Pictures
from generator.press.order import Order
from generator.press.sheet import Plain, Sheet, Typeset
from generator.shop.records.material import Polymer, Product

KIND = "price-tag"

ON_A_SHEET = 8


def sheets(order: Order) -> Iterator[Sheet]:
    """A sheet of tags for each product that has a price."""
    for number, product in enumerate(order.shop.products.values(), 1):
        if product.price is not None:
            yield _sheet(order, product, number)


def _sheet(order: Order, product: Product, number: int) -> Sheet:
    pictures = Pictures()
    data: dict[str, Plain] = {"tag": _tag(order, product, pictures), "count": ON_A_SHEET}
    says = ngettext("{n} tag a sheet, to be cut out", "{n} tags a sheet, to be cut out", ON_A_SHEET)
    return Sheet(
        id=f"price-tag-{product.id}",
        kind=KIND,
        number=f"PT-{number:02d}",
        title=_("Price tags: {product}").format(product=product.name),
        paper=order.paper,
        body=Typeset("tags", data, pictures.held),
        language=order.language,
        about=(f"products/{product.id}",),
        copies=max(1, math.ceil(product.per_week / ON_A_SHEET)),
        hangs=says.format(n=ON_A_SHEET),
    )


def _tag(order: Order, product: Product, pictures: Pictures) -> dict[str, Plain]:
    shop = order.shop
    polymers = dict.fromkeys(
        part.polymer for id_ in product.blends for part in shop.blends[id_].parts
    )
    price = product.price
    return {
        "name": str(product.name),
        "price": money(price) if price else "",
        "mass": show(product.mass_g, "g"),
        "marks": [_mark(shop.polymers[id_], pictures) for id_ in polymers],
        "not_for": [_("Not for: {what}").format(what=what) for what in product.not_for],
        "batch": _("batch"),
        "shop": str(shop.shop.name),
    }


def _mark(polymer: Polymer, pictures: Pictures) -> Plain:
    return {"picture": pictures.mark(polymer), "says": marks.iso_mark(polymer.code)}
