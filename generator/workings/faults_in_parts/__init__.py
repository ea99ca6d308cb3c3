"""What is wrong with a part, what the shop's own figures say of it, and the first thing to change.

One thing at a time: of all causes that the figures point to, the first in the fault's order is
the one to change; where they point to none, the first that no figure can rule out.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.survey import Survey, survey
from generator.ground.units import show
from generator.ground.wording import _
from generator.shop.records.logs import Trial
from generator.shop.shop import Shop
from generator.workings.faults_in_parts.asrun import AsRun, of_card, of_trial
from generator.workings.faults_in_parts.causes import STANDING_WORDS, Cause, Standing, tested
from generator.workings.faults_in_parts.words import (
    BY_KEY,
    FAULTS,
    Fault,
    fault_words,
    faults_named,
)
from generator.workings.moulding import MouldingStudy
from generator.workings.moulding import study as study_moulding

__all__ = [
    "FAULTS", "STANDING_WORDS", "Case", "Cause", "Fault", "FaultStudy", "Standing",
    "fault_words", "faults_named", "study",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Case:
    """One fault of one shot: every cause tested, in order, and the one thing to change first.

    ``mended_by`` is the next trial of the same machine, mould and blend that made good parts,
    ``and_with`` what was different in it, in words.
    """

    fault: Fault
    machine: str
    mould: str
    blend: str
    causes: tuple[Cause, ...]
    trial: Trial | None = None
    mended_by: Trial | None = None
    and_with: tuple[str, ...] = ()

    @property
    def first(self) -> Cause | None:
        """The cause to act on first; None where the figures rule out every one."""
        standings = (Standing.LIKELY, Standing.UNKNOWN)
        ordered = (c for standing in standings for c in self.causes if c.standing is standing)
        return next(ordered, None)

    @property
    def change(self) -> str:
        """The first single thing to change, "" where the figures rule out every cause."""
        return self.first.change if self.first else ""


@dataclass(frozen=True)
class FaultStudy:
    """Every fault a trial was logged with, and a guide that answers for any other.

    ``unread`` are failed trials whose fault is in none of the trade's words, or not written.
    """

    moulding: MouldingStudy
    cases: tuple[Case, ...]
    unread: tuple[Trial, ...]
    survey: Survey

    def of_fault(self, key: str) -> tuple[Case, ...]:
        """The logged cases of one fault."""
        return tuple(case for case in self.cases if case.fault.key == key)

    def guide(self, key: str, mould: str, machine: str, blend: str) -> Case | None:
        """A fault on parts run as the machine's card says; None where it is never heated.

        Raises KeyError where the fault or an id is not known.
        """
        shot = of_card(self.moulding, mould, machine, blend)
        return _case(BY_KEY[key], shot, blend) if shot else None


def study(shop: Shop, moulding: MouldingStudy | None = None) -> FaultStudy:
    """Work out the faults a shop has logged.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    moulding
        Its moulding where that is worked out already.
    """
    known = moulding or study_moulding(shop)
    bad = [trial for trial in shop.logs.trials if trial.fault or trial.result == "failed"]
    cases = tuple(case for trial in bad for case in _cases(known, trial))
    unread = tuple(trial for trial in bad if not faults_named(trial.fault))
    tests = [cause for case in cases for cause in case.causes]
    made = survey(
        "faults",
        (),
        [*_open(shop, cases), *(_unread(trial) for trial in unread)],
        other_checks=len(tests),
        other_unanswered=sum(cause.standing is Standing.UNKNOWN for cause in tests),
    )
    return FaultStudy(known, cases, unread, made)


def _cases(moulding: MouldingStudy, trial: Trial) -> Iterator[Case]:
    shot = of_trial(moulding, trial)
    if shot is not None:
        for fault in faults_named(trial.fault):
            yield _case(fault, shot, trial.blend)


def _case(fault: Fault, shot: AsRun, blend: str) -> Case:
    causes = tuple(c for c in (tested(key, shot) for key in fault.causes) if c)
    better = _mended(shot) if shot.trial else None
    different = tuple(_differences(shot.trial, better)) if shot.trial and better else ()
    return Case(
        fault, shot.run.machine.id, shot.run.mould.id, blend, causes, shot.trial, better, different
    )


def _mended(shot: AsRun) -> Trial | None:
    """The next good trial of the same blend."""
    bad = shot.trial
    assert bad is not None
    later = shot.study.kit.book.of_blend(bad.machine, bad.mould, bad.blend)
    at = (bad.date, bad.origin)
    return next((t for t in later if t.result == "good" and (t.date, t.origin) > at), None)


_COMPARED = (("melt_c", "c"), ("mould_c", "c"), ("pressure_mpa", "mpa"), ("cycle_s", "s"))


def _differences(bad: Trial, good: Trial) -> Iterator[str]:
    names = {
        "melt_c": _("melt"), "mould_c": _("mould"), "pressure_mpa": _("pressure"),
        "cycle_s": _("cycle"),
    }  # fmt: skip
    for field, unit in _COMPARED:
        before, after = getattr(bad, field), getattr(good, field)
        if before is not None and after is not None and before != after:
            yield _("{what} {before} to {after}").format(
                what=names[field], before=show(before, unit, 1), after=show(after, unit, 1)
            )


# --- findings ----------------------------------------------------------------------------------


def _open(shop: Shop, cases: Iterable[Case]) -> Iterator[Finding]:
    """The newest fault of each machine, mould and blend that no good trial followed."""
    newest: dict[tuple[str, str, str], Case] = {}
    for case in sorted((c for c in cases if c.trial and c.mended_by is None), key=_date):
        newest[case.machine, case.mould, case.blend] = case
    for case in newest.values():
        yield _of_case(shop, case)


def _date(case: Case) -> tuple[dt.date, Origin]:
    assert case.trial is not None
    return (case.trial.date, case.trial.origin)


def _of_case(shop: Shop, case: Case) -> Finding:
    trial = case.trial
    assert trial is not None
    says = _("Trial {trial}, {mould} in {blend} on {machine}: {fault}. {why}").format(
        trial=trial.trial, mould=shop.moulds[case.mould].name, blend=shop.blends[case.blend].name,
        machine=shop.machines[case.machine].name, fault=fault_words(trial.fault),
        why=f"{case.first.title}: {case.first.says}" if case.first else "",
    )  # fmt: skip
    return Finding(
        "faults.open", Severity.NOTE, trial.origin, says.strip(), case.change,
        subject=f"moulds/{case.mould}",
    )  # fmt: skip


def _unread(trial: Trial) -> Finding:
    says = _("Trial {trial} failed, and what was wrong with the part is not written.")
    if trial.fault:
        says = _("Trial {trial} calls its fault “{fault}”, which is none of the trade's words.")
    names = ", ".join(_(fault.name).lower() for fault in FAULTS)
    return Finding(
        "faults.unread", Severity.NOTE, trial.origin,
        says.format(trial=trial.trial, fault=trial.fault),
        _("Write one of these: {names}.").format(names=names),
        subject=f"moulds/{trial.mould}",
    )  # fmt: skip
