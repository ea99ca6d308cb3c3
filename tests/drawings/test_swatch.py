"""Swatches: what is drawn is what the blend is made of, in its shares."""

from __future__ import annotations

import re
from collections import defaultdict

import pytest

from generator.drawings import swatch
from generator.drawings.ink import Drawing, Path, Rect, to_svg
from generator.workings import blends
from generator.workings.blends import Preview
from generator.workings.blends.colour import toned
from generator.workings.blends.laws import hex_of, luminance, rgb_of
from tests.workings import week_shop as shop_data
from tests.workings.week_shop import week_shop

HALVES = {
    "name": "Halves", "mixes": "speckle", "machines": ["injector"],
    "parts": [{"polymer": "pp", "colour": "red", "share": "50 %"},
              {"polymer": "pp", "colour": "white", "share": "50 %"}],
}  # fmt: skip


def preview(**changes: object) -> Preview:
    blend = {**HALVES, **changes}
    product = {**shop_data.PRODUCTS["hook"], "blends": ["halves"]}
    made = week_shop(blends={"halves": blend}, products={"hook": product})
    return blends.study(made).previews["halves"]


def _areas(drawn: Drawing) -> dict[str, float]:
    """Area by ink, from the path data alone."""
    areas: dict[str, float] = defaultdict(float)
    for item in drawn.items:
        assert isinstance(item, Path)
        for ring in item.data.split("Z")[:-1]:
            numbers = [float(n) for n in re.findall(r"[\d.]+", ring)]
            points = list(zip(numbers[::2], numbers[1::2], strict=True))
            pairs = zip(points, points[1:] + points[:1], strict=True)
            areas[item.pen.fill] += sum(a[0] * b[1] - b[0] * a[1] for a, b in pairs) / 2
    return areas


def test_flakes_cover_the_square_in_their_shares() -> None:
    drawn = swatch.speckle(preview(), 100)
    assert drawn is not None
    areas = _areas(drawn)
    red = {hex_of(toned(rgb_of("#b4402f"), tone)) for tone in (-1, 0, 1)}
    assert sum(areas.values()) == pytest.approx(100 * 100, rel=0.002)
    assert sum(areas[ink] for ink in red) / 10_000 == pytest.approx(0.5, abs=0.03)


def test_flakes_seen_from_afar_run_together_into_the_mean() -> None:
    """The mean light of what is drawn is what was worked out for the blend."""
    found = preview()
    drawn = swatch.speckle(found, 100)
    assert drawn is not None
    areas = _areas(drawn)
    mean = sum(luminance(rgb_of(ink)) * area for ink, area in areas.items()) / 10_000
    assert mean == pytest.approx(luminance(rgb_of(found.speckle)), abs=0.02)


def test_a_melt_is_one_colour_and_says_its_parts() -> None:
    drawn = swatch.shown(preview(mixes="melt"))
    assert drawn is not None
    (ground,) = drawn.items
    assert isinstance(ground, Rect) and ground.pen.fill == preview(mixes="melt").melt
    assert "Red" in drawn.desc and "White" in drawn.desc and "preview" in drawn.title.lower()


def test_nothing_is_drawn_of_what_is_not_known() -> None:
    bare = {**shop_data.POLYMERS["pp"], "colours": {"red": {"name": "Red"}, "white": {"name": "W"}}}
    product = {**shop_data.PRODUCTS["hook"], "blends": ["halves"]}
    made = week_shop(
        polymers={"pp": bare}, blends={"halves": HALVES}, products={"hook": product}
    )  # fmt: skip
    found = blends.study(made).previews["halves"]
    drawn = (swatch.shown(found), swatch.speckle(found), swatch.melt(found), swatch.afar(found))
    assert drawn == (None,) * 4


def test_a_swatch_is_light_enough_for_a_page_of_many() -> None:
    drawn = swatch.shown(preview())
    assert drawn is not None
    assert len(to_svg(drawn)) < 8_000
