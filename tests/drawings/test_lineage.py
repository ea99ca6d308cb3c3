"""The trail of a batch as a picture: every label and link, nothing over anything."""

from __future__ import annotations

from functools import cache

import pytest

from generator.drawings import lineage
from generator.drawings.ink import Line, labels_of, to_svg
from generator.ground.resources import resource
from generator.shop.load import load_shop
from generator.shop.shop import Shop
from generator.workings.trail import Trail
from tests.drawings.reading import overflowing, overlapping, texts


@cache
def shop() -> Shop:
    found = load_shop(resource("content") / "shop").shop
    assert found is not None
    return found


def labels() -> list[str]:
    return [batch.batch for batch in shop().logs.batches if batch.step == "product"][-20:]


@pytest.mark.parametrize("label", labels())
def test_every_label_and_source_stands_in_it_once_and_every_link_is_a_line(label: str) -> None:
    trail = Trail(shop())
    drawing, history = lineage.draw(shop(), trail, label), trail.back(label)
    told = [text.text for text in labels_of(drawing.items)]
    for held in history.held:
        assert told.count(held.batch.batch) == 1
    links = sum(len(trail.made_from(h.batch.batch)) for h in history.held)
    links += len(trail.made_from(label))
    sources = sum(
        len({row.donor for row in trail.weighed(h.batch.batch)}) for h in history.held
    )  # fmt: skip
    lines = [i for i in drawing.items if isinstance(i, Line) and i.pen.stroke == "ink"]
    assert len(lines) == links + sources


@pytest.mark.parametrize("label", labels())
def test_words_stay_in_their_boxes_apart_from_one_another(label: str) -> None:
    drawing = lineage.draw(shop(), Trail(shop()), label)
    assert overflowing(drawing) == []
    assert overlapping([(w.text, w.box) for w in texts(to_svg(drawing))]) == []
    assert drawing.width <= 480


def test_what_comes_first_stands_over_what_is_made_of_it() -> None:
    trail = Trail(shop())
    for label in labels():
        drawing = lineage.draw(shop(), trail, label)
        height = {text.text: text.y for text in labels_of(drawing.items)}
        for held in trail.back(label).held:
            for parent in trail.made_from(held.batch.batch):
                assert height[parent.batch] < height[held.batch.batch]
