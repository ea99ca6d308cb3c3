"""A handbook is made of any shop that can be read, however odd its room: never a traceback."""

from __future__ import annotations

import datetime as dt
import tempfile
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from generator.ground.wording import PSEUDO
from generator.handbook import book
from generator.shop.examples import as_yaml
from generator.shop.load import load_shop
from tests.small import folder_with

DAY = dt.date(2026, 10, 21)
IDS = ("cutting", "bench", "shelf", "sink")
_STEPS = st.integers(-1, 13).map(lambda n: n * 500)
_SIDES = st.lists(
    st.fixed_dictionaries(
        {
            "side": st.sampled_from(["front", "back", "left", "right"]),
            "depth": st.sampled_from(["1 mm", "600 mm", "9 m"]),
            "service": st.booleans(),
        }
    ),
    max_size=3,
    unique_by=lambda side: side["side"],
)


@st.composite
def stations(draw: st.DrawFn) -> dict[str, Any]:
    """Stations anywhere: on each other, in a wall, in a doorway, out of the room."""
    ids = IDS[: draw(st.integers(1, len(IDS)))]
    return {id_: _station(draw, number, ids) for number, id_ in enumerate(ids, 1)}


def _station(draw: st.DrawFn, number: int, ids: tuple[str, ...]) -> dict[str, Any]:
    others = [id_ for n, id_ in enumerate(ids, 1) if n != number]
    gives = [{"what": "Flake", "station": draw(st.sampled_from(others))}] if others else []
    return {
        "number": number,
        "name": f"*No. {number}* <b>",
        "purpose": "It stands here",
        "zone": "work",
        "at": f"{draw(_STEPS)}, {draw(_STEPS)} mm",
        "size": draw(st.sampled_from(["1 x 1 mm", "1200 x 800 mm", "6 x 4 m", "20 x 0.2 m"])),
        "turn": f"{draw(st.sampled_from([0, 45, 90, 359]))}°",
        "working_sides": draw(_SIDES),
        "use": {"alone": draw(st.sampled_from(["visitor", "authorised", "maintainer"]))},
        "gives": gives,
    }


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(stations=stations(), language=st.sampled_from(["en", PSEUDO]))
def test_a_handbook_is_made_wherever_things_stand(stations: dict[str, Any], language: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        loaded = load_shop(folder_with(Path(folder), stations=as_yaml(stations) + "\n"))
    if loaded.shop is None:
        assert loaded.findings
        return
    made = book.make(loaded.shop, DAY, language)
    assert {f"stations/{id_}" for id_ in stations} <= {page.path for page in made.pages}


FACING = """
cutting:
  number: 1
  name: Cutting
  purpose: Plastic is cut here
  zone: work
  at: 3000, 3200 mm
  size: 1200 x 800 mm
  working_sides: [{side: front, depth: 1 m}]
  use: {alone: authorised}
  gives: [{what: Flake, station: bench}]
bench:
  number: 2
  name: Bench
  purpose: Flake is weighed here
  zone: work
  at: 3000, 1500 mm
  size: 1200 x 800 mm
  working_sides: [{side: back, depth: 1 m}]
  use: {alone: authorised}
"""


def test_two_stations_worked_at_from_one_place_have_no_walk_between_them(tmp_path: Path) -> None:
    loaded = load_shop(folder_with(tmp_path, stations=FACING))
    assert loaded.shop is not None
    made = book.make(loaded.shop, DAY, "en")
    assert "room/floor" in {page.path for page in made.pages}
