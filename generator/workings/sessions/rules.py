"""What a timetable is held to: one function a demand, named by its stable id.

Each yields what breaks it, without words: those are made once it is known what to tell.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations, pairwise

from generator.workings.sessions.demands import Demands, Line, Task
from generator.workings.sessions.grid import Grid
from generator.workings.sessions.staffing import short_of

Key = tuple[str, frozenset[tuple[int, str]], tuple[str, ...]]
"""What tells one clash from another, whenever it happens."""


@dataclass(frozen=True, slots=True)
class Broken:
    """A demand broken at a minute, by some lines; ``about`` is what the words need beside them."""

    demand: str
    minute: int | None
    lines: tuple[Line, ...] = ()
    about: tuple[str | int, ...] = ()

    @property
    def key(self) -> Key:
        """The same clash at another time has the same key."""
        named = tuple(entry for entry in self.about if isinstance(entry, str))
        return self.demand, frozenset((x.group, x.task) for x in self.lines), named


Rule = Callable[[Grid], Iterator[Broken]]


def must(grid: Grid) -> Iterator[Broken]:
    """Every group does every activity that is a must, and none twice."""
    for group, lines in grid.by_group.items():
        done = [line.task for line in lines]
        for task in grid.demands.must:
            if task.id not in done:
                yield Broken("must", None, (), (task.id, str(group)))


def twice(grid: Grid) -> Iterator[Broken]:
    """No group does the same activity twice."""
    for lines in grid.by_task.values():
        first: dict[int, Line] = {}
        for line in lines:
            if line.group in first:
                yield Broken("twice", line.start, (first[line.group], line))
            first.setdefault(line.group, line)


def hours(grid: Grid) -> Iterator[Broken]:
    """Nothing begins before arrival is over, nor ends after tidying begins."""
    for line in grid.lines:
        if line.start < grid.demands.opens:
            yield Broken("arrival", line.start, (line,))
        if grid.end(line) > grid.demands.closes:
            yield Broken("tidy", grid.demands.closes, (line,))


def one_at_a_time(grid: Grid) -> Iterator[Broken]:
    """A group is at one activity at a time, and has time to walk to the next."""
    for lines in grid.by_group.values():
        for one, other in pairwise(lines):
            walk = grid.demands.walk(one.task, other.task)
            gap = other.start - grid.end(one)
            if gap < 0:
                yield Broken("group", other.start, (one, other))
            elif gap < walk:
                yield Broken("walk", other.start, (one, other), (walk,))


def order(grid: Grid) -> Iterator[Broken]:
    """What comes after something comes after it, with the gap between."""
    for lines in grid.by_group.values():
        first = {line.task: line for line in reversed(lines)}
        for line in lines:
            for before, gap in grid.task(line).after:
                yield from _in_order(grid, line, first.get(before), before, gap)


def _in_order(
    grid: Grid, line: Line, earlier: Line | None, before: str, gap: int
) -> Iterator[Broken]:
    if earlier is None:
        if not grid.demands.tasks[before].must:
            yield Broken("order", line.start, (line,), (before,))
    elif line.start < grid.end(earlier) + gap:
        yield Broken("order", line.start, (earlier, line), (gap,))


def capacity(grid: Grid) -> Iterator[Broken]:
    """No more groups are at an activity than fit."""
    for id_, lines in grid.by_task.items():
        task = grid.demands.tasks[id_]
        for at_once in _crowded(lines, task.groups, task.takes):
            yield Broken("capacity", at_once[-1].start, at_once)


def _crowded(lines: Iterable[Line], most: int, length: int) -> Iterator[tuple[Line, ...]]:
    """Lines of one length that are more than ``most`` when the last of them starts."""
    on: list[Line] = []
    for line in lines:
        on = [*(x for x in on if x.start + length > line.start), line]
        if len(on) > most:
            yield tuple(on)


def moulds(grid: Grid) -> Iterator[Broken]:
    """A mould is used for one activity at a time, and not while it cools."""
    for id_, lines in grid.by_task.items():
        task = grid.demands.tasks[id_]
        if task.moulds and task.cools:
            yield from _cooling(lines, task)
    for one, other in _pairs(grid, lambda task: task.moulds):
        for mould in sorted(set(grid.task(one).moulds) & set(grid.task(other).moulds)):
            if other.start < grid.end(one) + grid.task(one).cools:
                yield Broken("mould", other.start, (one, other), (mould,))


def _cooling(lines: tuple[Line, ...], task: Task) -> Iterator[Broken]:
    for at_once in _crowded(lines, task.groups, task.takes + task.cools):
        if at_once[0].start + task.takes <= at_once[-1].start:
            pair = (at_once[0], at_once[-1])
            yield Broken("mould", at_once[-1].start, pair, (task.moulds[0],))


def _pairs(grid: Grid, what: Callable[[Task], Iterable[str]]) -> Iterator[tuple[Line, Line]]:
    """Pairs of lines of different tasks that share something, the earlier first."""
    for one, other in combinations(grid.demands.tasks.values(), 2):
        if set(what(one)) & set(what(other)):
            both = (grid.by_task.get(one.id, ()), grid.by_task.get(other.id, ()))
            for a in both[0]:
                for b in both[1]:
                    yield (a, b) if (a.start, a.group) <= (b.start, b.group) else (b, a)


def stations(grid: Grid) -> Iterator[Broken]:
    """A station has one activity at a time."""
    for one, other in _pairs(grid, lambda task: (task.station,)):
        if other.start < grid.end(one):
            yield Broken("station", other.start, (one, other), (grid.task(one).station,))


def machines(grid: Grid) -> Iterator[Broken]:
    """A machine works for one activity at a time, with time to change mould or purge between."""
    for one, other in _pairs(grid, lambda task: task.machines):
        machine = min(set(grid.task(one).machines) & set(grid.task(other).machines))
        gap = other.start - grid.end(one)
        setup = grid.demands.setups.get((one.task, other.task), 0)
        if gap < 0:
            if grid.task(one).station != grid.task(other).station:
                yield Broken("machine", other.start, (one, other), (machine,))
        elif gap < setup:
            yield Broken("setup", other.start, (one, other), (machine, setup))


def tools(grid: Grid) -> Iterator[Broken]:
    """No more of a tool are out than there are."""
    for tool, count in grid.demands.tools.items():
        users = [x for x in grid.lines if tool in grid.task(x).tools]
        on: list[Line] = []
        for line in users:
            on = [*(x for x in on if grid.end(x) > line.start), line]
            if len(on) > count:
                yield Broken("tools", line.start, tuple(on), (tool, count))


def supervisors(grid: Grid) -> Iterator[Broken]:
    """Somebody who may take charge is free for every activity that runs."""
    told = None
    for minute in grid.starts:
        running = grid.running(minute)
        tasks = {line.task: grid.task(line) for line in running}
        short = short_of(((t.crew, t.supervisors) for t in tasks.values()), grid.demands.staff)
        if short is None:
            told = None
            continue
        held = tuple(line for line in running if grid.task(line).crew <= short)
        if told != (held, short):
            yield Broken("supervisors", minute, held, tuple(sorted(short)))
        told = (held, short)


def attended(grid: Grid) -> Iterator[Broken]:
    """Somebody authorised is there while a machine is hot."""
    for switched in grid.switching:
        crew = grid.demands.warmth[switched.machine].authorised
        if not any(grid.demands.staff.get(role) for role in crew):
            lines = grid.by_machine(switched.machine)
            yield Broken("attended", switched.on_min, lines[:1], (switched.machine,))


def power(grid: Grid) -> Iterator[Broken]:
    """What runs at once stays within every circuit and fuse."""
    if not grid.demands.fuses:
        return
    spans = grid.machine_spans
    moments = sorted({span.start_min for own in spans.values() for span in own})
    seen = set()
    for minute in moments:
        on = frozenset(grid.machines_on(minute))
        for fuse in grid.demands.fuses:
            load = fuse.standing + sum(fuse.loads.get(machine, 0) for machine in on)
            drawing = tuple(sorted(on & set(fuse.loads)))
            if load > fuse.most and drawing and (fuse.subject, drawing) not in seen:
                seen.add((fuse.subject, drawing))
                lines = _of_machines(grid, drawing, minute)
                yield Broken("power", minute, lines, (fuse.name, load, fuse.most, *drawing))


def _of_machines(grid: Grid, machines: Iterable[str], minute: int) -> tuple[Line, ...]:
    """For each machine the line it runs for at a minute, else its first."""
    found: dict[Line, None] = {}
    for machine in machines:
        own = grid.by_machine(machine)
        now = [x for x in own if x.start <= minute < grid.end(x)]
        line = (now or own)[0]
        found[line] = None
    return tuple(found)


def hold(grid: Grid) -> Iterator[Broken]:
    """Plastic stands hot between two uses no longer than it may."""
    for machine in grid.demands.warmth:
        for one, other in pairwise(grid.by_machine(machine)):
            longest = grid.demands.hold(machine, grid.task(one))
            if longest is not None and other.start - grid.end(one) > longest:
                minute = grid.end(one) + longest
                yield Broken("hold", minute, (one, other), (machine, longest))


def pause(grid: Grid) -> Iterator[Broken]:
    """There is a break for everybody at once, between activities."""
    rotates = any(len(lines) > 1 for lines in grid.by_group.values())
    if grid.demands.break_min and rotates and not grid.breaks:
        yield Broken("break", _widest_gap(grid), (), (grid.demands.break_min,))


def _widest_gap(grid: Grid) -> int | None:
    """Where everybody is free for longest, if they are at all."""
    ends = sorted({grid.end(line) for line in grid.lines})
    free = {
        end: min((x.start for x in grid.lines if x.start >= end), default=end) - end
        for end in ends
        if not grid.running(end)
    }
    return max(free, key=lambda end: (free[end], -end), default=None)


RULES: tuple[Rule, ...] = (
    must, twice, hours, one_at_a_time, order, capacity, stations, machines, moulds, tools,
    supervisors, attended, power, hold, pause,
)  # fmt: skip


def broken(demands: Demands, lines: Iterable[Line]) -> tuple[Broken, ...]:
    """Everything that a timetable breaks, by time."""
    grid = Grid(demands, lines)
    found = [each for rule in RULES for each in rule(grid)]
    return tuple(sorted(found, key=lambda b: (b.minute is None, b.minute or 0, b.demand)))
