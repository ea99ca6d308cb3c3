"""Signs that show the way where no exit's own sign can be seen."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from generator.ground.wording import _
from generator.reference import reference
from generator.workings.floor.standing import Opening, Standing, along
from generator.workings.footprint import Point
from generator.workings.routes import Journey, RouteStudy
from generator.workings.signage.needs import Need, going
from generator.workings.signage.viewing import Viewing

_OVER_MM = 2000.0
"""The lower edge of an exit's sign at the lowest: what is higher hides it."""

_SAME_BEND_MM = 1500.0
_BEFORE_MM = 50.0


def ahead(standing: Standing, viewing: Viewing, routes: RouteStudy | None) -> tuple[Need, ...]:
    """A sign at the bend of the way out, for stations from which no exit's sign is in sight."""
    if routes is None or not standing.exits:
        return ()
    signs = [_sign_of(opening) for opening in standing.exits.values()]
    bends: dict[tuple[str, tuple[str, str], Point], list[Point]] = defaultdict(list)
    for id_ in standing.shop.stations:
        eyes = viewing.eyes_at(id_)
        walk = routes.to_exit(id_)
        if not eyes or walk is None or np.any(viewing.clear(eyes, signs, _OVER_MM)):
            continue
        door = walk.end_id.rpartition("/")[2]
        bend, codes = _bend(viewing, walk, _sign_of(standing.exits[door]))
        bends[door, codes, _known(bends, door, codes, bend)] += eyes
    return tuple(_needs(standing, bends))


def _needs(
    standing: Standing, bends: dict[tuple[str, tuple[str, str], Point], list[Point]]
) -> Iterator[Need]:
    reason = _(reference().signs_asked_for["exit-ahead"].reason)
    for number, ((door, codes, bend), eyes) in enumerate(bends.items(), 1):
        origin = standing.shop.room.doors[door].origin_of("exit")
        yield Need(
            "exit-ahead", codes, f"room/doors/{door}/ahead-{number}", "eyes", (reason,), origin,
            bend, eyes=tuple(eyes),
        )  # fmt: skip


def _sign_of(opening: Opening) -> Point:
    return along(opening.middle, opening.inward, _BEFORE_MM)


def _known(
    bends: dict[tuple[str, tuple[str, str], Point], list[Point]],
    door: str,
    codes: tuple[str, str],
    bend: Point,
) -> Point:
    """A bend that is there already for the same way, so that one sign serves both."""
    near = (b for d, c, b in bends if d == door and c == codes and _near(b, bend))
    return next(near, bend)


def _near(one: Point, other: Point) -> bool:
    return float(np.hypot(one[0] - other[0], one[1] - other[1])) <= _SAME_BEND_MM


def _bend(viewing: Viewing, walk: Journey, sign: Point) -> tuple[Point, tuple[str, str]]:
    """The first bend of a walk that has the exit's sign in sight, and which way it goes on."""
    line: Sequence[Point] = walk.line
    seen = viewing.clear([sign], list(line), _OVER_MM)
    first = max(int(np.argmax(seen)), 1) if np.any(seen) else len(line) - 1
    (ax, ay), (bx, by) = list(pairwise(line))[first - 1]
    onward = line[min(first + 1, len(line) - 1)]
    return (bx, by), going((bx - ax, by - ay), (onward[0] - bx, onward[1] - by))
