"""What a number of pieces takes, on a blend's page: it adds up, doubles, and says what is short."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.ground.resources import resource
from generator.handbook.desk import Desk
from generator.handbook.portions import portions
from generator.handbook.weighing import weighing
from generator.shop.load import load_shop
from generator.shop.shop import Shop
from generator.workings.blends import Recipe


@cache
def shop() -> Shop:
    found = load_shop(resource("content") / "shop").shop
    assert found is not None
    return found


def desk(found: Shop) -> Desk:
    return Desk(found, dt.date(2026, 11, 25))


def number(words: str) -> float:
    """The figure before its unit; thousands stand apart by the same narrow space."""
    return float("".join(words.split("\u202f")[:-1]))


@given(st.lists(st.floats(0.01, 5000), min_size=1, max_size=6))
def test_what_is_weighed_out_adds_up_to_the_total_it_says(grams: list[float]) -> None:
    parts, total = weighing(grams)
    shown = [number(part) for part in parts]
    assert sum(shown) == pytest.approx(number(total), abs=1e-6)
    step = 0.1 if sum(grams) < 1000 else 1.0
    assert all(abs(a - b) <= step for a, b in zip(shown, grams, strict=True))


def test_a_recipe_of_two_by_hand() -> None:
    """248.55 and 165.7 g: 248.6 and 165.7 by rounding are 414.3, and the total is 414.2 or .3."""
    parts, total = weighing([248.55, 165.70])
    assert sum(number(part) for part in parts) == pytest.approx(number(total))


def recipe(count: int) -> Recipe:
    study = desk(shop()).studies.material.blends
    return study.bench.recipe(shop().products["door-wedge"], shop().blends["hd-river"], count)


def test_twice_the_pieces_take_twice_the_mass_but_one_purge() -> None:
    one, two = recipe(12), recipe(24)
    assert two.total_g - two.purge_g == pytest.approx(2 * (one.total_g - one.purge_g))
    assert two.purge_g == one.purge_g


def test_every_product_of_a_blend_stands_for_twelve_and_for_its_week() -> None:
    table = portions(desk(shop()), shop().blends["hd-river"])
    assert table is not None
    names = [row[0].text for row in table.rows]
    for product in shop().products.values():
        for count in {12, product.per_week or 12}:
            told = f"{count} × {product.name}" in names
            assert told == ("hd-river" in product.blends)


def test_what_the_stock_lacks_is_said_by_how_much() -> None:
    rows = [row for row in shop().logs.stock if row.colour != "blue"]
    bare = shop().model_copy(update={"logs": replace(shop().logs, stock=tuple(rows))})
    table = portions(desk(bare), bare.blends["hd-river"])
    assert table is not None
    first = table.rows[0]
    assert first[-1].text.startswith("short: High-density polyethylene Blue")
    assert first[-1].style == "sev fix"


def test_no_grams_are_given_for_what_must_not_be_heated() -> None:
    pvc = shop().polymers["pe-hd"].model_copy(update={"code": "PVC"})
    changed = shop().model_copy(update={"polymers": {**shop().polymers, "pe-hd": pvc}})
    assert portions(desk(changed), changed.blends["hd-river"]) is None
