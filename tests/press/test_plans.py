from __future__ import annotations

from pathlib import Path

import pytest

from generator.ground.paper import ANSI_C
from generator.press import labels, plans
from generator.press.engine import Press
from generator.press.order import Order
from generator.shop.shop import Shop
from generator.workings.check import Studies
from tests.press import reading
from tests.press.conftest import DAY
from tests.small import SMALLEST, shop_with


def printing_on(folder: Path, printer: str) -> Shop:
    text = (SMALLEST / "shop.yml").read_text(encoding="utf-8")
    return shop_with(folder, shop=f"{text}\nprinter: {printer}\n")


def test_the_plan_is_one_sheet_of_a2(order: Order, press: Press) -> None:
    (sheet,) = plans.sheets(order)
    (size,) = reading.page_sizes(press.pdf(sheet))
    assert size == pytest.approx((594, 420), abs=0.01)
    assert "A4" in sheet.note


def test_turned_dimensions_are_on_the_printed_plan(order: Order, press: Press) -> None:
    (sheet,) = plans.sheets(order)
    turned = "".join(x.text for x in reading.letters(press.pdf(sheet)) if x.turned)
    assert "7900" in turned and "Street door" in turned


def test_a_shop_on_letter_gets_its_plan_on_the_like_of_a2(tmp_path: Path) -> None:
    shop = printing_on(tmp_path, "{largest: Letter}")
    (sheet,) = plans.sheets(Order(Studies(shop, DAY), "en"))
    assert sheet.paper == ANSI_C.landscape


def test_labels_go_on_a_sheet_the_shop_has_measured_itself(tmp_path: Path) -> None:
    measured = (
        "{own_label_sheet: {columns: 2, rows: 5, size: 95 x 50 mm,"
        " first: '8, 20 mm', step: 98 x 52 mm}}"
    )
    grid = labels.grid_of(Order(Studies(printing_on(tmp_path, measured), DAY), "en"))
    assert (grid.columns, grid.rows, grid.width, grid.height) == (2, 5, 95.0, 50.0)
    assert list(grid.places(1, 4)) == [(0, 8 + 98, 20 + 52)]
    assert not grid.cut
