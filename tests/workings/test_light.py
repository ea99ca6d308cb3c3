"""Light held against what each task needs, and emergency light asked for with its figures."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.ground.finding import Severity
from generator.ground.working import Verdict
from generator.shop.shop import Shop
from generator.workings import light
from tests.workings.hall import Data, found, hall, machine, only, plain, station, working


def read(*readings: tuple[str, str, str]) -> Data:
    return {"light": [{"station": s, "reading": lx, "day": day} for s, lx, day in readings]}


@pytest.mark.parametrize(
    ("zone", "kind", "need"),
    [
        ("store", None, 100),  # EN 12464-1: corridor or store
        ("front", None, 100),
        ("hot", None, 300),  # machine work, medium assembly
        ("store", "band-saw", 300),
    ],
)
def test_a_task_needs_what_the_table_says_of_it(zone: str, kind: str | None, need: int) -> None:
    machines = {"it": machine(kind)} if kind else {}
    made = light.study(hall(stations={"bench": station(zone=zone)}, machines=machines))
    assert made.stations[0].need_lx == need
    assert not made.stations[0].own_figure


def test_the_shops_own_figure_wins_and_is_said_where_it_is_less() -> None:
    shop = hall(stations={"bench": station(light="200 lx")}, room=read(("bench", "210 lx", DAY)))
    made = light.study(shop)
    assert made.stations[0].need_lx == 200 and made.stations[0].verdict is Verdict.HOLDS
    assert "300 lx" in plain(only(made.survey.findings, "light.own-figure", Severity.NOTE).says)


DAY, LATER = "2026-03-02", "2026-05-02"


def test_the_lowest_reading_of_the_newest_day_counts() -> None:
    readings = read(
        ("bench", "100 lx", DAY), ("bench", "350 lx", LATER), ("bench", "290 lx", LATER)
    )
    made = light.study(hall(room=readings))
    assert made.stations[0].has_lx == 290
    told = only(made.survey.findings, "light.dark", Severity.FIX)
    assert "290 lx" in plain(told.says) and "10 lx" in plain(told.mend)
    assert working(made.survey.workings, "light.station.bench").margin.value == -10  # type: ignore[union-attr]


def test_light_that_is_just_enough_holds() -> None:
    made = light.study(hall(room=read(("bench", "300 lx", DAY))))
    assert made.stations[0].verdict is Verdict.HOLDS
    assert not found(made.survey.findings, "light.dark")


def test_what_nobody_read_is_said_once_where_nobody_read_anything() -> None:
    two = {"bench": station(), "other": station(2)}
    nothing = light.study(hall(stations=two))
    assert only(nothing.survey.findings, "light.no-reading", Severity.NOTE).subject == "room"
    some = light.study(hall(stations=two, room=read(("bench", "400 lx", DAY))))
    assert only(some.survey.findings, "light.no-reading", Severity.NOTE).subject == "stations/other"
    assert some.stations[1].verdict is Verdict.UNANSWERED


@given(st.floats(0, 5000))
def test_emergency_light_is_a_tenth_and_never_under_fifteen(task: float) -> None:
    """EN 1838: at least 10 % of the task's light and at least 15 lx."""
    need = light.emergency_need_lx(task)
    assert need >= 15 and need >= task / 10 - 1e-9
    assert need == pytest.approx(max(15, task / 10))


def test_emergency_light_is_worked_out_where_something_turns_or_is_hot() -> None:
    machines = {"saw": machine("band-saw"), "scale": machine("scale", "other")}
    two = {"bench": station(light="500 lx"), "other": station(2)}
    made = light.study(hall(stations=two, machines=machines))
    assert [s.emergency_lx for s in made.stations] == [50, None]
    assert working(made.survey.workings, "light.emergency.bench").verdict is Verdict.UNANSWERED


def test_emergency_light_is_always_asked_for_with_the_farthest_point() -> None:
    none = only(light.study(hall()).survey.findings, "light.emergency", Severity.ASK)
    assert none.asks == "fire" and "No emergency light" in none.says
    equipment = {
        "lamp": {"kind": "emergency-light", "name": "Lamp", "at": "0, 0 mm"},
        "near": {"kind": "first-aid", "name": "First aid", "at": "1 m, 0 m"},
        "far": {"kind": "extinguisher", "name": "Foam", "at": "3 m, 4 m"},
    }
    some = light.study(hall(room={"equipment": equipment}))
    assert [p.nearest_m for p in some.points] == [1.0, 5.0]
    told = only(some.survey.findings, "light.emergency", Severity.ASK)
    assert "5 m, is: Foam" in plain(told.says)
    assert "1 lx" in plain(told.mend) and "5 lx" in plain(told.mend)


def test_the_demonstration_shops_dark_places(demonstration: Shop) -> None:
    made = light.study(demonstration)
    dark = {f.subject for f in found(made.survey.findings, "light.dark")}
    short = {
        f"stations/{s.station}"
        for s in made.stations
        if s.has_lx is not None and s.has_lx < s.need_lx
    }
    assert dark == short and "stations/band-saw" in dark
