"""The page of the week, held against what was worked out."""

from __future__ import annotations

import datetime as dt
import re
from functools import cache
from html import unescape

from generator.ground.resources import resource
from generator.handbook import week
from generator.handbook.desk import Desk
from generator.shop.load import load_shop


@cache
def desk() -> Desk:
    shop = load_shop(resource("content") / "shop").shop
    assert shop is not None
    return Desk(shop, dt.date(2026, 11, 25))


@cache
def words() -> str:
    (page,) = week.pages(desk())
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", page.body)))


def test_the_page_opens_with_what_limits_the_week() -> None:
    assert " ".join(desk().studies.material.flow.says.split()) in words()


def test_hours_stand_ranked_with_the_studys_figures() -> None:
    places = [
        words().index(f"{x.name} {x.want_h:.1f} {x.have_h:.1f}")
        for x in desk().studies.material.flow.limits.ranked
    ]
    assert places and places == sorted(places)


def test_every_stock_and_what_is_carried_stand_on_the_page() -> None:
    flow = desk().studies.material.flow
    assert f"{flow.carried_kgm:.0f} kg·m a week" in words()
    for store in flow.stores:
        name = str(desk().shop.polymers[store.polymer].name)
        assert f"{name}: {store.weeks[0]:.0f} kg now" in words()
