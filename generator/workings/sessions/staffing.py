"""Who of the staff may take charge of what, and whether enough of them are free at a moment.

A role is taken as held in full: every visit on the way into it is signed. Whether the people are
is for the register of competence, and is a check before the doors open.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations

from generator.shop.records.people import Activity, Role
from generator.shop.records.refs import LADDER, Level
from generator.shop.shop import Shop

Crew = frozenset[str]
"""Roles of a session's staff, any of whom may take charge."""

_IN_THE_ROOM: Level = "inducted"
"""What anybody on the staff is at a machine nobody signed them off for."""
_MAINTAINER: Level = "maintainer"
_USES = frozenset({"run", "changeover"})
"""Kinds of procedure by which a visit signs somebody off for a machine."""


@dataclass(frozen=True, slots=True)
class Standing:
    """The levels a role holds: in the room, and at each machine it is signed off for."""

    in_room: Level
    at: Mapping[str, Level]
    maintains: frozenset[str]

    def level_at(self, machine: str) -> Level:
        return self.at.get(machine, lower(self.in_room, _IN_THE_ROOM))


def lower(one: Level, other: Level) -> Level:
    """The lower of two levels of the ladder."""
    return min(one, other, key=LADDER.index)


def higher(one: Level, other: Level) -> Level:
    """The higher of two levels of the ladder."""
    return max(one, other, key=LADDER.index)


def standing_of(shop: Shop, role: Role) -> Standing:
    """What somebody in a role is signed off for, with the roles that come before it."""
    held = tuple(_held(shop, role, set()))
    in_room: Level = _IN_THE_ROOM
    at: dict[str, Level] = {}
    maintains = set()
    for machine, level in (sign for each in held for sign in _signs(shop, each)):
        if level == _MAINTAINER:
            maintains.add(machine)
        elif machine:
            at[machine] = higher(at.get(machine, level), level)
        else:
            in_room = higher(in_room, level)
    return Standing(in_room, at, frozenset(maintains))


def _held(shop: Shop, role: Role, seen: set[str]) -> Iterator[Role]:
    if role.id in seen:
        return
    seen.add(role.id)
    yield role
    for before in role.after:
        yield from _held(shop, shop.roles[before], seen)


def _signs(shop: Shop, role: Role) -> Iterator[tuple[str, Level]]:
    """Each machine with a level, and the room (``""``) with the level of each visit."""
    for need in role.needs:
        yield need.machine, need.level
    for visit in role.visits:
        yield "", visit.signs_off
        for procedure in (shop.procedures[id_] for id_ in visit.read):
            if procedure.kind in _USES:
                for machine in procedure.machines:
                    yield machine, visit.signs_off


def may_lead(standing: Standing, activity: Activity) -> bool:
    """Whether somebody of that standing may take charge of an activity."""
    wanted = activity.supervisor
    if wanted == _MAINTAINER:
        return bool(standing.maintains) and standing.maintains >= set(activity.machines)
    levels = [standing.level_at(m) for m in activity.machines] or [standing.in_room]
    return all(LADDER.index(level) >= LADDER.index(wanted) for level in levels)


def is_authorised(standing: Standing, machine: str) -> bool:
    """Whether somebody of that standing may run a machine alone."""
    return LADDER.index(standing.level_at(machine)) >= LADDER.index("authorised")


def short_of(wanted: Iterable[tuple[Crew, int]], staff: Mapping[str, int]) -> Crew | None:
    """The roles of whom there are too few, None where everybody wanted can be had.

    By Hall's theorem people can be found for all exactly when, for every union of crews, those
    wanted from inside it are no more than it has.
    """
    demands: dict[Crew, int] = {}
    for crew, count in wanted:
        demands[crew] = demands.get(crew, 0) + count
    for union in unions(demands):
        asked = sum(count for crew, count in demands.items() if crew <= union)
        if asked > sum(staff.get(role, 0) for role in union):
            return union
    return None


def unions(crews: Iterable[Crew]) -> tuple[Crew, ...]:
    """Every union of some crews, the smallest first."""
    distinct = tuple(dict.fromkeys(crews))
    found = {
        frozenset[str]().union(*chosen)
        for size in range(1, len(distinct) + 1)
        for chosen in combinations(distinct, size)
    }
    return tuple(sorted(found, key=lambda union: (len(union), sorted(union))))
