"""Before first heat: what must be signed before a machine is used at all."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.survey import Survey, survey
from generator.ground.wording import N_, _, ngettext
from generator.shop.records.machines import FirstHeatCheck, Machine
from generator.shop.records.people import Activity
from generator.shop.shop import Shop
from generator.workings.stage import waits_for

CHECKS = {
    "earth-continuity": N_("earth continuity"),
    "over-temperature-cut-out": N_("the over-temperature cut-out apart from the thermostat"),
    "emergency-stop": N_("the emergency stop"),
    "interlocks": N_("the interlocks"),
    "run-down-time": N_("the run-down time"),
    "no-restart": N_("no restart when power returns"),
    "guards": N_("the guards"),
}
"""What each check is about."""

_USES = ("run", "opening", "changeover")
"""Kinds of procedure that use a machine; upkeep and bad days do not wait for a signature."""


@dataclass(frozen=True, slots=True)
class Commissioning:
    """A machine's sheet: checks without a signature, and what its kind asks for and it lacks."""

    machine: Machine
    open: tuple[FirstHeatCheck, ...]
    missing: tuple[str, ...]

    @property
    def is_open(self) -> bool:
        """Whether something written on the sheet is not signed."""
        return bool(self.open)


def sheet_of(machine: Machine) -> Commissioning:
    """A machine's sheet as it stands."""
    written = {row.check for row in machine.first_heat}
    missing = tuple(check for check in asked_of(machine) if check not in written)
    return Commissioning(machine, tuple(r for r in machine.first_heat if not r.done), missing)


def asked_of(machine: Machine) -> tuple[str, ...]:
    """The checks that follow from what a machine is: earth, heat, run-down, emergency stop."""
    if machine.electric is None:
        return ()
    heats = machine.heat is not None
    turns = bool(machine.run_down_s)
    asked = {
        "earth-continuity": heats or turns,
        "over-temperature-cut-out": heats,
        "run-down-time": turns,
        "emergency-stop": machine.emergency_stop is True,
        "no-restart": heats or turns,
    }
    return tuple(check for check, needed in asked.items() if needed)


def survey_of(shop: Shop) -> Survey:
    """Every use of a machine whose sheet is not signed."""
    sheets = [sheet_of(machine) for machine in shop.machines.values()]
    found = [f for sheet in sheets for f in _findings(shop, sheet)]
    checks = sum(len(s.machine.first_heat) + len(s.missing) for s in sheets)
    silent = sum(len(s.missing) for s in sheets)
    return survey("commissioning", (), found, other_checks=checks, other_unanswered=silent)


def _findings(shop: Shop, sheet: Commissioning) -> Iterator[Finding]:
    waits = waits_for(shop, sheet.machine) is not None
    if sheet.open:
        yield _unsigned(sheet, waits=waits)
        if not waits:
            yield from _in_procedures(shop, sheet)
            yield from _in_sessions(shop, sheet)
    if sheet.missing and not waits:
        yield _not_on_sheet(sheet)


def _listed(checks: tuple[str, ...]) -> str:
    return ", ".join(_(CHECKS[check]) for check in checks)


def _unsigned(sheet: Commissioning, *, waits: bool) -> Finding:
    count = len(sheet.open)
    says = ngettext(
        "{machine} must not be used: {n} check before first use is not signed ({checks}).",
        "{machine} must not be used: {n} checks before first use are not signed ({checks}).",
        count,
    ).format(
        machine=sheet.machine.name, n=count, checks=_listed(tuple(r.check for r in sheet.open))
    )
    mend = _("Have them done and write the day under `done`; until then it stays off.")
    severity = Severity.NOTE if waits else Severity.STOP
    return _finding("unsigned", severity, sheet.open[0].origin, says, mend, _at(sheet))


def _at(sheet: Commissioning) -> str:
    return f"machines/{sheet.machine.id}"


def _not_on_sheet(sheet: Commissioning) -> Finding:
    says = _("{machine} has no line on its sheet before first use for {checks}.")
    says = says.format(machine=sheet.machine.name, checks=_listed(sheet.missing))
    mend = _("Have it tried and write it under `first_heat` with its day.")
    return _finding("not-on-sheet", Severity.NOTE, sheet.machine.origin, says, mend, _at(sheet))


def _in_procedures(shop: Shop, sheet: Commissioning) -> Iterator[Finding]:
    for procedure in shop.procedures.values():
        if sheet.machine.id in procedure.machines and procedure.kind in _USES:
            says = _("Procedure “{procedure}” uses {machine}, which is not signed off.")
            yield _finding(
                "used",
                Severity.STOP,
                procedure.origin,
                says.format(procedure=procedure.name, machine=sheet.machine.name),
                _("Sign the machine off first, or take it out of the procedure."),
                f"procedures/{procedure.id}",
            )


def _in_sessions(shop: Shop, sheet: Commissioning) -> Iterator[Finding]:
    for session in shop.sessions.values():
        for activity in session.activities.values():
            if sheet.machine.id in activity.machines or _is_made_on(shop, sheet, activity):
                says = _("“{activity}” in {session} uses {machine}, which is not signed off.")
                says = says.format(
                    activity=activity.name, session=session.name, machine=sheet.machine.name
                )
                mend = _("Sign the machine off first, or leave the activity out.")
                yield _finding(
                    "used", Severity.STOP, activity.origin, says, mend, f"sessions/{session.id}"
                )


def _is_made_on(shop: Shop, sheet: Commissioning, activity: Activity) -> bool:
    """Whether what an activity makes can be made on no other machine that is in use."""
    if activity.makes is None:
        return False
    mould = shop.moulds[shop.products[activity.makes.product].mould]
    there = {m for m in mould.machines if waits_for(shop, shop.machines[m]) is None}
    return there == {sheet.machine.id}


def _finding(  # noqa: PLR0917 - the fields of a finding, in their order
    rule: str, severity: Severity, origin: Origin, says: str, mend: str, subject: str
) -> Finding:
    return Finding(f"commissioning.{rule}", severity, origin, says, mend, subject=subject)
