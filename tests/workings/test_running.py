"""What is due, what wears out, what runs out and what must be signed, in shops worked by hand."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from generator.ground.finding import Severity
from generator.ground.units import Period
from generator.shop.shop import Shop
from generator.workings import commissioning, stores
from generator.workings.falling_due import State, next_due, state_of
from generator.workings.running import Running
from tests.small import shop_with

AS_OF = dt.date(2026, 3, 10)
LOG = "date,machine,task,running_h,role\n"


@pytest.mark.parametrize(
    ("due", "state"),
    [
        ("2026-03-09", State.OVERDUE),
        ("2026-03-10", State.MONTH),
        ("2026-04-10", State.MONTH),
        ("2026-04-11", State.LATER),
        (None, State.UNDATED),
    ],
)
def test_how_a_date_stands(due: str | None, state: State) -> None:
    assert state_of(dt.date.fromisoformat(due) if due else None, AS_OF) is state


def test_a_date_past_the_calendar_is_its_last_day() -> None:
    assert next_due(AS_OF, Period(9000, "year")) == dt.date.max
    assert next_due(AS_OF, Period(3, "running hour")) is None


# --- duties ------------------------------------------------------------------------------------

DUTIES = """
late: {name: Late, every: 1 year, last: 2025-03-09}
soon: {name: Soon, every: 1 month, last: 2026-02-20}
far: {name: Far, every: 1 year, last: 2026-03-01}
open: {name: Open, every: 1 year}
"""


def test_duties_stand_by_date_and_tell_what_is_late(tmp_path: Path) -> None:
    made = Running(shop_with(tmp_path, duties=DUTIES), AS_OF).duties
    assert [(d.what, str(d.due), d.state) for d in made.list] == [
        ("Late", "2026-03-09", State.OVERDUE),
        ("Soon", "2026-03-20", State.MONTH),
        ("Far", "2027-03-01", State.LATER),
        ("Open", "None", State.UNDATED),
    ]
    assert [(f.rule, f.severity) for f in made.survey.findings] == [
        ("duties.overdue", Severity.FIX),
        ("duties.undated", Severity.NOTE),
    ]
    assert "9 March 2026, 1 day ago" in made.survey.findings[0].says
    assert (made.survey.checks, made.survey.unanswered) == (4, 1)


def test_stages_actions_and_reviews_are_duties_too(tmp_path: Path) -> None:
    stages = """
first: {order: 1, name: First, goal: Cut, reached: true, due: 2025-01-01}
second: {order: 2, name: Second, goal: More, reached: false, due: 2026-03-01}
"""
    hazards = """
knife:
  name: Knife
  harm: Cuts
  who: [all]
  before: {likelihood: 2, severity: 2}
  after: {likelihood: 1, severity: 2}
  action: {do: Put it away, by: keeper, due: 2026-03-12}
  reviewed: 2026-01-01
  review_every: 6 months
"""
    made = Running(shop_with(tmp_path, stages=stages, hazards=hazards), AS_OF).duties
    assert [(d.id, str(d.due)) for d in made.list] == [
        ("stage.second", "2026-03-01"),
        ("action.knife", "2026-03-12"),
        ("review.knife", "2026-07-01"),
    ]
    assert made.list[1].who == "Keeper"


# --- upkeep ------------------------------------------------------------------------------------

UPKEEP = """
granulator:
  name: Granulator
  kind: granulator
  station: cutting
  runs_per_week: 7 h
  upkeep:
    knives: {what: Turn the knives, every: 40 running hours, uses: [knife]}
    belt: {what: Look at the belt, every: 1 month}
"""
KNIFE = "name: Knives, kind: blade, unit: set, kept_at: cutting, lead_time: 14 d"


def upkeep_shop(folder: Path, log: str, stock: int = 1) -> Shop:
    consumables = f"knife: {{{KNIFE}, stock: {stock}, least: 1}}\n"
    return shop_with(folder, machines=UPKEEP, consumables=consumables, upkeep_csv=LOG + log)


@pytest.mark.parametrize(
    ("log", "hours", "due"),
    [
        # one hour a day: 20 days since are 20 h, and 20 more days until 40
        ("2026-02-18,granulator,knives,,\n", 20.0, "2026-03-30"),
        # counter 100 at the time and 130 ten days ago: 30 + 10 are up today
        (
            "2026-01-01,granulator,knives,100,\n2026-02-28,granulator,belt,130,\n",
            40.0,
            "2026-03-10",
        ),
        # never done: from the counter's zero, 50 + 4 is 14 h over, so 14 days late
        ("2026-03-06,granulator,belt,50,\n", 54.0, "2026-02-24"),
        ("2026-03-06,granulator,belt,,\n", None, "None"),
        # what is logged after the day is not known yet
        ("2026-02-18,granulator,knives,,\n2026-03-11,granulator,knives,,\n", 20.0, "2026-03-30"),
    ],
)
def test_running_hours_since(tmp_path: Path, log: str, hours: float | None, due: str) -> None:
    tasks = Running(upkeep_shop(tmp_path, log), AS_OF).upkeep.tasks
    (knives,) = [t for t in tasks if t.task.id == "knives"]
    assert knives.hours_since == (None if hours is None else pytest.approx(hours))
    assert str(knives.due) == due


def test_what_is_overdue_stands_first_and_spare_parts_are_told(tmp_path: Path) -> None:
    log = "2026-02-18,granulator,knives,,\n2026-02-01,granulator,belt,,\n"
    made = Running(upkeep_shop(tmp_path, log), AS_OF).upkeep
    assert [t.task.id for t in made.tasks] == ["belt", "knives"]
    assert [c.id for c in made.tasks[1].short] == ["knife"]
    (found,) = made.survey.findings
    assert "9 days overdue" in found.says  # 1 March to 10 March
    assert not Running(upkeep_shop(tmp_path, log, stock=2), AS_OF).upkeep.tasks[1].short


FAN = """
fans:
  puller: {name: Puller, discharge: outside, extract_point: wall, power: 0.5 kW, circuit: motors}
extract_points:
  wall: {at: "0, 1000 mm", height: 2500 mm, diameter: 200 mm}
hoods:
  over:
    {name: H, station: cutting, form: canopy, opening: 600 x 600 mm, distance: 400 mm, fan: puller}
"""
PRESSES = """
puller: {name: Puller, kind: extractor, station: cutting}
press: {name: Press, kind: platen-press, station: cutting}
spare: {name: Spare press, kind: platen-press, station: cutting}
granulator: {name: Granulator, kind: granulator, station: cutting}
"""


def making(fits: str) -> dict[str, str]:
    mould = (
        f"slab: {{name: Slab, machines: [{fits}], part_volume: 50 cm³, wall: 4 mm, "
        "projected: 100 cm², outer: 200 x 200 x 40 mm, mass: 3 kg, kept_at: cutting, "
        "cavities: 2, shots: 190, lasts_shots: 200}\n"
    )
    blend = (
        "plain: {name: Plain, parts: [{polymer: pp, share: 100 %}], mixes: melt, machines: []}\n"
    )
    product = (
        "board: {name: Board, mould: slab, blends: [plain], parts: 3, mass: 90 g, made_for: Desks, "
        "not_for: [Food], per_week: 4}\n"
    )
    return {"moulds": mould, "blends": blend, "products": product}


def test_what_stops_with_a_machine(tmp_path: Path) -> None:
    room = (Path(__file__).parents[1] / "shops" / "smallest" / "room.yml").read_text("utf-8")
    shop = shop_with(tmp_path, room=room + FAN, machines=PRESSES, **making("press, spare"))
    by_machine = {o.machine.id: o for o in Running(shop, AS_OF).upkeep.out_of_use}
    assert by_machine["press"].products == ()  # the spare press takes the mould
    assert [m.id for m in by_machine["puller"].without_it] == ["press", "spare"]
    assert [p.id for p in by_machine["puller"].products] == ["board"]
    alone = shop_with(tmp_path, machines=PRESSES, **making("press"))
    by_machine = {o.machine.id: o for o in Running(alone, AS_OF).upkeep.out_of_use}
    assert [p.id for p in by_machine["press"].products] == ["board"]


# --- stores ------------------------------------------------------------------------------------


def test_a_mould_near_its_end_is_told(tmp_path: Path) -> None:
    shop = shop_with(tmp_path, machines=PRESSES, **making("press"))
    made = stores.study(shop, AS_OF)
    (life,) = made.moulds
    # 4 boards of 3 parts from 2 cavities are 6 shots a week; 10 are left: 11.67 days
    assert (life.shots_per_week, life.share, str(life.ends)) == (6.0, 0.95, "2026-03-21")
    assert [f.rule for f in made.survey.findings] == ["stores.mould-worn"]


@pytest.mark.parametrize(
    ("rest", "runs_out", "packs"),
    [
        ("stock: 14, least: 3, use_per_week: 7", "2026-03-24", 0),  # 14 days last, 14 to come
        ("stock: 13, least: 3, use_per_week: 7", "2026-03-23", 1),  # 3 + 14 - 13 = 4 of a pack of 5
        ("stock: 4, least: 4", "None", 1),
        ("stock: 0, least: 4, use_per_week: 7", "2026-03-10", 4),  # 18 missing
        ("stock: 5, least: 4", "None", 0),
    ],
)
def test_what_to_order(tmp_path: Path, rest: str, runs_out: str, packs: int) -> None:
    row = "glove: {name: Gloves, kind: protection, unit: pair, kept_at: cutting, lead_time: 14 d"
    shop = shop_with(tmp_path, consumables=f"{row}, pack: 5, {rest}}}\n")
    made = stores.study(shop, AS_OF)
    (supply,) = made.supplies
    assert (str(supply.runs_out), supply.packs) == (runs_out, packs)
    assert len(made.survey.findings) == (1 if packs else 0)
    assert [p.station.id for p in made.places] == ["cutting"]


# --- before first heat -------------------------------------------------------------------------

HOT = """
press:
  name: Press
  kind: platen-press
  station: cutting
  electric: {power: 2 kW, voltage: 400 V, phases: three, circuit: motors}
  heat: {heat_up: 20 min, cool_down: 60 min, highest: 220 °C}
  first_heat:
    - {check: earth-continuity, done: 2026-01-01}
    - {check: over-temperature-cut-out}
"""
RUN = """
press-it:
  name: Press it
  kind: run
  machines: [press]
  level: authorised
  takes: 20 min
  done_when: Cold
  steps: [{do: Press, key_point: Slowly, reason: Bubbles}]
mend-it:
  name: Mend it
  kind: upkeep
  machines: [press]
  level: maintainer
  takes: 20 min
  done_when: Mended
  steps: [{do: Mend, key_point: Dead, reason: Burns}]
"""
STAGE = "hot: {{order: 1, name: Hot, goal: Press, reached: {reached}, adds_machines: [press]}}\n"


def test_an_unsigned_machine_stops_itself_and_every_use(tmp_path: Path) -> None:
    shop = shop_with(tmp_path, machines=HOT, procedures=RUN, stages=STAGE.format(reached="true"))
    found = commissioning.survey_of(shop).findings
    assert [(f.rule, f.severity, f.subject) for f in found] == [
        ("commissioning.unsigned", Severity.STOP, "machines/press"),
        ("commissioning.used", Severity.STOP, "procedures/press-it"),
        ("commissioning.not-on-sheet", Severity.NOTE, "machines/press"),  # no-restart
    ]
    assert "over-temperature cut-out" in found[0].says


def test_a_machine_of_a_later_stage_is_only_noted(tmp_path: Path) -> None:
    shop = shop_with(tmp_path, machines=HOT, procedures=RUN, stages=STAGE.format(reached="false"))
    found = commissioning.survey_of(shop).findings
    assert [(f.rule, f.severity) for f in found] == [("commissioning.unsigned", Severity.NOTE)]
