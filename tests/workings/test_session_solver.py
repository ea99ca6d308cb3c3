"""What is proposed is the best there is, and keeps to everything that is checked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import product

import pytest

from generator.workings.sessions.bounds import Bounds
from generator.workings.sessions.demands import Demands, Fuse, Line, Warmth
from generator.workings.sessions.proposing import Proposal, propose
from generator.workings.sessions.rules import broken
from tests.session_cases import OPENS, demands, seeded, task

_HEAT = {"press": Warmth("press", 20, 10, 40, frozenset({"hand"}))}
_SLOT = 10


def _every_timetable(made: Demands) -> Iterator[tuple[Line, ...]]:
    """All of them, by trying every start of every group at every activity."""
    uses = [(group, id_) for group in made.groups for id_ in made.tasks]
    starts = range(made.opens, made.closes, _SLOT)
    for chosen in product(starts, repeat=len(uses)):
        yield tuple(Line(g, t, s) for (g, t), s in zip(uses, chosen, strict=True))


def _goals(made: Demands, lines: tuple[Line, ...]) -> tuple[int, int, int]:
    """Finish, sum of the groups' finishes, and what lies between first and last."""
    ends = [max(made.end(x) for x in lines if x.group == g) for g in made.groups]
    return max(ends), sum(ends), max(ends) - min(ends)


_A, _B = task("a", 10), task("b", 20)
SMALL = {
    "two activities": demands(_A, _B, minutes=50),
    "walks": demands(_A, _B, minutes=70, walks={("at-a", "at-b"): 1, ("at-b", "at-a"): 12}),
    "order": demands(_A, replace(_B, after=(("a", 10),)), minutes=70),
    "one hand": demands(_A, _B, minutes=70, staff={"hand": 1}),
    "break": demands(_A, _B, minutes=70, break_min=10),
    "room for two": demands(replace(_A, groups=2), _B, minutes=60),
    "two at once, one in charge": demands(
        replace(_A, groups=2), _B, minutes=60, staff={"hand": 1}
    ),
    "a tool": demands(
        replace(_A, groups=2, tools=("snips",)), _B, minutes=60, tools={"snips": 1}
    ),
    "a machine to set up": demands(
        replace(_A, machines=("saw",)), replace(_B, machines=("saw",)), minutes=90,
        setups={("a", "b"): 5, ("b", "a"): 15},
    ),
    "one station": demands(_A, replace(_B, station="at-a"), minutes=70),
    "a mould that cools": demands(replace(_A, moulds=("tile",), cools=15), _B, minutes=70),
    "hot at most 10 min": demands(
        replace(_A, machines=("press",), polymer="pp"), replace(_B, after=(("a", 0),)),
        minutes=90, warmth=_HEAT, holds={("press", "pp"): 10},
    ),
    "power": demands(
        replace(_A, machines=("press",), polymer="pp"), replace(_B, machines=("saw",)),
        minutes=90, warmth=_HEAT,
        fuses=(Fuse("main", "room/supply", 10_000, 500, {"press": 6_000, "saw": 6_000}),),
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", SMALL)
def test_no_timetable_is_better_than_the_one_proposed(name: str) -> None:
    """The optimum by trying every timetable there is: up to 9 starts for each of 4 uses."""
    made = SMALL[name]
    best = min(_goals(made, x) for x in _every_timetable(made) if not broken(made, x))
    found = propose(made, _SLOT, work=20.0)
    assert found.status == "best"
    assert broken(made, found.lines) == ()
    assert _goals(made, found.lines) == best
    assert [goal.gap for goal in found.goals] == [0, 0, 0]


def test_an_extra_activity_is_done_by_as_many_as_fit() -> None:
    extra = replace(_B, must=False)
    made = demands(_A, extra, minutes=40)
    found = propose(made, _SLOT)
    done = [
        sum(line.task == "b" for line in x)
        for x in (_some_of(made, lines) for lines in _every_timetable(made))
        if not broken(made, x)
    ]
    assert found.goals[0].name == "optional"
    assert found.goals[0].reached == found.goals[0].bound == max(done)


def _some_of(made: Demands, lines: tuple[Line, ...]) -> tuple[Line, ...]:
    """Without those that would end too late: nobody need do them."""
    return tuple(x for x in lines if made.tasks[x.task].must or made.end(x) <= made.closes)


@pytest.mark.parametrize("seed", range(6))
def test_what_is_proposed_keeps_to_everything(seed: int) -> None:
    made = seeded(seed, 4, 4, 2.0)
    found = propose(made, work=4.0)
    assert found.status in ("best", "found", "impossible")
    assert broken(made, found.lines) == () if found.lines else found.status == "impossible"


@pytest.mark.parametrize("seed", range(6))
def test_nobody_is_done_sooner_than_adding_up_allows(seed: int) -> None:
    made = seeded(seed, 4, 4, 2.0)
    found = propose(made, work=4.0)
    ends = sorted(
        max((made.end(x) for x in found.lines if x.group == g), default=10**6) - OPENS
        for g in made.groups
    )
    least = sorted(Bounds(made, 5).finishes())
    assert all(one >= other for one, other in zip(ends, least, strict=True))


def test_the_same_seed_gives_the_same_timetable() -> None:
    def again() -> Proposal:
        return propose(seeded(3, 4, 4, 2.0), seed=7, work=4.0)

    assert again() == again()


def test_a_gap_is_told_where_the_work_does_not_reach_for_a_proof() -> None:
    made = seeded(3, 6, 6, 2.0)
    found = propose(made, work=1.0)
    assert found.status in ("found", "unknown")
    assert found.status == "unknown" or any(goal.gap for goal in found.goals)
    assert all(goal.bound <= goal.reached for goal in found.goals if goal.name != "optional")
