"""Noise against worked and published figures, and in a hall small enough for a tape measure."""

from __future__ import annotations

import itertools
import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.ground.finding import Severity
from generator.ground.working import Verdict
from generator.shop.shop import Shop
from generator.workings import noise
from generator.workings.noise import laws
from tests.workings.hall import Data, found, hall, machine, only, plain, station, working

# --- worked examples of the trade facts --------------------------------------------------------


@pytest.mark.parametrize(
    ("levels", "together"), [([85, 88], 89.76), ([82, 85, 78], 87.31), ([80, 80], 83.01)]
)
def test_levels_add_by_energy(levels: list[float], together: float) -> None:
    assert laws.summed_db(levels) == pytest.approx(together, abs=0.005)


def test_ninety_at_one_metre_is_seventy_eight_at_four() -> None:
    assert laws.spread_db(90, 1, 4) == pytest.approx(77.96, abs=0.005)


def test_a_day_at_two_levels() -> None:
    assert laws.daily_exposure_db([(2.5, 88), (5.5, 75)]) == pytest.approx(83.40, abs=0.005)


def test_a_quarter_of_an_hour_at_a_hundred() -> None:
    assert laws.daily_exposure_db([(0.25, 100)]) == pytest.approx(84.95, abs=0.005)


# --- published examples ------------------------------------------------------------------------


@pytest.mark.parametrize(("level", "hours"), [(80, 8), (83, 4), (86, 2), (89, 1), (92, 0.5)])
def test_the_same_dose_as_the_hse_lists_it(level: float, hours: float) -> None:
    """HSE, Sound advice, paragraph 1.20: each is the same exposure as 80 dB for 8 hours."""
    assert laws.daily_exposure_db([(hours, level)]) == pytest.approx(80, abs=0.05)


@pytest.mark.parametrize(("level", "minutes"), [(95, 45), (100, 15), (105, 5)])
def test_times_to_the_upper_action_value_as_the_hse_lists_them(
    level: float, minutes: float
) -> None:
    """HSE, Sound advice, paragraph 1.21, in its round minutes: 48, 15.2 and 4.8."""
    assert 60 * laws.hours_allowed(level, 85) == pytest.approx(minutes, rel=0.07)


@pytest.mark.parametrize(
    ("level", "hours"),
    [(80, 32), (85, 16), (90, 8), (92, 6.1), (95, 4), (97, 3.0), (100, 2), (105, 1), (110, 0.5)],
)
def test_reference_durations_as_osha_prints_them(level: float, hours: float) -> None:
    """29 CFR 1910.95, appendix A, table G-16a."""
    assert laws.hours_allowed(level, 90, 5) == pytest.approx(hours, abs=0.05)


@pytest.mark.parametrize(
    ("dose", "average"), [(10, 73.4), (25, 80.0), (50, 85.0), (75, 87.9), (100, 90.0), (200, 95.0)]
)
def test_dose_to_average_as_osha_prints_it(dose: float, average: float) -> None:
    """29 CFR 1910.95, appendix A, table A-1: a dose of 8 · D / 100 hours at 90 dB."""
    hours = 8 * dose / 100
    assert laws.daily_exposure_db([(hours, 90)], 5) == pytest.approx(average, abs=0.06)


def test_a_mixed_day_under_osha() -> None:
    """soundtrace.com on appendix A: 4 h at 90, 2 h at 95, 2 h at 85 is 112.5 %, 90.85 dBA."""
    assert laws.daily_exposure_db([(4, 90), (2, 95), (2, 85)], 5) == pytest.approx(90.85, abs=0.01)


# --- what must always be so --------------------------------------------------------------------

levels_ = st.lists(st.floats(20, 140), min_size=1, max_size=12)


@given(levels_)
def test_a_sum_is_no_quieter_than_its_loudest(levels: list[float]) -> None:
    together = laws.summed_db(levels)
    assert together >= max(levels) - 1e-9
    assert together <= max(levels) + 10 * math.log10(len(levels)) + 1e-9


@given(levels_, st.floats(20, 140))
def test_one_more_machine_is_never_quieter(levels: list[float], more: float) -> None:
    assert laws.summed_db([*levels, more]) >= laws.summed_db(levels)


@given(st.lists(st.tuples(st.floats(0.001, 8), st.floats(20, 130)), min_size=1, max_size=6))
def test_a_day_lies_under_its_loudest_level_over_eight_hours(
    parts: list[tuple[float, float]],
) -> None:
    for exchange in (3.0, 5.0):
        exposed = laws.daily_exposure_db(parts, exchange)
        q = laws.exchange_factor(exchange)
        hours = math.fsum(h for h, _level in parts)
        most = max(level for _h, level in parts)
        assert exposed <= most + q * math.log10(hours / 8) + 1e-6


def test_nothing_makes_no_noise() -> None:
    assert laws.summed_db([]) == laws.SILENCE_DB
    assert laws.daily_exposure_db([]) == laws.SILENCE_DB


# --- a hall ------------------------------------------------------------------------------------


def loud(level: str = "90 dB(A)", station: str = "bench", **more: Any) -> Data:
    return machine("granulator", station, noise={"level": level, "measured": "2026-03-02"}, **more)


# A source stands in the middle of its station; its user 800 mm before that. The next station's
# user stands at (10 000, 3 200): 4 079.2 mm from the middle of the first.
PLACES = {"bench": station(ppe=["M003"]), "table": station(2, "10000, 4000 mm", zone="front")}


def test_its_user_hears_what_was_measured_and_others_less_with_distance() -> None:
    made = noise.study(hall(stations=PLACES, machines={"mill": loud()}))
    own, other = made.stations
    assert own.low_db == own.high_db == 90
    assert other.low_db == pytest.approx(90 - 20 * math.log10(4.0792), abs=1e-3)
    assert other.high_db == 90  # as if nothing fell off
    assert other.visitors and not own.visitors


def test_full_echo_is_never_quieter_than_the_open(demonstration: Shop) -> None:
    made = noise.study(demonstration)
    for place in made.stations:
        assert place.high_db >= place.low_db
        for heard in place.heard:
            assert heard.high_db >= heard.low_db
    for day in made.days:
        assert day.high_db >= day.low_db


def test_a_level_read_far_off_rises_towards_the_machine() -> None:
    fan = machine("extractor", noise={"level": "66 dB(A)", "distance": "2 m"})
    made = noise.study(hall(stations=PLACES, machines={"fan": fan}))
    # nearer than 1 m it is no point: 66 + 20 log 2
    assert made.stations[0].low_db == pytest.approx(72.02, abs=0.01)


def test_the_loudest_set_counts_and_what_is_in_none_always_does() -> None:
    machines = {"a": loud("90 dB(A)"), "b": loud("90 dB(A)"), "c": loud("80 dB(A)")}
    shop = hall(stations=PLACES, machines=machines)
    all_at_once = noise.study(shop).stations[0]
    assert all_at_once.low_db == pytest.approx(laws.summed_db([90, 90, 80]))
    sets = [frozenset({"a"}), frozenset({"b", "unheard-of"})]
    one = noise.study(shop, sets).stations[0]
    assert one.low_db == pytest.approx(laws.summed_db([90, 80]))
    assert one.running == {"a", "c"}
    assert noise.study(shop, [frozenset()]).stations[0].low_db == all_at_once.low_db


def test_too_many_sets_are_heard_as_everything_at_once() -> None:
    machines = {"a": loud("90 dB(A)"), "b": loud("90 dB(A)")}
    shop = hall(stations=PLACES, machines=machines)
    endless = noise.study(shop, itertools.repeat(("a",))).stations[0]
    assert endless.low_db == noise.study(shop).stations[0].low_db > 93


def test_background_is_heard_too() -> None:
    machines = {"mill": loud("50 dB(A)")}
    shop = hall(stations=PLACES, machines=machines, room={"background": "50 dB(A)"})
    assert noise.study(shop).stations[0].low_db == pytest.approx(53.01, abs=0.01)


def test_a_loud_place_without_ear_protection_is_told() -> None:
    bare = {**PLACES, "bench": station()}
    told = only(
        noise.study(hall(stations=bare, machines={"mill": loud()})).survey.findings,
        "noise.unprotected",
        Severity.FIX,
    )
    assert "90 dB(A)" in plain(told.says) and "M003" in told.mend
    assert told.subject == "stations/bench"
    covered = noise.study(hall(stations=PLACES, machines={"mill": loud()}))
    assert not found(covered.survey.findings, "noise.unprotected")


@pytest.mark.parametrize(
    ("level", "severity"),
    [("90 dB(A)", None), ("94 dB(A)", Severity.NOTE), ("98 dB(A)", Severity.FIX)],
)
def test_visitors_are_told_of_from_eighty_on(level: str, severity: Severity | None) -> None:
    # at the table 12.2 dB quieter: 77.8, 81.8 and 85.8
    made = noise.study(hall(stations=PLACES, machines={"mill": loud(level)}))
    assert [f.severity for f in found(made.survey.findings, "noise.visitors")] == (
        [severity] if severity else []
    )


def test_only_a_place_quiet_under_full_echo_holds() -> None:
    quiet = noise.study(hall(stations=PLACES, machines={"mill": loud("84 dB(A)")}))
    assert {p.verdict for p in quiet.stations} == {Verdict.HOLDS}
    open_ = noise.study(hall(stations=PLACES, machines={"mill": loud("90 dB(A)")}))
    assert [p.verdict for p in open_.stations] == [Verdict.FAILS, Verdict.UNANSWERED]
    assert "number 2" in only(open_.survey.findings, "noise.echo", Severity.NOTE).says


def test_readings_and_levels_that_are_missing_are_asked_for() -> None:
    guess = machine("granulator", noise={"level": "60 dB(A)"})
    made = noise.study(hall(machines={"guess": guess, "saw": machine("granulator")}))
    assert only(made.survey.findings, "noise.not-measured", Severity.NOTE)
    asked = only(made.survey.findings, "noise.no-level", Severity.ASK)
    assert "85 to 100 dB(A)" in plain(asked.says)
    assert made.survey.unanswered == 2


def test_a_place_without_limits_is_asked_for_them() -> None:
    made = noise.study(hall(place="BR", machines={"mill": loud()}))
    assert "BR" in only(made.survey.findings, "noise.no-limit", Severity.ASK).says
    assert {w.verdict for w in made.survey.workings} == {Verdict.UNANSWERED}


# --- days --------------------------------------------------------------------------------------


def roles(*machines: str) -> Data:
    needs = [{"machine": m, "level": "authorised"} for m in machines]
    return {"keeper": {"name": "Keeper", "does": "It", "least_age": "18 years", "needs": needs}}


def day_of(shop: Shop, key: str) -> noise.Day:
    return next(d for d in noise.study(shop).days if d.key == key)


def test_a_role_hears_its_machine_for_the_week_it_runs_up_to_the_longest_shift() -> None:
    def exposed(hours: str) -> float:
        mill = loud("90 dB(A)", runs_per_week=hours)
        shop = hall(stations=PLACES, machines={"mill": mill}, roles=roles("mill"))
        return day_of(shop, "role.keeper").low_db

    assert exposed("2 h") == pytest.approx(90 + 10 * math.log10(2 / 8))
    assert exposed("30 h") == pytest.approx(90 + 10 * math.log10(4 / 8))  # open for four hours


def test_a_role_hears_what_others_run_from_where_it_is() -> None:
    machines = {
        "mill": loud("90 dB(A)", runs_per_week="2 h"),
        "quiet": machine("scale", "table", noise={"level": "40 dB(A)"}, runs_per_week="1 h"),
    }
    shop = hall(stations=PLACES, machines=machines, roles=roles("quiet"))
    there = 90 - 20 * math.log10(4.0792)
    assert day_of(shop, "role.keeper").low_db == pytest.approx(
        laws.daily_exposure_db([(2, there), (1, 40)]), abs=1e-3
    )


def test_unknown_hours_count_all_day_in_the_upper_figure_only() -> None:
    shop = hall(stations=PLACES, machines={"mill": loud("90 dB(A)")}, roles=roles("mill"))
    day = day_of(shop, "role.keeper")
    assert day.low_db == laws.SILENCE_DB
    assert day.high_db == pytest.approx(90 + 10 * math.log10(4 / 8))
    assert day.not_counted == ("granulator",)


@pytest.mark.parametrize(
    ("place", "hours", "severity"),
    [
        ("EU", "0.7 h", None),  # 79.4
        ("EU", "1 h", Severity.NOTE),  # 81.0
        ("EU", "4 h", Severity.FIX),  # 87.0
        ("US", "4 h", Severity.FIX),  # 85.0 by 5 dB: 90 + 16.61 log 0.5
        ("US", "3.9 h", None),  # 84.8
    ],
)
def test_a_days_exposure_against_the_places_values(
    place: str, hours: str, severity: Severity | None
) -> None:
    mill = loud("90 dB(A)", runs_per_week=hours)
    bare = {**PLACES, "bench": station()}
    shop = hall(place=place, stations=bare, machines={"mill": mill}, roles=roles("mill"))
    got = [f.severity for f in found(noise.study(shop).survey.findings, "noise.day")]
    assert got == ([severity] if severity else [])


def test_asked_for_ear_protection_turns_a_fix_into_a_note_with_the_limit() -> None:
    mill = loud("96 dB(A)", runs_per_week="4 h")
    shop = hall(stations=PLACES, machines={"mill": mill}, roles=roles("mill"))
    told = only(noise.study(shop).survey.findings, "noise.day", Severity.NOTE)
    assert "93 dB(A)" in plain(told.says) and "87 dB(A)" in plain(told.mend)


def session() -> Data:
    def activity(name: str, at: str, **more: Any) -> Data:
        return {"name": name, "station": at, "takes": "60 min", "learners": "do",
                "supervisor": "inducted", **more}  # fmt: skip

    return {
        "class": {
            "name": "Class", "for": "Classes", "start": "09:00", "end": "12:00",
            "learners": {"count": 8, "age_from": "9 years", "age_to": "9 years", "adults": 1},
            "groups": 2, "staff": [], "arrival": "5 min", "tidy": "5 min",
            "activities": {
                "mill": activity("Mill", "bench", machines=["mill"]),
                "sort": activity("Sort", "table"),
            },
        }
    }  # fmt: skip


def test_learners_pass_each_activity_once_and_supervisors_stay() -> None:
    machines = {"mill": loud("95 dB(A)"), "other": loud("120 dB(A)")}
    shop = hall(stations=PLACES, machines=machines, sessions=session())
    there = 95 - 20 * math.log10(4.0792)
    assert day_of(shop, "session.class").low_db == pytest.approx(
        laws.daily_exposure_db([(1, 95), (1, there)]), abs=1e-3
    )  # the other machine is not part of the session
    assert day_of(shop, "session.class.sort").low_db == pytest.approx(
        laws.daily_exposure_db([(2, there)]), abs=1e-3
    )  # two groups, one after the other
    told = [f for f in noise.study(shop).survey.findings if f.subject == "sessions/class"]
    assert Severity.FIX in {f.severity for f in told if f.rule == "noise.day"}


# --- the demonstration shop --------------------------------------------------------------------


def test_the_demonstration_shop_is_loudest_at_its_loudest_machine(demonstration: Shop) -> None:
    made = noise.study(demonstration)
    noisy = [m for m in demonstration.machines.values() if m.noise is not None]
    loudest = max(noisy, key=lambda m: m.noise.level_db if m.noise else 0.0)
    worst = max(made.stations, key=lambda p: p.low_db)
    assert worst.station == loudest.station
    shown = working(made.survey.workings, f"noise.station.{worst.station}")
    assert shown.result.value == worst.low_db and shown.verdict is worst.verdict
    for each in made.survey.findings:
        assert each.origin.line > 0 and each.subject and each.mend
    for shown in made.survey.workings:
        assert math.isfinite(shown.result.value)
