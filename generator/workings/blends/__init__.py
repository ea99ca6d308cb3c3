"""Recipes: grams out of stock, colour groups, how they may look, and what can be made today."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from generator.ground.survey import Survey, survey
from generator.shop.shop import Shop
from generator.workings.blends import told
from generator.workings.blends.colour import Preview, Swatch, preview, swatch_chips
from generator.workings.blends.grams import (
    Bench,
    Ingredient,
    LeftOut,
    Possible,
    Recipe,
    ingredient_name,
    says_today,
)
from generator.workings.blends.groups import ColourGroup, groups
from generator.workings.blends.told import letdown_of
from generator.workings.flow.making import Makings
from generator.workings.intake import streams
from generator.workings.losses import Losses

__all__ = [
    "Bench", "BlendStudy", "ColourGroup", "Ingredient", "LeftOut", "Possible", "Preview", "Recipe",
    "Swatch", "ingredient_name", "letdown_of", "says_today", "study", "swatch_chips",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class BlendStudy:
    """Everything worked out of blends.

    Parameters
    ----------
    bench
        Weighs any recipe: ``recipe(product, blend, count)``, ``weighed(blend, total_g)``.
    today
        What can be made of the stock, best use first.
    groups
        Colours that are kept apart, and those that go together.
    previews
        How each blend may look, by id; none of one that is refused.
    survey
        Workings and findings, with how many checks were answered.
    """

    bench: Bench
    today: tuple[Possible, ...]
    groups: tuple[ColourGroup, ...]
    previews: Mapping[str, Preview]
    survey: Survey


def study(
    shop: Shop, losses: Losses | None = None, makings: Makings | None = None
) -> BlendStudy:  # fmt: skip
    """Work out every blend, and what can be made of the stock.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    losses, makings
        What the steps lose and what is made, where they were worked out before.
    """
    made = makings or Makings(shop)
    bench = Bench(shop, made)
    allowed = [b for b in shop.blends.values() if not made.kit.refusals.blend(b)]
    today = bench.today()
    kept = groups(shop, streams(shop, losses))
    previews = {blend.id: preview(shop, blend) for blend in allowed}
    checked = survey(
        "blends",
        told.workings(shop, made.kit.melts, allowed, today),
        told.findings(shop, today, kept),
        other_checks=len(allowed),
        other_unanswered=sum(not found.shown for found in previews.values()),
    )
    return BlendStudy(bench, today, kept, previews, checked)
