"""Does everything that stands on the floor leave room to work, and is what must be apart apart?

What overlaps or stands where it cannot, the clear floor at working sides and the board, gaps
that close when something moves, guards by age, zones, and how many people the floor counts for.
Everything is measured on the outlines themselves: nothing is laid on a grid.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.ground.survey import Survey
from generator.shop.shop import Shop
from generator.workings.floor import guards, moving, people, placed, sides, zones
from generator.workings.floor.guards import Guard, Guards, Youngest
from generator.workings.floor.moving import Moving, Squeeze
from generator.workings.floor.people import People
from generator.workings.floor.placed import Clash, InSwing, Placed
from generator.workings.floor.sides import BoardRoom, SideRoom, Sides
from generator.workings.floor.standing import Opening, Standing, Thing
from generator.workings.floor.zones import Apart, Zones
from generator.workings.part import together

__all__ = [
    "Apart", "BoardRoom", "Clash", "FloorStudy", "Guard", "Guards", "InSwing", "Moving",
    "Opening", "People", "Placed", "SideRoom", "Sides", "Squeeze", "Standing", "Thing",
    "Youngest", "Zones", "study",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class FloorStudy:
    """Everything worked out of a shop's floor.

    Parameters
    ----------
    standing
        The room with everything in it as polygons, its doors with their swings.
    placed
        Overlaps, things beyond the walls, things in door swings.
    sides
        The clear floor at working sides, service sides and the distribution board.
    moving
        What moving parts sweep, and the gaps they leave.
    guards
        Openings in guards, and who is too young for the table.
    zones
        What is kept apart, and how far.
    people
        How many the floor and the air count for, and how many come.
    survey
        Workings and findings, with how many checks were answered.
    """

    standing: Standing
    placed: Placed
    sides: Sides
    moving: Moving
    guards: Guards
    zones: Zones
    people: People
    survey: Survey


def study(shop: Shop, standing: Standing | None = None) -> FloorStudy:
    """Work out the floor of a shop.

    Parameters
    ----------
    shop
        The shop, read without a data fault.
    standing
        The same shop's room as polygons, where it is already there.
    """
    room = standing or Standing(shop)
    parts = (
        placed.study(room),
        sides.study(room),
        moving.study(room),
        guards.study(room),
        zones.study(room),
        people.study(room),
    )
    survey = together("floor", [each.part for each in parts])
    return FloorStudy(room, *parts, survey)
