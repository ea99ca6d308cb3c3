"""The stream of a week's material: to scale, nothing lost, every word in its place."""

from __future__ import annotations

from functools import cache

import pytest

from generator.drawings import stream
from generator.drawings.ink import Drawing, Rect, labels_of, to_svg
from generator.ground.resources import resource
from generator.shop.load import load_shop
from generator.workings import flow
from generator.workings.flow import FlowStudy
from generator.workings.flow.mass import SOURCES
from tests.drawings.reading import overflowing, overlapping, texts
from tests.workings.week_shop import week_shop


@cache
def week() -> FlowStudy:
    shop = load_shop(resource("content") / "shop").shop
    assert shop is not None
    return flow.study(shop)


@cache
def found() -> stream.Stream:
    made = stream.stream(week().week.shop, week())
    assert made is not None
    return made


@pytest.fixture(params=["wide", "phone"])
def drawn(request: pytest.FixtureRequest) -> Drawing:
    return getattr(stream, request.param)(found())  # type: ignore[no-any-return]


def test_every_step_passes_on_what_came_to_it() -> None:
    for step in found().steps:
        if step.place == "products":
            continue
        gone = sum(step.on.values()) + sum(a.kg for a in step.out) + step.back
        assert gone == pytest.approx(step.kg, abs=0.02), step.name


def test_what_joins_and_what_leaves_is_all_that_the_balance_holds() -> None:
    masses, steps = week().masses, found().steps
    come = sum(steps[0].come.values()) + sum(a.kg for step in steps for a in step.into)
    gone = sum(steps[-1].come.values()) + sum(a.kg for step in steps for a in step.out)
    assert come == pytest.approx(sum(masses.out_of(place) for place in SOURCES), abs=0.02)
    assert gone == pytest.approx(come, abs=0.05)


def test_no_word_leaves_its_place_or_the_drawing(drawn: Drawing) -> None:
    assert overflowing(drawn) == []
    for written in texts(to_svg(drawn)):
        x, _y, width, _height = written.box
        assert x >= -0.5 and x + width <= drawn.width + 0.5, written.text


def test_bands_are_as_wide_as_the_bar_says(drawn: Drawing) -> None:
    """The bar under the stream tells how wide its kilograms are: every band keeps to it."""
    (words,) = [x.text for x in labels_of(drawn.items) if x.text.endswith("a week")]
    rects = [item for item in drawn.items if isinstance(item, Rect)]
    bar = rects[-1]
    scale = max(bar.width, bar.height) / float(words.split("\u202f")[0])
    down = drawn.height > drawn.width
    sizes = [r.width if down else r.height for r in rects]
    for step in found().steps[:-1]:
        for kg in step.on.values():
            assert min(abs(size - kg * scale) for size in sizes) < 0.01


def test_no_two_words_share_a_place(drawn: Drawing) -> None:
    boxes = [(written.text, written.box) for written in texts(to_svg(drawn))]
    assert overlapping(boxes) == []


def test_every_step_machine_and_loss_is_told(drawn: Drawing) -> None:
    told = " ".join(label.text for label in labels_of(drawn.items))
    for step in found().steps:
        for word in step.name.split():
            assert word in told
        for aside in (*step.into, *step.out):
            assert stream.kg_words(aside.kg) in told
    for hours in week().hours.machines:
        assert f"{hours.want_h:.1f}" in told


def test_codes_stand_by_the_bands_for_whoever_sees_no_hue(drawn: Drawing) -> None:
    told = " ".join(label.text for label in labels_of(drawn.items))
    for polymer in found().steps[-1].come:
        assert found().codes[polymer] in told


def test_a_week_in_which_nothing_moves_has_no_stream() -> None:
    still = week_shop(donors={}, products={})
    assert stream.stream(still, flow.study(still)) is None


def test_a_shop_that_only_takes_in_ends_at_the_store() -> None:
    shop = week_shop(products={})
    made = stream.stream(shop, flow.study(shop))
    assert made is not None
    assert [step.place for step in made.steps][-1] == "store"
    assert [aside.stock for aside in made.steps[-1].out] == [True]
    for drawing in (stream.wide(made), stream.phone(made)):
        assert overflowing(drawing) == []


@pytest.mark.parametrize(
    ("kg", "words"), [(19.93, "19.9\u202fkg"), (0.344, "0.34\u202fkg"), (1.0, "1.0\u202fkg")]
)
def test_masses_claim_no_more_than_they_carry(kg: float, words: str) -> None:
    assert stream.kg_words(kg) == words
