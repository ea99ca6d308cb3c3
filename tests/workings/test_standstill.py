"""What stands still with a machine, in a shop worked by hand."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from generator.ground.finding import Severity
from generator.shop.shop import Shop
from generator.workings import commissioning, standstill
from tests.small import shop_with
from tests.workings.test_running import FAN, PRESSES, making

AS_OF = dt.date(2026, 3, 10)
ROOM = (Path(__file__).parents[1] / "shops" / "smallest" / "room.yml").read_text("utf-8") + FAN
SESSION = """visit:
  name: Visit
  for: Anybody
  weekday: monday
  start: "10:00"
  end: "12:00"
  learners: {count: 4, age_from: 18 years, age_to: 60 years, adults: 0}
  groups: 1
  staff: [{role: keeper, count: 1}]
  arrival: 5 min
  tidy: 5 min
  activities:
    look: {name: Look, station: cutting, takes: 9 min, learners: watch, supervisor: authorised,
      machines: [press]}
    make: {name: Make, station: cutting, takes: 9 min, learners: do, supervisor: authorised,
      makes: {product: board, blend: plain}}
    tell: {name: Tell, station: cutting, takes: 9 min, learners: watch, supervisor: inducted}
"""
PRESSING = """press-it:
  name: Press it
  kind: run
  machines: [press]
  level: authorised
  takes: 20 min
  done_when: Done
  steps: [{do: Go, key_point: Slowly, reason: Heat}]
"""


def pressing(folder: Path, fits: str = "press", out: str = "", of: str = "press") -> Shop:
    machines = PRESSES
    if out:
        still = f"{of}:\n  out_of_use: {{since: {out}, because: A hose leaks}}\n"
        machines = with_lines(PRESSES, of, still)
    return shop_with(
        folder,
        room=ROOM,
        machines=machines,
        sessions=SESSION,
        procedures=PRESSING,
        **making(fits),
    )


def with_lines(machines: str, id_: str, lines: str) -> str:
    """The machines with a line more in one of them, which stands on one line."""
    (old,) = [line for line in machines.splitlines() if line.startswith(f"{id_}:")]
    extra = lines.split("\n", 1)[1].strip()
    return machines.replace(old, old.rstrip("}") + ", " + extra + "}")


def test_all_that_hangs_on_a_press(tmp_path: Path) -> None:
    shop = pressing(tmp_path)
    still = standstill.of(shop, shop.machines["press"])
    assert [p.id for p in still.procedures] == ["press-it"]
    assert [(s.id, [a.id for a in rows]) for s, rows in still.sessions] == [
        ("visit", ["look", "make"])
    ]
    assert [m.id for m in still.moulds] == ["slab"]
    assert [p.id for p in still.products] == ["board"]
    assert not still.stops_nothing


def test_a_second_press_keeps_the_mould_and_what_is_made_in_it(tmp_path: Path) -> None:
    shop = pressing(tmp_path, "press, spare")
    still = standstill.of(shop, shop.machines["press"])
    assert (still.moulds, still.products) == ((), ())
    assert [[a.id for a in rows] for _s, rows in still.sessions] == [["look"]]
    assert standstill.of(shop, shop.machines["spare"]).stops_nothing


def test_without_its_fan_a_hot_machine_stays_cold_and_takes_its_work_along(tmp_path: Path) -> None:
    shop = pressing(tmp_path, out="2026-03-10", of="puller")
    found = standstill.survey_of(shop, AS_OF).findings
    assert [(f.rule, f.severity, f.subject) for f in found] == [
        ("standstill.out", Severity.FIX, "machines/puller"),
        ("standstill.cold", Severity.STOP, "machines/press"),
        ("standstill.cold", Severity.STOP, "machines/spare"),
        ("standstill.session", Severity.STOP, "sessions/visit"),
        ("standstill.session", Severity.FIX, "sessions/visit"),
    ]


@pytest.mark.parametrize(
    ("out", "rules"),
    [
        ("", []),
        ("2026-03-11", []),  # tomorrow
        ("2026-03-10", ["standstill.out", "standstill.session", "standstill.session"]),
    ],
)
def test_a_machine_is_out_from_its_day(tmp_path: Path, out: str, rules: list[str]) -> None:
    found = standstill.survey_of(pressing(tmp_path, out=out), AS_OF).findings
    assert [f.rule for f in found] == rules
    if rules:
        assert "since 10 March 2026: A hose leaks" in found[0].says
        # it names the press itself; the other only needs its mould
        assert [f.severity for f in found[1:]] == [Severity.STOP, Severity.FIX]


@pytest.mark.parametrize(
    ("fits", "activities"), [("press", ["Look", "Make"]), ("press, spare", ["Look"])]
)
def test_an_unsigned_machine_stops_what_a_session_makes_on_it(
    tmp_path: Path, fits: str, activities: list[str]
) -> None:
    unsigned = with_lines(PRESSES, "press", "press:\n  first_heat: [{check: guards}]\n")
    shop = shop_with(tmp_path, machines=unsigned, sessions=SESSION, **making(fits))
    found = commissioning.survey_of(shop).findings
    used = [f for f in found if f.rule == "commissioning.used"]
    assert [f.severity for f in used] == [Severity.STOP] * len(activities)
    assert [f.says.split("”")[0].lstrip("“") for f in used] == activities
