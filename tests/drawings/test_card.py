from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from generator.drawings import card
from generator.drawings.atlas import Atlas
from generator.drawings.column import Column
from generator.drawings.foot import Foot
from generator.drawings.ink import Drawing, labels_of, paper_colour, shapes_svg, to_svg
from generator.drawings.marks import mark_symbol
from generator.drawings.station_parts import rungs
from generator.ground.wording import PSEUDO, pseudo, use
from generator.shop.records.stations import Station
from tests.drawings.reading import box_of, outside, overflowing, overlapping, texts
from tests.small import shop_with

FRAME = (7.0, 7.0, 196.0, 283.0)
READ_AT_ARM_S_LENGTH = 3.0
"""The least type on an A4 wall sheet [mm]."""


def said(drawing: Drawing) -> str:
    return " ".join(label.text for label in labels_of(drawing.items))


def faults(drawing: Drawing) -> list[object]:
    """What is wrong with a card as a sheet: words outside their room or over one another."""
    written = [(label.text, box_of(label)) for label in labels_of(drawing.items)]
    return [
        *overflowing(drawing),
        *overlapping(written),
        *(text for text, box in written if outside(box, FRAME)),
    ]


@pytest.fixture(params=["en", PSEUDO])
def language(request: pytest.FixtureRequest) -> str:
    return str(request.param)


def test_every_card_of_the_demonstration(demonstration: Atlas, foot: Foot, language: str) -> None:
    with use(language):
        for station in demonstration.shop.stations_by_number:
            assert faults(card.draw(demonstration, station, foot)) == [], station.id


def test_a_card_is_one_sheet_of_a4(demonstration: Atlas, foot: Foot) -> None:
    station = demonstration.shop.stations_by_number[0]
    root = ET.fromstring(to_svg(card.draw(demonstration, station, foot), colours=paper_colour))
    assert (root.attrib["width"], root.attrib["height"]) == ("210mm", "297mm")
    assert root.attrib["viewBox"] == "0 0 210 297"


def test_type_is_never_shrunk(demonstration: Atlas, foot: Foot, language: str) -> None:
    with use(language):
        for station in demonstration.shop.stations_by_number:
            sizes = {
                label.size: label.text
                for label in labels_of(card.draw(demonstration, station, foot).items)
            }
            small = [t for size, t in sizes.items() if size < READ_AT_ARM_S_LENGTH]
            assert all(len(text) < 8 for text in small), small  # distances within the excerpt


def test_the_number_is_largest_and_the_name_next(demonstration: Atlas, foot: Foot) -> None:
    for station in demonstration.shop.stations_by_number:
        labels = sorted(
            labels_of(card.draw(demonstration, station, foot).items), key=lambda item: -item.size
        )
        assert labels[0].text == str(station.number)
        assert labels[1].text == str(station.name)


def test_a_card_says_who_what_and_where(demonstration: Atlas, foot: Foot) -> None:
    station = next(s for s in demonstration.shop.stations.values() if s.number == 6)
    words = said(card.draw(demonstration, station, foot))
    for name in ("visitor", "inducted", "supervised", "authorised", "trainer"):
        assert name in words
    for rule in station.nevers:
        assert str(rule.say)[:12] in words
    isolator = demonstration.shop.room.equipment["isolator-granulator"]
    assert str(isolator.name) in words
    assert ">PP<" in words
    assert "Hold point:" in words
    assert "7c1e 94b0 5fd2 aa16" in words
    assert "data as of 2026-11-20" in words


def test_the_ladder_tells_alone_beside_and_kept_off() -> None:
    station = Station.model_validate(
        {
            "number": 1,
            "name": "Press",
            "purpose": "Pressing",
            "zone": "hot",
            "at": "1000, 1000 mm",
            "size": "1 x 1 m",
            "use": {"alone": "authorised", "beside": "supervised"},
        }
    )
    assert list(rungs(station)) == [
        ("visitor", ""),
        ("inducted", ""),
        ("supervised", "beside"),
        ("authorised", "alone"),
        ("trainer", "alone"),
    ]


LONG = "Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunterbeamtengesellschaft"


def wordy(words: str, machines: str = "") -> str:
    quoted = '"' + words.replace("\\", "").replace('"', "'") + '"'
    return f"""
cutting:
  number: 1
  name: {quoted}
  purpose: {quoted}
  zone: work
  at: 3000, 3200 mm
  size: 1200 x 800 mm
  working_sides:
    - {{side: front, depth: 1000 mm}}
  use: {{alone: authorised, beside: supervised, least_age: 16 years, people: 3}}
  ppe: [M003, M004, M008, M009, M010, M013]
  nevers:
    - {{say: {quoted}, why: {quoted}, sign: W017}}
    - {{say: {quoted}, why: {quoted}}}
    - {{say: {quoted}, why: {quoted}}}
  takes_in:
    - what: {quoted}
    - what: {quoted}
  gives:
    - what: {quoted}
{machines}"""


@pytest.mark.parametrize(
    "words", [LONG, f"{LONG} " * 12, pseudo("Put a hand in. " * 30), "a" * 900, "."]
)
@pytest.mark.parametrize("tongue", ["en", PSEUDO])
def test_no_words_break_the_sheet(tmp_path: Path, foot: Foot, words: str, tongue: str) -> None:
    atlas = Atlas(shop_with(tmp_path, stations=wordy(words)))
    with use(tongue):
        drawing = card.draw(atlas, atlas.shop.stations["cutting"], foot)
    assert faults(drawing) == []


@given(st.text(st.characters(categories=("L", "M", "N", "P", "S", "Zs")), min_size=1, max_size=400))
@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_whatever_is_written_stays_in_its_column(text: str) -> None:
    column = Column(10, 10, 60)
    column.heading(text, 5, text)
    column.text(text, 3.4, most=3)
    column.text(text, 3.4, bold=True, indent=12)
    drawing = Drawing(210, 100_000, tuple(column.items), "", "")
    assert overflowing(drawing) == []
    assert column.y >= max((label.y for label in labels_of(drawing.items)), default=0)


def test_what_is_left_out_is_told(tmp_path: Path, foot: Foot) -> None:
    """Thirty steps do not stand on one sheet; the card says how many are missing."""
    step = "    - {do: Turn the handle round, key_point: slowly, reason: it is stiff}\n"
    procedures = f"""
cut:
  name: Cut
  kind: run
  station: cutting
  level: authorised
  takes: 10 min
  done_when: It is cut
  steps:
{step * 60}"""
    atlas = Atlas(shop_with(tmp_path, procedures=procedures))
    drawing = card.draw(atlas, atlas.shop.stations["cutting"], foot)
    words = said(drawing)
    shown = words.count("Turn the handle round")
    assert 0 < shown < 60
    assert f"{60 - shown} more steps on its page in the handbook" in words
    assert faults(drawing) == []


NEVER_HEATED = """
pvc:
  code: PVC
  name: Pipe
  status: refused
  why: Gives off acid
"""


def test_a_polymer_that_is_never_heated_has_the_struck_mark(tmp_path: Path, foot: Foot) -> None:
    stations = wordy("Cut") + "    - {what: Pipe, polymers: [pvc]}\n"
    atlas = Atlas(shop_with(tmp_path, polymers=NEVER_HEATED, stations=stations))
    svg = to_svg(card.draw(atlas, atlas.shop.stations["cutting"], foot))
    assert ">PVC<" in [written.text for written in texts(svg)]
    assert shapes_svg(mark_symbol("PVC", (8.4, 6.0), 0.42, True).shapes) in svg
    assert shapes_svg(mark_symbol("PVC", (8.4, 6.0), 0.42).shapes) not in svg


def test_what_is_not_there_is_said(smallest: Atlas, foot: Foot) -> None:
    """The smallest shop's machine has a drive, and nothing to turn it off with."""
    drawing = card.draw(smallest, smallest.shop.stations["cutting"], foot)
    assert faults(drawing) == []
    assert "No extinguisher in sight" in said(drawing)
    assert "No isolator is recorded" in said(drawing)
    assert drawing.desc.startswith("Clean plastic is cut into flake here Alone: authorised.")
