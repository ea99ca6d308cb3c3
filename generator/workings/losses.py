"""How much is lost between the counter and the flake, measured from the log where it can be.

A shop's own rows take the place of what is written and of the tables as soon as there are enough
of them; until then the figure says that it is a default. Where there is neither, nothing is put
in its place.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from generator.ground.origin import Origin
from generator.ground.wording import N_, _
from generator.ground.working import Input, Quantity, Source
from generator.reference import Value, reference
from generator.shop.records.logs import Batch, WeighIn
from generator.shop.records.material import Brings
from generator.shop.records.refs import Condition
from generator.shop.shop import Shop

Step = Literal["hand-in", "sorting", "washing", "granulating"]
STEPS: tuple[Step, ...] = ("hand-in", "sorting", "washing", "granulating")
STEP_WORDS: Mapping[Step, str] = {
    "hand-in": N_("Rejected at the counter"),
    "sorting": N_("Lost in sorting"),
    "washing": N_("Lost in washing"),
    "granulating": N_("Lost in granulating"),
}
_PAIR: Mapping[Step, tuple[Condition, Condition]] = {
    "washing": ("sorted", "washed"),
    "granulating": ("washed", "flake"),
}
_KEYS: Mapping[Step, str] = {
    "sorting": "loss-sort-dirty-bottles",
    "washing": "loss-wash",
    "granulating": "loss-grind-fines",
}


def share_lost(in_kg: float, out_kg: float) -> float:
    r"""Share of a mass that a step loses [-].

    .. math:: l = 1 - m_{out} / m_{in}

    Parameters
    ----------
    in_kg, out_kg
        Mass before and after the step [kg]; the first more than 0.

    Returns
    -------
    float
        Below 0 where more came out than went in, as water does.
    """
    return 1 - out_kg / in_kg


@dataclass(frozen=True, slots=True)
class Loss:
    """The share a step loses [-], and how that is known.

    ``measured`` is from ``rows`` rows of the log, ``in_kg`` in and ``out_kg`` out; ``written`` is
    the shop's own plan, ``tabled`` the trade's. ``share`` is None where it is ``unknown``.
    """

    step: Step
    share: float | None
    basis: Literal["measured", "written", "tabled", "unknown"]
    origin: Origin | Source
    rows: int = 0
    in_kg: float = 0.0
    out_kg: float = 0.0

    @property
    def kept(self) -> float:
        """Share that goes on; all of it where nobody knows, which is the most there can be."""
        return 1.0 if self.share is None else 1.0 - self.share

    @property
    def as_input(self) -> Input:
        """As an input of a working; a loss that is not known counts as none."""
        percent = round(100 * (self.share or 0.0), 2)
        return Input(self.says, Quantity(percent, "%"), self.origin)

    @property
    def says(self) -> str:
        """What it is and how it is known."""
        known = {
            "measured": _("measured, {rows} rows").format(rows=self.rows),
            "written": _("as written"),
            "tabled": _("from the tables"),
            "unknown": _("not known, counted as none"),
        }
        return f"{_(STEP_WORDS[self.step])} ({known[self.basis]})"


@dataclass(slots=True)
class _Sum:
    rows: int = 0
    in_kg: float = 0.0
    out_kg: float = 0.0
    origin: Origin | None = None

    def add(self, in_kg: float, out_kg: float, origin: Origin) -> None:
        self.origin = self.origin or origin
        self.rows += 1
        self.in_kg += in_kg
        self.out_kg += out_kg

    def loss(self, step: Step) -> Loss:
        share = share_lost(self.in_kg, self.out_kg)
        assert self.origin is not None
        return Loss(step, share, "measured", self.origin, self.rows, self.in_kg, self.out_kg)


Key = tuple[Step, str, str]
"""A step, a polymer, and a donor or "" for all of them."""


class Losses:
    """What every step of a shop loses, by polymer and where it can be by source.

    Parameters
    ----------
    shop
        The shop, with every id resolved.
    """

    def __init__(self, shop: Shop) -> None:
        self._shop = shop
        self.enough = int(reference().limit("measured-rows").low)
        self._children: dict[str, list[Batch]] = defaultdict(list)
        for batch in shop.logs.batches:
            for label in batch.made_from:
                self._children[label].append(batch)

    # --- what is known

    def of(self, step: Step, donor: str, polymer: str, brings: Brings | None = None) -> Loss:
        """The loss of a step for a polymer of a source: measured, else written, else tabled.

        ``brings`` is what the source is written to bring of it, None where it is not.
        """
        for key in ((step, polymer, donor), (step, polymer, "")):
            found = self.measured.get(key)
            if found is not None and found.rows >= self.enough and not self._too_wide(key):
                return found
        if brings is None:
            return self._unplanned(step, donor, polymer)
        return _default(step, brings)

    def _unplanned(self, step: Step, donor: str, polymer: str) -> Loss:
        """What nobody planned for has only its few rows."""
        few = self.measured.get((step, polymer, donor)) if step == "hand-in" else None
        return few or Loss(step, None, "unknown", self._shop.donors[donor].origin)

    def _too_wide(self, key: Key) -> bool:
        """What one source has rejected says nothing of another's."""
        return key[0] == "hand-in" and not key[2]

    @cached_property
    def measured(self) -> Mapping[Key, Loss]:
        """What the log says of each step, polymer and source, however few its rows."""
        sums: dict[Key, _Sum] = defaultdict(_Sum)
        for key, in_kg, out_kg, origin in self._rows():
            if in_kg > 0:
                sums[key].add(in_kg, out_kg, origin)
        return {key: total.loss(key[0]) for key, total in sums.items()}

    def _rows(self) -> Iterator[tuple[Key, float, float, Origin]]:
        for row in self._shop.logs.weigh_ins:
            taken = row.kg - row.rejected_kg
            for donor in (row.donor, ""):
                yield ("hand-in", row.polymer, donor), row.kg, taken, row.origin
        for step, polymer, donors, in_kg, out_kg, origin in self._passages():
            yield (step, polymer, ""), in_kg, out_kg, origin
            if len(donors) == 1:
                yield (step, polymer, next(iter(donors))), in_kg, out_kg, origin

    # --- batches that went through a step whole

    @cached_property
    def weighed(self) -> Mapping[str, tuple[WeighIn, ...]]:
        """The weigh-ins that went into each label."""
        found: dict[str, list[WeighIn]] = defaultdict(list)
        for row in self._shop.logs.weigh_ins:
            if row.batch:
                found[row.batch].append(row)
        return {label: tuple(rows) for label, rows in found.items()}

    def _passages(self) -> Iterator[tuple[Step, str, frozenset[str], float, float, Origin]]:
        donors: dict[str, frozenset[str]] = {}
        for batch in self._shop.logs.batches:
            rows = self.weighed.get(batch.batch, ())
            donors[batch.batch] = frozenset(row.donor for row in rows)
            if rows and batch.step == "sorted" and not batch.made_from:
                taken = sum(row.kg - row.rejected_kg for row in rows)
                yield "sorting", batch.polymer, donors[batch.batch], taken, batch.kg, batch.origin
        for step, (before, after) in _PAIR.items():
            for batch in self._shop.logs.batches:
                made = self._passed(batch, before, after)
                if made is None:
                    continue
                donors[made[0].batch] = donors.get(batch.batch, frozenset())
                out_kg = sum(child.kg for child in made)
                for child in made:
                    donors[child.batch] = donors.get(batch.batch, frozenset())
                came = donors.get(batch.batch, frozenset())
                yield step, batch.polymer, came, batch.kg, out_kg, made[0].origin

    def _passed(self, batch: Batch, before: Condition, after: Condition) -> list[Batch] | None:
        """What a batch became at a step, where it alone became that and nothing else."""
        made = self._children.get(batch.batch, [])
        alone = all(c.step == after and len(c.made_from) == 1 for c in made)
        return made if batch.step == before and made and alone else None


def _default(step: Step, brings: Brings) -> Loss:
    """The shop's plan for the counter, the trade's range for the steps after it."""
    if step == "hand-in":
        written = brings.rejected_percent
        origin = brings.origin_of("rejected_percent")
        if written is None:
            return Loss(step, None, "unknown", origin)
        return Loss(step, written / 100, "written", origin)
    value = reference().limit(_KEYS[step])
    if step == "sorting" and brings.dirt != "dirty":
        return Loss(step, None, "unknown", brings.origin)
    return Loss(step, _of_range(value, step, brings) / 100, "tabled", value.source_record)


def _of_range(value: Value, step: Step, brings: Brings) -> float:
    """The range is for dirty bottles: what is cleaner loses what its low end says."""
    middling = step == "granulating" or brings.dirt == "dirty"
    return value.middle if middling else value.low


def chain(losses: Iterable[Loss]) -> float:
    r"""Share of a mass that is left after some steps [-].

    .. math:: y = \prod_i (1 - l_i)

    Parameters
    ----------
    losses
        Of each step, in any order.
    """
    return chain_of(1 - loss.kept for loss in losses)


def chain_of(shares_lost: Iterable[float]) -> float:
    """The same of shares that are lost [-]."""
    kept = 1.0
    for share in shares_lost:
        kept *= 1 - share
    return kept


def yield_kg(
    in_kg: float, shares_lost: Iterable[float], purge_kg: float = 0.0, after: float = 1.0
) -> float:
    r"""What is left of a mass after steps, a purge, and what follows it [kg].

    .. math:: m = \left(m_0 \prod_i (1 - l_i) - m_p\right) y

    Parameters
    ----------
    in_kg
        Mass at the start [kg].
    shares_lost
        Share each step loses before the purge [-].
    purge_kg
        Mass of the purge [kg].
    after
        Share of good parts among what is made [-].
    """
    return (in_kg * chain_of(shares_lost) - purge_kg) * after


def needed_kg(
    good_kg: float, shares_lost: Iterable[float], purge_kg: float = 0.0, after: float = 1.0
) -> float:
    r"""What must be taken in for a mass of good parts [kg], ``yield_kg`` turned round.

    .. math:: m_0 = \frac{m / y + m_p}{\prod_i (1 - l_i)}

    Parameters
    ----------
    good_kg
        Mass of good parts [kg].
    shares_lost, purge_kg, after
        As for ``yield_kg``.
    """
    return (good_kg / after + purge_kg) / chain_of(shares_lost)
