"""What stands still with a machine: what must stay cold, what is not done, made or held."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass

from generator.ground.finding import Finding, Severity
from generator.ground.survey import Survey, survey
from generator.ground.wording import _, day_words
from generator.shop.fields import Record
from generator.shop.records.machines import Machine
from generator.shop.records.material import Mould, Product
from generator.shop.records.people import Activity, Procedure, Session
from generator.shop.records.room import Equipment, Fan
from generator.shop.shop import Shop
from generator.workings.stage import waits_for


@dataclass(frozen=True, slots=True)
class Standstill:
    """What no longer goes while a machine is out of use.

    ``isolators`` are where its power is taken and the sign hangs; ``moulds`` fit no machine that
    is left.
    """

    machine: Machine
    isolators: tuple[Equipment, ...]
    without_it: tuple[Machine, ...]
    """Machines that must not run without it, such as hot ones without their fan."""
    procedures: tuple[Procedure, ...]
    sessions: tuple[tuple[Session, tuple[Activity, ...]], ...]
    """Sessions, each with the activities it loses."""
    moulds: tuple[Mould, ...]
    products: tuple[Product, ...]

    @property
    def stops_nothing(self) -> bool:
        """Whether nothing else that is written down stops."""
        lost = (self.without_it, self.procedures, self.sessions, self.moulds, self.products)
        return not any(lost)


def of(shop: Shop, machine: Machine) -> Standstill:
    """What no longer goes while a machine is out of use.

    Parameters
    ----------
    shop
        The shop.
    machine
        The machine; whatever else the shop has out of use counts as there.
    """
    along = _without_it(shop, machine)
    gone = {machine.id, *(m.id for m in along)}
    moulds = tuple(m for m in shop.moulds.values() if not _still_fits(shop, m, gone))
    idle = {m.id for m in moulds}
    products = tuple(p for p in shop.products.values() if p.mould in idle)
    lost = {p.id for p in products}
    return Standstill(
        machine,
        shop.isolators_of(machine.id),
        along,
        tuple(p for p in shop.procedures.values() if p.kind == "run" and gone & {*p.machines}),
        tuple((s, rows) for s in shop.sessions.values() if (rows := _lost(s, gone, lost))),
        moulds,
        products,
    )


def _without_it(shop: Shop, machine: Machine) -> tuple[Machine, ...]:
    """Hot machines under a hood of the fan that the room calls by the machine's id or name."""
    fans = {f.id for f in shop.room.fans.values() if _is(f, machine)}
    places = {h.station for h in shop.room.hoods.values() if h.fan in fans}
    return tuple(m for m in shop.machines.values() if m.station in places and m.is_hot)


def _is(fan: Fan, machine: Machine) -> bool:
    return machine.id == fan.id or str(machine.name) == str(fan.name)


def _still_fits(shop: Shop, mould: Mould, gone: set[str]) -> bool:
    """Whether a machine in use that it fits is left; a mould that has none is no loss."""
    fits = [m for m in mould.machines if waits_for(shop, shop.machines[m]) is None]
    return not fits or bool({*fits} - gone)


def _lost(session: Session, gone: set[str], products: set[str]) -> tuple[Activity, ...]:
    return tuple(
        activity
        for activity in session.activities.values()
        if gone & {*activity.machines} or (activity.makes and activity.makes.product in products)
    )


# --- out of use now ----------------------------------------------------------------------------


def out_now(shop: Shop, as_of: dt.date) -> tuple[Standstill, ...]:
    """The machines that are out of use on a day, each with what stands still with it."""
    return tuple(
        of(shop, m)
        for m in shop.machines.values()
        if m.out_of_use is not None and m.out_of_use.since <= as_of
    )


def survey_of(shop: Shop, as_of: dt.date) -> Survey:
    """Machines out of use on a day, and whatever would still use them."""
    found = [f for still in out_now(shop, as_of) for f in _findings(still)]
    return survey("standstill", (), found, other_checks=len(shop.machines))


def _findings(still: Standstill) -> Iterator[Finding]:
    machine = still.machine
    out = machine.out_of_use
    assert out is not None
    says = _("{machine} has been out of use since {day}: {because}")
    says = says.format(machine=machine.name, day=day_words(out.since), because=out.because)
    mend = _("Have it mended and tried, sign it off, and take `out_of_use` out of its record.")
    yield _finding("out", Severity.FIX, out, says, mend, f"machines/{machine.id}")
    for other in still.without_it:
        says = _("{other} must stay cold: {machine}, which takes its fumes, is out of use.")
        says = says.format(other=other.name, machine=machine.name)
        mend = _("Leave it off until the other runs again.")
        yield _finding("cold", Severity.STOP, out, says, mend, f"machines/{other.id}")
    for session, activities in still.sessions:
        for activity in activities:
            yield _in_session(still, session, activity)


def _in_session(still: Standstill, session: Session, activity: Activity) -> Finding:
    gone = {still.machine.id, *(m.id for m in still.without_it)}
    uses = bool(gone & {*activity.machines})
    says = _("“{activity}” in {session} does not go: {machine} is out of use.")
    says = says.format(activity=activity.name, session=session.name, machine=still.machine.name)
    mend = _("Leave the activity out, or put off the session.")
    severity = Severity.STOP if uses else Severity.FIX
    return _finding("session", severity, activity, says, mend, f"sessions/{session.id}")


def _finding(  # noqa: PLR0917 - the fields of a finding, in their order
    rule: str, severity: Severity, record: Record, says: str, mend: str, subject: str
) -> Finding:
    return Finding(f"standstill.{rule}", severity, record.origin, says, mend, subject=subject)
