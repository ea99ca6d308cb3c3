"""An exported handbook under another theme: what its pages do, they still do."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml
from click.testing import CliRunner
from playwright.sync_api import Browser, Page

from generator.cli import main
from generator.handbook.look import PLAIN_SHEETS
from tests.building import build, lay_out

pytestmark = pytest.mark.browser

PHONE = 390
ROLES = """keeper:
  name: Keeper
  does: Opens up
  least_age: 18 years
  visits:
    - title: First evening
      shown: [The door, The board]
      do: [Sort one sack]
      signs_off: inducted
      takes: 60 min
"""


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small shop's export, built by plain MkDocs with a theme of its own."""
    folder = tmp_path_factory.mktemp("plain")
    shop = lay_out(folder / "bench", {"roles": ROLES}) / "content" / "shop"
    words = ["export", str(folder / "docs"), "--shop", str(shop), "--as-of", "2026-10-21"]
    run = CliRunner().invoke(main, words)
    assert run.exit_code == 0, run.output
    config = {
        "site_name": "Plain",
        "theme": "mkdocs",
        "use_directory_urls": False,
        "extra_css": [*PLAIN_SHEETS],
        "plugins": [],
    }
    (folder / "mkdocs.yml").write_text(yaml.safe_dump(config), encoding="utf-8")
    built = build(folder)
    assert built.status == 0, built.said
    return built.site


@pytest.fixture
def visits(browser: Browser, plain: Path) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": PHONE, "height": 800})
    page = context.new_page()
    page.goto((plain / "onboarding" / "keeper.html").as_uri())
    yield page
    context.close()


def test_ticks_stay_and_are_counted(visits: Page) -> None:
    assert visits.locator("[data-ticks-all]").inner_text() == "0 of 3 done"
    visits.locator("[data-tick]").nth(1).check()
    visits.reload()
    assert visits.locator("[data-tick]").nth(1).is_checked()
    assert visits.locator("[data-ticks-all]").inner_text() == "1 of 3 done"


def test_a_page_is_printed_by_its_button(visits: Page) -> None:
    visits.evaluate("window.print = () => { document.title = 'printed' }")
    visits.locator("[data-print]").click()
    assert visits.title() == "printed"
