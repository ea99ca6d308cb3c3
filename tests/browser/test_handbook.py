"""The demonstration shop's handbook, opened from its folder as a reader would."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page

from tests.browser.conftest import Open
from tests.browser.test_look import DESK, PHONE, TABLET, search, violations

pytestmark = pytest.mark.browser

KIND = re.compile(r'<article class="md-typeset (?:generated kind-(\w[\w-]*)|(hand))"')

SMALL_PHONE = 360
"""Nothing may scroll sideways here either; a plan is too small for a finger, its list is not."""

# Numbers on a plan share the room between neighbours; each has its full 44 px in a list as well.
SMALL_IN_A_DRAWING = 40
SMALL_TARGETS = """least => [...document.querySelectorAll("a, button, summary, input")]
  .filter(e => e.checkVisibility() && e.getClientRects().length && !e.closest(".hand p, .hand li"))
  .map(e => e.matches("label input") ? e.closest("label") : e)  // the whole label is touched
  .map(e => [e, e.getBoundingClientRect(), e.closest("svg") ? least : 43.9])
  .filter(([e, r, least]) => r.height < least ||
    (r.width < least && (e.closest("svg") || getComputedStyle(e).display !== "inline")))
  .map(([e, r]) => `${e.outerHTML.slice(0, 80)} ${r.width} x ${r.height}`)"""


def addresses(handbook: Path) -> list[str]:
    """Every page; a session's board stands alone in a file of its own and has its own tests."""
    return sorted(
        path.relative_to(handbook).as_posix()
        for path in handbook.rglob("*.html")
        if path.name != "404.html" and not path.name.endswith("-board.html")
    )


def one_of_every_kind(handbook: Path) -> dict[str, str]:
    """The longest page of each kind: it has the most to go wrong."""
    found: dict[str, str] = {}
    for address in sorted(addresses(handbook), key=lambda a: (handbook / a).stat().st_size):
        kind = KIND.search((handbook / address).read_text(encoding="utf-8"))
        assert kind, address
        found[kind[1] or kind[2]] = address
    return found


def test_every_kind_of_page_is_there(handbook: Path) -> None:
    wanted = {"door", "emergency", "station", "machine", "polymer", "container", "mould", "blend"}
    wanted |= {"procedure", "role", "hazards", "glossary", "card", "findings"}
    wanted |= {"due", "upkeep", "stores", "stages", "stage", "made", "assessment", "onboarding"}
    assert wanted - set(one_of_every_kind(handbook)) == set()


@pytest.mark.parametrize(("width", "scheme"), [(PHONE, "light"), (DESK, "dark")])
def test_axe_finds_nothing_on_a_page_of_every_kind(
    read: Open, handbook: Path, width: int, scheme: str
) -> None:
    page = read("index.html", width, scheme)
    found = {}
    for kind, address in one_of_every_kind(handbook).items():
        page.goto((handbook / address).as_uri())
        found[kind] = violations(page)
    assert {kind: faults for kind, faults in found.items() if faults} == {}


def test_no_page_scrolls_sideways_or_asks_for_a_fine_finger(read: Open, handbook: Path) -> None:
    page = read("index.html")
    wide, small = [], {}
    for address in addresses(handbook):
        page.goto((handbook / address).as_uri())
        for width in (SMALL_PHONE, PHONE, TABLET, DESK):
            page.set_viewport_size({"width": width, "height": 800})
            if page.evaluate("document.documentElement.scrollWidth") > width:
                wide.append((address, width))
            found = width != SMALL_PHONE and page.evaluate(SMALL_TARGETS, SMALL_IN_A_DRAWING)
            if found:
                small[address, width] = found
    assert wide == []
    assert small == {}
    assert [url for url in page.requests if not url.startswith("file:")] == []  # type: ignore[attr-defined]


def _tap(page: Page, selector: str) -> None:
    with page.expect_navigation():
        page.locator(selector).locator("visible=true").first.click()


@pytest.mark.parametrize("width", [PHONE, DESK])
def test_the_granulators_card_is_two_taps_from_the_door(read: Open, width: int) -> None:
    page = read("index.html", width)
    _tap(page, ".legend a:has-text('Granulator')")
    _tap(page, "a:has-text('Card to print')")
    assert page.locator(".card-sheet > svg").bounding_box()


def test_a_number_on_the_plan_opens_its_station(read: Open) -> None:
    page = read("index.html", DESK)
    _tap(page, "figure.plan a:has(title:text-matches('Granulator'))")
    assert "/stations/" in page.url


def test_search_finds_a_station_from_the_folder(read: Open) -> None:
    page = read("index.html", PHONE)
    search(page, "granulator")
    _tap(page, ".md-search-result__link")
    assert "granulator" in page.content().lower()


def test_a_card_prints_on_one_sheet(read: Open, tmp_path: Path, handbook: Path) -> None:
    card = next((handbook / "cards").glob("*.html"))
    page = read(card.relative_to(handbook).as_posix())
    page.pdf(path=str(tmp_path / "card.pdf"), prefer_css_page_size=True)
    pages = re.findall(rb"/Type\s*/Page\b", (tmp_path / "card.pdf").read_bytes())
    assert len(pages) == 1
