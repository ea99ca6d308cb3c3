"""The room's pages as a reader handles them: layers by touch, workings by link, all on paper."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page

from tests.browser.conftest import Open

pytestmark = pytest.mark.browser

FLOOR = "room/floor.html"
SHOWN = """() => [...document.querySelectorAll("svg g.layer")]
  .filter(g => g.checkVisibility() && g.getBoundingClientRect().width)
  .map(g => g.getAttribute("class").split("layer-")[1])"""


def shown(page: Page) -> set[str]:
    """The layers that can be seen."""
    return set(page.evaluate(SHOWN))


@pytest.mark.parametrize("width", [390, 1280])
def test_layers_switch_by_touch_without_a_script(read: Open, width: int) -> None:
    page = read(FLOOR, width, java_script_enabled=False, has_touch=True)
    assert shown(page) == {"escape", "narrow"}
    page.locator(".layers label", has_text="Sight").tap()
    page.locator(".layers label", has_text="Ways out").tap()
    assert shown(page) == {"narrow", "sight"}
    assert page.locator(".keys .layer-sight").first.is_visible()
    assert not page.locator(".keys .layer-escape").first.is_visible()


def test_paper_shows_the_layers_that_are_on_and_every_working(read: Open) -> None:
    page = read(FLOOR)
    page.locator(".layers label", has_text="Fire gear").click()
    page.emulate_media(media="print")
    assert shown(page) == {"escape", "narrow", "gear"}
    assert not page.locator(".layers").is_visible()
    formulas = page.locator(".working .formula")
    assert formulas.count() > 100
    assert all(f.bounding_box() for f in formulas.all()[::20])


def test_a_link_to_a_working_opens_it_and_no_other(read: Open) -> None:
    page = read("stations/band-saw.html", java_script_enabled=False)
    assert not read("room/power.html").locator("details[open]").count()
    with page.expect_navigation():
        page.locator(".figs div", has_text="Q8 Finishing").locator("a").click()
    opened = page.locator("details.working[open]")
    assert opened.count() == 1
    assert "Q8 Finishing" in opened.inner_text()
    assert page.locator("#w-power-circuit-finishing-load").is_visible()


def test_the_phone_gets_a_plan_of_its_own_size(read: Open) -> None:
    for width, kind in ((390, "narrow"), (1280, "wide")):
        plans = read(FLOOR, width).locator("figure.plan > svg")
        seen = [p.get_attribute("class") for p in plans.all() if p.is_visible()]
        assert seen == [kind]
