"""A shop that holds: every fact is there, with the place it was written."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from generator.ground.origin import Origin
from generator.ground.units import Money
from generator.ground.wording import use
from generator.shop.load import load_shop
from generator.shop.shop import Shop
from tests import shops
from tests.benchmarks import synthetic_shop


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Shop:
    loaded = load_shop(synthetic_shop.write(tmp_path_factory.mktemp("shop"), 60))
    assert loaded.findings == ()
    assert loaded.shop is not None
    return loaded.shop


def test_the_smallest_shop_knows_where_everything_was_written() -> None:
    shop = shops.small_shop()
    station = shop.stations["cutting"]
    assert station.id == "cutting"
    assert station.origin == Origin("stations.yml", 1, 1)
    assert station.origin_of("size") == Origin("stations.yml", 7, 9)
    assert station.origin_of("height_mm") == station.origin
    assert station.wrote("size") and not station.wrote("height_mm")
    assert station.working_sides[0].origin_of("depth_mm") == Origin("stations.yml", 9, 28)
    door = shop.room.doors["green-door"]
    assert door.origin == Origin("room.yml", 9, 3)
    assert (door.id, door.origin_of("clear_width_mm")) == ("green-door", Origin("room.yml", 13, 18))
    outlet = shop.room.circuits["motors"].outlets["red-socket"]
    assert (outlet.id, outlet.rating_a) == ("red-socket", 16)
    assert shop.shop.origin == Origin("shop.yml", 1, 1)


def test_quantities_are_in_the_unit_of_their_field() -> None:
    shop = shops.small_shop()
    assert shop.room.outline[2] == (6000, 4000)
    assert shop.stations["cutting"].size == (1200, 800)
    electric = shop.machines["granulator"].electric
    assert electric is not None
    assert (electric.power_kw, electric.voltage_v) == (2.2, 400)
    assert shop.room.circuits["motors"].cable_m == 12


def test_a_number_is_taken_as_the_words_it_is_written_with() -> None:
    assert str(shops.small_shop().shop.emergency_number) == "112"


def test_a_noun_may_be_a_folder_of_files(shop: Shop) -> None:
    assert list(shop.machines) == [f"machine-{n}" for n in range(1, 61)]
    assert shop.machines["machine-1"].origin.file == "machines/part-00.yml"
    assert shop.machines["machine-60"].origin.file == "machines/part-01.yml"


def test_text_is_told_by_language(shop: Shop) -> None:
    name = shop.stations["station-3"].name
    assert str(name) == "Station 3"
    with use("es"):
        assert str(name) == "Puesto 3"


def test_prices_say_per_what(shop: Shop) -> None:
    assert shop.shop.prices.electricity == Money(0.31, "EUR")
    assert shop.machines["machine-1"].price == Money(4200, "EUR")


def test_logs_are_read_with_their_places(shop: Shop) -> None:
    first = shop.logs.weigh_ins[0]
    assert (first.date, first.donor, first.kg) == (dt.date(2026, 1, 6), "donor-2", 3)
    assert (first.rejected_kg, first.batch, first.origin.line) == (1, "B1", 2)
    assert shop.logs.batches[1].made_from == ("B1",)
    assert shop.logs.trials[0].melt_c == 215
    assert shop.logs.rota[0].end == dt.time(20)
    assert (shop.logs.upkeep[2].task, shop.logs.upkeep[2].running_h) == ("grease", 21)
    assert shop.logs.stock[4].count == 2
    assert shops.small_shop().logs.weigh_ins == ()


def test_a_table_may_come_from_a_spreadsheet(tmp_path: Path) -> None:
    """Semicolons, decimal commas, a byte order mark, another case and blank rows."""
    loaded = load_shop(shops.assemble("csv-fine", tmp_path / "shop"))
    assert loaded.shop is not None
    (row,) = loaded.shop.logs.weigh_ins
    assert (row.kg, row.rejected_kg, row.why) == (12.5, 0.4, "")


def test_look_ups_join_what_belongs_together(shop: Shop) -> None:
    assert [m.id for m in shop.machines_at("station-7")] == ["machine-7"]
    assert [p.id for p in shop.procedures_at("station-7")] == ["procedure-7"]
    assert [h.id for h in shop.hazards_at("station-7")] == ["hazard-7"]
    assert [e.id for e in shop.isolators_of("machine-7")] == ["isolator-7"]
    assert [m.id for m in shop.moulds_of("machine-7")] == ["mould-7"]
    stage = shop.stage_of("station-7")
    assert stage is not None and stage.id == "first"


@pytest.mark.parametrize("stations", [2, 25])
def test_the_synthetic_shop_is_a_shop(tmp_path: Path, stations: int) -> None:
    """Benchmarks stand on it."""
    loaded = load_shop(synthetic_shop.write(tmp_path, stations))
    assert loaded.shop is not None and len(loaded.shop.stations) == stations
