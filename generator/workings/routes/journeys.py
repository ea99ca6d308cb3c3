"""The walks of one shop: between stations, to exits, to what must be found at once."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from shapely import LineString, STRtree, covers, linestrings

from generator.shop.records.room import Equipment
from generator.workings.footprint import Point
from generator.workings.routes.gaps import Gap
from generator.workings.routes.places import Foot, Stand, feet_at_door, feet_at_stand, feet_before
from generator.workings.routes.reach import Ground
from generator.workings.routes.walks import Walks


@dataclass(frozen=True, slots=True)
class Journey:
    """A shortest walk.

    ``start`` and ``end`` say from where to where, ``line`` is its course [mm], ``length_mm`` its
    length along that line. ``start_id`` and ``end_id`` are the records' paths.
    """

    start_id: str
    end_id: str
    start: str
    end: str
    line: tuple[Point, ...]
    length_mm: float


@dataclass(frozen=True, slots=True)
class _Node:
    """An end of walks: a record's path, its name, and its foot on the free floor."""

    id: str
    name: str
    foot: Foot


SOUGHT_KINDS = ("extinguisher", "first-aid", "eyewash", "burn-sink")
"""Equipment whose walk is held against a figure or told for every station."""


class Journeys:
    """Every shortest walk on the free floor of an aisle's width, worked out when first asked for.

    Parameters
    ----------
    ground
        The floor of the shop. Walks keep half an aisle's width from everything.
    """

    def __init__(self, ground: Ground) -> None:
        self.ground = ground
        self.free = ground.free(ground.aisle.value)
        self._nodes = list(self._found())
        self._at: dict[str, list[int]] = {}
        for number, node in enumerate(self._nodes):
            self._at.setdefault(node.id, []).append(number)

    def _found(self) -> Iterator[_Node]:
        standing = self.ground.standing
        for stand in self.ground.worked_at:
            for foot in feet_at_stand(standing, self.free, stand):
                yield _Node(_path(stand), stand.name, foot)
        for id_, opening in standing.openings.items():
            for foot in feet_at_door(self.free, opening):
                yield _Node(door_path(id_), f"“{opening.door.name}”", foot)
        parts = self.ground.home_parts(self.free)
        for id_, equipment in self.ground.shop.room.equipment.items():
            for foot in feet_before(standing, self.free, parts, equipment.at):
                yield _Node(f"room/equipment/{id_}", str(equipment.name), foot)

    @cached_property
    def walks(self) -> Walks:
        walks = Walks(self.free, [node.foot.at for node in self._nodes])
        walks.look_from(n for n, node in enumerate(self._nodes) if node.id in self._sought)
        return walks

    @cached_property
    def _sought(self) -> frozenset[str]:
        """What everybody must know the way to: measured at once, the rest when asked for."""
        kinds = self.ground.shop.equipment_of_kind(*SOUGHT_KINDS)
        return frozenset([*map(equipment_path, kinds), *map(door_path, self.ground.exits)])

    def feet(self, path: str) -> tuple[Foot, ...]:
        """Where walks to a record set foot on the free floor, none where they cannot."""
        return tuple(self._nodes[number].foot for number in self._at.get(path, []))

    def between(self, starts: Sequence[str], ends: Sequence[str]) -> Journey | None:
        """The shortest walk from any of some records to any of others, None where none leads."""
        best = self._best(starts, ends)
        return self._journey(*best) if best else None

    def _best(self, starts: Sequence[str], ends: Sequence[str]) -> tuple[int, int] | None:
        one, other = self._numbers(starts), self._numbers(ends)
        if not self.walks.knows(one):
            self.walks.look_from(other)  # all at once, and many walks end at the same place
        pairs = [(a, b) for a in one for b in other]
        best = min(pairs, key=lambda pair: round(self._length(*pair), 4), default=None)
        return best if best and math.isfinite(self._length(*best)) else None

    def farthest(self, station: str, ends: Sequence[str]) -> Journey | None:
        """The walk to the nearest of some ends, from the side of a station that is farthest off."""
        found = (self._best([side], ends) for side in self.sides_of(station))
        known = [best for best in found if best]
        far = max(known, key=lambda pair: round(self._length(*pair), 3), default=None)
        return self._journey(*far) if far else None

    def all_walks(self) -> None:
        """Measure every walk between any two ends."""
        self.walks.look_from(range(len(self._nodes)))

    def _numbers(self, paths: Sequence[str]) -> list[int]:
        return [number for path in paths for number in self._at.get(path, [])]

    def _length(self, start: int, end: int) -> float:
        one, other = self._nodes[start].foot, self._nodes[end].foot
        return one.rest_mm + self.walks.length(start, end) + other.rest_mm

    def _journey(self, start: int, end: int) -> Journey:
        one, other = self._nodes[start], self._nodes[end]
        course = (one.foot.end, *self.walks.line(start, end), other.foot.end)
        line = tuple(p for n, p in enumerate(course) if n == 0 or math.dist(p, course[n - 1]) > 0)
        return Journey(one.id, other.id, one.name, other.name, line, self._length(start, end))

    def sides_of(self, station: str) -> list[str]:
        """The paths of the sides of a station that are worked at."""
        return self._sides.get(station, [])

    @cached_property
    def _sides(self) -> dict[str, list[str]]:
        sides: dict[str, list[str]] = {}
        for stand in self.ground.worked_at:
            sides.setdefault(stand.station.id, []).append(_path(stand))
        return sides

    def to_exits(self, stand: Stand) -> tuple[Journey, ...]:
        """The walks from a side to every exit it reaches, the shortest first."""
        doors = [door_path(id_) for id_ in self.ground.exits]
        walks = [walk for door in doors if (walk := self.between([_path(stand)], [door]))]
        return tuple(sorted(walks, key=lambda walk: round(walk.length_mm, 4)))

    def heads_for(self, here: Point, walk: Journey) -> Point:
        """The last bend of a walk, or its end, to which a straight step leads from a point."""
        ahead = [p for p in reversed(walk.line) if math.dist(p, here) > 1.0]
        lines = linestrings([(here, p) for p in ahead])
        clear = covers(self.free.whole, lines)
        return next((p for p, free in zip(ahead, clear, strict=True) if free), walk.line[-1])

    @cached_property
    def _gap_tree(self) -> tuple[Sequence[Gap], STRtree]:
        gaps = self.ground.narrows.gaps
        return gaps, STRtree([LineString(gap.ends) for gap in gaps])

    def narrowest_on(self, walk: Journey) -> Gap | None:
        """The narrowest gap that a walk goes through, None where it goes through none."""
        gaps, tree = self._gap_tree
        if len(walk.line) < 2:
            return None
        found = tree.query(LineString(walk.line), predicate="intersects")
        return min((gaps[n] for n in found), key=lambda g: round(g.width_mm, 2), default=None)


def _path(stand: Stand) -> str:
    return f"stations/{stand.station.id}/{stand.side}"


def door_path(id_: str) -> str:
    """The path of a door."""
    return f"room/doors/{id_}"


def equipment_path(equipment: Equipment) -> str:
    """The path of a piece of equipment."""
    return f"room/equipment/{equipment.id}"
