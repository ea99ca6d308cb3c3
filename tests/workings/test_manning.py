"""Procedures against who may work where, in a shop worked by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.ground.finding import Severity
from generator.workings import manning
from tests.small import shop_with

MACHINES = """
granulator: {name: Granulator, kind: granulator, station: cutting,
  use: {alone: authorised, beside: supervised, people: 1}}
scale: {name: Scale, kind: scale, station: cutting, use: {alone: visitor, people: 3}}
"""
PROCEDURE = """
job:
  name: Job
  kind: {kind}
  machines: [{machine}]
  level: {level}
  people: {people}
  takes: 9 min
  done_when: Done
  steps: [{{do: Go, key_point: Slowly, reason: Heat}}]
"""


def rules(folder: Path, kind: str, machine: str, level: str, people: int) -> list[str]:
    text = PROCEDURE.format(kind=kind, machine=machine, level=level, people=people)
    shop = shop_with(folder, machines=MACHINES, procedures=text)
    found = manning.survey_of(shop).findings
    assert {f.severity for f in found} <= {Severity.FIX}
    return [f.rule for f in found]


@pytest.mark.parametrize(
    ("machine", "level", "people", "expected"),
    [
        ("granulator", "authorised", 1, []),
        ("granulator", "supervised", 1, []),  # with somebody authorised beside
        ("granulator", "inducted", 1, ["manning.level"]),
        ("granulator", "authorised", 2, ["manning.people"]),
        ("granulator", "visitor", 2, ["manning.people", "manning.level"]),
        ("granulator", "maintainer", 1, []),
        ("scale", "visitor", 3, []),
    ],
)
def test_a_sheet_agrees_with_its_machine(
    tmp_path: Path, machine: str, level: str, people: int, expected: list[str]
) -> None:
    assert rules(tmp_path, "run", machine, level, people) == expected


def test_whoever_comes_by_may_act_on_a_bad_day(tmp_path: Path) -> None:
    assert rules(tmp_path, "bad-day", "granulator", "inducted", 1) == []


def test_a_procedure_without_a_place_is_held_to_none(tmp_path: Path) -> None:
    text = PROCEDURE.format(kind="run", machine="", level="visitor", people=9)
    found = manning.survey_of(shop_with(tmp_path, procedures=text.replace("  machines: []\n", "")))
    assert (found.findings, found.checks) == ((), 2)
