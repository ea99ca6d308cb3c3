"""What many tests look at, made once."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.ground.report import as_terminal
from generator.shop.load import load_shop
from generator.shop.shop import Shop
from tests.building import CONTENT, Built, build_demonstration


@pytest.fixture(scope="session")
def demonstration() -> Shop:
    """The demonstration shop."""
    loaded = load_shop(CONTENT / "shop")
    assert loaded.shop is not None, as_terminal(loaded.findings, colour=False)
    return loaded.shop


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Built:
    """The demonstration shop's handbook, built as the README says, and what was said."""
    result = build_demonstration(tmp_path_factory.mktemp("handbook") / "site")
    assert result.status == 0, result.said
    return result


@pytest.fixture(scope="session")
def handbook(built: Built) -> Path:
    """The demonstration shop's handbook as a folder."""
    return built.site
