"""What is out, since when, and how it came back, in a shop worked by hand."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from generator.ground.finding import Severity
from generator.shop.shop import Shop
from generator.workings import loans
from generator.workings.ahead import known_by
from generator.workings.stores import study as stores
from tests.small import shop_with
from tests.workings.test_running import PRESSES, making

AS_OF = dt.date(2026, 3, 10)  # a Tuesday
TOOLS = "snips: {name: Snips, kept_at: cutting, count: 2, use: Sprues}\n"
CONTACTS = "fitter: {name: Fitter, answers: [maintainer], reach: By letter}\n"
HEAD = "out,mould,tool,station,contact,until,back,shots,came_back,note\n"


def lending(folder: Path, log: str, counted: str = "", **more: str) -> Shop:
    files = making("press")
    if counted:
        files["moulds"] = files["moulds"].replace("shots: 190", f"shots: 190, counted: {counted}")
    files |= {"tools": TOOLS, "contacts": CONTACTS, "machines": PRESSES, "loans_csv": HEAD + log}
    return shop_with(folder, **{**files, **more})


def test_what_is_out_stands_longest_first_with_where_it_is(tmp_path: Path) -> None:
    log = (
        "2026-03-09,,snips,cutting,,,,,,\n"
        "2026-03-01,slab,,,fitter,2026-03-20,,,,\n"
        "2026-03-08,,snips,,,,2026-03-11,,,\n"  # back tomorrow, so out today
        "2026-03-07,,snips,cutting,,,2026-03-10,,good,\n"
        "2026-03-12,,snips,,,,,,,\n"  # not gone yet
    )
    made = loans.study(lending(tmp_path, log), AS_OF)
    assert [(o.thing.id, o.days, o.where, o.late) for o in made.out] == [
        ("slab", 9, "Fitter", False),
        ("snips", 2, "nobody wrote where", False),
        ("snips", 1, "1 Cutting", False),
    ]
    assert made.survey.findings == ()


@pytest.mark.parametrize(
    ("log", "rule", "severity", "says"),
    [
        (
            "2026-03-01,slab,,cutting,,2026-03-09,,,,\n",
            "loans.late",
            Severity.FIX,
            "was to be back on 9 March 2026. It has been out since 1 March 2026: 1 Cutting",
        ),
        ("2026-03-02,slab,,cutting,,,,,,\n", "loans.long", Severity.NOTE, "8 days"),
        (
            "2026-03-01,slab,,,,,2026-03-05,4,damaged,\n",
            "loans.damaged",
            Severity.FIX,
            "came back damaged on 5 March 2026",
        ),
    ],
)
def test_what_is_late_long_or_damaged_is_found(
    tmp_path: Path, log: str, rule: str, severity: Severity, says: str
) -> None:
    (found,) = loans.study(lending(tmp_path, log), AS_OF).survey.findings
    assert (found.rule, found.severity, found.subject) == (rule, severity, "moulds/slab")
    assert says in found.says


def test_a_week_out_and_back_on_the_day_are_nothing(tmp_path: Path) -> None:
    log = "2026-03-03,slab,,cutting,,,,,,\n2026-03-01,,snips,,,2026-03-10,,,,\n"
    assert loans.study(lending(tmp_path, log), AS_OF).survey.findings == ()


def test_more_out_than_there_are(tmp_path: Path) -> None:
    log = "2026-03-09,,snips,cutting,,,,,,\n" * 3
    (found,) = loans.study(lending(tmp_path, log), AS_OF).survey.findings
    assert (found.rule, found.says) == ("loans.too-many", "3 of Snips are out, and there are 2.")


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
    press:
      name: Press
      station: cutting
      takes: 30 min
      learners: watch
      supervisor: authorised
      moulds: [slab]
"""


@pytest.mark.parametrize(
    ("until", "found"),
    [("2026-03-15", False), ("2026-03-16", True), ("", True)],  # the next Monday is the 16th
)
def test_a_session_before_a_mould_is_back_is_told(tmp_path: Path, until: str, found: bool) -> None:
    log = f"2026-03-09,slab,,,fitter,{until},,,,\n"
    findings = loans.study(lending(tmp_path, log, sessions=SESSION), AS_OF).survey.findings
    assert [f.rule for f in findings] == ["loans.missed"] * found
    assert all("Visit (16 March 2026)" in f.says for f in findings)


def test_shots_count_on_from_the_day_they_were_counted(tmp_path: Path) -> None:
    log = (
        "2026-02-01,slab,,cutting,,,2026-02-20,50,,\n"  # before the count: in it already
        "2026-03-01,slab,,cutting,,,2026-03-02,6,,\n"
        "2026-03-03,slab,,cutting,,,2026-03-10,3,,\n"
        "2026-03-10,slab,,cutting,,,2026-03-11,100,,\n"  # not back yet
    )
    shop = lending(tmp_path, log, counted="2026-02-20")
    assert loans.shots_by(shop, shop.moulds["slab"], AS_OF) == 199
    assert known_by(shop, AS_OF).moulds["slab"].shots == 199
    (life,) = stores(shop, AS_OF).moulds
    assert life.shots == 199
    assert life.share == pytest.approx(0.995)


def test_shots_without_a_day_are_todays_count(tmp_path: Path) -> None:
    shop = lending(tmp_path, "2026-03-01,slab,,cutting,,,2026-03-02,6,,\n")
    assert loans.shots_by(shop, shop.moulds["slab"], AS_OF) == 190
