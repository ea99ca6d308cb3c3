"""Hot surfaces against the burn thresholds, by who can reach them."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.ground.finding import Severity
from generator.ground.working import Verdict
from generator.shop.shop import Shop
from generator.workings import touch
from tests.workings.hall import Data, found, hall, machine, only, plain, station, working

# ISO 13732-1 as the facts give it, typed out a second time: °C by contact.
THRESHOLDS = {
    "metal": {1: 65, 10: 55, 60: 51, 600: 48, 28_800: 43},
    "plastic": {1: 85, 10: 71, 60: 60, 600: 48, 28_800: 43},
}


@pytest.mark.parametrize("material", ["metal", "plastic"])
def test_thresholds_are_those_of_the_table(material: str) -> None:
    assert dict(touch.thresholds(material)) == THRESHOLDS[material]


@pytest.mark.parametrize(
    ("material", "celsius", "seconds"),
    [
        ("metal", 225, 1), ("metal", 65, 1), ("metal", 64.9, 10), ("metal", 51, 60),
        ("metal", 45, 28_800), ("metal", 42.9, None), ("plastic", 84, 10), ("plastic", 85, 1),
        ("plastic", 59, 600),
    ],
)  # fmt: skip
def test_the_shortest_contact_that_burns(
    material: str, celsius: float, seconds: float | None
) -> None:
    contact = touch.burns_after(material, celsius)
    assert (contact.seconds if contact else None) == seconds


def test_injury_data_published_elsewhere_lie_above_the_thresholds() -> None:
    """emc-pstc list 05244: metal 68 °C burns in about 1 s and 57 °C in 10 s, plastic 93 in 1 s."""
    for material, celsius, seconds in (("metal", 68, 1), ("metal", 57, 10), ("plastic", 93, 1)):
        contact = touch.burns_after(material, celsius)
        assert contact is not None and contact.seconds <= seconds


@given(st.floats(20, 400), st.floats(20, 400))
def test_hotter_never_burns_later_and_plastic_never_sooner(one: float, other: float) -> None:
    def seconds(material: str, celsius: float) -> float:
        contact = touch.burns_after(material, celsius)
        return contact.seconds if contact else float("inf")

    cool, hot = sorted((one, other))
    assert seconds("metal", hot) <= seconds("metal", cool)
    assert seconds("metal", hot) <= seconds("plastic", hot)


def press(celsius: str, **surface: Any) -> Data:
    hot = {"where": "Edge", "surface": celsius, **surface}
    return {"press": machine("platen-press", hot_surfaces=[hot])}


FAR = {"bench": station(at="6 m, 6 m")}
ZONE = {
    "front": {"name": "Front", "kind": "public", "visitors": True,
              "outline": ["0, 0 mm", "12 m, 0 m", "12 m, 4 m", "0 m, 4 m"]},
    "hot": {"name": "Hot", "kind": "hot", "visitors": False},
}  # fmt: skip


def study(machines: Data, stations: Data, **nouns: Any) -> touch.TouchStudy:
    return touch.study(hall(machines=machines, stations=stations, room={"zones": ZONE}, **nouns))


@pytest.mark.parametrize(
    ("celsius", "reach", "severity"),
    [
        ("181 °C", "trained", Severity.FIX),
        ("57 °C", "trained", Severity.NOTE),
        ("52 °C", "trained", None),
        ("181 °C", "visitors", Severity.STOP),
        ("57 °C", "visitors", Severity.FIX),
        ("52 °C", "visitors", Severity.NOTE),
        ("49 °C", "visitors", None),
    ],
)
def test_how_bad_a_bare_surface_is(celsius: str, reach: str, severity: Severity | None) -> None:
    # its nearest edge is 1.5 m or 0.8 m from the visitors' zone; an arm is 850 mm
    places = FAR if reach == "trained" else {"bench": station(at="6 m, 5.3 m")}
    made = study(press(celsius), places)
    assert made.surfaces[0].reach == reach
    got = [f.severity for f in found(made.survey.findings, "touch.bare")]
    assert got == ([severity] if severity else [])


def test_a_guard_keeps_hands_off() -> None:
    made = study(press("181 °C", guarded=True), {"bench": station(at="6 m, 5 m")})
    assert made.surfaces[0].verdict is Verdict.HOLDS
    assert not found(made.survey.findings, "touch.bare")
    assert "says it is guarded" in working(made.survey.workings, "touch.press.1").caution


def test_an_arm_is_as_long_as_the_guard_table_says() -> None:
    assert touch.arm_mm() == 850
    just_out = study(press("181 °C"), {"bench": station(at="6 m, 5351 mm")})
    just_in = study(press("181 °C"), {"bench": station(at="6 m, 5350 mm")})
    assert [s.surfaces[0].reach for s in (just_out, just_in)] == ["trained", "visitors"]


def test_learners_who_do_something_there_reach_it_with_somebody_beside() -> None:
    activity = {"name": "Press", "station": "bench", "takes": "20 min", "learners": "do",
                "supervisor": "authorised"}  # fmt: skip
    session = {
        "name": "Evening", "for": "Adults", "start": "18:00", "end": "20:00", "groups": 1,
        "learners": {"count": 4, "age_from": "18 years", "age_to": "80 years", "adults": 0},
        "staff": [], "arrival": "5 min", "tidy": "5 min", "activities": {"press": activity},
    }  # fmt: skip
    made = study(press("181 °C"), FAR, sessions={"evening": session})
    assert made.surfaces[0].reach == "learners"
    told = only(made.survey.findings, "touch.bare", Severity.FIX)
    assert "Learners work at it" in told.says and "65 °C in 1 s" in plain(told.says)


def test_a_material_without_thresholds_is_asked_for() -> None:
    made = study(press("90 °C", material="glass"), FAR)
    assert made.surfaces[0].verdict is Verdict.UNANSWERED
    assert only(made.survey.findings, "touch.material", Severity.ASK).asks


def test_a_hot_machine_with_nothing_written_is_a_question() -> None:
    made = study({"press": machine("platen-press"), "saw": machine("band-saw")}, FAR)
    assert only(made.survey.findings, "touch.nothing-written", Severity.NOTE)
    assert (made.survey.checks, made.survey.unanswered) == (1, 1)


def test_the_demonstration_shops_bare_edges(demonstration: Shop) -> None:
    made = touch.study(demonstration)
    hot = {
        t.machine
        for t in made.surfaces
        if not t.surface.guarded and t.surface.material == "metal" and t.surface.surface_c >= 65
    }
    told = found(made.survey.findings, "touch.bare")
    assert hot == {
        f.subject.removeprefix("machines/") for f in told if f.severity is not Severity.NOTE
    }
