"""What the pictures on the room's pages cost, and how that grows with the shop.

    python -m tests.benchmarks.pictures [STATIONS ...]        (the demonstration shop, 30, 60)

Medians of processor time with every study already made, since the build needs those anyway:
the plans with their layers, the charts and curves, and the five pages whole. Beside each stands
the ratio to drawing the bare plan once, which does not depend on the machine. Limit: the
pictures of the demonstration shop under 150 ms together.
"""

from __future__ import annotations

import datetime as dt
import statistics
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path

from generator.drawings import bars, curves, plan
from generator.drawings.atlas import Atlas
from generator.drawings.ink import to_svg
from generator.drawings.layers import Worked
from generator.handbook import room
from generator.handbook.desk import Desk
from generator.handbook.figure import figure
from generator.handbook.subjects import Section, worst_first
from generator.shop.load import load_shop
from generator.shop.shop import Shop
from tests.benchmarks.floor import shop_of

AS_OF = dt.date(2026, 11, 24)
DEMONSTRATION = Path(__file__).parents[2] / "content" / "shop"
SIZES = (30, 60)
_ROUNDS = 5
_LIMIT_MS = 150.0


def _ms(work: Callable[[], object]) -> float:
    work()  # what is only paid once a process
    times = []
    for _round in range(_ROUNDS):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return statistics.median(times) * 1000


def _plans(desk: Desk) -> None:
    """Every layered plan, on the bare ones that the list of stations shows as well."""
    s = desk.studies
    for worked, surveys in (
        (Worked(routes=s.routes), (s.floor.survey, s.routes.survey)),
        (Worked(power=s.power), (s.power.survey,)),
        (Worked(air=s.air), (s.air.survey,)),
        (
            Worked(noise=s.noise, light=s.light, touch=s.touch),
            (s.noise.survey, s.light.survey, s.touch.survey),
        ),
    ):
        figure(desk, "room/any", worked, worst_first(f for v in surveys for f in v.findings))


def _charts(sections: Sequence[Section]) -> None:
    for section in sections:
        for chart in section.charts:
            to_svg(bars.wide(chart))
            to_svg(bars.phone(chart))
        for plot in section.plots:
            to_svg(curves.draw(plot))


def measure(shop: Shop) -> dict[str, float]:
    """Milliseconds of processor time for each part, by name."""
    desk = Desk(shop, AS_OF)
    pages = (room.power, room.air, room.met, room.loads)
    sections = [section for page in pages for section in page.charts(desk)]
    return {
        "bare plan": _ms(lambda: plan.wide(Atlas(shop))),
        "plans with layers": _ms(lambda: _plans(desk)),
        "charts and curves": _ms(lambda: _charts(sections)),
        "five pages whole": _ms(lambda: list(room.pages(desk))),
    }


def main(sizes: Sequence[int]) -> None:
    found = load_shop(DEMONSTRATION).shop
    assert found is not None
    shops = {"demonstration": found, **{f"{n} stations": shop_of(n) for n in sizes}}
    for name, shop in shops.items():
        times = measure(shop)
        bare = times["bare plan"]
        for part, ms in times.items():
            print(f"{name:>14}  {part:<18} {ms:7.1f} ms  {ms / bare:5.1f} x the bare plan")
        if name == "demonstration":
            pictures = times["plans with layers"] + times["charts and curves"]
            print(f"{name:>14}  pictures together  {pictures:7.1f} ms of {_LIMIT_MS:.0f}")


if __name__ == "__main__":
    main([int(size) for size in sys.argv[1:]] or SIZES)
