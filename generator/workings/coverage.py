"""Is there somebody for every machine and every shift, and for how much longer?

Worked out of the register of competence for whoever runs ``benchleaf check``. What is found
names machines, roles and counts, never people.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.ground.finding import Finding, Severity
from generator.ground.survey import Survey, survey
from generator.ground.units import Period
from generator.ground.wording import _, day_words, ngettext
from generator.shop.competence import ROOM, Register, Sign
from generator.shop.records.logs import Shift
from generator.shop.records.machines import Machine
from generator.shop.records.people import Role
from generator.shop.records.refs import LADDER, Level
from generator.shop.shop import Shop
from generator.workings.stage import waits_for

_MONTH = Period(1, "month")
_ROOM_LEVELS = ("visitor", "inducted")
"""What being signed off in the room is enough for, whatever the machine."""


@dataclass(frozen=True, slots=True)
class Manned:
    """How many may use a machine alone on a day, and how many still may in a month."""

    machine: str
    needs: Level
    now: int
    in_a_month: int


@dataclass(frozen=True, slots=True)
class Short:
    """A moment of the rota at which not everybody wanted can be had."""

    shift: Shift
    wanted: int
    found: int


@dataclass(frozen=True, slots=True)
class Coverage:
    """Machines and shifts against the register."""

    machines: tuple[Manned, ...]
    short: tuple[Short, ...]
    survey: Survey


def study(shop: Shop, register: Register, as_of: dt.date) -> Coverage:
    """Hold machines and the rota from a day on against the register.

    Parameters
    ----------
    shop
        The shop.
    register
        Who may do what.
    as_of
        The day it is told against; shifts before it are past.
    """
    people = _by_person(register.signs)
    later = _MONTH.after(as_of) or as_of
    used = [m for m in shop.machines.values() if waits_for(shop, m) is None]
    manned = tuple(_manned(shop, m, people, as_of, later) for m in used)
    ahead = [s for s in shop.logs.rota if s.date >= as_of]
    short = tuple(_short_moments(shop, ahead, people))
    found = [f for row in manned for f in _of_machine(shop, row, later)]
    found += [_of_shift(shop, row) for row in short]
    found += _running_out(register.signs, as_of, later)
    moments = len({(s.date, s.start) for s in ahead})
    made = survey("competence", (), found, other_checks=len(manned) + moments)
    return Coverage(manned, short, made)


# --- who may -----------------------------------------------------------------------------------


def reaches(has: Level, needs: Level) -> bool:
    """Whether a level is enough for another. Maintainer stands apart, both ways."""
    if "maintainer" in (has, needs):
        return has == needs
    return LADDER.index(has) >= LADDER.index(needs)


def may(signs: Iterable[Sign], machine: str, needs: Level, day: dt.date) -> bool:
    """Whether somebody with these rows may use a machine at a level on a day."""
    places = {machine, ROOM} if needs in _ROOM_LEVELS else {machine}
    return any(s.machine in places and s.holds_on(day) and reaches(s.level, needs) for s in signs)


def may_fill(signs: Iterable[Sign], role: Role, day: dt.date) -> bool:
    """Whether somebody can stand in for a role: its machines, and the room where it has none."""
    rows = tuple(signs)
    if not role.needs:
        return any(s.holds_on(day) and s.level != "visitor" for s in rows)
    return all(may(rows, need.machine, need.level, day) for need in role.needs)


def _by_person(signs: Iterable[Sign]) -> Mapping[str, tuple[Sign, ...]]:
    people: dict[str, list[Sign]] = {}
    for sign in signs:
        people.setdefault(" ".join(sign.person.split()).casefold(), []).append(sign)
    return {person: tuple(rows) for person, rows in people.items()}


def _manned(
    shop: Shop,
    machine: Machine,
    people: Mapping[str, tuple[Sign, ...]],
    as_of: dt.date,
    later: dt.date,
) -> Manned:
    needs = (machine.use or shop.stations[machine.station].use).alone
    now = {who for who, rows in people.items() if may(rows, machine.id, needs, as_of)}
    then = {who for who in now if may(people[who], machine.id, needs, later)}
    return Manned(machine.id, needs, len(now), len(then))


# --- the rota ----------------------------------------------------------------------------------


def _short_moments(
    shop: Shop, shifts: Sequence[Shift], people: Mapping[str, tuple[Sign, ...]]
) -> Iterator[Short]:
    """Each start of a shift at which more are wanted at once than the register can fill."""
    for day, start in sorted({(s.date, s.start) for s in shifts}):
        running = [s for s in shifts if s.date == day and s.start <= start < s.end]
        roles = [shop.roles[s.role] for s in running for _n in range(s.count)]
        able = [[who for who, rows in people.items() if may_fill(rows, r, day)] for r in roles]
        found = most_filled(able)
        if found < len(roles):
            first = next(s for s in running if s.start == start)
            yield Short(first, len(roles), found)


def most_filled(able: Sequence[Sequence[str]]) -> int:
    """How many places can be filled at once when nobody fills two.

    Parameters
    ----------
    able
        For each place, who could fill it.

    References
    ----------
    Augmenting paths in a bipartite graph (Berge 1957).
    """
    holds: dict[str, int] = {}
    return sum(_placed(place, able, holds, set()) for place in range(len(able)))


def _placed(
    place: int, able: Sequence[Sequence[str]], holds: dict[str, int], tried: set[str]
) -> bool:
    for who in able[place]:
        if who in tried:
            continue
        tried.add(who)
        if who not in holds or _placed(holds[who], able, holds, tried):
            holds[who] = place
            return True
    return False


# --- what is found -----------------------------------------------------------------------------


def _of_machine(shop: Shop, row: Manned, later: dt.date) -> Iterator[Finding]:
    if row.needs == "visitor":
        return
    facts = {"machine": shop.machines[row.machine].name, "level": _(row.needs), "day": later}
    for rule, severity, says, mend in _told(row):
        yield Finding(
            f"coverage.{rule}",
            severity,
            shop.machines[row.machine].origin,
            says.format(**facts),
            mend.format(**facts),
            subject=f"machines/{row.machine}",
        )


def _told(row: Manned) -> Iterator[tuple[str, Severity, str, str]]:
    """What is wrong with who may use a machine, the worst of it."""
    if row.now == 0:
        says = _("Nobody in the register may use {machine} alone: it needs {level}.")
        mend = _("Sign somebody off before it is used, or leave it off.")
        yield "nobody", Severity.FIX, says, mend
    elif row.in_a_month == 0:
        says = _("After {day} nobody in the register may use {machine} alone.")
        yield "runs-out", Severity.FIX, says, _("Renew before then.")
    elif row.now == 1 and row.needs != "inducted":
        says = _("{machine} hangs on one person: nobody else in the register may use it alone.")
        yield "one-person", Severity.NOTE, says, _("Bring a second person to {level}.")


def _of_shift(shop: Shop, row: Short) -> Finding:
    shift = row.shift
    says = _(
        "On {day} at {time} the rota wants {wanted} people at once, and at most {found} in the "
        "register can fill those places ({role} begins)."
    ).format(
        day=day_words(shift.date),
        time=f"{shift.start:%H:%M}",
        wanted=row.wanted,
        found=row.found,
        role=shop.roles[shift.role].name,
    )
    mend = _("Sign more people off on the machines its roles need, or take shifts off the rota.")
    return Finding(
        "coverage.shift", Severity.FIX, shift.origin, says, mend, subject=f"roles/{shift.role}"
    )


def _running_out(signs: Sequence[Sign], as_of: dt.date, later: dt.date) -> Iterator[Finding]:
    """How many rows run out within a month and are not renewed by another, by machine."""
    ending: dict[str, list[Sign]] = {}
    for sign in signs:
        ends = sign.until is not None and as_of <= sign.until <= later
        if ends and not _renewed(sign, signs):
            ending.setdefault(sign.machine, []).append(sign)
    for machine, rows in ending.items():
        first = min(row.until for row in rows if row.until)
        says = ngettext(
            "{n} signature for {machine} runs out by {later}, the first on {first}.",
            "{n} signatures for {machine} run out by {later}, the first on {first}.",
            len(rows),
        ).format(n=len(rows), machine=machine, later=day_words(later), first=day_words(first))
        mend = _("Renew them, and write the new date under `until`.")
        subject = "" if machine == ROOM else f"machines/{machine}"
        yield Finding("coverage.ends", Severity.FIX, rows[0].origin, says, mend, subject=subject)


def _renewed(sign: Sign, signs: Iterable[Sign]) -> bool:
    """Whether another row of the same person carries the same level on."""
    return any(
        other.person == sign.person
        and other.machine == sign.machine
        and reaches(other.level, sign.level)
        and (other.until is None or (sign.until is not None and other.until > sign.until))
        for other in signs
    )
