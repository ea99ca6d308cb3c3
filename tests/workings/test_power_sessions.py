"""Whether what a session uses may run together, by its timetable or without one."""

from __future__ import annotations

from typing import Any

import pytest

from generator.ground.finding import Severity
from generator.ground.working import Verdict
from generator.shop.shop import Shop
from generator.workings import power
from generator.workings.power.sessions import SessionPower
from tests.workings.power_shops import circuit, lacking, machine, motor, shop

Data = dict[str, Any]

HEAT = {"heat_up": "30 min", "soak": "15 min", "cool_down": "1 h", "highest": "200 °C"}


def _activity(*machines: str, takes: str = "30 min", station: str = "bench") -> Data:
    return {
        "name": "Activity", "station": station, "takes": takes, "learners": "do",
        "supervisor": "authorised", "machines": list(machines),
    }  # fmt: skip


def _session(activities: Data, *lines: tuple[str, str]) -> Data:
    return {
        "name": "Morning", "for": "Anybody", "start": "09:00", "end": "12:00",
        "learners": {"count": 4, "age_from": "16 years", "age_to": "60 years", "adults": 1},
        "groups": 2, "staff": [], "arrival": "10 min", "tidy": "10 min",
        "activities": activities,
        "timetable": [
            {"group": n, "activity": activity, "start": start}
            for n, (activity, start) in enumerate(lines, 1)
        ],
    }  # fmt: skip


def _shop(*lines: tuple[str, str], saw: Data | None = None, hot: bool = False) -> Shop:
    """A saw of 9.2 A and a press of 10 A on one circuit of 16 A."""
    press = machine("2.3 kW", "c", **{})
    machines = {
        "saw": saw or motor("1.2696 kW", "c"),  # 1269.6 ÷ (230 × 0.8 × 0.75) = 9.2
        "press": {**press, "heat": HEAT} if hot else {**press, "kind": "other"},
    }
    activities = {"cut": _activity("saw"), "push": _activity("press")}
    return shop({"c": circuit()}, machines, sessions={"morning": _session(activities, *lines)})


def _study(made: Shop) -> tuple[SessionPower, list[Any]]:
    study = power.study(made)
    return study.sessions[0], [f for f in study.survey.findings if f.rule == "power.session"]


def test_one_after_the_other_stays_inside_a_set() -> None:
    session, found = _study(_shop(("cut", "09:30"), ("push", "10:00")))
    assert session.verdict is Verdict.HOLDS
    assert [(m.clock, m.machines) for m in session.moments] == [
        ("09:30–10:00", ("saw",)), ("10:00–10:30", ("press",)),
    ]  # fmt: skip
    assert found == []


def test_at_once_is_found_with_the_moment_and_the_figures() -> None:
    session, found = _study(_shop(("cut", "09:30"), ("push", "09:45")))
    assert session.verdict is Verdict.FAILS
    worst = session.worst
    assert worst is not None
    assert (worst.clock, worst.machines) == ("09:45–10:00", ("saw", "press"))
    assert worst.over[0].load_a == pytest.approx(19.2)
    assert found[0].severity is Severity.FIX
    assert "09:45–10:00" in found[0].says
    assert "19.2" in found[0].says
    assert found[0].subject == "sessions/morning"


def test_a_hot_machine_is_on_from_its_heating_up_to_its_last_group() -> None:
    """Pressing from 10:30 means heating from 09:45, when the saw still runs."""
    session, _found = _study(_shop(("cut", "09:30"), ("push", "10:30"), hot=True))
    assert session.verdict is Verdict.FAILS
    assert session.worst is not None
    assert session.worst.clock == "09:45–10:00"


def test_a_hot_machine_stays_on_between_two_groups() -> None:
    session, _found = _study(
        _shop(("push", "09:45"), ("push", "11:00"), ("cut", "10:20"), hot=True)
    )
    assert session.worst is not None
    assert session.worst.clock == "10:20–10:50"
    assert session.moments[0].clock == "09:00–10:20"


def test_without_a_timetable_what_fits_at_once_holds() -> None:
    made = shop(
        {"c": circuit()},
        {"saw": motor("0.5 kW", "c"), "press": machine("2.3 kW", "c")},
        sessions={"morning": _session({"a": _activity("saw"), "b": _activity("press")})},
    )
    session, found = _study(made)
    assert (session.verdict, found) == (Verdict.HOLDS, [])
    assert [m.clock for m in session.moments] == ["09:00–12:00"]


def test_without_a_timetable_what_does_not_fit_is_unanswered() -> None:
    session, found = _study(_shop())
    assert session.verdict is Verdict.UNANSWERED
    assert found[0].severity is Severity.NOTE
    assert "timetable" in found[0].mend


def test_an_activity_that_names_no_machine_runs_those_of_its_station() -> None:
    made = shop(
        {"c": circuit()},
        {"saw": motor("0.5 kW", "c")},
        sessions={"morning": _session({"a": _activity()}, ("a", "10:00"))},
    )
    assert _study(made)[0].machines == ("saw",)


def test_a_session_without_power_is_no_check() -> None:
    made = shop(
        {"c": circuit()}, sessions={"morning": _session({"a": _activity()}, ("a", "10:00"))}
    )
    session, found = _study(made)
    assert (session.verdict, session.moments, found) == (Verdict.INFORMS, (), [])


def test_a_load_that_is_not_known_leaves_a_session_unanswered() -> None:
    """5 A at least without its power factor, with the press 15; at most the whole device."""
    saw = lacking(motor("0.8625 kW", "c"), "power_factor")  # 862.5 ÷ (230 × 0.75) = 5
    session, found = _study(_shop(("cut", "09:30"), ("push", "09:30"), saw=saw))
    assert session.verdict is Verdict.UNANSWERED
    assert found[0].severity is Severity.NOTE


def test_the_main_fuse_counts_in_a_session_too() -> None:
    circuits = {"a": circuit("L1"), "b": circuit("L1")}
    machines = {"x": machine("3 kW", "a", "other"), "y": machine("3 kW", "b", "other")}
    activities = {"one": _activity("x"), "two": _activity("y")}
    made = shop(
        circuits, machines, fuse="20 A",
        sessions={"s": _session(activities, ("one", "10:00"), ("two", "10:10"))},
    )  # fmt: skip
    session, found = _study(made)
    assert session.worst is not None
    assert session.worst.over[0].limit.kind == "main"
    assert "main fuse, L1" in found[0].says


def test_a_session_inside_its_limits_lies_inside_a_set() -> None:
    study = power.study(_shop(("cut", "09:30"), ("push", "10:00")))
    sets = [set(chosen) for chosen in study.sets.sets()]
    for moment in study.sessions[0].moments:
        assert any(set(moment.machines) <= chosen for chosen in sets)
