"""How long the floor and the walks over it take, and how that grows with the shop.

    python -m tests.benchmarks.floor [STATIONS ...]

Medians of processor time, so that whatever else runs counts less. Beside each stands the ratio
to taking in the bare floor once by half an aisle, which does not depend on the machine. Limits:
all walks of 30 stations under 150 ms; everything about floor and routes of 30 under 300 ms, of
60 under 1 s.
"""

from __future__ import annotations

import math
import statistics
import sys
import time
from collections.abc import Callable, Iterator

from shapely import MultiPolygon

from generator.shop.records.stations import Station
from generator.shop.shop import Shop
from generator.workings import floor, routes
from generator.workings.floor.placed import study as placed
from generator.workings.floor.standing import Standing
from generator.workings.routes.gaps import Narrows
from generator.workings.routes.journeys import Journeys
from generator.workings.routes.reach import Ground, study
from tests.workings.rooms import door, equipment, machine, moves, room, side, station

_ROUNDS = 7
_PITCH_MM = (2700, 2800)
_LIMITS_MS = {("all walks", 30): 150, ("floor and routes", 30): 300, ("floor and routes", 60): 1000}


def shop_of(stations: int) -> Shop:
    """Rows of stations back to front with aisles between, a door at each end, things on walls."""
    columns = math.ceil(math.sqrt(stations * 1.3))
    rows = math.ceil(stations / columns)
    wide, deep = columns * _PITCH_MM[0] + 1500.0, rows * _PITCH_MM[1] + 1500.0
    outline = ((0.0, 0.0), (wide, 0.0), (wide, deep), (0.0, deep))
    doors = [
        door("south", (2000, 0), (3000, 0)),
        door("east", (wide, deep - 1800), (wide, deep - 800)),
    ]
    made = [_station(n, columns) for n in range(stations)]
    machines = [
        machine(f"m{n}", f"s{n}", kind=("band-saw", "platen-press", "scale")[n % 3],
                moves=(moves("Part", "front", 300),) if n % 4 == 0 else ())
        for n in range(stations)
    ]  # fmt: skip
    kinds = ("extinguisher", "first-aid", "eyewash", "burn-sink", "isolator")
    hung = [
        equipment(f"e{n}", kinds[n % len(kinds)], (wide * (n + 0.5) / stations, 0.0))
        for n in range(stations)
    ]
    return room(outline, doors, made, machines=machines, hung=hung)


def _station(n: int, columns: int) -> Station:
    """Stations a little out of line with each other, so that no two gaps are the same."""
    x = 1500.0 + (n % columns) * _PITCH_MM[0] + 50 * (n * 7 % 3)
    y = 1500.0 + (n // columns) * _PITCH_MM[1] + 50 * (n * 5 % 3)
    sides = [side("front", 900), side("back", 700, service=n % 2 == 0)]
    size = (1000.0 + 200 * (n % 3), 600.0 + 100 * (n % 2))
    return station(
        f"s{n}", n + 1, (x, y), size, 180.0 * (n % 2), sides, height_mm=900.0 + 900 * (n % 2),
        supervises=n == 0,
    )  # fmt: skip


def main(sizes: list[int]) -> None:
    print(f"{'':28}" + "".join(f"{n:>16} stations" for n in sizes) + "   growth")
    rows = [_measured(shop_of(n)) for n in sizes]
    for part in rows[0]:
        cells = "".join(
            f"{1000 * row[part]:12.1f} ms {row[part] / row['one taking in']:8.1f}x" for row in rows
        )
        print(f"{part:28}{cells}   {_growth([row[part] for row in rows], sizes)}")
    for size, row in zip(sizes, rows, strict=True):
        for part, limit in _over(size, row):
            print(f"over its limit: {part} of {size} stations, {limit} ms")


def _growth(times: list[float], sizes: list[int]) -> str:
    if len(sizes) < 2:
        return ""
    return f"n^{math.log(times[-1] / times[0]) / math.log(sizes[-1] / sizes[0]):.1f}"


def _over(size: int, row: dict[str, float]) -> Iterator[tuple[str, int]]:
    for (part, stations), limit in _LIMITS_MS.items():
        if stations == size and 1000 * row[part] > limit:
            yield part, limit


def _measured(shop: Shop) -> dict[str, float]:
    """Medians of processor time [s] by part."""
    standing = Standing(shop)
    bare = MultiPolygon(standing.floor)
    ground = Ground(standing)
    ground.free(ground.aisle.value).whole  # noqa: B018 - worked out before it is timed
    return {
        "one taking in": _median(lambda: bare.buffer(-450, quad_segs=8)),
        "overlaps and swings": _median(lambda: placed(standing)),
        "gaps and cells": _median(lambda: Narrows(standing)),
        "free floors and reach": _median(lambda: study(Ground(standing))),
        "all walks": _median(lambda: Journeys(ground).all_walks()),
        "floor and routes": _median(lambda: (floor.study(shop), routes.study(shop))),
    }


def _median(work: Callable[[], object]) -> float:
    return statistics.median(_timed(work) for _round in range(_ROUNDS))


def _timed(work: Callable[[], object]) -> float:
    start = time.process_time()
    work()
    return time.process_time() - start


if __name__ == "__main__":
    main([int(size) for size in sys.argv[1:]] or [15, 30, 60])
