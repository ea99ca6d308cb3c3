"""What lies on the desk while pages are made: the shop, what follows from it, and the date."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from generator.ground.finding import Finding, Severity
from generator.ground.survey import Survey
from generator.handbook.plans import Plans
from generator.shop.records.machines import Machine
from generator.shop.records.stations import Station, Use
from generator.shop.shop import Shop
from generator.workings import buildout, commissioning, intake
from generator.workings.buildout import BuildOut
from generator.workings.check import Studies
from generator.workings.commissioning import Commissioning
from generator.workings.heat import Refusals
from generator.workings.sight import Sight

_WORST_FIRST = (Severity.STOP, Severity.FIX, Severity.ASK, Severity.NOTE)


@dataclass(frozen=True)
class Desk:
    """The shop and everything worked out of it once, for all pages to share."""

    shop: Shop
    as_of: dt.date

    @cached_property
    def studies(self) -> Studies:
        """Everything worked out of the shop."""
        return Studies(self.shop, self.as_of)

    @property
    def refusals(self) -> Refusals:
        """What must not be heated, and what that stops."""
        return self.studies.refusals

    @cached_property
    def buildout(self) -> BuildOut:
        """The shop as it stands at each stage."""
        return buildout.study(self.shop, self.as_of, self.studies)

    @cached_property
    def plans(self) -> Plans:
        """The shop's drawings."""
        return Plans(self.shop, self.as_of)

    @cached_property
    def stock(self) -> Mapping[str, float]:
        """Mass of each polymer at the last count [kg]."""
        return intake.stock_by_polymer(self.shop)

    @cached_property
    def stock_by_lot(self) -> Mapping[str, Mapping[str, float]]:
        """Mass by polymer and colour at the last count [kg]."""
        return intake.stock_by_lot(self.shop)

    @cached_property
    def sight(self) -> Sight:
        """What can be seen from where."""
        return Sight(self.shop)

    @property
    def surveys(self) -> tuple[Survey, ...]:
        """Every subject looked at."""
        return self.studies.surveys

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Everything found, in file order."""
        return self.studies.findings

    @cached_property
    def _findings_on(self) -> Mapping[str, tuple[Finding, ...]]:
        by_subject: dict[str, list[Finding]] = {}
        for finding in self.findings:
            by_subject.setdefault(finding.subject, []).append(finding)
        return {subject: tuple(rows) for subject, rows in by_subject.items()}

    def findings_on(self, *subjects: str) -> tuple[Finding, ...]:
        """Findings about any of the records (``machines/platen-press``), worst first."""
        rows = [f for s in subjects for f in self._findings_on.get(s, ())]
        return tuple(sorted(rows, key=lambda f: _WORST_FIRST.index(f.severity)))

    def of_survey(self, survey: Survey) -> tuple[Finding, ...]:
        """One subject's findings, worst first."""
        return tuple(sorted(survey.findings, key=lambda f: _WORST_FIRST.index(f.severity)))

    @cached_property
    def unsigned(self) -> tuple[Commissioning, ...]:
        """Machines with an open line on their sheet before first use."""
        sheets = (commissioning.sheet_of(m) for m in self.shop.machines.values())
        return tuple(sheet for sheet in sheets if sheet.is_open)

    def is_out_of_use(self, machine: Machine) -> bool:
        """Whether nobody may use a machine for now."""
        return machine.out_of_use is not None and machine.out_of_use.since <= self.as_of

    def use_of(self, machine: Machine) -> Use:
        """Who may use a machine: its own rule, else its station's."""
        return machine.use or self.shop.stations[machine.station].use

    def subjects_at(self, station: Station) -> tuple[str, ...]:
        """The records whose findings belong on a station's page."""
        machines = self.shop.machines_at(station.id)
        return (f"stations/{station.id}", *(f"machines/{m.id}" for m in machines))
