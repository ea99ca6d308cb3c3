"""How bad each hazard is, and whether anything controls it.

The matrix is likelihood 1 to 5 times severity 1 to 5; 1 to 4 is low, 5 to 9 medium, 10 to 16
high, 17 to 25 stop. A severity of 5 is always reviewed. The bands are a convention, not a law.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from enum import StrEnum

from generator.ground.finding import Finding, Severity
from generator.ground.survey import Survey, survey
from generator.ground.wording import _, day_words, ngettext
from generator.shop.records.machines import Machine
from generator.shop.records.people import Control, Hazard, Risk
from generator.shop.shop import Shop
from generator.workings.commissioning import CHECKS, sheet_of
from generator.workings.falling_due import State, next_due, state_of
from generator.workings.stage import waits_for


class Band(StrEnum):
    """What a score means."""

    STOP = "stop"
    HIGH = "high"
    MEDIUM = "medium"
    LOW = "low"


_LEAST_SCORE = {Band.STOP: 17, Band.HIGH: 10, Band.MEDIUM: 5, Band.LOW: 1}


def score(risk: Risk) -> int:
    """Likelihood times severity, 1 to 25."""
    return risk.likelihood * risk.severity


def band(risk: Risk) -> Band:
    """The band a risk falls into."""
    return next(b for b, least in _LEAST_SCORE.items() if score(risk) >= least)


def worst_first(shop: Shop) -> tuple[Hazard, ...]:
    """The hazards as they stand with their controls, highest first, ties in file order."""
    return tuple(sorted(shop.hazards.values(), key=lambda h: (-score(h.after), -h.after.severity)))


HIERARCHY = ("eliminate", "substitute", "engineer", "administer", "protect")
"""Kinds of control, the strongest first."""
_WEAK = frozenset({"administer", "protect"})
"""What holds only as long as people keep to it."""


def by_hierarchy(hazard: Hazard) -> tuple[tuple[str, tuple[Control, ...]], ...]:
    """A hazard's controls by kind, the strongest kind first; kinds it has none of are left out."""
    kinds = ((kind, tuple(c for c in hazard.controls if c.kind == kind)) for kind in HIERARCHY)
    return tuple((kind, controls) for kind, controls in kinds if controls)


def is_placed(control: Control) -> bool:
    """Whether a control says where it is: a procedure, equipment, a hood, a sign, a machine."""
    named = (control.procedure, control.equipment, control.hood, control.sign, control.machine)
    return any(named)


def survey_of(shop: Shop, as_of: dt.date | None = None) -> Survey:
    """Hazards that nothing strong enough controls, too high to open with, or due for review.

    Reviews are told against ``as_of``, and left out without it.
    """
    rows = tuple(shop.hazards.values())
    found = [f for h in rows for f in _as_they_stand(h)]
    if as_of is not None:
        found += [f for h in rows for f in _reviews(shop, h, as_of)]
    found += _unassessed(shop)
    checks = 4 if as_of is None else 6
    return survey("hazards", (), found, other_checks=checks * len(rows) + len(shop.machines))


def _unassessed(shop: Shop) -> Iterator[Finding]:
    """Machines in use that turn, cut or heat, of which no hazard says what they do to people."""
    for machine in shop.machines.values():
        hurts = machine.is_hot or machine.run_down_s or machine.guard_openings or machine.moves
        if hurts and waits_for(shop, machine) is None and not _has_hazard(shop, machine):
            says = _("Nothing in the register of hazards is about {machine}, which turns or heats.")
            yield Finding(
                "risk.unassessed",
                Severity.FIX,
                machine.origin,
                says.format(machine=machine.name),
                _("Write in hazards.yml how it can hurt somebody, and what keeps it from that."),
                subject=f"machines/{machine.id}",
            )


def _has_hazard(shop: Shop, machine: Machine) -> bool:
    return any(
        machine.id in hazard.machines or machine.station in hazard.stations
        for hazard in shop.hazards.values()
    )


def _as_they_stand(hazard: Hazard) -> Iterator[Finding]:
    yield from _uncontrolled(hazard)
    yield from _too_high(hazard)
    yield from _only_by_rule(hazard)
    yield from _nowhere(hazard)


def _found(hazard: Hazard, rule: str, severity: Severity, says: str, mend: str) -> Finding:
    """A finding about a hazard as a whole."""
    return Finding(
        f"risk.{rule}", severity, hazard.origin, says, mend, subject=f"hazards/{hazard.id}"
    )


def _only_by_rule(hazard: Hazard) -> Iterator[Finding]:
    kinds = {control.kind for control in hazard.controls}
    if not kinds or not kinds <= _WEAK or band(hazard.before) not in (Band.STOP, Band.HIGH):
        return
    says = _(
        "“{hazard}” scores {before} of 25 without controls, and only rules and what is worn "
        "stand against it."
    ).format(hazard=hazard.name, before=score(hazard.before))
    mend = _("Look for something stronger first: do away with it, replace it, or build a guard in.")
    severity = Severity.FIX if hazard.action is None else Severity.NOTE
    yield _found(hazard, "only-by-rule", severity, says, mend)


def _nowhere(hazard: Hazard) -> Iterator[Finding]:
    if hazard.controls and not any(map(is_placed, hazard.controls)):
        says = _("Nothing says where “{hazard}” is controlled.").format(hazard=hazard.name)
        mend = _("Name the procedure, equipment, hood, sign or machine beside one of its controls.")
        yield _found(hazard, "nowhere", Severity.NOTE, says, mend)


TO_REVIEW = frozenset({"risk.review-overdue", "risk.not-reviewed", "risk.changed-since"})
"""What asks for a hazard to be gone through again."""


# --- reviews -----------------------------------------------------------------------------------


def _reviews(shop: Shop, hazard: Hazard, as_of: dt.date) -> Iterator[Finding]:
    due = next_due(hazard.reviewed, hazard.review_every)
    if due and hazard.reviewed and state_of(due, as_of) is State.OVERDUE:
        says = _("“{hazard}” was to be reviewed by {due}; it was last on {last}.").format(
            hazard=hazard.name, due=day_words(due), last=day_words(hazard.reviewed)
        )
        mend = _("Go through it where it happens, and write the day under `reviewed`.")
        yield _found(hazard, "review-overdue", Severity.FIX, says, mend)
    elif due is None:
        yield _never_reviewed(hazard)
    yield from _changed_since(shop, hazard, as_of)


def _never_reviewed(hazard: Hazard) -> Finding:
    """A severity of 5 is always reviewed."""
    worst = max(hazard.before.severity, hazard.after.severity) == 5
    says = _("“{hazard}” has no date of review.").format(hazard=hazard.name)
    if worst:
        says = _("“{hazard}” can kill or maim (severity 5) and has no date of review.").format(
            hazard=hazard.name
        )
    mend = _("Review it, and write `reviewed` and `review_every`.")
    return _found(hazard, "not-reviewed", Severity.FIX if worst else Severity.NOTE, says, mend)


def _changed_since(shop: Shop, hazard: Hazard, as_of: dt.date) -> Iterator[Finding]:
    """Machines that were altered, or tried before first use, after the last review."""
    if hazard.reviewed is None:
        return
    mend = _("Review it with the machine as it is now.")
    last = day_words(hazard.reviewed)
    for machine in (shop.machines[m] for m in met_at(hazard)):
        facts = {"hazard": hazard.name, "last": last, "machine": machine.name}
        if checked := _checked_since(machine, hazard.reviewed):
            says = _("“{hazard}” was reviewed on {last}. Since then on {machine}: {checked}")
            says = says.format(checked=checked, **facts)
            yield _found(hazard, "changed-since", Severity.FIX, says, mend)
        for change in machine.altered:
            if hazard.reviewed < change.day <= as_of:
                says = _(
                    "“{hazard}” was reviewed on {last}, before {machine} was changed on {day}: "
                    "{what}"
                ).format(day=day_words(change.day), what=change.what, **facts)
                yield _found(hazard, "changed-since", Severity.FIX, says, mend)


def _checked_since(machine: Machine, reviewed: dt.date) -> str:
    """Which checks before first use were done since a day, and that others are open; else ""."""
    rows = [row for row in machine.first_heat if row.done and row.done > reviewed]
    if not rows:
        return ""
    checks, days = [_(CHECKS[row.check]) for row in rows], [row.done for row in rows if row.done]
    one_day = len(set(days)) == 1
    says = _("{checks} checked on {day}.") if one_day else _("{checks} checked, last on {day}.")
    says = says.format(checks=", ".join(checks), day=day_words(max(days)))
    waiting = len(sheet_of(machine).open)
    still = ngettext(
        "It is not signed off: {n} check before first use is open.",
        "It is not signed off: {n} checks before first use are open.",
        waiting,
    ).format(n=waiting)
    return f"{says} {still}" if waiting else says


def met_at(hazard: Hazard) -> tuple[str, ...]:
    """The machines a hazard is met at: those it names, and those its controls are part of."""
    controls = [control.machine for control in hazard.controls if control.machine]
    return tuple(dict.fromkeys([*hazard.machines, *controls]))


def _uncontrolled(hazard: Hazard) -> list[Finding]:
    if hazard.controls:
        return []
    return [
        Finding(
            "risk.uncontrolled",
            Severity.STOP if band(hazard.before) in (Band.STOP, Band.HIGH) else Severity.FIX,
            hazard.origin,
            _("Nothing controls “{hazard}”, scored {score} of 25.").format(
                hazard=hazard.name, score=score(hazard.before)
            ),
            _("Name what keeps it from hurting somebody under controls."),
            subject=f"hazards/{hazard.id}",
        )
    ]


def _too_high(hazard: Hazard) -> list[Finding]:
    if score(hazard.after) > score(hazard.before):
        says = _("“{hazard}” scores {after} with its controls and {before} without them.")
        severity = Severity.FIX
        mend = _("Check the figures under before and after.")
    elif band(hazard.after) is Band.STOP:
        says = _("“{hazard}” still scores {after} of 25 with its controls ({before} without).")
        severity = Severity.STOP
        mend = _("Do not do it until a stronger control brings the score below 17.")
    elif band(hazard.after) is Band.HIGH and hazard.action is None:
        says = _("“{hazard}” still scores {after} of 25 with its controls ({before} without).")
        severity = Severity.FIX
        mend = _("Say under action what is still to be done, by whom and when.")
    else:
        return []
    return [
        Finding(
            "risk.too-high",
            severity,
            hazard.origin_of("after"),
            says.format(hazard=hazard.name, after=score(hazard.after), before=score(hazard.before)),
            mend,
            subject=f"hazards/{hazard.id}",
        )
    ]
