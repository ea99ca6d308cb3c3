"""Containers, labels, shelves, floor, weights and quarantine against counts done by hand."""

from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.ground.finding import Severity
from generator.ground.origin import Origin
from generator.ground.working import Source, Verdict
from generator.shop.records.logs import Batch, Logs, Stock
from generator.shop.records.material import Container
from generator.shop.shop import Shop
from generator.workings import storage
from generator.workings.bearing import filled_kg, pressure_kpa
from generator.workings.filling import Filling, bulk_of, lift_of
from generator.workings.storage.shelves import floor_m2, shelf_mm, stack_high
from tests.workings import week_shop as shop_data
from tests.workings.hall import found, only, plain, station, working
from tests.workings.week_shop import week_shop

HERE = Origin("stock.csv", 2)
DAY = dt.date(2026, 3, 2)


def counted(
    kg: float, form: str = "flake", colour: str = "red", count: int = 0, container: str = ""
) -> Stock:
    return Stock(HERE, DAY, "pp", form, kg, "store", colour, container, count)  # type: ignore[arg-type]


def shop(*rows: Stock, **changes: object) -> Shop:
    return week_shop(Logs(stock=rows), **changes)


def container(**changes: object) -> Container:
    data = {**shop_data.CONTAINERS["flake-crate"], **changes}
    return Container.model_validate(data)


# --- what goes into one ------------------------------------------------------------------------


def test_the_worked_examples_of_a_fill() -> None:
    """A box 544 x 364 x 265 mm nine tenths full of flake at 380 kg/m³, and a big bag at 350."""
    assert filled_kg(0.544 * 0.364 * 0.265 * 1000, 380, 0.9) == pytest.approx(17.95, abs=0.005)
    assert filled_kg(0.9 * 0.9 * 1.0 * 1000, 350, 1.0) == pytest.approx(283.5)
    assert pressure_kpa(500, 0.81) == pytest.approx(6.05, abs=0.005)


def test_a_published_loose_density_fills_a_cubic_yard() -> None:
    """The US EPA gives loose bottles as 24 and 35 lb a cubic yard: 14.24 and 20.76 kg/m³."""
    yard_l = 0.9144**3 * 1000
    for pounds, kgm3 in ((24, 14.24), (35, 20.76)):
        assert filled_kg(yard_l, kgm3, 1.0) == pytest.approx(pounds * 0.45359237, rel=5e-4)


def test_a_fill_is_bounded_by_volume_rating_and_lift() -> None:
    """50 l nine tenths full at 400 kg/m³ are 18 kg; 16 kg may be lifted, 2 of them the crate."""
    lifted = Filling(shop()).best("pp", "flake")
    assert lifted is not None
    assert (lifted.volume_kg, lifted.content_kg, lifted.bound) == (
        pytest.approx(18), pytest.approx(14), "lift",
    )  # fmt: skip
    assert lifted.full_kg == pytest.approx(16)
    made = shop(containers={**shop_data.CONTAINERS, "flake-crate": {
        **shop_data.CONTAINERS["flake-crate"], "most": "9 kg"}})  # fmt: skip
    rated = Filling(made).best("pp", "flake")
    assert rated is not None and (rated.content_kg, rated.bound) == (9, "rating")
    loose = Filling(made).best("pp", "as donated")
    # 100 l nine tenths full at 50 kg/m³
    assert loose is not None and (loose.content_kg, loose.bound) == (pytest.approx(4.5), "volume")


def test_the_shops_own_lift_wins_over_the_guideline() -> None:
    lift = lift_of(shop())
    assert lift.kg == 16 and isinstance(lift.origin, Source)


def test_a_density_nobody_wrote_is_the_tables_or_none() -> None:
    bare = {"pp": {"code": "PP", "name": "PP", "status": "taken"},
            "pom": {"code": "POM", "name": "POM", "status": "taken"}}  # fmt: skip
    polymers = shop(polymers=bare, blends={}, products={}, donors={}, machines={}).polymers
    flake, loose = bulk_of(polymers["pp"], "flake"), bulk_of(polymers["pp"], "sorted", "film")
    assert flake is not None and flake.kgm3 == pytest.approx(375)  # 300 to 450
    assert loose is not None and loose.kgm3 == 21
    assert bulk_of(polymers["pom"], "flake") is None


@given(kg=st.floats(0.01, 500))
@settings(deadline=None)
def test_as_many_as_it_takes_and_no_more(kg: float) -> None:
    fill = Filling(_SHOP).best("pp", "flake")
    assert fill is not None
    count = fill.count(kg)
    assert (count - 1) * fill.content_kg < kg + 1e-6
    assert kg <= count * fill.content_kg + 1e-6


_SHOP = shop()


# --- how many ----------------------------------------------------------------------------------


def test_lots_need_containers_of_their_own_before_and_after_they_are_cut() -> None:
    """30 kg of red and 5 of white flake at 14 kg a crate; 10 kg of red pieces at 4.5."""
    made = storage.study(shop(counted(30), counted(5, colour="white"), counted(10, "pieces")))
    now = {(n.colour, n.condition): n.now for n in made.lots}
    assert now[("red", "flake")] == 3
    assert now[("white", "flake")] == 1
    assert now[("red", "sorted")] == 3
    kinds = {k.container.id: k for k in made.kinds}
    assert kinds["flake-crate"].now == 4
    assert kinds["flake-crate"].spare == 2


def test_half_empty_ones_that_were_counted_count() -> None:
    made = storage.study(shop(counted(30, count=5, container="flake-crate")))
    lot = next(n for n in made.lots if (n.colour, n.condition) == ("red", "flake"))
    assert (lot.fewest, lot.now) == (3, 5)
    assert "3 would do" in working(made.survey.workings, "storage.lot.pp.red.flake").caution


def test_a_week_first_fills_what_stands_there() -> None:
    """A week brings 14.05 kg of flake: 7 kg fit beside the 7 in the crate, 7.05 need another."""
    made = storage.study(shop(counted(7, colour="")))
    lot = next(n for n in made.lots if n.condition == "flake")
    assert lot.week_kg == pytest.approx(20 * 0.9 * 0.875 * 0.91 * 0.98)
    assert (lot.now, lot.after_a_week, lot.labels) == (1, 2, 2)


def test_too_few_containers_are_found_with_how_many_more() -> None:
    made = storage.study(shop(counted(13.9, colour="white"), counted(14 * 6 + 1)))
    few = found(made.survey.findings, "storage.too-few")
    [one] = [f for f in few if f.subject == "containers/flake-crate"]
    assert one.severity is Severity.FIX
    assert plain(one.says).startswith("Flake crate: 8 are needed now and ")
    shown = working(made.survey.workings, "storage.containers.flake-crate")
    assert shown.verdict is Verdict.FAILS and shown.margin is not None and shown.margin.value == -2


def test_the_limit_may_let_more_stand_here_than_the_shelves_take() -> None:
    polymers = {"pp": {**shop_data.POLYMERS["pp"], "store_limit": "400 kg"}}
    made = storage.study(shop(counted(14, colour=""), polymers=polymers))
    # 400 kg of 14 kg are 29 crates; a level of 2400 x 620 mm takes 6, and there are two
    one = only(made.survey.findings, "storage.limits", Severity.NOTE)
    assert "29 of Flake crate" in one.says and "take 12" in one.says


# --- shelves and floor -------------------------------------------------------------------------


def test_length_of_shelf_a_container_takes() -> None:
    """Six crates of 600 x 400 stand lengthways in the depth of a shelf of 2400 x 620 mm."""
    [shelf] = _SHOP.stations["store"].storage
    assert shelf_mm(container(), shelf) == pytest.approx(400)
    assert shelf_mm(container(outer="290 x 290 x 140 mm", stack=2), shelf) == pytest.approx(75)
    assert shelf_mm(container(outer="600 x 400 x 310 mm"), shelf) is None


def test_shelves_fill_up_and_the_rest_stands_on_the_floor() -> None:
    crates = {**shop_data.CONTAINERS, "flake-crate": {
        **shop_data.CONTAINERS["flake-crate"], "owned": 20}}  # fmt: skip
    made = storage.study(shop(counted(14 * 14, colour="white"), containers=crates))
    [use] = made.shelves
    assert (use.have_mm, use.need_mm["now"], use.kept) == (4800, 4800, {"flake-crate": 12})
    assert use.is_full
    [floor] = [f for f in made.floor if f.container.id == "flake-crate"]
    assert (floor.count, floor.high, floor.area_m2) == (2, 2, pytest.approx(0.24))
    only(made.survey.findings, "storage.shelf-full", Severity.NOTE)
    assert "0.24 m² of floor" in plain(
        only(made.survey.findings, "storage.no-place", Severity.NOTE).says
    )


def test_stacks_are_as_high_as_they_may_be() -> None:
    assert stack_high(container(stack=9)) == 6  # 220 mm each up to 1.5 m
    assert stack_high(container(stack=2)) == 2
    assert floor_m2(container(stack=2), 5) == pytest.approx(3 * 0.24)


@given(kg=st.floats(0, 900), more=st.floats(0, 300))
@settings(deadline=None, max_examples=40)
def test_more_never_takes_less_shelf(kg: float, more: float) -> None:
    first, then = (storage.study(shop(counted(mass))) for mass in (kg, kg + more))
    assert first.shelves[0].need_mm["now"] <= then.shelves[0].need_mm["now"]
    for made in (first, then):
        kind = next((k for k in made.kinds if k.container.id == "flake-crate"), None)
        on = made.shelves[0].kept.get("flake-crate", 0)
        off = sum(f.count for f in made.floor if f.container.id == "flake-crate")
        assert kind is None or kind.now == on + off


# --- weights -----------------------------------------------------------------------------------


def test_a_crate_that_may_be_filled_above_the_guideline() -> None:
    """20 kg may go in and 18 fit: 20 kg with the crate, and 16 may be lifted."""
    made = storage.study(shop())
    weight = next(w for w in made.weights if w.container.id == "flake-crate")
    assert (weight.full_kg, weight.of, weight.may_hold_kg) == (pytest.approx(20), "pp", 14)
    one = only(made.survey.findings, "storage.heavy", Severity.FIX)
    assert plain(one.mend).startswith("Fill it with 14 kg at most")


def test_the_lighter_ones_hold() -> None:
    made = storage.study(shop())
    assert working(made.survey.workings, "storage.weight.tub").verdict is Verdict.HOLDS


# --- pauses and quarantine ---------------------------------------------------------------------


def test_paused_when_the_limit_is_reached_or_the_shelves_are_full() -> None:
    limit = storage.study(shop(counted(60)))
    assert limit.paused == {"pp"}
    assert plain(limit.pauses[0].says) == "Paused for PP: 60 kg stand here, and 60 kg is the limit."
    polymers = {"pp": {**shop_data.POLYMERS["pp"], "store_limit": "900 kg", "store": "store"}}
    shelf = storage.study(shop(counted(14 * 12), polymers=polymers))
    assert [p.why for p in shelf.pauses] == ["shelf"]
    assert storage.study(shop(counted(14 * 11), polymers=polymers)).pauses == ()


BOX = {"name": "Box", "outer": "400 x 300 x 220 mm", "volume": "20 l", "empty": "1 kg",
       "most": "8 kg", "keeps": ["quarantine"], "owned": 3}  # fmt: skip
CUPBOARD = station(9, "1000, 7000 mm", storage=[
    {"length": "450 mm", "depth": "320 mm", "levels": 2, "level_height": "300 mm",
     "keeps": ["box"]}])  # fmt: skip


def doubtful(*ages: int, cleared: int = 0) -> Shop:
    """Boxes so many days old on the last logged day; the first ``cleared`` were told apart."""
    rows = [
        Batch(Origin("batches.csv", n + 2), f"Q{n}", DAY - dt.timedelta(days=age), "quarantine", 1)
        for n, age in enumerate(ages)
    ]
    rows += [
        Batch(HERE, f"S{n}", DAY, "sorted", 1, "pp", made_from=(f"Q{n}",)) for n in range(cleared)
    ]
    containers = {**shop_data.CONTAINERS, "box": BOX}
    stations = {**shop_data.STATIONS, "cupboard": CUPBOARD}
    logs = Logs(batches=tuple(rows), stock=(counted(1),))
    return week_shop(logs, containers=containers, stations=stations)


def test_quarantine_has_as_many_places_as_boxes_find_room() -> None:
    kept = storage.study(doubtful(3)).quarantine
    assert (kept.boxes, kept.shelved, kept.places, kept.free) == (3, 2, 2, 1)


def test_a_box_that_waits_too_long_is_found() -> None:
    made = storage.study(doubtful(28, 29))
    assert [(w.days, w.overdue) for w in made.quarantine.waiting] == [(28, False), (29, True)]
    one = only(made.survey.findings, "storage.quarantine-stay", Severity.FIX)
    assert plain(one.says) == ("Q1 has waited in quarantine for 29 days, and 28 d is the longest.")
    only(made.survey.findings, "storage.quarantine-full", Severity.FIX)


def test_what_was_told_apart_waits_no_more() -> None:
    made = storage.study(doubtful(40, 2, cleared=1))
    assert [w.batch.batch for w in made.quarantine.waiting] == ["Q1"]
    assert not found(made.survey.findings, "storage.quarantine-stay")


def test_the_day_can_be_told() -> None:
    made = storage.study(doubtful(2), day=DAY + dt.timedelta(days=40))
    assert made.quarantine.waiting[0].days == 42
