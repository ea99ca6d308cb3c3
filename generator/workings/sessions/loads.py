"""What can be seen to be too much by adding up, without any search."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from generator.workings.sessions.demands import Demands, Task
from generator.workings.sessions.staffing import unions


def too_much(demands: Demands) -> bool:
    """Whether a group's day or the time of what is shared cannot hold what must be done.

    Every timetable needs at least this long, so that True proves that there is none.
    """
    room = demands.closes - demands.opens
    return any(load > room for load in _loads(demands))


def _loads(demands: Demands) -> Iterator[int]:
    must = demands.must
    if not must:
        return
    yield _of_a_group(demands, must)
    for task in must:
        rounds = -(-len(demands.sizes) // task.groups)
        yield rounds * task.takes + _head(demands, task) + _tail(demands, task)
    for crew in unions(task.crew for task in must):
        yield _of_a_crew(demands, [task for task in must if task.crew <= crew], crew)


def _of_a_group(demands: Demands, must: Iterable[Task]) -> int:
    """Its activities and its break, and a walk from each to the next, the longest left out."""
    tasks = tuple(must)
    walks = sorted(
        min((demands.walk(a.id, b.id) for b in tasks if b is not a), default=0) for a in tasks
    )
    rest = demands.break_min if len(tasks) > 1 else 0
    walked = sum(walks[:-1]) - (max(walks, default=0) if rest else 0)
    return sum(task.takes for task in tasks) + max(walked, 0) + rest


def _of_a_crew(demands: Demands, tasks: list[Task], crew: Iterable[str]) -> int:
    """The time of people who are each in charge of one thing at a time."""
    have = sum(demands.staff.get(role, 0) for role in crew)
    asked = sum(
        -(-len(demands.sizes) // task.groups) * task.takes * task.supervisors for task in tasks
    )
    if not have:
        return demands.closes if asked else 0
    head = min(_head(demands, task) for task in tasks)
    tail = min(_tail(demands, task) for task in tasks)
    return -(-asked // have) + head + tail


def _head(demands: Demands, task: Task) -> int:
    """The least time before a group can begin a task."""
    befores = (
        _head(demands, demands.tasks[before]) + demands.tasks[before].takes + gap
        for before, gap in task.after
        if before in demands.tasks and demands.tasks[before].must
    )
    return max(befores, default=0)


def _tail(demands: Demands, task: Task) -> int:
    """The least time a group still needs once it has ended a task."""
    afters = (
        gap + other.takes + _tail(demands, other)
        for other in demands.must
        for before, gap in other.after
        if before == task.id
    )
    return max(afters, default=0)
