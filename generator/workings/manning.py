"""Whether what a procedure says of people agrees with its station and its machines.

A sheet that asks for two where one is let in, or lets somebody run a machine who may not use it,
is followed by whoever reads it first.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.ground.finding import Finding, Severity
from generator.ground.survey import Survey, survey
from generator.ground.wording import _
from generator.shop.records.people import Procedure
from generator.shop.records.refs import LADDER, Level
from generator.shop.records.stations import Use
from generator.shop.shop import Shop


def survey_of(shop: Shop) -> Survey:
    """Hold every procedure against whoever its station and its machines let work there."""
    rows = tuple(shop.procedures.values())
    found = [f for procedure in rows for f in _findings(shop, procedure)]
    return survey("manning", (), found, other_checks=2 * len(rows))


def _findings(shop: Shop, procedure: Procedure) -> Iterator[Finding]:
    places = tuple(_uses(shop, procedure))
    narrow = [name for name, use in places if procedure.people > use.people]
    if narrow:
        says = _("“{procedure}” takes {n} people, and {place} lets fewer work there at once.")
        says = says.format(procedure=procedure.name, n=procedure.people, place=", ".join(narrow))
        mend = _("Correct `people` of the procedure or of the place.")
        yield _finding(procedure, "people", says, mend)
    low = [name for name, use in places if not may_do(procedure.level, use)]
    if procedure.kind == "run" and low:
        says = _("“{procedure}” may be done if {level}, and that is not enough for {place}.")
        level = _(procedure.level)
        says = says.format(procedure=procedure.name, level=level, place=", ".join(low))
        mend = _("Correct `level` of the procedure or `use` of the place.")
        yield _finding(procedure, "level", says, mend)


def _uses(shop: Shop, procedure: Procedure) -> Iterator[tuple[str, Use]]:
    """The places of a procedure: its machines, and its station where no machine stands for it."""
    machines = [shop.machines[id_] for id_ in procedure.machines]
    for machine in machines:
        yield str(machine.name), machine.use or shop.stations[machine.station].use
    if procedure.station and procedure.station not in {m.station for m in machines}:
        station = shop.stations[procedure.station]
        yield str(station.name), station.use


def may_do(level: Level, use: Use) -> bool:
    """Whether a level may use a place, alone or with somebody authorised beside."""
    lowest = [x for x in (use.alone, use.beside) if x in LADDER]
    if level == "maintainer":
        return True
    if use.alone == "maintainer":
        return False
    return LADDER.index(level) >= min(map(LADDER.index, lowest))


def _finding(procedure: Procedure, rule: str, says: str, mend: str) -> Finding:
    subject = f"procedures/{procedure.id}"
    return Finding(f"manning.{rule}", Severity.FIX, procedure.origin, says, mend, subject=subject)
