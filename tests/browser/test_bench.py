"""The blend bench in the hand: touched with gloves on, without a network, on paper and kept."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Page, expect

from generator.ground.report import as_terminal
from generator.shop.load import load_shop
from tests.browser.conftest import Open

pytestmark = pytest.mark.browser

PAGE = "material/bench.html"
PHONE, TABLET, DESK = 390, 820, 1280
WIDTHS = (PHONE, TABLET, DESK)


def polymer(page: Page, id_: str) -> Locator:
    return page.locator(f"label:has(input[value='{id_}'])")


def tile(page: Page, name: str) -> Locator:
    return page.locator("#bench-tiles .bench-tile").filter(has_text=re.compile(f"^{name}"))


def the_line(page: Page, begins: str) -> str:
    """The line for blends.yml, which is written when the finger rests."""
    expect(page.locator("#bench-yaml")).to_have_value(re.compile(f"^{begins}"))
    return page.locator("#bench-yaml").input_value()


def weights(page: Page) -> list[float]:
    """The grams of each line, as they are read."""
    texts = page.locator(".bench-weight").all_inner_texts()
    return [float(re.sub(r"[^\d.]", "", text)) for text in texts]


def river(page: Page) -> None:
    """Blue and white for door wedges, by fingertip."""
    page.select_option("#bench-product", "door-wedge")
    polymer(page, "pe-hd").tap()
    tile(page, "Blue").tap()
    tile(page, "White").tap()


@pytest.fixture
def bench(read: Open) -> Page:
    """The bench on a tablet, nothing touched yet."""
    return read(PAGE, TABLET, has_touch=True)


# --- by touch ----------------------------------------------------------------------------------


def test_two_flakes_make_a_recipe_that_adds_up(bench: Page) -> None:
    river(bench)
    bench.locator(".bench-step button").nth(1).tap()
    assert bench.locator(".bench-share").all_inner_texts() == ["66.7\u202f%", "33.3\u202f%"]
    total = float(re.sub(r"[^\d.]", "", bench.locator(".bench-sums .total dd").inner_text()))
    assert sum(weights(bench)) == pytest.approx(total, abs=0.001)
    assert total > 12 * 32.4  # twelve wedges, and what sprue and finishing take
    expect(bench.locator("#bench-swatch svg").first).to_be_visible()


def test_twice_the_shots_weigh_twice_as_much_but_for_the_purge(bench: Page) -> None:
    river(bench)
    once = sum(weights(bench))
    bench.locator("#bench-count input").fill("24")
    bench.locator("#bench-count input").press("Enter")
    purge = 0.0  # the press is not purged
    assert sum(weights(bench)) - purge == pytest.approx(2 * (once - purge), abs=0.2)


def test_a_step_of_pieces_is_a_whole_shot(bench: Page) -> None:
    bench.select_option("#bench-product", "door-wedge")
    bench.locator("#bench-count button").last.tap()
    assert bench.locator("#bench-count input").input_value() == "18"
    bench.locator("#bench-count input").fill("7")
    bench.locator("#bench-count button").first.tap()
    assert bench.locator("#bench-count input").input_value() == "6"


@pytest.mark.parametrize("width", WIDTHS)
def test_all_that_is_touched_is_large_enough_for_a_glove(read: Open, width: int) -> None:
    page = read(PAGE, width, has_touch=True)
    river(page)
    page.locator(".bench-others summary").tap()
    page.locator(".bench-line summary").tap()
    touched = page.locator(
        ".bench button, .bench select, .bench summary, .bench label:has(input), .bench-step input"
    )
    boxes = [(one.inner_text(), one.bounding_box()) for one in touched.all() if one.is_visible()]
    small = [(text, b) for text, b in boxes if b and (b["height"] < 55.5 or b["width"] < 51.5)]
    assert len(boxes) > 30
    assert small == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_a_dozen_flakes_still_fit_a_phone(read: Open) -> None:
    page = read(PAGE, PHONE, has_touch=True)
    for id_ in ("pp", "pe-hd"):
        polymer(page, id_).tap()
        for one in page.locator("#bench-tiles .bench-tile").all():
            one.tap()
    assert page.locator(".bench-lines > li").count() == 12
    page.locator(".bench-step input").first.fill("9999")
    page.locator(".bench-step input").first.press("Tab")
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE
    assert sum(weights(page)) > 0


# --- empty and refused -------------------------------------------------------------------------


def test_an_empty_bench_says_what_to_do_and_gives_nothing_out(bench: Page) -> None:
    expect(bench.locator("#bench-lines")).to_contain_text("Touch a flake to begin")
    for id_ in ("print", "text", "data"):
        expect(bench.locator(f"#bench-{id_}")).to_be_disabled()


@pytest.mark.parametrize(("id_", "says"), [("pvc", "hydrogen chloride"), ("unknown", "7")])
def test_what_is_never_heated_takes_every_gram_away(bench: Page, id_: str, says: str) -> None:
    river(bench)
    bench.locator(".bench-others summary").tap()
    polymer(bench, id_).tap()
    bench.locator("#bench-tiles .bench-tile").first.tap()
    expect(bench.locator("#bench-cautions .refusal")).to_have_text("Refused: do not make it.")
    expect(bench.locator("[data-caution=never-heated]")).to_contain_text(says)
    assert set(bench.locator(".bench-weight").all_inner_texts()) == {"–"}
    assert bench.locator("#bench-swatch svg").count() == 0
    expect(bench.locator("#bench-print")).to_be_disabled()
    bench.locator("li.never .bench-away").tap()
    expect(bench.locator("#bench-cautions .refusal")).to_have_count(0)
    assert sum(weights(bench)) > 0


def test_strangers_and_want_are_told_at_once(bench: Page) -> None:
    river(bench)
    polymer(bench, "ps").tap()
    tile(bench, "Black").tap()
    bench.locator("#bench-count input").fill("9000")
    bench.locator("#bench-count input").press("Tab")
    keys = bench.locator("[data-caution]").evaluate_all("all => all.map(c => c.dataset.caution)")
    assert {"mixture", "short"} <= set(keys)
    expect(polymer(bench, "pp")).to_contain_text("in >PE-HD<")


# --- without a network, a store or a script ----------------------------------------------------


def test_nothing_is_asked_of_anybody(bench: Page) -> None:
    river(bench)
    bench.select_option("#bench-recipe", "pp-slate")
    assert all(url.startswith(("file:", "data:", "blob:")) for url in bench.requests)  # type: ignore[attr-defined]


def test_the_bench_is_as_it_was_left(bench: Page) -> None:
    river(bench)
    bench.locator("#bench-name").fill("Ice going out")
    before = weights(bench)
    bench.reload()
    assert weights(bench) == before
    assert bench.locator("#bench-name").input_value() == "Ice going out"
    bench.locator("#bench-again").tap()
    bench.reload()
    expect(bench.locator("#bench-lines")).to_contain_text("Touch a flake")


@pytest.mark.parametrize(
    "kept",
    ['"', "7", '{"recipe":{"flakes":[{"polymer":"gone","colour":"x","parts":3}]}}',
     '{"recipe":{"flakes":[{"polymer":"pp","colour":"grey","parts":-4},null],"product":"gone",'
     '"machine":"gone","count":"x","mixes":3,"stirred":[{"consumable":"gone"}]}}'],
)  # fmt: skip
def test_whatever_was_kept_the_bench_opens(bench: Page, kept: str) -> None:
    """The shop may have changed since, or somebody else may have written there."""
    bench.evaluate("kept => localStorage.setItem('benchleaf.bench', kept)", kept)
    failed: list[str] = []
    bench.on("pageerror", lambda error: failed.append(str(error)))
    bench.reload()
    river(bench)
    assert failed == [] and min(weights(bench)) > 0


def test_the_bench_works_where_storage_is_refused(read: Open) -> None:
    page = read("index.html", TABLET, has_touch=True)
    page.add_init_script(
        "Object.defineProperty(window, 'localStorage', {get() { throw new Error('refused') }})"
    )
    page.goto(page.url.replace("index.html", PAGE))
    river(page)
    assert sum(weights(page)) > 0


def test_without_a_script_the_page_leads_to_the_written_recipes(read: Open) -> None:
    page = read(PAGE, PHONE, java_script_enabled=False)
    expect(page.locator("#bench")).to_be_hidden()
    expect(page.locator("#bench-without")).to_be_visible()
    expect(page.locator("article .ways a[href$='blends/hd-river.html']")).to_be_visible()


# --- by keyboard and by ear --------------------------------------------------------------------


def test_a_recipe_is_made_by_keyboard_alone(read: Open) -> None:
    page = read(PAGE, DESK)
    page.locator("input[name=bench-polymer]").first.focus()
    page.keyboard.press("ArrowDown")
    for _stop in range(12):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.classList.contains('bench-tile')"):
            break
    page.keyboard.press("Space")
    assert page.evaluate("document.activeElement.getAttribute('aria-pressed')") == "true"
    step = page.locator(".bench-step input").first
    step.focus()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert step.input_value() == "2"
    page.locator(".bench-away").first.press("Enter")
    assert page.evaluate("document.activeElement.id") == "bench-grams"


def test_what_changes_is_said_once(bench: Page) -> None:
    river(bench)
    expect(bench.locator("#bench-status")).to_have_text(re.compile(r"^\d+\sg in the pan"))
    names = bench.locator(".bench button").evaluate_all(
        "all => all.filter(b => !(b.getAttribute('aria-label') || b.textContent).trim()).length"
    )
    assert names == 0


# --- to keep -----------------------------------------------------------------------------------


def test_the_line_is_a_recipe_the_shop_can_read(bench: Page, tmp_path: Path) -> None:
    """Pasted into blends.yml it loads, and its shares are those on the bench."""
    river(bench)
    bench.locator("#bench-stirred .bench-tile").first.tap()
    bench.locator("#bench-name").fill('Fjord: "no" 3 # é')
    line = the_line(bench, "fjord-no-3-e")
    shutil.copytree("content/shop", tmp_path / "shop")
    blends = tmp_path / "shop" / "blends.yml"
    blends.write_text(f"{blends.read_text(encoding='utf-8')}\n{line}\n", encoding="utf-8")
    loaded = load_shop(tmp_path / "shop")
    assert loaded.shop is not None, as_terminal(loaded.findings, colour=False)
    made = loaded.shop.blends[line.partition(":")[0]]
    shares = [part.share_percent for part in made.parts]
    shares += [additive.share_percent for additive in made.additives]
    assert str(made.name) == 'Fjord: "no" 3 # é'
    assert sum(shares) == pytest.approx(100)
    assert shares[0] == pytest.approx(shares[1], abs=0.011)


def test_a_taken_id_is_not_taken_twice(bench: Page) -> None:
    river(bench)
    bench.locator("#bench-name").fill("HD river")
    assert the_line(bench, "hd-river-2").startswith("hd-river-2: {")


def test_a_written_recipe_opens_as_it_stands_and_loses_its_name_when_changed(bench: Page) -> None:
    bench.select_option("#bench-recipe", "pp-slate")
    assert bench.locator(".bench-share").all_inner_texts() == [
        "45\u202f%",
        "30\u202f%",
        "25\u202f%",
    ]
    assert bench.locator("#bench-name").input_value() == "Slate"
    bench.locator(".bench-step button").nth(1).tap()
    assert bench.locator("#bench-name").input_value() == ""
    assert bench.locator("#bench-recipe").input_value() == ""


def test_a_recipe_is_opened_from_its_own_page(read: Open) -> None:
    page = read("blends/pp-rust.html", TABLET)
    page.locator("a[href*='bench.html?recipe=']").click()
    expect(page.locator("#bench-recipe")).to_have_value("pp-rust")
    assert page.locator(".bench-share").all_inner_texts() == ["55\u202f%", "45\u202f%"]


def test_the_picture_of_a_written_recipe_is_the_one_on_its_page(read: Open) -> None:
    page = read(PAGE, TABLET)
    page.select_option("#bench-recipe", "hd-river")
    chips = "all => all.map(p => [p.getAttribute('fill'), p.getAttribute('d').split('Z').length])"
    mine = page.locator("#bench-swatch figure").first.locator("path").evaluate_all(chips)
    other = read("blends/hd-river.html", TABLET)
    theirs = other.locator(".swatches figure").first.locator("path").evaluate_all(chips)
    assert sorted(mine) == sorted(theirs) and len(mine) == 6


def test_the_card_is_given_out_as_text_and_as_data(bench: Page, tmp_path: Path) -> None:
    river(bench)
    given = {}
    for id_ in ("text", "data"):
        with bench.expect_download() as got:
            bench.locator(f"#bench-{id_}").tap()
        got.value.save_as(tmp_path / id_)
        given[id_] = (tmp_path / id_).read_text(encoding="utf-8")
    data = json.loads(given["data"])
    assert [row["grams"] for row in data["grams"]] == weights(bench)
    assert "12 × Door wedge" in given["text"] and data["blends_yml"] in given["text"]


def test_only_the_card_is_printed(bench: Page) -> None:
    river(bench)
    bench.evaluate("window.dispatchEvent(new Event('beforeprint'))")
    bench.emulate_media(media="print")
    expect(bench.locator("#bench-card")).to_be_visible()
    for hidden in (".bench-sheet", ".strip", "#bench-foot", "article .ways"):
        assert not bench.locator(hidden).first.is_visible()
    card = bench.locator("#bench-card").inner_text()
    assert "12 × Door wedge" in card and "High-density polyethylene Blue" in card
    width = bench.locator("#bench-card").evaluate("card => card.getBoundingClientRect().width")
    assert width == pytest.approx(148 / 25.4 * 96, abs=1)
