"""Can people get about and out? Walkways, walks, exits, safety equipment, wheelchairs, sight.

The floor is exact: gaps from corner to corner, free floors taken in by half a body's width,
walks along lines of sight past rounded corners. Walks keep half an aisle's width from
everything; at each rounded corner they may be up to 2 mm short.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.ground.survey import Survey
from generator.shop.shop import Shop
from generator.workings.floor.standing import Opening, Standing
from generator.workings.footprint import Point
from generator.workings.part import together
from generator.workings.routes import doors, equipment, escape, reach, watching, wheelchair
from generator.workings.routes.doors import ExitDoor, Exits
from generator.workings.routes.equipment import Gear, HardToReach, Supply
from generator.workings.routes.escape import Escape, WayOut
from generator.workings.routes.freefloor import FreeFloor, corner_tolerance_mm
from generator.workings.routes.gaps import Gap, Way
from generator.workings.routes.journeys import Journey, Journeys, door_path, equipment_path
from generator.workings.routes.places import Stand
from generator.workings.routes.reach import Closed, Ground, Reach, Reaches
from generator.workings.routes.squeezed import squeezed
from generator.workings.routes.watching import Outlook, View, Watched, Watching
from generator.workings.routes.wheelchair import Wheelchair, Wheeled

__all__ = [
    "Closed", "Escape", "ExitDoor", "Exits", "FreeFloor", "Gap", "Gear", "HardToReach",
    "Journey", "Outlook", "Reach", "Reaches", "RouteStudy", "Stand", "Supply", "View", "Watched",
    "Way", "WayOut", "Wheelchair", "Wheeled", "corner_tolerance_mm", "study",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class RouteStudy:
    """Everything worked out of how people get about a shop.

    Parameters
    ----------
    ground
        The floor as it is walked on: its gaps, and the free floor at any width.
    reaches
        How each side is reached from each exit, and where walkways are too narrow.
    exits
        The exits against the number of people.
    escape
        The ways out of every working side.
    gear
        Walks to extinguishers, first aid, eyewash and the tap for burns.
    wheelchair
        Wheelchair routes and turning circles.
    watched
        What is in sight of whoever watches over others.
    survey
        Workings and findings, with how many checks were answered.
    """

    ground: Ground
    journeys: Journeys
    watching: Watching
    reaches: Reaches
    exits: Exits
    escape: Escape
    gear: Gear
    wheelchair: Wheelchair
    watched: Watched
    survey: Survey

    def walk_between(self, start: str, end: str) -> Journey | None:
        """The shortest walk from a station to another by id, None where an aisle leads nowhere.

        It goes from whichever working side is nearest to whichever is nearest there.
        """
        return self.journeys.between(self.journeys.sides_of(start), self.journeys.sides_of(end))

    def to_exit(self, station: str, door: str | None = None) -> Journey | None:
        """The walk out of a station, from its farthest side: to the nearest exit, or to one."""
        ids = [door] if door is not None else list(self.ground.exits)
        return self.journeys.farthest(station, [door_path(id_) for id_ in ids])

    def nearest(self, kind: str, station: str) -> Journey | None:
        """The walk from a station to the nearest equipment of a kind (``extinguisher``)."""
        found = self.ground.shop.equipment_of_kind(kind)
        return self.journeys.farthest(station, [equipment_path(e) for e in found])

    def narrowest_on(self, walk: Journey) -> Gap | None:
        """The narrowest gap that a walk goes through, None where it goes through none."""
        return self.journeys.narrowest_on(walk)

    def squeezed(self, stand: Stand, exit_: Opening) -> tuple[Point, ...]:
        """Where the walk from a side to an exit would go if what closes the aisle were gone [mm].

        It is the way of the widest body that gets through; empty where none does.
        """
        found = (r for r in self.reaches.reaches if r.stand is stand and r.exit is exit_)
        reach = next(found, None)
        if reach is None:
            return ()
        known, key = self.ground.squeezed, (stand.station.id, stand.spots[0], exit_.door.id)
        if key not in known:
            known[key] = squeezed(self.ground, reach)
        return known[key]

    def widest_between(self, start: str, end: str) -> Way | None:
        """The way for the widest body between two stations, None where there is none at all."""
        ground = self.ground
        cells = [
            frozenset().union(*(ground.start_cells(s) for s in ground.worked_at
                                if s.station.id == id_))
            for id_ in (start, end)
        ]  # fmt: skip
        return ground.narrows.widest(*cells)

    @property
    def bottlenecks(self) -> tuple[Gap, ...]:
        """The tightest places of the ways between sides and exits, each pair of things once."""
        found: dict[frozenset[str], Gap] = {}
        for each in self.reaches.reaches:
            gap = each.bottleneck
            if gap and not each.stand.service:
                found.setdefault(gap.pair, gap)
        return tuple(sorted(found.values(), key=lambda gap: round(gap.width_mm, 2)))

    def sight_of(self, station: str) -> Outlook | None:
        """What is seen from a station, None where nobody can stand there."""
        return self.watching.from_station(station)

    def free_floor(self, width_mm: float | None = None) -> FreeFloor:
        """The free floor for a body of a width; without one, of the shop's one-way aisle."""
        return self.ground.free(self.ground.aisle.value if width_mm is None else width_mm)


def study(shop: Shop, standing: Standing | None = None) -> RouteStudy:
    """Work out how people get about a shop.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    standing
        The same shop's room as polygons, where it is already there.
    """
    ground = Ground(standing or Standing(shop))
    journeys, sight = Journeys(ground), Watching(ground.standing)
    parts = (
        reach.study(ground),
        doors.study(shop),
        escape.study(shop, journeys, ground.worked_at),
        equipment.study(ground, journeys),
        wheelchair.study(ground),
        watching.study(ground.standing, sight),
    )
    survey = together("routes", [each.part for each in parts])
    return RouteStudy(ground, journeys, sight, *parts, survey)
