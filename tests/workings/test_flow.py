"""An ordinary week against one done by hand, and what must hold of any week."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.ground.finding import Severity
from generator.ground.origin import Origin
from generator.ground.working import Verdict
from generator.shop.records.logs import Logs, Shift, Stock, Trial
from generator.shop.shop import Shop
from generator.workings import flow
from generator.workings.flow.carrying import carried_kgm
from generator.workings.flow.mass import PLACE_WORDS, SINKS, SOURCES
from generator.workings.flow.stock import weeks_until
from generator.workings.footprint import Point
from tests.workings import week_shop as shop_data
from tests.workings.hall import found, only, plain, working
from tests.workings.week_shop import week_shop

HERE = Origin("log.csv", 2)
MONDAY = dt.date(2026, 3, 2)
TRIAL = Trial(HERE, "T1", MONDAY, "injector", "hook", "brick", "good", cycle_s=36)
"""A good hook every 36 s."""


def shift(role: str, hours: float, count: int = 1) -> Shift:
    start = dt.time(16)
    end = (dt.datetime.combine(MONDAY, start) + dt.timedelta(hours=hours)).time()
    return Shift(HERE, MONDAY, start, end, role, count)


def role(machine: str, level: str = "authorised") -> dict[str, object]:
    return {"name": f"{machine} hand", "does": "Runs it", "least_age": "18 years",
            "needs": [{"machine": machine, "level": level}]}  # fmt: skip


ROLES = {
    "keeper": {"name": "Keeper", "does": "Opens", "least_age": "18 years"},
    "cut-hand": role("granulator"),
}


def timed(**changes: object) -> Shop:
    return week_shop(Logs(trials=(TRIAL,)), **changes)


# --- masses ------------------------------------------------------------------------------------


def test_a_week_done_by_hand() -> None:
    """20 kg; 10 % rejected, 12.5 % sorted out, 9 % washed off, 2 % fines (middles of the ranges).

    200 hooks of 9 g are 1.8 kg, 2 kg before a tenth is snipped off; 100 shots leave 100 × 2 cm³
    of sprue, 0.18 kg, and 0.5 kg is purged. Sprues and snippings go round again, as the bench
    hands them to the granulator: no loss was measured there, so none is taken off.
    """
    masses = flow.study(timed()).masses
    steps = (20, 18, 15.75, 14.3325)
    assert masses.out_of("donated") == pytest.approx(steps[0])
    assert masses.into("sorting") == pytest.approx(steps[1])
    assert masses.into("washing") == pytest.approx(steps[2])
    assert masses.between("washing", "granulating") == pytest.approx(steps[3])
    assert masses.into("fines") == pytest.approx(14.3325 * 0.02)
    assert masses.into("products") == pytest.approx(1.8)
    assert masses.between("forming", "granulating") == pytest.approx(0.18)
    assert masses.between("finishing", "granulating") == pytest.approx(0.2)
    assert masses.into("purgings") == pytest.approx(0.5)
    assert masses.out_of("weighing") == pytest.approx(2.0 + 0.18 + 0.5)
    assert masses.into("laid-in") == pytest.approx(14.3325 * 0.98 + 0.38 - 2.68)


def _balanced(study: flow.FlowStudy) -> None:
    masses = study.masses
    for place in PLACE_WORDS:
        if place in SOURCES | SINKS:
            continue
        for polymer in (*masses.polymers, ""):
            came, went = masses.into(place, polymer), masses.out_of(place, polymer)
            assert came == pytest.approx(went, abs=1e-9), (place, polymer)
    assert masses.open_kg == pytest.approx(0, abs=1e-9)
    assert all(link.kg > 0 for link in masses.links)


PERCENT = st.integers(0, 60)


@given(
    kg=st.integers(1, 400), rejected=PERCENT, loss=PERCENT, wanted=st.integers(0, 5000),
    green=st.integers(0, 20), dirt=st.sampled_from(["clean", "rinsed", "dirty"]),
    mixed=st.booleans(),
)  # fmt: skip
@settings(deadline=None, max_examples=60)
def test_every_place_gives_what_it_gets(
    *, kg: int, rejected: int, loss: int, wanted: int, green: int, dirt: str, mixed: bool
) -> None:
    """In = out + losses in every place and for every polymer, whatever is brought and made."""
    brings = {"polymer": "pp", "form": "whole", "weekly": f"{kg} kg", "dirt": dirt,
              "rejected": f"{rejected} %"}  # fmt: skip
    other = {**brings, "polymer": "hd"}
    product = {**shop_data.PRODUCTS["hook"], "per_week": wanted, "finish": [
        {"do": "Snip", "station": "bench", "takes": "1 min", "loss": f"{loss} %"},
        {"do": "Drill", "station": "table", "takes": "1 min", "loss": f"{loss} %"},
    ]}  # fmt: skip
    parts = [{"polymer": "pp", "colour": "red", "share": f"{60 - green} %"},
             {"polymer": "hd" if mixed else "pp", "share": "40 %"}]  # fmt: skip
    blend = {**shop_data.BLENDS["brick"], "parts": parts,
             "additives": [{"consumable": "green", "share": f"{green} %"}]}  # fmt: skip
    consumable = {"name": "Green", "kind": "masterbatch", "unit": "kg", "kept_at": "mixing",
                  "stock": 1, "least": 1, "lead_time": "3 d"}  # fmt: skip
    hd = {"code": "PE-HD", "name": "HD", "status": "taken"}
    _balanced(flow.study(timed(
        polymers={**shop_data.POLYMERS, "hd": hd},
        donors={"school": {"name": "School", "brings": [brings, other]}},
        products={"hook": product}, blends={"brick": blend}, consumables={"green": consumable},
    )))  # fmt: skip


def test_more_wanted_than_comes_in_is_drawn_from_stock() -> None:
    product = {**shop_data.PRODUCTS["hook"], "per_week": 2000}
    counted = Stock(HERE, MONDAY, "pp", "flake", 20, "store", "red")
    shop = week_shop(Logs(trials=(TRIAL,), stock=(counted,)), products={"hook": product})
    made = flow.study(shop)
    # 2000 hooks: 20 kg of parts and 1.8 kg of sprues, 0.5 kg purged, against 14.05 kg of new
    # flake; sprues and a tenth snipped off come back
    drawn = 20 + 1.8 + 0.5 - 14.04585 - 1.8 - 2.0
    assert made.masses.out_of("drawn") == pytest.approx(drawn)
    [level] = made.stores
    assert level.empty_in == pytest.approx(20 / drawn)
    assert level.weeks[:2] == pytest.approx((20, 20 - drawn))
    one = only(made.survey.findings, "flow.store", Severity.NOTE)
    assert "used up in" in one.says


def test_a_loss_that_is_not_known_makes_the_flake_the_most_there_can_be() -> None:
    brings = {"polymer": "pp", "form": "whole", "weekly": "20 kg", "dirt": "clean"}
    made = flow.study(timed(donors={"school": {"name": "School", "brings": [brings]}}))
    assert made.masses.at_most == {"pp"}
    only(made.survey.findings, "flow.loss-unknown", Severity.NOTE)
    assert working(made.survey.workings, "flow.flake.pp").caution
    # nothing rejected or sorted out, 3 % washed off, 2 % fines
    assert working(made.survey.workings, "flow.flake.pp").result.value == pytest.approx(
        20 * 0.97 * 0.98, abs=0.01
    )


# --- hours -------------------------------------------------------------------------------------


def test_machine_hours_done_by_hand() -> None:
    """14.3325 + 0.38 kg at 4 kg/h and a change of 30 min; 100 shots of 36 s, a mould of 30 min,
    a blend of 15 min and 45 min to be hot. The shop is open for 4 h."""
    hours = flow.study(timed()).hours
    cutter, injector = hours.of("granulator"), hours.of("injector")
    assert cutter is not None and injector is not None
    assert cutter.run_h == pytest.approx(14.7125 / 4)
    assert (cutter.change_h, cutter.heat_h) == (0.5, 0)
    assert injector.run_h == pytest.approx(1.0)
    assert (injector.change_h, injector.heat_h, injector.days) == (0.75, 0.75, 1)
    assert (cutter.have_h, cutter.basis, hours.open_h) == (4, "openings", 4)


def test_the_bottleneck_is_named_with_what_it_lacks() -> None:
    made = flow.study(timed())
    first = made.limits.bottleneck
    assert first is not None and first.subject == "machines/granulator"
    assert first.spare_h == pytest.approx(4 - 14.7125 / 4 - 0.5)
    assert plain(made.says).startswith(
        "granulator limits the week: 4.2 h wanted, 4 h there, 11 min short."
    )
    short = only(made.survey.findings, "flow.short", Severity.FIX)
    assert plain(short.says) == "granulator: 4.2 h a week wanted, 4 h there, 11 min short."
    shown = working(made.survey.workings, "flow.hours.granulator")
    assert shown.verdict is Verdict.FAILS and shown.margin is not None
    assert shown.margin.value == pytest.approx(-0.18, abs=0.005)


def test_without_a_bottleneck_the_tightest_is_named() -> None:
    donors = {"school": {"name": "School", "brings": [
        {"polymer": "pp", "form": "whole", "weekly": "4 kg", "dirt": "dirty", "rejected": "0 %"},
    ]}}  # fmt: skip
    made = flow.study(timed(donors=donors))
    assert made.limits.short == ()
    assert plain(made.says).startswith("Nothing is over its hours. screw-injector is nearest: ")
    assert not found(made.survey.findings, "flow.short")


def test_the_rota_of_those_who_may_run_it_bounds_a_machine() -> None:
    """Two cut hands for 2 h: the machine has 2 h, its crew 4."""
    logs = Logs(trials=(TRIAL,), rota=(shift("cut-hand", 2, count=2), shift("keeper", 4)))
    made = flow.study(week_shop(logs, roles=ROLES))
    cutter, injector = made.hours.of("granulator"), made.hours.of("injector")
    assert cutter is not None and injector is not None
    assert (cutter.have_h, cutter.crew_h, cutter.basis) == (2, 4, "rota")
    assert injector.basis == "openings"
    one = only(made.survey.findings, "flow.nobody-for", Severity.NOTE)
    assert one.subject == "machines/injector"
    assert made.hours.people_have_h == pytest.approx(8)


def test_two_on_one_shift_do_not_make_the_machine_run_longer() -> None:
    logs = Logs(rota=(shift("cut-hand", 2), shift("cut-hand", 3)))
    cutter = flow.study(week_shop(logs, roles=ROLES)).hours.of("granulator")
    assert cutter is not None and (cutter.have_h, cutter.crew_h) == (3, 5)


def test_those_of_too_low_a_level_do_not_count() -> None:
    logs = Logs(rota=(shift("cut-hand", 2),))
    roles = {**ROLES, "cut-hand": role("granulator", "supervised")}
    cutter = flow.study(week_shop(logs, roles=roles)).hours.of("granulator")
    assert cutter is not None and cutter.basis == "openings"


def test_a_crew_that_runs_two_machines_is_wanted_at_both() -> None:
    both = {**role("granulator"), "needs": [
        {"machine": "granulator", "level": "authorised"},
        {"machine": "injector", "level": "trainer"},
    ]}  # fmt: skip
    logs = Logs(trials=(TRIAL,), rota=(shift("cut-hand", 4),))
    made = flow.study(week_shop(logs, roles={**ROLES, "cut-hand": both}))
    [crew] = made.hours.crews
    assert crew.want_h == pytest.approx(14.7125 / 4 + 0.5 + 2.5)
    assert crew.have_h == pytest.approx(4)
    assert made.limits.ranked[0].kind in ("crew", "people")


def test_what_was_never_timed_is_not_counted_and_not_answered() -> None:
    made = flow.study(week_shop())
    injector = made.hours.of("injector")
    assert injector is not None and injector.unknown == ("Hook",)
    shown = working(made.survey.workings, "flow.hours.injector")
    assert shown.verdict is Verdict.UNANSWERED and "Hook" in shown.caution
    only(made.survey.findings, "flow.not-timed", Severity.NOTE)


def test_a_shop_without_anything_written_says_so() -> None:
    made = flow.study(week_shop(donors={}, products={}, machines={}))
    assert made.limits.bottleneck is None and made.says
    assert made.masses.links == ()


# --- a little more -----------------------------------------------------------------------------


def test_one_more_kilogram_hour_and_machine() -> None:
    more = flow.study(timed()).limits.more
    kilogram = next(m for m in more if m.kind == "kilogram")
    assert kilogram.flake_kg == pytest.approx(0.9 * 0.875 * 0.91 * 0.98)
    hour = next(m for m in more if (m.kind, m.subject) == ("hour", "machines/granulator"))
    assert hour.flake_kg == pytest.approx(14.7125 / (14.7125 / 4 + 0.5))
    machine = next(m for m in more if (m.kind, m.subject) == ("machine", "machines/granulator"))
    # half of 4.18 h of 4 h, so that the injector's 2.5 h are tightest
    assert machine.tightest == pytest.approx(2.5 / 4)


def test_a_second_machine_brings_nobody_to_run_it() -> None:
    logs = Logs(trials=(TRIAL,), rota=(shift("cut-hand", 2),))
    more = flow.study(week_shop(logs, roles=ROLES)).limits.more
    machine = next(m for m in more if (m.kind, m.subject) == ("machine", "machines/granulator"))
    assert "would change nothing" in machine.says


@given(kg=st.integers(1, 200), extra=st.integers(1, 50))
@settings(deadline=None, max_examples=25)
def test_more_coming_in_never_leaves_more_hours(kg: int, extra: int) -> None:
    def spare(weekly: int) -> float:
        brings = {"polymer": "pp", "form": "whole", "weekly": f"{weekly} kg", "dirt": "rinsed",
                  "rejected": "5 %"}  # fmt: skip
        made = flow.study(timed(donors={"school": {"name": "School", "brings": [brings]}}))
        return next(x.spare_h for x in made.limits.ranked if x.subject == "machines/granulator")

    assert spare(kg + extra) < spare(kg)


# --- stock and carrying ------------------------------------------------------------------------


def test_weeks_until_full_or_empty() -> None:
    assert weeks_until(45.6, 12) == pytest.approx(3.8)
    assert weeks_until(0, 12) == 0
    assert weeks_until(45.6, 0) is None
    assert weeks_until(45.6, -3) is None


def test_a_full_store_is_to_be_mended() -> None:
    counted = Stock(HERE, MONDAY, "pp", "flake", 60, "store", "red")
    made = flow.study(week_shop(Logs(trials=(TRIAL,), stock=(counted,))))
    one = only(made.survey.findings, "flow.store", Severity.FIX)
    assert plain(one.says) == "PP is full: 60 kg of 60 kg."


def test_carrying_is_mass_times_way() -> None:
    assert carried_kgm(12.5, 8) == 100
    made = flow.study(timed())
    by_end = {leg.end: leg for leg in made.legs if leg.start != "bench"}
    # from (5, 6) to (8, 2) m is 5 m
    assert by_end["store"].kgm == pytest.approx(5 * 14.42585)
    assert by_end["store"].basis == "straight"
    assert by_end["hot"].kg == pytest.approx(2.68)
    assert by_end["bench"].kg == pytest.approx(2.18)
    assert made.carried_kgm == pytest.approx(sum(leg.kgm or 0 for leg in made.legs))


@dataclass(frozen=True)
class _Walk:
    length_mm: float
    line: tuple[Point, ...] = ((0.0, 0.0), (1.0, 1.0))


def test_real_walks_take_the_place_of_straight_lines() -> None:
    made = flow.study(timed(), walk=lambda _start, end: _Walk(9000) if end == "store" else None)
    by_end = {leg.end: leg for leg in made.legs}
    assert by_end["store"].kgm == pytest.approx(9 * 14.42585)
    assert (by_end["store"].basis, by_end["hot"].basis) == ("walked", "straight")


@pytest.mark.parametrize("reached", [False, True])
def test_a_station_that_is_not_set_up_yet_carries_nothing(reached: bool) -> None:
    stage = {"order": 1, "name": "Later", "goal": "Store", "reached": reached,
             "adds_stations": ["store"]}  # fmt: skip
    legs = flow.study(timed(stages={"later": stage})).legs
    assert any(leg.end == "store" for leg in legs) is reached
