"""Each demand of a timetable is broken alone by one change, and by nothing without it."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

import pytest

from generator.workings.sessions.demands import Demands, Fuse, Line, Warmth
from generator.workings.sessions.rules import broken
from generator.workings.sessions.staffing import short_of
from tests.session_cases import OPENS, demands, task

_A, _B = task("a"), task("b")
_HEAT = {"press": Warmth("press", 20, 10, 40, frozenset({"hand"}))}
_HOT = task("a", machines=("press",), polymer="pp")


class Case(NamedTuple):
    """Demands, a timetable that keeps to them, and one that breaks ``demand`` alone."""

    demand: str
    held_to: Demands
    right: list[tuple[int, str, int]]
    wrong: list[tuple[int, str, int]]


_SEQUENCE = [(1, "a", 0), (1, "b", 15)]
CASES = [
    Case("must", demands(_A, _B, groups=1), _SEQUENCE, [(1, "a", 0)]),
    Case("twice", demands(_A, groups=1), [(1, "a", 0)], [(1, "a", 0), (1, "a", 20)]),
    Case("arrival", demands(_A, groups=1), [(1, "a", 0)], [(1, "a", -1)]),
    Case("tidy", demands(_A, groups=1, minutes=60), [(1, "a", 45)], [(1, "a", 46)]),
    Case("group", demands(_A, _B, groups=1), _SEQUENCE, [(1, "a", 0), (1, "b", 14)]),
    Case(
        "walk",
        demands(_A, _B, groups=1, walks={("at-a", "at-b"): 2}),
        [(1, "a", 0), (1, "b", 17)],
        [(1, "a", 0), (1, "b", 16)],
    ),
    Case(
        "order",
        demands(_A, task("b", after=(("a", 10),)), groups=1),
        [(1, "a", 0), (1, "b", 25)],
        [(1, "a", 0), (1, "b", 24)],
    ),
    Case("capacity", demands(_A), [(1, "a", 0), (2, "a", 15)], [(1, "a", 0), (2, "a", 14)]),
    Case(
        "station",
        demands(replace(_A, must=False), replace(_B, must=False, station="at-a")),
        [(1, "a", 0), (2, "b", 15)],
        [(1, "a", 0), (2, "b", 14)],
    ),
    Case(
        "machine",
        demands(
            replace(_A, must=False, machines=("saw",)), replace(_B, must=False, machines=("saw",))
        ),
        [(1, "a", 0), (2, "b", 15)],
        [(1, "a", 0), (2, "b", 14)],
    ),
    Case(
        "setup",
        demands(
            replace(_A, must=False, machines=("saw",)),
            replace(_B, must=False, machines=("saw",)),
            setups={("a", "b"): 5},
        ),
        [(1, "a", 0), (2, "b", 20)],
        [(1, "a", 0), (2, "b", 19)],
    ),
    Case(
        "mould",
        demands(replace(_A, moulds=("tile",), cools=30)),
        [(1, "a", 0), (2, "a", 45)],
        [(1, "a", 0), (2, "a", 44)],
    ),
    Case(
        "tools",
        demands(replace(_A, groups=2, tools=("snips",)), tools={"snips": 1}),
        [(1, "a", 0), (2, "a", 15)],
        [(1, "a", 0), (2, "a", 14)],
    ),
    Case(
        "supervisors",
        demands(_A, _B, staff={"hand": 1}),
        [(1, "a", 0), (1, "b", 15), (2, "a", 30), (2, "b", 45)],
        [(1, "a", 0), (1, "b", 15), (2, "a", 29), (2, "b", 45)],
    ),
    Case(
        "power",
        demands(
            replace(_A, machines=("saw",)),
            replace(_B, machines=("drill",)),
            fuses=(Fuse("main", "room/supply", 10_000, 0, {"saw": 6_000, "drill": 6_000}),),
        ),
        [(1, "a", 0), (1, "b", 15), (2, "a", 30), (2, "b", 45)],
        [(1, "a", 0), (1, "b", 15), (2, "a", 29), (2, "b", 45)],
    ),
    Case(
        "hold",
        demands(_HOT, warmth=_HEAT, holds={("press", "pp"): 20}),
        [(1, "a", 0), (2, "a", 35)],
        [(1, "a", 0), (2, "a", 36)],
    ),
    Case(
        "break",
        demands(_A, _B, groups=1, break_min=10),
        [(1, "a", 0), (1, "b", 25)],
        [(1, "a", 0), (1, "b", 24)],
    ),
]


def _lines(rows: list[tuple[int, str, int]]) -> list[Line]:
    return [Line(group, id_, OPENS + start) for group, id_, start in rows]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.demand)
def test_a_demand_is_broken_by_itself(case: Case) -> None:
    assert broken(case.held_to, _lines(case.right)) == ()
    assert {b.demand for b in broken(case.held_to, _lines(case.wrong))} == {case.demand}


def test_a_hot_machine_needs_somebody_authorised() -> None:
    lines = _lines([(1, "a", 0)])
    attended = demands(_HOT, groups=1, warmth=_HEAT)
    nobody = {"press": replace(_HEAT["press"], authorised=frozenset({"trainer"}))}
    assert broken(attended, lines) == ()
    (found,) = broken(attended.with_(warmth=nobody), lines)
    # it is switched on 20 min of heating and 10 min of soaking before the first use
    assert (found.demand, found.minute) == ("attended", OPENS - 30)


def test_heating_up_draws_current_before_the_first_use() -> None:
    """Heated from 09:45 on for a use at 10:15, it clashes with a saw that runs until 09:46."""
    fuse = Fuse("main", "room/supply", 10_000, 0, {"press": 6_000, "saw": 6_000})
    made = demands(
        _HOT, replace(_B, must=False, machines=("saw",)), groups=1, warmth=_HEAT, fuses=(fuse,)
    )
    assert broken(made, _lines([(1, "b", 0), (1, "a", 45)])) == ()
    (found,) = broken(made, _lines([(1, "b", 0), (1, "a", 44)]))
    assert (found.demand, found.minute) == ("power", OPENS + 14)


def test_a_break_between_activities_takes_the_walk_with_it() -> None:
    made = demands(_A, _B, groups=1, break_min=10, walks={("at-a", "at-b"): 2})
    assert broken(made, _lines([(1, "a", 0), (1, "b", 25)])) == ()


def test_people_are_short_exactly_when_they_cannot_be_shared_out() -> None:
    either, only = frozenset({"hot", "hand"}), frozenset({"hot"})
    assert short_of([(either, 1), (only, 1)], {"hot": 1, "hand": 1}) is None
    assert short_of([(only, 2)], {"hot": 1, "hand": 5}) == only
    assert short_of([(either, 2), (only, 1)], {"hot": 1, "hand": 1}) == either
