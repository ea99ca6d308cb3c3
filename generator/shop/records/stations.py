"""Stations: where something is done, by whom and with what."""

from __future__ import annotations

from generator.shop.fields import (
    Deg,
    Kg,
    Lx,
    Many,
    Mm,
    OneOrMore,
    Point,
    Record,
    Size,
    Text,
    Years,
)
from generator.shop.records.refs import (
    ContainerId,
    Level,
    PolymerId,
    Rule,
    Side,
    SignCode,
    StationId,
    ZoneId,
)


class WorkingSide(Record):
    """A side of the station that somebody stands at, and the clear floor that needs."""

    side: Side
    depth_mm: Mm
    """Clear floor out from that side."""
    width_mm: Mm | None = None
    """Along the side; left out, the whole side."""
    service: bool = False
    """Whether only a maintainer stands there."""


class Use(Record):
    """Who may use a station or a machine."""

    alone: Level
    """The lowest level that may use it alone."""
    beside: Level | None = None
    """The level that may use it with somebody authorised beside."""
    least_age_years: Years = 0.0
    people: OneOrMore = 1
    """How many can work there at once."""


class Handover(Record):
    """What comes in or goes out."""

    what: Text
    station: StationId | None = None
    """Where it comes from or goes to."""
    container: ContainerId | None = None
    polymers: Many[PolymerId] = ()


class Shelf(Record):
    """Room for containers, on shelves or on the floor."""

    length_mm: Mm
    depth_mm: Mm
    levels: OneOrMore = 1
    level_height_mm: Mm
    load_kg: Kg | None = None
    """What one level carries."""
    keeps: Many[ContainerId] = ()


class Station(Record):
    """A place in the room with a number that is the same on plan, list, card and sign."""

    number: OneOrMore
    name: Text
    purpose: Text
    """One sentence: what happens here."""
    zone: ZoneId
    at: Point
    """The centre of its rectangle."""
    size: Size
    """Width along its front, then depth."""
    outline: Many[Point] = ()
    """Its shape about ``at`` where it is no rectangle."""
    turn_deg: Deg = 0.0
    """Counter-clockwise; at 0 its front faces down the plan."""
    height_mm: Mm = 900.0
    working_sides: Many[WorkingSide] = ()
    use: Use
    ppe: Many[SignCode] = ()
    """Mandatory signs by code, such as ``M004``."""
    nevers: Many[Rule] = ()
    """What must never happen here, the worst first."""
    takes_in: Many[Handover] = ()
    gives: Many[Handover] = ()
    storage: Many[Shelf] = ()
    light_lx: Lx | None = None
    """What the task needs, where the shop knows better than the table."""
    mass_kg: Kg | None = None
    """Of all that stands there with its machines, without what is stored; left out, the
    machines' own masses are added up."""
    supervises: bool = False
    """Whether somebody who watches over others stands here."""
