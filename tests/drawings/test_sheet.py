from __future__ import annotations

from xml.etree import ElementTree as ET

import pytest

from generator.drawings import sheet
from generator.drawings.atlas import Atlas
from generator.drawings.foot import Foot
from generator.drawings.ink import Polygon, labels_of, to_svg
from generator.ground.wording import PSEUDO, use
from generator.workings.footprint import footprint
from tests.drawings.reading import box_of, outside, overflowing, overlapping
from tests.drawings.test_plan import layer

LEAST = 3.5
"""The least type on A2 that is read standing before it [mm]."""


@pytest.mark.parametrize("language", ["en", PSEUDO])
def test_the_sheet_holds_everything_in_its_frame(
    demonstration: Atlas, foot: Foot, language: str
) -> None:
    with use(language):
        drawing = sheet.draw(demonstration, foot)
    labels = list(labels_of(drawing.items))
    assert overflowing(drawing) == []
    assert overlapping([(label.text, box_of(label)) for label in labels]) == []
    assert not [label.text for label in labels if outside(box_of(label), sheet.A2.frame)]
    assert min(label.size for label in labels) >= LEAST


def test_the_sheet_is_a2_and_its_scale_is_the_one_it_tells(
    demonstration: Atlas, foot: Foot
) -> None:
    drawing = sheet.draw(demonstration, foot)
    root = ET.fromstring(to_svg(drawing))
    assert (root.attrib["width"], root.attrib["height"]) == ("594mm", "420mm")
    told = next(label.text for label in labels_of(drawing.items) if label.text.startswith("1:"))
    divisor = float(told.split()[0].removeprefix("1:"))
    shape = next(i for i in layer(drawing, "stations") if isinstance(i, Polygon))
    first = demonstration.shop.stations_by_number[0]
    for (ax, ay), (bx, by), near, far in zip(
        shape.points, shape.points[1:], footprint(first), footprint(first)[1:], strict=False
    ):
        on_paper = ((ax - bx) ** 2 + (ay - by) ** 2) ** 0.5
        on_floor = ((near[0] - far[0]) ** 2 + (near[1] - far[1]) ** 2) ** 0.5
        assert on_paper * divisor == pytest.approx(on_floor)


def test_the_list_names_every_station(demonstration: Atlas, foot: Foot) -> None:
    words = " ".join(label.text for label in labels_of(sheet.draw(demonstration, foot).items))
    for station in demonstration.shop.stations_by_number:
        assert str(station.name) in words
    for fact in ("FL-09", "2026-11-20", "7c1e 94b0 5fd2 aa16", "119.8\u00a0m²"):
        assert fact.replace("FL-09", foot.number) in words


def test_a_list_too_long_for_the_sheet_says_so(crowded: Atlas, foot: Foot) -> None:
    drawing = sheet.draw(crowded, foot)
    assert overflowing(drawing) == []
    words = [label.text for label in labels_of(drawing.items)]
    assert any(text.endswith("more: see the handbook") for text in words)


def test_the_largest_scale_that_fits_is_taken(smallest: Atlas, foot: Foot) -> None:
    """6 by 4 m at 1:20 is 300 by 200 mm; at 1:10 it is 600 mm wide, more than the sheet."""
    words = [label.text for label in labels_of(sheet.draw(smallest, foot).items)]
    assert "1:20" in words
