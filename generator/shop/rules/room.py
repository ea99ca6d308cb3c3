"""Rules of the room: walls that close, doors and windows that are in them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise

from shapely import LinearRing, LineString, Polygon
from shapely import Point as ShapelyPoint

from generator.ground.finding import Finding
from generator.ground.units import show
from generator.ground.wording import _
from generator.shop.draft import Draft
from generator.shop.place import Path, Place
from generator.shop.records.room import Room
from generator.shop.records.stations import Station

Points = Sequence[tuple[float, float]]

NEAR_A_WALL_MM = 50.0
LEAST_ROOM_M2 = 1.0
_MOST_POINTS = 200  # pairs of walls grow with the square


def walls(draft: Draft) -> Iterator[Finding]:
    """The room's outline has three points or more, closes without crossing itself and holds
    more than a square metre."""
    if draft.room is None:
        return
    place, points = draft.place("room"), draft.room.outline
    fault = _outline_fault(points)
    if fault:
        yield place.finding("room-outline", ("outline",), fault, _round_once(), _RIGHT)
    elif _ring(draft.room) is None:
        says = _("The outline holds less than a square metre, which is no room.")
        mend = _("Check the unit of its points: `mm` or `m`.")
        yield place.finding("room-outline", ("outline",), says, mend, _RIGHT)


def _round_once() -> str:
    return _("Write the corners of the inner walls in order, round the room once.")


_RIGHT = """outline:
  - 0, 0 mm
  - 8000, 0 mm
  - 8000, 6000 mm
  - 0, 6000 mm"""


def _outline_fault(points: Points) -> str:
    """What keeps points from being an outline; "" where they are one."""
    if len(set(points)) < 3:
        return _("The outline needs three different points, and has {n}.").format(
            n=len(set(points))
        )
    twice = next((i for i, (a, b) in enumerate(pairwise((*points, points[0])), 1) if a == b), 0)
    if twice:
        return _("Points {a} and {b} of the outline are the same.").format(
            a=twice, b=twice % len(points) + 1
        )
    return "" if LinearRing(points).is_simple else _crossing(points)


def _crossing(points: Points) -> str:
    lines = [LineString(ends) for ends in pairwise((*points, points[0]))]
    for (i, one), (j, other) in combinations(enumerate(lines[:_MOST_POINTS], 1), 2):
        beside = j - i == 1 or (i == 1 and j == len(lines))
        if one.crosses(other) or one.overlaps(other) or (not beside and one.intersects(other)):
            says = _("The side from point {a} to {b} meets the side from point {c} to {d}.")
            n = len(points)
            return says.format(a=i, b=i % n + 1, c=j, d=j % n + 1)
    return _("The outline crosses itself.")


def borders(draft: Draft) -> Iterator[Finding]:
    """The border of a zone, and the outline of a station that is no rectangle, do not cross
    themselves."""
    if draft.room:
        for key, zone in draft.room.zones.items():
            yield from _border(draft.place("room"), ("zones", key, "outline"), zone.outline)
    for key, station in draft.of(Station).items():
        yield from _border(draft.place("stations", key), ("outline",), station.outline)


def _border(place: Place, path: Path, points: Points) -> Iterator[Finding]:
    fault = _outline_fault(points) if points else ""
    if fault:
        mend = _("Write its corners in order, round once.")
        yield place.finding("outline", path, fault, mend, _RIGHT)


def _ring(room: Room) -> LinearRing | None:
    """The walls, where they close round a room."""
    if _outline_fault(room.outline) or Polygon(room.outline).area / 1e6 <= LEAST_ROOM_M2:
        return None
    return LinearRing(room.outline)


def openings_in_walls(draft: Draft) -> Iterator[Finding]:
    """The jambs of doors and the ends of windows lie on the outline, within 50 mm."""
    ring = _ring(draft.room) if draft.room else None
    if draft.room is None or ring is None:
        return
    place = draft.place("room")
    for key, door in draft.room.doors.items():
        for end, at in (("hinge", door.hinge), ("latch", door.latch)):
            yield from _off_the_wall(place, ("doors", key, end), at, ring)
    for key, window in draft.room.windows.items():
        for end, at in (("start", window.start), ("end", window.end)):
            yield from _off_the_wall(place, ("windows", key, end), at, ring)


def _off_the_wall(
    place: Place, path: Path, at: tuple[float, float], ring: LinearRing
) -> Iterator[Finding]:
    point = ShapelyPoint(at)
    away = ring.distance(point)
    if away <= NEAR_A_WALL_MM:
        return
    near = ring.interpolate(ring.project(point))
    says = _("This point is {away} from the nearest wall of the outline.")
    mend = _("Move it onto the wall, or mend the outline.")
    right = f"{path[-1]}: {near.x:.0f}, {near.y:.0f} mm"
    yield place.finding("not-in-a-wall", path, says.format(away=show(away, "mm", 0)), mend, right)


def door_widths(draft: Draft) -> Iterator[Finding]:
    """What is left to walk through is no wider than the jambs are apart."""
    for key, door in draft.room.doors.items() if draft.room else ():
        apart = math.dist(door.hinge, door.latch)
        if door.clear_width_mm <= apart + 1:
            continue
        says = _("{width} is wider than its jambs are apart, {apart}.").format(
            width=show(door.clear_width_mm, "mm", 0), apart=show(apart, "mm", 0)
        )
        mend = _("Measure what is left with the leaf open, or check `hinge` and `latch`.")
        right = f"clear_width: {math.floor(apart * 0.9)} mm" if apart > 10 else ""
        path = ("doors", key, "clear_width")
        yield draft.place("room").finding("door-width", path, says, mend, right)


def door_ends(draft: Draft) -> Iterator[Finding]:
    """A door has two different jambs."""
    for key, door in draft.room.doors.items() if draft.room else ():
        if door.hinge == door.latch:
            says = _("Its two jambs are in one place.")
            mend = _("Write where the other jamb is.")
            path = ("doors", key, "latch")
            right = "latch: 1950, 0 mm"
            yield draft.place("room").finding("door-ends", path, says, mend, right)


def window_ends(draft: Draft) -> Iterator[Finding]:
    """A window has two different ends."""
    for key, window in draft.room.windows.items() if draft.room else ():
        if window.start == window.end:
            says = _("It ends where it starts.")
            path = ("windows", key, "end")
            right = "end: 5200, 0 mm"
            yield draft.place("room").finding("window-ends", path, says, "", right)


RULES = (walls, borders, openings_in_walls, door_widths, door_ends, window_ends)
