"""Costs and what leaves, on their pages, and the three sheets they ask with."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterator
from functools import cache
from html import unescape

import pytest

from generator.ground.resources import resource
from generator.handbook import costs, leaving, questions
from generator.handbook.desk import Desk
from generator.handbook.page import Page
from generator.shop.load import load_shop
from generator.shop.shop import Shop
from generator.workings.waste import WASTE_WORDS


@cache
def desk() -> Desk:
    shop = load_shop(resource("content") / "shop").shop
    assert shop is not None
    return Desk(shop, dt.date(2026, 11, 25))


def words(pages: Iterator[Page]) -> str:
    body = " ".join(page.body for page in pages)
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", body)))


@cache
def costs_words() -> str:
    return words(costs.pages(desk()))


@cache
def leaving_words() -> str:
    return words(leaving.pages(desk()))


def sheet(key: str) -> str:
    return words(page for page in questions.pages(desk()) if page.path == f"questions/{key}")


def test_costs_open_with_the_week_and_the_kilogram() -> None:
    found = desk().studies.material.costs
    opening = costs_words().split("The price at which each pays")[0]
    assert f"A week costs {found.running.total():.0f} EUR" in opening
    assert f"brings {found.sales:.0f} EUR" in opening


def test_every_product_stands_with_the_price_at_which_it_pays() -> None:
    for cost in desk().studies.material.costs.products:
        row = " ".join(
            f"{part:.2f}" for part in
            (cost.plastic, cost.energy, cost.hours, cost.making, cost.pays_at, cost.carries_at)
        )  # fmt: skip
        assert f"{cost.product.name} {row}" in costs_words()


def cheap(name: str, amount: float) -> Shop:
    """The shop with one product at another price."""
    shop = desk().shop
    product = shop.products[name]
    assert product.price is not None
    priced = product.price.__class__(amount, product.price.currency)
    sold = product.model_copy(update={"price": priced})
    return shop.model_copy(update={"products": {**shop.products, name: sold}})


def test_a_product_below_its_cost_is_named_first_and_one_below_the_house_as_well() -> None:
    """By its figures: a sheet pays for itself at 3.86 and carries its share at 17.57."""
    sheets = desk().shop.products["sheet-river"]
    for amount, says in ((1.0, "Not paying for themselves"), (5.0, "Not carrying its share")):
        shop = cheap("sheet-river", amount)
        told = costs.says(shop, Desk(shop, dt.date(2026, 11, 25)).studies.material.costs)
        assert str(sheets.name) in told.split(says)[1]


@pytest.mark.parametrize(
    ("amount", "words_"), [(248.34, "248\u202fEUR"), (21.44, "21.44\u202fEUR"),
                           (-5.0, "\u22125.00\u202fEUR")]
)  # fmt: skip
def test_amounts_claim_no_more_than_they_carry(amount: float, words_: str) -> None:
    assert costs.price(desk().shop, amount) == words_


def test_every_stage_stands_against_its_budget() -> None:
    for cost in desk().studies.material.costs.stages:
        if cost.stage and cost.budget:
            assert f"{cost.total:.0f} of {cost.budget:.0f} EUR" in costs_words()


def test_every_kind_of_waste_stands_in_kilograms_and_adds_up_to_the_verdict() -> None:
    found = desk().studies.material.waste
    refuse = sum(s.kg or 0.0 for s in found.streams if s.way == "refuse")
    assert leaving_words().split("In kilograms")[0].count(f"{refuse:.1f} kg leave") == 1
    for stream in found.streams:
        assert f"{WASTE_WORDS[stream.key]} {stream.kg:.2f}" in leaving_words()


def test_screens_are_judged_and_the_sheets_to_ask_with_are_there() -> None:
    assert "wing-drain 2 mm fails" in leaving_words()
    for title in ("waste authority", "water company", "insurer"):
        assert f"Questions for the {title}" in leaving_words()


@pytest.mark.parametrize(
    ("key", "told"),
    [
        ("insurer", ("volunteers and visitors", "Fire load", "Platen press", "People at most")),
        ("water", ("560 l", "Washed off in a week", "Washing soda", "2 mm")),
        ("waste", ("Purgings", "Fines from the granulator", "Purge bin")),
    ],
)
def test_each_sheet_asks_and_bears_the_figures_it_takes(key: str, told: tuple[str, ...]) -> None:
    found = sheet(key)
    assert "Answer, name and date" in found
    for words_ in told:
        assert words_ in found
