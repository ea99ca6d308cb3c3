"""The demonstration shop's printing, worked out once."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from generator.press.engine import Press
from generator.press.order import Order
from generator.shop.load import load_shop
from generator.workings.check import Studies

DEMONSTRATION = Path(__file__).parents[2] / "content" / "shop"
DAY = dt.date(2026, 11, 24)


@pytest.fixture(scope="session")
def order() -> Order:
    shop = load_shop(DEMONSTRATION).shop
    assert shop is not None
    return Order(Studies(shop, DAY), "en", "https://handbook.example/malt-hall/")


@pytest.fixture(scope="session")
def press(order: Order) -> Press:
    return Press(str(order.shop.shop.name), DAY)
