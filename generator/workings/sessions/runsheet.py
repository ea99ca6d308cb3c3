"""A session minute by minute, as plain lines.

The run sheet, the cards, the board, the calendar and the files for other programs all tell from
them, so that they agree to the minute.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from generator.ground.wording import _, ngettext
from generator.shop.shop import Shop
from generator.workings.sessions.results import (
    HotStand,
    PlannedSlot,
    SessionStudy,
    Switching,
    clock,
)

Kind = Literal[
    "on", "hot", "doors", "ready", "move", "break", "purge", "off", "tidy", "end", "cold"
]
_ORDER: tuple[Kind, ...] = (
    "off", "purge", "on", "hot", "doors", "ready", "break", "move", "tidy", "end", "cold",
)  # fmt: skip
"""What comes first within a minute: heat goes off before anything else begins."""


@dataclass(frozen=True, slots=True)
class RunLine:
    """Something that happens at a minute after midnight.

    ``moves`` are the groups that begin an activity then; ``machine`` is "" where it is about none.
    """

    minute: int
    kind: Kind
    says: str
    machine: str = ""
    moves: tuple[PlannedSlot, ...] = ()

    @property
    def clock(self) -> str:
        return clock(self.minute)


def run_sheet(study: SessionStudy, shop: Shop) -> tuple[RunLine, ...]:
    """Everything that happens in a session, by the clock."""
    found = [*_of_the_day(study), *_of_heat(study, shop), *_moves(study)]
    return tuple(sorted(found, key=lambda line: (line.minute, _ORDER.index(line.kind))))


def _of_the_day(study: SessionStudy) -> Iterator[RunLine]:
    session = study.session
    yield RunLine(
        study.arrival.start_min, "doors",
        _("Doors open. Welcome, coats, glasses, briefing until {time}. Count heads.").format(
            time=clock(study.arrival.end_min)
        ),
    )  # fmt: skip
    for pause in study.breaks:
        says = _("Break for everybody until {time}. Count heads before going on.")
        yield RunLine(pause.start_min, "break", says.format(time=clock(pause.end_min)))
    if study.slots:
        yield RunLine(_tidying(study), "tidy", _("Everybody tidies up. Count tools and heads."))
    yield RunLine(study.tidy.end_min, "end", _("End of “{name}”").format(name=session.name))


def _tidying(study: SessionStudy) -> int:
    """When tidying begins: as planned, or once the last activity is over."""
    return max(study.tidy.start_min, study.finish_min or 0)


def _of_heat(study: SessionStudy, shop: Shop) -> Iterator[RunLine]:
    for switching in study.switching:
        yield from _switched(switching, shop, _checks(study, switching.machine))
    for stand in study.hot_stands:
        if stand.purge_by_min is not None:
            yield _purge(stand, shop)


def _checks(study: SessionStudy, machine: str) -> int:
    return sum(check.machine == machine for check in study.checks)


def _switched(s: Switching, shop: Shop, checks: int) -> Iterator[RunLine]:
    name = shop.machines[s.machine].name
    on = _("{machine} on").format(machine=name)
    if checks:
        on += ngettext(", after its {n} check", ", after its {n} checks", checks).format(n=checks)
    yield RunLine(s.on_min, "on", on, s.machine)
    if s.hot_min < s.ready_min:
        says = _("{machine} at its set point; it soaks until {time}")
        yield RunLine(
            s.hot_min, "hot", says.format(machine=name, time=clock(s.ready_min)), s.machine
        )
    yield RunLine(s.ready_min, "ready", _("{machine} ready").format(machine=name), s.machine)
    says = _("{machine} off and purged to empty").format(machine=name)
    yield RunLine(s.off_min, "off", says, s.machine)
    if s.cool_min > s.off_min:
        says = _("{machine} cold enough to leave").format(machine=name)
        yield RunLine(s.cool_min, "cold", says, s.machine)


def _purge(stand: HotStand, shop: Shop) -> RunLine:
    says = _("Purge {machine}: {polymer} would stand hot for {n} of at most {most} min").format(
        machine=shop.machines[stand.machine].name,
        polymer=shop.polymers[stand.polymer].name if stand.polymer else _("its plastic"),
        n=stand.span.minutes,
        most=stand.longest_min,
    )
    return RunLine(stand.purge_by_min or stand.span.end_min, "purge", says, stand.machine)


def _moves(study: SessionStudy) -> Iterator[RunLine]:
    for minute in sorted({slot.start_min for slot in study.slots}):
        moves = tuple(s for s in study.slots if s.start_min == minute)
        says = "; ".join(
            _("{group}: {what}").format(group=s.group, what=s.activity.name) for s in moves
        )
        yield RunLine(minute, "move", says, moves=moves)
