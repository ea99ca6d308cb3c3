"""What a session's timetable is held to, in whole minutes: the one form that both the check and
the proposal work from, so that they cannot disagree.

Times that are no whole minutes are rounded up: what takes longer is never cut short.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
import hashlib
import json
import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from generator.reference import reference
from generator.shop.records.machines import Machine
from generator.shop.records.people import Activity, Session
from generator.shop.shop import Shop
from generator.workings.moulding import MouldingStudy
from generator.workings.moulding.melts import Melt
from generator.workings.power.sessions import used_by
from generator.workings.power.together import Allowance
from generator.workings.sessions.staffing import Crew, is_authorised, may_lead, standing_of

WalkMin = Callable[[str, str], int]
"""Minutes from a station to another."""


@dataclass(frozen=True, slots=True)
class Line:
    """A group at a task from a minute after midnight."""

    group: int
    task: str
    start: int


@dataclass(frozen=True)
class Task:
    """An activity as the timetable sees it.

    ``after`` are tasks that come first, each with the least time between. ``crew`` are the roles
    that may take charge, ``supervisors`` how many of them while any group is at it. ``tools`` are
    taken one of each a group. ``cools`` is how long a mould stays closed after a group has left.
    ``polymer`` is what is in its hot machines, None where nobody wrote it.
    """

    id: str
    takes: int
    groups: int
    must: bool
    station: str
    machines: tuple[str, ...]
    moulds: tuple[str, ...]
    tools: tuple[str, ...]
    after: tuple[tuple[str, int], ...]
    crew: Crew
    supervisors: int
    cools: int
    polymer: str | None
    blend: str | None


@dataclass(frozen=True)
class Warmth:
    """A machine that warms plastic: from switching on to ready, and from off to cold."""

    machine: str
    heat_up: int
    soak: int
    cool: int
    authorised: Crew

    @property
    def lead(self) -> int:
        return self.heat_up + self.soak


@dataclass(frozen=True)
class Fuse:
    """What carries current [mA]: the most, what always flows, and each machine's."""

    name: str
    subject: str
    most: int
    standing: int
    loads: Mapping[str, int]


@dataclass(frozen=True)
class Demands:
    """Everything a timetable must keep to.

    ``opens`` is when arrival is over and ``closes`` when tidying begins. ``holds`` is how long a
    polymer may stand hot in a machine between two uses. ``setups`` is the least time on a machine
    between two different tasks (mould change, purge).
    """

    session: str
    sizes: tuple[int, ...]
    opens: int
    closes: int
    break_min: int
    tasks: Mapping[str, Task]
    walks: Mapping[tuple[str, str], int]
    staff: Mapping[str, int]
    tools: Mapping[str, int]
    warmth: Mapping[str, Warmth]
    holds: Mapping[tuple[str, str], int]
    setups: Mapping[tuple[str, str], int]
    fuses: tuple[Fuse, ...]

    @property
    def groups(self) -> range:
        """The groups' numbers, from 1."""
        return range(1, len(self.sizes) + 1)

    @cached_property
    def must(self) -> tuple[Task, ...]:
        return tuple(task for task in self.tasks.values() if task.must)

    def walk(self, one: str, other: str) -> int:
        """Minutes from one task's station to another's."""
        start, end = self.tasks[one].station, self.tasks[other].station
        return self.walks.get((start, end), 0)

    def hold(self, machine: str, task: Task) -> int | None:
        """How long what a task leaves in a machine may stand hot; None where nobody knows."""
        return self.holds.get((machine, task.polymer)) if task.polymer else None

    def end(self, line: Line) -> int:
        return line.start + self.tasks[line.task].takes

    def with_(self, **changes: Any) -> Demands:
        return dataclasses.replace(self, **changes)


def digest(demands: Demands, lines: Iterable[Line]) -> str:
    """Twelve hex digits of SHA-256 over a session's demands and its timetable."""
    rows = sorted((line.start, line.group, line.task) for line in lines)
    text = json.dumps([_plain(demands), rows], sort_keys=True, ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()[:12]


def _plain(value: Any) -> Any:
    """Data that JSON writes the same way each time."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {f.name: _plain(getattr(value, f.name)) for f in dataclasses.fields(value)}
    if isinstance(value, Mapping):
        return sorted([_plain(key), _plain(entry)] for key, entry in value.items())
    if isinstance(value, frozenset):
        return sorted(value)
    return [_plain(entry) for entry in value] if isinstance(value, tuple) else value


# --- from the shop -----------------------------------------------------------------------------


def whole_min(minutes: float) -> int:
    """Whole minutes, rounded up."""
    return math.ceil(minutes - 1e-9)


def minute_of(time: dt.time) -> int:
    """Minutes after midnight."""
    return time.hour * 60 + time.minute


def lines_of(session: Session) -> tuple[Line, ...]:
    """The session's own timetable."""
    return tuple(Line(s.group, s.activity, minute_of(s.start)) for s in session.timetable)


def group_sizes(learners: int, groups: int) -> tuple[int, ...]:
    """Learners in each group, as even as they go, the larger groups first."""
    each, over = divmod(learners, groups)
    return tuple(each + (n < over) for n in range(groups))


class Reader:
    """Reads a session's demands out of a shop.

    Parameters
    ----------
    shop
        The shop.
    moulding
        Its moulding: cycles, and what a blend melts as.
    allowance
        What may run together.
    walk
        Minutes from a station to another, None where no aisle leads there.
    """

    def __init__(
        self,
        shop: Shop,
        moulding: MouldingStudy,
        allowance: Allowance,
        walk: Callable[[str, str], int | None],
    ) -> None:
        self.shop, self.moulding, self.allowance, self.walk = shop, moulding, allowance, walk

    def demands(self, session: Session) -> Demands:
        """What a session's timetable is held to."""
        shop, activities = self.shop, session.activities
        roles = dict.fromkeys(member.role for member in session.staff)
        stand = {role: standing_of(shop, shop.roles[role]) for role in roles}
        crews = {
            key: frozenset(role for role, held in stand.items() if may_lead(held, activity))
            for key, activity in activities.items()
        }
        tasks = {key: self._task(session, a, crews[key]) for key, a in activities.items()}
        machines = dict.fromkeys(m for task in tasks.values() for m in task.machines)
        hot = [shop.machines[m] for m in machines if shop.machines[m].is_hot]
        start, end = minute_of(session.start), minute_of(session.end)
        return Demands(
            session=session.id,
            sizes=group_sizes(session.learners.count, session.groups),
            opens=start + whole_min(session.arrival_min),
            closes=end - whole_min(session.tidy_min),
            break_min=whole_min(session.break_min),
            tasks=tasks,
            walks=self._walks(tasks.values()),
            staff=_counted(session),
            tools={t: shop.tools[t].count for task in tasks.values() for t in task.tools},
            warmth={
                m.id: _warmth(m, frozenset(r for r in roles if is_authorised(stand[r], m.id)))
                for m in hot
            },
            holds=self._holds(hot),
            setups=self._setups(tasks.values()),
            fuses=tuple(self._fuses(machines)),
        )

    def _task(self, session: Session, activity: Activity, crew: Crew) -> Task:
        machines = used_by(activity, self.shop)
        melt = self.melt_of(activity)
        return Task(
            id=activity.id,
            takes=whole_min(activity.takes_min),
            groups=activity.groups,
            must=activity.must,
            station=activity.station,
            machines=tuple(machine.id for machine in machines),
            moulds=activity.moulds,
            tools=activity.tools,
            after=tuple((a, self._gap(session, activity, a)) for a in activity.after),
            crew=crew,
            supervisors=activity.supervisors,
            cools=self._cools(activity),
            polymer=melt.host.id if melt else None,
            blend=activity.makes.blend if activity.makes else None,
        )

    def melt_of(self, activity: Activity) -> Melt | None:
        """What an activity melts, None where it makes nothing."""
        if activity.makes is None:
            return None
        return self.moulding.kit.melts.of_blend(self.shop.blends[activity.makes.blend])

    def _gap(self, session: Session, activity: Activity, before: str) -> int:
        """The gap as written, or what a mould takes to cool where that is longer."""
        cools = self._cools(session.activities[before]) if before in session.activities else 0
        return max(whole_min(activity.gap_min), cools)

    def _cools(self, activity: Activity) -> int:
        """How long a press's moulds cool beside it; an injector's cool in their cycle."""
        if all(m.process != "press" for m in used_by(activity, self.shop)):
            return 0
        times = (self.shop.moulds[m].cooling_s or 0.0 for m in activity.moulds)
        return whole_min(max(times, default=0.0) / 60)

    def _walks(self, tasks: Iterable[Task]) -> dict[tuple[str, str], int]:
        stations = dict.fromkeys(task.station for task in tasks)
        pairs = [(a, b) for a in stations for b in stations if a != b]
        return {(a, b): self.walk(a, b) or 0 for a, b in pairs}

    def _holds(self, hot: Iterable[Machine]) -> dict[tuple[str, str], int]:
        found = {}
        for machine in hot:
            for polymer in self.shop.polymers:
                longest = self.hold_min(machine, polymer)
                if longest is not None:
                    found[machine.id, polymer] = longest
        return found

    def hold_min(self, machine: Machine, polymer: str) -> int | None:
        """How long a polymer may stand hot: by the machine's setting, the shop, the tables."""
        setting = next((s for s in machine.settings if s.polymer == polymer), None)
        own = setting.hot_hold_min if setting else None
        own = own or self.shop.polymers[polymer].own.hot_hold_min
        known = reference().find_polymer(self.shop.polymers[polymer].code)
        tabled = known.longest_hot_hold.low if known and known.longest_hot_hold else None
        longest = own or tabled
        return None if longest is None else math.floor(longest + 1e-9)

    def _setups(self, tasks: Iterable[Task]) -> dict[tuple[str, str], int]:
        every = tuple(tasks)
        pairs = [(a, b) for a in every for b in every if a.id != b.id]
        shared = [(a, b) for a, b in pairs if set(a.machines) & set(b.machines)]
        return {(a.id, b.id): self._setup(a, b) for a, b in shared}

    def _setup(self, one: Task, other: Task) -> int:
        """Mould change and clean-down between two tasks on a machine, one after the other."""
        moulds = self.shop.moulds
        change = 0.0
        if set(one.moulds) != set(other.moulds):
            change = max((moulds[m].changes_in_min for m in other.moulds), default=0.0)
        cleaning = 0.0
        if one.blend and other.blend and one.blend != other.blend:
            settings = [
                setting.clean_down_takes_min or 0.0
                for m in set(one.machines) & set(other.machines)
                for setting in self.shop.machines[m].settings
                if setting.polymer == one.polymer
            ]
            cleaning = max(settings, default=0.0)
        return whole_min(change + cleaning)

    def _fuses(self, machines: Iterable[str]) -> Iterable[Fuse]:
        """The limits that this session's machines can break."""
        names = tuple(machines)
        for limit in self.allowance.limits:
            loads = {m: _milli_up(limit.loads_a[m]) for m in names if limit.loads_a.get(m)}
            standing = _milli_up(limit.standing_a)
            most = math.floor(limit.most_a * 1000 + 1e-6)
            if standing + sum(loads.values()) > most and loads:
                yield Fuse(limit.name, limit.subject, most, standing, loads)


def _milli_up(amps: float) -> int:
    return math.ceil(amps * 1000 - 1e-6)


def _counted(session: Session) -> dict[str, int]:
    staff: dict[str, int] = {}
    for member in session.staff:
        staff[member.role] = staff.get(member.role, 0) + member.count
    return staff


def _warmth(machine: Machine, authorised: Crew) -> Warmth:
    heat = machine.heat
    if heat is None:
        return Warmth(machine.id, 0, 0, 0, authorised)
    return Warmth(
        machine.id, whole_min(heat.heat_up_min), whole_min(heat.soak_min),
        whole_min(heat.cool_down_min), authorised,
    )  # fmt: skip
