"""Recipe cards: what a blend is weighed from, for a batch of one size, and what it is kept from."""

from __future__ import annotations

from collections.abc import Iterator

from generator.drawings import swatch
from generator.ground.units import show
from generator.ground.wording import _
from generator.press.cards import blocks
from generator.press.cards.blocks import Block, Card, Pictures, as_sheet
from generator.press.order import Order
from generator.press.sheet import Plain, Sheet
from generator.shop.records.material import Blend
from generator.workings import labelling
from generator.workings.blends import Ingredient, ingredient_name
from generator.workings.labelling import Tag

KIND = "recipe"

_BATCHES_G = (500.0, 1000.0, 2000.0)
"""Masses [g] that a card is weighed out for."""

_SWATCH = 34.0


def sheets(order: Order) -> Iterator[Sheet]:
    """A card for each blend; one that must not be made says why instead."""
    for number, blend in enumerate(order.shop.blends.values(), 1):
        yield as_sheet(order, _card(order, blend, number), order.half)


def _card(order: Order, blend: Blend, number: int) -> Card:
    pictures = Pictures()
    refused = order.studies.refusals.blend(blend)
    machines = ", ".join(str(order.shop.machines[id_].name) for id_ in blend.machines)
    body: list[Block] = [blocks.band(_("Refused: {why}").format(why=why)) for why in refused]
    if not refused:
        body = [
            *_look(order, blend, pictures),
            _weighed(order, blend, pictures),
            *_mind(order, blend),
        ]
    return Card(
        id=f"recipe-{blend.id}",
        kind=KIND,
        number=f"RC-{number:02d}",
        label=_("Recipe card"),
        title=str(blend.name),
        says=_("For: {machines}").format(machines=machines) if machines and not refused else "",
        blocks=body,
        pictures=pictures,
        about=(f"blends/{blend.id}",),
        hangs=_("at the scale, in the hand"),
        size=4.2,
        named=_("Recipe: {blend}").format(blend=blend.name),
    )


def _look(order: Order, blend: Blend, pictures: Pictures) -> Iterator[Block]:
    found = order.studies.material.blends.previews.get(blend.id)
    drawn = swatch.shown(found, _SWATCH) if found else None
    if drawn:
        pictures.held["look"] = drawn
        only = _("Only a preview: hold it beside a chip that was pressed.")
        yield blocks.look("look", str(blend.look or ""), only)


def _weighed(order: Order, blend: Blend, pictures: Pictures) -> Block:
    bench = order.studies.material.blends.bench
    columns = [bench.weighed(blend, total) for total in _BATCHES_G]
    heads = ["", _("Into the tub"), *(show(total, "g", 0) for total in _BATCHES_G)]
    rows: list[list[Plain]] = []
    for lines in zip(*columns, strict=True):
        first = lines[0]
        grams: list[Plain] = [show(round(line.grams, 1), "g") for line in lines]
        rows.append([_mark(order, first, pictures), ingredient_name(order.shop, first), *grams])
    return blocks.table(_("Weigh"), heads, rows, wide=1)


def _mark(order: Order, line: Ingredient, pictures: Pictures) -> Plain:
    return blocks.shown(pictures.mark(order.shop.polymers[line.polymer])) if line.polymer else ""


def _mind(order: Order, blend: Blend) -> Iterator[Block]:
    warned = labelling.of_polymers(order.shop, Tag("blend", blend=blend.id))
    note = [str(blend.note)] if blend.note else []
    if said := [*warned, *note]:
        yield blocks.listed(_("Mind"), said)
