"""The demonstration's sessions checked, spoiled and mended."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from typing import Any

import pytest

from generator.ground.finding import Severity
from generator.shop.records.people import Activity, Session
from generator.shop.shop import Shop
from generator.workings.check import Studies
from generator.workings.sessions import Clash, SessionStudy, clock, fixed
from generator.workings.sessions.demands import Line, lines_of
from generator.workings.sessions.rules import broken
from generator.workings.sessions.study import Desk, desk, study_of

_DAY = dt.date(2026, 11, 24)


@pytest.fixture(scope="module")
def laid(demonstration: Shop) -> Desk:
    studies = Studies(demonstration, _DAY)
    return desk(
        studies.shop, studies.power, studies.moulding, studies.routes, studies.air
    )  # fmt: skip


def _session(laid: Desk, id_: str, **changes: Any) -> Session:
    return laid.shop.sessions[id_].model_copy(update=changes)


def _with(session: Session, id_: str, **changes: Any) -> Session:
    activity: Activity = session.activities[id_].model_copy(update=changes)
    return session.model_copy(update={"activities": {**session.activities, id_: activity}})


def _moved(lines: tuple[Line, ...], group: int, task: str, by: int) -> tuple[Line, ...]:
    return tuple(
        replace(x, start=x.start + by) if (x.group, x.task) == (group, task) else x for x in lines
    )


def test_the_demonstrations_timetables_are_proven_and_hold(demonstration: Shop) -> None:
    studies = Studies(demonstration, _DAY).sessions
    assert list(studies.sessions) == ["school-class", "adult-evening", "family-saturday"]
    for each in studies.sessions.values():
        assert each.clashes == ()
        assert each.proof is not None
        assert (each.proof.status, each.proof.belongs) == ("best", True)
    assert studies.survey.findings == ()


def test_a_line_moved_by_hand_is_told_with_its_minute_and_its_nearest_mend(laid: Desk) -> None:
    """Group 3 leaves “Mix a blend” at 10:00, and five minutes must pass before the plunger."""
    session = laid.shop.sessions["school-class"]
    lines = _moved(lines_of(session), 3, "watch-the-plunger", -2)
    study = study_of(laid, session, lines)
    (clash,) = (c for c in study.clashes if c.demand == "order")
    assert clash.clock == "10:03"
    assert clash.groups == (3,)
    assert clash.activities == ("mix-mint", "watch-the-plunger")
    assert clash.mend is not None
    assert clash.mend.says == (
        "Move group 3 at “Watch four markers being shot” from 10:03 to 10:05."
    )
    assert study.proof is not None
    assert not study.proof.belongs


def _spoiled(laid: Desk, id_: str, by: int) -> list[tuple[tuple[Line, ...], SessionStudy]]:
    session = laid.shop.sessions[id_]
    lines = lines_of(session)
    made = [_moved(lines, line.group, line.task, by) for line in lines]
    return [(each, study_of(laid, session, each)) for each in made]


@pytest.mark.parametrize("by", [-20, -7, 5, 15])
def test_a_mend_that_moves_lines_leaves_no_trace_of_the_clash(laid: Desk, by: int) -> None:
    tried = 0
    for lines, study in _spoiled(laid, "adult-evening", by):
        demands = laid.reader.demands(study.session)
        before = {b.key for b in broken(demands, lines)}
        for clash in study.clashes:
            if clash.mend is None or not clash.mend.moves:
                continue
            after = {b.key for b in broken(demands, _after(lines, clash))}
            assert after < before, clash
            tried += 1
    assert tried >= 8


def _after(lines: tuple[Line, ...], clash: Clash) -> tuple[Line, ...]:
    assert clash.mend is not None
    to = {(m.group, m.activity_id, m.from_min): m.to_min for m in clash.mend.moves}
    return tuple(replace(x, start=to.get((x.group, x.task, x.start), x.start)) for x in lines)


def test_switching_on_is_counted_back_from_the_first_use(laid: Desk) -> None:
    """First use 10:05; 20 min to heat and 10 to soak; last use ends 11:20; cold in 40 min."""
    study = study_of(laid, laid.shop.sessions["school-class"])
    (plunger,) = study.switching
    times = (plunger.on_min, plunger.hot_min, plunger.ready_min, plunger.off_min, plunger.cool_min)
    assert [clock(t) for t in times] == ["09:35", "09:55", "10:05", "11:20", "12:00"]


def test_what_it_makes_and_burns(laid: Desk) -> None:
    """16 markers, one each, of 98 % flake; 20 min at 1.2 kW and 85 min at 35 % of it, and the
    water heater, 2 kW at 45 %, for four quarters of an hour."""
    study = study_of(laid, laid.shop.sessions["school-class"])
    assert [(m.product, m.count, m.shots) for m in study.made] == [("plant-marker", 16, 16)]
    (flake,) = study.needs.flake
    assert (flake.polymer, flake.colour) == ("pp", "natural")
    # a shot is 4.1 cm³ of polypropylene at 0.9 to 0.91 g/cm³
    assert 16 * 4.1 * 0.9 * 0.98 <= 1000 * flake.kg <= 16 * 4.1 * 0.91 * 0.98
    hand = 1.2 * 20 / 60 + 1.2 * 0.35 * 85 / 60 + 2 * 0.45 * 1
    assert study.energy_kwh == pytest.approx(hand, abs=0.006)


def test_waits_walks_and_breaks_fill_the_time_of_a_group(laid: Desk) -> None:
    study = study_of(laid, laid.shop.sessions["school-class"])
    rest = sum(b.minutes for b in study.breaks)
    for group in study.groups:
        spent = sum(s.end_min - s.start_min for s in group.slots) + group.wait_min + rest
        walks = sum(s.walk_min for s in group.slots)
        in_break = [s for s in group.slots if any(b.end_min == s.start_min for b in study.breaks)]
        walks -= sum(s.walk_min for s in in_break)
        assert spent + walks == group.slots[-1].end_min - study.arrival.end_min


# --- what no timetable mends -------------------------------------------------------------------


def _demands(laid: Desk, session: Session) -> dict[str, Clash]:
    return {c.demand: c for c in fixed.clashes(laid.around, session)}


def test_nothing_fixed_stands_against_the_demonstration(laid: Desk) -> None:
    for session in laid.shop.sessions.values():
        assert _demands(laid, session) == {}


@pytest.mark.parametrize(
    ("id_", "activity", "changes", "demand"),
    [
        ("school-class", "watch-the-plunger", {"learners": "do"}, "age"),
        ("school-class", "sort-a-bag", {"groups": 2}, "places"),
        ("school-class", "watch-the-plunger", {"groups": 2}, "ratio"),
        ("school-class", "watch-the-plunger", {"takes_min": 5.0}, "pieces"),
        ("adult-evening", "trim-pulls", {"machines": ("drying-cabinet",)}, "waits"),
    ],
)
def test_an_activity_breaks_one_thing_alone(
    laid: Desk, id_: str, activity: str, changes: dict[str, Any], demand: str
) -> None:
    found = _demands(laid, _with(laid.shop.sessions[id_], activity, **changes))
    assert set(found) == {demand}
    assert found[demand].activities == (activity,)
    assert found[demand].mend is not None


def test_children_may_watch_what_they_may_not_do(laid: Desk) -> None:
    """Twelve at the plunger is a stop; the mend it names is to let them watch."""
    doing = _with(laid.shop.sessions["school-class"], "watch-the-plunger", learners="do")
    clash = _demands(laid, doing)["age"]
    assert clash.severity is Severity.STOP
    assert "12" in clash.says
    assert "16" in clash.says
    assert clash.mend is not None
    assert "learners: watch" in clash.mend.says
    assert _demands(laid, _with(doing, "watch-the-plunger", learners="watch")) == {}


def test_too_many_people_are_told_with_how_many_fewer(laid: Desk) -> None:
    """16 learners, 2 adults and 4 staff are 22; with three learners more they are 25 of 24."""
    session = laid.shop.sessions["school-class"]
    learners = session.learners.model_copy(update={"count": 19})
    found = _demands(laid, session.model_copy(update={"learners": learners}))
    assert found["people"].mend is not None
    assert found["people"].mend.says == "Take 1 learner fewer."


def _around(laid: Desk, **changes: Any) -> fixed.Around:
    return replace(laid.around, shop=laid.shop.model_copy(update=changes))


def test_a_machine_that_is_not_signed_off_stops_its_activity(laid: Desk) -> None:
    machine = laid.shop.machines["plunger-injector"]
    rows = tuple(row.model_copy(update={"done": None}) for row in machine.first_heat[:1])
    unsigned = machine.model_copy(update={"first_heat": rows})
    around = _around(laid, machines={**laid.shop.machines, machine.id: unsigned})
    (clash,) = fixed.clashes(around, laid.shop.sessions["school-class"])
    assert (clash.demand, clash.severity) == ("unsigned", Severity.STOP)


def test_a_class_has_somebody_for_every_twenty_where_that_is_the_rule(laid: Desk) -> None:
    """The figure is of the UK alone: 16 learners, and no more than 20 for each of the staff."""
    session = laid.shop.sessions["school-class"]
    many = session.learners.model_copy(update={"count": 21})
    alone = session.model_copy(update={"learners": many, "staff": session.staff[:1]})
    british = laid.shop.shop.model_copy(update={"jurisdiction": "UK", "most_people": 99})
    found = {c.demand for c in fixed.clashes(_around(laid, shop=british), alone)}
    assert "class" in found
    elsewhere = {c.demand for c in fixed.clashes(laid.around, alone)}
    assert "class" not in elsewhere
