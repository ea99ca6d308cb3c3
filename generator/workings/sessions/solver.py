"""A timetable as a model of whole numbers: the only module that imports the solver.

Time is cut into slots from the end of arrival. For every group, task and slot there is a yes or
no: does the group start the task then? Everything a timetable is held to is a sum over those.
Beside the sums stand intervals for what can serve one group at a time (or so many), because from
them the solver proves that nothing earlier is possible. Groups are alike, so they are put in the
order in which they come to the task that is hardest to share.

One worker and a limit in the solver's own count of work, not in seconds: the same data and seed
give the same timetable on any machine.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

from ortools.sat.python import cp_model

from generator.workings.sessions.bounds import Bounds
from generator.workings.sessions.demands import Demands, Fuse, Line, Task
from generator.workings.sessions.staffing import unions

Status = Literal["best", "found", "impossible", "unknown"]
Bool = cp_model.IntVar
Term = cp_model.LinearExpr | int
_Use = tuple[int, str]

_STATUS: Mapping[int, Status] = {
    int(cp_model.OPTIMAL): "best",
    int(cp_model.FEASIBLE): "found",
    int(cp_model.INFEASIBLE): "impossible",
}


@dataclass(frozen=True, slots=True)
class Answer:
    """What the solver found: lines, the objective's value and its bound, and the work it took."""

    status: Status
    lines: tuple[Line, ...] = ()
    value: int = 0
    bound: int = 0
    work: float = 0.0


class Model:
    """A session's demands up to a horizon.

    Parameters
    ----------
    demands
        What the timetable is held to.
    slot_min
        Length of a slot [min]: starts are whole slots after the end of arrival.
    last_min
        The minute after midnight by which everything has ended.
    """

    def __init__(self, demands: Demands, slot_min: int, last_min: int) -> None:
        self.demands, self.slot = demands, slot_min
        self.last = min(last_min, demands.closes) - demands.opens
        self.ends = max(self.last // slot_min, 0)
        self.model = cp_model.CpModel()
        self._slot_vars: dict[_Use, Bool] = {}
        self._never = self.model.new_constant(0)
        self.tasks = tuple(demands.tasks.values())
        self.slots = {task.id: self._up(task.takes) for task in self.tasks}
        self.users: dict[str, list[Task]] = defaultdict(list)
        for task in self.tasks:
            for machine in task.machines:
                self.users[machine].append(task)
        self._start_variables()
        self._busy = {task.id: self._running(task) for task in self.tasks}
        self._intervals = {task.id: self._intervals_of(task) for task in self.tasks}
        self._hold_to()

    def _hold_to(self) -> None:
        self._one_at_a_time()
        self._in_order()
        self._exclusive()
        self._moulds()
        self._tools()
        self._staff()
        self._heat()
        self._fuses()
        self._break()
        self._finishes()
        self._alike()

    def _up(self, minutes: int) -> int:
        """Whole slots, rounded up."""
        return -(-minutes // self.slot)

    # --- starts

    def _start_variables(self) -> None:
        self.x: dict[tuple[int, str, int], Bool] = {}
        self.by: dict[tuple[int, str, int], Bool] = {}
        self.done: dict[_Use, Bool] = {}
        for group in self.demands.groups:
            for task in self.tasks:
                self._starts_of(group, task)

    def _starts_of(self, group: int, task: Task) -> None:
        model, latest = self.model, (self.last - task.takes) // self.slot
        before: Term = 0
        for k in range(self.ends + 1):
            if k <= latest:
                self.x[group, task.id, k] = model.new_bool_var("")
            begun = model.new_bool_var("")
            model.add(begun == before + self.x.get((group, task.id, k), 0))
            self.by[group, task.id, k] = before = begun
        self.done[group, task.id] = self.by[group, task.id, self.ends]
        own = [x for _k, x in self._own_starts(group, task.id)]
        if task.must:
            model.add_exactly_one(own)
        else:
            model.add_at_most_one(own)

    def starts(self, group: int, task: str, first: int, last: int) -> list[Bool]:
        """The starts of a group at a task from a slot to another, both included."""
        slots = range(max(0, first), min(self.ends, last) + 1)
        return [self.x[group, task, k] for k in slots if (group, task, k) in self.x]

    def begun(self, group: int, task: str, k: int) -> Bool:
        """Whether a group has started a task by a slot."""
        return self._never if k < 0 else self.by[group, task, min(k, self.ends)]

    def _implies(self, one: Bool, other: Bool) -> None:
        self.model.add_implication(one, other)

    # --- groups

    def _one_at_a_time(self) -> None:
        apart = {(a.id, b.id): self._up(a.takes + self.demands.walk(a.id, b.id))
                 for a in self.tasks for b in self.tasks if a is not b}  # fmt: skip
        least = {a.id: min((n for (one, _b), n in apart.items() if one == a.id),
                           default=self.slots[a.id]) for a in self.tasks}  # fmt: skip
        for group in self.demands.groups:
            self._least_apart(group, least)
            for (one, other), slots in apart.items():
                if slots > least[one]:
                    self._farther_apart(group, one, other, (least[one], slots))

    def _least_apart(self, group: int, least: Mapping[str, int]) -> None:
        """At any slot a group is at one task, or on its shortest way from it."""
        for k in range(self.ends + 1):
            self.model.add_at_most_one(
                x
                for task, slots in least.items()
                for x in self.starts(group, task, k - slots + 1, k)
            )
        self.model.add_no_overlap(
            self._interval(group, self.demands.tasks[task], slots) for task, slots in least.items()
        )

    def _farther_apart(self, group: int, one: str, other: str, slots: tuple[int, int]) -> None:
        for k in range(self.ends + 1):
            if (group, one, k) in self.x:
                near = self.starts(group, other, k + slots[0], k + slots[1] - 1)
                self.model.add_at_most_one([self.x[group, one, k], *near])

    def _interval(self, group: int, task: Task, slots: int) -> cp_model.IntervalVar:
        slot_of = self._slot_of(group, task)
        if task.must:
            return self.model.new_fixed_size_interval_var(slot_of, slots, "")
        present = self.done[group, task.id]
        return self.model.new_optional_fixed_size_interval_var(slot_of, slots, present, "")

    def _slot_of(self, group: int, task: Task) -> Bool:
        key = (group, task.id)
        if key not in self._slot_vars:
            slot = self.model.new_int_var(0, max(self.ends, 0), "")
            terms = [k * x for k, x in self._own_starts(group, task.id)]
            self.model.add(slot == sum(terms))
            self._slot_vars[key] = slot
        return self._slot_vars[key]

    def _own_starts(self, group: int, task: str) -> Iterator[tuple[int, Bool]]:
        for k in range(self.ends + 1):
            if (group, task, k) in self.x:
                yield k, self.x[group, task, k]

    def _in_order(self) -> None:
        for task in self.tasks:
            for before, gap in task.after:
                slots = self._up(self.demands.tasks[before].takes + gap)
                for group in self.demands.groups:
                    for k in range(self.ends + 1):
                        earlier = self.begun(group, before, k - slots)
                        self._implies(self.begun(group, task.id, k), earlier)

    # --- what is shared

    def _at(self, task: Task, k: int, extra_min: int = 0) -> list[Bool]:
        """The starts of all groups that are at a task in a slot, or were so lately."""
        first = k - self._up(task.takes + extra_min) + 1
        return [x for g in self.demands.groups for x in self.starts(g, task.id, first, k)]

    def _running(self, task: Task) -> list[Term]:
        """For each slot whether any group is at a task; at most as many as fit are."""
        return [self._runs_in(task, k) for k in range(self.ends + 1)]

    def _runs_in(self, task: Task, k: int) -> Term:
        here = self._at(task, k)
        if task.groups == 1:
            self.model.add_at_most_one(here)
            return sum(here)
        if len(self.demands.groups) > task.groups:
            self.model.add(sum(here) <= task.groups)
        runs, first = self.model.new_bool_var(""), k - self.slots[task.id] + 1
        for group in self.demands.groups:
            self.model.add(sum(self.starts(group, task.id, first, k)) <= runs)
        return runs

    def _intervals_of(self, task: Task) -> list[cp_model.IntervalVar]:
        made = [self._interval(g, task, self.slots[task.id]) for g in self.demands.groups]
        if task.groups == 1:
            self.model.add_no_overlap(made)
        return made

    def _exclusive(self) -> None:
        """Tasks at one station or on one machine keep apart, with time to set up between."""
        for one, other in combinations(self.tasks, 2):
            shared = set(one.machines) & set(other.machines)
            if one.station == other.station or shared:
                for a, b in zip(self._busy[one.id], self._busy[other.id], strict=True):
                    self.model.add(a + b <= 1)
            if shared:
                self._apart(one, other, self.demands.setups.get((one.id, other.id), 0))
                self._apart(other, one, self.demands.setups.get((other.id, one.id), 0))

    def _apart(self, one: Task, other: Task, gap: int) -> None:
        """No group starts the other task until some time after any has left the one."""
        if gap <= 0:
            return
        slots = self._up(one.takes + gap)
        for k in range(self.ends + 1):
            for g in self.demands.groups:
                if (g, other.id, k) in self.x:
                    for x in self._at(one, k, gap)[-slots * len(self.demands.groups) :]:
                        self.model.add_at_most_one([self.x[g, other.id, k], x])

    def _moulds(self) -> None:
        for task in self.tasks:
            if task.moulds and task.cools and len(self.demands.groups) > task.groups:
                self._cooling(task)
        for one, other in combinations(self.tasks, 2):
            if set(one.moulds) & set(other.moulds):
                for a, b in zip(self._busy[one.id], self._busy[other.id], strict=True):
                    self.model.add(a + b <= 1)
                self._apart(one, other, one.cools)
                self._apart(other, one, other.cools)

    def _cooling(self, task: Task) -> None:
        for k in range(self.ends + 1):
            self.model.add(sum(self._at(task, k, task.cools)) <= task.groups)

    def _tools(self) -> None:
        for tool, count in self.demands.tools.items():
            users = [task for task in self.tasks if tool in task.tools]
            if len(users) * len(self.demands.groups) > count:
                for k in range(self.ends + 1):
                    self.model.add(sum(x for t in users for x in self._at(t, k)) <= count)

    def _staff(self) -> None:
        """By Hall's theorem: for every union of crews, no more are wanted than it has."""
        for union in unions(task.crew for task in self.tasks):
            inside = [task for task in self.tasks if task.crew <= union]
            have = sum(self.demands.staff.get(role, 0) for role in union)
            if sum(task.supervisors for task in inside) > have:
                for k in range(self.ends + 1):
                    wanted = [task.supervisors * self._busy[task.id][k] for task in inside]
                    self.model.add(sum(wanted) <= have)
                self._staff_intervals([t for t in inside if t.groups == 1], have)

    def _staff_intervals(self, tasks: list[Task], have: int) -> None:
        wanted = [(i, task.supervisors) for task in tasks for i in self._intervals[task.id]]
        if have == 1:  # the solver reasons more about one after another than about so many at once
            self.model.add_no_overlap(i for i, _n in wanted)
            return
        self.model.add_cumulative([i for i, _n in wanted], [n for _i, n in wanted], have)

    # --- heat and power

    def _heat(self) -> None:
        """For each hot machine and slot: has its first use begun, and has its last?"""
        self._first: dict[tuple[str, int], Bool] = {}
        self._last: dict[tuple[str, int], Bool] = {}
        for machine in self.demands.warmth:
            for k in range(self.ends + 1):
                self._heat_in(machine, k)
            self._hold(machine)

    def _uses(self, machine: str) -> Iterator[tuple[int, Task]]:
        for task in self.users.get(machine, ()):
            for group in self.demands.groups:
                yield group, task

    def _heat_in(self, machine: str, k: int) -> None:
        first, last = self.model.new_bool_var(""), self.model.new_bool_var("")
        self._first[machine, k], self._last[machine, k] = first, last
        for group, task in self._uses(machine):
            begun, done = self.begun(group, task.id, k), self.done[group, task.id]
            self._implies(begun, first)
            self.model.add_bool_or([last.negated(), done.negated(), begun])
        if not self.demands.warmth[machine].authorised & set(self.demands.staff):
            self.model.add(first == 0)

    def _hold(self, machine: str) -> None:
        """After each use but the last another begins before the plastic has stood too long."""
        for group, task in self._uses(machine):
            longest = self.demands.hold(machine, task)
            if longest is None:
                continue
            for k, x in self._own_starts(group, task.id):
                until = (k * self.slot + task.takes + longest) // self.slot
                soon = [
                    y
                    for g, other in self._uses(machine)
                    if (g, other.id) != (group, task.id)
                    for y in self.starts(g, other.id, k, until)
                ]
                self.model.add_bool_or([x.negated(), self._last[machine, k], *soon])

    def _fuses(self) -> None:
        for fuse in self.demands.fuses:
            hot = [self.demands.warmth[m] for m in fuse.loads if m in self.demands.warmth]
            lead = max((warmth.lead for warmth in hot), default=0)
            offsets = {0, *((-warmth.lead) % self.slot for warmth in hot)}
            for k in range(-self._up(lead), self.ends + 1):
                for offset in offsets:
                    self._carries(fuse, k * self.slot + offset)

    def _carries(self, fuse: Fuse, minute: int) -> None:
        """What flows at a minute, whether or not it is a whole slot."""
        drawn = [
            load * self._draws(machine, minute)
            for machine, load in fuse.loads.items()
            if self.users.get(machine)
        ]
        self.model.add(sum(drawn) <= fuse.most - fuse.standing)

    def _draws(self, machine: str, minute: int) -> Term:
        if machine in self.demands.warmth:
            return self._is_hot(machine, minute)
        return sum(self._at_work(task, minute) for task in self.users[machine])

    def _at_work(self, task: Task, minute: int) -> Term:
        """Whether any group is at a task at a minute, to the slot where several may be."""
        if task.groups > 1:
            return self._busy[task.id][minute // self.slot] if minute >= 0 else 0
        first, last = (minute - task.takes) // self.slot + 1, minute // self.slot
        return sum(x for g in self.demands.groups for x in self.starts(g, task.id, first, last))

    def _is_hot(self, machine: str, minute: int) -> Term:
        """Whether a machine is on: its first use begins within its lead, and its last goes on."""
        warmth = self.demands.warmth[machine]
        k = (minute + warmth.lead) // self.slot
        if k < 0:
            return 0
        on, over = self.model.new_bool_var(""), self.model.new_bool_var("")
        first = self._first[machine, min(k, self.ends)]
        for group, task in self._uses(machine):
            ended = self.begun(group, task.id, (minute - task.takes) // self.slot)
            self.model.add_bool_or([over.negated(), self.done[group, task.id].negated(), ended])
        self.model.add_bool_or([first.negated(), over, on])
        return on

    # --- break, finish, order of groups

    def _break(self) -> None:
        """One slot before which everybody has been free for the break, and after which all go on.

        A session in which no group does two things needs none.
        """
        if not self.demands.break_min or len(self.tasks) < 2:
            return
        after = {k: self.model.new_bool_var("") for k in range(1, self.ends + 1)}
        self.model.add_exactly_one(after.values())
        for k, here in after.items():
            for group in self.demands.groups:
                self._breaks_at(group, k, here)

    def _breaks_at(self, group: int, k: int, here: Bool) -> None:
        for task in self.tasks:
            free = k * self.slot - self.demands.break_min - task.takes
            clashing = self.starts(group, task.id, free // self.slot + 1, k - 1)
            self.model.add_at_most_one([here, *clashing])
        begun = [self.by[group, task.id, k - 1] for task in self.tasks]
        later = sum(
            self.done[group, task.id] - b for task, b in zip(self.tasks, begun, strict=True)
        )
        self.model.add_bool_or([here.negated(), *begun])
        self.model.add(later >= here)

    def _finishes(self) -> None:
        self.finish = {}
        bounds = Bounds(self.demands, self.slot)
        least = bounds.of_a_group()
        for group in self.demands.groups:
            ends = self.model.new_int_var(min(least, max(self.last, 0)), max(self.last, 0), "")
            for task in self.tasks:
                own = self._own_starts(group, task.id)
                self.model.add(ends >= sum((k * self.slot + task.takes) * x for k, x in own))
            self.finish[group] = ends
        self.model.add(sum(self.finish.values()) >= sum(bounds.finishes()))

    def _alike(self) -> None:
        """Groups come to the task that is hardest to share in the order of their numbers."""
        if not self.tasks:
            return
        hardest = max(self.tasks, key=lambda t: (t.must, t.takes / t.groups))
        if not hardest.must:
            return
        slots = self.slots[hardest.id] if hardest.groups == 1 else 0
        for group in list(self.demands.groups)[:-1]:
            for k in range(self.ends + 1):
                earlier = self.begun(group, hardest.id, k - slots)
                self._implies(self.begun(group + 1, hardest.id, k), earlier)

    # --- asking

    def hint(self, lines: Iterable[Line]) -> None:
        """Begin the search at a timetable."""
        at = {(x.group, x.task, (x.start - self.demands.opens) // self.slot) for x in lines}
        for key, x in self.x.items():
            self.model.add_hint(x, key in at)

    def fits(self, work: float, seed: int) -> Answer:
        """Any timetable at all."""
        return self._solve(work, seed)

    def most_done(self, work: float, seed: int) -> Answer:
        """The most of the activities that are no must."""
        extra = [
            done for (_g, task), done in self.done.items() if not self.demands.tasks[task].must
        ]
        self.model.maximize(sum(extra))
        return self._solve(work, seed)

    def at_least_done(self, count: int) -> None:
        """Hold to so many activities that are no must."""
        extra = [
            done for (_g, task), done in self.done.items() if not self.demands.tasks[task].must
        ]
        self.model.add(sum(extra) >= count)

    def least_waiting(self, work: float, seed: int) -> Answer:
        """The least sum over groups of when each has ended its last activity [min]."""
        self.model.minimize(sum(self.finish.values()))
        return self._solve(work, seed)

    def least_spread(self, total: int, work: float, seed: int) -> Answer:
        """With the finishes summing to at most ``total``: the least time between first and last."""
        self.model.add(sum(self.finish.values()) <= total)
        earliest = self.model.new_int_var(0, max(self.last, 0), "")
        latest = self.model.new_int_var(0, max(self.last, 0), "")
        for finish in self.finish.values():
            self.model.add(earliest <= finish)
            self.model.add(finish <= latest)
        self.model.minimize(latest - earliest)
        return self._solve(work, seed)

    def _solve(self, work: float, seed: int) -> Answer:
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = seed
        solver.parameters.max_deterministic_time = max(work, 0.01)
        solver.parameters.linearization_level = 1
        status = _STATUS.get(int(solver.solve(self.model)), "unknown")
        spent = solver.response_proto.deterministic_time
        if status not in ("best", "found"):
            return Answer(status, work=spent)
        value, bound = round(solver.objective_value), round(solver.best_objective_bound)
        return Answer(status, tuple(self._lines(solver)), value, bound, spent)

    def _lines(self, solver: cp_model.CpSolver) -> Iterator[Line]:
        for (group, task, k), x in self.x.items():
            if solver.value(x):
                yield Line(group, task, self.demands.opens + k * self.slot)
