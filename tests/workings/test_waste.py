"""What leaves in a week, the wash water and its screens."""

from __future__ import annotations

import datetime as dt

import pytest

from generator.ground.finding import Severity
from generator.ground.origin import Origin
from generator.ground.working import Verdict
from generator.shop.records.logs import Logs, Trial
from generator.shop.shop import Shop
from generator.workings import flow, waste
from generator.workings.waste import litres_per_kg
from tests.workings import week_shop as shop_data
from tests.workings.hall import found, only, plain, working
from tests.workings.week_shop import priced, week_shop

HERE = Origin("trials.csv", 2)
TRIAL = Trial(HERE, "T1", dt.date(2026, 3, 2), "injector", "hook", "brick", "good", cycle_s=36)
SACK = {"name": "Sack", "kind": "filter", "unit": "sack", "kept_at": "bench", "stock": 2,
        "least": 1, "lead_time": "3 d", "use_per_week": 0.5, "spent": "3 kg"}  # fmt: skip


def studied(water: object = None, **changes: object) -> waste.WasteStudy:
    room = {**shop_data.ROOM, "water": water or {}}
    shop = week_shop(Logs(trials=(TRIAL,)), room=room, **changes)
    return waste.study(shop, flow.study(shop))


def test_kilograms_a_week_done_by_hand() -> None:
    """Of 20 kg: 2 rejected, 2.25 sorted out, 1.4175 washed off, 0.28665 fines, 0.5 purged."""
    made = studied(consumables={"sack": SACK})
    kg = {s.key: s.kg for s in made.streams}
    assert kg == pytest.approx({
        "rejected": 2, "residue": 2.25, "sludge": 1.4175, "fines": 0.28665, "purgings": 0.5,
        "filters": 1.5,
    })  # fmt: skip
    assert made.refuse_kg == pytest.approx(2.25 + 0.28665 + 0.5 + 1.5)


def test_what_goes_home_again_costs_nothing() -> None:
    shop = week_shop(Logs(trials=(TRIAL,)))
    with_price = priced(shop, waste="0.50 EUR/kg")
    made = waste.study(with_price, flow.study(with_price))
    assert made.fee is not None
    assert made.fee.amount == pytest.approx(0.5 * (2.25 + 0.28665 + 0.5))
    assert waste.study(shop, flow.study(shop)).fee is None


def test_every_kilogram_of_the_week_leaves_somehow() -> None:
    """In = products + laid in stock + waste."""
    shop: Shop = week_shop(Logs(trials=(TRIAL,)))
    week = flow.study(shop)
    masses, made = week.masses, waste.study(shop, week)
    out = masses.into("products") + masses.into("laid-in") + sum(s.kg or 0 for s in made.streams)
    assert out == pytest.approx(masses.out_of("donated"))


def test_a_filter_nobody_has_weighed_is_not_made_up() -> None:
    made = studied(consumables={"sack": {k: v for k, v in SACK.items() if k != "spent"}})
    filters = made.of("filters")
    assert filters is not None and filters.kg is None
    assert working(made.survey.workings, "waste.filters").verdict is Verdict.UNANSWERED
    only(made.survey.findings, "waste.filters", Severity.NOTE)
    assert made.survey.unanswered >= 1


# --- water -------------------------------------------------------------------------------------


def drain(**more: object) -> dict[str, object]:
    return {"at": "1 m, 1 m", "kind": "tap and drain", **more}


def test_litres_for_a_kilogram() -> None:
    assert litres_per_kg(560, 16.94) == pytest.approx(33.06, abs=0.005)
    made = studied({"sink": drain(use_per_week="315 l", catch_screen="0.5 mm")})
    assert made.water.per_kg == pytest.approx(20)  # 15.75 kg are washed
    assert not found(made.survey.findings, "waste.water-unknown")


@pytest.mark.parametrize(("mesh", "verdict"), [("0.5 mm", Verdict.HOLDS), ("2 mm", Verdict.FAILS)])
def test_a_screen_that_lets_fines_through_is_found(mesh: str, verdict: Verdict) -> None:
    made = studied({"sink": drain(catch_screen=mesh)})
    assert made.water.drains[0].verdict is verdict
    assert bool(found(made.survey.findings, "waste.screen")) is (verdict is Verdict.FAILS)


def test_a_drain_in_the_wet_zone_is_asked_for_its_screen_and_another_is_not() -> None:
    zones = {"wet": {"name": "Wet", "kind": "wet", "visitors": False},
             "hot": {"name": "Hot", "kind": "hot", "visitors": False},
             "front": {"name": "Front", "kind": "public", "visitors": True},
             "store": {"name": "Store", "kind": "store", "visitors": False}}  # fmt: skip
    stations = {**shop_data.STATIONS, "table": {**shop_data.STATIONS["table"], "zone": "wet"}}
    room = {**shop_data.ROOM, "zones": zones, "water": {
        "near": drain(at="2 m, 2 m"), "far": drain(at="11 m, 6 m"),
        "tap": drain(at="2 m, 2 m", kind="tap")}}  # fmt: skip
    shop = week_shop(Logs(trials=(TRIAL,)), room=room, stations=stations)
    made = waste.study(shop, flow.study(shop))
    assert [d.id for d in made.water.drains] == ["near"]
    shown = working(made.survey.workings, "waste.screen.near")
    assert shown.verdict is Verdict.UNANSWERED
    only(made.survey.findings, "waste.screen-unknown", Severity.NOTE)


def test_water_nobody_has_read_is_not_made_up() -> None:
    made = studied()
    assert made.water.litres is None and made.water.per_kg is None
    assert working(made.survey.workings, "waste.water").verdict is Verdict.UNANSWERED
    only(made.survey.findings, "waste.water-unknown", Severity.NOTE)


def test_the_authorities_are_asked_with_the_figures() -> None:
    made = studied({"sink": drain(use_per_week="315 l", catch_screen="2 mm")})
    water = only(made.survey.findings, "waste.ask-water", Severity.ASK)
    assert water.asks == "water"
    assert plain(water.says) == (
        "In a week 15.8 kg of plastic are washed in 315 l of water; 1.4 kg are washed off, before "
        "screens of 2 mm."
    )
    refuse = only(made.survey.findings, "waste.ask-waste", Severity.ASK)
    assert refuse.asks == "waste" and "0.5 kg purgings" in plain(refuse.says)


def test_a_shop_that_washes_nothing_is_asked_nothing() -> None:
    made = studied({"sink": drain(catch_screen="2 mm")}, donors={}, products={}, machines={})
    assert made.survey.findings == () and made.streams == ()
