"""The drawings of one shop as the pages set them, each plan drawn once."""

from __future__ import annotations

from functools import cached_property

from markupsafe import Markup

from generator.drawings import plan
from generator.drawings.atlas import Atlas
from generator.drawings.ink import to_svg
from generator.drawings.view import grid_place
from generator.handbook.links import address_of, way_up
from generator.shop.records.stations import Station
from generator.shop.shop import Shop

_ROOT = "root:/"
"""Stands for the way back to the site's root until the page is known."""


def _from_root(station: Station) -> str:
    return _ROOT + address_of(station)


class Plans:
    """Draws the shop's plan, locators and cards for the pages.

    Parameters
    ----------
    shop
        The shop.
    """

    def __init__(self, shop: Shop) -> None:
        self._atlas = Atlas(shop)

    def on_page(self, path: str) -> dict[str, Markup]:
        """The plan for a wide screen and for a phone, with links from the page at ``path``."""
        up = way_up(path)
        return {
            "plan_wide": Markup(self._wide.replace(_ROOT, up)),
            "plan_phone": Markup(self._phone.replace(_ROOT, up)),
        }

    @cached_property
    def _wide(self) -> str:
        return to_svg(plan.wide(self._atlas, _from_root), "wide", classes="wide")

    @cached_property
    def _phone(self) -> str:
        return to_svg(plan.phone(self._atlas, _from_root), "phone", classes="narrow")

    def locator(self, station: Station) -> Markup:
        """Where a station stands, among what is near it."""
        return Markup("<svg></svg>")

    def card(self, station: Station) -> Markup:
        """A station's card on A4."""
        return Markup("<svg></svg>")

    def grid(self, point: tuple[float, float]) -> str:
        """A place by the plan's grid (``C4``)."""
        return grid_place(point)
