"""A timetable laid out: each group's and each task's lines by time, and what is hot when."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from functools import cached_property
from itertools import pairwise

from generator.workings.sessions.demands import Demands, Line, Task
from generator.workings.sessions.results import Span, Switching


class Grid:
    """A timetable against its demands.

    Parameters
    ----------
    demands
        What it is held to.
    lines
        Its lines, in any order.
    """

    def __init__(self, demands: Demands, lines: Iterable[Line]) -> None:
        self.demands = demands
        self.lines = tuple(sorted(lines, key=lambda line: (line.start, line.group, line.task)))

    def task(self, line: Line) -> Task:
        return self.demands.tasks[line.task]

    def end(self, line: Line) -> int:
        return self.demands.end(line)

    @cached_property
    def by_group(self) -> Mapping[int, tuple[Line, ...]]:
        """Each group's lines by time; a group without one has an empty entry."""
        found: dict[int, list[Line]] = {group: [] for group in self.demands.groups}
        for line in self.lines:
            found.setdefault(line.group, []).append(line)
        return {group: tuple(lines) for group, lines in found.items()}

    @cached_property
    def by_task(self) -> Mapping[str, tuple[Line, ...]]:
        found: dict[str, list[Line]] = defaultdict(list)
        for line in self.lines:
            found[line.task].append(line)
        return {task: tuple(lines) for task, lines in found.items()}

    def by_machine(self, machine: str) -> tuple[Line, ...]:
        """A machine's lines by time."""
        return self._by_machine.get(machine, ())

    @cached_property
    def _by_machine(self) -> Mapping[str, tuple[Line, ...]]:
        found: dict[str, list[Line]] = defaultdict(list)
        for line in self.lines:
            for machine in self.task(line).machines:
                found[machine].append(line)
        return {machine: tuple(lines) for machine, lines in found.items()}

    @cached_property
    def starts(self) -> tuple[int, ...]:
        """Every minute at which something starts."""
        return tuple(sorted({line.start for line in self.lines}))

    def running(self, minute: int) -> list[Line]:
        """The lines that run at a minute."""
        return [x for x in self.lines if x.start <= minute < self.end(x)]

    @cached_property
    def switching(self) -> tuple[Switching, ...]:
        """The machines that warm plastic, in the order they are switched on."""
        hot = (m for m in self.demands.warmth if self.by_machine(m))
        return tuple(sorted(map(self._switching, hot), key=lambda s: (s.on_min, s.machine)))

    def _switching(self, machine: str) -> Switching:
        warmth, lines = self.demands.warmth[machine], self.by_machine(machine)
        first, last = lines[0].start, max(map(self.end, lines))
        on = first - warmth.lead
        return Switching(
            machine, on, on + warmth.heat_up, first, max(line.start for line in lines),
            last, last + warmth.cool,
        )  # fmt: skip

    @cached_property
    def machine_spans(self) -> Mapping[str, tuple[Span, ...]]:
        """When each machine draws current: the hot ones without a break from heating up on."""
        hot = {s.machine: (Span(s.on_min, s.off_min),) for s in self.switching}
        cold = {
            machine: tuple(Span(line.start, self.end(line)) for line in lines)
            for machine, lines in self._by_machine.items()
            if machine not in hot
        }
        return {**hot, **cold}

    def machines_on(self, minute: int) -> list[str]:
        """The machines that draw current at a minute."""
        spans = self.machine_spans.items()
        return [m for m, own in spans if any(s.start_min <= minute < s.end_min for s in own)]

    @cached_property
    def breaks(self) -> tuple[Span, ...]:
        """The earliest break for everybody at once that the timetable leaves, if it has one."""
        length = self.demands.break_min
        if not length:
            return ()
        for start in sorted({self.end(line) for line in self.lines}):
            if self._is_break(start, start + length):
                return (Span(start, start + length),)
        return ()

    def _is_break(self, start: int, end: int) -> bool:
        if any(x.start < end and self.end(x) > start for x in self.lines):
            return False
        return all(
            self.end(lines[0]) <= start and lines[-1].start >= end
            for lines in self.by_group.values()
            if len(lines) > 1
        )

    def waits(self, group: int) -> tuple[Span, ...]:
        """When a group has nothing to do, from the end of arrival to its last activity."""
        lines = self.by_group.get(group, ())
        if not lines:
            return ()
        found = [Span(self.demands.opens, lines[0].start)]
        for one, other in pairwise(lines):
            walk = self.demands.walk(one.task, other.task)
            found += self._idle(self.end(one), other.start, walk)
        return tuple(span for span in found if span.minutes > 0)

    def _idle(self, start: int, end: int, walk: int) -> list[Span]:
        """What is left between two activities; the walk is made in the break where there is one."""
        inside = [b for b in self.breaks if start <= b.start_min and b.end_min <= end]
        if not inside:
            return [Span(start, end - walk)]
        rest = max(0, walk - inside[0].minutes)
        return [Span(start, inside[0].start_min), Span(inside[0].end_min, end - rest)]
