"""What is in a product and which products hold a crate: the batch log followed both ways.

A share is worked out only where the log settles it: a batch made from one other holds all of it,
and a blend holds of each flake what its recipe says. Where two labels could have supplied the
same part of a recipe nobody knows how much came from which, and the share stays open.
"""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from generator.ground.finding import Finding, Severity
from generator.ground.survey import Survey, survey
from generator.ground.units import show
from generator.ground.wording import _, day_words, ngettext
from generator.ground.working import Input, Quantity, Working
from generator.reference import reference
from generator.shop.records.logs import Batch, WeighIn
from generator.shop.records.material import Blend
from generator.shop.shop import Shop
from generator.workings.losses import STEP_WORDS, Key, Loss, Losses

_LOOSE_ENDS = frozenset({"purgings", "refuse", "quarantine"})
"""Steps that may hold more than one polymer, because nothing is made from them."""


@dataclass(frozen=True, slots=True)
class Held:
    """A batch that is in another, or holds it.

    ``share`` is its share of the batch that was asked about by mass [-], or that batch's share of
    it where the trail is followed forwards; None where the log does not settle it. ``steps`` is
    how many labels lie between, 1 for the next.
    """

    batch: Batch
    share: float | None
    steps: int

    @property
    def kg(self) -> float | None:
        """How much of the batch is of the one asked about, followed forwards [kg]."""
        return None if self.share is None else self.share * self.batch.kg


@dataclass(frozen=True, slots=True)
class Brought:
    """What one source brought into a batch: its weigh-ins and its share by mass [-]."""

    donor: str
    weigh_ins: tuple[WeighIn, ...]
    share: float | None


@dataclass(frozen=True, slots=True)
class History:
    """What is in a batch.

    ``held`` are the labels it was made from, the nearest first; ``brought`` the sources behind
    them; ``begins`` the labels behind which the log says nothing.
    """

    batch: Batch
    held: tuple[Held, ...]
    brought: tuple[Brought, ...]
    begins: tuple[Batch, ...]


@dataclass(frozen=True, slots=True)
class Recall:
    """Everything that holds some batches, to be found and set aside.

    ``products`` went on towards somebody, ``standing`` is still in the shop as far as the log
    goes, ``left_kg`` what is left of each of those (None where the log does not settle it).
    ``passed`` labels are used up, so that only their card is left. ``count`` is of the products.
    """

    asked: tuple[Batch, ...]
    products: tuple[Held, ...]
    standing: tuple[Held, ...]
    passed: tuple[Held, ...]
    left_kg: Mapping[str, float | None]

    @property
    def count(self) -> int:
        return sum(held.batch.count for held in self.products)


class Trail:
    """The batch log as a web that can be walked both ways.

    Parameters
    ----------
    shop
        The shop, with every label resolved and none made from itself.
    losses
        What its steps lose.
    """

    def __init__(self, shop: Shop, losses: Losses | None = None) -> None:
        self._shop = shop
        self.losses = losses or Losses(shop)
        self.batches: Mapping[str, Batch] = {b.batch: b for b in shop.logs.batches}
        self._into: dict[str, list[Batch]] = defaultdict(list)
        for batch in shop.logs.batches:
            for label in dict.fromkeys(batch.made_from):
                self._into[label].append(batch)

    # --- one step

    def made_from(self, label: str) -> tuple[Batch, ...]:
        """The labels a batch was made from."""
        return tuple(self.batches[one] for one in dict.fromkeys(self.batches[label].made_from))

    def made_into(self, label: str) -> tuple[Batch, ...]:
        """The labels that were made from a batch."""
        return tuple(self._into.get(label, ()))

    def weighed(self, label: str) -> tuple[WeighIn, ...]:
        """The weigh-ins that went into a label."""
        return self.losses.weighed.get(label, ())

    def share(self, child: Batch, parent: Batch) -> float | None:
        """Share of a batch's mass that came from one of those it was made from [-]."""
        if len(set(child.made_from)) == 1:
            return 1.0 - self._stirred_in(child)
        blend = self._shop.blends.get(child.blend)
        if blend is None or child.step != "blend":
            return None
        return self._by_recipe(child, parent, blend)

    def _stirred_in(self, batch: Batch) -> float:
        """Share of a blend that is no flake."""
        blend = self._shop.blends.get(batch.blend) if batch.step == "blend" else None
        return sum(a.share_percent for a in blend.additives) / 100 if blend else 0.0

    def _by_recipe(self, child: Batch, parent: Batch, blend: Blend) -> float | None:
        """The share of the parts a label supplied; None where another may have supplied them."""
        lot = (parent.polymer, parent.colour)
        wanted = [p.share_percent for p in blend.parts if (p.polymer, p.colour or "") == lot]
        same = [b for b in self.made_from(child.batch) if (b.polymer, b.colour) == lot]
        return sum(wanted) / 100 if wanted and len(same) == 1 else None

    # --- all the way

    def back(self, label: str) -> History:
        """What is in a batch.

        Raises KeyError for a label that is not in the log.
        """
        batch = self.batches[label]
        held = self._walk(label, forwards=False)
        ends = [h for h in (Held(batch, 1.0, 0), *held) if not h.batch.made_from]
        brought = tuple(self._brought(ends))
        begins = tuple(h.batch for h in ends if not self.weighed(h.batch.batch))
        return History(batch, held, brought, begins)

    def forward(self, label: str) -> tuple[Held, ...]:
        """Every batch that holds some of one, the nearest first.

        Raises KeyError for a label that is not in the log.
        """
        return self._walk(label, forwards=True)

    def _walk(self, label: str, *, forwards: bool) -> tuple[Held, ...]:
        """Every batch reached from one, with its share along all ways that lead to it."""
        start = self.batches[label]
        order = self._in_order(start, forwards=forwards)
        shares: dict[str, float | None] = {start.batch: 1.0}
        steps = {start.batch: 0}
        for batch in order:
            for other in self._next(batch.batch, forwards=forwards):
                part = self.share(other, batch) if forwards else self.share(batch, other)
                _add(shares, other.batch, _times(shares[batch.batch], part))
                far = steps[batch.batch] + 1
                steps[other.batch] = min(far, steps.get(other.batch, far))
        found = [Held(b, shares[b.batch], steps[b.batch]) for b in order[1:]]
        return tuple(sorted(found, key=lambda held: held.steps))

    def _next(self, label: str, *, forwards: bool) -> tuple[Batch, ...]:
        return self.made_into(label) if forwards else self.made_from(label)

    def _in_order(self, start: Batch, *, forwards: bool) -> list[Batch]:
        """Batches reached from one, each after all those it is reached through."""
        order: list[Batch] = []
        seen: set[str] = set()
        todo = [(start, False)]
        while todo:
            batch, done = todo.pop()
            if done:
                order.append(batch)
            elif batch.batch not in seen:
                seen.add(batch.batch)
                todo.append((batch, True))
                todo += [(b, False) for b in self._next(batch.batch, forwards=forwards)]
        return order[::-1]

    def _brought(self, ends: Iterable[Held]) -> Iterator[Brought]:
        """The sources of the labels a trail begins with, as if all of a label lost alike."""
        rows: dict[str, list[WeighIn]] = defaultdict(list)
        shares: dict[str, float | None] = {}
        for end in ends:
            weighed = self.weighed(end.batch.batch)
            taken = sum(row.kg - row.rejected_kg for row in weighed)
            for row in weighed:
                part = (row.kg - row.rejected_kg) / taken if taken else None
                rows[row.donor].append(row)
                _add(shares, row.donor, _times(end.share, part))
        for donor, own in rows.items():
            yield Brought(donor, tuple(own), shares[donor])

    # --- what is left, and what to find

    def left_kg(self, label: str) -> float | None:
        """What is left of a batch after all that was made from it [kg], at least 0.

        A batch that went through a step is used up; of flake and blends, what was drawn is
        taken off. None where the log does not settle how much was drawn.
        """
        batch, drawn = self.batches[label], self.drawn_kg(label)
        if drawn is None:
            return None
        return max(0.0, batch.kg - drawn)

    def drawn_kg(self, label: str) -> float | None:
        """What was taken from a batch for others [kg]; all of it where it went through a step."""
        batch = self.batches[label]
        if batch.step != "flake":
            return batch.kg if self._into.get(label) else 0.0
        draws = [_times(child.kg, self.share(child, batch)) for child in self.made_into(label)]
        known = [kg for kg in draws if kg is not None]
        return sum(known) if len(known) == len(draws) else None

    def recall(self, labels: Iterable[str]) -> Recall:
        """Everything that holds any of some batches.

        Raises KeyError for a label that is not in the log.
        """
        asked = tuple(self.batches[label] for label in dict.fromkeys(labels))
        found: dict[str, Held] = {b.batch: Held(b, 1.0, 0) for b in asked}
        for batch in asked:
            for held in self.forward(batch.batch):
                known = found.get(held.batch.batch)
                found[held.batch.batch] = held if known is None else _joined(known, held)
        left = {label: self.left_kg(label) for label in found}
        return _recalled(asked, found.values(), left)

    def recall_source(self, donor: str, polymer: str = "", since: dt.date | None = None) -> Recall:
        """Everything that holds what a source brought, of one polymer or all, since a day or ever.

        Weigh-ins that were given no label lead nowhere.
        """
        rows = (
            row
            for row in self._shop.logs.weigh_ins
            if row.donor == donor
            and polymer in ("", row.polymer)
            and (since is None or row.date >= since)
        )
        return self.recall(row.batch for row in rows if row.batch)


def _times(one: float | None, other: float | None) -> float | None:
    return None if one is None or other is None else one * other


def _add(shares: dict[str, float | None], key: str, part: float | None) -> None:
    """Add a share to what is there; one that is not known makes the sum unknown."""
    before = shares.get(key, 0.0)
    shares[key] = None if before is None or part is None else before + part


def _joined(one: Held, other: Held) -> Held:
    share = None if one.share is None or other.share is None else one.share + other.share
    return Held(one.batch, None if share is None else min(1.0, share), min(one.steps, other.steps))


def _recalled(
    asked: tuple[Batch, ...], found: Iterable[Held], left: Mapping[str, float | None]
) -> Recall:
    products, standing, passed = [], [], []
    for held in found:
        label = held.batch.batch
        if held.batch.step == "product":
            products.append(held)
        elif left[label] == 0.0:
            passed.append(held)
        else:
            standing.append(held)
    kept = {held.batch.batch: left[held.batch.batch] for held in standing}
    return Recall(asked, tuple(products), tuple(standing), tuple(passed), kept)


# --- the study ---------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class TrailStudy:
    """The batch log followed, with what its steps lose.

    ``trail`` answers what is in a label, where it went and what to recall. ``measured`` holds
    what the log says of each step, polymer and source ("" for all sources), ``enough`` from how
    many rows that counts.
    """

    trail: Trail
    measured: Mapping[Key, Loss]
    enough: int
    survey: Survey


def study(shop: Shop, losses: Losses | None = None) -> TrailStudy:
    """Follow the batch log and hold it against itself.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    losses
        What its steps lose, where that was worked out before.
    """
    trail = Trail(shop, losses)
    known = trail.losses
    findings = [
        *(f for batch in shop.logs.batches for f in _of_batch(shop, trail, batch)),
        *_of_weigh_ins(shop),
        *_of_beginnings(trail),
        *_of_plans(shop, known),
    ]
    workings = [_working(shop, key, loss) for key, loss in known.measured.items() if _shown(key)]
    checks = len(shop.logs.batches) + len(shop.logs.weigh_ins)
    unanswered = sum(not row.batch and row.kg > row.rejected_kg for row in shop.logs.weigh_ins)
    made = survey("trail", workings, findings, other_checks=checks, other_unanswered=unanswered)
    return TrailStudy(trail, known.measured, known.enough, made)


def _shown(key: Key) -> bool:
    """The counter by source, the steps after it by polymer."""
    return bool(key[2]) == (key[0] == "hand-in")


def _working(shop: Shop, key: Key, loss: Loss) -> Working:
    step, polymer, donor = key
    name = shop.polymers[polymer].name
    title = _("{step}, {polymer}").format(step=_(STEP_WORDS[step]), polymer=name)
    if donor:
        title = _("{what}, from {donor}").format(what=title, donor=shop.donors[donor].name)
    need = int(reference().limit("measured-rows").low)
    few = _("Only {rows} of the {need} rows it takes: the default is used until then.")
    return Working(
        ".".join(("trail", "loss", step, polymer, *([donor] if donor else []))),
        f"polymers/{polymer}",
        title,
        _("1 - mass after / mass before, over every row of the log"),
        (
            Input(_("Mass before"), Quantity(round(loss.in_kg, 2), "kg"), loss.origin),
            Input(_("Mass after"), Quantity(round(loss.out_kg, 2), "kg"), loss.origin),
            Input(_("Rows"), Quantity(loss.rows, ""), loss.origin),
        ),
        Quantity(round(100 * (loss.share or 0.0), 1), "%"),
        caution="" if loss.rows >= need else few.format(rows=loss.rows, need=need),
    )


# --- what the log says against itself ----------------------------------------------------------


def _of_batch(shop: Shop, trail: Trail, batch: Batch) -> Iterator[Finding]:
    for parent in trail.made_from(batch.batch):
        yield from _before(batch, parent)
        yield from _out_of_quarantine(batch, parent)
        yield from _another_polymer(shop, batch, parent)
    yield from _against_recipe(shop, trail, batch)
    yield from _gained(trail, batch)
    yield from _overdrawn(trail, batch)


def _finding(
    rule: str, severity: Severity, batch: Batch, says: str, mend: str, *, subject: str = ""
) -> Finding:
    about = subject or (f"polymers/{batch.polymer}" if batch.polymer else "logs/batches")
    return Finding(f"trail.{rule}", severity, batch.origin, says, mend, subject=about)


def _before(batch: Batch, parent: Batch) -> Iterator[Finding]:
    if batch.date < parent.date:
        says = _("{batch} is dated {day}, before {parent}, which it was made from.")
        says = says.format(batch=batch.batch, day=day_words(batch.date), parent=parent.batch)
        yield _finding("before", Severity.FIX, batch, says, _("Correct one of the two dates."))


def _out_of_quarantine(batch: Batch, parent: Batch) -> Iterator[Finding]:
    if parent.step in ("quarantine", "refuse") and batch.step not in (*_LOOSE_ENDS, "sorted"):
        says = _("{batch}, {step}, was made from {parent}, which stood in {before}.")
        says = says.format(
            batch=batch.batch, step=batch.step, parent=parent.batch, before=parent.step
        )
        mend = _("Set it aside with all that was made of it until somebody has told it apart.")
        yield _finding("out-of-quarantine", Severity.STOP, batch, says, mend)


def _another_polymer(shop: Shop, batch: Batch, parent: Batch) -> Iterator[Finding]:
    if not (batch.polymer and parent.polymer) or batch.step in _LOOSE_ENDS:
        return
    one, other = shop.polymers[batch.polymer], shop.polymers[parent.polymer]
    if one.code != other.code:
        says = _("{batch} is {polymer}, and {parent}, which it was made from, is {other}.")
        says = says.format(
            batch=batch.batch, polymer=one.name, parent=parent.batch, other=other.name
        )
        mend = _("Correct the label, or take the batch out until it has been told apart.")
        yield _finding("another-polymer", Severity.FIX, batch, says, mend)


def _against_recipe(shop: Shop, trail: Trail, batch: Batch) -> Iterator[Finding]:
    """A blend is made from the lots its recipe names, each of them and no other."""
    blend = shop.blends.get(batch.blend) if batch.step == "blend" else None
    if blend is None or not batch.made_from:
        return
    wanted = {(p.polymer, p.colour or "") for p in blend.parts}
    made = {(b.polymer, b.colour) for b in trail.made_from(batch.batch)}
    strange = [lot for lot in made - wanted if (lot[0], "") not in wanted]
    missing = [lot for lot in wanted - made if lot[1] or lot[0] not in {m[0] for m in made}]
    for lots, words in (
        (strange, _("{batch} holds {lots}, which the recipe “{blend}” does not name.")),
        (missing, _("{batch} holds no {lots}, which the recipe “{blend}” names.")),
    ):
        if lots:
            names = ", ".join(sorted(_lot(shop, *lot) for lot in lots))
            says = words.format(batch=batch.batch, lots=names, blend=blend.name)
            mend = _("Correct what it was made from, or write the blend it really is.")
            yield _finding("recipe", Severity.FIX, batch, says, mend, subject=f"blends/{blend.id}")


def _lot(shop: Shop, polymer: str, colour: str) -> str:
    record = shop.polymers[polymer]
    named = record.colours.get(colour)
    return f"{record.name} {named.name if named else colour}".strip()


def _gained(trail: Trail, batch: Batch) -> Iterator[Finding]:
    """Nothing that came of a batch weighs more than it; water does, before it is dry."""
    parents = trail.made_from(batch.batch)
    spread = 1 + reference().limit("scale-spread").low / 100
    if not parents or batch.step == "blend":
        return
    if any(len(trail.made_into(p.batch)) > 1 for p in parents):
        return  # shared among several, which _overdrawn looks at
    before = sum(p.kg for p in parents)
    if batch.kg > before * spread:
        says = _("{batch} weighs {kg}, more than the {before} it was made from.")
        says = says.format(
            batch=batch.batch, kg=show(batch.kg, "kg", 2), before=show(before, "kg", 2)
        )
        mend = _("Weigh it again dry, or add the label that is missing under `made_from`.")
        yield _finding("gained", Severity.FIX, batch, says, mend)


def _overdrawn(trail: Trail, batch: Batch) -> Iterator[Finding]:
    children = trail.made_into(batch.batch)
    alone = [child for child in children if len(set(child.made_from)) == 1]
    drawn = trail.drawn_kg(batch.batch) if batch.step == "flake" else sum(c.kg for c in alone)
    if drawn is None or len(children) < 2:
        return
    if drawn > batch.kg * (1 + reference().limit("scale-spread").low / 100):
        says = _("{drawn} were taken from {batch}, which held {kg}.").format(
            drawn=show(drawn, "kg", 2), batch=batch.batch, kg=show(batch.kg, "kg", 2)
        )
        mend = _("Correct a mass, or name the other label the rest came from.")
        yield _finding("overdrawn", Severity.FIX, batch, says, mend)


def _of_weigh_ins(shop: Shop) -> Iterator[Finding]:
    rows = [r for r in shop.logs.weigh_ins if not r.batch and r.kg > r.rejected_kg]
    if not rows:
        return
    kg = sum(row.kg - row.rejected_kg for row in rows)
    says = ngettext(
        "{n} weigh-in of {kg} has no label: what became of it cannot be told.",
        "{n} weigh-ins of {kg} in all have no label: what became of them cannot be told.",
        len(rows),
    ).format(n=len(rows), kg=show(kg, "kg", 1))
    mend = _("Write the label of the crate it went into under `batch`.")
    place = rows[0].origin
    yield Finding("trail.unlabelled", Severity.NOTE, place, says, mend, subject="logs/weigh_ins")


def _of_beginnings(trail: Trail) -> Iterator[Finding]:
    """Labels that begin in the middle, so that a recall ends there."""
    begun = [
        b
        for b in trail.batches.values()
        if not b.made_from and not trail.weighed(b.batch) and b.step not in _LOOSE_ENDS
    ]
    if not begun:
        return
    kg = sum(batch.kg for batch in begun)
    says = ngettext(
        "{n} label of {kg} begins without a source: a recall ends at {first}.",
        "{n} labels of {kg} in all begin without a source: a recall ends at {first} to {last}.",
        len(begun),
    ).format(n=len(begun), kg=show(kg, "kg", 1), first=begun[0].batch, last=begun[-1].batch)
    mend = _("Nothing can be mended backwards; from now on write what each is made from.")
    place = begun[0].origin
    yield Finding("trail.begins", Severity.NOTE, place, says, mend, subject="logs/batches")


def _of_plans(shop: Shop, losses: Losses) -> Iterator[Finding]:
    """Where a source has much more rejected than is written for it."""
    for donor in shop.donors.values():
        for brings in donor.brings:
            found = losses.of("hand-in", donor.id, brings.polymer, brings)
            written = brings.rejected_percent
            if found.basis != "measured" or written is None or found.share is None:
                continue
            if abs(100 * found.share - written) > _WORTH_SAYING_POINTS:
                says = _("{donor} had {share} of its {polymer} rejected over {rows} rows; {plan} "
                         "is written.")  # fmt: skip
                says = says.format(
                    donor=donor.name, share=show(100 * found.share, "percent", 1),
                    polymer=shop.polymers[brings.polymer].name, rows=found.rows,
                    plan=show(written, "percent", 1),
                )  # fmt: skip
                yield Finding(
                    "trail.rejected", Severity.NOTE, brings.origin_of("rejected_percent"), says,
                    _("The measured share is used; write it, so that the sheet says the same."),
                    subject=f"donors/{donor.id}",
                )  # fmt: skip


_WORTH_SAYING_POINTS = 5.0
"""Percentage points apart below which a plan and a log say the same."""
