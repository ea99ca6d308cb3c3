"""How polymers are told apart, and how each stays itself from the door to the part."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from markupsafe import Markup

from generator.drawings import ladder
from generator.drawings.ink import to_svg
from generator.drawings.ladder import Level, Rung
from generator.ground.units import show, show_number
from generator.ground.wording import _
from generator.ground.working import Verdict
from generator.handbook.desk import Desk
from generator.handbook.page import Page
from generator.handbook.render import render
from generator.handbook.subjects import counted, verdict, worst_first
from generator.shop.records.machines import Machine
from generator.shop.records.material import Polymer
from generator.workings.apart import Bath, Pair, recipe
from generator.workings.purity import OUTCOME_WORDS, Change, Leg, Mixing, Outcome, Sharing

TELLING, PURITY = "material/telling-apart", "material/purity"
_WIDE, _NARROW = 760, 340


def pages(desk: Desk) -> Iterator[Page]:
    """Telling apart, and purity."""
    yield _telling(desk)
    yield _purity(desk)


# --- telling apart -----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Mixed:
    """A bath with how it is mixed and the pairs it parts, by what floats in it."""

    bath: Bath
    recipe: str
    parts: tuple[tuple[Polymer, tuple[Polymer, ...]], ...]
    in_key: bool


def _telling(desk: Desk) -> Page:
    study, shop = desk.studies.apart, desk.shop
    body = render(
        "telling-apart",
        TELLING,
        shop=shop,
        sentence=_telling_sentence(desk),
        steps=study.steps,
        recipe=recipe,
        ladder=_ladder(desk),
        baths=mixed(desk),
        inseparable=[p for p in study.pairs if p.standing == "not separable"],
        silent=[(shop.polymers[id_], why) for id_, why in study.silent.items()],
        cautions=study.cautions,
        findings=worst_first(study.survey.findings),
        workings=study.survey.workings,
    )
    return Page(TELLING, _("Telling apart"), "telling", "ML-04", body)


def _telling_sentence(desk: Desk) -> str:
    study = desk.studies.apart
    baths = [bath.name.lower() for bath in study.baths]
    says = _("Read the mark first: a bath only confirms it. No flame tests.")
    if not baths:
        return f"{says} {_('No bath parts what this shop meets.')}"
    tubs = _("{n} of {all} pairs part in a bath; the key needs {baths}.").format(
        n=sum(pair.standing == "parts" for pair in study.pairs), all=len(study.pairs),
        baths=_(" and ").join(baths),
    )  # fmt: skip
    return f"{says} {tubs}"


def mixed(desk: Desk) -> list[Mixed]:
    """Every bath that parts two polymers of the shop, those of the key first."""
    found: dict[Bath, list[Pair]] = {bath: [] for bath in desk.studies.apart.baths}
    for pair in desk.studies.apart.pairs:
        if pair.bath is not None:
            found.setdefault(pair.bath, []).append(pair)
    return [_mixed(desk, bath, pairs) for bath, pairs in found.items()]


def _mixed(desk: Desk, bath: Bath, pairs: Iterable[Pair]) -> Mixed:
    polymers = desk.shop.polymers
    sinks: dict[str, list[Polymer]] = defaultdict(list)
    for pair in pairs:
        sinks[pair.floats].append(polymers[pair.sinks])
    parts = tuple((polymers[id_], tuple(heavier)) for id_, heavier in sinks.items())
    return Mixed(bath, recipe(bath), parts, bath in desk.studies.apart.baths)


def _ladder(desk: Desk) -> dict[str, Markup]:
    """The density ladder for a wide screen and for a phone."""
    rungs, levels = list(_rungs(desk)), list(_levels(desk))
    return {
        kind: _unsearched(to_svg(ladder.draw(rungs, levels, width), f"ladder-{kind}", classes=kind))
        for kind, width in (("wide", _WIDE), ("narrow", _NARROW))
    }


def _unsearched(svg: str) -> Markup:
    """A drawing whose words, which the page says too, stay out of the search."""
    return Markup(svg.replace("<svg ", '<svg data-search-exclude="" ', 1))


def _rungs(desk: Desk) -> Iterator[Rung]:
    for id_, span in desk.studies.apart.spans.items():
        polymer = desk.shop.polymers[id_]
        never = bool(desk.refusals.polymer(id_))
        yield Rung(str(polymer.name), polymer.code, span.low, span.high, never)


def _levels(desk: Desk) -> Iterator[Level]:
    for row in mixed(desk):
        yield Level(row.bath.name, row.bath.density, dashed=not row.in_key)


# --- purity ------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Way:
    """Polymers that go one way through the room, and its legs."""

    polymers: tuple[Polymer, ...]
    on: tuple[Leg, ...]
    aside: tuple[Leg, ...]


@dataclass(frozen=True, slots=True)
class Shared:
    """A machine that several polymers share: each change, by what leaves and what comes."""

    machine: Machine
    polymers: tuple[Polymer, ...]
    changes: Mapping[tuple[str, str], Change]
    forbidden: tuple[str, ...]

    def how(self, leaves: Polymer) -> str:
        """What is done after a polymer, "" where nothing is written."""
        return next((c.how for (old, _new), c in self.changes.items() if old == leaves.id), "")


@dataclass(frozen=True, slots=True)
class Strays:
    """What strays of other polymers do to one: each outcome with those that have it."""

    host: Polymer
    outcomes: tuple[tuple[Outcome, tuple[tuple[Polymer, str, str], ...]], ...]


def _purity(desk: Desk) -> Page:
    study = desk.studies.purity
    findings = worst_first(study.survey.findings)
    body = render(
        "purity",
        PURITY,
        shop=desk.shop,
        severity=findings[0].severity if findings else "",
        verdict=verdict(findings),
        count=counted([study.survey]),
        turned_away=study.turned_away,
        shared=[_shared(desk, sharing) for sharing in study.sharings],
        strays=strays(desk),
        ways=ways(desk),
        clean_down=clean_down,
        outcome_words=outcome_words,
        findings=findings,
        workings=study.survey.workings,
    )
    return Page(PURITY, _("Purity"), "purity", "ML-05", body)


def _shared(desk: Desk, sharing: Sharing) -> Shared:
    shop = desk.shop
    open_ = [p for p in sharing.polymers if not desk.refusals.polymer(p)]
    return Shared(
        shop.machines[sharing.machine],
        tuple(shop.polymers[id_] for id_ in open_),
        {(c.leaves, c.comes): c for c in sharing.changes},
        sharing.forbidden,
    )


def clean_down(change: Change) -> str:
    """Minutes and grams of a change, or that neither is written."""
    words = [show(change.takes_min, "min")] if change.takes_min is not None else []
    if change.purge is not None and change.purge.own_kg is not None:
        words.append(show(1000 * change.purge.own_kg, "g", 0))
    return ", ".join(words) or _unwritten(change)


def _unwritten(change: Change) -> str:
    """What stands where neither minutes nor grams do."""
    if change.how:
        return _("no time written")
    return _("none asked") if change.verdict is Verdict.HOLDS else _("not written")


def strays(desk: Desk) -> list[Strays]:
    """The compatibility table, a polymer that is heated here at a time."""
    rows: dict[str, dict[Outcome, list[Mixing]]] = defaultdict(lambda: defaultdict(list))
    for row in desk.studies.purity.table:
        rows[row.host][row.outcome].append(row)
    hosts = (p for p in desk.shop.polymers.values() if p.status != "refused" and p.id in rows)
    return [_strays(desk, host, rows[host.id]) for host in hosts]


def _strays(desk: Desk, host: Polymer, rows: Mapping[Outcome, list[Mixing]]) -> Strays:
    outcomes = tuple(
        (outcome, tuple(_stray(desk, row) for row in rows[outcome]))
        for outcome in Outcome
        if outcome in rows
    )
    return Strays(host, outcomes)


def _stray(desk: Desk, row: Mixing) -> tuple[Polymer, str, str]:
    return desk.shop.polymers[row.minor], _limit(row), row.says


def _limit(row: Mixing) -> str:
    """How much is tolerated, where a figure is known."""
    most, least = row.limit_percent, row.strict_percent
    if not most:
        return ""
    if least is None or least == most:
        return _("up to {most}").format(most=show(most, "percent", 3))
    return _("up to {least} in the strictest use, {most} in the humblest").format(
        least=f"{show_number(least, 3)}\u202f%", most=show(most, "percent", 3)
    )


def outcome_words(outcome: Outcome) -> str:
    """What becomes of a batch with a stray in it."""
    return _(OUTCOME_WORDS[outcome])


def ways(desk: Desk) -> list[Way]:
    """The ways through the room, polymers that share all of one together."""
    groups: dict[tuple[Leg, ...], list[Polymer]] = defaultdict(list)
    for id_, legs in desk.studies.purity.paths.items():
        groups[tuple(_unnamed(leg) for leg in legs)].append(desk.shop.polymers[id_])
    return [
        Way(
            tuple(polymers),
            tuple(leg for leg in legs if not leg.aside),
            tuple(leg for leg in legs if leg.aside),
        )
        for legs, polymers in groups.items()
    ]


def _unnamed(leg: Leg) -> Leg:
    """A leg without whether its polymer is written there: the way is the same."""
    return Leg(leg.start, leg.to, leg.container, leg.what, leg.aside, named=False)
