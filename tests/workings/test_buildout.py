"""A shop taken apart by its stages, worked by hand."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from generator.ground.finding import Severity
from generator.shop.load import load_shop
from generator.shop.shop import Shop
from generator.workings.buildout import Arrivals, BuildOut, shop_at, study
from generator.workings.partial import without
from tests.building import CONTENT
from tests.small import shop_with

AS_OF = dt.date(2026, 3, 10)
STATION = "  zone: work\n  size: 1000 x 600 mm\n  use: {alone: authorised}\n"
FILES = {
    "stations": f"""
table:
  number: 1
  name: Table
  purpose: Sorting
  at: 1000, 600 mm
{STATION}
cutting:
  number: 2
  name: Cutting
  purpose: Cutting
  at: 3000, 3200 mm
{STATION}
pressing:
  number: 3
  name: Pressing
  purpose: Pressing
  at: 5000, 1200 mm
{STATION}
  takes_in:
    - {{what: Flake, station: cutting}}
""",
    "machines": """
granulator:
  name: Granulator
  kind: granulator
  station: cutting
  price: 300 EUR
press:
  name: Press
  kind: platen-press
  station: pressing
  electric: {power: 3 kW, voltage: 400 V, phases: three, circuit: motors}
  first_heat: [{check: guards}]
""",
    "moulds": """
slab:
  name: Slab
  machines: [press]
  part_volume: 50 cm³
  wall: 4 mm
  projected: 100 cm²
  outer: 200 x 200 x 40 mm
  mass: 3 kg
  kept_at: table
""",
    "blends": "plain: {name: P, parts: [{polymer: pp, share: 100 %}], mixes: melt, machines: []}\n",
    "products": """
board: &board
  name: Board
  mould: slab
  blends: [plain]
  mass: 90 g
  made_for: Desks
  not_for: [Food]
""".replace(" &board", ""),
    "procedures": """
cut-and-press:
  name: Cut and press
  kind: run
  machines: [granulator, press]
  level: authorised
  takes: 20 min
  done_when: Done
  steps: [{do: Go, key_point: Slowly, reason: Heat}]
""",
    "hazards": """
both:
  name: Both
  harm: Hurts
  who: [all]
  machines: [granulator, press]
  before: {likelihood: 2, severity: 2}
  controls: [{kind: administer, what: Look, procedure: cut-and-press}]
  after: {likelihood: 1, severity: 2}
heat: {name: Heat, harm: Burns, who: [all], machines: [press],
  before: {likelihood: 2, severity: 2}, after: {likelihood: 1, severity: 2}}
""",
    "sessions": """
visit:
  name: Visit
  for: Anybody
  weekday: monday
  start: "10:00"
  end: "12:00"
  learners: {count: 6, age_from: 10 years, age_to: 12 years, adults: 1}
  groups: 2
  staff: [{role: keeper, count: 1}]
  arrival: 10 min
  tidy: 10 min
  activities:
    sort: {name: Sort, station: table, takes: 20 min, learners: do, supervisor: inducted}
    see: {name: See, station: pressing, takes: 20 min, learners: watch, supervisor: authorised,
      must: false, machines: [press], after: [sort]}
    cut: {name: Cut, station: cutting, takes: 20 min, learners: watch, supervisor: authorised,
      machines: [granulator], after: [see]}
  timetable:
    - {group: 1, activity: sort, start: "10:10"}
    - {group: 1, activity: see, start: "10:40"}
""",
    "stages": """
one: {order: 1, name: One, goal: Sort, reached: true, adds_stations: [table]}
two: {order: 2, name: Two, goal: Cut, reached: true, adds_stations: [cutting],
  adds_machines: [granulator], budget: 500 EUR, other_costs: [{what: Cable, price: 150 EUR}]}
three: {order: 3, name: Three, goal: Press, reached: false, adds_stations: [pressing],
  adds_machines: [press]}
""",
}


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    return shop_with(tmp_path, **FILES)


@pytest.fixture
def built(shop: Shop) -> BuildOut:
    return study(shop, AS_OF)


def test_each_stage_holds_what_was_added_up_to_it(built: BuildOut) -> None:
    assert [[*s.shop.stations] for s in built.steps] == [
        ["table"],
        ["table", "cutting"],
        ["table", "cutting", "pressing"],
    ]
    assert [[*s.shop.machines] for s in built.steps] == [
        [],
        ["granulator"],
        ["granulator", "press"],
    ]
    assert [s.connected_kw for s in built.steps] == [0, 0, 3]
    assert [[*s.shop.stages] for s in built.steps] == [
        ["one"],
        ["one", "two"],
        ["one", "two", "three"],
    ]


def test_what_hung_on_what_is_gone_goes_too(built: BuildOut) -> None:
    one, two, three = (step.shop for step in built.steps)
    assert [*two.moulds] == [*two.products] == [*two.procedures] == []
    assert ([*three.moulds], [*three.products], [*three.procedures]) == (
        ["slab"],
        ["board"],
        ["cut-and-press"],
    )
    assert [[*s.hazards] for s in (one, two, three)] == [[], ["both"], ["both", "heat"]]
    assert two.hazards["both"].machines == ("granulator",)
    assert two.hazards["both"].controls[0].procedure is None


def test_a_session_goes_with_what_it_must_have_and_bends_around_what_it_may(
    built: BuildOut,
) -> None:
    one, two, three = (step.shop for step in built.steps)
    assert [*one.sessions] == []
    visit = two.sessions["visit"]
    assert [*visit.activities] == ["sort", "cut"]
    assert visit.activities["cut"].after == ()
    assert [slot.activity for slot in visit.timetable] == ["sort"]
    assert [*three.sessions["visit"].activities] == ["sort", "see", "cut"]


def test_the_earliest_stage_of_each_thing(shop: Shop) -> None:
    when = Arrivals(shop)
    assert when.product(shop.products["board"]) == 3
    assert when.session(shop.sessions["visit"]) == 2
    assert when.machine("granulator") == 2


def test_what_a_stage_costs(built: BuildOut) -> None:
    assert [dict(s.cost) for s in built.steps] == [{}, {"EUR": 450.0}, {}]
    assert [m.id for m in built.steps[2].unpriced] == ["press"]


def test_an_unsigned_press_stops_its_own_stage_and_none_before(built: BuildOut) -> None:
    signed = [
        [f.severity for f in s.findings if f.rule == "commissioning.unsigned"] for s in built.steps
    ]
    assert signed == [[], [], [Severity.STOP]]
    difference = built.difference(built.steps[2])
    assert "commissioning.unsigned" in {f.rule for f in difference.new}
    assert built.difference(built.steps[0]).new == built.steps[0].findings


def test_the_shop_itself_is_left_as_it_was(shop: Shop) -> None:
    before = shop.model_dump()
    looked_up = shop.stations_by_number
    part = shop_at(shop, 1)
    assert shop.model_dump() == before
    assert len(part.stations_by_number) == 1
    assert shop.stations_by_number is looked_up
    assert part.stations["table"].origin == shop.stations["table"].origin
    assert without(shop, [], []) is shop


@pytest.fixture(scope="module")
def demonstration() -> Shop:
    loaded = load_shop(CONTENT / "shop")
    assert loaded.shop is not None
    return loaded.shop


@pytest.mark.parametrize("number", [1, 2, 3])
def test_nothing_in_a_part_of_the_demonstration_refers_to_what_is_gone(
    demonstration: Shop, number: int
) -> None:
    """By the words of the whole part: no id of a station that is gone is left in it."""
    part = shop_at(demonstration, number)
    when = Arrivals(demonstration)
    gone = {s for s in demonstration.stations if when.station(s) > number}
    gone -= {
        *demonstration.machines,
        *demonstration.moulds,
    }  # an id may serve two nouns; circuits have outlets
    left = str(part.model_dump(exclude={"stages": True, "logs": True, "room": {"circuits"}}))
    assert gone or number == 3
    assert [id_ for id_ in gone if f"'{id_}'" in left] == []


# --- walks, flow and signs by stage ------------------------------------------------------------

FACING = "  zone: work\n  size: 1200 x 800 mm\n  use: {alone: inducted}\n"
FACING += "  working_sides: [{side: front, depth: 1000 mm}]\n"
GROWING = {
    "stations": (
        f"near:\n  number: 1\n  name: Near\n  purpose: P\n  at: 1475, 2500 mm\n{FACING}"
        f"far:\n  number: 2\n  name: Far\n  purpose: P\n  at: 4500, 2500 mm\n{FACING}"
        "  ppe: [M004]\n"
    ),
    "machines": "scale: {name: Scale, kind: scale, station: near}\n",
    "stages": (
        "one: {order: 1, name: One, goal: A, reached: true, adds_stations: [near]}\n"
        "two: {order: 2, name: Two, goal: B, reached: false, adds_stations: [far]}\n"
    ),
    "donors": (
        "cafe:\n  name: Cafe\n  brings: [{polymer: pp, form: whole, weekly: 3 kg, dirt: clean}]\n"
    ),
}


@pytest.fixture
def growing(tmp_path: Path) -> BuildOut:
    return study(shop_with(tmp_path, **GROWING), AS_OF)


def test_the_longest_way_out_grows_with_what_is_set_up(growing: BuildOut) -> None:
    """The middle of a way of 900 mm runs 450 mm before the fronts at y 2100; the door's middle
    is at 1475, 0. From the second station it goes to 450 mm inside the door, and straight out.
    """
    one, two = (step.way_out_mm for step in growing.steps)
    assert one == pytest.approx(1650, abs=5)
    assert two == pytest.approx((3025**2 + 1200**2) ** 0.5 + 450, rel=0.01)


def test_a_sign_is_asked_for_first_at_the_stage_that_brings_its_station(growing: BuildOut) -> None:
    one, two = growing.steps
    assert "M004" not in {sign.need.code for sign in one.signs}
    (new,) = growing.difference(two).signs
    assert (new.need.code, new.need.subject, new.hangs) == ("M004", "stations/far", False)
    assert growing.difference(one).signs == one.signs


def test_every_stage_is_told_with_its_own_walks_and_week(growing: BuildOut) -> None:
    for step in growing.steps:
        told = [survey.subject for survey in step.surveys]
        assert {"routes", "stopping", "flow"} <= {*told}
        assert len(told) == len({*told})
        assert step.kg_in == pytest.approx(3)
        assert step.kg_made == 0
    one, two = (step.room.routes.survey.checks for step in growing.steps)
    assert one < two


def test_stages_know_their_neighbours(growing: BuildOut) -> None:
    one, two = growing.steps
    assert (growing.before(one), growing.after(one)) == (None, two)
    assert (growing.before(two), growing.after(two)) == (one, None)
