"""The room left for donations is the same figure wherever a donor meets it."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

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
