"""The drawings of one shop as the pages set them, each plan drawn once."""

from __future__ import annotations

import datetime as dt
import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import shapely
from markupsafe import Markup
from shapely import Point, Polygon

from generator.drawings import card, locator, plan, sheet
from generator.drawings.atlas import Atlas
from generator.drawings.files import to_file
from generator.drawings.foot import Foot
from generator.drawings.ink import Drawing, to_svg
from generator.drawings.layers import Layer, Paper, Spot, Worked, lay
from generator.drawings.manner import PHONE, WIDE
from generator.drawings.plan import PHONE_PX, WIDE_PX
from generator.ground.finding import Finding
from generator.ground.wording import _
from generator.handbook.links import address_of, way_up
from generator.handbook.page import Asset
from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings.footprint import footprint

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


@dataclass(frozen=True)
class Layered:
    """A plan with layers as a page sets it, drawn twice, and the layers it bears."""

    wide: Markup
    phone: Markup
    layers: tuple[Layer, ...]


def _wide_svg(drawing: Drawing) -> str:
    return to_svg(drawing, "wide", classes="wide")


def _phone_svg(drawing: Drawing) -> str:
    return to_svg(drawing, "phone", classes="narrow")


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
        return _wide_svg(self._papers[0].screen.drawing())

    @cached_property
    def _phone(self) -> str:
        return _phone_svg(self._papers[1].screen.drawing())

    @cached_property
    def _papers(self) -> tuple[Paper, Paper]:
        """The plan for a wide screen and for a phone, on which layers are laid again and again."""
        draw = ((WIDE, WIDE_PX), (PHONE, PHONE_PX))
        wide, phone = (Paper(plan.screen(self._atlas, m, px, _from_root)) for m, px in draw)
        return wide, phone

    def layered(
        self, path: str, worked: Worked, found: Sequence[Spot], tags: Mapping[Finding, str]
    ) -> Layered:
        """The plan with layers, for a wide screen and for a phone, on the page at ``path``."""
        up = way_up(path)
        wide, phone = (lay(paper, worked, found, tags) for paper in self._papers)
        return Layered(
            _set(_wide_svg(wide.drawing).replace(_ROOT, up)),
            _set(_phone_svg(phone.drawing).replace(_ROOT, up)),
            wide.layers,
        )

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

    def place(self, point: tuple[float, float]) -> str:
        """A place in words that hold on any plan: by the nearest station, and on the grid."""
        stations, outlines = self._outlines
        nearest = stations[int(shapely.distance(outlines, Point(point)).argmin())]
        return _("by station {number}, {name} ({grid})").format(
            number=nearest.number, name=nearest.name, grid=self.grid(point)
        )

    @cached_property
    def _outlines(self) -> tuple[tuple[Station, ...], list[Polygon]]:
        stations = self._atlas.shop.stations_by_number
        return stations, [Polygon(footprint(station)) for station in stations]

    def grid(self, point: tuple[float, float]) -> str:
        """A place by the plan's grid (``C4``)."""
        return self._atlas.grid_place(point)
