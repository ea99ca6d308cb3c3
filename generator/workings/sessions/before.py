"""What is looked at and ticked before the doors open, and before a machine heats up."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ground.wording import _
from generator.shop.records.people import Procedure, Session
from generator.shop.shop import Shop
from generator.workings.sessions.demands import Demands, minute_of
from generator.workings.sessions.results import Check, Switching


def checks(
    shop: Shop, session: Session, demands: Demands, switching: tuple[Switching, ...]
) -> tuple[Check, ...]:
    """The checks of a session by the time they are due, the doors' own last."""
    found = [*_of_heat(shop, demands, switching), *_of_doors(shop, session)]
    return tuple(sorted(found, key=lambda check: check.by_min))


def _of_doors(shop: Shop, session: Session) -> Iterator[Check]:
    opens = minute_of(session.start)
    for member in session.staff:
        says = _("{n} {role} here, signed off in the register for today")
        role = shop.roles[member.role].name
        yield Check(f"staff-{member.role}", "doors", says.format(n=member.count, role=role), opens)
    for procedure in shop.procedures.values():
        if procedure.kind == "opening":
            for n, step in enumerate(procedure.steps, start=1):
                yield Check(f"{procedure.id}-{n}", "doors", str(step.do), opens)


def _of_heat(shop: Shop, demands: Demands, switching: tuple[Switching, ...]) -> Iterator[Check]:
    for switched in switching:
        machine = shop.machines[switched.machine]
        crew = demands.warmth[machine.id].authorised
        roles = ", ".join(str(shop.roles[role].name) for role in sorted(crew))
        says = _("Somebody authorised on {machine} is here and stays while it is hot: {roles}")
        yield _heat("crew", switched, says.format(machine=machine.name, roles=roles))
        for fan in _fans(shop, machine.station):
            yield _heat("fan", switched, _("{fan} runs and pulls").format(fan=fan))
        for stop in shop.cut_offs(machine.station):
            says = _("{stop} is free to reach").format(stop=stop.name)
            yield _heat(f"stop-{stop.id}", switched, says)
        for procedure in _runs(shop, machine.id):
            for n, step in enumerate(procedure.steps, start=1):
                if step.hold is not None and n == 1:
                    yield _heat(f"{procedure.id}-{n}", switched, str(step.hold.until))


def _heat(key: str, switched: Switching, says: str) -> Check:
    id_ = f"heat-{switched.machine}-{key}"
    return Check(id_, "heat", says, switched.on_min, switched.machine)


def _fans(shop: Shop, station: str) -> tuple[str, ...]:
    """Names of the fans that draw at a station's hoods."""
    fans = dict.fromkeys(h.fan for h in shop.room.hoods.values() if h.station == station)
    return tuple(str(shop.room.fans[fan].name) for fan in fans)


def _runs(shop: Shop, machine: str) -> Iterator[Procedure]:
    for procedure in shop.procedures.values():
        if procedure.kind == "run" and machine in procedure.machines:
            yield procedure
