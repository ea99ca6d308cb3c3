"""How early groups can be done at best, by adding up: no timetable is better, whatever its order.

The solver is given these, because it sees each of them only after a long search.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from generator.workings.sessions.demands import Demands, Task
from generator.workings.sessions.staffing import unions


@dataclass(frozen=True)
class Bounds:
    """The least times to be done, in minutes after arrival.

    Parameters
    ----------
    demands
        What the timetable is held to.
    slot_min
        Starts are whole slots of this length after arrival.
    """

    demands: Demands
    slot_min: int

    def up(self, minutes: int) -> int:
        """Rounded up to a whole slot [min]."""
        return -(-minutes // self.slot_min) * self.slot_min

    def of_a_group(self) -> int:
        """The least any group needs: its activities, each with its walk to the nearest next."""
        must = self.demands.must
        steps = {task.id: self._step(task, must) for task in must}
        whole = sum(steps.values()) - max((steps[task.id] - task.takes for task in must), default=0)
        if not self.demands.break_min or len(must) < 2:
            return whole
        length = self.demands.break_min
        return whole + max(0, min(self.up(t.takes + length) - steps[t.id] for t in must))

    def _step(self, task: Task, others: Iterable[Task]) -> int:
        walks = (self.demands.walk(task.id, x.id) for x in others if x is not task)
        return self.up(task.takes + min(walks, default=0))

    def finishes(self) -> list[int]:
        """When the first, second ... group to be done is done at the earliest."""
        count = len(self.demands.sizes)
        least = [self.of_a_group()] * count
        for shared in self._shared():
            least = [max(one, other) for one, other in zip(least, shared, strict=True)]
        return least

    def _shared(self) -> Iterator[list[int]]:
        """By each task, and by each crew, as what groups must share."""
        must = self.demands.must
        for task in must:
            yield self._one_after_another([task], 1, lone=True)
        for crew in unions(task.crew for task in must):
            have = sum(self.demands.staff.get(role, 0) for role in crew)
            inside = [task for task in must if task.crew <= crew]
            if have:
                yield self._one_after_another(inside, have)

    def _one_after_another(self, tasks: list[Task], have: int, lone: bool = False) -> list[int]:
        """So many groups have all been at some tasks, of which ``have`` can run at once."""
        head, tail = min(map(self.head, tasks)), min(map(self.tail, tasks))
        spare = max(self.up(task.takes) - task.takes for task in tasks)
        return [
            head + self._busy(tasks, k, have, lone) - spare + tail + self._paused(tasks, head)
            for k in range(1, len(self.demands.sizes) + 1)
        ]

    def _busy(self, tasks: list[Task], groups: int, have: int, lone: bool) -> int:
        """How long what is shared is at work for some groups, in whole slots."""
        slots = sum(
            -(-groups // task.groups)
            * (self.up(task.takes) // self.slot_min)
            * (1 if lone else task.supervisors)
            for task in tasks
        )
        return -(-slots // have) * self.slot_min

    def _paused(self, tasks: list[Task], head: int) -> int:
        """What of the break is surely added: it may fall into a wait before or after."""
        length, must = self.demands.break_min, self.demands.must
        if not length or len(must) < 2:
            return 0
        before = min(task.takes for task in must) + length - head
        after = length - max(map(self._idle_after, tasks))
        return max(0, min(length, before, after) - self.slot_min + 1)

    def head(self, task: Task) -> int:
        """The least time before any group can begin a task."""
        befores = (
            self.up(self.head(other) + other.takes + gap)
            for before, gap in task.after
            for other in self.demands.must
            if other.id == before
        )
        return max(befores, default=0)

    def tail(self, task: Task) -> int:
        """The least time a group still needs once it has ended a task."""
        afters = (gap + other.takes + self.tail(other) for other, gap in self._following(task))
        return max(afters, default=0)

    def _idle_after(self, task: Task) -> int:
        """The most of that in which it need do nothing."""
        return max((gap + self._idle_after(x) for x, gap in self._following(task)), default=0)

    def _following(self, task: Task) -> Iterator[tuple[Task, int]]:
        for other in self.demands.must:
            for before, gap in other.after:
                if before == task.id:
                    yield other, gap


def too_much(demands: Demands) -> bool:
    """Whether what must be done is seen to be too much for the time, without any search."""
    if not demands.must:
        return False
    return max(Bounds(demands, 1).finishes()) > demands.closes - demands.opens
