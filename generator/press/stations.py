"""Station sheets: what somebody at a station must know, on the wall beside it."""

from __future__ import annotations

from collections.abc import Iterator

from generator.drawings import card
from generator.ground.paper import A4
from generator.ground.wording import _
from generator.press.order import Order
from generator.press.sheet import Drawn, Sheet
from generator.shop.records.stations import Station

KIND = "station"


def sheets(order: Order) -> Iterator[Sheet]:
    """A sheet for each station, by number."""
    for station in order.shop.stations_by_number:
        yield _sheet(order, station)


def _sheet(order: Order, station: Station) -> Sheet:
    number = f"ST-{station.number:02d}"
    drawing = card.draw(order.atlas, station, order.foot(number))
    return Sheet(
        id=f"station-{station.id}",
        kind=KIND,
        number=number,
        title=_("Station {number}: {name}").format(number=station.number, name=station.name),
        paper=A4,
        body=Drawn((drawing,)),
        language=order.language,
        about=(f"stations/{station.id}",),
        hangs=_("at station {number}, {name}").format(number=station.number, name=station.name),
    )
