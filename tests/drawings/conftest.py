"""Shops to draw, and the browser that shows how a reader sees the drawings."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.drawings.atlas import Atlas
from generator.drawings.foot import Foot
from generator.shop.load import load_shop
from generator.shop.shop import Shop
from tests.benchmarks.synthetic_shop import write
from tests.small import shop_with

DEMONSTRATION = Path(__file__).parents[2] / "content" / "shop"


def loaded(folder: Path) -> Shop:
    """The shop in a folder, which must hold no fault."""
    shop = load_shop(folder).shop
    assert shop is not None
    return shop


@pytest.fixture(scope="session")
def demonstration() -> Atlas:
    """The demonstration shop: an L-shaped room with a column and two doors."""
    return Atlas(loaded(DEMONSTRATION))


@pytest.fixture(scope="session")
def crowded(tmp_path_factory: pytest.TempPathFactory) -> Atlas:
    """A shop with 120 stations."""
    return Atlas(loaded(write(tmp_path_factory.mktemp("crowded"), 120)))


@pytest.fixture(scope="session")
def smallest(tmp_path_factory: pytest.TempPathFactory) -> Atlas:
    """The smallest shop: one station, no machine, no equipment."""
    return Atlas(shop_with(tmp_path_factory.mktemp("smallest")))


@pytest.fixture
def foot() -> Foot:
    return Foot("Malt Hall Plastics Shop", "CA-06", "2026-11-20", "7c1e94b05fd2aa16c0ffee")
