"""Sight: the floor that whoever watches over others does not see, and what stands there."""

from __future__ import annotations

from collections.abc import Iterator

import shapely
from shapely import Polygon
from shapely.affinity import affine_transform

from generator.drawings.hatching import hatched
from generator.drawings.ink import Circle, Item, Path, Pen, path_of
from generator.drawings.ink import Polygon as Outline
from generator.drawings.keys import SAMPLE, Key
from generator.drawings.layers import forms
from generator.drawings.layers.board import Board, Part
from generator.drawings.layers.layer import Layer
from generator.ground.wording import _
from generator.workings.floor.lengths import square_metres
from generator.workings.floor.standing import polygons_of
from generator.workings.footprint import Point
from generator.workings.routes import RouteStudy

_LEAST_MM2 = 20_000.0
"""Slivers of hidden floor smaller than a hand's breadth square are not drawn."""


def draw(board: Board, routes: RouteStudy) -> Layer | None:
    """What no supervising station sees, hatched, and the eyes that look."""
    looks = routes.watched.outlooks
    if not looks:
        return None
    seen = shapely.union_all([look.together for look in looks])
    unseen = polygons_of(Polygon(board.shop.room.outline).difference(seen))
    hidden = [part for part in unseen if part.area > _LEAST_MM2]
    items: list[Item] = list(_shaded(board, hidden))
    for eye in (eye for look in looks for eye in look.eyes):
        items += _eye(board.view.at(eye))
    for look in looks:
        area = _("{area} in sight").format(area=square_metres(look.together.area))
        at = board.view.at(look.eyes[0])
        items += board.label([[Part(area, False, "sheet", "ink", "ink")]], [at], led=at)
    return Layer("sight", _("Sight"), (*board.under(), *items), tuple(_keys()), on=False)


def _shaded(board: Board, hidden: list[Polygon]) -> Iterator[Item]:
    view = board.view
    scale = [view.scale, 0, 0, -view.scale, view.left, view.bottom]
    for part in hidden:
        area = affine_transform(part, scale)
        ring = tuple((float(x), float(y)) for x, y in area.exterior.coords[:-1])
        yield Outline(ring, Pen("line", soft=0.35))
        yield Path(hatched(area, 7.0), forms.UNSEEN)
        yield Path(path_of(ring, closed=True), forms.EDGE_OF_SIGHT)


def _eye(at: Point) -> tuple[Item, ...]:
    """An eye as seen from the side: two lids and a pupil."""
    x, y = at
    lids = f"M{x - 8:.2f} {y:.2f}Q{x:.2f} {y - 9:.2f} {x + 8:.2f} {y:.2f}Q{x:.2f} {y + 9:.2f} "
    lids += f"{x - 8:.2f} {y:.2f}Z"
    return Path(lids, Pen("sheet", "ink", 1.4)), Circle(x, y, 2.8, Pen("ink"))


def _keys() -> Iterator[Key]:
    yield Key(_eye((SAMPLE[0] / 2, SAMPLE[1] / 2)), _("where somebody watches over others"))
    box = shapely.box(3, 1, SAMPLE[0] - 3, SAMPLE[1] - 1)
    ring = tuple((float(x), float(y)) for x, y in box.exterior.coords[:-1])
    hatch = Path(hatched(box, 7.0), forms.UNSEEN)
    yield Key((Outline(ring, Pen("line", soft=0.35)), hatch), _("floor they do not see"))
