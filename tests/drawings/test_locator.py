from __future__ import annotations

import math
import re
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from generator.drawings import locator
from generator.drawings.atlas import Atlas
from generator.drawings.ink import labels_of, to_svg
from generator.drawings.locator import ON_CARD, ON_SCREEN, Scene
from generator.drawings.measures import metres
from generator.ground.wording import PSEUDO, use
from generator.workings.footprint import standing_place
from tests.benchmarks.synthetic_shop import write
from tests.drawings.conftest import loaded
from tests.drawings.reading import SVG, box_of, outside, overflowing, overlapping
from tests.small import shop_with

MACHINE = """
mill:
  name: Mill
  kind: granulator
  station: cutting
  electric: {power: 2 kW, voltage: 400 V, phases: three, circuit: motors}
"""
WALL = "equipment:\n  switch: {kind: isolator, name: Switch, at: '%s', isolates: [mill]}\n"
SCREEN = (
    "fixtures:\n  screen: {name: Screen, at: '3000, 1500 mm', size: 3000 x 100 mm, height: %s}\n"
)


def shop_of(folder: Path, room_more: str) -> Atlas:
    room = (Path(__file__).parents[1] / "shops" / "smallest" / "room.yml").read_text()
    return Atlas(shop_with(folder, machines=MACHINE, room=room + room_more))


def one(atlas: Atlas) -> Scene:
    scene = Scene(atlas, atlas.shop.stations["cutting"], ON_SCREEN, (0.0, 0.0))
    scene.item()
    return scene


def words(scene: Scene) -> list[str]:
    return [label.text for label in labels_of((scene.item(),))]


def test_every_station_of_the_demonstration(demonstration: Atlas) -> None:
    for excerpt in (ON_SCREEN, ON_CARD):
        for station in demonstration.shop.stations_by_number:
            drawing = locator.draw(demonstration, station, excerpt)
            assert overflowing(drawing) == []
            labels = list(labels_of(drawing.items))
            assert overlapping([(label.text, box_of(label)) for label in labels]) == []
            frame = (0.0, 0.0, excerpt.width, excerpt.height)
            assert not [label.text for label in labels if outside(box_of(label), frame)]
            assert labels[[label.text for label in labels].index(str(station.number))]


def test_in_a_longer_language_as_well(demonstration: Atlas) -> None:
    with use(PSEUDO):
        for station in demonstration.shop.stations_by_number:
            assert overflowing(locator.draw(demonstration, station, ON_CARD)) == []


def test_the_isolator_is_shown_with_how_far_it_is(tmp_path: Path) -> None:
    """From 300 mm before the front's middle, (3000, 2500), to the wall at (0, 2500): 3 m."""
    scene = one(shop_of(tmp_path, WALL % "0, 2500 mm"))
    assert standing_place(scene.station) == (3000, 2500)
    assert "3.0\u00a0m" in words(scene)
    says = "Switch: in sight, 3.0\u00a0m in a straight line, 1500 mm up."
    assert says in scene.described()


def test_no_way_is_shown_through_what_hides_it(tmp_path: Path) -> None:
    tall = one(shop_of(tmp_path, WALL % "3000, 0 mm" + SCREEN % "1800 mm"))
    assert "2.5\u00a0m" not in words(tall)
    assert "Switch: not in sight from here, 1500 mm up." in tall.described()
    assert "No way out is in sight from here." in tall.described()


def test_what_is_low_hides_nothing(tmp_path: Path) -> None:
    low = one(shop_of(tmp_path, WALL % "3000, 0 mm" + SCREEN % "900 mm"))
    assert "2.5\u00a0m" in words(low)
    assert "Way out in sight: Green door" in low.described()


def test_the_way_out_points_to_the_door(tmp_path: Path) -> None:
    """The door lies lower left of where somebody stands, so the sign does too."""
    scene = one(shop_of(tmp_path, ""))
    assert scene.way_out is not None
    door, far = scene.way_out
    assert door.id == "green-door"
    assert far == pytest.approx(math.hypot(3000 - 1475, 2500))
    svg = to_svg(locator.draw(scene.atlas, scene.station))
    stamp = next(e for e in ET.fromstring(svg).iter(f"{SVG}g") if "transform" in e.attrib)
    x, y = map(float, re.findall(r"[\d.]+", stamp.attrib["transform"])[:2])
    you = scene.view.at(scene.you)
    assert x < you[0]
    assert y > you[1]


def test_you_stand_where_the_working_says(demonstration: Atlas) -> None:
    for station in demonstration.shop.stations_by_number:
        scene = Scene(demonstration, station, ON_SCREEN, (10.0, 20.0))
        x, y = scene.view.at(standing_place(station))
        assert 10 <= x <= 10 + ON_SCREEN.width
        assert 20 <= y <= 20 + ON_SCREEN.height


def test_symbols_do_not_hide_one_another(demonstration: Atlas) -> None:
    for station in demonstration.shop.stations_by_number:
        scene = Scene(demonstration, station, ON_SCREEN, (0.0, 0.0))
        scene.item()
        assert overlapping(list(scene.places.items())) == []


def test_an_excerpt_does_not_grow_with_the_shop(tmp_path: Path) -> None:
    """A station in the middle of the same grid has the same neighbours in any shop."""
    sizes = []
    for count in (60, 240):
        folder = tmp_path / str(count)
        folder.mkdir()
        atlas = Atlas(loaded(write(folder, count)))
        station = atlas.shop.stations_by_number[9]
        svg = to_svg(locator.draw(atlas, station))
        sizes.append((len(svg), len(list(ET.fromstring(svg).iter()))))
    assert sizes[1][1] <= 1.1 * sizes[0][1] + 5


@pytest.mark.parametrize(
    ("mm", "said"),
    [(640, "640\u00a0mm"), (644, "640\u00a0mm"), (1000, "1.0\u00a0m"), (12345, "12.3\u00a0m")],
)
def test_how_a_distance_is_said(mm: float, said: str) -> None:
    assert metres(mm) == said
