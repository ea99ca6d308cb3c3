"""Footprints, working sides and lines of sight on rooms small enough to check with a ruler."""

import math
from pathlib import Path

import pytest
from shapely import Polygon

from generator.shop.shop import Shop
from generator.workings.footprint import (
    clear_area,
    footprint,
    outward,
    side_middle,
    standing_place,
)
from generator.workings.sight import Sight
from tests.small import shop_with


def station(id_: str, number: int, at: str, rest: str = "") -> str:
    return (
        f"{id_}:\n  number: {number}\n  name: {id_}\n  purpose: It stands there\n  zone: work\n"
        f"  at: {at}\n  size: 1000 x 600 mm\n  use: {{alone: visitor}}\n{rest}"
    )


def one(folder: Path, rest: str = "") -> Shop:
    return shop_with(folder, stations=station("cutting", 1, "3000, 2000 mm", rest))


def near(a: tuple[float, float], b: tuple[float, float]) -> bool:
    return math.dist(a, b) < 1e-6


def test_a_station_stands_about_its_centre(tmp_path: Path) -> None:
    ring = footprint(one(tmp_path).stations["cutting"])
    assert Polygon(ring).bounds == (2500, 1700, 3500, 2300)


def test_a_quarter_turn_is_counter_clockwise(tmp_path: Path) -> None:
    turned = one(tmp_path, "  turn: 90°\n").stations["cutting"]
    assert Polygon(footprint(turned)).bounds == pytest.approx((2700, 1500, 3300, 2500))
    assert near(outward(turned, "front"), (1, 0)), "the front faced down and now faces right"
    assert near(side_middle(turned, "front"), (3300, 2000))


def test_clear_floor_lies_before_its_side(tmp_path: Path) -> None:
    sides = "  working_sides: [{side: front, depth: 900 mm}, {side: left, depth: 700 mm}]\n"
    made = one(tmp_path, sides).stations["cutting"]
    front, left = (Polygon(clear_area(made, w)) for w in made.working_sides)
    assert front.bounds == (2500, 800, 3500, 1700)
    assert left.bounds == (1800, 1700, 2500, 2300)
    assert near(standing_place(made), (3000, 1400))


KIT = """
equipment:
  seen: {kind: extinguisher, name: Seen, at: "3000, 0 mm"}
  hidden: {kind: extinguisher, name: Hidden, at: "3000, 4000 mm"}
"""


def room_with(extra: str) -> str:
    text = (Path(__file__).parent.parent / "shops" / "smallest" / "room.yml").read_text("utf-8")
    return text.rstrip() + "\n" + extra.lstrip()


def seen_from(shop: Shop) -> list[str]:
    things = shop.equipment_of_kind("extinguisher")
    return [s.equipment.id for s in Sight(shop).from_station(shop.stations["cutting"], things)]


def test_a_tall_thing_hides_what_is_behind_it(tmp_path: Path) -> None:
    stations = station("cutting", 1, "3000, 1200 mm") + station(
        "rack", 2, "3000, 2800 mm", "  height: 1900 mm\n"
    )
    made = shop_with(tmp_path, stations=stations, room=room_with(KIT))
    assert seen_from(made) == ["seen"]


def test_a_low_thing_hides_nothing(tmp_path: Path) -> None:
    stations = station("cutting", 1, "3000, 1200 mm") + station("table", 2, "3000, 2800 mm")
    made = shop_with(tmp_path, stations=stations, room=room_with(KIT))
    assert seen_from(made) == ["seen", "hidden"]


L_SHAPED = """
outline: ["0, 0 mm", "6000, 0 mm", "6000, 4000 mm", "3000, 4000 mm", "3000, 2000 mm", "0, 2000 mm"]
"""


def test_a_wall_is_not_seen_through(tmp_path: Path) -> None:
    text = room_with("equipment:\n  far: {kind: extinguisher, name: Far, at: '3300, 3900 mm'}\n")
    start = text.index("outline:")
    text = text[:start] + L_SHAPED.strip() + "\n" + text[text.index("ceiling:") :]
    text = text.replace("panel: 0, 3000 mm", "panel: 0, 1000 mm")
    stations = station("cutting", 1, "600, 1200 mm")
    made = shop_with(tmp_path, stations=stations, room=text)
    assert seen_from(made) == []
