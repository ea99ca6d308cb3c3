"""The risk assessment as one page: the order, the hierarchy, and where each control is."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from generator.handbook import book
from tests.small import SMALLEST, shop_with

HAZARDS = """
small: &small
  name: Small thing
  harm: Scratch
  who: [all]
  before: {likelihood: 2, severity: 2}
  controls:
    - {kind: protect, what: Gloves, sign: M009}
    - {kind: engineer, what: A lid, machine: granulator}
  after: {likelihood: 1, severity: 2}
  reviewed: 2026-01-01
  review_every: 1 month
big:
  name: Big thing
  harm: Loses a hand
  who: [keepers]
  before: {likelihood: 3, severity: 5}
  controls:
    - {kind: engineer, what: A guard, machine: granulator}
  after: {likelihood: 1, severity: 5}
  action: {do: Try the switch, by: keeper, due: 2026-02-01}
"""


def test_it_is_one_document_with_the_worst_first(tmp_path: Path) -> None:
    shop = shop_with(tmp_path, hazards=HAZARDS.replace(" &small", ""))
    made = book.make(shop, dt.date(2026, 3, 10), "en")
    (page,) = [p for p in made.pages if p.path == "assessment"]
    text = page.body
    assert text.index("1. Big thing") < text.index("2. Small thing")
    assert "3 × 5 = 15 without controls; 1 × 5 = <b>5</b>" in text
    assert text.index("A lid") < text.index("Gloves")  # built in stands before worn
    assert '<a href="machines/granulator.html">Granulator</a>' in text
    assert "Try the switch: Keeper, by 1 February 2026 <b>overdue</b>" in text
    assert "next by 1 February 2026 <b>overdue</b>" in text
    assert "<b>never yet</b>" in text
    (register,) = [p for p in made.pages if p.path == "hazards"]
    assert 'href="assessment.html"' in register.body


ROOM = (
    (SMALLEST / "room.yml").read_text("utf-8")
    + """
fans:
  puller: {name: Puller, discharge: outside, extract_point: wall, power: 0.5 kW, circuit: motors}
extract_points:
  wall: {at: "0, 1000 mm", height: 2500 mm, diameter: 200 mm}
hoods:
  over: {name: Slot, station: cutting, form: canopy, opening: 600 x 600 mm, distance: 400 mm,
    fan: puller}
equipment:
  box: {kind: first-aid, name: Box, at: "1000, 0 mm"}
"""
)
PLACED = """
dust:
  name: Dust
  harm: Coughs
  who: [all]
  machines: [granulator]
  before: {likelihood: 3, severity: 3}
  controls:
    - {kind: engineer, what: Drawn off, hood: over}
    - {kind: administer, what: Washed out, equipment: box}
    - {kind: protect, what: Glasses, sign: M004}
  after: {likelihood: 1, severity: 3}
  reviewed: 2026-01-01
  review_every: 1 year
"""
ALTERED = """
granulator:
  name: Granulator
  kind: granulator
  station: cutting
  altered: [{day: 2026-02-02, what: A larger screen}]
"""


def test_each_control_leads_to_where_it_is_and_a_changed_machine_to_a_review(
    tmp_path: Path,
) -> None:
    shop = shop_with(tmp_path, hazards=PLACED, room=ROOM, machines=ALTERED)
    made = book.make(shop, dt.date(2026, 3, 10), "en")
    pages = {page.path: page.body for page in made.pages}
    for body in (pages["assessment"], pages["hazards"]):
        assert '<a href="stations/cutting.html">Slot</a>' in body
        assert '<a href="room/floor.html">Box</a>' in body
        assert '<a href="room/signs.html">M004 ' in body
    again = "“Dust” was reviewed on 1 January 2026, before Granulator was changed"
    assert f"Review it again:</b> {again}" in pages["assessment"]
