"""The plan of the hang-list: every place numbered, none over another, each led to its wall."""

from __future__ import annotations

import math

import pytest
from shapely import Point, Polygon

from generator.drawings import hang_plan
from generator.drawings.atlas import Atlas
from generator.drawings.hang_plan import PAPER, PHONE, WIDE, Manner, Pin
from generator.drawings.ink import Circle, Drawing, Line, labels_of, to_svg
from generator.press.hanging import pins
from generator.workings import signage
from generator.workings.floor.standing import Standing
from tests.drawings.reading import SVG, elements, overflowing

MANNERS = {"paper": PAPER, "wide": WIDE, "phone": PHONE}


@pytest.fixture(scope="module")
def places(demonstration: Atlas) -> tuple[Pin, ...]:
    shop = demonstration.shop
    return pins(signage.study(shop, Standing(shop)))


def badges(drawing: Drawing, manner: Manner) -> list[Circle]:
    return [i for i in drawing.items if isinstance(i, Circle) and i.radius == manner.radius]


@pytest.mark.parametrize("name", MANNERS)
def test_every_place_is_numbered_once(
    demonstration: Atlas, places: tuple[Pin, ...], name: str
) -> None:
    manner = MANNERS[name]
    drawing = hang_plan.draw(demonstration, places, manner)
    said = [la.text for la in labels_of(drawing.items) if la.bold and la.text.isdigit()]
    assert [int(text) for text in said] == list(range(1, len(places) + 1))
    assert len(badges(drawing, manner)) == len(places)
    assert overflowing(drawing) == []


@pytest.mark.parametrize("name", MANNERS)
def test_no_number_lies_on_another_or_outside(
    demonstration: Atlas, places: tuple[Pin, ...], name: str
) -> None:
    manner = MANNERS[name]
    drawing = hang_plan.draw(demonstration, places, manner)
    found = badges(drawing, manner)
    for n, one in enumerate(found):
        for other in found[n + 1 :]:
            apart = math.hypot(one.x - other.x, one.y - other.y)
            assert apart >= 1.9 * manner.radius
    for badge in found:
        assert badge.x - manner.radius >= 0
        assert badge.x + manner.radius <= drawing.width


def test_each_is_led_to_its_place(demonstration: Atlas, places: tuple[Pin, ...]) -> None:
    """Leaders start where the signs hang: on the walls, columns and things of the room."""
    drawing = hang_plan.draw(demonstration, places, WIDE)
    starts = {i.end: i.start for i in drawing.items if isinstance(i, Line)}
    led = [starts[badge.x, badge.y] for badge in badges(drawing, WIDE)]
    ends = [(badge.x, badge.y) for badge in badges(drawing, WIDE)]
    assert max(map(math.dist, led, ends)) < 8 * WIDE.radius
    scale = math.dist(led[0], led[5]) / math.dist(places[0].at, places[5].at)
    for pin, start in zip(places, led, strict=True):
        apart = math.dist(pin.at, places[0].at) * scale
        assert math.dist(start, led[0]) == pytest.approx(apart, abs=1e-6)


def test_solid_numbers_lack_something(demonstration: Atlas, places: tuple[Pin, ...]) -> None:
    drawing = hang_plan.draw(demonstration, places, WIDE)
    for pin, badge in zip(places, badges(drawing, WIDE), strict=True):
        assert (badge.pen.fill == "ink") == (pin.missing > 0)


def test_the_printed_plan_is_in_millimetres(demonstration: Atlas, places: tuple[Pin, ...]) -> None:
    svg = to_svg(hang_plan.draw(demonstration, places, PAPER))
    root = next(elements(svg))
    assert root.tag == f"{SVG}svg"
    assert root.attrib["width"] == "184mm"


def test_places_stand_on_the_rooms_own_faces(demonstration: Atlas, places: tuple[Pin, ...]) -> None:
    room = Polygon(demonstration.shop.room.outline).buffer(1.0)
    assert all(room.contains(Point(pin.at)) for pin in places)
