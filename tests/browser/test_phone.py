"""A page of every kind on a phone, in the shop's language and in one with longer words.

Where ``PICTURES`` names a folder, a picture of each is left there to be looked at.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.test_handbook import one_of_every_kind
from tests.building import build_demonstration, copy_demonstration, read_config, write_config

pytestmark = pytest.mark.browser

PHONE = 390
CLIPPED = """() => {
  const wide = document.documentElement.clientWidth;
  const shown = e => e.checkVisibility({opacityProperty: true, visibilityProperty: true});
  // what is there for a screen reader alone is a pixel wide, and what scrolls is meant to
  const spared = e => e.closest("svg, .scroll, [hidden]") || e.clientWidth <= 1;
  const found = [];
  const tell = (what, e, by) => found.push(
    `${what} by ${Math.round(by)}: ${e.outerHTML.replace(/\\s+/g, " ").slice(0, 100)}`);
  for (const e of document.querySelectorAll("article *, .strip *, .subjects *")) {
    if (!shown(e) || spared(e)) continue;
    const style = getComputedStyle(e);
    const words = [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim());
    if (!words) continue;
    if (style.overflowX !== "visible" && e.scrollWidth > e.clientWidth + 1)
      tell("cut", e, e.scrollWidth - e.clientWidth);
    if (style.overflowY !== "visible" && e.scrollHeight > e.clientHeight + 1)
      tell("cut below", e, e.scrollHeight - e.clientHeight);
    const box = document.createRange();
    box.selectNodeContents(e);
    const edge = Math.max(...[...box.getClientRects()].map(r => r.right), 0);
    if (edge > wide + 1) tell("past the edge", e, edge - wide);
    const cell = e.closest("td, th, dd, dt, .btn, summary, label, section");
    if (cell && cell !== e && !cell.closest(".scroll")) {
      const over = edge - cell.getBoundingClientRect().right;
      if (over > 2) tell("out of its box", e, over);
    }
  }
  for (const text of document.querySelectorAll("article svg text")) {
    const svg = text.ownerSVGElement;
    if (!shown(svg)) continue;
    const inner = text.getBoundingClientRect(), outer = svg.getBoundingClientRect();
    const over = Math.max(inner.right - outer.right, outer.left - inner.left,
      inner.bottom - outer.bottom, outer.top - inner.top);
    if (over > 2) tell("out of its drawing", text, over);
  }
  return found;
}"""


@pytest.fixture(scope="module")
def in_longer_words(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demonstration shop's handbook in the made-up language, whose words are longer."""
    folder = copy_demonstration(tmp_path_factory.mktemp("longer"))
    config = read_config(folder)
    settings = next(p["benchleaf"] for p in config["plugins"] if isinstance(p, dict))
    settings["language"] = "pseudo"
    write_config(folder, config)
    built = build_demonstration(folder / "site", folder)
    assert built.status == 0, built.said
    return built.site


@pytest.fixture
def phone(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": PHONE, "height": 844})
    yield context.new_page()
    context.close()


@pytest.mark.parametrize("words", ["own", "longer"])
def test_a_page_of_every_kind_fits_a_phone(
    words: str, phone: Page, request: pytest.FixtureRequest
) -> None:
    site: Path = request.getfixturevalue("handbook" if words == "own" else "in_longer_words")
    wide, clipped = [], {}
    for kind, address in one_of_every_kind(site).items():
        phone.goto((site / address).as_uri())
        phone.evaluate("document.fonts.ready")
        _leave_picture(phone, f"{kind}-{words}")
        if phone.evaluate("document.documentElement.scrollWidth") > PHONE:
            wide.append(address)
        if found := phone.evaluate(CLIPPED):
            clipped[address] = found
    assert wide == []
    assert clipped == {}


def _leave_picture(page: Page, name: str) -> None:
    if folder := os.environ.get("PICTURES"):
        page.screenshot(path=str(Path(folder) / f"{name}.png"), full_page=True)


def test_what_is_cut_or_sticks_out_is_found(phone: Page) -> None:
    """The search itself, on words that are cut and on words that are not."""
    page = "<article style='width:300px'>{}</article>"
    whole = "<p>Words that fit</p><div class='scroll' style='overflow:auto'><p>Long</p></div>"
    phone.set_content(page.format(whole))
    assert phone.evaluate(CLIPPED) == []
    cut = "<p style='width:60px;overflow:hidden;white-space:nowrap'>Words that do not fit</p>"
    out = "<p style='white-space:nowrap'>" + "Words far beyond the edge of a phone " * 4 + "</p>"
    drawn = "<svg width='50' height='20'><text y='15'>Words past a drawing</text></svg>"
    for bad, told in ((cut, "cut"), (out, "past the edge"), (drawn, "out of its drawing")):
        phone.set_content(page.format(bad))
        assert [line.split(" by")[0] for line in phone.evaluate(CLIPPED)] == [told]
