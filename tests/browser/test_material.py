"""The pages of material as a reader handles them: found by label, printed on one sheet."""

from __future__ import annotations

from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.browser.conftest import Open

pytestmark = pytest.mark.browser

SEEN = """() => [...document.querySelectorAll("[data-entry]")].filter(r => r.checkVisibility())
  .map(r => r.id)"""


def test_a_label_is_found_by_typing_it_and_leads_on_without_a_script(read: Open) -> None:
    page = read("material/batches.html")
    every = page.evaluate(SEEN)
    page.locator("[data-filter] input").fill("pd-147")
    seen = page.evaluate(SEEN)
    assert seen == ["b-pd-147", "b-bl-067"]  # itself, and the blend that went into it
    assert len(every) > 200
    page.locator("[data-filter] input").fill("wedge")
    assert 1 < len(page.evaluate(SEEN)) < len(every)
    bare = read("material/batches.html", java_script_enabled=False)
    assert not bare.locator("[data-filter]").is_visible()
    with bare.expect_navigation():
        bare.locator("#b-pd-147 td:first-child a").click()
    assert bare.url.endswith("door-wedge-made.html#b-pd-147")


def test_the_donors_sheet_prints_on_one_page(read: Open, tmp_path: Path) -> None:
    page = read("material/bringing.html", 1280)
    page.pdf(path=str(tmp_path / "sheet.pdf"), prefer_css_page_size=True)
    assert len(PdfReader(tmp_path / "sheet.pdf").pages) == 1


@pytest.mark.parametrize("width", [360, 820, 1280])
@pytest.mark.parametrize(
    "address",
    [
        "material/week.html", "material/storage.html", "material/batches.html",
        "material/batches/recall.html", "material/batches/sheet-river-made.html",
        "material/today.html", "material/bringing.html", "running/costs.html",
        "running/waste.html",
    ],
)  # fmt: skip
def test_nothing_scrolls_sideways(read: Open, address: str, width: int) -> None:
    page = read(address, width)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
