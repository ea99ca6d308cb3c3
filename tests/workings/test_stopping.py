"""Stops and isolators from where somebody works, in a room worked by hand.

The station's front edge lies at y 2800 mm from x 2400 to 3600. Shoulders are 600 mm wide, so
somebody stands at y 2500 with their middle anywhere from x 2700 to 3300.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.ground.finding import Severity
from generator.shop.shop import Shop
from generator.workings.stopping import study
from tests.small import SMALLEST, shop_with

ROOM = (SMALLEST / "room.yml").read_text("utf-8")
STATIONS = (SMALLEST / "stations.yml").read_text("utf-8")
RACK = """
rack:
  number: 2
  name: Rack
  purpose: Crates
  zone: work
  at: 4500, 2000 mm
  size: 600 x 2400 mm
  height: {height} mm
  use: {{alone: inducted}}
"""


def room_with(
    folder: Path, *things: str, own: str = "false", rack: int = 0, more: str = ""
) -> Shop:
    machine = (
        "granulator: {name: Granulator, kind: granulator, station: cutting, run_down: 4 s, "
        + (f"emergency_stop: {own}, " if own else "")
        + "electric: {power: 2 kW, voltage: 400 V, phases: three, circuit: motors}"
        + more
        + "}\n"
    )
    equipment = "equipment:\n" + "".join(f"  {thing}\n" for thing in things) if things else ""
    stations = STATIONS + (RACK.format(height=rack) if rack else "")
    return shop_with(folder, room=ROOM + equipment, machines=machine, stations=stations)


def thing(id_: str, kind: str, at: str) -> str:
    return f"{id_}: {{kind: {kind}, name: {id_}, at: '{at} mm', isolates: [granulator]}}"


NEAR = thing("switch", "isolator", "2000, 3200")


def rules(shop: Shop) -> list[tuple[str, Severity]]:
    return [(f.rule, f.severity) for f in study(shop).survey.findings]


@pytest.mark.parametrize(
    ("x", "far"),
    [("700", False), ("600", True)],  # 2700 less 700 is the 2000 mm in reach
)
def test_a_stop_is_in_reach_to_two_metres(tmp_path: Path, x: str, far: bool) -> None:
    shop = room_with(tmp_path, NEAR, thing("red", "emergency-stop", f"{x}, 2500"))
    assert rules(shop) == [("stopping.stop-far", Severity.FIX)] * far
    if far:
        (found,) = study(shop).survey.findings
        assert (
            "“red”, is 2.1\u202fm from the front of station 1 (Cutting); 2\u202fm is in reach"
            in found.says
        )


def test_a_stop_of_its_own_is_always_in_reach(tmp_path: Path) -> None:
    assert rules(room_with(tmp_path, NEAR, own="true")) == []


@pytest.mark.parametrize(
    ("own", "switch", "rule", "severity"),
    [
        ("false", "2000, 3200", "stopping.no-stop", Severity.NOTE),
        ("false", "100, 2500", "stopping.no-stop", Severity.STOP),
        ("", "2000, 3200", "stopping.no-stop", Severity.ASK),
    ],
)
def test_without_a_stop_the_facts_decide(
    tmp_path: Path, own: str, switch: str, rule: str, severity: Severity
) -> None:
    shop = room_with(tmp_path, thing("switch", "isolator", switch), own=own)
    assert rules(shop) == [(rule, severity)]


def test_no_isolator_is_for_the_electrician(tmp_path: Path) -> None:
    (found,) = study(room_with(tmp_path, own="true")).survey.findings
    assert (found.rule, found.severity) == ("stopping.no-isolator", Severity.ASK)
    assert found.asks == "electrician"


@pytest.mark.parametrize(("height", "hidden"), [(1400, False), (1500, True)])
def test_a_tall_rack_hides_what_hangs_behind_it(tmp_path: Path, height: int, hidden: bool) -> None:
    switch = thing("switch", "isolator", "6000, 2500")
    shop = room_with(tmp_path, switch, own="true", rack=height)
    assert rules(shop) == [("stopping.isolator-hidden", Severity.FIX)] * hidden
    view = study(shop).furthest("granulator", "switch")
    assert view is not None
    assert (view.distance_mm, view.in_sight) == (2700, not hidden)


def test_one_that_is_seen_is_enough(tmp_path: Path) -> None:
    behind = thing("behind", "isolator", "6000, 2500")
    assert rules(room_with(tmp_path, behind, NEAR, own="true", rack=2000)) == []


def test_a_step_aside_shows_what_the_machine_itself_hides(tmp_path: Path) -> None:
    """On the wall beside the bench: seen from x 2100, not along the front itself."""
    tall = STATIONS.replace("  working_sides", "  height: 1700 mm\n  working_sides")
    switch = "equipment:\n  " + thing("switch", "isolator", "2150, 4000") + "\n"
    machine = (
        "granulator: {name: G, kind: granulator, station: cutting, run_down: 4 s, "
        "emergency_stop: true, electric: {power: 2 kW, voltage: 400 V, phases: three, "
        "circuit: motors}}\n"
    )
    shop = shop_with(tmp_path, room=ROOM + switch, stations=tall, machines=machine)
    assert rules(shop) == []


def test_what_cannot_hurt_needs_no_stop(tmp_path: Path) -> None:
    scale = (
        "scale: {name: Scale, kind: scale, station: cutting, "
        "electric: {power: 0.1 kW, voltage: 230 V, phases: one, circuit: motors}}\n"
    )
    assert study(shop_with(tmp_path, machines=scale)).survey.findings == ()
