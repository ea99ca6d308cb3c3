"""Rules of the logs: labels that lead somewhere, shifts that end, tasks that exist."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from generator.ground.finding import Finding, Severity
from generator.ground.wording import _
from generator.shop.draft import Draft
from generator.shop.meant import among
from generator.shop.names import short
from generator.shop.rules.shared import circles, doubles, in_words

_LABEL = re.compile(r"(?=\D*\d)[\w./-]{1,24}")


@dataclass(frozen=True, slots=True)
class _At:
    """A cell of a log, to speak of it."""

    draft: Draft
    log: str
    row: Any
    column: str

    def fault(self, rule: str, says: str, mend: str = "", right: str = "") -> Finding:
        line = self.draft.read_logs.cells[self.row.origin]
        return Finding(
            f"data.{rule}", Severity.FAULT, line.origin_of(self.column),
            f"`{self.column}`: {says}", mend, right, f"logs/{self.log}",
        )  # fmt: skip

    def lost(self, says: str, id_: str, there: Collection[str], otherwise: str) -> Finding:
        """An id that is not among those there; ``otherwise`` is said where there are none."""
        error = among(says, id_, there, otherwise)
        return self.fault("unknown-id", error.says, error.mend, error.example)


def batch_labels(draft: Draft) -> Iterator[Finding]:
    """A batch has a label of its own, in one word, because labels are listed with spaces."""
    batches = draft.logs.batches
    for label, first, again in doubles((b.batch, b) for b in batches):
        says = _("The label `{label}` is already on line {line}.")
        says = says.format(label=short(label), line=first.origin.line)
        mend = _("Give each batch its own.")
        at = _At(draft, "batches", again, "batch")
        yield at.fault("batch-label", says, mend, f"{short(label)}-2")
    for batch in batches:
        if batch.batch.split() != [batch.batch]:
            says = _("The label `{label}` has a space in it.").format(label=short(batch.batch))
            right = "-".join(batch.batch.split())
            mend = _("Use a hyphen, so that labels can be listed with spaces between.")
            yield _At(draft, "batches", batch, "batch").fault("batch-label", says, mend, right)


def label_shapes(draft: Draft) -> Iterator[Finding]:
    """A label is one short word with a figure in it: it is published, and a name must not be."""
    for log, column, example in (("batches", "batch", "FL-041"), ("trials", "trial", "T12")):
        for row in getattr(draft.logs, log):
            label = getattr(row, column)
            if not _LABEL.fullmatch("-".join(label.split())):
                says = _("`{label}` is no label: one short word with a number in it.")
                mend = _("Number it. What else is to be said stands in the other columns.")
                at = _At(draft, log, row, column)
                yield at.fault("label", says.format(label=short(label)), mend, example)


def batch_origins(draft: Draft) -> Iterator[Finding]:
    """What a batch was made from, and what a weigh-in was given, are labels of the batch log."""
    if any(fault.origin.file == "batches.csv" for fault in draft.read_logs.faults):
        return  # a label that seems to be missing may stand in a row that could not be read
    labels = dict.fromkeys(batch.batch for batch in draft.logs.batches)
    for cell, label in _named_labels(draft):
        if label not in labels:
            says = _("`{label}` is not a label in batches.csv.").format(label=short(label))
            yield cell.lost(says, label, labels, _("No batch is logged yet."))


def _named_labels(draft: Draft) -> Iterator[tuple[_At, str]]:
    for batch in draft.logs.batches:
        at = _At(draft, "batches", batch, "made_from")
        yield from ((at, label) for label in batch.made_from)
    for weigh in draft.logs.weigh_ins:
        if weigh.batch:
            yield _At(draft, "weigh_ins", weigh, "batch"), weigh.batch


def batch_circles(draft: Draft) -> Iterator[Finding]:
    """No batch is made from itself, straight or through others."""
    rows = {batch.batch: batch for batch in draft.logs.batches}
    for circle in circles({batch.batch: batch.made_from for batch in draft.logs.batches}):
        says = _("Batches are made from one another: {circle}.").format(circle=in_words(circle))
        mend = _("Correct a `made_from` among them.")
        yield _At(draft, "batches", rows[circle[0]], "made_from").fault("circle", says, mend)


def colours(draft: Draft) -> Iterator[Finding]:
    """A colour in a log is one its polymer is kept apart by."""
    told: set[tuple[str, str, str]] = set()
    for log in ("weigh_ins", "batches", "stock"):
        for row in getattr(draft.logs, log):
            use = (log, row.polymer, row.colour)
            if use in told or not row.colour or row.polymer not in draft.known.ids("polymers"):
                continue
            told.add(use)
            there = draft.known.under("polymers", row.polymer, "colours")
            if row.colour not in there:
                says = _("`{id}` is not a colour of the polymer `{polymer}`.")
                says = says.format(id=short(row.colour), polymer=row.polymer)
                otherwise = _("It has none yet: write it in polymers.yml.")
                yield _At(draft, log, row, "colour").lost(says, row.colour, there, otherwise)


def rejected(draft: Draft) -> Iterator[Finding]:
    """No more is rejected than was put on the scale."""
    for row in draft.logs.weigh_ins:
        if row.rejected_kg > row.kg:
            says = _("{rejected:g} kg were rejected of {kg:g} kg weighed.")
            says = says.format(rejected=row.rejected_kg, kg=row.kg)
            mend = _("`kg` is all that was put on the scale, with what was rejected.")
            at = _At(draft, "weigh_ins", row, "rejected_kg")
            yield at.fault("rejected", says, mend, f"{row.kg:g}")


def shift_times(draft: Draft) -> Iterator[Finding]:
    """A shift ends after it starts."""
    for row in draft.logs.rota:
        if row.end <= row.start:
            says = _("The shift ends at {end}, which is not after {start}.")
            says = says.format(end=f"{row.end:%H:%M}", start=f"{row.start:%H:%M}")
            mend = _("Split a shift at midnight.")
            yield _At(draft, "rota", row, "end").fault("ends-before", says, mend)


def upkeep_tasks(draft: Draft) -> Iterator[Finding]:
    """Upkeep that was done is one of the machine's tasks."""
    for row in draft.logs.upkeep:
        if row.machine not in draft.known.ids("machines"):
            continue
        there = draft.known.under("machines", row.machine, "upkeep")
        if row.task not in there:
            says = _("`{id}` is not upkeep of the machine `{machine}`.")
            says = says.format(id=short(row.task), machine=row.machine)
            otherwise = _("It has none: write it in machines.yml.")
            yield _At(draft, "upkeep", row, "task").lost(says, row.task, there, otherwise)


def trial_labels(draft: Draft) -> Iterator[Finding]:
    """A trial has a label of its own."""
    for label, first, again in doubles((t.trial, t) for t in draft.logs.trials):
        says = _("The trial `{label}` is already on line {line}.")
        says = says.format(label=short(label), line=first.origin.line)
        mend = _("Give each trial its own.")
        at = _At(draft, "trials", again, "trial")
        yield at.fault("trial-label", says, mend, f"{short(label)}-2")


def loan_things(draft: Draft) -> Iterator[Finding]:
    """A row of the loans is about one thing: a mould or a tool."""
    for row in draft.logs.loans:
        if bool(row.mould) == bool(row.tool):
            at = _At(draft, "loans", row, "mould")
            said = _("The row names both a mould and a tool.")
            says = said if row.mould else _("The row names neither a mould nor a tool.")
            yield at.fault("loan", says, _("Write one row for each thing."))


def loan_days(draft: Draft) -> Iterator[Finding]:
    """What went out comes back on that day or later."""
    for row in draft.logs.loans:
        for column in ("back", "until"):
            day = getattr(row, column)
            if day is not None and day < row.out:
                says = _("{day} is before {out}, when it went out.").format(day=day, out=row.out)
                at = _At(draft, "loans", row, column)
                yield at.fault("loan", says, _("Correct one of the two."), str(row.out))


def loan_doubles(draft: Draft) -> Iterator[Finding]:
    """A mould that is out does not go out again: there is one of it."""
    rows = sorted(
        (r for r in draft.logs.loans if r.mould and not r.tool), key=lambda r: (r.mould, r.out)
    )
    for before, row in pairwise(rows):
        if before.mould == row.mould and (before.back is None or before.back > row.out):
            says = _("`{mould}` went out on {day}, and line {line} says it was out already.")
            says = says.format(mould=row.mould, day=row.out, line=before.origin.line)
            mend = _("Write under `back` when it came back before.")
            yield _At(draft, "loans", row, "out").fault("loan", says, mend, str(row.out))


RULES = (
    batch_labels,
    label_shapes,
    batch_origins,
    batch_circles,
    colours,
    rejected,
    shift_times,
    upkeep_tasks,
    trial_labels,
    loan_things,
    loan_days,
    loan_doubles,
)
