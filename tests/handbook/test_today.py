"""What can be made today, on its page: best use first, and grams that a recipe adds up to."""

from __future__ import annotations

import datetime as dt
import re
from functools import cache
from html import unescape

from generator.ground.resources import resource
from generator.handbook import today
from generator.handbook.desk import Desk
from generator.handbook.weighing import weighing
from generator.shop.load import load_shop


@cache
def desk() -> Desk:
    shop = load_shop(resource("content") / "shop").shop
    assert shop is not None
    return Desk(shop, dt.date(2026, 11, 25))


@cache
def body() -> str:
    (page,) = today.pages(desk())
    return page.body


def words() -> str:
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", body())))


def test_the_page_opens_with_the_best_use() -> None:
    best = desk().studies.material.blends.today[0]
    opening = words().split("Best use first:")[0]
    assert f"{best.product.name} in {best.blend.name}" in opening
    assert f"{best.in_an_opening} in an opening" in opening


def test_every_use_stands_once_in_the_order_of_its_rank() -> None:
    found = desk().studies.material.blends.today
    assert body().count('class="use"') == min(len(found), 6)
    places, at = [], 0
    for use in found:
        at = body().index(f"blends/{use.blend.id}.html", at + 1)
        places.append(at)
    assert places == sorted(places)


def test_grams_for_an_opening_are_the_recipes() -> None:
    study = desk().studies.material.blends
    best = study.today[0]
    recipe = study.bench.recipe(best.product, best.blend, best.in_an_opening)
    card = words().split("1. ")[1].split("2. ")[0]
    for words_ in weighing([i.grams for i in recipe.ingredients])[0]:
        assert words_.replace("\u202f", " ") in card


def test_a_blend_is_drawn_once_and_shown_again() -> None:
    ids = re.findall(r'<svg id="(swatch-[^"]+)"', body())
    assert len(ids) == len(set(ids))
    for used in re.findall(r'<use href="#([^"]+)"', body()):
        assert used in ids


def test_colour_groups_stand_with_their_rest() -> None:
    for group in desk().studies.material.blends.groups:
        assert f"{group.kg:.1f} kg" in words()
    assert "Flake by colour" in words()
