"""Which liquid parts which two of the shop's polymers, or that none does."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

from generator.ground.units import show
from generator.ground.wording import _
from generator.reference import reference
from generator.shop.records.material import Polymer
from generator.workings.apart.baths import Bath, bath_between, separates
from generator.workings.apart.spans import Span, span_of, why_silent


@dataclass(frozen=True, slots=True)
class Pair:
    """Two polymers: ``bath`` parts them, ``floats`` and ``sinks`` are their ids.

    Where no bath does, ``says`` is why, and the two are in the order of the shop's file.
    """

    floats: str
    sinks: str
    standing: Literal["parts", "not separable", "not known"]
    bath: Bath | None
    says: str


@dataclass(frozen=True, slots=True)
class Group:
    """Polymers that no bath of the key parts from one another, the lightest group first; ``low``
    to ``high`` is how dense any of them comes [kg/m³]."""

    polymers: tuple[str, ...]
    low: float
    high: float


def spans(polymers: Iterable[Polymer]) -> dict[str, Span]:
    """How dense each polymer comes, of those of which a bath says anything."""
    found = ((polymer.id, span_of(polymer)) for polymer in polymers)
    return {id_: span for id_, span in found if span is not None}


def groups(
    polymers: Mapping[str, Polymer], known: Mapping[str, Span], margin: float
) -> tuple[Group, ...]:
    """The polymers by density, split wherever a bath parts all that is lighter from the rest.

    Not by a liquid that burns: what only such a liquid parts is told by mark and feel instead.
    """
    ordered = sorted(known, key=lambda id_: known[id_].low)
    made: list[list[str]] = []
    for id_ in ordered:
        lighter = [other for group in made for other in group]
        if made and not _parted(polymers, known, lighter, ordered[len(lighter) :], margin):
            made[-1].append(id_)
        else:
            made.append([id_])
    return tuple(
        Group(tuple(ids), min(known[i].low for i in ids), max(known[i].high for i in ids))
        for ids in made
    )


def _parted(
    polymers: Mapping[str, Polymer],
    known: Mapping[str, Span],
    lighter: Sequence[str],
    heavier: Sequence[str],
    margin: float,
) -> bool:
    """Whether one bath lies between all that is lighter and all that is heavier."""
    high = max(known[id_].high for id_ in lighter)
    low = min(known[id_].low for id_ in heavier)
    if bath_between(high, low, margin, burning=False) is None:
        return False
    codes = {(polymers[a].code, polymers[b].code) for a in lighter for b in heavier}
    return not any(reference().inseparable(one, other) for one, other in codes)


def baths_of(found: Sequence[Group], margin: float) -> tuple[Bath, ...]:
    """The bath between each group and the next heavier one."""
    between = (
        bath_between(
            max(g.high for g in found[: n + 1]),
            min(g.low for g in found[n + 1 :]),
            margin,
            burning=False,
        )
        for n in range(len(found) - 1)
    )
    return tuple(bath for bath in between if bath)


def pairs(
    polymers: Mapping[str, Polymer],
    known: Mapping[str, Span],
    baths: Sequence[Bath],
    margin: float,
) -> tuple[Pair, ...]:
    """Every two of the polymers, with the bath that parts them, one of ``baths`` if it does."""
    return tuple(_pairs(polymers, known, baths, margin))


def _pairs(
    polymers: Mapping[str, Polymer],
    known: Mapping[str, Span],
    baths: Sequence[Bath],
    margin: float,
) -> Iterator[Pair]:
    for one, other in combinations(polymers.values(), 2):
        if one.id not in known or other.id not in known:
            yield Pair(one.id, other.id, "not known", None, _why_silent(one, other, known))
            continue
        row = reference().inseparable(one.code, other.code)
        if row is not None:
            yield Pair(one.id, other.id, "not separable", None, _(row.reason))
            continue
        yield _of_two(one, other, known, baths, margin)


def _why_silent(one: Polymer, other: Polymer, known: Mapping[str, Span]) -> str:
    unknown = next(p for p in (one, other) if p.id not in known)
    return _("{polymer}: {why}").format(polymer=unknown.name, why=why_silent(unknown))


def _of_two(
    one: Polymer, other: Polymer, known: Mapping[str, Span], baths: Sequence[Bath], margin: float
) -> Pair:
    light, heavy = sorted((one.id, other.id), key=lambda id_: known[id_].low)
    high, low = known[light].high, known[heavy].low
    ready = [b for b in baths if separates(b.density, high, low, margin)]
    bath = ready[0] if ready else bath_between(high, low, margin)
    if bath is not None:
        return Pair(light, heavy, "parts", bath, "")
    return Pair(one.id, other.id, "not separable", None, _too_close(high, low, margin))


def _too_close(high: float, low: float, margin: float) -> str:
    if high >= low:
        return _("Their densities overlap.")
    if low - high < 2 * margin:
        says = _("Their densities come within {gap}, and a bath keeps {margin} from either.")
        return says.format(gap=show(low - high, "kgm3", 0), margin=show(margin, "kgm3", 0))
    return _("No liquid of these tables lies between them.")
