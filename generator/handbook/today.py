"""Made today: what the stock is good for, best use first, and why not for all the rest."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from markupsafe import Markup

from generator.ground.units import show
from generator.ground.wording import _, ngettext
from generator.handbook import swatches
from generator.handbook.desk import Desk
from generator.handbook.page import Page
from generator.handbook.render import render
from generator.handbook.subjects import worst_first
from generator.handbook.tables import Cell, Column, Table
from generator.handbook.weighing import weighing
from generator.shop.records.material import Blend
from generator.workings.blends import ColourGroup, Possible, ingredient_name

TODAY = "material/today"
_FIRST = 6
"""So many stand as cards, with their swatch and what is weighed; the others are listed."""


def pages(desk: Desk) -> Iterator[Page]:
    """The page of what can be made today."""
    found = desk.studies.material.blends
    pictures = Pictures(desk)
    rows = [_line(desk, pictures, possible) for possible in found.today]
    body = render(
        "today",
        TODAY,
        shop=desk.shop,
        sentence=_sentence(found.today),
        first=rows[:_FIRST],
        others=rows[_FIRST:],
        left_out=found.bench.left_out(),
        groups=_groups(desk, found.groups),
        findings=worst_first(found.survey.findings),
        workings=found.survey.workings,
    )
    yield Page(TODAY, _("Made today"), "today", "ML-09", body)


def _sentence(today: Iterable[Possible]) -> str:
    """The best use of the stock, and how many others there are."""
    rows = list(today)
    if not rows:
        return _("Nothing can be made of what stands here today.")
    best = rows[0]
    says = _("Best use of the stock: {product} in {blend} on {machine}, {n} in an opening.").format(
        product=best.product.name, blend=best.blend.name, machine=best.machine.name,
        n=best.in_an_opening,
    )  # fmt: skip
    more = ngettext(
        "{n} more use can be made of it.", "{n} more uses can be made of it.", len(rows) - 1
    )
    return f"{says} {more.format(n=len(rows) - 1)}" if len(rows) > 1 else says


class Pictures:
    """The swatch of each blend, drawn once on a page and shown again wherever it is needed."""

    def __init__(self, desk: Desk, size: float = 88.0) -> None:
        self._desk, self._size = desk, size
        self._drawn: dict[str, bool] = {}

    def of(self, blend: Blend) -> Markup:
        """A blend's swatch, "" where its colour cannot be said."""
        id_, size = f"swatch-{blend.id}", f"{self._size:g}"
        if self._drawn.get(blend.id):
            return Markup(
                '<svg class="swatch" width="{s}" height="{s}" viewBox="0 0 {s} {s}"'
                ' aria-hidden="true"><use href="#{id}"/></svg>'
            ).format(s=size, id=id_)
        svg = swatches.small(self._desk, blend, self._size)
        self._drawn[blend.id] = bool(svg)
        return Markup(str(svg).replace("<svg ", f'<svg id="{id_}" ', 1))


@dataclass(frozen=True, slots=True)
class Line:
    """A use of the stock: its swatch, and the grams for what an opening is good for."""

    found: Possible
    swatch: Markup
    grams: tuple[tuple[str, str], ...]
    first_out: str

    @property
    def proven(self) -> bool:
        return self.found.cell.last_good is not None


def _line(desk: Desk, pictures: Pictures, found: Possible) -> Line:
    bench, shop = desk.studies.material.blends.bench, desk.shop
    recipe = bench.recipe(found.product, found.blend, found.in_an_opening)
    masses, _total = weighing([i.grams for i in recipe.ingredients])
    names = (ingredient_name(shop, i) for i in recipe.ingredients)
    grams = tuple(zip(names, masses, strict=True))
    return Line(found, pictures.of(found.blend), grams, ingredient_name(shop, found.first_out))


def grams_words(grams: float) -> str:
    """A mass as it is read off a bench scale: whole grams, below 10 g to 0.1 g."""
    return show(grams, "g", 0 if grams >= 10 else 1)


def _groups(desk: Desk, groups: Iterable[ColourGroup]) -> Table:
    columns = (
        Column(_("Kept apart as")), Column(_("Flake here"), True), Column(_("A week brings"), True),
        Column(_("Blends that draw on it")),
    )  # fmt: skip
    return Table(columns, tuple(_group(desk, group) for group in groups))


def _group(desk: Desk, group: ColourGroup) -> tuple[Cell, ...]:
    shop = desk.shop
    polymer = shop.polymers[group.polymer]
    names = ", ".join(str(polymer.colours[c].name) for c in group.colours)
    small = _("not worth a crate of its own") if group.too_little else ""
    if group.rest and len(group.colours) > 1:
        names, small = _("rest"), names
    blends = ", ".join(str(shop.blends[id_].name) for id_ in group.blends)
    return (
        Cell(f"{polymer.name} {names}", small, polymer), Cell(f"{group.kg:.1f}\u202fkg"),
        Cell(f"{group.weekly_kg:.1f}\u202fkg"), Cell(blends or _("none")),
    )  # fmt: skip
