"""What stands where it cannot: in something else, in a wall, in the way of a door's leaf."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import shapely
from shapely import Polygon

from generator.ground.finding import Finding, Severity
from generator.ground.wording import _
from generator.workings.floor.lengths import capital, mm
from generator.workings.floor.overlap import overlap_mm
from generator.workings.floor.standing import TOUCHING_MM, Opening, Standing, Thing
from generator.workings.part import Part

SLACK_MM = 5.0
"""What a tape measure may be out by."""


@dataclass(frozen=True, slots=True)
class Clash:
    """Two things in one place, or (``other`` None) one that stands into a wall.

    ``depth_mm`` is how far one must move until they only touch, ``where`` the floor they share.
    """

    thing: Thing
    other: Thing | None
    depth_mm: float
    where: shapely.Geometry


@dataclass(frozen=True, slots=True)
class InSwing:
    """A thing in the way of a door's leaf: how far it stands in, and where."""

    opening: Opening
    thing: Thing
    depth_mm: float
    where: shapely.Geometry


@dataclass(frozen=True, slots=True)
class Placed:
    """What stands where it cannot."""

    clashes: tuple[Clash, ...]
    in_swings: tuple[InSwing, ...]
    part: Part


def study(standing: Standing) -> Placed:
    """Look for things that overlap, stand into walls, or stand in a door's swing."""
    clashes = (*_overlaps(standing), *_into_walls(standing))
    swings = tuple(_in_swings(standing))
    findings = (*map(_clash_finding, clashes), *map(_swing_finding, swings))
    checks = 2 * len(standing.things) + len(standing.openings)
    return Placed(clashes, swings, Part(findings=findings, checks=checks))


def _overlaps(standing: Standing) -> Iterator[Clash]:
    for number, thing in enumerate(standing.things):
        later = set(standing.things[number + 1 :])
        for other in standing.near(thing.polygon):
            if other not in later or not (thing.is_station or other.is_station):
                continue
            depth = overlap_mm(thing.polygon, other.polygon)
            if depth > TOUCHING_MM:
                yield Clash(thing, other, depth, thing.polygon.intersection(other.polygon))


def _into_walls(standing: Standing) -> Iterator[Clash]:
    """Columns may be half in a wall; what was carried in may not."""
    for thing in standing.things:
        if thing.subject.startswith("room/columns"):
            continue
        beyond = thing.polygon.difference(standing.room)
        points = shapely.points(shapely.get_coordinates(beyond))
        depth = float(shapely.distance(points, standing.room).max(initial=0.0))
        if depth > TOUCHING_MM:
            yield Clash(thing, None, depth, beyond)


def _in_swings(standing: Standing) -> Iterator[InSwing]:
    for opening in standing.openings.values():
        for thing in standing.near(opening.swing) if opening.swing else ():
            yield from _in_swing(opening, opening.swing, thing)


def _in_swing(opening: Opening, swing: Polygon | None, thing: Thing) -> Iterator[InSwing]:
    depth = overlap_mm(swing, thing.polygon) if swing else 0.0
    if swing and depth > TOUCHING_MM:
        yield InSwing(opening, thing, depth, swing.intersection(thing.polygon))


def _severity(clash: Clash) -> Severity:
    """A station that cannot stand so is not where the plan says, nor is the way past it."""
    stations = clash.thing.is_station or (clash.other is not None and clash.other.is_station)
    return Severity.STOP if stations and clash.depth_mm > SLACK_MM else Severity.FIX


def _clash_finding(clash: Clash) -> Finding:
    if clash.other is None:
        says = _("{thing} stands {depth} beyond the walls.")
        mend = _("Move it into the room, or correct its place, its size or the room's outline.")
        rule = "floor.outside"
    else:
        says = _("{thing} and {other} overlap by {depth}.")
        mend = _("Move them at least {depth} apart, or correct their places, sizes or turns.")
        rule = "floor.overlap"
    names = {
        "thing": clash.thing.name,
        "other": clash.other.name if clash.other else "",
        "depth": mm(clash.depth_mm),
    }
    return Finding(
        rule,
        _severity(clash),
        clash.thing.origin,
        capital(says.format(**names)),
        mend.format(**names),
        subject=clash.thing.subject,
    )


def _swing_finding(found: InSwing) -> Finding:
    door = found.opening.door
    says = _("{thing} stands {depth} into the swing of “{door}”.").format(
        thing=found.thing.name, depth=mm(found.depth_mm), door=door.name
    )
    return Finding(
        "floor.door-swing",
        Severity.STOP if door.exit else Severity.FIX,
        found.thing.origin,
        capital(says),
        _("Move it at least {depth} out of the way of the leaf.").format(depth=mm(found.depth_mm)),
        subject=found.thing.subject,
    )
