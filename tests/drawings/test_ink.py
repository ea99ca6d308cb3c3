from __future__ import annotations

from xml.etree import ElementTree as ET

import pytest
from svgwrite.validator2 import get_validator

from generator.drawings import card, plan, sheet
from generator.drawings.atlas import Atlas
from generator.drawings.foot import Foot
from generator.drawings.ink import (
    FIXED,
    TOKENS,
    Circle,
    Drawing,
    Group,
    Label,
    Line,
    Path,
    Pen,
    Polygon,
    Rect,
    arc,
    labels_of,
    number,
    paper_colour,
    to_svg,
    web_colour,
)
from generator.ground.resources import resource
from tests.drawings.reading import SVG, elements

PEN = Pen("sheet", "ink", 0.5)
NASTY = '<script>alert("x")</script> & \x00\x0b\ud800 "quoted"'


def one(*items: object, **more: object) -> Drawing:
    return Drawing(100, 60, tuple(items), "A title", "What it shows", **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("value", "written"),
    [(1.0, "1"), (0.125, "0.12"), (-0.001, "0"), (12.5, "12.5"), (-3.456, "-3.46"), (1e4, "10000")],
)
def test_lengths_have_one_form(value: float, written: str) -> None:
    assert number(value) == written


def test_no_words_of_the_shop_become_markup() -> None:
    item = Group((Label(1, 2, NASTY, 3),), NASTY, link='x"onclick="y', title=NASTY)
    svg = to_svg(Drawing(9, 9, (item,), NASTY, NASTY))
    root = ET.fromstring(svg)
    assert not root.findall(f".//{SVG}script")
    assert "<script" not in svg
    shown = [e.text for e in root.iter() if e.tag in (f"{SVG}text", f"{SVG}title", f"{SVG}desc")]
    assert shown == ['<script>alert("x")</script> &  "quoted"'] * 4
    link = root.find(f"{SVG}a")
    assert link is not None
    assert link.attrib["href"] == 'x"onclick="y'
    assert "onclick" not in link.attrib


def test_every_drawing_says_what_it_is() -> None:
    root = ET.fromstring(to_svg(one(Rect(0, 0, 5, 5, PEN)), "a"))
    assert root.attrib["role"] == "img"
    assert root.attrib["aria-labelledby"] == "a-title"
    by_id = {e.get("id"): e.text for e in root.iter() if e.get("id")}
    assert by_id == {"a-title": "A title", "a-desc": "What it shows"}


def test_a_drawing_with_links_lets_a_reader_reach_them() -> None:
    linked = Group((Circle(1, 1, 1, PEN),), link="stations/press.html", title="7 Press")
    root = ET.fromstring(to_svg(one(linked)))
    assert root.attrib["role"] == "group"  # the parts of an img cannot be reached
    link = root.find(f"{SVG}a")
    assert link is not None
    assert link.findtext(f"{SVG}title") == "7 Press"


def test_two_drawings_in_one_page_share_no_id() -> None:
    drawing = one(Rect(0, 0, 5, 5, Pen("hatch")), hatch=2.0)
    ids = [e.get("id") for key in ("a", "b") for e in elements(to_svg(drawing, key)) if e.get("id")]
    assert len(ids) == len(set(ids)) == 6
    assert 'fill="url(#a-hatch)"' in to_svg(drawing, "a")


def test_paper_is_measured_in_millimetres_and_screens_in_pixels() -> None:
    assert ET.fromstring(to_svg(one(unit="mm"))).attrib["width"] == "100mm"
    assert ET.fromstring(to_svg(one())).attrib["width"] == "100"


def test_a_print_writer_gets_the_shapes_without_words_and_the_words_beside_them() -> None:
    inner = Group((Label(3, 4, "deep", 3), Circle(1, 1, 1, PEN)))
    drawing = one(Label(1, 2, "first", 3), inner)
    bare = to_svg(drawing, labels=False)
    assert "<text" not in bare
    assert "<circle" in bare
    assert [label.text for label in labels_of(drawing.items)] == ["first", "deep"]


def test_colours_follow_the_page_or_stand_alone() -> None:
    drawing = one(Line((0, 0), (1, 1), Pen(stroke="ink", width=1)))
    assert 'stroke="var(--ink)"' in to_svg(drawing)
    assert f'stroke="{TOKENS["ink"]}"' in to_svg(drawing, colours=paper_colour)
    assert web_colour("safety-red") == paper_colour("safety-red") == FIXED["safety-red"]


def test_the_colours_are_those_of_the_page() -> None:
    sheets = "\n".join(p.read_text() for p in resource("site_config").rglob("*.css"))
    for name in ("paper", "sheet", "ink", "ink-soft", "line", "line-strong", "accent"):
        assert f"--{name}: {TOKENS[name]}" in sheets
    for name in ("safety-red", "safety-blue", "safety-yellow", "safety-green"):
        assert f"--{name}: {FIXED[name]}" in sheets


def test_an_arc_ends_where_it_should() -> None:
    assert arc((0, 0), 10, 0, 90) == "M10 0A10 10 0 0 1 0 10"
    assert arc((0, 0), 10, 0, 270) == "M10 0A10 10 0 1 1 0 -10"


def test_a_polygon_keeps_its_holes() -> None:
    ring = ((0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0))
    hole = ((1.0, 1.0), (2.0, 1.0), (2.0, 2.0), (1.0, 2.0))
    svg = to_svg(one(Polygon(ring, PEN, (hole,))))
    assert "M0 0L4 0L4 4L0 4ZM1 1L2 1L2 2L1 2Z" in svg
    assert 'fill-rule="evenodd"' in svg


def test_the_output_is_valid_svg(demonstration: Atlas, foot: Foot) -> None:
    station = demonstration.shop.stations_by_number[5]
    for drawing in (
        one(Path("M0 0L1 1", Pen(stroke="ink", width=1, dash=(1, 2), round=True))),
        plan.wide(demonstration, lambda station: f"{station.id}.html"),
        plan.phone(demonstration),
        sheet.draw(demonstration, foot),
        card.draw(demonstration, station, foot),
    ):
        check_against_the_standard(to_svg(drawing, colours=paper_colour))


_SVG2 = {"href", "role", "aria-labelledby", "aria-describedby", "aria-hidden", "class"}
"""Attributes of SVG 2 and ARIA, which the older standard's tables do not know."""


def check_against_the_standard(svg: str) -> None:
    """Hold every element and attribute against the tables of SVG 1.1."""
    standard = get_validator("full", debug=True)
    for element in elements(svg):
        name = element.tag.removeprefix(SVG)
        for key, value in element.attrib.items():
            if key not in _SVG2 and not key.startswith("data-"):
                standard.check_svg_attribute_value(name, key, value)


def test_the_same_drawing_is_written_the_same(demonstration: Atlas, foot: Foot) -> None:
    again = Atlas(demonstration.shop)
    for draw in (plan.wide, plan.phone):
        assert to_svg(draw(demonstration)) == to_svg(draw(again))
    station = demonstration.shop.stations_by_number[5]
    first, second = (card.draw(atlas, station, foot) for atlas in (demonstration, again))
    assert to_svg(first) == to_svg(second)
