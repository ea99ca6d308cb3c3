"""Whole small shops give the very report a newcomer should read."""

from __future__ import annotations

import tempfile
from functools import cache
from pathlib import Path

import pytest

from generator.shop.draft import Draft
from generator.shop.load import read_draft
from generator.shop.rules import RULES, Rule
from tests import shops


@pytest.mark.parametrize("name", shops.names())
def test_the_report_is_the_expected_one(name: str) -> None:
    expected = (shops.HERE / name / shops.EXPECTED).read_text(encoding="utf-8")
    assert shops.report(name) == expected


def test_every_shop_has_its_report() -> None:
    folders = {p.name for p in shops.HERE.iterdir() if p.is_dir() and not p.name.startswith("_")}
    assert folders == set(shops.names())


def test_three_slips_in_three_files_are_told_at_once() -> None:
    report = shops.report("three-files")
    assert "machines.yml:4:12" in report and "for instance: station: cutting" in report
    assert "roles.yml:5:3" in report
    assert "stations.yml:8:11" in report and "for instance: height: 950 mm" in report


@cache
def _drafts() -> list[Draft]:
    drafts = []
    for name in shops.names():
        with tempfile.TemporaryDirectory() as folder:
            drafts.append(read_draft(shops.assemble(name, Path(folder) / "shop"))[0])
    return drafts


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.__name__)
def test_every_rule_is_met_by_one_of_the_shops_and_says_what_it_holds_to(rule: Rule) -> None:
    assert rule.__doc__
    assert any(finding for draft in _drafts() for finding in rule(draft))
