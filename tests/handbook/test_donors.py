"""What a donor reads on the front page and on the sheet for the door is the same."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from generator.handbook import bringing, door
from generator.handbook.desk import Desk
from generator.handbook.material import taken_rows
from generator.shop.load import load_shop
from generator.workings import intake


def test_the_front_page_and_the_donors_sheet_name_the_same_room_rounded_down() -> None:
    shop = load_shop(Path("content/shop")).shop
    assert shop
    desk = Desk(shop, dt.date(2026, 11, 24))
    listed = {line.polymer.id: line.says for line in desk.studies.bringing.lines("taken")}
    shown = {row.polymer.id: row.why for row in taken_rows(desk) if row.polymer.id in listed}
    assert shown == listed
    for id_, says in listed.items():
        left = intake.room_for(shop.polymers[id_], desk.stock.get(id_, 0.0)).left_kg
        if left is not None and left >= 1:
            assert f"room for {int(left)}\u202fkg" in says.replace("\u00a0", "\u202f")


def test_the_front_page_and_the_donors_sheet_say_where_the_door_is_and_when_it_is_shut() -> None:
    shop = load_shop(Path("content/shop")).shop
    assert shop
    desk = Desk(shop, dt.date(2026, 11, 24))
    front = next(page.body for page in door.pages(desk) if page.path == "index")
    (sheet,) = (page.body for page in bringing.pages(desk))
    for body in (front, sheet):
        assert str(shop.shop.address) in body
        assert str(shop.shop.directions) in body
        assert "Shut from 21 December 2026" in body


def test_the_front_page_gives_each_opening_a_line_of_its_own() -> None:
    shop = load_shop(Path("content/shop")).shop
    assert shop
    front = next(
        page.body for page in door.pages(Desk(shop, dt.date(2026, 11, 24))) if page.path == "index"
    )
    assert front.count('<span class="opening">') == len(shop.hours.weekly)
