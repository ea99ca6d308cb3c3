"""The blend bench works out in the browser what the workings do in Python, to the last tenth."""

from __future__ import annotations

import json
import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser

from generator.ground.resources import resource
from generator.handbook.bench import tables
from generator.shop.load import load_shop
from generator.shop.shop import Shop
from generator.workings import moulding
from generator.workings.blends.colour import CELLS, swatch_chips, swatch_tones
from generator.workings.blends.trying import Draft, Tried, Tries
from generator.workings.flow.making import Makings
from tests.workings.bench_shop import bench_shop

pytestmark = pytest.mark.browser

SCRIPT = resource("site_config") / "assets" / "js" / "bench-work.js"
EACH = 400
"""Recipes tried in each of the two shops."""


@dataclass(frozen=True)
class Both:
    """One recipe, worked out by both."""

    draft: Draft
    ours: Tried
    theirs: dict[str, Any]


def drafts(shop: Shop, machines: list[str], count: int) -> Iterator[Draft]:
    """Recipes of one to four flakes, with and without what is stirred in; always the same ones."""
    dice = random.Random(20260302)
    lots = [(p.id, colour) for p in shop.polymers.values() for colour in (p.colours or ("",))]
    mild = [lot for lot in lots if shop.polymers[lot[0]].status == "taken"]
    stirred = [r.id for r in shop.consumables.values() if r.kind == "masterbatch"]
    for n in range(count):
        wide = lots if dice.random() < 0.35 else mild
        if dice.random() < 0.4:  # colours of one polymer, which is what people mix
            wide = [lot for lot in mild if lot[0] == dice.choice(mild)[0]] or mild
        picked = dice.sample(wide, min(len(wide), dice.randint(1, 4)))
        also = dice.sample(stirred, dice.choice((0, 0, 1, 2)) if len(stirred) > 1 else 0)
        product = dice.choice([*shop.products, ""])
        fits = shop.moulds[shop.products[product].mould].machines if product else machines
        yield Draft(
            flakes=tuple((p, c, dice.randint(1, 20)) for p, c in picked),
            stirred=tuple((id_, dice.choice((0.5, 1, 2, 2.5, 4, 6, 12))) for id_ in also),
            product=product, count=dice.choice((0, 1, 2, 5, 12, 60, 1000)),
            grams=dice.choice((0.0, 0.1, 33.3, 500.0, 12_345.6)),
            machine=dice.choice([*fits, *fits, *machines, ""]),
            mixes=dice.choice(("speckle", "melt")), seed=f"seed {n % 7}é",
        )  # fmt: skip


def as_recipe(draft: Draft) -> dict[str, Any]:
    """The draft as the page holds it."""
    return {
        "flakes": [{"polymer": p, "colour": c, "parts": n} for p, c, n in draft.flakes],
        "stirred": [{"consumable": id_, "share": share} for id_, share in draft.stirred],
        "product": draft.product, "count": draft.count, "grams": draft.grams,
        "machine": draft.machine, "mixes": draft.mixes, "seed": draft.seed,
    }  # fmt: skip


def both(browser: Browser, shop: Shop, found: list[Draft]) -> list[Both]:
    study = moulding.study(shop)
    tries = Tries(shop, Makings(shop, study.kit), study.matrix)
    data = json.loads(json.dumps(tables(shop, study.kit, study.matrix)))
    page = browser.new_page()
    page.add_script_tag(path=str(SCRIPT))
    theirs = page.evaluate(
        "([recipes, tables]) => recipes.map(recipe => benchWork.work(recipe, tables))",
        [[as_recipe(draft) for draft in found], data],
    )
    page.close()
    return [Both(d, tries.work(d), t) for d, t in zip(found, theirs, strict=True)]


@pytest.fixture(scope="module")
def worked(browser: Browser) -> list[Both]:
    """Every recipe of both shops."""
    shown = load_shop(Path("content/shop")).shop
    assert shown is not None
    pairs = []
    for shop in (shown, bench_shop()):
        machines = [m.id for m in shop.machines.values() if m.process in ("injection", "press")]
        pairs += both(browser, shop, list(drafts(shop, machines, EACH)))
    return pairs


def close(one: float | None, other: float | None) -> bool:
    """The same figure but for the last digits of a double, or neither known."""
    if one is None or other is None:
        return one is other
    return bool(one == pytest.approx(other, rel=1e-9, abs=1e-9))


def cautions(pair: Both) -> bool:
    ours = [(c.key, str(c.severity), c.says) for c in pair.ours.cautions]
    return ours == [(c["key"], c["severity"], c["says"]) for c in pair.theirs["cautions"]]


def refused(pair: Both) -> bool:
    return bool(pair.ours.refused == pair.theirs["refused"])


def grams(pair: Both) -> bool:
    if pair.ours.recipe is None and pair.ours.refused:
        return "shots" not in pair.theirs
    theirs = pair.theirs["lines"]
    same = [close(i.grams, line["grams"]) for i, line in zip(pair.ours.lines, theirs, strict=True)]
    return all(same) and list(pair.ours.tenths) == [line["tenths"] for line in theirs]


def mass(pair: Both) -> bool:
    recipe, theirs = pair.ours.recipe, pair.theirs
    if recipe is None:
        return close(pair.ours.total_g, theirs["total"])
    return (
        (recipe.shots, recipe.makes) == (theirs["shots"], theirs["makes"])
        and close(recipe.parts_g, theirs["parts"])
        and close(recipe.sprue_g, theirs["sprue"])
        and close(recipe.purge_g, theirs["purge"])
        and close(recipe.total_g, theirs["total"])
    )


def volume(pair: Both) -> bool:
    theirs = pair.theirs
    return close(pair.ours.density_kgm3, theirs["density"]) and close(
        pair.ours.volume_cm3, theirs["volume"]
    )


def colour(pair: Both) -> bool:
    ours, theirs = pair.ours.look, pair.theirs["look"]
    if ours is None or theirs is None:
        return ours is theirs
    shares = [(part["hex"], part["share"]) for part in theirs["parts"]]
    return (
        list(map(close, ours.light, theirs["light"])) == [True] * len(theirs["light"])
        and ours.speckle == theirs["speckle"]
        and ours.melt == theirs["melt"]
        and ours.shown == theirs["shown"]
        and close(ours.melt_reflectance, theirs["reflectance"])
        and ours.why_not == theirs["whyNot"]
        and [h for h, _s in ours.parts] == [h for h, _s in shares]
        and all(close(a[1], b[1]) for a, b in zip(ours.parts, shares, strict=True))
    )  # fmt: skip


def swatch(pair: Both) -> bool:
    if pair.ours.look is None or pair.ours.look.swatch is None:
        return not (pair.theirs["look"] or {}).get("swatch")
    return bool(list(pair.ours.look.swatch.parts) == pair.theirs["look"]["swatch"])


@pytest.mark.parametrize("same", [cautions, refused, grams, mass, volume, colour, swatch])
def test_both_agree(worked: list[Both], same: Callable[[Both], bool]) -> None:
    apart = [pair for pair in worked if not same(pair)]
    assert not apart, f"{len(apart)} of {len(worked)}, first {apart[0]}"


def test_the_recipes_tried_are_worth_trying(worked: list[Both]) -> None:
    """Every caution that can be met is met, refusals are many and so is what is weighed."""
    keys = {caution.key for pair in worked for caution in pair.ours.cautions}
    assert keys >= {
        "never-heated", "wet", "window", "mixture", "unknown-pair", "paused", "refused", "short",
        "not-counted", "letdown", "no-density", "other-host", "not-set-up", "no-setting",
        "above-window", "below-window", "too-cold", "shrinkage", "shot", "clamp", "platen",
    }  # fmt: skip
    stopped = sum(pair.ours.refused for pair in worked)
    assert 150 < stopped < len(worked) - 150
    assert sum(bool(pair.ours.look and pair.ours.look.melt) for pair in worked) > 50


REFUSED = {
    "PVC at any share": (("hd", "natural", 99), ("pvc", "natural", 1)),
    "POM with PVC": (("pom", "natural", 1), ("pvc", "natural", 1)),
    "a 7 without a mark": (("seven", "natural", 1),),
    "two marks that differ": (("doubtful", "natural", 1),),
    "flame-retarded housings": (("abs", "natural", 5), ("housings", "black", 1)),
    "what drinks water and cannot be dried": (("pla", "natural", 1),),
}


@pytest.mark.parametrize("flakes", REFUSED.values(), ids=REFUSED)
def test_nothing_is_weighed_of_what_is_refused(
    browser: Browser, flakes: tuple[tuple[str, str, int], ...]
) -> None:
    for machine in ("injector", ""):
        (pair,) = both(browser, bench_shop(), [Draft(flakes, grams=500.0, machine=machine)])
        assert pair.ours.refused and pair.theirs["refused"] and cautions(pair)
        assert pair.ours.lines == () and pair.ours.total_g == 0 == pair.theirs["total"]
        assert pair.theirs["look"] is None and "tenths" not in pair.theirs["lines"][0]


def test_pom_with_pvc_says_what_the_two_do(browser: Browser) -> None:
    (pair,) = both(browser, bench_shop(), [Draft(REFUSED["POM with PVC"], grams=1.0)])
    said = [caution["says"] for caution in pair.theirs["cautions"]]
    assert any("POM with PVC" in words for words in said) and len(said) == 3


def test_chips_are_those_of_the_workings(browser: Browser) -> None:
    page = browser.new_page()
    page.add_script_tag(path=str(SCRIPT))
    chips, tones = page.evaluate(f"[benchWork.chips({CELLS}), benchWork.tones({CELLS})]")
    page.close()
    assert tones == list(swatch_tones(CELLS))
    assert chips == [[list(corner) for corner in chip] for chip in swatch_chips(CELLS)]
