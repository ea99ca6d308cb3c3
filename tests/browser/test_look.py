"""What a reader sees and touches, on a phone, a tablet and a desk."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

from tests.browser.conftest import Open
from tests.browser.site import ADDRESSES

pytestmark = pytest.mark.browser

PHONE, TABLET, DESK = 390, 820, 1280
STATION = "stations/granulator.html"
BY_HAND = "notes/opening.html"

SMALL_TARGETS = """() => [...document.querySelectorAll("a, button, summary, input")]
  .filter(e => e.checkVisibility() && e.getClientRects().length)
  .filter(e => !e.closest(".hand p, .hand li"))  // a link among written words
  .map(e => [e, e.getBoundingClientRect(), getComputedStyle(e).display === "inline"])
  // a link inside a sentence is as wide as its word
  .filter(([e, r, inline]) => (r.width < 43.9 && !(inline && !e.closest("svg"))) || r.height < 43.9)
  .map(([e, r]) => `${e.outerHTML.slice(0, 80)} ${r.width} x ${r.height}`)"""


def violations(page: Page) -> list[str]:
    """Everything axe objects to, as rule and element."""
    found = Axe().run(page).response["violations"]
    return [f"{rule['id']}: {rule['nodes'][0]['html'][:120]}" for rule in found]


def search(page: Page, words: str) -> None:
    page.click("[data-find]")
    page.keyboard.type(words)
    page.wait_for_selector(".md-search-result__link")


@pytest.mark.parametrize(("width", "scheme"), [(PHONE, "light"), (DESK, "dark")])
@pytest.mark.parametrize("address", ADDRESSES)
def test_axe_finds_nothing(visit: Open, address: str, width: int, scheme: str) -> None:
    assert violations(visit(address, width, scheme)) == []


@pytest.mark.parametrize("width", [PHONE, DESK])
def test_axe_finds_nothing_in_the_open_finder(visit: Open, width: int) -> None:
    page = visit(STATION, width)
    search(page, "granulator")
    assert violations(page) == []


def test_axe_finds_nothing_in_the_panel_of_pages(visit: Open) -> None:
    page = visit(STATION, PHONE)
    page.click("details.pages > summary")
    assert violations(page) == []


@pytest.mark.parametrize("address", ADDRESSES)
def test_no_request_leaves_the_folder(visit: Open, address: str) -> None:
    page = visit(address)
    search(page, "granulator")
    assert page.requests  # type: ignore[attr-defined]
    assert [url for url in page.requests if not url.startswith("file:")] == []  # type: ignore[attr-defined]


def test_search_finds_a_page_from_the_folder(visit: Open) -> None:
    page = visit("index.html", PHONE)
    search(page, "crate label")
    page.keyboard.press("Enter")
    page.wait_for_url("**/stations/granulator.html**")


def test_escape_closes_the_finder_and_gives_the_focus_back(visit: Open) -> None:
    page = visit(STATION)
    search(page, "granulator")
    page.keyboard.press("Escape")
    assert not page.is_visible(".md-search__inner")
    assert page.evaluate("document.activeElement.matches('[data-find]')")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_first_visit_follows_the_system(visit: Open, scheme: str) -> None:
    paper = {"light": "rgb(251, 250, 246)", "dark": "rgb(20, 25, 29)"}
    page = visit(STATION, scheme=scheme)
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == paper[scheme]


def test_the_choice_of_dark_is_remembered(visit: Open) -> None:
    page = visit(STATION)
    page.click(".strip .scheme")
    page.goto(page.url.replace(STATION, "index.html"))
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(20, 25, 29)"
    assert page.get_attribute(".strip .scheme", "aria-pressed") == "true"


@pytest.mark.parametrize("width", [PHONE, DESK])
@pytest.mark.parametrize("address", [a for a in ADDRESSES if a != "emergency.html"])
def test_emergency_is_one_tap_away(visit: Open, address: str, width: int) -> None:
    page = visit(address, width)
    page.evaluate("scrollTo(0, document.body.scrollHeight)")
    page.click("a.urgent", timeout=2000)
    assert page.url.endswith("/emergency.html")


def test_the_open_finder_does_not_cover_the_emergency_button(visit: Open) -> None:
    page = visit(STATION, PHONE)
    page.evaluate("scrollTo(0, document.body.scrollHeight)")
    search(page, "granulator")
    page.wait_for_timeout(600)  # the theme holds the page behind the finder after 400 ms
    page.click("a.urgent", timeout=2000)
    assert page.url.endswith("/emergency.html")


@pytest.mark.parametrize("width", [PHONE, TABLET, DESK])
@pytest.mark.parametrize("address", ADDRESSES)
def test_what_is_touched_is_at_least_44_px(visit: Open, address: str, width: int) -> None:
    assert visit(address, width).evaluate(SMALL_TARGETS) == []


@pytest.mark.parametrize("width", [320, PHONE, TABLET, DESK])
@pytest.mark.parametrize("address", ADDRESSES)
def test_nothing_scrolls_sideways(visit: Open, address: str, width: int) -> None:
    page = visit(address, width)
    assert page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize(("width", "beside"), [(PHONE, False), (TABLET, True), (DESK, True)])
def test_a_heading_stands_in_the_margin_where_there_is_one(
    visit: Open, width: int, beside: bool
) -> None:
    page = visit(STATION, width)
    heading = page.locator("h2#steps").bounding_box()
    part = page.locator("h2#steps + .part").bounding_box()
    assert heading and part
    assert (heading["x"] + heading["width"] <= part["x"]) is beside
    assert (heading["y"] == part["y"]) is beside


@pytest.mark.parametrize(("width", "shown"), [(PHONE, "narrow"), (TABLET, "wide"), (DESK, "wide")])
def test_the_plan_is_drawn_again_for_a_phone(visit: Open, width: int, shown: str) -> None:
    page = visit("index.html", width)
    drawn = [name for name in ("wide", "narrow") if page.is_visible(f"svg.{name}")]
    assert drawn == [shown]


@pytest.mark.parametrize(
    ("address", "entry"), [(STATION, "Stations"), (BY_HAND, "Notes"), ("index.html", None)]
)
def test_the_strip_marks_where_one_is(visit: Open, address: str, entry: str | None) -> None:
    marked = visit(address).locator(".strip nav.entries a[aria-current]").all_inner_texts()
    assert marked == ([entry] if entry else [])


def test_a_section_shows_its_pages(visit: Open) -> None:
    subjects = visit(BY_HAND).locator("nav.subjects a")
    assert subjects.all_inner_texts() == ["Opening", "Closing"]
    assert subjects.locator("xpath=self::*[@aria-current]").all_inner_texts() == ["Opening"]


def test_the_title_block_closes_the_sheet(visit: Open) -> None:
    block = visit(STATION).locator("footer .titleblock div").all_inner_texts()
    assert [cell.split("\n")[-1] for cell in block] == [
        "Test shop, unit 4",
        "Station 4, Granulator",
        "ST-04",
        "16 April 2026",
    ]


def test_paper_shows_the_sheet_and_nothing_else(visit: Open) -> None:
    page = visit(STATION, DESK, "dark")
    page.emulate_media(media="print", color_scheme="dark")
    assert not page.is_visible(".strip")
    assert page.is_visible(".titleblock")
    assert page.is_visible("details.closed .inside"), "a closed working opens on paper"
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
    assert page.evaluate("getComputedStyle(document.body).color") == "rgb(27, 42, 52)"


def test_pages_work_without_a_script(visit: Open) -> None:
    page = visit(STATION, PHONE, java_script_enabled=False)
    page.click("details.pages > summary")
    page.click("details.pages a:has-text('Closing')")
    assert page.url.endswith("/notes/closing.html")
    assert not page.is_visible("[data-find]"), "what needs a script is not offered"


@pytest.mark.parametrize(
    ("moment", "says"),
    [
        ("2026-10-21T13:00:00", "Opens today at 14:00"),  # a Wednesday
        ("2026-10-21T14:00:00", "Open now, until 19:00"),
        ("2026-10-21T19:00:00", "Open on Wednesday"),
        ("2026-10-19T13:00:00", "Open on Wednesday"),  # a Monday
        ("2026-10-28T13:00:00", "Open on Wednesday"),  # a Wednesday in the break
    ],
)
def test_the_door_tells_today_by_the_readers_clock(visit: Open, moment: str, says: str) -> None:
    page = visit("emergency.html")
    page.clock.set_fixed_time(moment)
    page.goto(page.url.replace("emergency.html", "index.html"))
    assert page.inner_text(".door .big") == says


def test_the_type_is_our_own(visit: Open) -> None:
    page = visit(STATION)
    page.evaluate("document.fonts.ready")
    loaded = page.evaluate(
        "[...document.fonts].filter(f => f.status === 'loaded').map(f => f.weight)"
    )
    assert {"400", "700"} <= set(loaded)
