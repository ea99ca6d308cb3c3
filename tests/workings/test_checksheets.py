"""Opening, closing and upkeep sheets of a shop whose every line can be counted by hand."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from generator.shop.shop import Shop
from generator.workings import checksheets
from generator.workings.checksheets import Sheet
from generator.workings.running import Running
from tests.small import SMALLEST, shop_with

AS_OF = dt.date(2026, 3, 10)
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
water:
  sink: {at: "5800, 100 mm", kind: tap and drain}
equipment:
  bottle: {kind: extinguisher, name: Bottle, at: "1000, 0 mm"}
  red: {kind: emergency-stop, name: Red, at: "2000, 0 mm", isolates: [press, saw]}
  switch: {kind: isolator, name: Switch, at: "2200, 0 mm", isolates: [press]}
"""
)
MACHINES = """
press:
  name: Press
  kind: platen-press
  station: cutting
  emergency_stop: true
  heat: {heat_up: 40 min, soak: 20 min, cool_down: 90 min, highest: 220 °C}
  guard_openings:
    - {where: The side screen, shape: slot, opening: 20 mm, distance: 300 mm, interlocked: true}
  lock_out: [Turn it off, Hang the lock]
  upkeep:
    platens: {what: Level the platens, every: 1 month, lock_out: true, uses: [shim], tools: [level]}
    look: {what: Look at the hoses, every: 1 month}
saw: {name: Saw, kind: band-saw, station: cutting}
"""
TOOLS = """
level: {name: Level, kept_at: cutting, count: 2, use: Platens, check: The bubble is whole.}
hook: {name: Hook, kept_at: cutting, use: Chips}
"""
THINGS = """
shim: {name: Shims, kind: spare, unit: piece, kept_at: cutting, stock: 3, least: 1, lead_time: 9 d}
gloves: {name: Gloves, kind: protection, unit: pair, kept_at: cutting, stock: 9, least: 4,
  lead_time: 9 d, use_per_week: 1}
"""
PROCEDURES = """
open-up:
  name: Open up
  kind: opening
  level: authorised
  takes: 9 min
  done_when: Open
  steps: [{do: Go, key_point: In, reason: Open}]
"""


def shop_of(folder: Path, **more: str) -> Shop:
    files = {
        "room": ROOM,
        "machines": MACHINES,
        "tools": TOOLS,
        "consumables": THINGS,
        "procedures": PROCEDURES,
    }
    return shop_with(folder, **{**files, **more})


def lines(sheet: Sheet) -> dict[str, list[tuple[str, str]]]:
    plain = str.maketrans({"\u202f": " "})
    return {
        section.title: [(x.do.translate(plain), x.expects.translate(plain)) for x in section.lines]
        for section in sheet.sections
    }


def test_opening_walks_the_room_then_each_station(tmp_path: Path) -> None:
    sheet = checksheets.opening(Running(shop_of(tmp_path), AS_OF))
    assert lines(sheet) == {
        "Ways out, and what must be found at once": [
            ("Green door: unlocked, opens, nothing before it", ""),
            ("Bottle: there, whole, nothing before it", ""),
        ],
        "Red buttons, with every machine off": [
            ("Red: press it, try to start, pull it out again", "dead: Press, Saw"),
        ],
        "1 Cutting": [
            ("Press, the side screen: opened, it must not start", ""),
            ("Press: its own red button holds it off", ""),
            ("Press: on 60 min before it is wanted, not sooner", "on at __:__"),
            ("Puller runs; a strip of paper is drawn to Slot", ""),
            ("Level: the bubble is whole", ""),
        ],
    }
    assert sheet.count == 8
    assert [p.id for p in sheet.procedures] == ["open-up"]


def test_what_is_out_of_use_or_late_stands_on_the_sheet(tmp_path: Path) -> None:
    out = MACHINES.replace(
        "  emergency_stop: true",
        "  emergency_stop: true\n  out_of_use: {since: 2026-03-09, because: Leak}",
    )
    sheet = lines(checksheets.opening(Running(shop_of(tmp_path, machines=out), AS_OF)))
    assert sheet["Stays off today"] == [("Press (out of use): locked, and its signs hang", "")]
    assert sheet["1 Cutting"] == [("Level: the bubble is whole", "")]
    log = "date,machine,task\n2026-02-09,press,look\n2026-02-10,press,platens\n"
    late = lines(checksheets.opening(Running(shop_of(tmp_path, upkeep_csv=log), AS_OF)))
    assert ("Press: upkeep is late: look at the hoses", "") in late["1 Cutting"]
    assert not any("level the platens" in do for do, _expects in late["1 Cutting"])


def test_closing_ends_with_power_and_doors_and_counts_what_is_there(tmp_path: Path) -> None:
    lent = "out,tool\n2026-03-09,level\n2026-03-01,hook\n"
    sheet = checksheets.closing(Running(shop_of(tmp_path, loans_csv=lent), AS_OF))
    assert lines(sheet) == {
        "Heat off": [
            ("Press: empty and off; it is cold after 90 min", "off at __:__, reads ____ °C")
        ],
        # one of two levels is out and so is the only hook; shims are counted when they are used
        "1 Cutting": [("Level", "1"), ("Gloves", "more than 4 × pair, or order")],
        "Water and fans": [
            ("Water is shut off at every tap", "1"),
            ("Puller: off last of all, when nothing is hot", ""),
        ],
        "Power off, when nothing is hot": [("Switch: Press", "0")],
        "Last": [("Nobody is left inside", ""), ("Green door: locked", "")],
    }


@pytest.mark.parametrize(("locked", "steps"), [("true", 2), ("false", 0)])
def test_a_machines_upkeep_brings_its_lock_out_parts_and_tools(
    tmp_path: Path, locked: str, steps: int
) -> None:
    machines = MACHINES.replace("lock_out: true", f"lock_out: {locked}")
    (sheet,) = checksheets.upkeep(Running(shop_of(tmp_path, machines=machines), AS_OF))
    assert sheet.machine.id == "press"
    assert sorted(task.task.id for task in sheet.tasks) == ["look", "platens"]
    assert len(sheet.lock_out) == steps
    assert [e.id for e in sheet.isolators] == ["switch"]
    assert ([c.id for c in sheet.parts], [t.id for t in sheet.tools]) == (["shim"], ["level"])


def test_a_shop_with_nothing_to_check_still_has_its_ways_out(tmp_path: Path) -> None:
    sheet = checksheets.opening(Running(shop_with(tmp_path), AS_OF))
    assert list(lines(sheet)) == ["Ways out, and what must be found at once"]
