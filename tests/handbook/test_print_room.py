"""The print room's page, and that it tells the same of a sheet as the command that notes it."""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import replace
from pathlib import Path

import pytest

from generator.ground.wording import use
from generator.handbook import print_room
from generator.handbook.desk import Desk
from generator.handbook.print_room import Printing, PrintRoom
from generator.press import wall
from generator.press.order import Order
from generator.shop.load import load_shop
from generator.shop.records.logs import PrintRun
from generator.shop.shop import Shop
from generator.workings.check import Studies
from generator.workings.for_readers import for_readers

DEMONSTRATION = Path(__file__).parents[2] / "content" / "shop"
DAY = dt.date(2026, 11, 24)


@pytest.fixture(scope="module")
def shop() -> Shop:
    found = load_shop(DEMONSTRATION).shop
    assert found is not None
    return for_readers(found)


@pytest.fixture(scope="module")
def room(shop: Shop) -> PrintRoom:
    with use("en"):
        made = PrintRoom(Desk(shop, DAY), Printing("https://handbook.example"))
        assert made.sheets
        return made


def test_every_sheet_is_listed_once_with_its_file(room: PrintRoom) -> None:
    with use("en"):
        body = room.page().body
    listed = re.findall(r'<li class="sheet \w+" id="([^"]+)"', body)
    assert listed == [sheet.id for sheet in room.sheets]
    for sheet in room.sheets:
        assert f'href="{sheet.id}.pdf"' in body
    for batch in room.batches:
        assert f'href="{batch.pack}"' in body


def test_packs_come_first(room: PrintRoom) -> None:
    with use("en"):
        body = room.page().body
    assert body.index("Bound packs") < body.index("## Sheets")


def test_every_choice_leads_to_a_sheet(room: PrintRoom) -> None:
    with use("en"):
        body = room.page().body
    tags = {tag for about in re.findall(r'data-about="([^"]*)"', body) for tag in about.split()}
    offered = set(re.findall(r'<option value="(\w+/[^"]+)"', body))
    assert offered and offered <= tags
    assert {key.split("/")[0] for key in offered} == {"stations", "stages", "sessions", "walls"}


def test_what_has_changed_since_it_was_printed_is_marked(shop: Shop, room: PrintRoom) -> None:
    first, second = room.sheets[:2]
    runs = (
        PrintRun(shop.shop.origin, dt.date(2026, 11, 2), first.id, first.content[:16]),
        PrintRun(shop.shop.origin, dt.date(2026, 11, 3), second.id, "0" * 16),
    )
    noted = shop.model_copy(update={"logs": replace(shop.logs, printed=runs)})
    with use("en"):
        body = PrintRoom(Desk(noted, DAY), Printing("https://handbook.example")).page().body
    assert f'<li class="sheet current" id="{first.id}"' in body
    assert f'<li class="sheet changed" id="{second.id}"' in body
    assert "1 has changed since it was printed." in body


def test_the_command_and_the_build_know_a_sheet_by_the_same_hash(
    shop: Shop, room: PrintRoom
) -> None:
    order = Order(Studies(shop, DAY), "en", shop.shop.site_address or "")
    assert [s.content for s in wall.sheets(order)] == [s.content for s in room.sheets]


def test_printing_can_be_left_out() -> None:
    with use("en"):
        assert "print: false" in print_room.switched_off().body
