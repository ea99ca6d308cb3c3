"""What many drawings of one shop share, worked out once."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property

from shapely import Polygon, STRtree, box, total_bounds

from generator.drawings.hung import Hung
from generator.drawings.shell import Shell
from generator.drawings.view import grid_place
from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings.footprint import footprint
from generator.workings.sight import Sight

_AT_THE_WALL_MM = 1.0

Link = Callable[[Station], str]
"""Gives the address of a station's page."""


class Atlas:
    """A shop's walls, lines of sight and an index of what stands where.

    One station's excerpt costs the same whether the shop has ten stations or three hundred.
    """

    def __init__(self, shop: Shop) -> None:
        self.shop = shop
        self.shell = Shell(shop.room)

    @cached_property
    def sight(self) -> Sight:
        return Sight(self.shop)

    @cached_property
    def _stations(self) -> tuple[Station, ...]:
        return self.shop.stations_by_number

    @cached_property
    def _tree(self) -> STRtree:
        return STRtree([Polygon(footprint(station)) for station in self._stations])

    @cached_property
    def corners(self) -> tuple[tuple[float, float], ...]:
        """Two opposite corners of the box round all stations [mm], none without stations."""
        if not self._stations:
            return ()
        x0, y0, x1, y1 = total_bounds(self._tree.geometries)
        return (float(x0), float(y0)), (float(x1), float(y1))

    def stations_in(self, x0: float, y0: float, x1: float, y1: float) -> tuple[Station, ...]:
        """Stations that reach into a window of the floor [mm], by number."""
        found = sorted(self._tree.query(box(x0, y0, x1, y1), predicate="intersects"))
        return tuple(self._stations[i] for i in found)

    def grid_place(self, point: tuple[float, float]) -> str:
        """The square metre something stands or hangs in (``C4``).

        What hangs on a wall is told by the floor before it: at a wall on a whole metre its own
        point lies in a square that is outside the room.
        """
        wall = self.shell.wall_of(point)
        if wall.distance(point) > _AT_THE_WALL_MM:
            return grid_place(point)
        return grid_place(wall.place(wall.station_of(point), -_AT_THE_WALL_MM))

    def kinds_at(self, station: Station) -> tuple[str, ...]:
        """The kinds of machine that stand on a station."""
        return tuple(machine.kind for machine in self.shop.machines_at(station.id))

    @cached_property
    def equipment(self) -> tuple[Hung, ...]:
        """Safety equipment as it hangs."""
        return tuple(Hung(e.kind, e.at, str(e.name)) for e in self.shop.room.equipment.values())

    @cached_property
    def services(self) -> tuple[Hung, ...]:
        """Extract points, water and the distribution board."""
        room = self.shop.room
        return (
            *(Hung("extract", each.at, key) for key, each in room.extract_points.items()),
            *(Hung("water", each.at, key) for key, each in room.water.items()),
            Hung("board", room.supply.panel, "board"),
        )
