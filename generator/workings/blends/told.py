"""What is shown of blends: workings with their inputs, and findings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.units import show
from generator.ground.wording import _
from generator.ground.working import Input, Quantity, Source, Verdict, Working
from generator.reference import Value, reference
from generator.shop.records.material import Additive, Blend, Consumable
from generator.shop.shop import Shop
from generator.workings.blends.grams import Possible, ingredient_name
from generator.workings.blends.groups import ColourGroup
from generator.workings.blends.laws import luminance, rgb_of
from generator.workings.moulding.melts import Melts, solid_density
from generator.workings.shown import given

_TEXTBOOK = Source("Textbook, densities of a mixture", "handbook")
_BLACK, _WHITE = 0.05, 0.7
"""Luminance below and above which a masterbatch counts as black or white."""


def letdown_of(record: Consumable) -> Value:
    """How much of a masterbatch is usually stirred in [%]: more of white and black."""
    if record.hex is not None and not _BLACK < luminance(rgb_of(record.hex)) < _WHITE:
        return reference().limit("letdown-white-black")
    return reference().limit("letdown")


# --- workings ----------------------------------------------------------------------------------


def workings(
    shop: Shop, melts: Melts, blends: Iterable[Blend], today: Iterable[Possible]
) -> Iterator[Working]:  # fmt: skip
    """The density of every blend that may be made, its letdowns, and what can be made today."""
    for blend in blends:
        yield _density(shop, melts, blend)
        for additive in blend.additives:
            record = shop.consumables[additive.consumable]
            if record.kind == "masterbatch":
                yield _letdown(blend, additive, record)
    for possible in today:
        yield _possible(shop, possible)


def _density(shop: Shop, melts: Melts, blend: Blend) -> Working:
    density = melts.of_blend(blend).density
    inputs: list[Input] = []
    for part in blend.parts:
        polymer = shop.polymers[part.polymer]
        own = solid_density(polymer)
        place = part.origin_of("share_percent")
        inputs.append(given(str(polymer.name), part.share_percent, "%", place))
        if own is not None:
            inputs.append(own.named(_("Its density")))
    return Working(
        f"blends.density.{blend.id}", f"blends/{blend.id}", _("Density of the blend"),
        _("1 / density = Σ share / density of each part"), tuple(inputs),
        Quantity(round(density.value, 1) if density else 0.0, "kg/m³"),
        Verdict.INFORMS if density else Verdict.UNANSWERED, source=_TEXTBOOK,
    )  # fmt: skip


def _letdown(blend: Blend, additive: Additive, record: Consumable) -> Working:
    usual = letdown_of(record)
    share, inside = additive.share_percent, usual.low <= additive.share_percent <= usual.high
    nearest = usual.high if share > usual.high else usual.low
    return Working(
        f"blends.letdown.{blend.id}.{record.id}", f"blends/{blend.id}",
        _("Letdown of {masterbatch}").format(masterbatch=record.name),
        _("share of the whole by mass; 1:50 is 1.96 %, not 2 %"),
        (given(_("Share"), share, "%", additive.origin_of("share_percent")),),
        Quantity(share, "%"), Verdict.HOLDS if inside else Verdict.FAILS,
        Quantity(nearest, "%"), usual.source_record,
        Quantity(round(abs(share - nearest) * (1 if inside else -1), 2), "%"),
    )  # fmt: skip


def _possible(shop: Shop, found: Possible) -> Working:
    return Working(
        f"blends.today.{found.product.id}.{found.blend.id}", f"products/{found.product.id}",
        _("{product} that the stock is good for, in {blend}").format(
            product=found.product.name, blend=found.blend.name
        ),
        _("(stock of what runs out first / its share - purge) / mass of a shot × pieces of a shot"),
        (
            given(
                ingredient_name(shop, found.first_out),
                round((found.first_out.stock_g or 0.0) / 1000, 2), "kg", Origin("stock.csv"),
            ),
            given(_("Its share"), found.first_out.share_percent, "%", found.blend.origin),
            given(_("Mass of one"), found.product.mass_g, "g", found.product.origin_of("mass_g")),
            given(_("How full its store is"), round(100 * found.fullness), "%",
                  Origin("stock.csv")),
        ),
        Quantity(found.pieces, ""),
        Verdict.HOLDS if found.pieces >= found.wanted else Verdict.FAILS,
        Quantity(found.wanted, ""), found.product.origin_of("per_week"),
        Quantity(found.pieces - found.wanted, ""),
    )  # fmt: skip


# --- findings ----------------------------------------------------------------------------------


def findings(
    shop: Shop, today: tuple[Possible, ...], groups: Iterable[ColourGroup]
) -> Iterator[Finding]:  # fmt: skip
    """What the lead must know of blends and of the stock they are made from."""
    for blend in shop.blends.values():
        yield from _of_letdown(shop, blend)
    yield from _of_wanted(shop, today)
    yield from _of_groups(shop, groups)


def _of_letdown(shop: Shop, blend: Blend) -> Iterator[Finding]:
    for additive in blend.additives:
        record = shop.consumables[additive.consumable]
        usual = letdown_of(record)
        if record.kind != "masterbatch" or usual.low <= additive.share_percent <= usual.high:
            continue
        says = _("{blend} takes {share} of {masterbatch}; {low} to {high} is usual.").format(
            blend=blend.name, share=show(additive.share_percent, "percent", 2),
            masterbatch=record.name, low=f"{usual.low:g}", high=show(usual.high, "percent"),
        )  # fmt: skip
        yield Finding(
            "blends.letdown", Severity.NOTE, additive.origin_of("share_percent"), says,
            _("Look whether a ratio was written as a share: 1:50 is 1.96 %."),
            subject=f"blends/{blend.id}", working=f"blends.letdown.{blend.id}.{record.id}",
        )  # fmt: skip


def _of_wanted(shop: Shop, today: tuple[Possible, ...]) -> Iterator[Finding]:
    """Products that are wanted and of which the stock is not good for a week, in any blend."""
    best: dict[str, int] = {}
    for found in today:
        best[found.product.id] = max(best.get(found.product.id, 0), found.pieces)
    counted = bool(shop.logs.stock)
    for product in shop.products.values():
        pieces = best.get(product.id, 0)
        if not counted or pieces >= product.per_week:
            continue
        says = _("{wanted} of {product} are wanted in a week, and the stock is good for {pieces}.")
        yield Finding(
            "blends.stock", Severity.NOTE, product.origin_of("per_week"),
            says.format(wanted=product.per_week, product=product.name, pieces=pieces),
            _("Granulate what its blends lack, or write another blend for it."),
            subject=f"products/{product.id}",
        )  # fmt: skip


def _of_groups(shop: Shop, groups: Iterable[ColourGroup]) -> Iterator[Finding]:
    for group in groups:
        polymer = shop.polymers[group.polymer]
        if group.too_little and group.kg:
            colour = polymer.colours[group.colours[0]]
            says = _(
                "{polymer} {colour} is kept apart: no blend names it, and {kg} come in a week."
            )
            yield Finding(
                "blends.colour", Severity.NOTE, colour.origin,
                says.format(polymer=polymer.name, colour=colour.name,
                            kg=show(group.weekly_kg, "kg", 2)),
                _("Put it with the rest, or write a blend for it."),
                subject=f"polymers/{polymer.id}",
            )  # fmt: skip
