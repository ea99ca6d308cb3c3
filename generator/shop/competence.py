"""The register of who may do what: read by ``benchleaf check`` alone, and never published.

It holds names. Nothing that leads to a page, a file or an export may import this module.
"""

from __future__ import annotations

import datetime as dt
import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from generator.ground.csvfile import CsvRow
from generator.ground.finding import Finding, Severity
from generator.ground.origin import Origin
from generator.ground.wording import _
from generator.shop.folder import COMPETENCE, Written
from generator.shop.logs import read_log
from generator.shop.meant import no_such_id
from generator.shop.records.refs import Level
from generator.shop.references import Known
from generator.shop.shop import Shop

ROOM = "room"
"""Stands in the column ``machine`` for being in the room at all."""

SUBJECT = "logs/competence"


@dataclass(frozen=True, slots=True)
class Sign:
    """Somebody signed off (``competence.csv``). It lies beside shop.yml, `benchleaf check` reads
    it, and nothing of it is ever published.
    """

    origin: Origin
    person: str
    """The same for one person in every row; a number of the shop's own serves as well as a name."""
    machine: str
    """A machine's id, or `room` for being in the room at all."""
    level: Level
    since: dt.date
    """The first day it holds."""
    until: dt.date | None = None
    """The last day it holds; left out, it does not run out."""

    def holds_on(self, day: dt.date) -> bool:
        """Whether it holds on a day, its first and last included."""
        return self.since <= day and (self.until is None or day <= self.until)


@dataclass(frozen=True, slots=True)
class Register:
    """Every row that could be read, and the faults of those that could not."""

    signs: tuple[Sign, ...]
    faults: tuple[Finding, ...]


def read_register(folder: Path, shop: Shop) -> Register | None:
    """Read the shop's register, or None where it keeps none. Nothing raises."""
    if not os.path.lexists(folder / COMPETENCE):
        return None
    read = read_log(folder, "competence", Sign, Known(Written()))
    faults = [*read.faults]
    for sign in read.rows:
        faults += _faults_of(sign, read.cells[sign.origin], shop)
    return Register(read.rows, tuple(faults))


def _faults_of(sign: Sign, cells: CsvRow, shop: Shop) -> Iterator[Finding]:
    if sign.machine != ROOM and sign.machine not in shop.machines:
        error = no_such_id(sign.machine, "machines", (*shop.machines, ROOM))
        says = f"`machine`: {error.says}"
        origin = cells.origin_of("machine")
        yield _fault("unknown-id", origin, says, error.mend, error.example)
    if sign.until is not None and sign.until < sign.since:
        says = _("`until`: it runs out on {end}, before it begins on {start}.")
        says = says.format(end=sign.until, start=sign.since)
        mend = _("Correct one of the two.")
        yield _fault("ends-before", cells.origin_of("until"), says, mend, str(sign.since))


def _fault(rule: str, origin: Origin, says: str, mend: str, example: str) -> Finding:
    return Finding(f"data.{rule}", Severity.FAULT, origin, says, mend, example, SUBJECT)


def without_cells(fault: Finding) -> Finding:
    """A fault of the register without what stands in its cells, which may be a name."""
    if fault.origin.file != COMPETENCE:
        return fault
    says = _("This cell of the register cannot be read; `benchleaf check` shows it.")
    return Finding(fault.rule, fault.severity, fault.origin, says, subject=SUBJECT)
