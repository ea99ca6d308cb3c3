"""What a log says was done cannot lie ahead."""

import datetime as dt
from pathlib import Path

from generator.ground.finding import Severity
from generator.workings.ahead import survey_of
from generator.workings.check import Studies
from generator.workings.intake import latest_count, stock_by_polymer
from tests.small import shop_with

STOCK = """\
date,polymer,form,kg,station
2026-03-02,pp,flake,12,cutting
2036-03-02,pp,flake,900,cutting
"""
DAY = dt.date(2026, 3, 3)


def test_a_count_of_a_day_to_come_is_told_and_displaces_none(tmp_path: Path) -> None:
    polymers = "pp: {code: PP, name: Polypropylene, status: taken}\n"
    shop = shop_with(tmp_path, polymers=polymers, stock_csv=STOCK)
    (found,) = survey_of(shop, DAY).findings
    assert (found.rule, found.severity) == ("log.future", Severity.FIX)
    assert "stock.csv, line 3" in found.says
    assert [row.kg for row in latest_count(shop, DAY)] == [12]
    assert stock_by_polymer(Studies(shop, DAY).shop) == {"pp": 12}
    assert not survey_of(shop, dt.date(2036, 3, 2)).findings
