"""The floor plan: one room, drawn to scale, for the sheet, the wide screen and the phone.

A plan is drawn again for each, never shrunk: type, balloons and symbols keep the size at which
they can be read and tapped, and what has no room is left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from shapely import Polygon as Area
from shapely import box as area_box

from generator.drawings import balloons, floor, machinery, measures
from generator.drawings.atlas import Atlas, Link
from generator.drawings.balloons import Placed
from generator.drawings.chains import Chains
from generator.drawings.ink import Box, Drawing, Group, Item, Pen, Polygon
from generator.drawings.manner import PHONE, WIDE, Manner
from generator.drawings.placing import Placing
from generator.drawings.view import View
from generator.ground.wording import _, ngettext

WIDE_PX, PHONE_PX = 740.0, 350.0
"""How wide a plan is drawn where nothing else is asked for."""


def wide(atlas: Atlas, link: Link | None = None, width: float = WIDE_PX) -> Drawing:
    """The plan for a wide screen, ``width`` pixels across."""
    return _on_screen(atlas, WIDE, width, link)


def phone(atlas: Atlas, link: Link | None = None, width: float = PHONE_PX) -> Drawing:
    """The plan drawn again for a phone, ``width`` pixels across."""
    return _on_screen(atlas, PHONE, width, link)


def _on_screen(atlas: Atlas, manner: Manner, width: float, link: Link | None) -> Drawing:
    return screen(atlas, manner, width, link).drawing()


@dataclass(frozen=True, slots=True)
class Screen:
    """A plan for a screen, ready for layers to be laid over it.

    ``under`` is what layers lie on and ``over`` what lies on them: numbers are never covered.
    ``foot`` is where the scale and north stand. Layers keep off ``placing.shown`` and ``placed``.
    """

    atlas: Atlas
    view: View
    manner: Manner
    placing: Placing
    placed: tuple[Placed, ...]
    under: tuple[Item, ...]
    over: tuple[Item, ...]
    foot: Box
    width: float
    height: float

    def drawing(self, laid: Iterable[Item] = ()) -> Drawing:
        """The plan with layers between what stands there and the stations' numbers."""
        items = (*self.under, *laid, *self.over)
        says, hatch = (title(self.atlas), described(self.atlas)), self.manner.hatch
        return Drawing(self.width, self.height, items, *says, hatch=hatch)


def screen(atlas: Atlas, manner: Manner, width: float, link: Link | None = None) -> Screen:
    """The plan for a screen ``width`` pixels across, drawn once for any number of layers."""
    scale = scale_to(atlas, manner, width)
    left, top, _right, bottom = extent(atlas, manner, scale)
    view, manner = View(scale, -left, -top), manner.at(scale)
    spot, size = _corner(atlas, view, manner), _foot_size(view, manner)
    height = bottom - top + (0 if spot else size[1])
    x, y = spot[:2] if spot else (view.at((0, 0))[0], bottom - top)
    placing = Placing(atlas, view, manner)
    placed = placing.numbered(link)
    *under, numbers = _laid(atlas, view, manner, placing, placed)
    under.append(foot(atlas, view, manner, x, y))
    return Screen(
        atlas, view, manner, placing, placed, tuple(under), (numbers,), (x, y, *size), width, height
    )


def scale_to(atlas: Atlas, manner: Manner, width: float) -> float:
    """The scale at which everything the plan carries is ``width`` across [units a mm]."""
    scale = width / (atlas.shell.bounds[2] - atlas.shell.bounds[0])
    for _round in range(12):
        left, _top, right, _bottom = extent(atlas, manner, scale)
        scale *= width / (right - left)
    return scale


def extent(atlas: Atlas, manner: Manner, scale: float) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of all that is drawn, from the room's origin."""
    return Chains(atlas.shell, View(scale, 0, 0), manner, atlas.corners).extent()


def title(atlas: Atlas) -> str:
    """The plan's name."""
    return _("Floor plan of {room}").format(room=atlas.shop.room.name)


def described(atlas: Atlas) -> str:
    """What the plan shows, in words."""
    x0, y0, x1, y1 = atlas.shell.floor.bounds
    count = len(atlas.shop.stations)
    exits = ", ".join(str(door.name) for door in atlas.shop.room.doors.values() if door.exit)
    says = _("{wide} by {deep}. {stations}. Ways out: {exits}.")
    return says.format(
        wide=measures.metres(x1 - x0),
        deep=measures.metres(y1 - y0),
        stations=ngettext("{n} station", "{n} stations", count).format(n=count),
        exits=exits or _("none recorded"),
    )


# --- the layers ----------------------------------------------------------------------------------


def layers(atlas: Atlas, view: View, manner: Manner, link: Link | None = None) -> tuple[Item, ...]:
    """Everything that is drawn to scale, from the floor up."""
    placing = Placing(atlas, view, manner)
    return _laid(atlas, view, manner, placing, placing.numbered(link))


def _laid(
    atlas: Atlas, view: View, manner: Manner, placing: Placing, placed: tuple[Placed, ...]
) -> tuple[Item, ...]:
    line = manner.weights.fixture * 1.1
    return (
        *_measured(atlas, view, manner),
        *(_layer("floor", _floor(atlas, view, manner)) if manner.details else ()),
        *_layer("walls", _walls(atlas, view, manner)),
        *(_layer("zone-names", placing.zone_names(placed)) if manner.details else ()),
        *_layer("stations", _stations(atlas, view, manner)),
        *_layer("equipment", placing.equipment()),
        Group(tuple(balloons.draw(each, line) for each in placed), "balloons"),
    )


def _layer(name: str, items: Iterator[Item] | tuple[Item, ...]) -> tuple[Item, ...]:
    """A layer that the description already puts into words."""
    return (Group(tuple(items), name, hidden=True),)


def _walls(atlas: Atlas, view: View, manner: Manner) -> tuple[Item, ...]:
    shell, weights = atlas.shell, manner.weights
    return (
        *floor.walls(view, shell, weights, manner.solid),
        *floor.windows(view, shell, weights),
        *floor.doors(view, shell, weights),
        *floor.columns(view, shell, weights, manner.solid),
        *(floor.fixtures(view, shell, weights) if manner.details else ()),
    )


def _floor(atlas: Atlas, view: View, manner: Manner) -> Iterator[Item]:
    """Clear floor at the working sides, and the borders of zones: a long and a short dash."""
    fine = manner.weights.fine
    pen = Pen(stroke="ink-soft", width=fine, dash=(fine * 12, fine * 3, fine * 2, fine * 3))
    for station in atlas.shop.stations_by_number:
        yield from floor.clear_areas(view, station, manner.weights)
    for zone in atlas.shop.room.zones.values():
        if zone.outline:
            yield Polygon(view.ring(zone.outline), pen)


def _stations(atlas: Atlas, view: View, manner: Manner) -> Iterator[Item]:
    weights = manner.weights
    for station in atlas.shop.stations_by_number:
        yield floor.outline(view, station, Pen("sheet", "ink", weights.fixture * 1.2))
        if manner.details:
            yield from machinery.draw(view, station, atlas.kinds_at(station), weights.fine)


def _measured(atlas: Atlas, view: View, manner: Manner) -> Iterator[Item]:
    chains = Chains(atlas.shell, view, manner)
    if manner.grid:
        size, line = manner.text * 0.92, manner.weights.fine * 0.8
        lines, letters = measures.grid(view, atlas.shell, chains.grid_off, size, line)
        yield Group((*lines, *letters), "grid", hidden=True)
    if manner.dimensions:
        yield Group(tuple(chains.drawn()), "dimensions", hidden=True)


# --- scale and north -----------------------------------------------------------------------------


def foot(atlas: Atlas, view: View, manner: Manner, x: float, y: float) -> Item:
    """The scale bar with north beside it, in a box whose upper left corner is given."""
    text, (width, height) = manner.text, _foot_size(view, manner)
    place = (x + text * 0.5, y + height * 0.72)
    bar = measures.scale_bar(view, place, size=text, line=manner.weights.fine)
    arrow = height * 0.62
    mark = measures.north(x + width - arrow, y + height * 0.56, arrow, atlas.shop.room.north_deg)
    return Group((*bar, *mark), "scale", hidden=True)


def _foot_size(view: View, manner: Manner) -> tuple[float, float]:
    height, bar = manner.text * 3.8, measures.bar_metres(view, manner.text)
    return view.length(bar * 1000) + manner.text * 2 + height * 1.1, height


def _corner(atlas: Atlas, view: View, manner: Manner) -> Box | None:
    """A free corner beside the room, inside its bounds, that takes the scale and north."""
    x0, y0, x1, y1 = atlas.shell.bounds
    width, height = _foot_size(view, manner)
    walls = Area(atlas.shell.outer).buffer(manner.band * 1.2 / view.scale, join_style="mitre")
    for x, y in ((x1, y1), (x1, y0), (x0, y1), (x0, y0)):
        left, top = view.at((x, y))
        left -= width if x == x1 else 0
        top -= 0 if y == y1 else height
        a, b = view.floor((left, top + height)), view.floor((left + width, top))
        if not area_box(*a, *b).intersects(walls):
            return left, top, width, height
    return None
