"""What waits for what when a session falls behind, by small timetables laid out by hand."""

from __future__ import annotations

from typing import Any

import pytest

from generator.workings.sessions.demands import Demands, Fuse, Line, Task
from generator.workings.sessions.slipping import follows

TASK: dict[str, Any] = {
    "takes": 15, "groups": 1, "must": True, "machines": (), "moulds": (), "tools": (), "after": (),
    "crew": frozenset({"hand"}), "supervisors": 1, "cools": 0, "polymer": None, "blend": None,
}  # fmt: skip


def task(id_: str, **changes: Any) -> Task:
    return Task(**{**TASK, "id": id_, "station": f"at-{id_}", **changes})


def demands(*tasks: Task, **changes: Any) -> Demands:
    given: dict[str, Any] = {
        "session": "s", "sizes": (4, 4, 4), "opens": 540, "closes": 720, "break_min": 0,
        "tasks": {t.id: t for t in tasks}, "walks": {}, "staff": {"hand": 9}, "tools": {},
        "warmth": {}, "holds": {}, "setups": {}, "fuses": (),
    }  # fmt: skip
    return Demands(**{**given, **changes})


def waits(held: Demands, *rows: tuple[int, str, int]) -> list[dict[int, int]]:
    return [dict(found) for found in follows(held, [Line(*row) for row in rows])]


A, B = task("a"), task("b")


def test_nothing_waits_for_what_shares_nothing() -> None:
    assert waits(demands(A, B), (1, "a", 600), (2, "b", 620)) == [{}, {}]


def test_a_group_walks_from_one_to_the_next() -> None:
    held = demands(A, B, walks={("at-a", "at-b"): 3})
    assert waits(held, (1, "a", 600), (1, "b", 620)) == [{}, {0: 3}]


def test_no_wait_is_longer_than_what_the_timetable_leaves() -> None:
    held = demands(A, B, walks={("at-a", "at-b"): 9})
    assert waits(held, (1, "a", 600), (1, "b", 617)) == [{}, {0: 2}]


def test_the_gap_after_what_comes_first_counts_too() -> None:
    later = task("b", after=(("a", 5),))
    assert waits(demands(A, later), (1, "a", 600), (1, "b", 630)) == [{}, {0: 5}]


def test_who_comes_waits_for_who_must_leave() -> None:
    assert waits(demands(A), (1, "a", 600), (2, "a", 615)) == [{}, {0: 0}]
    roomy = task("a", groups=2)
    rows = [(1, "a", 600), (2, "a", 600), (3, "a", 620)]
    assert waits(demands(roomy), *rows) == [{}, {}, {0: 0}]


@pytest.mark.parametrize(
    ("shared", "gap", "more"),
    [
        ({"station": "one"}, 0, {}),
        ({"machines": ("press",)}, 12, {"setups": {("a", "b"): 12}}),
        ({"moulds": ("wedge",), "cools": 4}, 4, {}),
        ({"tools": ("snips",)}, 0, {"tools": {"snips": 1}}),
    ],
)
def test_two_activities_wait_for_the_one_thing_they_share(
    shared: dict[str, Any], gap: int, more: dict[str, Any]
) -> None:
    held = demands(task("a", **shared), task("b", **shared), **more)
    assert waits(held, (1, "a", 600), (2, "b", 640)) == [{}, {0: gap}]


def test_tools_of_which_there_are_enough_are_not_waited_for() -> None:
    tasks = [task(id_, tools=("snips",)) for id_ in ("a", "b")]
    assert waits(demands(*tasks, tools={"snips": 2}), (1, "a", 600), (2, "b", 640)) == [{}, {}]


def test_one_person_is_waited_for_and_two_are_not() -> None:
    rows = [(1, "a", 600), (2, "b", 620)]
    assert waits(demands(A, B, staff={"hand": 1}), *rows) == [{}, {0: 0}]
    assert waits(demands(A, B, staff={"hand": 2}), *rows) == [{}, {}]


def test_whoever_may_do_least_else_is_taken_first() -> None:
    """The leader alone may do B, so a hand takes A, and B waits for nobody."""
    both = task("a", crew=frozenset({"hand", "leader"}))
    only = task("b", crew=frozenset({"leader"}))
    held = demands(both, only, staff={"hand": 1, "leader": 1})
    assert waits(held, (1, "a", 600), (2, "b", 620)) == [{}, {}]


def test_machines_that_overload_a_fuse_together_are_kept_apart() -> None:
    saw, mill = task("a", machines=("saw",)), task("b", machines=("mill",))
    rows = [(1, "a", 600), (2, "b", 620)]
    tight = Fuse("Q1", "room/circuits/c1", 16_000, 1_000, {"saw": 8_000, "mill": 8_000})
    assert waits(demands(saw, mill, fuses=(tight,)), *rows) == [{}, {0: 0}]
    wide = Fuse("Q1", "room/circuits/c1", 17_000, 1_000, {"saw": 8_000, "mill": 8_000})
    assert waits(demands(saw, mill, fuses=(wide,)), *rows) == [{}, {}]
