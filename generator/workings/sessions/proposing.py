"""A timetable proposed: first as much as can be done, then the earliest finish, then the least
waiting, then the least difference between groups; each is held while the next is looked for.

The earliest finish is found by asking for one horizon after another, because a horizon that is too
short is quickly proven so. What is not proven within the work allowed is told as a gap.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from generator.workings.sessions.bounds import Bounds
from generator.workings.sessions.demands import Demands, Line
from generator.workings.sessions.feasible import any_timetable
from generator.workings.sessions.grid import Grid
from generator.workings.sessions.results import Goal
from generator.workings.sessions.solver import Answer, Model, Status

_SHARE = 0.5
"""Of the work left, what one question may take while others are still to be asked."""


@dataclass(frozen=True, slots=True)
class Proposal:
    """What was found.

    ``status`` is ``best`` where every goal is proven, ``found`` where a gap is left in one,
    ``impossible`` where no timetable keeps to everything, ``unknown`` where neither a timetable
    nor a proof was found. ``work`` is in the solver's own count.
    """

    status: Status
    lines: tuple[Line, ...] = ()
    goals: tuple[Goal, ...] = ()
    work: float = 0.0


@dataclass
class _Budget:
    """Work left to spend."""

    left: float
    spent: float = field(default=0.0)

    def pay(self, answer: Answer) -> Answer:
        self.left -= answer.work
        self.spent += answer.work
        return answer


class Search:
    """One search for a timetable.

    Parameters
    ----------
    demands
        What it is held to.
    slot_min
        Starts are whole slots of this length after arrival [min].
    seed
        Of the solver: the same seed finds the same timetable.
    work
        The most work, in the solver's own count; about as many seconds of one core.
    """

    def __init__(self, demands: Demands, slot_min: int, seed: int, work: float) -> None:
        self.demands, self.slot, self.seed = demands, slot_min, seed
        self._budget = _Budget(work)
        self._extra = 0
        self._goals: list[Goal] = []

    def run(self) -> Proposal:
        """Look for the best timetable."""
        first = self._feasible()
        if not first.lines:
            return Proposal(first.status, work=self._budget.spent)
        lines = self._optional(first.lines)
        lines = self._earliest(lines)
        lines = self._waiting(lines)
        lines = self._spread(lines)
        status: Status = "found" if any(goal.gap for goal in self._goals) else "best"
        return Proposal(status, lines, tuple(self._goals), self._budget.spent)

    def _model(self, last_min: int) -> Model:
        model = Model(self.demands, self.slot, last_min)
        if self._extra:
            model.at_least_done(self._extra)
        return model

    def _feasible(self) -> Answer:
        work = self._budget.left * _SHARE
        return self._budget.pay(any_timetable(self.demands, self.slot, self.seed, work))

    # --- as much as can be done

    def _optional(self, lines: tuple[Line, ...]) -> tuple[Line, ...]:
        wanted = (len(self.demands.tasks) - len(self.demands.must)) * len(self.demands.sizes)
        if not wanted:
            return lines
        model = self._model(self.demands.closes)
        model.hint(lines)
        answer = self._budget.pay(model.most_done(self._budget.left * _SHARE, self.seed))
        best = answer.lines or lines
        self._extra = len(best) - len(self.demands.must) * len(self.demands.sizes)
        bound = answer.bound if answer.lines else wanted
        self._goals.append(Goal("optional", self._extra, bound))
        return best

    # --- earliest finish

    def _earliest(self, lines: tuple[Line, ...]) -> tuple[Line, ...]:
        """Halve what lies between the latest finish proven too early and the earliest found."""
        ends = self._finishes()
        low, high = -1, ends.index(self._finish(lines))  # ends[low] is too early, ends[high] not
        open_below = high
        while high - low > 1 and self._budget.left > 0:
            middle = _between(low, min(high, open_below))
            if middle is None:
                break
            model = self._model(ends[middle])
            answer = self._budget.pay(model.fits(self._budget.left * _SHARE, self.seed))
            if answer.lines:
                lines, high = answer.lines, ends.index(self._finish(answer.lines))
                open_below = high
            elif answer.status == "impossible":
                low, open_below = middle, high if open_below <= middle else open_below
            else:
                open_below = middle
        bound = ends[min(low + 1, high)]
        self._goals.append(Goal("finish", ends[high], bound))
        return lines

    def _finish(self, lines: tuple[Line, ...]) -> int:
        return max(self.demands.end(line) for line in lines)

    def _finishes(self) -> list[int]:
        """Every minute at which something can end, from the least anybody needs."""
        demands = self.demands
        least = demands.opens + max(Bounds(demands, self.slot).finishes(), default=0)
        found = {
            start + task.takes
            for task in demands.tasks.values()
            for start in range(demands.opens, demands.closes, self.slot)
        }
        return sorted(end for end in found if least <= end <= demands.closes)

    # --- waiting, and how it is shared

    def _waiting(self, lines: tuple[Line, ...]) -> tuple[Line, ...]:
        model = self._model(self._finish(lines))
        model.hint(lines)
        answer = self._budget.pay(model.least_waiting(self._budget.left, self.seed))
        work = self._work(lines)
        best = answer.lines or lines
        bound = answer.bound - work if answer.lines else 0
        self._goals.append(Goal("waiting", self._idle(best), max(bound, 0)))
        return best

    def _work(self, lines: tuple[Line, ...]) -> int:
        """What is no waiting in the sum of the finishes: activities, breaks, minutes to opening."""
        takes = sum(self.demands.tasks[line.task].takes for line in lines)
        return takes + self.demands.break_min * len(self.demands.sizes)

    def _idle(self, lines: tuple[Line, ...]) -> int:
        return sum(self._ends(lines)) - self._work(lines)

    def _ends(self, lines: tuple[Line, ...]) -> list[int]:
        """When each group has ended its last activity [min after opening]."""
        groups = Grid(self.demands, lines).by_group.values()
        return [max(map(self.demands.end, own)) - self.demands.opens for own in groups if own]

    def _spread(self, lines: tuple[Line, ...]) -> tuple[Line, ...]:
        ends = self._ends(lines)
        reached = max(ends) - min(ends)
        if not reached:
            self._goals.append(Goal("spread", 0, 0))
            return lines
        model = self._model(self._finish(lines))
        model.hint(lines)
        answer = self._budget.pay(model.least_spread(sum(ends), self._budget.left, self.seed))
        best = answer.lines or lines
        ends = self._ends(best)
        bound = max(answer.bound if answer.lines else 0, self._least_spread(ends))
        self._goals.append(Goal("spread", max(ends) - min(ends), bound))
        return best

    def _least_spread(self, ends: list[int]) -> int:
        """The last is done when it must be, and the first no later than the mean of all."""
        proven = all(goal.gap == 0 for goal in self._goals if goal.name != "spread")
        return max(ends) - sum(ends) // len(ends) if proven else 0


def _between(low: int, high: int) -> int | None:
    """The middle of what is still open between two, None where nothing is."""
    return (low + high) // 2 if high - low > 1 else None


def propose(demands: Demands, slot_min: int = 5, seed: int = 1, work: float = 10.0) -> Proposal:
    """Look for the best timetable a session's demands allow.

    Parameters
    ----------
    demands
        What it is held to.
    slot_min
        Activities start at whole slots of this length after arrival [min].
    seed
        The same seed gives the same timetable.
    work
        The most work, in the solver's own count; about as many seconds of one core.
    """
    return Search(demands, slot_min, seed, work).run()
