"""Sites opened in a browser from their folders, as a reader would."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.site import build_site

Open = Callable[..., Page]


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small site in the handbook's look, opened from its folder."""
    return build_site(tmp_path_factory.mktemp("look"))


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
