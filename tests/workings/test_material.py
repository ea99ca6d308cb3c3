"""All of material at once: shared work changes nothing, and no valid shop is too odd for it."""

from __future__ import annotations

import datetime as dt
import math

import pytest

from generator.ground.working import Verdict
from generator.shop.load import load_shop
from generator.shop.records.logs import Logs, Shift, Stock
from generator.shop.shop import Shop
from generator.workings import blends, costs, flow, material, storage, trail, waste
from tests import shops
from tests.benchmarks import synthetic_shop
from tests.workings import week_shop as shop_data
from tests.workings.hall import Data, station
from tests.workings.week_shop import week_shop


def test_together_they_say_what_each_says_alone() -> None:
    shop = week_shop()
    whole, week = material.study(shop), flow.study(shop)
    left = waste.study(shop, week)
    alone = (
        trail.study(shop), week, storage.study(shop), blends.study(shop), left,
        costs.study(shop, week, left),
    )  # fmt: skip
    for together, made in zip(whole.surveys, alone, strict=True):
        assert together == made.survey
    assert [survey.subject for survey in whole.surveys] == [
        "trail", "flow", "storage", "blends", "waste", "costs",
    ]  # fmt: skip


def _sensible(study: material.MaterialStudy) -> None:
    """Every figure is a number, and what is not known is not held."""
    for survey in study.surveys:
        assert 0 <= survey.unanswered <= survey.checks
        for shown in survey.workings:
            value = shown.result.value
            assert math.isfinite(value), shown.id
            assert shown.verdict is not Verdict.HOLDS or shown.limit is not None


def test_the_smallest_shop() -> None:
    study = material.study(shops.small_shop())
    _sensible(study)
    assert study.flow.limits.bottleneck is None
    assert study.blends.today == ()


def test_a_shop_of_another_make(tmp_path_factory: pytest.TempPathFactory) -> None:
    folder = synthetic_shop.write(tmp_path_factory.mktemp("long-shed"), 12)
    loaded = load_shop(folder)
    assert loaded.shop is not None
    _sensible(material.study(loaded.shop))


YEAR = [{"from": "2026-01-01", "to": "2026-12-31", "why": "Flood"}]
NEVER: Data = {"hours": {"weekly": []}}
ODD: dict[str, Data] = {
    "never open": NEVER,
    "shut all year": {"hours": {"weekly": [], "closed": YEAR}},
    "all of it trimmed off": {"products": {"hook": {
        **shop_data.PRODUCTS["hook"],
        "finish": [{"do": "Burn", "station": "bench", "takes": "1 min", "loss": "100 %"}]}}},
    "nothing but masterbatch": {
        "blends": {"brick": {**shop_data.BLENDS["brick"], "parts": [
            {"polymer": "pp", "colour": "red", "share": "0.01 %"}],
            "additives": [{"consumable": "green", "share": "99.99 %"}]}},
        "consumables": {"green": {"name": "Green", "kind": "masterbatch", "unit": "kg",
                                  "kept_at": "bench", "stock": 0, "least": 0,
                                  "lead_time": "1 d"}}},
    "a crate too heavy to lift empty": {"containers": {**shop_data.CONTAINERS, "flake-crate": {
        **shop_data.CONTAINERS["flake-crate"], "empty": "40 kg"}}},
    "shelves of no length": {"stations": {**shop_data.STATIONS, "store": station(
        3, "8000, 2000 mm", "store", storage=[
            {"length": "0 mm", "depth": "0 mm", "level_height": "0 mm",
             "keeps": ["flake-crate"]}])}},
    "everything rejected": {"donors": {"school": {"name": "School", "brings": [
        {"polymer": "pp", "form": "whole", "weekly": "20 kg", "dirt": "dirty",
         "rejected": "100 %"}]}}},
    "nothing brought": {"donors": {"school": {"name": "School", "brings": [
        {"polymer": "pp", "form": "film", "weekly": "0 kg", "dirt": "clean"}]}}},
    "no containers": {"containers": {}, "stations": {
        id_: station(n, f"{n} m, 2 m") for n, id_ in enumerate(shop_data.STATIONS, 1)}},
    "a polymer nobody knows": {"polymers": {"pp": {
        **shop_data.POLYMERS["pp"], "code": "POM", "own": {}}}},
}  # fmt: skip


@pytest.mark.parametrize("name", ODD)
def test_no_shop_is_too_odd(name: str) -> None:
    day = dt.date(2026, 3, 2)
    shift = Shift(shop_data.HERE, day, dt.time(16), dt.time(18), "keeper", 0)
    counted = Stock(shop_data.HERE, day, "pp", "flake", 0.0, "store", "red")
    shop: Shop = week_shop(Logs(rota=(shift,), stock=(counted,)), **ODD[name])
    _sensible(material.study(shop))
