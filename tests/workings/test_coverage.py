"""Machines, shifts and signatures against registers worked by hand."""

from __future__ import annotations

import datetime as dt
import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from generator.cli import main
from generator.shop.competence import read_register
from generator.workings.coverage import Coverage, most_filled, study
from tests.small import folder_with, shop_with

AS_OF = dt.date(2026, 3, 10)
MACHINES = """
granulator: {name: Granulator, kind: granulator, station: cutting}
scale: {name: Scale, kind: scale, station: cutting, use: {alone: visitor}}
"""
ROLES = """
keeper: {name: Keeper, does: Opens, least_age: 18 years}
cutter:
  name: Cutter
  does: Cuts
  least_age: 18 years
  needs: [{machine: granulator, level: authorised}]
"""
HEAD = "person,machine,level,since,until\n"
ROTA = "date,start,end,role,count\n"


def covered(folder: Path, register: str, rota: str = "") -> Coverage:
    shop = shop_with(folder, machines=MACHINES, roles=ROLES, rota_csv=ROTA + rota)
    (folder / "competence.csv").write_text(HEAD + register, encoding="utf-8")
    read = read_register(folder, shop)
    assert read is not None
    assert read.faults == ()
    return study(shop, read, AS_OF)


def rules(made: Coverage) -> list[str]:
    return [f.rule for f in made.survey.findings]


def test_a_shop_without_a_register_has_none(tmp_path: Path) -> None:
    assert read_register(tmp_path, shop_with(tmp_path)) is None


@pytest.mark.parametrize(
    ("register", "expected"),
    [
        ("", ["coverage.nobody"]),
        ("Ada,granulator,supervised,2025-01-01,\n", ["coverage.nobody"]),
        ("Ada,granulator,maintainer,2025-01-01,\n", ["coverage.nobody"]),
        ("Ada,room,trainer,2025-01-01,\n", ["coverage.nobody"]),
        ("Ada,granulator,authorised,2025-01-01,2026-03-09\n", ["coverage.nobody"]),
        ("Ada,granulator,authorised,2026-03-11,\n", ["coverage.nobody"]),
        ("Ada,granulator,authorised,2025-01-01,\n", ["coverage.one-person"]),
        (
            "Ada,granulator,authorised,2025-01-01,2026-04-09\n",
            ["coverage.runs-out", "coverage.ends"],
        ),
        (
            "Ada,granulator,authorised,2025-01-01,\nBo,granulator,trainer,2025-01-01,\n",
            [],
        ),
        (
            "Ada,granulator,authorised,2025-01-01,2026-04-09\n"
            "Ada,granulator,authorised,2026-03-01,2027-03-01\n"
            "Bo,granulator,trainer,2025-01-01,\n",
            [],
        ),
    ],
)
def test_who_may_use_a_machine(tmp_path: Path, register: str, expected: list[str]) -> None:
    assert rules(covered(tmp_path, register)) == expected


TWO = "Ada,granulator,authorised,2025-01-01,\nBo,granulator,authorised,2025-01-01,\n"
KEEPER = "Cy,room,inducted,2025-01-01,\n"


@pytest.mark.parametrize(
    ("register", "rota", "short"),
    [
        (TWO, "2026-03-12,17:00,20:00,cutter,2\n", []),
        (TWO, "2026-03-12,17:00,20:00,cutter,3\n", [(3, 2)]),
        (TWO, "2026-03-09,17:00,20:00,cutter,3\n", []),  # past
        # the two who cut cannot keep the door as well, unless one shift ends first
        (TWO, "2026-03-12,17:00,20:00,cutter,2\n2026-03-12,18:00,20:00,keeper,1\n", [(3, 2)]),
        (TWO, "2026-03-12,17:00,18:00,cutter,2\n2026-03-12,18:00,20:00,keeper,1\n", []),
        (
            TWO + KEEPER,
            "2026-03-12,17:00,20:00,keeper,1\n2026-03-12,17:00,20:00,cutter,2\n",
            [],
        ),
        (KEEPER, "2026-03-12,17:00,20:00,cutter,1\n", [(1, 0)]),
    ],
)
def test_shifts_of_the_rota(
    tmp_path: Path, register: str, rota: str, short: list[tuple[int, int]]
) -> None:
    made = covered(tmp_path, register, rota)
    assert [(row.wanted, row.found) for row in made.short] == short


def test_nobody_fills_two_places_and_nobody_is_wasted() -> None:
    assert most_filled([["ada", "bo"], ["ada"]]) == 2
    assert most_filled([["ada"], ["ada"]]) == 1
    assert most_filled([["a", "b"], ["a", "c"], ["a"], ["c"]]) == 3


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ("Ada,granulater,authorised,2025-01-01,\n", "granulater"),
        ("Ada,granulator,boss,2025-01-01,\n", "boss"),
        ("Ada,granulator,authorised,yesterday,\n", "yesterday"),
        ("Ada,granulator,authorised,2025-02-01,2025-01-01\n", "2025-01-01"),
    ],
)
def test_a_slip_in_the_register_is_told_with_its_place(tmp_path: Path, row: str, says: str) -> None:
    shop = shop_with(tmp_path, machines=MACHINES)
    (tmp_path / "competence.csv").write_text(HEAD + row, encoding="utf-8")
    read = read_register(tmp_path, shop)
    assert read is not None
    (fault,) = read.faults
    assert (fault.origin.file, fault.origin.line) == ("competence.csv", 2)
    assert says in fault.says


def test_check_tells_what_is_not_covered_and_names_nobody(tmp_path: Path) -> None:
    folder_with(tmp_path)
    register = "Canary Ó Wren,granulator,authorised,2025-01-01,2026-03-20\n"
    swapped = "granulator,Canary Ó Wren,authorised,2025-01-01,\n"
    (tmp_path / "competence.csv").write_text(HEAD + register + swapped, encoding="utf-8")
    words = ["check", "--shop", str(tmp_path), "--as-of", "2026-03-10", "--json"]
    run = CliRunner().invoke(main, words)
    found = json.loads(run.output)
    assert "coverage.runs-out" in run.output
    assert "Canary" not in json.dumps(found, ensure_ascii=False)
    assert run.exit_code == 2  # the second row is a fault
