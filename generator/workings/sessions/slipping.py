"""What has to wait for what when a session falls behind its timetable.

A timetable that holds keeps people, stations and machines apart by the clock alone. Once a group is
late, the clock no longer does, so the board needs to know which line must be over before another
begins: the group's own line before, whoever is at the activity, on the machine, with the mould, the
tool or the person, and whatever must not draw current at the same time. A wait never asks for more
time than the timetable itself leaves between the two, so that what is on time is never moved.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from generator.workings.sessions.demands import Demands, Fuse, Line, Task

Follows = tuple[tuple[int, int], ...]
"""Places of lines that must be over before another begins, each with the minutes between."""


def follows(demands: Demands, lines: Iterable[Line]) -> tuple[Follows, ...]:
    """For each line of a timetable, in the order of the clock, what it waits for.

    Parameters
    ----------
    demands
        What the timetable is held to.
    lines
        The timetable.

    Returns
    -------
    tuple
        As many entries as lines, sorted by start, group and task.
    """
    rows = sorted(lines, key=lambda x: (x.start, x.group, x.task))
    places = {line: place for place, line in enumerate(rows)}
    people = _people(demands, rows)
    return tuple(_waits(demands, line, rows, places, people) for line in rows)


def _waits(
    demands: Demands,
    line: Line,
    rows: Sequence[Line],
    places: Mapping[Line, int],
    people: Mapping[Line, frozenset[str]],
) -> Follows:
    earlier = [x for x in rows[: places[line]] if demands.end(x) <= line.start]
    gaps: dict[int, int] = {}
    for before, gap in _held_up(demands, line, earlier, people):
        room = line.start - demands.end(before)
        place = places[before]
        gaps[place] = max(gaps.get(place, 0), min(gap, room))
    return tuple(sorted(gaps.items()))


def _held_up(
    demands: Demands, line: Line, earlier: Sequence[Line], people: Mapping[Line, frozenset[str]]
) -> Iterator[tuple[Line, int]]:
    task = demands.tasks[line.task]
    yield from _own(demands, line, earlier)
    yield from _full(demands, task, earlier)
    for before in earlier:
        other = demands.tasks[before.task]
        if before.task != line.task:
            yield from ((before, gap) for gap in _shared(demands, other, task))
        elif set(task.moulds) and task.cools and task.groups == 1:
            yield before, task.cools
        if people[before] & people[line] or _overloads(demands.fuses, other, task):
            yield before, 0


def _own(demands: Demands, line: Line, earlier: Sequence[Line]) -> Iterator[tuple[Line, int]]:
    """The group's line before this one, with the walk; and what it comes after, with its gap."""
    own = [x for x in earlier if x.group == line.group]
    if own:
        last = max(own, key=demands.end)
        yield last, demands.walk(last.task, line.task)
    after = dict(demands.tasks[line.task].after)
    yield from ((x, after[x.task]) for x in own if x.task in after)


def _full(demands: Demands, task: Task, earlier: Sequence[Line]) -> Iterator[tuple[Line, int]]:
    """Whoever must have left for the activity to have room: all but the last few who were there."""
    there = sorted((x for x in earlier if x.task == task.id), key=demands.end)
    yield from ((x, 0) for x in there[: len(there) - task.groups + 1])


def _shared(demands: Demands, one: Task, other: Task) -> Iterator[int]:
    """Least times between two different activities that share a place or a thing."""
    if one.station == other.station:
        yield 0
    if set(one.machines) & set(other.machines):
        yield demands.setups.get((one.id, other.id), 0)
    if set(one.moulds) & set(other.moulds):
        yield one.cools
    if any(demands.tools.get(tool, 0) < 2 for tool in set(one.tools) & set(other.tools)):
        yield 0


def _overloads(fuses: Iterable[Fuse], one: Task, other: Task) -> bool:
    """Whether two activities' machines break a limit of the supply together."""
    names = {*one.machines, *other.machines}
    return any(
        fuse.standing + sum(fuse.loads.get(m, 0) for m in names) > fuse.most
        for fuse in fuses
        if set(one.machines) & set(fuse.loads) and set(other.machines) & set(fuse.loads)
    )


# --- who is where ------------------------------------------------------------------------------


def _people(demands: Demands, lines: Sequence[Line]) -> Mapping[Line, frozenset[str]]:
    """Which of the staff has which line, as the timetable lets it be: nobody at two at once.

    Groups that are at an activity together share who is in charge of it. Whoever is free and may
    do least else is taken first, so that others stay free; of those, whoever is free for longest,
    so that one group's delay holds up as few others as can be.
    """
    free_from: dict[str, int] = {
        f"{role} {n}": 0 for role, count in demands.staff.items() for n in range(count)
    }
    found: dict[Line, frozenset[str]] = {}
    for line in lines:
        task = demands.tasks[line.task]
        shared = [
            found[x]
            for x in found
            if x.task == line.task and x.start <= line.start < demands.end(x)
        ]
        chosen = shared[0] if shared else _chosen(demands, task, line, free_from)
        found[line] = chosen
        for person in chosen:
            free_from[person] = max(free_from[person], demands.end(line))
    return found


def _chosen(
    demands: Demands, task: Task, line: Line, free_from: Mapping[str, int]
) -> frozenset[str]:
    def other_uses(person: str) -> int:
        return sum(person.rpartition(" ")[0] in t.crew for t in demands.tasks.values())

    able = [p for p in free_from if p.rpartition(" ")[0] in task.crew]
    free = [p for p in able if free_from[p] <= line.start]
    ranked = sorted(free, key=lambda p: (other_uses(p), free_from[p], p))
    return frozenset(ranked[: task.supervisors])
