"""A one-page card for every station, drawn to be printed on A4."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ground.wording import _
from generator.handbook.desk import Desk
from generator.handbook.links import card_path
from generator.handbook.page import Page
from generator.handbook.render import render
from generator.shop.records.stations import Station


def pages(desk: Desk) -> Iterator[Page]:
    """A card for each station, by number."""
    for station in desk.shop.stations_by_number:
        yield _page(desk, station)


def _page(desk: Desk, station: Station) -> Page:
    path = card_path(station.id)
    title = _("Card {number}: {name}").format(number=station.number, name=station.name)
    number = f"CA-{station.number:02d}"
    drawing = desk.plans.card(station, number)
    body = render("card", path, station=station, title=title, card=drawing)
    return Page(path, title, "card", number, body, station.origin)
