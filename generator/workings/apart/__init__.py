"""How a piece is told from every other that this shop meets, and where no bath can tell.

Densities are those of the tables, widened by the shop's own, because what is brought is of any
grade. A bath keeps 10 kg/m³ from either side. No flame tests.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from generator.ground.finding import Finding, Severity
from generator.ground.survey import Survey, survey
from generator.ground.wording import _
from generator.ground.working import Quantity, Source, Verdict, Working
from generator.reference import Value, reference
from generator.reference.records import Inseparable
from generator.shop.records.material import Polymer
from generator.shop.shop import Shop
from generator.workings.apart.baths import Bath, bath_between, cautions, grams_per_litre, separates
from generator.workings.apart.key import Answer, Key, Step, recipe
from generator.workings.apart.pairs import Group, Pair, baths_of, groups, pairs, spans
from generator.workings.apart.spans import Span, why_silent
from generator.workings.heat import Refusals
from generator.workings.shown import given, tabled

__all__ = [
    "Answer",
    "ApartStudy",
    "Bath",
    "Expected",
    "Group",
    "Pair",
    "Span",
    "Step",
    "bath_between",
    "grams_per_litre",
    "recipe",
    "separates",
    "study",
]  # fmt: skip

_TEXTBOOK = Source("Textbook, Archimedes", "handbook")
Expected = Literal["floats", "sinks", "either", "not known"]
"""What a polymer does in a bath; ``either`` where some of its grades do and some do not."""


@dataclass(frozen=True)
class ApartStudy:
    """Everything worked out of telling polymers apart.

    ``steps`` is the key, ``baths`` those it needs from light to heavy, ``groups`` what they part.
    ``pairs`` holds every two polymers with the bath that parts them or why none does.
    ``expected`` says what each polymer does in each bath, to confirm a mark with. ``silent`` is
    why a bath says nothing of a polymer.
    """

    steps: tuple[Step, ...]
    baths: tuple[Bath, ...]
    groups: tuple[Group, ...]
    spans: Mapping[str, Span]
    pairs: tuple[Pair, ...]
    expected: Mapping[str, tuple[Expected, ...]]
    silent: Mapping[str, str]
    cautions: tuple[str, ...]
    survey: Survey

    def pair(self, one: str, other: str) -> Pair:
        """Two polymers by their ids. Raises KeyError where they are not two of the shop's."""
        for pair in self.pairs:
            if {pair.floats, pair.sinks} == {one, other}:
                return pair
        raise KeyError((one, other))


def study(shop: Shop) -> ApartStudy:
    """Work out how a shop tells its polymers apart.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    """
    refusals, margin = Refusals(shop), _margin()
    known = spans(shop.polymers.values())
    found = groups(shop.polymers, known, margin.middle)
    baths = baths_of(found, margin.middle)
    refused = frozenset(
        id_ for id_, p in shop.polymers.items() if p.status == "refused" or refusals.polymer(id_)
    )
    every = pairs(shop.polymers, known, baths, margin.middle)
    quiet = {p.id: why_silent(p) for p in shop.polymers.values() if p.id not in known}
    return ApartStudy(
        Key(shop.polymers, refused, found, baths).steps(), baths, found, known, every,
        {id_: tuple(_expected(known.get(id_), b, margin.middle) for b in baths)
         for id_ in shop.polymers},
        quiet, tuple(cautions([*baths, *(pair.bath for pair in every if pair.bath)])),
        _surveyed(shop, known, found, baths, every),
    )  # fmt: skip


def _margin() -> Value:
    return reference().limits["bath-margin"].values[0]


def _expected(span: Span | None, bath: Bath, margin: float) -> Expected:
    if span is None:
        return "not known"
    if span.high + margin <= bath.density:
        return "floats"
    return "sinks" if span.low - margin >= bath.density else "either"


def _surveyed(
    shop: Shop,
    known: Mapping[str, Span],
    found: Sequence[Group],
    baths: Sequence[Bath],
    every: Sequence[Pair],
) -> Survey:
    """Each two polymers are a check; what nobody knows the density of has no answer."""
    return survey(
        "apart",
        _workings(shop, known, found, baths),
        [*_told_by(shop, found), *_never_cleared(shop), *_not_separable(shop, every)],
        other_checks=len(every),
        other_unanswered=sum(pair.standing == "not known" for pair in every),
    )


# --- workings ----------------------------------------------------------------------------------


def _workings(
    shop: Shop, known: Mapping[str, Span], found: Sequence[Group], baths: Sequence[Bath]
) -> Iterator[Working]:
    for n, bath in enumerate(baths):
        light = max((i for g in found[: n + 1] for i in g.polymers), key=lambda i: known[i].high)
        heavy = min((i for g in found[n + 1 :] for i in g.polymers), key=lambda i: known[i].low)
        yield _margin_of(shop, known, bath, light, heavy)
        if bath.medium != "water":
            yield _mixed(bath)


def _margin_of(
    shop: Shop, known: Mapping[str, Span], bath: Bath, light: str, heavy: str
) -> Working:
    least = _margin()
    has = min(bath.density - known[light].high, known[heavy].low - bath.density)
    names = {"light": shop.polymers[light].name, "heavy": shop.polymers[heavy].name}
    return Working(
        f"apart.{light}.{heavy}.margin", f"polymers/{light}",
        _("Margin of {bath} between {light} and {heavy}").format(bath=bath.name.lower(), **names),
        _("margin = the smaller of bath less the densest that floats, and the lightest that sinks"
          " less bath"),
        (
            given(_("Bath"), bath.density, "kg/m³", _strength(bath)),
            known[light].as_input(_("Densest {light}").format(**names), known[light].high),
            known[heavy].as_input(_("Lightest {heavy}").format(**names), known[heavy].low),
        ),
        Quantity(has, "kg/m³"), Verdict.HOLDS if has >= least.middle - 1e-9 else Verdict.FAILS,
        Quantity(least.middle, "kg/m³"), least.source_record,
        Quantity(has - least.middle, "kg/m³"), bath.caution, _TEXTBOOK,
    )  # fmt: skip


def _strength(bath: Bath) -> Source:
    """Where the density of a strength comes from: the nearest row of its table."""
    points = reference().media[bath.medium].points
    near = min(points, key=lambda point: abs(point.density.middle - bath.density))
    return near.density.source_record


def _mixed(bath: Bath) -> Working:
    return Working(
        f"apart.{bath.medium}.{bath.density:.0f}.recipe", "material",
        _("{bath} to a litre of water for {density} kg/m³").format(
            bath=bath.name, density=f"{bath.density:.0f}"
        ),
        _("grams = mass of a litre of water × share / (100 - share)"),
        (
            given(_("Share by weight"), bath.share, "%", _strength(bath)),
            tabled(_("Water"), reference().media["water"].points[0].density),
        ),
        Quantity(bath.grams, "g"), caution=bath.caution, source=_TEXTBOOK,
    )  # fmt: skip


# --- findings ----------------------------------------------------------------------------------


def _told_by(shop: Shop, found: Sequence[Group]) -> Iterator[Finding]:
    """A polymer that is taken, that no bath tells alone, and of which nothing else is written."""
    for group in found:
        for id_ in group.polymers if len(group.polymers) > 1 else ():
            polymer = shop.polymers[id_]
            if polymer.status == "taken" and not polymer.tell_by:
                yield _untold(shop, polymer, group)


def _untold(shop: Shop, polymer: Polymer, group: Group) -> Finding:
    others = ", ".join(str(shop.polymers[i].name) for i in group.polymers if i != polymer.id)
    says = _(
        "No bath of the key tells {polymer} from {others}, and nothing is written how it is told."
    )
    return Finding(
        "apart.not-told", Severity.NOTE, polymer.origin,
        says.format(polymer=polymer.name, others=others),
        _("Write under `tell_by` how it feels, sounds and bends beside the others."),
        subject=f"polymers/{polymer.id}",
    )  # fmt: skip


def _never_cleared(shop: Shop) -> Iterator[Finding]:
    """What is taken and no bath clears of something that is never heated, here or not."""
    never = reference().never_heated_codes
    for polymer in shop.polymers.values():
        if polymer.status != "taken":
            continue
        for code in never:
            if row := reference().inseparable(polymer.code, code):
                yield _uncleared(polymer, code, row)


def _uncleared(polymer: Polymer, code: str, row: Inseparable) -> Finding:
    return Finding(
        "apart.never-cleared", Severity.FIX, polymer.origin_of("status"),
        _("{polymer} is taken, and no bath clears it of {code}. {why}").format(
            polymer=polymer.name, code=code, why=_(row.reason)
        ),
        _("Take only pieces whose own mark is read by two people, and refuse the rest."),
        subject=f"polymers/{polymer.id}",
    )  # fmt: skip


def _not_separable(shop: Shop, every: Sequence[Pair]) -> Iterator[Finding]:
    """Two polymers that are both taken and that no bath parts."""
    for pair in every:
        one, other = shop.polymers[pair.floats], shop.polymers[pair.sinks]
        if pair.standing != "not separable" or {one.status, other.status} != {"taken"}:
            continue
        says = _("{one} and {other} are not separable in a bath. {why}").format(
            one=one.name, other=other.name, why=pair.says
        )
        yield Finding(
            "apart.not-separable", Severity.NOTE, other.origin, says,
            _("Go by the mark, and by feel where the mark is worn."),
            subject=f"polymers/{other.id}",
        )  # fmt: skip
