"""What a stray of one polymer does to another: refused at any share, downgraded, or tolerated."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from generator.ground.wording import N_, _
from generator.ground.working import Source
from generator.reference import reference
from generator.reference.records import Contaminant
from generator.shop.records.material import Polymer
from generator.shop.shop import Shop
from generator.workings.heat import Refusals


class Outcome(StrEnum):
    """What becomes of a batch with a stray in it."""

    MIXES = "mixes"
    DOWNGRADES = "downgrades"
    REFUSES = "refuses"
    UNKNOWN = "unknown"


OUTCOME_WORDS = {
    Outcome.MIXES: N_("gets on well"),
    Outcome.DOWNGRADES: N_("fit for humbler things above the share"),
    Outcome.REFUSES: N_("refuse the batch"),
    Outcome.UNKNOWN: N_("not known: keep apart"),
}


@dataclass(frozen=True, slots=True)
class Mixing:
    """What a stray of ``minor`` does to a batch of ``host``.

    ``limit_percent`` is how much is tolerated in the least demanding use, 0 for none; up to
    ``strict_percent`` in the most demanding. Each is None where no figure is known.
    """

    host: str
    minor: str
    outcome: Outcome
    says: str
    limit_percent: float | None
    strict_percent: float | None
    source: Source


def table(shop: Shop, refusals: Refusals) -> tuple[Mixing, ...]:
    """Every ordered pair of the shop's polymers that are not one material."""
    return tuple(_pairs(shop, refusals))


def _pairs(shop: Shop, refusals: Refusals) -> Iterator[Mixing]:
    hosts = [p for p in shop.polymers.values() if not refusals.polymer(p.id)]
    for host in hosts:
        for minor in shop.polymers.values():
            if host.id != minor.id:
                yield mixing(host, minor, refusals)


def mixing(host: Polymer, minor: Polymer, refusals: Refusals) -> Mixing:
    """What a stray of one polymer does to a batch of another."""
    match = reference().compatible(host.code, minor.code)
    if why := refusals.polymer(minor.id):
        return Mixing(host.id, minor.id, Outcome.REFUSES, why, 0.0, 0.0, match.source_record)
    rows = [row for row in reference().contaminants(host.code) if _names(row, minor)]
    shares = [_percent(row) for row in rows]
    low = min((share[0] for share in shares), default=None)
    high = max((share[1] for share in shares), default=None)
    grade = match.worst
    source = rows[0].most.source_record if rows else match.source_record
    return Mixing(host.id, minor.id, _outcome(grade, high), _words(grade), high, low, source)


def _names(row: Contaminant, minor: Polymer) -> bool:
    return bool(set(reference().identify(minor.code).bases) & set(row.minor))


def _percent(row: Contaminant) -> tuple[float, float]:
    factor = 1e-4 if row.most.unit == "ppm" else 1.0
    return row.most.low * factor, row.most.high * factor


def _outcome(grade: str | None, limit: float | None) -> Outcome:
    """G mixes; L, and N up to a share somebody found, downgrade; X and any other N refuse."""
    if grade is None:
        return Outcome.UNKNOWN
    if grade == "G":
        return Outcome.MIXES
    if grade == "X" or (grade == "N" and not limit):
        return Outcome.REFUSES
    return Outcome.DOWNGRADES


def _words(grade: str | None) -> str:
    return {
        "G": _("They mix or get on well."),
        "L": _("A small share is tolerated; more comes off in layers."),
        "N": _("They do not bond; the part is weak."),
        "X": _("A trace does damage."),
        None: _("The chart says nothing of the two."),
    }[grade]
