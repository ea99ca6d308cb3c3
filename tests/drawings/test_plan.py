from __future__ import annotations

import math
import re
from dataclasses import replace
from itertools import combinations, pairwise
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.drawings import plan
from generator.drawings.atlas import Atlas
from generator.drawings.balloons import Balloon, place
from generator.drawings.chains import Chains
from generator.drawings.ink import Drawing, Group, Item, Polygon, labels_of, to_svg
from generator.drawings.manner import PHONE, WIDE, Manner
from generator.drawings.measures import millimetres
from generator.drawings.placing import Placing
from generator.drawings.shell import Shell
from generator.drawings.view import View, grid_place, overlaps
from generator.ground.wording import PSEUDO, use
from generator.shop.records.room import Room
from generator.shop.records.stations import Station
from generator.workings.footprint import footprint
from tests.drawings.reading import SVG, box_of, overflowing, overlapping, texts
from tests.small import shop_with

HAND = 44
"""The least size of what is touched [px]."""


def link(station: Station) -> str:
    return f"stations/{station.id}.html"


def view_of(atlas: Atlas, manner: Manner, width: float) -> View:
    scale = plan.scale_to(atlas, manner, width)
    left, top, _right, _bottom = plan.extent(atlas, manner, scale)
    return View(scale, -left, -top)


def layer(drawing: Drawing, name: str) -> tuple[Item, ...]:
    """The items of a plan's layer."""
    found = [i for i in drawing.items if isinstance(i, Group) and i.classes == name]
    return found[0].items


@pytest.fixture(params=["wide", "phone"])
def rendition(request: pytest.FixtureRequest, demonstration: Atlas) -> Drawing:
    draw = getattr(plan, request.param)
    return draw(demonstration, link)  # type: ignore[no-any-return]


def test_a_plan_is_as_wide_as_its_screen(demonstration: Atlas) -> None:
    for draw, width in ((plan.wide, 740), (plan.phone, 350), (plan.wide, 1100)):
        drawing = draw(demonstration, None, width)
        root = ET.fromstring(to_svg(drawing))
        assert root.attrib["width"] == str(width)
        assert root.attrib["viewBox"].split()[2] == str(width)


def test_everything_is_drawn_to_one_scale(demonstration: Atlas) -> None:
    view = view_of(demonstration, WIDE, 740)
    for one, other in pairwise(demonstration.shop.stations_by_number):
        on_floor = math.dist(one.at, other.at)
        assert math.dist(view.at(one.at), view.at(other.at)) == pytest.approx(on_floor * view.scale)
    shapes = [i for i in layer(plan.wide(demonstration), "stations") if isinstance(i, Polygon)]
    for shape, station in zip(shapes, demonstration.shop.stations_by_number, strict=True):
        back = [view.floor(point) for point in shape.points]
        for found, true in zip(back, footprint(station), strict=True):
            assert found == pytest.approx(true, abs=0.1)


def test_y_runs_up_and_x_to_the_right() -> None:
    view = View(0.1, 5, 100)
    assert view.at((0, 0)) == (5, 100)
    assert view.at((1000, 500)) == (105, 50)


@pytest.mark.parametrize(
    ("point", "place_"),
    [
        ((0, 0), "A1"),
        ((999, 1000), "A2"),
        ((3200, 4500), "D5"),
        ((26500, 0), "AA1"),
        ((-5, 9), "A1"),
    ],
)
def test_a_place_is_told_by_the_grid(point: tuple[float, float], place_: str) -> None:
    assert grid_place(point) == place_


@pytest.mark.parametrize(
    ("point", "place_"),
    [
        ((6000, 2500), "F3"),  # on the right wall of a room of 6 by 4 m
        ((2500, 4000), "C4"),
        ((0, 0), "A1"),
        ((3000, 2000), "D3"),
    ],
)
def test_what_hangs_on_a_wall_is_placed_by_the_floor_before_it(
    smallest: Atlas, point: tuple[float, float], place_: str
) -> None:
    assert smallest.grid_place(point) == place_


def test_no_label_leaves_its_box_or_the_drawing(rendition: Drawing) -> None:
    assert overflowing(rendition) == []


def test_no_word_is_written_over_another(rendition: Drawing) -> None:
    written = [(label.text, box_of(label)) for label in labels_of(rendition.items)]
    assert overlapping(written) == []
    assert len(texts(to_svg(rendition))) == len(written)


def test_no_type_is_too_small_to_read(rendition: Drawing) -> None:
    assert min(label.size for label in labels_of(rendition.items)) >= 11.5


def test_every_station_has_its_number_and_its_link(
    rendition: Drawing, demonstration: Atlas
) -> None:
    root = ET.fromstring(to_svg(rendition))
    links = root.findall(f".//{SVG}a")
    stations = demonstration.shop.stations_by_number
    assert [a.attrib["href"] for a in links] == [link(s) for s in stations]
    assert [a.findtext(f"{SVG}title") for a in links] == [f"{s.number} {s.name}" for s in stations]
    assert [a.findtext(f"{SVG}text") for a in links] == [str(s.number) for s in stations]


@pytest.mark.parametrize(("manner", "width"), [(WIDE, 740.0), (PHONE, 350.0)])
def test_no_two_balloons_touch_and_no_two_taps_overlap(
    demonstration: Atlas, manner: Manner, width: float
) -> None:
    placing = Placing(demonstration, view_of(demonstration, manner, width), manner)
    placed = placing.numbered(link)
    assert len(placed) == len(demonstration.shop.stations)
    for one, other in combinations(placed, 2):
        assert one.at is not None
        assert other.at is not None
        apart = math.dist(one.at, other.at)
        assert apart > one.radius + other.radius
        assert apart >= one.touch + other.touch - 0.01
    for each in placed:
        assert each.at is not None
        box = (each.at[0] - each.radius, each.at[1] - each.radius, *[2 * each.radius] * 2)
        assert not any(overlaps(box, shown.box) for shown in placing.shown)


def test_a_hand_in_a_glove_finds_every_number_on_a_phone(demonstration: Atlas) -> None:
    placing = Placing(demonstration, view_of(demonstration, PHONE, 350), PHONE)
    reach = sorted(2 * each.touch for each in placing.numbered(link))
    assert reach[0] >= 30  # where stations stand close, the whole balloon
    assert sum(size >= HAND for size in reach) >= len(reach) / 2


def test_symbols_keep_off_one_another(demonstration: Atlas) -> None:
    for manner, width in ((WIDE, 740.0), (PHONE, 350.0)):
        placing = Placing(demonstration, view_of(demonstration, manner, width), manner)
        assert overlapping([(shown.hung.name, shown.box) for shown in placing.shown]) == []


def test_the_phone_is_spared_what_it_has_no_room_for(demonstration: Atlas) -> None:
    wide, phone = plan.wide(demonstration), plan.phone(demonstration)
    assert len(to_svg(phone)) < 0.6 * len(to_svg(wide))
    names = {i.classes for i in phone.items if isinstance(i, Group)}
    assert not names & {"grid", "dimensions", "floor", "zone-names"}


def test_dimensions_add_up(demonstration: Atlas) -> None:
    """The 13.2 m room is 7.6 m and 3.6 m deep beside its wing, 5.4 m and 7.8 m along the yard."""
    figures = sorted(
        label.text for label in labels_of(layer(plan.wide(demonstration), "dimensions"))
    )
    assert figures == sorted(millimetres(mm) for mm in (13200, 11200, 5400, 7800, 7600, 3600))


@pytest.mark.parametrize(
    ("mm", "written"), [(950, "950"), (5400, "5400"), (13200, "13\u00a0200"), (999.6, "1000")]
)
def test_how_a_dimension_is_written(mm: float, written: str) -> None:
    assert millimetres(mm) == written


def test_the_scale_bar_is_as_long_as_it_says(demonstration: Atlas) -> None:
    view = view_of(demonstration, WIDE, 740)
    svg = to_svg(Drawing(740, 600, layer(plan.wide(demonstration), "scale"), "", ""))
    bar = ET.fromstring(svg).find(f".//{SVG}rect")
    assert bar is not None
    assert float(bar.attrib["width"]) == pytest.approx(view.length(2000), abs=0.01)
    assert "2\u00a0m" in [written.text for written in texts(svg)]


def test_north_points_clockwise_from_up(demonstration: Atlas) -> None:
    """The demonstration's north is 24 degrees clockwise of up: its letter stands there."""
    scale = layer(plan.wide(demonstration), "scale")
    letter = next(label for label in labels_of(scale) if label.text == "N")
    arrow = next(i for i in scale if getattr(i, "data", "").endswith("Z"))
    tip = re.findall(r"[\d.]+", arrow.data)[:2]  # type: ignore[union-attr]
    dx, dy = letter.x - float(tip[0]), float(tip[1]) - (letter.y - letter.size * 0.36)
    assert math.degrees(math.atan2(dx, dy)) == pytest.approx(24, abs=1)


def test_words_stay_in_place_in_a_longer_language(demonstration: Atlas) -> None:
    with use(PSEUDO):
        for draw in (plan.wide, plan.phone):
            assert overflowing(draw(demonstration, link)) == []


def test_a_name_is_no_markup(tmp_path: Path) -> None:
    stations = """
cutting:
  number: 1
  name: <script>alert("1")</script> & sons
  purpose: Cutting
  zone: work
  at: 3000, 3200 mm
  size: 1200 x 800 mm
  use: {alone: authorised}
"""
    atlas = Atlas(shop_with(tmp_path, stations=stations))
    svg = to_svg(plan.wide(atlas, link))
    root = ET.fromstring(svg)
    assert not root.findall(f".//{SVG}script")
    title = root.find(f".//{SVG}a/{SVG}title")
    assert title is not None
    assert title.text == '1 <script>alert("1")</script> & sons'


def test_a_description_says_what_the_plan_shows(smallest: Atlas) -> None:
    assert plan.title(smallest) == "Floor plan of The bench room"
    says = "6.0\u00a0m by 4.0\u00a0m. 1 station. Ways out: Green door."
    assert plan.described(smallest) == says


def test_a_crowded_plan_leaves_numbers_out_before_two_touch(crowded: Atlas) -> None:
    placing = Placing(crowded, view_of(crowded, PHONE, 350), PHONE)
    shown = [each for each in placing.numbered(link) if each.at]
    assert len(shown) > 20
    for one, other in combinations(shown, 2):
        assert one.at is not None
        assert other.at is not None
        assert math.dist(one.at, other.at) > one.radius + other.radius
    svg = to_svg(plan.phone(crowded, link))
    assert len(ET.fromstring(svg).findall(f".//{SVG}a")) == len(crowded.shop.stations)


BALLOONS = st.lists(
    st.tuples(st.floats(30, 570), st.floats(30, 370), st.floats(5, 60), st.floats(5, 60)),
    max_size=40,
)


@given(BALLOONS)
@settings(max_examples=40)
def test_balloons_never_touch_wherever_stations_stand(
    boxes: list[tuple[float, float, float, float]],
) -> None:
    wanted = [
        Balloon(i, ((x, y),), ((x, y), (x + w, y), (x + w, y + h), (x, y + h)))
        for i, (x, y, w, h) in enumerate(boxes, 1)
    ]
    placed = place(wanted, 12, 22, (0, 0, 600, 400))
    shown = [each for each in placed if each.at]
    for one, other in combinations(shown, 2):
        assert one.at is not None
        assert other.at is not None
        assert math.dist(one.at, other.at) >= max(24, one.touch + other.touch - 1e-6)
    for each in shown:
        assert each.at is not None
        assert 12 <= each.at[0] <= 588
        assert 12 <= each.at[1] <= 388


CORNERS = st.floats(2500, 30000)


@given(CORNERS, CORNERS, st.floats(0.25, 0.75), st.floats(0.25, 0.75), st.floats(60, 800))
@settings(max_examples=30)
def test_the_walls_of_any_l_shaped_room(
    width: float, depth: float, across: float, along: float, wall: float
) -> None:
    """The masonry is what lies between the floor and the floor grown by the walls' thickness."""
    x, y = width * across, depth * along
    outline = [(0, 0), (width, 0), (width, y), (x, y), (x, depth), (0, depth)]
    shell = Shell(room(outline, wall))
    area = sum(_area(ring) - sum(map(_area, holes)) for ring, holes in shell.masonry)
    around = 2 * (width + depth)
    corners = (5 - 1) * wall**2  # five outward corners add a square each, the inward one takes one
    opening = 900 * wall
    assert area == pytest.approx(around * wall + corners - opening, rel=1e-6)
    assert sum(w.length for w in shell.walls) == pytest.approx(around)


@given(CORNERS, CORNERS, st.sampled_from([WIDE, PHONE, replace(WIDE, dimensions=2)]))
@settings(max_examples=25)
def test_what_is_drawn_reaches_as_far_as_it_says(
    width: float, depth: float, manner: Manner
) -> None:
    shell = Shell(room([(0, 0), (width, 0), (width, depth), (0, depth)], 250))
    chains = Chains(shell, View(0.04, 0, 0), manner)
    left, top, right, bottom = chains.extent()
    for label in labels_of(tuple(chains.drawn())):
        x, y, across, down = box_of(label)
        assert left <= x
        assert top <= y
        assert x + across <= right
        assert y + down <= bottom


def room(outline: list[tuple[float, float]], wall: float) -> Room:
    corner = lambda point: f"{point[0]}, {point[1]} mm"  # noqa: E731
    return Room.model_validate(
        {
            "name": "Any room",
            "outline": [corner(point) for point in outline],
            "ceiling": "3 m",
            "wall": f"{wall} mm",
            "doors": {
                "door": {
                    "name": "Door",
                    "hinge": "300, 0 mm",
                    "latch": "1200, 0 mm",
                    "clear_width": "850 mm",
                    "opens": "out",
                    "exit": True,
                    "lock": "none",
                    "leads_to": "outside",
                }
            },
            "supply": {
                "profile": "EU-230-400",
                "main_fuse": "35 A",
                "phases": "three",
                "panel": "0, 100 mm",
            },
            "assembly": {"name": "Yard", "distance": "30 m", "from": "the door"},
        }
    )


def _area(ring: tuple[tuple[float, float], ...]) -> float:
    """The shoelace formula."""
    pairs = zip(ring, (*ring[1:], ring[0]), strict=True)
    return abs(sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairs)) / 2
