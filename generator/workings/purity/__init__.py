"""Does each polymer stay itself from the door to the part, and what does a stray do to a batch?

Its way from container to container, the machines it shares with others and the clean-down between
them, what a contamination refuses or downgrades, and why what is turned away is turned away.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from generator.ground.finding import Finding, Severity
from generator.ground.survey import Survey, survey
from generator.ground.units import show
from generator.ground.wording import _
from generator.ground.working import Input, Quantity, Source, Verdict, Working
from generator.reference import reference
from generator.shop.records.machines import HOT_KINDS, Machine
from generator.shop.shop import Shop
from generator.workings.heat import Refusals
from generator.workings.purity import turned_away as away
from generator.workings.purity.changes import Change, Purge, Sharing, sharings
from generator.workings.purity.mixing import OUTCOME_WORDS, Mixing, Outcome, table
from generator.workings.purity.paths import Leg, Ways, reached
from generator.workings.purity.turned_away import TurnedAway, turned_away
from generator.workings.shown import at_station, given, own, tabled

__all__ = [
    "OUTCOME_WORDS", "Change", "Leg", "Mixing", "Outcome", "Purge", "PurityStudy", "Sharing",
    "TurnedAway", "study",
]  # fmt: skip

_MEETING_KINDS = frozenset({"granulator", "shredder", "wash-tub", "spin-dryer"}) | HOT_KINDS
"""Machines in which two materials that share a station do meet."""
_TEXTBOOK = Source("Textbook", "handbook")


@dataclass(frozen=True)
class PurityStudy:
    """Everything worked out of how materials are kept apart.

    ``paths`` holds the legs of each polymer by its id; ``table`` what a stray of each does to
    each, a host and a minor a row.
    """

    paths: Mapping[str, tuple[Leg, ...]]
    sharings: tuple[Sharing, ...]
    table: tuple[Mixing, ...]
    turned_away: tuple[TurnedAway, ...]
    survey: Survey

    def why_not(self, words: str) -> tuple[TurnedAway, ...]:
        """What is refused that somebody may mean by ``grey pipe``, with the answer in ``says``."""
        return away.named(self.turned_away, words)

    def mixing(self, host: str, minor: str) -> Mixing | None:
        """What a stray of one polymer does to another; None for a host that is never heated."""
        pairs = (row for row in self.table if (row.host, row.minor) == (host, minor))
        return next(pairs, None)


def study(shop: Shop) -> PurityStudy:
    """Work out how a shop keeps its materials apart.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    """
    refusals, ways = Refusals(shop), Ways(shop)
    paths = {id_: ways.legs(id_) for id_ in shop.polymers}
    shared = sharings(shop, refusals)
    changes = [change for sharing in shared for change in sharing.changes]
    made = survey(
        "purity",
        _workings(shop, changes),
        [*_meeting(shop, paths), *_changes(shop, changes), *_lost(shop, ways)],
        other_checks=len(changes) + len(shop.polymers),
        other_unanswered=sum(change.verdict is Verdict.UNANSWERED for change in changes),
    )
    return PurityStudy(paths, shared, table(shop, refusals), turned_away(shop, refusals), made)


# --- workings ----------------------------------------------------------------------------------


def _workings(shop: Shop, changes: list[Change]) -> Iterator[Working]:
    """The purge after each polymer, against the trade's, once a machine."""
    told: set[tuple[str, str]] = set()
    for change in changes:
        key = (change.machine, change.leaves)
        if change.purge is not None and change.purge.volumes is not None and key not in told:
            told.add(key)
            yield _purged(shop, change, change.purge)
    for change in changes:
        if change.purge is not None and change.purge.left_percent is not None:
            yield _left(shop, change, change.purge)


def _purged(shop: Shop, change: Change, purge: Purge) -> Working:
    machine, usual = shop.machines[change.machine], reference().limits["loss-purge"].values[0]
    volumes = purge.volumes or 0.0
    return Working(
        f"purity.{change.machine}.{change.leaves}.purge", f"machines/{change.machine}",
        _("Purge of {machine} after {polymer}").format(
            machine=machine.name, polymer=shop.polymers[change.leaves].name
        ),
        _("volumes = mass purged / (barrel × density as melt)"),
        (*_barrel(shop, machine, change), given(
            _("Usual"), usual.middle, _("barrel volumes"), usual.source_record
        )),
        Quantity(volumes, _("barrel volumes")),
        Verdict.HOLDS if volumes >= usual.low else Verdict.FAILS,
        Quantity(usual.low, _("barrel volumes")), usual.source_record,
        Quantity(volumes - usual.low, _("barrel volumes")), source=_TEXTBOOK,
    )  # fmt: skip


def _barrel(shop: Shop, machine: Machine, change: Change) -> Iterator[Input]:
    setting = next(s for s in machine.settings if s.polymer == change.leaves)
    known = reference().find_polymer(shop.polymers[change.comes].code)
    yield own(_("Purged"), setting, "purge_kg")
    yield own(_("Barrel"), machine.capacity, "barrel_cm3")
    if known is not None:
        yield tabled(_("Density as melt"), known.density_melt)


def _left(shop: Shop, change: Change, purge: Purge) -> Working:
    machine = shop.machines[change.machine]
    limit = change.mixing.limit_percent
    inputs = [*_barrel(shop, machine, change)]
    if limit is not None:
        inputs.append(given(_("What the new one tolerates"), limit, "%", change.mixing.source))
    return Working(
        f"purity.{change.machine}.{change.leaves}.{change.comes}.left",
        f"machines/{change.machine}",
        _("{old} left in {machine} at worst, before {new}").format(
            old=shop.polymers[change.leaves].name, machine=machine.name,
            new=shop.polymers[change.comes].name,
        ),
        _("share = e to the power of minus the barrel volumes, if the barrel mixed perfectly"),
        tuple(inputs), Quantity(purge.left_percent or 0.0, "%"),
        caution=_("What hangs behind a nozzle follows no formula. Look after the purge."),
        source=_TEXTBOOK,
    )  # fmt: skip


# --- findings ----------------------------------------------------------------------------------


def _meeting(shop: Shop, paths: Mapping[str, tuple[Leg, ...]]) -> Iterator[Finding]:
    """Stations with machines at which two materials that must never meet both arrive."""
    comes = {id_: reached(legs) for id_, legs in paths.items()}
    for station in shop.stations.values():
        kinds = {machine.kind for machine in shop.machines_at(station.id)}
        if not kinds & _MEETING_KINDS:
            continue
        codes = [shop.polymers[id_].code for id_, places in comes.items() if station.id in places]
        for danger in reference().never_together(codes, cold=True):
            yield Finding(
                "purity.never-together", Severity.STOP, station.origin,
                _("{one} and {other} both come to {station}. {reason}").format(
                    one=danger.codes[0], other=danger.codes[1],
                    station=at_station(shop, station.id), reason=_(danger.reason),
                ),
                _("Refuse one of them at the door, and name the polymers each handover carries."),
                subject=f"stations/{station.id}",
            )  # fmt: skip


def _changes(shop: Shop, changes: list[Change]) -> Iterator[Finding]:
    """Once for each machine, what leaves it and what is missing."""
    groups: dict[tuple[str, str], list[Change]] = {}
    for change in changes:
        if rule := _wrong(change):
            groups.setdefault((change.machine, rule), []).append(change)
    for (machine, rule), group in groups.items():
        yield _of_group(shop, shop.machines[machine], rule, group)


def _wrong(change: Change) -> str:
    """What is wrong with a change, "" where nothing is."""
    purge = change.purge
    if change.verdict is Verdict.FAILS:
        return "ruined" if change.mixing.limit_percent == 0.0 else "purge-short"
    if change.verdict is Verdict.UNANSWERED:
        return "no-purge" if change.how and purge is not None else "no-clean-down"
    nothing_holds = change.mixing.outcome is Outcome.REFUSES
    return "first-parts" if nothing_holds and purge is not None else ""


def _of_group(shop: Shop, machine: Machine, rule: str, group: list[Change]) -> Finding:
    says, mend, severity = _told(rule)
    stage = shop.stage_of(machine.station)
    if stage is not None and not stage.reached and severity is Severity.FIX:
        severity = Severity.NOTE  # nothing is run on it yet
    worst = max(group, key=lambda change: (change.purge and change.purge.left_percent) or 0.0)
    words = {
        "machine": machine.name,
        "old": _names(shop, (change.leaves for change in group)),
        "new": _names(shop, (change.comes for change in group)),
        "why": group[0].mixing.says,
        **_figures(worst.purge),
    }
    setting = next(s for s in machine.settings if s.polymer == group[0].leaves)
    return Finding(
        f"purity.{rule}", severity, setting.origin, says.format(**words), mend.format(**words),
        subject=f"machines/{machine.id}",
    )  # fmt: skip


def _told(rule: str) -> tuple[str, str, Severity]:
    """A finding in words, what would mend it, and how bad it is."""
    return {
        "no-clean-down": (
            _("{machine} runs {old} in turn with others, and no clean-down is written."),
            _("Write `clean_down` and how long it takes under the settings for {old}."),
            Severity.FIX,
        ),
        "ruined": (
            _("{machine} runs {old} and then {new}. A trace ruins the batch. {why}"),
            _("Keep {old} off the machine."),
            Severity.FIX,
        ),
        "no-purge": (
            _("{machine}: how much is purged after {old} is not written."),
            _("Write `purge` under the settings for {old}; {least} to {most} is usual."),
            Severity.NOTE,
        ),
        "purge-short": (
            _("{machine} is purged with {has} after {old}, less than one barrel ({least})."),
            _("Purge with {least} to {most}."),
            Severity.FIX,
        ),
        "first-parts": (
            _(
                "{machine} from {old} to {new}: no share is known to hold, and if the barrel mixed"
                " perfectly {left} would be left after {has}."
            ),
            _("Purge with {new} last, and break the first parts until one breaks clean."),
            Severity.NOTE,
        ),
    }[rule]


def _names(shop: Shop, ids: Iterable[str]) -> str:
    return ", ".join(str(shop.polymers[id_].name) for id_ in dict.fromkeys(ids))


def _figures(purge: Purge | None) -> dict[str, str]:
    if purge is None:
        return {"has": "", "least": "", "most": "", "left": ""}
    return {
        "left": show(purge.left_percent or 0.0, "percent", 0),
        "has": show(purge.own_kg or 0.0, "kg", 3),
        "least": show(purge.least_kg, "kg", 2),
        "most": show(purge.most_kg, "kg", 2),
    }


def _lost(shop: Shop, ways: Ways) -> Iterator[Finding]:
    """Polymers that one station takes in and the other does not say it gives."""
    for station, taken, polymers in ways.disagreements():
        names = ", ".join(str(shop.polymers[id_].name) for id_ in polymers)
        yield Finding(
            "purity.not-given", Severity.NOTE, taken.origin,
            _("{taker} takes {names} from {giver}, which does not say that it gives them.").format(
                taker=at_station(shop, station.id), names=names,
                giver=at_station(shop, taken.station or ""),
            ),
            _("Name them under `gives` there, or leave them out here."),
            subject=f"stations/{station.id}",
        )  # fmt: skip
