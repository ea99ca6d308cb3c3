"""A browser, and a small site to look at with it."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from generator.ground.resources import resource
from tests.browser.site import build_site

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

Open = Callable[..., Page]


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
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small site in the handbook's look, opened from its folder."""
    return build_site(tmp_path_factory.mktemp("look"))


@pytest.fixture(scope="session")
def handbook(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demonstration shop's handbook, built as the README says."""
    folder = tmp_path_factory.mktemp("handbook")
    settings = resource("content").parent / "mkdocs.yml"
    command = [sys.executable, "-m", "mkdocs", "build", "--strict", "-q"]
    built = subprocess.run(
        [*command, "-f", str(settings), "-d", str(folder)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert built.returncode == 0, built.stderr
    return folder


@pytest.fixture
def visit(browser: Browser, site: Path) -> Iterator[Open]:
    """Open a page of the small site: ``visit("stations/granulator.html", width=390)``.

    Every request it makes is kept in ``page.requests``.
    """
    yield from _visits(browser, site)


@pytest.fixture
def read(browser: Browser, handbook: Path) -> Iterator[Open]:
    """Open a page of the demonstration shop's handbook, as ``visit`` does."""
    yield from _visits(browser, handbook)


def _visits(browser: Browser, site: Path) -> Iterator[Open]:
    contexts = []

    def open_page(address: str, width: int = 1280, scheme: str = "light", **more: object) -> Page:
        context = browser.new_context(
            viewport={"width": width, "height": 800},
            color_scheme=scheme,  # type: ignore[arg-type]
            **more,  # type: ignore[arg-type]
        )
        contexts.append(context)
        page = context.new_page()
        page.requests = []  # type: ignore[attr-defined]
        page.on("request", lambda request: page.requests.append(request.url))  # type: ignore[attr-defined]
        page.goto((site / address).as_uri())
        return page

    yield open_page
    for context in contexts:
        context.close()
