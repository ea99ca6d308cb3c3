"""What it costs: stages, a week, a kilogram and a product, against sums done by hand."""

from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.ground.finding import Severity
from generator.ground.origin import Origin
from generator.ground.working import Verdict
from generator.shop.records.logs import Logs, Trial
from generator.shop.shop import Shop
from generator.workings import costs, flow, waste
from generator.workings.costs import week_kwh
from generator.workings.power.energy import weeks_open
from tests.workings import week_shop as shop_data
from tests.workings.hall import found, only, plain, working
from tests.workings.week_shop import priced, week_shop

HERE = Origin("trials.csv", 2)
TRIAL = Trial(HERE, "T1", dt.date(2026, 3, 2), "injector", "hook", "brick", "good", cycle_s=36)
PRICES = {
    "electricity": "0.30 EUR/kWh",
    "waste": "0.50 EUR/kg",
    "water": "4 EUR/m³",
    "volunteer_hour": "12 EUR/h",
    "rent_month": "300 EUR",
    "insurance_year": "600 EUR",
}
SINK = {"sink": {"at": "1 m, 1 m", "kind": "tap and drain", "use_per_week": "500 l"}}


def consumable(kept_at: str, price: str = "10 EUR", **more: object) -> dict[str, object]:
    return {"name": kept_at, "kind": "other", "unit": "piece", "kept_at": kept_at, "stock": 1,
            "least": 0, "lead_time": "3 d", "price": price, "use_per_week": 1, **more}  # fmt: skip


CONSUMABLES = {
    "gloves": consumable("table", pack=5),
    "wax": consumable("bench"),
    "chalk": consumable("lounge", use_per_week=0, use_per_session=2),
}
LOUNGE = {**shop_data.STATIONS, "lounge": {**shop_data.STATIONS["table"], "number": 9,
          "at": "5 m, 2 m", "gives": []}}  # fmt: skip


def shop(prices: dict[str, str] | None = None, **changes: object) -> Shop:
    room = {**shop_data.ROOM, "water": SINK}
    made = {"consumables": CONSUMABLES, "stations": LOUNGE, "room": room, **changes}
    written = PRICES if prices is None else prices
    return priced(week_shop(Logs(trials=(TRIAL,)), **made), **written)


def studied(of: Shop) -> costs.CostStudy:
    week = flow.study(of)
    return costs.study(of, week, waste.study(of, week))


# --- a week ------------------------------------------------------------------------------------


def test_electricity_of_a_machine_done_by_hand() -> None:
    """4 kW: half an hour of heating up at full power, then 15 min of soak, 45 of changes and 1 h
    of running at half: 2 + 4 kWh."""
    made = shop()
    hours = flow.study(made).hours.of("injector")
    assert week_kwh(made.machines["injector"], hours) == pytest.approx(2 + 0.5 * 4 * 2.0)


def test_a_machine_outside_the_flow_runs_as_long_as_it_is_written() -> None:
    saw = {
        "name": "Saw",
        "kind": "band-saw",
        "station": "bench",
        "runs_per_week": "3 h",
        "electric": {"power": "2 kW", "voltage": "230 V", "phases": "one", "circuit": "c1"},
    }
    made = shop(machines={**shop_data.MACHINES, "saw": saw})
    assert week_kwh(made.machines["saw"], None) == pytest.approx(6)
    silent = {k: v for k, v in saw.items() if k != "runs_per_week"}
    unknown = studied(shop(machines={**shop_data.MACHINES, "saw": silent}))
    assert any("Saw" in name for name in unknown.running.missing)
    only(unknown.survey.findings, "costs.missing", Severity.NOTE)
    assert working(unknown.survey.workings, "costs.kilogram").verdict is Verdict.UNANSWERED


def test_a_week_done_by_hand() -> None:
    """Flake: 500 l at 4 EUR/m³, refuse of 2.25 + 0.28665 kg, gloves at 2 EUR; the granulator has
    no plate, and minds 4.18 h of somebody's time at 12 EUR."""
    made = studied(shop())
    flake_h = (14.7125 / 4 + 0.5) * 12
    flake = 500 / 1000 * 4 + (2.25 + 0.28665) * 0.5 + 2 + flake_h
    assert made.running.total("flake") == pytest.approx(flake)
    # making: 6 kWh, 0.5 kg of purgings, wax, 2.5 h at the injector and 200 min of snipping
    making = 6 * 0.30 + 0.25 + 10 + 2.5 * 12 + 200 / 60 * 12
    assert made.running.total("making") == pytest.approx(making)
    weeks = weeks_open(shop().hours)
    assert weeks == pytest.approx(365 / 7)
    assert made.running.total("house") == pytest.approx((300 * 12 + 600) / weeks)
    assert made.flake_kg == pytest.approx(flake / (14.3325 - 0.28665))
    assert made.products_kg == pytest.approx(made.running.total() / 1.8)
    assert made.running.missing == ()


def test_sessions_use_up_what_they_use() -> None:
    session = {"name": "Class", "for": "Schools", "weekday": "monday", "start": "16:00",
               "end": "18:00", "learners": {"count": 8, "age_from": "9 years",
               "age_to": "10 years", "adults": 1}, "groups": 1, "staff": [], "arrival": "5 min",
               "tidy": "5 min", "activities": {}}  # fmt: skip
    made = studied(shop(sessions={"class": session}))
    chalk = next(line for line in made.running.lines if line.name == "lounge")
    assert (chalk.amount, chalk.area) == (pytest.approx(20), "house")


@pytest.mark.parametrize("left_out", list(PRICES))
def test_a_price_nobody_wrote_is_not_made_up(left_out: str) -> None:
    made = studied(shop({k: v for k, v in PRICES.items() if k != left_out}))
    assert len(made.running.missing) == 1
    only(made.survey.findings, "costs.missing", Severity.NOTE)
    assert working(made.survey.workings, "costs.product.hook").verdict is not Verdict.HOLDS
    full = studied(shop())
    assert made.running.total() < full.running.total()


# --- a product ---------------------------------------------------------------------------------


def test_a_product_done_by_hand() -> None:
    """200 hooks are all that is made, so every cost of making is theirs."""
    made = studied(shop())
    [hook] = made.products
    assert hook.plastic == pytest.approx(2.0 * (made.flake_kg or 0) / 200)
    assert hook.energy == pytest.approx(6 * 0.30 / 200)
    assert hook.hours == pytest.approx((2.5 * 12 + 200 / 60 * 12) / 200)
    assert hook.making == pytest.approx((0.25 + 10) / 200)
    assert hook.pays_at == pytest.approx(hook.plastic + hook.energy + hook.hours + hook.making)
    assert hook.left == pytest.approx(2 - hook.pays_at)
    assert made.sales == pytest.approx(400)


def test_masterbatch_goes_in_by_the_gram() -> None:
    green = consumable("mixing", "50 EUR", kind="masterbatch", unit="kg", pack=5)
    blend = {**shop_data.BLENDS["brick"], "parts": [
        {"polymer": "pp", "colour": "red", "share": "96 %"}],
        "additives": [{"consumable": "green", "share": "4 %"}]}  # fmt: skip
    made = studied(shop(blends={"brick": blend}, consumables={**CONSUMABLES, "green": green}))
    [hook] = made.products
    flake = 0.96 * 2.0 * (made.flake_kg or 0)
    assert hook.plastic == pytest.approx((flake + 0.04 * 2.18 * 10) / 200)


@given(wanted=st.lists(st.integers(1, 400), min_size=1, max_size=4))
@settings(deadline=None, max_examples=30)
def test_every_cost_of_making_and_of_the_house_is_borne_by_some_product(
    wanted: list[int],
) -> None:
    """Shares of energy, hours, making and house add up to what the week costs."""
    hook = shop_data.PRODUCTS["hook"]
    products = {
        f"hook-{n}": {**hook, "per_week": count, "mass": f"{9 + n} g"}
        for n, count in enumerate(wanted)
    }
    made = studied(shop(products=products))
    shared = sum(p.weekly * (p.energy + p.hours + p.making) for p in made.products)
    assert shared == pytest.approx(made.running.total("making"))
    house = sum(p.weekly * p.house for p in made.products)
    assert house == pytest.approx(made.running.total("house"))


def test_a_price_that_does_not_pay_is_noted_with_what_would() -> None:
    cheap = {"hook": {**shop_data.PRODUCTS["hook"], "price": "0.10 EUR"}}
    made = studied(shop(products=cheap))
    one = only(made.survey.findings, "costs.price", Severity.NOTE)
    [hook] = made.products
    assert plain(one.says).startswith("Hook sells at 0.1 EUR and costs ")
    assert plain(one.mend).startswith(f"Sell it at {round(hook.pays_at, 2):g} EUR")
    assert working(made.survey.workings, "costs.product.hook").verdict is Verdict.FAILS
    assert not found(studied(shop()).survey.findings, "costs.price")


# --- stages ------------------------------------------------------------------------------------


def stage(order: int = 1, **more: object) -> dict[str, object]:
    return {"order": order, "name": f"Stage {order}", "goal": "Make", "reached": False, **more}


def staged(price: str | None = "900 EUR", budget: str = "1000 EUR") -> costs.CostStudy:
    cutter = {**shop_data.MACHINES["granulator"], **({"price": price} if price else {})}
    machines = {**shop_data.MACHINES, "granulator": cutter}
    stages = {
        "second": stage(2, adds_machines=["injector"]),
        "first": stage(
            adds_machines=["granulator"], adds_stations=["table"], budget=budget,
            other_costs=[{"what": "Cable", "price": "150 EUR"}],
        ),
    }  # fmt: skip
    tools = {"knife": {"name": "Knife", "kept_at": "table", "count": 3, "use": "Cutting",
                       "price": "4 EUR"}}  # fmt: skip
    return studied(shop(machines=machines, stages=stages, tools=tools))


def test_a_stage_is_its_machines_and_what_else_it_names() -> None:
    made = staged()
    first, second, rest = made.stages
    assert first.stage is not None and first.stage.order == 1
    assert (first.total, first.kit_total, first.weekly, first.left) == (1050, 12, 2, -50)
    assert second.unpriced == ("screw-injector",)
    assert rest.stage is None and {line.kind for line in rest.kit} == {"container"}
    over = only(made.survey.findings, "costs.budget", Severity.FIX)
    assert plain(over.says) == (
        "Stage “Stage 1” comes to 1050 EUR, 50 EUR over its budget of 1000 EUR."
    )
    assert working(made.survey.workings, "costs.stage.first").verdict is Verdict.FAILS
    assert working(made.survey.workings, "costs.stage.second").verdict is Verdict.UNANSWERED


def test_a_machine_without_a_price_leaves_the_stage_open() -> None:
    made = staged(price=None, budget="5000 EUR")
    names = [f.says for f in found(made.survey.findings, "costs.unpriced")]
    assert any("granulator" in says for says in names)
    assert working(made.survey.workings, "costs.stage.first").verdict is Verdict.UNANSWERED
