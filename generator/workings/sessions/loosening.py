"""The demands of a session one by one, each as something that could be let go of.

What stays in any case: a group is at one activity at a time, each takes as long as it takes, and
nothing begins before arrival is over.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import combinations

from generator.ground.wording import _, ngettext
from generator.workings.sessions.demands import Demands, Task
from generator.workings.sessions.results import clock
from generator.workings.sessions.telling import Teller, listed, minutes

_ANYBODY = frozenset({"*"})
_PLENTY = 99
_LATER_MIN = 60
"""How much later everything may end where the end is let go of."""


@dataclass(frozen=True)
class Held:
    """One demand: its words, and the demands of the session without it."""

    key: str
    says: str
    without: Callable[[Demands], Demands]


def held_to(teller: Teller) -> tuple[Held, ...]:
    """Everything a session's timetable is held to that somebody could let go of."""
    return (
        *_times(teller),
        *_of_tasks(teller),
        *_of_pairs(teller),
        *_of_people(teller),
        *_of_things(teller),
    )


def without(demands: Demands, dropped: list[Held] | tuple[Held, ...]) -> Demands:
    """The demands without some of them."""
    for held in dropped:
        demands = held.without(demands)
    return demands


def changed(demands: Demands, id_: str, change: Callable[[Task], Task]) -> Demands:
    """The demands with one task changed, where it is still to be done."""
    if id_ not in demands.tasks:
        return demands
    return demands.with_(tasks={**demands.tasks, id_: change(demands.tasks[id_])})


# --- time --------------------------------------------------------------------------------------


def _times(t: Teller) -> Iterator[Held]:
    demands = t.demands
    says = _("everything is over by {clock}, when tidying begins")
    yield Held(
        "tidy",
        says.format(clock=clock(demands.closes)),
        lambda d: d.with_(closes=d.closes + _LATER_MIN),
    )
    if demands.break_min:
        says = _("everybody has a break of {length} at once")
        length = minutes(demands.break_min)
        yield Held("break", says.format(length=length), lambda d: d.with_(break_min=0))
    if any(demands.walks.values()):
        says = _("a walk from station to station takes up to {most}")
        says = says.format(most=minutes(max(demands.walks.values())))
        yield Held("walk", says, lambda d: d.with_(walks={}))


# --- tasks -------------------------------------------------------------------------------------


def _of_tasks(t: Teller) -> Iterator[Held]:
    for task in t.demands.tasks.values():
        if task.must:
            yield _must(t, task)
        if task.groups < len(t.demands.sizes):
            yield _capacity(t, task)
        for before, gap in task.after:
            yield _order(t, task, before, gap)
        if task.cools:
            yield _cooling(t, task)


def _must(t: Teller, task: Task) -> Held:
    says = _("every group does {activity}, {takes}").format(
        activity=t.task(task.id), takes=minutes(task.takes)
    )
    return Held(f"must:{task.id}", says, lambda d: _left_out(d, task.id))


def _left_out(demands: Demands, id_: str) -> Demands:
    """A task nobody does, and that nothing waits for."""
    left = {
        key: replace(task, after=tuple(pair for pair in task.after if pair[0] != id_))
        for key, task in demands.tasks.items()
        if key != id_
    }
    return demands.with_(tasks=left)


def _capacity(t: Teller, task: Task) -> Held:
    says = ngettext(
        "{activity} takes {n} group at once", "{activity} takes {n} groups at once", task.groups
    ).format(activity=t.task(task.id), n=task.groups)
    count = len(t.demands.sizes)
    return Held(
        f"capacity:{task.id}",
        says,
        lambda d: changed(d, task.id, lambda x: replace(x, groups=count)),
    )


def _order(t: Teller, task: Task, before: str, gap: int) -> Held:
    says = _("{other} comes after {one}")
    if gap:
        says = _("{other} comes after {one}, at least {gap} later")
    says = says.format(other=t.task(task.id), one=t.task(before), gap=minutes(gap))

    def drop(x: Task) -> Task:
        return replace(x, after=tuple(pair for pair in x.after if pair[0] != before))

    return Held(f"order:{before}:{task.id}", says, lambda d: changed(d, task.id, drop))


def _cooling(t: Teller, task: Task) -> Held:
    says = _("moulds cool for {cools} after {activity}")
    says = says.format(cools=minutes(task.cools), activity=t.task(task.id))
    return Held(
        f"mould:{task.id}", says, lambda d: changed(d, task.id, lambda x: replace(x, cools=0))
    )


# --- what two tasks share ----------------------------------------------------------------------


def _of_pairs(t: Teller) -> Iterator[Held]:
    for one, other in combinations(t.demands.tasks.values(), 2):
        both = listed([t.task(one.id), t.task(other.id)])
        if one.station == other.station:
            says = _("{both} are at one station, {station}")
            says = says.format(both=both, station=t.station(one.station))
            yield Held(f"station:{one.id}:{other.id}", says, _own_station(other.id))
        for machine in sorted(set(one.machines) & set(other.machines)):
            says = _("{both} need the one {machine}").format(both=both, machine=t.machine(machine))
            yield Held(f"machine:{one.id}:{other.id}", says, _own_machine(other.id, machine))
        for mould in sorted(set(one.moulds) & set(other.moulds)):
            says = _("{both} need the one mould {mould}").format(both=both, mould=t.mould(mould))
            yield Held(f"mould:{one.id}:{other.id}", says, _own_mould(other.id, mould))


def _own_station(id_: str) -> Callable[[Demands], Demands]:
    return lambda d: changed(d, id_, lambda x: replace(x, station=f"{x.station}*{id_}"))


def _own_mould(id_: str, mould: str) -> Callable[[Demands], Demands]:
    def drop(task: Task) -> Task:
        return replace(task, moulds=tuple(m for m in task.moulds if m != mould))

    return lambda d: changed(d, id_, drop)


def _own_machine(id_: str, machine: str) -> Callable[[Demands], Demands]:
    """A second machine of the kind, for one task alone."""
    twin = f"{machine}*{id_}"

    def give(demands: Demands) -> Demands:
        if id_ not in demands.tasks:
            return demands
        names = tuple(twin if m == machine else m for m in demands.tasks[id_].machines)
        given = changed(demands, id_, lambda x: replace(x, machines=names))
        warmth = dict(given.warmth)
        if machine in warmth:
            warmth[twin] = replace(warmth[machine], machine=twin)
        holds = {(twin, p): n for (m, p), n in given.holds.items() if m == machine}
        fuses = tuple(
            replace(f, loads={**f.loads, twin: f.loads[machine]}) if machine in f.loads else f
            for f in given.fuses
        )
        return given.with_(warmth=warmth, holds={**given.holds, **holds}, fuses=fuses)

    return give


# --- people ------------------------------------------------------------------------------------


def _of_people(t: Teller) -> Iterator[Held]:
    leads = frozenset[str]().union(*(task.crew for task in t.demands.tasks.values()))
    for role, count in t.demands.staff.items():
        if role in leads:
            yield _staff(t, role, count)
    for task in t.demands.tasks.values():
        if not task.crew & set(t.demands.staff):
            says = _("nobody on the staff may take charge of {activity}")
            says = says.format(activity=t.task(task.id))
            yield Held(f"charge:{task.id}", says, _led_by_anybody(task.id))
    for warmth in t.demands.warmth.values():
        if not warmth.authorised & set(t.demands.staff):
            says = _("nobody on the staff is authorised on {machine}")
            says = says.format(machine=t.machine(warmth.machine))
            yield Held(f"attended:{warmth.machine}", says, _attended_by_anybody(warmth.machine))


def _staff(t: Teller, role: str, count: int) -> Held:
    says = _("the staff has {n} {role}").format(n=count, role=t.role(role))
    return Held(f"staff:{role}", says, lambda d: d.with_(staff={**d.staff, role: _PLENTY}))


def _led_by_anybody(id_: str) -> Callable[[Demands], Demands]:
    def free(demands: Demands) -> Demands:
        freed = changed(demands, id_, lambda x: replace(x, crew=_ANYBODY))
        return freed.with_(staff={**freed.staff, "*": _PLENTY})

    return free


def _attended_by_anybody(machine: str) -> Callable[[Demands], Demands]:
    def free(demands: Demands) -> Demands:
        warmth = replace(demands.warmth[machine], authorised=_ANYBODY)
        staff = {"*": _PLENTY, **demands.staff}
        return demands.with_(warmth={**demands.warmth, machine: warmth}, staff=staff)

    return free


# --- things ------------------------------------------------------------------------------------


def _of_things(t: Teller) -> Iterator[Held]:
    for tool, count in t.demands.tools.items():
        says = ngettext("there is {n} of {tool}", "there are {n} of {tool}", count)
        says = says.format(n=count, tool=t.tool(tool))
        yield Held(f"tools:{tool}", says, _plenty_of(tool))
    for n, fuse in enumerate(t.demands.fuses):
        names = listed([t.machine(m) for m in fuse.loads])
        says = _("{machines} must not all run at once on {fuse}")
        yield Held(f"power:{n}", says.format(machines=names, fuse=fuse.name), _unfused(fuse.name))
    for machine in t.demands.warmth:
        longest = [n for (m, _p), n in t.demands.holds.items() if m == machine]
        if longest:
            says = _("plastic stands hot in {machine} for {longest} at most")
            says = says.format(machine=t.machine(machine), longest=minutes(min(longest)))
            yield Held(f"hold:{machine}", says, _never_too_long(machine))
    if t.demands.setups:
        says = _("machines need time to change mould and material between activities")
        yield Held("setup", says, lambda d: d.with_(setups={}))


def _plenty_of(tool: str) -> Callable[[Demands], Demands]:
    return lambda d: d.with_(tools={**d.tools, tool: _PLENTY})


def _unfused(name: str) -> Callable[[Demands], Demands]:
    return lambda d: d.with_(fuses=tuple(f for f in d.fuses if f.name != name))


def _never_too_long(machine: str) -> Callable[[Demands], Demands]:
    return lambda d: d.with_(holds={k: n for k, n in d.holds.items() if k[0] != machine})
