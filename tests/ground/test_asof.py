"""The date that is told against: given, else the clock of the build, else today."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from generator.ground.asof import NoDateError, as_of, day_in_settings

DAY = dt.date(2026, 4, 16)


@pytest.fixture(autouse=True)
def _no_clock(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("SOURCE_DATE_EPOCH", raising=False)


@pytest.mark.parametrize("given", ["2026-04-16", DAY, dt.datetime(2026, 4, 16, 23, 59)])
def test_what_is_given_wins(given: str | dt.date, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "0")
    assert as_of(given) == DAY


def test_the_builds_clock_is_read_in_utc(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "86399")
    assert as_of(None) == dt.date(1970, 1, 1)


def test_without_either_it_is_today() -> None:
    before = dt.datetime.now().astimezone().date()
    assert before <= as_of("") <= dt.datetime.now().astimezone().date()


@pytest.mark.parametrize("given", ["16.4.2026", "2026-02-30", "soon"])
def test_no_date_is_told_with_a_right_one(given: str) -> None:
    with pytest.raises(NoDateError, match=r"is no date; write it as .*`2026-04-16`"):
        as_of(given)


@pytest.mark.parametrize("clock", ["noon", "1e9", "9" * 30])
def test_a_clock_out_of_reach_is_told(clock: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", clock)
    with pytest.raises(NoDateError, match="SOURCE_DATE_EPOCH"):
        as_of(None)


def test_the_day_in_the_settings_above_a_shop_is_found(tmp_path: Path) -> None:
    folder = tmp_path / "content" / "shop"
    folder.mkdir(parents=True)
    settings = tmp_path / "mkdocs.yml"
    settings.write_text("plugins:\n  - benchleaf:\n      as_of: 2026-11-24   # the last day\n")
    assert day_in_settings(folder) == "2026-11-24"
    settings.write_text("plugins:\n  - benchleaf\n")
    assert day_in_settings(folder) is None
