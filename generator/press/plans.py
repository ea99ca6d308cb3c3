"""The floor plan on one large sheet, for the wall by the door and for a copy shop."""

from __future__ import annotations

from collections.abc import Iterator

from generator.drawings import sheet
from generator.ground.paper import A2
from generator.ground.wording import _
from generator.press.order import Order
from generator.press.sheet import Drawn, Sheet

KIND = "plan"
_NUMBER = "PL-01"


def sheets(order: Order) -> Iterator[Sheet]:
    """The plan of the room."""
    yield Sheet(
        id="floor-plan",
        kind=KIND,
        number=_NUMBER,
        title=_("Floor plan"),
        paper=A2.landscape,
        body=Drawn((sheet.draw(order.atlas, order.foot(_NUMBER)),)),
        language=order.language,
        about=("room", *(f"stations/{key}" for key in order.shop.stations)),
        hangs=_("inside the way in, where people wait"),
    )
