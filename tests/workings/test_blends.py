"""Recipes, colours and what the stock is good for: worked examples, conservation, refusals."""

from __future__ import annotations

import datetime as dt
import math

import pytest
from coloraide import Color
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from generator.ground.finding import Severity
from generator.ground.origin import Origin
from generator.ground.working import Verdict
from generator.shop.records.logs import Logs, Stock, Trial, WeighIn
from generator.shop.shop import Shop
from generator.workings import blends
from generator.workings.blends import laws
from generator.workings.blends.colour import (
    CELLS,
    apportioned,
    swatch_chips,
    swatch_tones,
    toned,
)
from generator.workings.moulding.shot import blend_density_kgm3, volume_share
from tests.workings import week_shop as shop_data
from tests.workings.hall import found, only, plain, working
from tests.workings.week_shop import week_shop

HERE = Origin("stock.csv", 2)
DAY = dt.date(2026, 3, 2)
TRIAL = Trial(HERE, "T1", DAY, "injector", "hook", "brick", "good", cycle_s=36)


def flake(kg: float, colour: str, polymer: str = "pp", form: str = "flake") -> Stock:
    return Stock(HERE, DAY, polymer, form, kg, "store", colour)  # type: ignore[arg-type]


def shop(*rows: Stock, **changes: object) -> Shop:
    trials = (TRIAL,) if "blends" not in changes or "brick" in changes["blends"] else ()  # type: ignore[operator]
    return week_shop(Logs(trials=trials, stock=rows), **changes)


SHOP = shop(flake(6, "red"), flake(10, "white"))
HOOK, BRICK = SHOP.products["hook"], SHOP.blends["brick"]
GREEN = {"name": "Green", "kind": "masterbatch", "unit": "kg", "kept_at": "mixing", "stock": 0.5,
         "least": 0.1, "lead_time": "3 d", "hex": "#2f7d3b"}  # fmt: skip


def minted(share: str = "2 %", **changes: object) -> Shop:
    """Red with so much green stirred in."""
    rest = 100 - float(share.split(maxsplit=1)[0])
    blend = {"name": "Mint", "mixes": "melt", "machines": ["injector"],
             "parts": [{"polymer": "pp", "colour": "red", "share": f"{rest:g} %"}],
             "additives": [{"consumable": "green", "share": share}]}  # fmt: skip
    product = {**shop_data.PRODUCTS["hook"], "blends": ["mint"]}
    return shop(
        flake(6, "red"), blends={"mint": blend}, products={"hook": product},
        consumables={"green": {**GREEN, **changes}},
    )  # fmt: skip


# --- worked examples ---------------------------------------------------------------------------


def test_density_and_volume_of_the_worked_example() -> None:
    """30 % PP of 905 and 70 % PE-HD of 955 kg/m³: 939.4 kg/m³, PP 0.3114 of the volume."""
    parts = [(0.30, 905.0), (0.70, 955.0)]
    assert blend_density_kgm3(parts) == pytest.approx(939.4, abs=0.05)
    assert volume_share(parts, 0) == pytest.approx(0.3114, abs=0.00005)


def test_passes_of_the_worked_example() -> None:
    """A share of 0.3 of regrind: 1.429 passes on average, 2.7 % four times or more."""
    assert laws.mean_passes(0.3) == pytest.approx(1.429, abs=0.0005)
    assert laws.share_of_passes(0.3, 4) == pytest.approx(0.027)


@given(st.floats(0, 0.95))
def test_passes_add_up(regrind: float) -> None:
    """The mean is the sum of the shares of each count or more."""
    most = 1 if regrind == 0 else math.ceil(math.log(1e-12) / math.log(max(regrind, 1e-12))) + 1
    total = sum(laws.share_of_passes(regrind, n) for n in range(1, most + 1))
    assert total == pytest.approx(laws.mean_passes(regrind), rel=1e-6)


def test_letdown_is_a_share_of_the_whole() -> None:
    assert laws.grams_of(12_000, 2) == pytest.approx(240)
    assert laws.share_of_ratio(1, 50) == pytest.approx(1.961, abs=0.0005)


def test_a_published_feed_of_colour() -> None:
    """450 kg/h at 3 % is 13.5 kg/h of colour in 436.5 kg/h of resin, a ratio of 32.33 to 1
    (calculator.city, how to calculate a let-down ratio)."""
    assert laws.grams_of(450, 3) == pytest.approx(13.5)
    assert laws.share_of_ratio(13.5, 436.5) == pytest.approx(3)
    assert laws.share_of_ratio(1, 32.33) == pytest.approx(3, abs=0.001)


def test_speckle_of_the_worked_example() -> None:
    """0.80 and 0.10, half and half: 0.45, which is code 179; the mean of codes would be 160."""
    [light] = laws.speckle([(0.5, (0.80,)), (0.5, (0.10,))])
    assert light == pytest.approx(0.45)
    assert round(255 * laws.coded(light)) == 179
    assert round(255 * (laws.coded(0.8) + laws.coded(0.1)) / 2) == 160


def test_melt_of_the_worked_example() -> None:
    """The same two melted together: K/S 2.0375, reflectance 0.1693, code 114."""
    mean = (laws.absorption(0.8) + laws.absorption(0.1)) / 2
    assert mean == pytest.approx(2.0375)
    melt = laws.melted([(0.5, 0.8), (0.5, 0.1)])
    assert melt == pytest.approx(0.1693, abs=0.00005)
    assert round(255 * laws.coded(melt)) == 114


def test_melt_under_a_surface_of_the_worked_example() -> None:
    """With Saunderson's k1 0.04 and k2 0.6 a meter sees 0.1425."""
    within = laws.melted([(0.5, laws.inside(0.8)), (0.5, laws.inside(0.1))])
    assert laws.outside(within) == pytest.approx(0.1425, abs=0.00005)


def test_a_published_absorption() -> None:
    """At a reflectance of 55 % K/S is 0.184 (HunterLab, Insight on Color 18/7, 2008)."""
    assert laws.absorption(0.55) == pytest.approx(0.184, abs=0.0005)


@given(st.floats(0, 1))
def test_light_and_code_and_absorption_turn_round(value: float) -> None:
    assert laws.linear(laws.coded(value)) == pytest.approx(value, abs=2e-7)
    if 0.01 <= value <= 0.99:
        assert laws.reflected(laws.absorption(value)) == pytest.approx(value, rel=1e-9)
        assert laws.inside(laws.outside(value)) == pytest.approx(value, rel=1e-9)


@given(st.integers(0, 0xFFFFFF))
def test_light_agrees_with_another_library(code: int) -> None:
    written = f"#{code:06x}"
    assert laws.rgb_of(written) == pytest.approx(Color(written).convert("srgb-linear").coords())
    assert laws.hex_of(laws.rgb_of(written)) == written
    assert laws.luminance(laws.rgb_of(written)) == pytest.approx(
        Color(written).luminance(), abs=1e-4
    )


LIGHTS = st.lists(
    st.tuples(st.floats(0.01, 1), st.floats(0.01, 0.99)), min_size=1, max_size=5
)  # fmt: skip


@given(LIGHTS)
def test_a_mixture_lies_between_its_parts_and_a_melt_is_never_lighter_than_speckle(
    parts: list[tuple[float, float]],
) -> None:
    darkest, lightest = min(r for _s, r in parts), max(r for _s, r in parts)
    [seen] = laws.speckle([(share, (r,)) for share, r in parts])
    melt = laws.melted(parts)
    assert darkest - 1e-9 <= melt <= seen + 1e-9 <= lightest + 2e-9
    [half] = laws.between((seen,), (melt,), 0.5)
    assert melt - 1e-9 <= half <= seen + 1e-9


# --- grams -------------------------------------------------------------------------------------


def test_a_recipe_done_by_hand() -> None:
    """25 hooks: 13 shots of two, 10 g each before a tenth is snipped off, 1.8 g of sprue, and
    500 g to purge with: 783.4 g, 60 % red and 40 % white."""
    recipe = blends.study(SHOP).bench.recipe(HOOK, BRICK, 25)
    assert (recipe.shots, recipe.makes) == (13, 26)
    assert recipe.parts_g == pytest.approx(260)
    assert recipe.sprue_g == pytest.approx(23.4)
    assert recipe.purge_g == 500
    assert [i.grams for i in recipe.ingredients] == pytest.approx([470.04, 313.36])
    assert [i.stock_g for i in recipe.ingredients] == pytest.approx([6000, 10_000])


def test_what_is_lacking_is_said_ingredient_by_ingredient() -> None:
    few = shop(flake(0.2, "red"), flake(10, "white"), flake(9, "red", form="pieces"))
    recipe = blends.study(few).bench.recipe(HOOK, BRICK, 25)
    [short] = recipe.short
    assert (short.colour, short.short_g) == ("red", pytest.approx(270.04))


@given(total=st.floats(1, 1e6), cut=st.lists(st.integers(1, 50), min_size=1, max_size=6))
def test_the_grams_of_a_blend_add_up_and_doubling_doubles(total: float, cut: list[int]) -> None:
    shares = [100 * n / sum(cut) for n in cut]
    once = [laws.grams_of(total, share) for share in shares]
    assert sum(once) == pytest.approx(total)
    assert [laws.grams_of(2 * total, share) for share in shares] == pytest.approx(
        [2 * g for g in once]
    )


@given(count=st.integers(0, 5000))
@settings(deadline=None)
def test_a_recipe_adds_up_and_twice_as_many_take_twice_as_much(count: int) -> None:
    bench = _STUDY.bench
    once, twice = bench.recipe(HOOK, BRICK, count), bench.recipe(HOOK, BRICK, 2 * count)
    for recipe in (once, twice):
        assert sum(i.grams for i in recipe.ingredients) == pytest.approx(recipe.total_g)
        assert recipe.makes >= recipe.count
    plastic = once.total_g - once.purge_g
    if count % 2 == 0:  # whole shots of two
        assert twice.total_g - twice.purge_g == pytest.approx(2 * plastic)
    assert twice.total_g - twice.purge_g <= 2 * plastic + 1e-6


_STUDY = blends.study(SHOP)


def test_masterbatch_is_weighed_by_the_whole_and_taken_from_its_own_stock() -> None:
    made = minted()
    red, green = blends.study(made).bench.weighed(made.blends["mint"], 12_000)
    assert (red.grams, green.grams, green.stock_g) == pytest.approx((11_760, 240, 500))
    unknown = minted(unit="jar")
    assert blends.study(unknown).bench.weighed(unknown.blends["mint"], 1)[1].stock_g is None


def test_a_refused_blend_is_never_weighed() -> None:
    polymers = {**shop_data.POLYMERS, "pvc": {"code": "PVC", "name": "PVC", "status": "refused"}}
    parts = [{"polymer": "pp", "colour": "red", "share": "99.9 %"},
             {"polymer": "pvc", "share": "0.1 %"}]  # fmt: skip
    made = shop(flake(6, "red"), polymers=polymers,
                blends={"brick": {**shop_data.BLENDS["brick"], "parts": parts}})  # fmt: skip
    study = blends.study(made)
    recipe = study.bench.recipe(made.products["hook"], made.blends["brick"], 10)
    assert recipe.ingredients == () and recipe.refused
    assert study.today == () and study.previews == {}


# --- what can be made today --------------------------------------------------------------------


def test_pieces_that_the_stock_is_good_for_done_by_hand() -> None:
    """6 kg of red at 60 % are good for 10 kg of blend; less 500 g to purge, 435 shots of 21.8 g."""
    [possible] = blends.study(SHOP).today
    assert possible.pieces == 2 * math.floor((10_000 - 500) / 21.8)
    assert possible.first_out.colour == "red"
    assert possible.worth_kg == pytest.approx(2 / 0.009)
    # 4 h less 45 min to be hot, 30 to set the mould, 15 to clean down: 150 min of 36 s
    assert possible.at_once == 2 * 250
    assert possible.in_an_opening == 500
    shown = working(blends.study(SHOP).survey.workings, "blends.today.hook.brick")
    assert shown.verdict is Verdict.HOLDS


@given(red=st.floats(0, 30), white=st.floats(0, 30), more=st.floats(0, 5))
@settings(deadline=None, max_examples=40)
def test_the_stock_is_good_for_what_it_says_and_for_no_more(
    red: float, white: float, more: float
) -> None:
    made = blends.study(shop(flake(red, "red"), flake(white, "white")))
    pieces = made.today[0].pieces if made.today else 0
    enough = made.bench.recipe(HOOK, BRICK, pieces)
    assert all(i.short_g <= 1e-6 for i in enough.ingredients)
    if pieces:
        assert made.bench.recipe(HOOK, BRICK, pieces + 2).short
    then = blends.study(shop(flake(red + more, "red"), flake(white + more, "white")))
    assert (then.today[0].pieces if then.today else 0) >= pieces


def test_the_best_use_comes_first() -> None:
    """What is wanted comes before what is not, then the fullest store, then what earns most."""
    hd = {**shop_data.POLYMERS["pp"], "code": "PE-HD", "name": "HD", "store_limit": "10 kg"}
    polymers = {**shop_data.POLYMERS, "hd": hd}
    injector = {
        **shop_data.MACHINES["injector"],
        "capacity": {"shot": "60 cm³", "barrel": "90 cm³", "injection": "80 MPa",
                     "clamp": "200 kN"},
        "settings": [
            {"polymer": id_, "melt": "200 °C", "rate": "4 kg/h", "hold": "5 s",
             "hot_hold": "60 min"}
            for id_ in ("pp", "hd")
        ],
    }  # fmt: skip
    machines = {**shop_data.MACHINES, "injector": injector}
    recipes = {
        id_: {"name": id_, "mixes": "melt", "machines": ["injector"],
              "parts": [{"polymer": id_, "colour": "red", "share": "100 %"}]}
        for id_ in ("pp", "hd")
    }  # fmt: skip
    hook = shop_data.PRODUCTS["hook"]
    products = {
        "unwanted": {**hook, "blends": ["hd"], "per_week": 0, "price": "90 EUR"},
        "cheap": {**hook, "blends": ["pp"], "price": "1 EUR"},
        "dear": {**hook, "blends": ["pp"], "price": "3 EUR"},
        "full": {**hook, "blends": ["hd"], "price": "1 EUR"},
    }
    logs = Logs(stock=(flake(6, "red"), flake(9, "red", "hd")))
    made = blends.study(week_shop(
        logs, polymers=polymers, machines=machines, blends=recipes, products=products,
    ))  # fmt: skip
    assert [p.product.id for p in made.today] == ["full", "dear", "cheap", "unwanted"]


def test_too_little_for_a_week_is_noted() -> None:
    made = blends.study(shop(flake(1, "red"), flake(10, "white")))
    one = only(made.survey.findings, "blends.stock", Severity.NOTE)
    # 1 kg of red makes 1.667 kg of blend, less 0.5: 53 shots
    assert plain(one.says).endswith("the stock is good for 106.")


def test_a_paused_polymer_makes_nothing_today() -> None:
    polymers = {"pp": {**shop_data.POLYMERS["pp"], "status": "paused"}}
    assert blends.study(shop(flake(6, "red"), flake(6, "white"), polymers=polymers)).today == ()


# --- letdown and colours -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("share", "hex_code", "usual"),
    [("2 %", "#2f7d3b", True), ("5 %", "#2f7d3b", False), ("5 %", "#101010", True),
     ("2 %", "#f8f8f8", False), ("0.5 %", "#2f7d3b", False)],
)  # fmt: skip
def test_an_unusual_letdown_is_noted(share: str, hex_code: str, usual: bool) -> None:
    made = blends.study(minted(share, hex=hex_code))
    assert bool(found(made.survey.findings, "blends.letdown")) is not usual


def brought(colour: str, kg: float) -> WeighIn:
    return WeighIn(HERE, DAY, "school", "pp", kg, "whole", colour)


def test_colours_nobody_wants_and_few_bring_go_with_the_rest() -> None:
    colours = {**shop_data.POLYMERS["pp"]["colours"], "rest": {"name": "Rest"},
               "gold": {"name": "Gold"}, "silver": {"name": "Silver"}}  # fmt: skip
    polymers = {"pp": {**shop_data.POLYMERS["pp"], "colours": colours}}
    weighed = (brought("red", 60), brought("gold", 2), brought("silver", 38))
    logs = Logs(stock=(flake(1, "rest"), flake(2, "gold")), weigh_ins=weighed)
    made = blends.study(week_shop(logs, polymers=polymers))
    groups = {g.colours: g for g in made.groups}
    assert set(groups) == {("red",), ("white",), ("silver",), ("gold",), ("rest",)}
    assert groups["rest",].rest and groups["rest",].kg == 1
    # 2 % of 14 kg of flake a week are kept apart, and no blend names it
    one = only(made.survey.findings, "blends.colour", Severity.NOTE)
    assert "Gold" in one.says
    assert sum(g.weekly_kg for g in made.groups) == pytest.approx(14.04585)


def test_a_preview_is_by_volume_in_light_and_a_melt_only_where_it_is_known() -> None:
    made = blends.study(SHOP).previews["brick"]
    assert made.shown == made.melt
    assert made.melt_reflectance == pytest.approx(laws.melted([(60, 0.2), (40, 0.8)]))
    lights = [laws.rgb_of("#b4402f"), laws.rgb_of("#f0efe9")]
    assert made.speckle == laws.hex_of(laws.speckle(zip((0.6, 0.4), lights, strict=True)))
    assert "preview" in made.caution


def test_what_is_not_known_has_no_preview() -> None:
    assert blends.study(minted()).previews["mint"].shown == ""
    bare = {"red": {"name": "Red"}, "white": {"name": "White", "hex": "#f0efe9"}}
    polymers = {"pp": {**shop_data.POLYMERS["pp"], "colours": bare}}
    made = blends.study(shop(polymers=polymers))
    assert made.previews["brick"].shown == "" and "Red" in made.previews["brick"].why_not
    assert made.survey.unanswered == 1


# --- the swatch --------------------------------------------------------------------------------


def _area(chip: tuple[tuple[float, float], ...]) -> float:
    pairs = zip(chip, chip[1:] + chip[:1], strict=True)
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairs) / 2


@pytest.mark.parametrize("cells", [1, 2, 9, 16])
def test_chips_tile_the_square_without_gap_or_overlap(cells: int) -> None:
    """Each is wound the same way and their areas make the square's."""
    areas = [_area(chip) for chip in swatch_chips(cells)]
    assert len(areas) == cells**2
    assert min(areas) > 0
    assert sum(areas) == pytest.approx(1)


def test_a_swatch_is_the_same_on_every_build_and_another_for_every_blend() -> None:
    twin = {**shop_data.BLENDS["brick"]}
    made = blends.study(shop(blends={"brick": twin, "other": twin})).previews
    brick, other = made["brick"].swatch, made["other"].swatch
    assert brick is not None and other is not None
    assert brick.parts == blends.study(SHOP).previews["brick"].swatch.parts  # type: ignore[union-attr]
    assert brick.parts != other.parts
    assert brick.parts.count(0) == other.parts.count(0) == round(0.6 * CELLS**2)


@given(st.tuples(*[st.floats(0, 1)] * 3))
def test_a_turned_chip_leaves_the_mean_as_it_is(light: tuple[float, float, float]) -> None:
    """A lighter and a darker one of a colour make it, and neither leaves what can be shown."""
    up, down = toned(light, 1), toned(light, -1)
    assert [(a + b) / 2 for a, b in zip(up, down, strict=True)] == pytest.approx(light)
    assert all(0 <= band <= 1 for band in (*up, *down))
    assert sum(swatch_tones(CELLS)) == 0


@given(st.lists(st.floats(0, 100), min_size=1, max_size=6), st.integers(1, 200))
def test_chips_are_shared_out_as_the_shares_are(shares: list[float], seats: int) -> None:
    assume(sum(shares) > 1e-3)
    counts = apportioned(shares, seats)
    assert sum(counts) == seats
    for share, count in zip(shares, counts, strict=True):
        assert abs(count - seats * share / sum(shares)) < 1 + 1e-6
