"""Batches: what is in a product, which products hold a crate, and what to fetch back."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from markupsafe import Markup

from generator.drawings import lineage
from generator.drawings.ink import to_svg
from generator.drawings.lineage import STEPS
from generator.ground.units import show
from generator.ground.wording import _, ngettext
from generator.handbook.desk import Desk
from generator.handbook.page import Page
from generator.handbook.render import render
from generator.handbook.subjects import counted, worst_first
from generator.shop.records.logs import Batch
from generator.shop.records.material import Product
from generator.workings.losses import STEP_WORDS
from generator.workings.trail import Brought, History, Recall, Trail

BATCHES, RECALL = "material/batches", "material/batches/recall"


def pages(desk: Desk) -> Iterator[Page]:
    """The list of labels, the recall lists, and a page for each product that was made."""
    yield _list(desk)
    yield _recall(desk)
    for number, (product, made) in enumerate(_made(desk).items(), 1):
        yield _product(desk, desk.shop.products[product], made, number)


def anchor(label: str) -> str:
    """A label as the target of a link, whatever marks it holds."""
    return "b-" + re.sub(r"[^a-z0-9-]", lambda m: f"_{ord(m[0]):x}", label.lower())


def address(batch: Batch) -> str:
    """Where a label is told of, below the site's root."""
    page = RECALL
    if batch.step == "product" and batch.product:
        page = _product_path(batch.product)
    return f"{page}.html#{anchor(batch.batch)}"


def _product_path(product: str) -> str:
    return f"material/batches/{product}-made"


def _trail(desk: Desk) -> Trail:
    return desk.studies.material.trail.trail


def _newest(batch: Batch) -> tuple[str, str]:
    return batch.date.isoformat(), batch.batch


def _made(desk: Desk) -> Mapping[str, list[Batch]]:
    """Batches of each product, the newest first."""
    found: dict[str, list[Batch]] = defaultdict(list)
    for batch in sorted(desk.shop.logs.batches, key=_newest, reverse=True):
        if batch.step == "product" and batch.product:
            found[batch.product].append(batch)
    return {id_: found[id_] for id_ in desk.shop.products if id_ in found}


# --- the list ----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Row:
    """A label with what it is, what is left of it, and its next labels both ways."""

    batch: Batch
    what: str
    left: str
    made_from: tuple[Batch, ...]
    made_into: tuple[Batch, ...]
    brought: str


def _list(desk: Desk) -> Page:
    survey = desk.studies.material.trail.survey
    body = render(
        "batches",
        BATCHES,
        shop=desk.shop,
        sentence=_sentence(desk),
        groups=list(_groups(desk)),
        count=counted((survey,)),
        findings=worst_first(survey.findings),
        workings=survey.workings,
        losses=list(_losses(desk)),
        anchor=anchor,
        address=address,
        recall=f"{RECALL}.html",
    )
    return Page(BATCHES, _("Batches"), "batches", "ML-08", body)


def _sentence(desk: Desk) -> str:
    """How many labels there are, and how many products can be followed to the scale."""
    trail = _trail(desk)
    made = [batch for own in _made(desk).values() for batch in own]
    labels = ngettext("{n} label in the log.", "{n} labels in the log.", len(trail.batches))
    told = labels.format(n=len(trail.batches))
    return f"{told} {_traced(trail, made)}" if made else told


def _traced(trail: Trail, made: list[Batch]) -> str:
    """How many products can be followed to a source, and how many of them wholly."""
    histories = [trail.back(batch.batch) for batch in made]
    known = sum(bool(history.brought) for history in histories)
    whole = sum(bool(h.brought) and not h.begins for h in histories)
    return _(
        "{known} of {all} product batches lead back to a source at the scale, {whole} of them with "
        "every kilogram."
    ).format(known=known, all=len(made), whole=whole)


_ORDER = (
    "product", "blend", "flake", "washed", "sorted", "as donated", "quarantine", "purgings",
    "refuse",
)  # fmt: skip


def _groups(desk: Desk) -> Iterator[tuple[str, list[Row]]]:
    """Labels by what they went through last, products first, the newest first in each."""
    rows: dict[str, list[Row]] = defaultdict(list)
    for batch in sorted(desk.shop.logs.batches, key=_newest, reverse=True):
        rows[batch.step].append(_row(desk, batch))
    for step in _ORDER:
        if rows[step]:
            yield _(STEPS[step]).capitalize(), rows[step]


def _row(desk: Desk, batch: Batch) -> Row:
    trail = _trail(desk)
    sources = dict.fromkeys(row.donor for row in trail.weighed(batch.batch))
    return Row(
        batch, what(desk, batch), _left(trail, batch), trail.made_from(batch.batch),
        trail.made_into(batch.batch), ", ".join(str(desk.shop.donors[d].name) for d in sources),
    )  # fmt: skip


def what(desk: Desk, batch: Batch) -> str:
    """What a label is: its product, its blend, or its polymer and colour."""
    shop = desk.shop
    if batch.product:
        name = str(shop.products[batch.product].name)
        return _("{n} × {product}").format(n=batch.count, product=name) if batch.count else name
    if batch.blend:
        return str(shop.blends[batch.blend].name)
    if not batch.polymer:
        return _("not told")
    polymer = shop.polymers[batch.polymer]
    colour = polymer.colours.get(batch.colour)
    return f"{polymer.name} {colour.name if colour else batch.colour}".strip()


def _left(trail: Trail, batch: Batch) -> str:
    """What is left of a label; of products nobody weighs that."""
    if batch.step == "product":
        return ""
    left = trail.left_kg(batch.batch)
    if left is None:
        return _("not settled")
    return f"{left:.1f}\u202fkg" if left >= 0.05 else _("used up")


def _losses(desk: Desk) -> Iterator[tuple[str, str, str, str]]:
    """What steps lose by the log: step, polymer, share, and whether that is counted."""
    study = desk.studies.material.trail
    for (step, polymer, donor), loss in study.measured.items():
        if donor or loss.share is None:
            continue
        used = loss.rows >= study.enough
        told = _("measured over {n} rows") if used else _("default: only {n} of {need} rows")
        name = str(desk.shop.polymers[polymer].name)
        told = told.format(n=loss.rows, need=study.enough)
        yield _(STEP_WORDS[step]), name, show(100 * loss.share, "percent", 1), told


# --- what is in a product ----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Contents:
    """A product's batch, its trail as a picture, and what is in it."""

    batch: Batch
    what: str
    picture: Markup
    brought: tuple[tuple[str, str, str], ...]
    begins: tuple[Batch, ...]
    held: tuple[Batch, ...]


def _product(desk: Desk, product: Product, made: list[Batch], number: int) -> Page:
    path = _product_path(product.id)
    rows = [_contents(desk, batch) for batch in made]
    says = ngettext("{n} batch, {pieces} pieces.", "{n} batches, {pieces} pieces.", len(rows))
    told = says.format(n=len(rows), pieces=sum(b.count for b in made))
    title = _("What is in: {product}").format(product=product.name)
    body = render(
        "batch-product", path, title=title, sentence=f"{told} {_traced(_trail(desk), made)}",
        rows=rows, anchor=anchor, address=address, up=f"{BATCHES}.html",
    )  # fmt: skip
    return Page(path, title, "batches", f"BA-{number:02d}", body)


def _contents(desk: Desk, batch: Batch) -> Contents:
    history = _trail(desk).back(batch.batch)
    drawn = lineage.draw(desk.shop, _trail(desk), batch.batch)
    svg = to_svg(drawn, anchor(batch.batch) + "-trail", classes="lineage")
    picture = Markup(svg.replace("<svg ", '<svg data-search-exclude="" ', 1))
    return Contents(
        batch, what(desk, batch), picture, tuple(_brought(desk, history)), history.begins,
        tuple(held.batch for held in history.held),
    )  # fmt: skip


def _brought(desk: Desk, history: History) -> Iterator[tuple[str, str, str]]:
    for brought in sorted(history.brought, key=lambda b: (-(b.share or 0.0), b.donor)):
        yield str(desk.shop.donors[brought.donor].name), _share(brought), _weighed(brought)


def _share(brought: Brought) -> str:
    if brought.share is None:
        return _("not settled by the log")
    return show(100 * brought.share, "percent", 0)


def _weighed(brought: Brought) -> str:
    days = sorted({row.date.isoformat() for row in brought.weigh_ins})
    times = ngettext("{n} time", "{n} times", len(days)).format(n=len(days))
    return days[0] if len(days) == 1 else f"{days[0]} \u2013 {days[-1]}, {times}"


# --- what holds a crate ------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Fetched:
    """What is to be fetched back for a label or a source."""

    name: str
    small: str
    anchor: str
    products: tuple[tuple[Batch, str], ...]
    standing: tuple[tuple[Batch, str], ...]
    passed: tuple[Batch, ...]
    pieces: int


def _recall(desk: Desk) -> Page:
    trail = _trail(desk)
    labels = [b for b in sorted(desk.shop.logs.batches, key=_newest, reverse=True)
              if b.step != "product"]  # fmt: skip
    body = render(
        "recall",
        RECALL,
        shop=desk.shop,
        sources=list(_sources(desk)),
        labels=[_fetched_label(desk, trail.recall((b.batch,)), b) for b in labels],
        address=address,
        anchor=anchor,
        up=f"{BATCHES}.html",
    )
    return Page(RECALL, _("Recall"), "batches", "BA-00", body)


def _sources(desk: Desk) -> Iterator[Fetched]:
    """Everything that holds what a source ever brought."""
    for donor in desk.shop.donors.values():
        recall = _trail(desk).recall_source(donor.id)
        if recall.asked:
            yield _fetched(desk, recall, str(donor.name), "", f"source-{donor.id}")


def _fetched_label(desk: Desk, recall: Recall, batch: Batch) -> Fetched:
    small = f"{what(desk, batch)}, {batch.kg:.1f}\u202fkg, {batch.date.isoformat()}"
    return _fetched(desk, recall, batch.batch, small, anchor(batch.batch))


def _fetched(desk: Desk, recall: Recall, name: str, small: str, target: str) -> Fetched:
    products = tuple((held.batch, what(desk, held.batch)) for held in recall.products)
    standing = tuple(
        (held.batch, _standing(recall.left_kg[held.batch.batch])) for held in recall.standing
    )
    passed = tuple(held.batch for held in recall.passed)
    return Fetched(name, small, target, products, standing, passed, recall.count)


def _standing(left_kg: float | None) -> str:
    return _("how much is not settled") if left_kg is None else f"{left_kg:.1f}\u202fkg"
