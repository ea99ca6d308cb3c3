"""How long checking a timetable takes, and how often proposing one ends in a proof.

    python -m tests.benchmarks.sessions [CASES]

Seconds are of one core's work, so that they do not depend on what else the machine does. Seeded
cases that nothing fits are left out of the proposals (how many is told) and explained instead.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator
from typing import TypeVar

from generator.workings.sessions.demands import Demands, Line
from generator.workings.sessions.feasible import any_timetable
from generator.workings.sessions.proposing import Proposal, propose
from generator.workings.sessions.rules import broken
from generator.workings.sessions.telling import Teller
from generator.workings.sessions.why import Why, explain
from tests.session_cases import OPENS, seeded

T = TypeVar("T")

_CASES = 20
_ROUNDS = 5
_SECONDS = 10.0
_CHECK_GOAL_MS = 50.0
_GOALS = {5: 85, 6: 50}
"""Of 100 cases, how many are to be proven best in time, by groups and activities."""
_ROOMY, _TIGHT = 2.0, 0.9


def main(cases: int) -> None:
    _check()
    for size, goal in _GOALS.items():
        _proposals(size, goal, cases)
    _explanations(cases)


def _timed(run: Callable[[], T]) -> tuple[T, float]:
    start = time.process_time()
    made = run()
    return made, time.process_time() - start


# --- checking ----------------------------------------------------------------------------------


def _check() -> None:
    """8 groups at 8 activities, in a plain rotation that is good in places and bad in others."""
    made = seeded(1, 8, 8, _ROOMY)
    ids = list(made.tasks)
    lines = [
        Line(group, ids[(group + n) % 8], OPENS + 20 * n) for group in made.groups for n in range(8)
    ]
    best = min(_timed(lambda: broken(made, lines))[1] for _round in range(_ROUNDS))
    count = len(broken(made, lines))
    share = 100 * best * 1000 / _CHECK_GOAL_MS
    print(f"check 8 x 8: {1000 * best:.1f} ms ({count} clashes), {share:.0f} % of the goal")


# --- proposing ---------------------------------------------------------------------------------


def _solvable(size: int, cases: int) -> Iterator[tuple[int, Demands]]:
    seed = found = 0
    while found < cases:
        made = seeded(seed, size, size, _ROOMY)
        if any_timetable(made, 5, 1, 2.0).status != "impossible":
            found += 1
            yield seed, made
        seed += 1


def _proposals(size: int, goal: int, cases: int) -> None:
    proven = 0
    for seed, made in _solvable(size, cases):
        found, seconds = _timed(lambda made=made: propose(made, work=_SECONDS))  # type: ignore[misc]
        proven += found.status == "best" and seconds < _SECONDS
        print(f"  {size} x {size} seed {seed}: {found.status}, {seconds:.1f} s, {_gaps(found)}")
        assert not (found.lines and broken(made, found.lines))
    print(f"propose {size} x {size}: {100 * proven / cases:.0f} % proven best, goal {goal} %")


def _gaps(found: Proposal) -> str:
    return ", ".join(f"{goal.name} gap {goal.gap} of {goal.reached}" for goal in found.goals)


# --- explaining --------------------------------------------------------------------------------


class _Plain(Teller):
    """Ids for words: the seeded sessions have no shop behind them."""

    def __init__(self, demands: Demands) -> None:
        super().__init__(None, None, demands)  # type: ignore[arg-type]

    def task(self, id_: str) -> str:
        return id_

    machine = role = station = tool = mould = task


def _explanations(cases: int) -> None:
    longest, sure, told, seed = 0.0, 0, 0, 0
    while told < cases:
        made = seeded(seed, 5, 5, _TIGHT)
        seed += 1
        why, seconds = _timed(lambda made=made: explain(_Plain(made)))  # type: ignore[misc]
        told += 1
        sure += why.sure
        longest = max(longest, seconds)
        print(f"  explain seed {seed - 1}: {seconds:.1f} s, {_reasons(why)}")
    print(f"explain 5 x 5: {100 * sure / cases:.0f} % with every answer, longest {longest:.1f} s, "
          f"goal {_SECONDS:.0f} s")  # fmt: skip


def _reasons(why: Why) -> str:
    return f"{len(why.reasons)} reasons, {len(why.changes)} ways out"


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else _CASES)
