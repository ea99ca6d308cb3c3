"""Station sheets: what somebody at a station must know, on the wall beside it."""

from __future__ import annotations

from collections.abc import Iterator

from generator.drawings import station_sheet
from generator.drawings.ink import Drawing
from generator.drawings.measures import metres
from generator.drawings.station_sheet import Place
from generator.drawings.type import CAPITAL
from generator.ground.wording import _
from generator.press.order import Order
from generator.press.sheet import Drawn, Sheet
from generator.reference import reference
from generator.shop.records.stations import Station

KIND = "station"


def sheets(order: Order) -> Iterator[Sheet]:
    """A sheet for each station, by number."""
    for station in order.shop.stations_by_number:
        yield _sheet(order, station)


def _sheet(order: Order, station: Station) -> Sheet:
    number = f"ST-{station.number:02d}"
    page = f"{order.address}stations/{station.id}.html" if order.address else ""
    place = Place(order.atlas, station, order.paper, order.legible[station.id], page)
    faces = station_sheet.draw(place, order.foot(number))
    return Sheet(
        id=f"station-{station.id}",
        kind=KIND,
        number=number,
        title=_("Station {number}: {name}").format(number=station.number, name=station.name),
        paper=order.paper,
        body=Drawn(faces),
        language=order.language,
        about=(f"stations/{station.id}",),
        hangs=_("at station {number}, {name}").format(number=station.number, name=station.name),
        note=_from_afar(place, faces[0]),
    )


def _from_afar(place: Place, front: Drawing) -> str:
    """What cannot be read from as far as it is wanted even with the smallest letters allowed."""
    divisor = reference().limit("sign-text-divisor-least").low
    reads_m = station_sheet.name_size(place, front) * CAPITAL * divisor / 1000
    if reads_m >= place.legible.carried_m:
        return ""
    says = _("Its name reads from {near} at most: carriers {far} off go by its number.")
    return says.format(near=metres(1000 * reads_m), far=metres(1000 * place.legible.carried_m))
