"""The floor plan on one large sheet, for the wall by the door and for a copy shop."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from generator.drawings import sheet
from generator.ground.paper import Paper, paper
from generator.ground.wording import _
from generator.press.order import Order
from generator.press.sheet import Drawn, Sheet

KIND = "plan"
_NUMBER = "PL-01"


def sheets(order: Order) -> Iterator[Sheet]:
    """The plan of the room, on the second largest sheet of the family."""
    size = order.family[-2].landscape
    on = replace(sheet.A2, name=size.name, width=size.width, height=size.height)
    yield Sheet(
        id="floor-plan",
        kind=KIND,
        number=_NUMBER,
        title=_("Floor plan"),
        paper=size,
        body=Drawn((sheet.draw(order.atlas, order.foot(_NUMBER), on),)),
        language=order.language,
        about=("room", *(f"stations/{key}" for key in order.shop.stations)),
        hangs=_("inside the way in, where people wait"),
        note=_copy_shop(order, size),
    )


def _copy_shop(order: Order, size: Paper) -> str:
    largest = paper(order.shop.shop.printer.largest)
    if largest.holds(size):
        return ""
    return _("Printed at a copy shop: the printer takes {own}.").format(own=largest.name)
