"""Air that has no way to go is a fault at its own line, never a number."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.ground.finding import Finding, Severity
from generator.shop.load import load_shop
from tests.small import SMALLEST, folder_with, shop_with

POINT = """
extract_points:
  north-wall: {at: "3000, 4000 mm", height: 2400 mm, diameter: 200 mm}
"""


def _room(more: str) -> str:
    return (SMALLEST / "room.yml").read_text(encoding="utf-8") + more


def _faults(folder: Path, more: str) -> list[Finding]:
    return list(load_shop(folder_with(folder, room=_room(more))).findings)


@pytest.mark.parametrize(
    ("rule", "path", "more"),
    [
        (
            "data.flow-without-hood",
            "flow",
            "fans:\n  wall: {name: Wall fan, discharge: outside, flow: 900 m³/h}\n",
        ),
        (
            "data.air-way",
            "discharge",
            POINT + "fans:\n  box: {name: Filter box, discharge: recirculating,"
            " extract_point: north-wall}\n",
        ),
        (
            "data.air-way",
            "fan",
            "fans:\n  fresh: {name: Fresh air, discharge: supply, flow: 900 m³/h}\n"
            "hoods:\n  mouth: {name: Mouth, station: cutting, form: plain,"
            " opening: 300 x 200 mm, distance: 200 mm, fan: fresh}\n",
        ),
        (
            "data.measured-nothing",
            "measured",
            POINT + "fans:\n  wall: {name: Wall fan, discharge: outside,"
            " extract_point: north-wall, measured: 2026-03-02}\n",
        ),
    ],
)
def test_air_that_cannot_go_that_way_is_a_fault(
    tmp_path: Path, rule: str, path: str, more: str
) -> None:
    [fault] = _faults(tmp_path, more)
    assert fault.rule == rule
    assert fault.severity is Severity.FAULT
    assert f"`{path}`" in fault.says
    lines = _room(more).splitlines()
    written = lines[fault.origin.line - 1][fault.origin.column - 1 :]
    assert written.startswith(lines[fault.origin.line - 1].split(f"{path}: ")[1][:4])
    assert fault.mend


def test_a_fan_that_only_draws_through_hoods_needs_no_extract_point(tmp_path: Path) -> None:
    room = _room(
        "fans:\n  fan: {name: Fan, discharge: outside, flow: 900 m³/h}\n"
        "hoods:\n  mouth: {name: Mouth, station: cutting, form: plain,"
        " opening: 300 x 200 mm, distance: 200 mm, fan: fan}\n"
    )
    assert shop_with(tmp_path, room=room).room.hoods["mouth"].fan == "fan"


def test_an_emission_names_a_substance_that_has_a_limit(tmp_path: Path) -> None:
    machines = (SMALLEST / "machines.yml").read_text(encoding="utf-8") + (
        "  settings:\n    - polymer: pp\n      emissions:\n"
        "        - {substance: styrenne, rate: 40 mg/h, measured: 2026-03-02}\n"
    )
    [fault] = load_shop(folder_with(tmp_path, machines=machines)).findings
    assert fault.rule == "data.unknown-id"
    assert fault.example == "substance: styrene"
