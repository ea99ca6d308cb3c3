"""The demonstration shop's own answers: what limits the week, how many crates, what to make."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache

import pytest

from generator.ground.finding import Finding, Severity
from generator.ground.resources import resource
from generator.ground.working import Verdict
from generator.shop.load import load_shop
from generator.shop.shop import Shop
from generator.workings import material
from generator.workings.flow.mass import PLACE_WORDS, SINKS, SOURCES
from generator.workings.moulding.matrix import Fit
from tests.workings.hall import found


@cache
def shop() -> Shop:
    loaded = load_shop(resource("content") / "shop")
    assert loaded.shop is not None
    return loaded.shop


@cache
def study() -> material.MaterialStudy:
    return material.study(shop())


@cache
def findings() -> tuple[Finding, ...]:
    return tuple(f for made in study().surveys for f in made.findings)


# --- what limits us this week ------------------------------------------------------------------


def test_the_granulator_limits_the_week_and_the_hot_side_hands_come_next() -> None:
    """Flake hands are on the rota for 24 h in seven weeks, and 16.7 kg of lots as small as they
    are want more; the press and the plunger want more of the hot-side hands than there is."""
    week = study().flow
    first, second = week.limits.ranked[:2]
    assert (first.subject, second.subject) == ("machines/granulator", "roles/hot-hand")
    assert first.have_h == pytest.approx(24 / 7)
    assert [limit.over for limit in week.limits.ranked[:3]] == [True, True, False]
    assert week.says.startswith("Granulator limits the week: ")
    granulator = next(f for f in findings() if f.subject == "machines/granulator")
    assert "Put Flake hand on the rota" in granulator.mend


def test_the_machines_are_wanted_for_about_as_long_as_the_shop_says_they_run() -> None:
    """The shop wrote its running hours down by itself; the flow works them out."""
    for machine in ("platen-press", "plunger-injector", "screw-injector"):
        hours = study().flow.hours.of(machine)
        written = shop().machines[machine].runs_per_week_h
        assert hours is not None and written is not None
        assert hours.run_h + hours.change_h == pytest.approx(written, rel=0.3), machine


def test_polypropylene_fills_up_first() -> None:
    levels = {level.polymer: level for level in study().flow.stores}
    assert levels["pp"].now_kg == pytest.approx(103)  # the last count
    weeks = {id_: level.full_in for id_, level in levels.items() if level.full_in is not None}
    assert min(weeks, key=lambda id_: weeks[id_]) == "pp"
    assert 3 < weeks["pp"] < 5


def test_nothing_is_lost_on_the_way() -> None:
    masses = study().flow.masses
    for place in PLACE_WORDS:
        if place not in SOURCES | SINKS:
            assert masses.into(place) == pytest.approx(masses.out_of(place))
    assert masses.open_kg == pytest.approx(0, abs=1e-9)
    logged = sum(row.kg for row in shop().logs.weigh_ins) / 12  # weeks, without the autumn break
    assert masses.out_of("donated") == pytest.approx(logged)


def test_losses_are_measured_where_there_are_rows_for_it() -> None:
    bases = Counter(loss.basis for s in study().flow.week.sources for loss in s.losses)
    assert bases["measured"] > bases["tabled"] > 0
    nursery = next(
        s for s in study().flow.week.sources if (s.donor, s.polymer) == ("plant-nursery", "pp")
    )
    kitchen = next(s for s in study().flow.week.sources if s.donor == "school-kitchen")
    # soil is baked into pots, and a kitchen's tubs come rinsed
    assert nursery.losses[0].share > 4 * kitchen.losses[0].share  # type: ignore[operator]


# --- how many crates and labels ----------------------------------------------------------------


def test_crates_and_labels_of_each_kind() -> None:
    kinds = {k.container.id: k for k in study().storage.kinds}
    counted = Counter[str]()
    for row in shop().logs.stock:
        if row.date.isoformat() == "2026-11-21":
            counted[row.container] += row.count
    for id_ in ("flake-crate", "flake-pail", "sorted-crate", "film-sack"):
        assert kinds[id_].now == counted[id_], id_
    assert study().storage.labels_standing == sum(counted.values())
    assert all(kind.labels for kind in kinds.values())
    assert {f.subject for f in found(findings(), "storage.too-few")} == {
        "containers/sorted-crate", "containers/product-tray",
    }  # fmt: skip


def test_the_crates_that_were_counted_are_the_crates_that_the_figures_ask_for() -> None:
    """Whoever counted filled each as the bulk densities and the line inside say."""
    for need in study().storage.lots:
        assert need.counted == need.fewest, (need.polymer, need.colour, need.condition)


def test_the_racking_holds_what_is_there_and_not_what_the_limits_allow() -> None:
    racking = next(u for u in study().storage.shelves if u.station == "flake-racking")
    assert racking.places["flake-crate"] == 24
    assert racking.need_mm["now"] == 21 * 400 + 2 * 150
    assert racking.left["flake-crate"] == 2
    assert [f.subject for f in found(findings(), "storage.limits")] == ["containers/flake-crate"]


def test_nothing_is_heavier_than_one_person_lifts() -> None:
    weights = {w.container.id: w for w in study().storage.weights}
    assert weights["flake-crate"].full_kg == pytest.approx(14.5)
    assert not any(w.too_heavy for w in weights.values())
    assert weights["flake-crate"].lift.origin == shop().shop.limits.origin_of("lift_kg")


def test_one_doubtful_box_waits_and_leaves_in_time() -> None:
    kept = study().storage.quarantine
    assert (kept.places, kept.free) == (8, 7)
    [waiting] = kept.waiting
    assert (waiting.batch.batch, waiting.leave_by.isoformat()) == ("QU-012", "2026-12-05")
    assert study().storage.paused == frozenset()


# --- what can be made today --------------------------------------------------------------------


def test_the_best_use_of_the_stock_comes_first() -> None:
    """Proven, wanted and out of the fullest store."""
    first = study().blends.today[0]
    assert first.cell.fit is Fit.PROVEN and first.wanted
    assert {part.polymer for part in first.blend.parts} == {"pp"}
    recipe = study().blends.bench.recipe(first.product, first.blend, first.in_an_opening)
    assert recipe.short == ()
    for possible in study().blends.today:
        assert possible.pieces >= possible.wanted


def test_twelve_coasters_in_flint() -> None:
    """Three shots of four of 34.6 g, before 2 % is hooked off, with 5 cm³ of flash beside."""
    bench = study().blends.bench
    recipe = bench.recipe(shop().products["coaster"], shop().blends["hd-flint"], 12)
    assert recipe.shots == 3
    each = 4 * 34.6 / 0.98 + 5 * 0.955
    assert recipe.total_g == pytest.approx(3 * each)
    grams = [i.grams for i in recipe.ingredients]
    assert grams == pytest.approx([0.85 * 3 * each, 0.15 * 3 * each])


def test_blends_that_cannot_be_previewed_say_why() -> None:
    dark = {id_: p.why_not for id_, p in study().blends.previews.items() if not p.shown}
    assert set(dark) == {"pp-mint", "pp-coal", "ps-smoke"}
    assert all(dark.values())


# --- the rest ----------------------------------------------------------------------------------


def test_a_marker_is_traced_to_its_sources() -> None:
    trail = study().trail.trail
    product = next(b for b in shop().logs.batches if b.batch == "PD-148")
    history = trail.back(product.batch)
    assert {h.batch.step for h in history.held} >= {"blend", "flake", "washed", "sorted"}
    assert [b.donor for b in history.brought] == ["cleaning-firm"]
    recall = trail.recall_source("cleaning-firm")
    assert product.batch in {h.batch.batch for h in recall.products}
    assert all(f.severity is Severity.NOTE for f in study().trail.survey.findings)


def test_the_wing_drain_is_to_be_mended() -> None:
    [screen] = found(findings(), "waste.screen")
    assert screen.subject == "room/water/wing-drain"
    assert {f.asks for f in findings() if f.severity is Severity.ASK} == {
        "water", "waste", "insurer",
    }  # fmt: skip


def test_stages_keep_to_their_budgets_and_products_pay() -> None:
    made = study().costs
    assert [s.stage.id for s in made.stages if s.stage] == list(shop().stages)
    assert all(s.left is not None and s.left > 0 for s in made.stages if s.stage)
    assert all(p.left is None or p.left > 0 for p in made.products)
    sheet = next(p for p in made.products if p.product.id == "sheet-river")
    assert sheet.plastic > 10 * next(
        p.plastic for p in made.products if p.product.id == "plant-marker"
    )  # it weighs 300 times as much


def test_every_working_and_finding_can_be_followed() -> None:
    """Ids are their own, what a finding points at is there, and no verdict says too much."""
    workings = [w for made in study().surveys for w in made.workings]
    ids = Counter(w.id for w in workings)
    assert [id_ for id_, n in ids.items() if n > 1] == []
    assert all(re.fullmatch(r"[a-z0-9.-]+", id_) for id_ in ids)
    for finding in findings():
        assert not finding.working or finding.working in ids, finding
        assert finding.says.endswith(".") and finding.mend.endswith(".")
        assert "—" not in finding.says + finding.mend
    for shown in workings:
        assert (shown.limit is None) == (shown.limit_source is None), shown.id
        if shown.verdict in (Verdict.HOLDS, Verdict.FAILS):
            assert shown.limit is not None, shown.id
