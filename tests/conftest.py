"""What many tests look at, made once."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

from generator.ground.report import as_terminal
from generator.shop.load import load_shop
from generator.shop.shop import Shop
from tests.building import CONTENT, Built, build_demonstration

NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")
QUIET = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
MISSING = "no Chromium on this machine: what a reader would see is not tested"


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Chromium. Its absence skips the test, but fails it where CI is set."""
    chromium = next(filter(None, map(shutil.which, NAMES)), None)
    if chromium is None:
        pytest.fail(MISSING) if os.environ.get("CI") else pytest.skip(MISSING)
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=chromium, args=list(QUIET))
        yield running
        running.close()


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
