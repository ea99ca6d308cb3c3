"""What stands in the shop by the last count, and what may still come."""

from pathlib import Path

from generator.workings import intake
from generator.workings.week import ordinary_week
from tests.small import shop_with

POLYMERS = """\
pp: {code: PP, name: PP, status: taken, store_limit: 60 kg, colours: {red: {name: Red}}}
ps: {code: PS, name: PS, status: taken}
"""
STOCK = """\
date,polymer,colour,form,kg,container,count,station
2026-03-01,pp,red,flake,40,,0,cutting
2026-03-08,pp,red,flake,22.5,,0,cutting
2026-03-08,pp,,flake,12,,0,cutting
2026-03-01,ps,,flake,7,,0,cutting
"""


def test_a_newer_count_takes_the_place_of_an_older_one(tmp_path: Path) -> None:
    shop = shop_with(tmp_path, polymers=POLYMERS, stock_csv=STOCK)
    assert intake.stock_by_polymer(shop) == {"pp": 34.5, "ps": 7.0}
    assert intake.stock_by_lot(shop)["pp"] == {"red": 22.5, "": 12.0}


def test_room_is_the_limit_less_the_stock_and_never_below_nothing(tmp_path: Path) -> None:
    pp = shop_with(tmp_path, polymers=POLYMERS).polymers["pp"]
    assert intake.room_for(pp, 34.5).left_kg == 25.5
    assert intake.room_for(pp, 80.0).left_kg == 0.0


def test_no_limit_means_no_figure(tmp_path: Path) -> None:
    ps = shop_with(tmp_path, polymers=POLYMERS).polymers["ps"]
    assert intake.room_for(ps, 7.0).left_kg is None


HOURS = """\
weekly:
  - {day: saturday, from: 14:00, to: 17:00, what: Open}
  - {day: saturday, from: 10:00, to: 12:00, what: School, takes_donations: false}
"""


def test_a_week_has_seven_days_and_each_its_openings_by_the_clock(tmp_path: Path) -> None:
    week = ordinary_week(shop_with(tmp_path, hours=HOURS))
    assert [day.number for day in week] == list(range(7))
    assert [str(o.what) for o in week[5].openings] == ["School", "Open"]
    assert [day.takes_donations for day in week] == [False] * 5 + [True, False]
