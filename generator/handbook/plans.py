"""The drawings of one shop as the pages set them, each plan drawn once."""

from __future__ import annotations

import datetime as dt
import hashlib
from functools import cached_property

from markupsafe import Markup

from generator.drawings import card, locator, plan, sheet
from generator.drawings.atlas import Atlas
from generator.drawings.files import to_file
from generator.drawings.foot import Foot
from generator.drawings.ink import to_svg
from generator.handbook.links import address_of, way_up
from generator.handbook.page import Asset
from generator.shop.records.stations import Station
from generator.shop.shop import Shop

_ROOT = "root:/"
"""Stands for the way back to the site's root until the page is known."""


def _from_root(station: Station) -> str:
    return _ROOT + address_of(station)


def _set(svg: str) -> Markup:
    """A drawing as a page holds it: its labels stay out of the search."""
    return Markup(svg.replace("<svg ", '<svg data-search-exclude="" ', 1))


_NO_HASH = "0" * 64
"""Holds the place of a hash that is not known before the sheet is drawn."""


SHEET_PATH = "drawings/floor-plan.svg"
"""Where the plan lies that is printed on A2."""

_SHEET_NUMBER = "PL-01"


class Plans:
    """Draws the shop's plan, locators and cards for the pages.

    Parameters
    ----------
    shop
        The shop.
    as_of
        The date of the data, for the foot of sheets.
    """

    def __init__(self, shop: Shop, as_of: dt.date) -> None:
        self._atlas = Atlas(shop)
        self._name = str(shop.shop.name)
        self._as_of = as_of.isoformat()

    def on_page(self, path: str) -> dict[str, Markup]:
        """The plan for a wide screen and for a phone, with links from the page at ``path``."""
        up = way_up(path)
        return {
            "plan_wide": _set(self._wide.replace(_ROOT, up)),
            "plan_phone": _set(self._phone.replace(_ROOT, up)),
        }

    @cached_property
    def _wide(self) -> str:
        return to_svg(plan.wide(self._atlas, _from_root), "wide", classes="wide")

    @cached_property
    def _phone(self) -> str:
        return to_svg(plan.phone(self._atlas, _from_root), "phone", classes="narrow")

    def locator(self, station: Station) -> Markup:
        """Where a station stands, among what is near it, and what turns it off."""
        return _set(to_svg(locator.draw(self._atlas, station), "locator"))

    def card(self, station: Station, number: str) -> Markup:
        """A station's card on A4, with a hash of what it bears.

        The hash leaves the date out, so that a card that hangs is stale only when what it says
        has changed.
        """
        unhashed = Foot(self._name, number, self._as_of, _NO_HASH)
        svg = to_svg(card.draw(self._atlas, station, unhashed), "card")
        content = hashlib.sha256(svg.replace(self._as_of, "").encode()).hexdigest()
        hashed = Foot(self._name, number, self._as_of, content)
        return _set(svg.replace(unhashed.fingerprint, hashed.fingerprint))

    def sheet(self) -> Asset:
        """The floor plan on A2, as a file to be carried to a copy shop."""
        unhashed = Foot(self._name, _SHEET_NUMBER, self._as_of, _NO_HASH)
        drawn = to_file(sheet.draw(self._atlas, unhashed)).decode()
        content = hashlib.sha256(drawn.replace(self._as_of, "").encode()).hexdigest()
        hashed = Foot(self._name, _SHEET_NUMBER, self._as_of, content)
        return Asset(SHEET_PATH, drawn.replace(unhashed.fingerprint, hashed.fingerprint).encode())

    def grid(self, point: tuple[float, float]) -> str:
        """A place by the plan's grid (``C4``)."""
        return self._atlas.grid_place(point)
