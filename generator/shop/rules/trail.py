"""Rules of the logs: labels that lead somewhere, shifts that end, tasks that exist."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, NamedTuple

from generator.ground.finding import Finding, Severity
from generator.ground.nearest import nearest
from generator.ground.wording import _
from generator.shop.draft import Draft
from generator.shop.names import short
from generator.shop.references import meant
from generator.shop.rules.shared import circles, doubles, in_words


class _Said(NamedTuple):
    """What is wrong, what would mend it, a right cell."""

    says: str
    mend: str = ""
    right: str = ""


def _fault(rule: str, log: str, row: Any, said: _Said) -> Finding:
    fault = Severity.FAULT
    return Finding(f"data.{rule}", fault, row.origin, *said, subject=f"logs/{log}")


def batch_labels(draft: Draft) -> Iterator[Finding]:
    """A batch has a label of its own, in one word, because labels are listed with spaces."""
    batches = draft.logs.batches
    for label, first, again in doubles((b.batch, b) for b in batches):
        says = _("The label `{label}` is already on line {line}.")
        says = says.format(label=short(label), line=first.origin.line)
        mend = _("Give each batch its own.")
        yield _fault("batch-label", "batches", again, _Said(says, mend, f"{short(label)}-2"))
    for batch in batches:
        if batch.batch.split() != [batch.batch]:
            says = _("The label `{label}` has a space in it.").format(label=short(batch.batch))
            right = "-".join(batch.batch.split())
            mend = _("Use a hyphen, so that labels can be listed with spaces between.")
            yield _fault("batch-label", "batches", batch, _Said(says, mend, right))


def batch_origins(draft: Draft) -> Iterator[Finding]:
    """What a batch was made from, and what a weigh-in was given, are labels of the batch log."""
    if "batches.csv" in draft.broken_logs:
        return
    labels = {batch.batch for batch in draft.logs.batches}
    named = [(log, row, label) for log, row, label in _named_labels(draft) if label not in labels]
    for log, row, label in named:
        guess = nearest(label, labels)
        says = _("`{label}` is not a label in batches.csv.").format(label=short(label))
        known = sorted(labels)
        mend = meant(guess, known) if known else _("No batch is logged yet.")
        said = _Said(says, mend, guess or next(iter(known), ""))
        yield _fault("unknown-id", log, row, said)


def _named_labels(draft: Draft) -> Iterator[tuple[str, Any, str]]:
    for batch in draft.logs.batches:
        yield from (("batches", batch, label) for label in batch.made_from)
    yield from (("weigh_ins", weigh, weigh.batch) for weigh in draft.logs.weigh_ins if weigh.batch)


def batch_circles(draft: Draft) -> Iterator[Finding]:
    """No batch is made from itself, straight or through others."""
    rows = {batch.batch: batch for batch in draft.logs.batches}
    for circle in circles({batch.batch: batch.made_from for batch in draft.logs.batches}):
        says = _("Batches are made from one another: {circle}.").format(circle=in_words(circle))
        mend = _("Correct a `made_from` among them.")
        yield _fault("circle", "batches", rows[circle[0]], _Said(says, mend))


def colours(draft: Draft) -> Iterator[Finding]:
    """A colour in a log is one its polymer is kept apart by."""
    told: set[tuple[str, str, str]] = set()
    for log in ("weigh_ins", "batches", "stock"):
        for row in getattr(draft.logs, log):
            use = (log, row.polymer, row.colour)
            if use in told or not row.colour or row.polymer not in draft.known.ids("polymers"):
                continue
            told.add(use)
            there = list(draft.known.under("polymers", row.polymer, "colours"))
            if row.colour not in there:
                yield _unknown_colour(log, row, there)


def _unknown_colour(log: str, row: Any, there: list[str]) -> Finding:
    guess = nearest(row.colour, there)
    says = _("`{id}` is not a colour of the polymer `{polymer}`.")
    says = says.format(id=short(row.colour), polymer=row.polymer)
    mend = meant(guess, there) if there else _("It has none yet: write it in polymers.yml.")
    return _fault("unknown-id", log, row, _Said(says, mend, guess or next(iter(there), "")))


def rejected(draft: Draft) -> Iterator[Finding]:
    """No more is rejected than was put on the scale."""
    for row in draft.logs.weigh_ins:
        if row.rejected_kg > row.kg:
            says = _("{rejected:g} kg were rejected of {kg:g} kg weighed.")
            says = says.format(rejected=row.rejected_kg, kg=row.kg)
            mend = _("`kg` is all that was put on the scale, with what was rejected.")
            yield _fault("rejected", "weigh_ins", row, _Said(says, mend, f"{row.kg:g}"))


def shift_times(draft: Draft) -> Iterator[Finding]:
    """A shift ends after it starts."""
    for row in draft.logs.rota:
        if row.end <= row.start:
            says = _("The shift ends at {end}, which is not after {start}.")
            says = says.format(end=f"{row.end:%H:%M}", start=f"{row.start:%H:%M}")
            mend = _("Split a shift at midnight.")
            yield _fault("ends-before", "rota", row, _Said(says, mend, "20:00"))


def upkeep_tasks(draft: Draft) -> Iterator[Finding]:
    """Upkeep that was done is one of the machine's tasks."""
    for row in draft.logs.upkeep:
        if row.machine not in draft.known.ids("machines"):
            continue
        there = list(draft.known.under("machines", row.machine, "upkeep"))
        if row.task in there:
            continue
        guess = nearest(row.task, there)
        says = _("`{id}` is not upkeep of the machine `{machine}`.")
        says = says.format(id=short(row.task), machine=row.machine)
        mend = meant(guess, there) if there else _("It has none: write it in machines.yml.")
        said = _Said(says, mend, guess or next(iter(there), ""))
        yield _fault("unknown-id", "upkeep", row, said)


def trial_labels(draft: Draft) -> Iterator[Finding]:
    """A trial has a label of its own."""
    for label, first, again in doubles((t.trial, t) for t in draft.logs.trials):
        says = _("The trial `{label}` is already on line {line}.")
        says = says.format(label=short(label), line=first.origin.line)
        mend = _("Give each trial its own.")
        yield _fault("trial-label", "trials", again, _Said(says, mend, f"{short(label)}-2"))


RULES = (
    batch_labels,
    batch_origins,
    batch_circles,
    colours,
    rejected,
    shift_times,
    upkeep_tasks,
    trial_labels,
)
